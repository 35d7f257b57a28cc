/* The rows of single crossings: each factor, and the bad corners. */
#ifndef ORACLE_COVERAGE_ROWS_H
#define ORACLE_COVERAGE_ROWS_H

#include "coverage_worlds.h"

/* Long sight and height of the line, m; water readings at each shore; sets of pegs. */
#define OVER(far_, line_) .far = (far_), .line = (line_)
#define WATERS(start, end) .waters = {(start), (end)}
#define WAVES(start, end) .waves = {(start), (end)}
#define USUAL OVER(800, 2.4), WATERS(10, 10)
#define BRIEF .brief = true
#define HARD .hard = true
#define CAREFUL .compared = true, .sets = 8, .target_pegs = true

static const struct outing untested_rows[] = {
    {"300 m, default air", BRIEF, OVER(300, 2.4), WATERS(10, 10)},
    {"800 m, default air", USUAL},
    {"800 m, 1/6 m", BRIEF, USUAL, .air = BY_PAIR},
    {"800 m, 1/6 m, there and back", USUAL, .air = BY_PAIR, .shape = THERE_AND_BACK},
    {"1.5 km, 1/6 m", OVER(1500, 2.4), WATERS(10, 10), .air = BY_PAIR},
    {"1.5 km, default air, hard", BRIEF, OVER(1500, 2.4), WATERS(10, 10), HARD},
    {"5 km at 6 m, default air", OVER(5000, 6), WATERS(10, 10)},
    {"5 km at 6 m, 1/6 m", BRIEF, OVER(5000, 6), WATERS(10, 10), .air = BY_PAIR},
};

#define FOUR .sets = 4

static const struct outing air_rows[] = {
    {"300 m, default air", FOUR, OVER(300, 2.4), WATERS(10, 10)},
    {"300 m, 1/6 m", BRIEF, FOUR, OVER(300, 2.4), WATERS(10, 10), .air = BY_PAIR},
    {"300 m at 4 m, 1/6 m, hard", FOUR, OVER(300, 4), WATERS(10, 10), .air = BY_PAIR, HARD},
    {"300 m, 1/6 m, pegs in sun", BRIEF, FOUR, OVER(300, 2.4), WATERS(10, 10), .air = BY_PAIR,
     .sunny = true},
    {"800 m, default air", FOUR, USUAL},
    {"800 m, default air, hard", BRIEF, FOUR, USUAL, HARD},
    {"800 m, 1/6 m", FOUR, USUAL, .air = BY_PAIR},
    {"800 m, 1/6 m, hard", BRIEF, FOUR, USUAL, .air = BY_PAIR, HARD},
    {"800 m, 1/2.2 m", FOUR, USUAL, .air = BY_LOW_PAIR},
    {"800 m, 1/2.2 m, hard", BRIEF, FOUR, USUAL, .air = BY_LOW_PAIR, HARD},
    {"800 m, water", FOUR, USUAL, .air = BY_WATER},
    {"800 m, water, hard", BRIEF, FOUR, USUAL, .air = BY_WATER, HARD},
    {"800 m, both ways, hard", FOUR, USUAL, .air = BY_BOTH, HARD},
    {"800 m, 1/6 m, air 20 % apart", FOUR, USUAL, .air = BY_PAIR, .apart = 0.2},
    {"800 m, water, hard, 20 % apart", BRIEF, FOUR, USUAL, .air = BY_WATER, HARD, .apart = 0.2},
    {"800 m, 1/6 m, air read 3 times", FOUR, USUAL, .air = BY_PAIR, .apart = 0.1, .airs = 3},
    {"1.5 km, 1/6 m", FOUR, OVER(1500, 2.4), WATERS(10, 10), .air = BY_PAIR},
    {"1.5 km at 4 m, water, hard", FOUR, OVER(1500, 4), WATERS(10, 10), .air = BY_WATER, HARD},
    {"5 km at 6 m, 1/6 m", FOUR, OVER(5000, 6), WATERS(10, 10), .air = BY_PAIR},
    {"5 km at 8 m, water, 20 % apart", FOUR, OVER(5000, 8), WATERS(10, 10), .air = BY_WATER,
     .apart = 0.2},
    {"5 km at 6 m, default air, hard", BRIEF, FOUR, OVER(5000, 6), WATERS(10, 10), HARD},
    {"2 sets, 800 m, 1/6 m", BRIEF, .sets = 2, USUAL, .air = BY_PAIR},
    {"2 sets, 1.5 km, water", .sets = 2, OVER(1500, 2.4), WATERS(10, 10), .air = BY_WATER},
    {"2 sets, 800 m, 1/6 m, sun, hard", .sets = 2, USUAL, .air = BY_PAIR, HARD, .sunny = true},
};

/* Heights known to 0.1 mm and a high line, so that little but the level counts. */
#define LEVEL_ONLY OVER(300, 6), .known_u = 0.0001, .air = BY_PAIR
#define BAD_LEVEL .tilt = 0.0003, USUAL, .air = BY_PAIR

/* A level that is worse than its maker says. Where two or three sets scatter the tolerance stays,
 * and nothing is taken off: with two U holds 80, and 95 where a tilt found that lies beyond the
 * tolerance by more than its u, not t times that, would refute it. */
static const struct outing level_rows[] = {
    {"12 sets, drift", BRIEF, .sets = 12, .target_pegs = true, LEVEL_ONLY},
    {"4 sets", LEVEL_ONLY, .sets = 4},
    {"2 sets", LEVEL_ONLY, .sets = 2},
    {"4 sets that scatter twice as much", BRIEF, LEVEL_ONLY, .sets = 4, .scatter = 2},
    {"8 sets that scatter twice as much", LEVEL_ONLY, .sets = 8, .scatter = 2},
    {"2 sets that scatter twice as much", LEVEL_ONLY, .sets = 2, .scatter = 2, .only_report = true},
    {"tilts to 0.3 mm/m, 4 sets, 800 m", BRIEF, .sets = 4, BAD_LEVEL},
    {"tilts to 0.3 mm/m, 3 sets, 800 m", .sets = 3, BAD_LEVEL, .only_report = true},
    {"tilts to 0.3 mm/m, 2 sets, 800 m", .sets = 2, BAD_LEVEL, .only_report = true},
    {"tilts to 0.3 mm/m, 1 set, 800 m", .sets = 1, BAD_LEVEL},
};

#define AT_300 .sets = 4, OVER(300, 4), .air = BY_PAIR

static const struct outing water_rows[] = {
    {"2 and 2 readings", BRIEF, AT_300, WATERS(2, 2)},
    {"3 and 3", AT_300, WATERS(3, 3)},
    {"5 and 5", AT_300, WATERS(5, 5)},
    {"20 and 20", AT_300, WATERS(20, 20)},
    {"2 and 20", BRIEF, AT_300, WATERS(2, 20)},
    {"2 and 20, waves 25 and 50 mm", AT_300, WATERS(2, 20), WAVES(0.025, 0.050)},
    {"20 and 2, waves 0.5 and 25 mm", BRIEF, AT_300, WATERS(20, 2), WAVES(0.0005, 0.025)},
    {"3 and 3, waves 0.5 and 25 mm", AT_300, WATERS(3, 3), WAVES(0.0005, 0.025)},
    {"2 and 2, correlated", BRIEF, AT_300, WATERS(2, 2), .correlated = true},
    {"3 and 3, correlated", AT_300, WATERS(3, 3), .correlated = true},
    {"10 and 10, correlated", BRIEF, AT_300, WATERS(10, 10), .correlated = true},
    {"20 and 20, correlated", AT_300, WATERS(20, 20), .correlated = true},
    {"10 and 10 in a minute, waves 10 mm", AT_300, WATERS(10, 10), .correlated = true,
     WAVES(0.010, 0.010), .only_report = true},
};

#define AT_800 .sets = 4, OVER(800, 2.4)

static const struct outing shape_rows[] = {
    {"there and back, 1/6 m", BRIEF, AT_800, WATERS(10, 10), .air = BY_PAIR,
     .shape = THERE_AND_BACK},
    {"there and back, 1/6 m, 20 % apart", AT_800, WATERS(10, 10), .air = BY_PAIR,
     .shape = THERE_AND_BACK, .apart = 0.2},
    {"the same, air read twice", AT_800, WATERS(10, 10), .air = BY_PAIR, .shape = THERE_AND_BACK,
     .apart = 0.2, .airs = 2},
    {"there and back, 1.5 km, water, hard, 20 % apart", BRIEF, .sets = 4, OVER(1500, 4),
     WATERS(10, 10), .air = BY_WATER, HARD, .shape = THERE_AND_BACK, .apart = 0.2},
    {"there and back, 1.5 km, 1/6 m, careful", BRIEF, OVER(1500, 2.4), WATERS(10, 10),
     .air = BY_PAIR, CAREFUL, .shape = THERE_AND_BACK},
    {"long BS, 1/6 m", AT_800, WATERS(10, 10), .air = BY_PAIR, .shape = LONG_BS},
    {"long BS and a short setup, 1/6 m, 2 and 2 readings", AT_800, WATERS(2, 2), .air = BY_PAIR,
     .shape = LONG_BS_AND_MORE},
    {"the same, 1.5 km, water, correlated", BRIEF, .sets = 4, OVER(1500, 2.4), WATERS(5, 5),
     .correlated = true, .air = BY_WATER, .shape = LONG_BS_AND_MORE},
    {"800 and 640 m in a row, 1/6 m", AT_800, WATERS(10, 10), .air = BY_PAIR, .shape = ISLAND},
    {"the same, water, hard, 20 % apart", BRIEF, AT_800, WATERS(10, 10), .air = BY_WATER, HARD,
     .shape = ISLAND, .apart = 0.2},
    {"known marks, 3 mm each, 1/6 m", BRIEF, AT_800, .known_u = 0.003, .air = BY_PAIR},
    {"marks 5 mm and 0.01 mm/m declared", AT_800, WATERS(10, 10), .air = BY_PAIR, .marks = 0.005,
     .slope = 0.00001},
    {"flow 0.02 mm/m declared, depth 3 m", BRIEF, AT_800, WATERS(10, 10), .air = BY_WATER,
     .flow = 0.00002, .depth = 3},
    {"distances by tape", AT_800, WATERS(10, 10), .air = BY_PAIR, .taped = true},
    {"far pole by tape", AT_800, WATERS(10, 10), .air = BY_PAIR, .far_by = FAR_BY_TAPE},
    {"far rod", AT_800, WATERS(10, 10), .air = BY_PAIR, .far_by = FAR_BY_ROD},
    {"far target read 5 times", AT_800, WATERS(10, 10), .air = BY_PAIR, .set = 5},
    {"mast read at another hour, air 50 % apart, hard", AT_800, WATERS(3, 3), .air = BY_PAIR, HARD,
     .apart = 0.5, .only_report = true},
};

/* What a careful day shows; thermometers compared side by side, nothing declared. Where air that is
 * another at the mast by 20 % is all that counts U holds 91 in hard weather; it would hold 94 if
 * the share for the place of the mast were 0.25 instead of 0.2. With pegs read by rod four sets
 * know a tilt to 0.018 mm/m, by target to 0.011, and that decides at 800 m. */
static const struct outing power_rows[] = {
    {"800 m, 1/6 m", BRIEF, CAREFUL, USUAL, .air = BY_PAIR, .power = 75},
    {"800 m, water", BRIEF, CAREFUL, USUAL, .air = BY_WATER, .power = 55},
    {"1.5 km, 1/6 m", CAREFUL, OVER(1500, 2.4), WATERS(10, 10), .air = BY_PAIR},
    {"1.5 km, water", CAREFUL, OVER(1500, 2.4), WATERS(10, 10), .air = BY_WATER},
    {"1.5 km, 1/6 m, hard, air 20 % apart", .only_report = true, CAREFUL, OVER(1500, 2.4),
     WATERS(10, 10), HARD, .air = BY_PAIR, .apart = 0.2},
    {"1.5 km, both ways, hard, 20 % apart", .only_report = true, CAREFUL, OVER(1500, 2.4),
     WATERS(10, 10), HARD, .air = BY_BOTH, .apart = 0.2},
    {"5 km at 6 m, 1/6 m, hard, 20 % apart", CAREFUL, OVER(5000, 6), WATERS(10, 10), HARD,
     .air = BY_PAIR, .apart = 0.2},
    {"300 m at 4 m, 1/6 m", CAREFUL, OVER(300, 4), WATERS(10, 10), .air = BY_PAIR},
    {"800 m, 1/6 m, 4 sets", FOUR, USUAL, .air = BY_PAIR, .compared = true, .target_pegs = true,
     .power = 70},
    {"800 m, water, 4 sets", FOUR, USUAL, .air = BY_WATER, .compared = true, .target_pegs = true,
     .power = 55},
    {"800 m, 1/6 m, 4 sets by rod", BRIEF, FOUR, USUAL, .air = BY_PAIR, .compared = true,
     .power = 48},
    {"800 m, water, 4 sets by rod", BRIEF, FOUR, USUAL, .air = BY_WATER, .compared = true,
     .power = 37},
};

#endif
