-- A book of level runs. Lengths are whole nanometers. The tables hold the present state; the
-- journal holds every change and cannot be altered through SQL. time: when it was observed; booked:
-- when it was typed, empty where both are one.
CREATE TABLE setting(
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;

-- description: what the mark is; reach: how it is found. surface: it is the surface of the water itself.
CREATE TABLE mark(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  typed TEXT NOT NULL CHECK(length(typed) BETWEEN 1 AND 60),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  elevation INTEGER NOT NULL,
  u_typed TEXT NOT NULL DEFAULT '' CHECK(length(u_typed) <= 60),
  u INTEGER NOT NULL DEFAULT 0 CHECK(u >= 0),
  source TEXT NOT NULL DEFAULT '' CHECK(length(source) <= 120),
  time TEXT NOT NULL,
  struck TEXT,
  description TEXT NOT NULL DEFAULT '' CHECK(length(description) <= 120),
  reach TEXT NOT NULL DEFAULT '' CHECK(length(reach) <= 120),
  surface INTEGER NOT NULL DEFAULT 0 CHECK(surface IN (0, 1))
) STRICT;
CREATE UNIQUE INDEX mark_name ON mark(name) WHERE struck IS NULL;

CREATE TABLE run(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK(length(name) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK(kind IN ('loop', 'link', 'open', 'crossing')),
  plan TEXT NOT NULL DEFAULT '' CHECK(length(plan) <= 40),
  grade TEXT NOT NULL DEFAULT '' CHECK(length(grade) <= 120),
  turn TEXT NOT NULL DEFAULT '' CHECK(length(turn) <= 40),
  time TEXT NOT NULL
) STRICT;

-- place orders the sights of a run; a BS opens a setup. again: this BS opens a second standing
-- between the marks of the setup before it. along: where the station stands on the line that a
-- profile is measured along, as typed. photo: file names of photographs; photo_digest: the SHA-256 of
-- each. distance_by: how the distance was got; empty: nobody said. distance_unit: of a bare distance;
-- empty: that of the readings. OFF: station stands so much (reading) above the mark before it, by tape,
-- ruler or tube; ends: what a tube showed at both ends. limit, u: how far off this reading may be, and its
-- standard uncertainty, in place of those of the method; declared: a declared line has it already.
-- scaled: what the reading was scaled from in a photograph.
CREATE TABLE sight(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK(kind IN ('BS', 'IS', 'FS', 'OFF')),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) <= 320),
  reading INTEGER NOT NULL CHECK(reading BETWEEN -100000000000 AND 100000000000),
  upper_typed TEXT NOT NULL DEFAULT '' CHECK(length(upper_typed) <= 60),
  middle_typed TEXT NOT NULL DEFAULT '' CHECK(length(middle_typed) <= 60),
  lower_typed TEXT NOT NULL DEFAULT '' CHECK(length(lower_typed) <= 60),
  upper INTEGER CHECK(upper BETWEEN -100000000000 AND 100000000000),
  middle INTEGER CHECK(middle BETWEEN -100000000000 AND 100000000000),
  lower INTEGER CHECK(lower BETWEEN -100000000000 AND 100000000000),
  distance_typed TEXT NOT NULL DEFAULT '' CHECK(length(distance_typed) <= 60),
  distance INTEGER CHECK(distance BETWEEN 1 AND 100000000000000),
  method TEXT NOT NULL CHECK(method IN ('rod', 'tape', 'target', 'ruler', 'tube')),
  instrument TEXT NOT NULL DEFAULT '' CHECK(length(instrument) <= 40),
  rod TEXT NOT NULL DEFAULT '' CHECK(length(rod) <= 40),
  time TEXT NOT NULL,
  booked TEXT NOT NULL DEFAULT '',
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  overridden TEXT NOT NULL DEFAULT '' CHECK(length(overridden) <= 120),
  again INTEGER NOT NULL DEFAULT 0 CHECK(again IN (0, 1)),
  along TEXT NOT NULL DEFAULT '' CHECK(length(along) <= 20),
  photo TEXT NOT NULL DEFAULT '' CHECK(length(photo) <= 120),
  distance_by TEXT NOT NULL DEFAULT '' CHECK(distance_by IN ('', 'tape', 'wires', 'map', 'step')),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  replaces INTEGER REFERENCES sight(id),
  distance_unit TEXT NOT NULL DEFAULT '' CHECK(distance_unit IN ('', 'm', 'ft', 'ftin', 'in')),
  limit_typed TEXT NOT NULL DEFAULT '' CHECK(length(limit_typed) <= 60),
  reading_limit INTEGER CHECK(reading_limit BETWEEN 1 AND 100000000000),
  u_typed TEXT NOT NULL DEFAULT '' CHECK(length(u_typed) <= 60),
  reading_u INTEGER CHECK(reading_u BETWEEN 1 AND 100000000000),
  declared INTEGER NOT NULL DEFAULT 0 CHECK(declared IN (0, 1)),
  photo_digest TEXT NOT NULL DEFAULT '' CHECK(length(photo_digest) <= 330),
  scaled TEXT NOT NULL DEFAULT '' CHECK(length(scaled) <= 200),
  ends TEXT NOT NULL DEFAULT '' CHECK(length(ends) <= 122),
  CHECK((upper IS NULL) = (middle IS NULL) AND (middle IS NULL) = (lower IS NULL))
) STRICT;
CREATE INDEX sight_place ON sight(run, place, id);

-- An instrument in one state of adjustment: the tilt that it may have, and one found by pegs. Texts
-- as they were typed.
CREATE TABLE instrument(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  tolerance TEXT NOT NULL CHECK(length(tolerance) BETWEEN 1 AND 60),
  tilt TEXT NOT NULL DEFAULT '' CHECK(length(tilt) <= 60),
  tilt_u TEXT NOT NULL DEFAULT '' CHECK(length(tilt_u) <= 60),
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
CREATE UNIQUE INDEX instrument_name ON instrument(name) WHERE struck IS NULL;

-- A tolerance set of the book's own: figures as "section=12 mm; sight=90 m; ...".
CREATE TABLE tolerance(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 39),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 400),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
CREATE UNIQUE INDEX tolerance_name ON tolerance(name) WHERE struck IS NULL;

-- A peg test: standings as they were typed, parted by semicolons, and what came of them. k, dk: of
-- the air of the test; empty: nobody said. method: how its rods were read.
CREATE TABLE pegtest(
  id INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL CHECK(length(instrument) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  standings TEXT NOT NULL CHECK(length(standings) BETWEEN 1 AND 4000),
  tilt TEXT NOT NULL CHECK(length(tilt) BETWEEN 1 AND 60),
  tilt_u TEXT NOT NULL CHECK(length(tilt_u) BETWEEN 1 AND 60),
  k TEXT NOT NULL DEFAULT '' CHECK(length(k) <= 20),
  dk TEXT NOT NULL DEFAULT '' CHECK(length(dk) <= 20),
  method TEXT NOT NULL DEFAULT 'rod' CHECK(method IN ('rod', 'tape', 'target')),
  time TEXT NOT NULL,
  booked TEXT NOT NULL DEFAULT '',
  distance_unit TEXT NOT NULL DEFAULT '' CHECK(distance_unit IN ('', 'm', 'ft', 'ftin', 'in'))
) STRICT;

-- A rod: what it reads too high at its zero, and its scale and expansion. Texts as they were typed;
-- scale in parts per million, expansion in ppm/K from the reference temperature in degrees C.
CREATE TABLE rod(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  zero TEXT NOT NULL DEFAULT '' CHECK(length(zero) <= 60),
  scale TEXT NOT NULL DEFAULT '' CHECK(length(scale) <= 20),
  expansion TEXT NOT NULL DEFAULT '' CHECK(length(expansion) <= 20),
  reference TEXT NOT NULL DEFAULT '' CHECK(length(reference) <= 20),
  longest TEXT NOT NULL DEFAULT '' CHECK(length(longest) <= 60),
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
CREATE UNIQUE INDEX rod_name ON rod(name) WHERE struck IS NULL;

-- A field test of an instrument, pair by pair: "backsight,foresight; ..." as typed, with an x before a
-- pair that was struck.
CREATE TABLE fieldtest(
  id INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL CHECK(length(instrument) BETWEEN 1 AND 40),
  extent TEXT NOT NULL CHECK(extent IN ('simplified', 'full')),
  sigma TEXT NOT NULL DEFAULT '' CHECK(length(sigma) <= 60),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  pairs TEXT NOT NULL DEFAULT '' CHECK(length(pairs) <= 8000),
  time TEXT NOT NULL
) STRICT;

-- One reading of the water at a shore: how far the station stands above it.
CREATE TABLE water(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) BETWEEN 1 AND 60),
  reading INTEGER NOT NULL CHECK(reading BETWEEN -100000000000 AND 100000000000),
  time TEXT NOT NULL,
  booked TEXT NOT NULL DEFAULT '',
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
CREATE INDEX water_run ON water(run, id);

-- The air at one time, as it was typed: pressure, temperatures and wind speed with their unit or in
-- hPa, degrees C and m/s, heights as lengths. water: of its surface; at: of the thermometer in the
-- air above it. wind: words of an older book, which serve no k.
CREATE TABLE air(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  pressure TEXT NOT NULL CHECK(length(pressure) <= 20),
  low TEXT NOT NULL CHECK(length(low) <= 20),
  low_height TEXT NOT NULL CHECK(length(low_height) <= 60),
  high TEXT NOT NULL CHECK(length(high) <= 20),
  high_height TEXT NOT NULL CHECK(length(high_height) <= 60),
  water TEXT NOT NULL DEFAULT '' CHECK(length(water) <= 20),
  wind TEXT NOT NULL DEFAULT '' CHECK(length(wind) <= 60),
  sky TEXT NOT NULL DEFAULT '' CHECK(length(sky) <= 60),
  at TEXT NOT NULL DEFAULT '' CHECK(length(at) <= 20),
  at_height TEXT NOT NULL DEFAULT '' CHECK(length(at_height) <= 60),
  wind_speed TEXT NOT NULL DEFAULT '' CHECK(length(wind_speed) <= 20),
  wind_height TEXT NOT NULL DEFAULT '' CHECK(length(wind_height) <= 60),
  wind_from TEXT NOT NULL DEFAULT '' CHECK(wind_from IN ('', 'water', 'land')),
  time TEXT NOT NULL,
  booked TEXT NOT NULL DEFAULT '',
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
CREATE INDEX air_run ON air(run, id);

-- What a gauge at a station of the run showed by its own scale, above the zero that it claims.
CREATE TABLE gauge(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) BETWEEN 1 AND 60),
  reading INTEGER NOT NULL,
  time TEXT NOT NULL,
  booked TEXT NOT NULL DEFAULT '',
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
CREATE INDEX gauge_run ON gauge(run, id);

-- The elevation that a station of the run is set out at; another one strikes it.
CREATE TABLE setout(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) BETWEEN 1 AND 60),
  wanted INTEGER NOT NULL,
  time TEXT NOT NULL,
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
CREATE UNIQUE INDEX setout_station ON setout(run, station) WHERE struck IS NULL;

-- A long sight thought through beforehand, by name: one line a figure, "name value".
CREATE TABLE plan(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
CREATE UNIQUE INDEX plan_name ON plan(name) WHERE struck IS NULL;

-- What prediction and allowance of a crossing are made of, sealed with its first long sight; later
-- rows are amendments. late: the sights were there before it. how: sealed on being asked, or come from
-- another book; empty: by a long sight.
CREATE TABLE seal(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  late INTEGER NOT NULL DEFAULT 0 CHECK(late IN (0, 1)),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL,
  how TEXT NOT NULL DEFAULT '' CHECK(how IN ('', 'asked', 'imported'))
) STRICT;
CREATE INDEX seal_run ON seal(run, id);

-- The head of the pages of a run on a day, in words; another one of that day strikes it.
CREATE TABLE head(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  day TEXT NOT NULL CHECK(length(day) = 10),
  party TEXT NOT NULL DEFAULT '' CHECK(length(party) <= 120),
  weather TEXT NOT NULL DEFAULT '' CHECK(length(weather) <= 120),
  instrument TEXT NOT NULL DEFAULT '' CHECK(length(instrument) <= 120),
  rods TEXT NOT NULL DEFAULT '' CHECK(length(rods) <= 120),
  datum TEXT NOT NULL DEFAULT '' CHECK(length(datum) <= 120),
  place TEXT NOT NULL DEFAULT '' CHECK(length(place) <= 120),
  purpose TEXT NOT NULL DEFAULT '' CHECK(length(purpose) <= 120),
  checked_by TEXT NOT NULL DEFAULT '' CHECK(length(checked_by) <= 120),
  time TEXT NOT NULL,
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
CREATE UNIQUE INDEX head_day ON head(run, day) WHERE struck IS NULL;

-- A known mark that does not hold its elevation in a run, and one that does again, by a row each: the
-- last one says how it stands.
CREATE TABLE aside(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  mark TEXT NOT NULL CHECK(length(mark) BETWEEN 1 AND 40),
  state TEXT NOT NULL CHECK(state IN ('aside', 'held')),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL
) STRICT;
CREATE INDEX aside_run ON aside(run, id);

-- A run is closed, and opened again, by a row each: the last one says how it stands. What belongs
-- to a closed run cannot be changed. known: the known elevations that it was closed with, a line
-- each: elevation and its standard uncertainty in nanometers, and the mark.
CREATE TABLE closing(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  state TEXT NOT NULL CHECK(state IN ('closed', 'reopened')),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL,
  known TEXT NOT NULL DEFAULT '' CHECK(length(known) <= 1000000)
) STRICT;
CREATE INDEX closing_run ON closing(run, id);

-- What an adjustment gave, beside the readings and never over them: what was adjusted, and one line
-- a figure. seq is the journal's last entry when it was computed.
CREATE TABLE result(
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK(kind IN ('run', 'net')),
  subject TEXT NOT NULL CHECK(length(subject) BETWEEN 1 AND 4000),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 800000),
  seq INTEGER NOT NULL,
  time TEXT NOT NULL
) STRICT;

-- The editors that have the book open, or were stopped before they could leave. process: its number on
-- that host, and when it began by the host's own count, which tells it from a later one of that number.
CREATE TABLE editor(
  id INTEGER PRIMARY KEY,
  host TEXT NOT NULL CHECK(length(host) <= 120),
  user TEXT NOT NULL CHECK(length(user) <= 120),
  process TEXT NOT NULL CHECK(length(process) <= 60),
  since TEXT NOT NULL
) STRICT;

-- The half-typed form of an editor: slot 0 is a new sight at the end, slot 1 a change of (or an
-- insertion after) the sight `at`. editor: 0, or one that is not there any more: whoever opens the run
-- next goes on with it.
CREATE TABLE draft(
  editor INTEGER NOT NULL DEFAULT 0,
  run INTEGER NOT NULL REFERENCES run(id),
  slot INTEGER NOT NULL CHECK(slot IN (0, 1)),
  at INTEGER NOT NULL DEFAULT 0,
  inserts INTEGER NOT NULL DEFAULT 0 CHECK(inserts IN (0, 1)),
  focus INTEGER NOT NULL DEFAULT 0,
  wires INTEGER NOT NULL DEFAULT 0 CHECK(wires IN (0, 1)),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  kind TEXT NOT NULL DEFAULT '',
  station TEXT NOT NULL DEFAULT '',
  reading TEXT NOT NULL DEFAULT '',
  upper TEXT NOT NULL DEFAULT '',
  middle TEXT NOT NULL DEFAULT '',
  lower TEXT NOT NULL DEFAULT '',
  distance TEXT NOT NULL DEFAULT '',
  method TEXT NOT NULL DEFAULT '',
  remark TEXT NOT NULL DEFAULT '',
  instrument TEXT NOT NULL DEFAULT '',
  rod TEXT NOT NULL DEFAULT '',
  again INTEGER NOT NULL DEFAULT 0 CHECK(again IN (0, 1)),
  along TEXT NOT NULL DEFAULT '',
  photo TEXT NOT NULL DEFAULT '',
  time TEXT NOT NULL DEFAULT '',
  scaled TEXT NOT NULL DEFAULT '',
  PRIMARY KEY(editor, run, slot)
) STRICT;

-- One entry for each row changed; entries of one action share its first seq. before and after
-- are the row as JSON, before NULL for a new row.
CREATE TABLE journal(
  seq INTEGER PRIMARY KEY NOT NULL CHECK(seq > 0),
  action INTEGER NOT NULL,
  time TEXT NOT NULL,
  act TEXT NOT NULL,
  run INTEGER,
  tbl TEXT NOT NULL CHECK(tbl IN ('setting', 'mark', 'run', 'sight', 'instrument', 'water', 'air',
    'gauge', 'setout', 'head', 'plan', 'seal', 'pegtest', 'tolerance', 'rod', 'fieldtest', 'aside', 'closing',
    'result')),
  row TEXT NOT NULL,
  before TEXT,
  after TEXT NOT NULL,
  undoes INTEGER
) STRICT;
CREATE INDEX journal_run ON journal(run, action);

CREATE TRIGGER journal_order BEFORE INSERT ON journal
WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM journal)
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER sight_no_delete BEFORE DELETE ON sight
BEGIN SELECT RAISE(ABORT, 'a sight is struck, never erased'); END;
CREATE TRIGGER mark_no_delete BEFORE DELETE ON mark
BEGIN SELECT RAISE(ABORT, 'a mark is struck, never erased'); END;
CREATE TRIGGER run_no_delete BEFORE DELETE ON run
BEGIN SELECT RAISE(ABORT, 'a run is never erased'); END;
CREATE TRIGGER instrument_no_delete BEFORE DELETE ON instrument
BEGIN SELECT RAISE(ABORT, 'an instrument is struck, never erased'); END;
CREATE TRIGGER pegtest_order BEFORE INSERT ON pegtest
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM pegtest)
BEGIN SELECT RAISE(ABORT, 'a peg test stays as it was'); END;
CREATE TRIGGER pegtest_no_update BEFORE UPDATE ON pegtest
BEGIN SELECT RAISE(ABORT, 'a peg test stays as it was'); END;
CREATE TRIGGER pegtest_no_delete BEFORE DELETE ON pegtest
BEGIN SELECT RAISE(ABORT, 'a peg test stays as it was'); END;
CREATE TRIGGER tolerance_no_delete BEFORE DELETE ON tolerance
BEGIN SELECT RAISE(ABORT, 'a tolerance set is struck, never erased'); END;
CREATE TRIGGER rod_no_delete BEFORE DELETE ON rod
BEGIN SELECT RAISE(ABORT, 'a rod is struck, never erased'); END;
CREATE TRIGGER fieldtest_no_delete BEFORE DELETE ON fieldtest
BEGIN SELECT RAISE(ABORT, 'a field test is never erased'); END;
CREATE TRIGGER water_no_delete BEFORE DELETE ON water
BEGIN SELECT RAISE(ABORT, 'a water reading is struck, never erased'); END;
CREATE TRIGGER air_no_delete BEFORE DELETE ON air
BEGIN SELECT RAISE(ABORT, 'the air is struck, never erased'); END;
CREATE TRIGGER gauge_no_delete BEFORE DELETE ON gauge
BEGIN SELECT RAISE(ABORT, 'a gauge reading is struck, never erased'); END;
CREATE TRIGGER setout_no_delete BEFORE DELETE ON setout
BEGIN SELECT RAISE(ABORT, 'a set-out is struck, never erased'); END;
CREATE TRIGGER head_no_delete BEFORE DELETE ON head
BEGIN SELECT RAISE(ABORT, 'the head of a page is struck, never erased'); END;
CREATE TRIGGER plan_no_delete BEFORE DELETE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan is struck, never erased'); END;
CREATE TRIGGER seal_order BEFORE INSERT ON seal
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM seal)
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
CREATE TRIGGER seal_no_update BEFORE UPDATE ON seal
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
CREATE TRIGGER seal_no_delete BEFORE DELETE ON seal
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
CREATE TRIGGER aside_order BEFORE INSERT ON aside
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM aside)
BEGIN SELECT RAISE(ABORT, 'what was set aside stays in the record'); END;
CREATE TRIGGER aside_no_update BEFORE UPDATE ON aside
BEGIN SELECT RAISE(ABORT, 'what was set aside stays in the record'); END;
CREATE TRIGGER aside_no_delete BEFORE DELETE ON aside
BEGIN SELECT RAISE(ABORT, 'what was set aside stays in the record'); END;
CREATE TRIGGER closing_order BEFORE INSERT ON closing
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM closing)
BEGIN SELECT RAISE(ABORT, 'how a run was closed stays'); END;
CREATE TRIGGER closing_no_update BEFORE UPDATE ON closing
BEGIN SELECT RAISE(ABORT, 'how a run was closed stays'); END;
CREATE TRIGGER closing_no_delete BEFORE DELETE ON closing
BEGIN SELECT RAISE(ABORT, 'how a run was closed stays'); END;
CREATE TRIGGER result_order BEFORE INSERT ON result
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM result)
BEGIN SELECT RAISE(ABORT, 'a result stays as it was'); END;
CREATE TRIGGER result_no_update BEFORE UPDATE ON result
BEGIN SELECT RAISE(ABORT, 'a result stays as it was'); END;
CREATE TRIGGER result_no_delete BEFORE DELETE ON result
BEGIN SELECT RAISE(ABORT, 'a result stays as it was'); END;
CREATE TRIGGER sight_closed_insert BEFORE INSERT ON sight
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER sight_closed_update BEFORE UPDATE ON sight
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER water_closed_insert BEFORE INSERT ON water
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER water_closed_update BEFORE UPDATE ON water
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER air_closed_insert BEFORE INSERT ON air
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER air_closed_update BEFORE UPDATE ON air
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER gauge_closed_insert BEFORE INSERT ON gauge
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER gauge_closed_update BEFORE UPDATE ON gauge
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER setout_closed_insert BEFORE INSERT ON setout
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER setout_closed_update BEFORE UPDATE ON setout
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER head_closed_insert BEFORE INSERT ON head
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER head_closed_update BEFORE UPDATE ON head
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER seal_closed_insert BEFORE INSERT ON seal
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER aside_closed_insert BEFORE INSERT ON aside
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER run_closed_update BEFORE UPDATE ON run
WHEN (SELECT state FROM closing WHERE run = NEW.id ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
