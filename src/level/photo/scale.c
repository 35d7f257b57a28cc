#include "rodbook/level/scale.h"
#include "level/wide.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rodbook/level/sight.h"

#define READING_LIMIT (100 * LEVEL_NM_PER_M)
#define PX_LIMIT (1000000 * LEVEL_PX)
#define PX_DECIMALS 6
#define PARTS 4

static bool check(const struct level_scaling *s, struct fault *why)
{
	if (s->low == s->high)
		return fault_say(why, FAULT_INPUT,
		                 "both marks have one reading: scale between two different ones");
	if (llabs(s->low) > READING_LIMIT || llabs(s->high) > READING_LIMIT)
		return fault_say(why, FAULT_INPUT, "a mark is at most 100 m from zero");
	if (s->low_px == s->high_px)
		return fault_say(why, FAULT_INPUT,
		                 "both marks are in one place: measure them again");
	if (s->u_px <= 0)
		return fault_say(why, FAULT_INPUT, "what a place may be off by is above 0");
	if (llabs(s->high_px - s->low_px) <= 2 * s->u_px)
		return fault_say(why, FAULT_INPUT,
		                 "the marks are no further apart than both may be off together: "
		                 "take marks further apart");
	return true;
}

bool level_scale(const struct level_scaling *s, struct level_scaled *out, struct fault *why)
{
	int64_t apart = s->high_px - s->low_px, hair = s->hair_px - s->low_px, sure, most;
	level_wide gap = (level_wide)s->high - s->low, n, limit, by;
	*out = (struct level_scaled){0};
	if (!check(s, why))
		return false;
	if (apart < 0) {
		apart = -apart;
		hair = -hair;
	}
	/* M P */
	most = hair > apart - hair ? hair : apart - hair;
	sure = apart - 2 * s->u_px;
	n = (level_wide)s->low * apart + gap * hair;
	limit = 2 * (level_wide)s->u_px * (gap < 0 ? -gap : gap);
	by = apart;
	if (most > sure) {
		limit *= most;
		by *= sure;
	}
	if (n > (level_wide)READING_LIMIT * apart || n < -(level_wide)READING_LIMIT * apart ||
	    limit > READING_LIMIT * by)
		return fault_say(why, FAULT_INPUT,
		                 "the reading, or what it may be off by, is over 100 m: take marks "
		                 "further apart");
	out->reading = level_round_ratio(n, apart);
	out->limit = (level_nm)((limit + by - 1) / by);
	out->far = 2 * most > 3 * apart;
	return true;
}

static bool refuse_px(const char *text, struct fault *why)
{
	return fault_say(why, FAULT_INPUT,
	                 "\"%.40s\" is no place in a photograph: write 1204 or 1204.5", text);
}

bool level_parse_px(const char *text, int64_t *out, struct fault *why)
{
	const char *at = text + strspn(text, " ");
	bool negative = *at == '-';
	int64_t value = 0;
	int digits = 0, decimals = 0;
	if (*at == '-' || *at == '+')
		at++;
	for (; *at >= '0' && *at <= '9'; at++, digits++) {
		value = value * 10 + (*at - '0');
		if (value > PX_LIMIT / LEVEL_PX)
			return refuse_px(text, why);
	}
	if (*at == '.')
		for (at++; *at >= '0' && *at <= '9' && decimals < PX_DECIMALS; at++, decimals++)
			value = value * 10 + (*at - '0');
	at += strspn(at, " ");
	if (digits + decimals == 0 || *at)
		return refuse_px(text, why);
	while (decimals++ < PX_DECIMALS)
		value *= 10;
	if (value > PX_LIMIT)
		return refuse_px(text, why);
	*out = negative ? -value : value;
	return true;
}

bool level_parse_placed(const char *text, enum level_unit bare, level_nm *mark, int64_t *px,
                        struct fault *why)
{
	const char *at = strrchr(text, '@');
	char length[64];
	if (!at || (size_t)(at - text) >= sizeof length)
		return fault_say(why, FAULT_INPUT,
		                 "\"%.40s\" is no mark in a photograph: write its reading and its "
		                 "place, as in 0.5@1204",
		                 text);
	memcpy(length, text, (size_t)(at - text));
	length[at - text] = '\0';
	return level_parse_length(length, bare, mark, why) && level_parse_px(at + 1, px, why);
}

/* Parts a text at its semicolons; how many parts there are, 0 for too many or too long ones. */
static int part(const char *text, char parts[PARTS][80])
{
	for (int count = 0; count < PARTS;) {
		size_t size = strcspn(text, ";");
		if (size >= 80)
			return 0;
		memcpy(parts[count], text, size);
		parts[count][size] = '\0';
		level_trim(parts[count++]);
		if (!text[size])
			return count;
		text += size + 1;
	}
	return 0;
}

/* Reads what stands behind a word. */
static bool behind(const char *word, const char *text, int64_t *px, struct fault *why)
{
	size_t size = strlen(word);
	return strncmp(text, word, size) == 0 && text[size] == ' '
	           ? level_parse_px(text + size, px, why)
	           : fault_say(why, FAULT_INPUT, "\"%.40s\" stands where \"%s\" is wanted: %s",
	                       text, word, "write 0.5@1204; 1.0@2310; hair 1650; u 2");
}

bool level_parse_scaling(const char *text, enum level_unit bare, struct level_scaling *out,
                         struct fault *why)
{
	char parts[PARTS][80];
	int count = part(text, parts);
	*out = (struct level_scaling){.u_px = LEVEL_PX_U};
	if (count < PARTS - 1)
		return fault_say(why, FAULT_INPUT,
		                 "a reading is scaled from two marks and the hair: write 0.5@1204; "
		                 "1.0@2310; hair 1650; u 2");
	return level_parse_placed(parts[0], bare, &out->low, &out->low_px, why) &&
	       level_parse_placed(parts[1], bare, &out->high, &out->high_px, why) &&
	       behind("hair", parts[2], &out->hair_px, why) &&
	       (count < PARTS || behind("u", parts[3], &out->u_px, why));
}

char *level_carry_scaling(char *buf, size_t size, const char *text, enum level_unit unit,
                          enum level_unit here)
{
	struct level_scaling ignored;
	char parts[PARTS][80], carried[2][80], whole[4 * 90];
	int count = part(text, parts);
	snprintf(buf, size, "%s", text);
	if (unit == here || !level_parse_scaling(text, unit, &ignored, NULL))
		return buf;
	for (int i = 0; i < 2; i++) {
		char *at = strrchr(parts[i], '@');
		*at = '\0';
		level_carry_text(carried[i], sizeof carried[i], parts[i], unit, here);
		*at = '@';
		snprintf(carried[i] + strlen(carried[i]), sizeof carried[i] - strlen(carried[i]),
		         "%s", at);
	}
	snprintf(whole, sizeof whole, "%s; %s; %s%s%s", carried[0], carried[1], parts[2],
	         count == PARTS ? "; " : "", count == PARTS ? parts[3] : "");
	if (strlen(whole) < size)
		strcpy(buf, whole);
	return buf;
}

char *level_scaled_text(char *buf, level_nm value, enum level_unit bare)
{
	const struct level_style meters = level_style_default(LEVEL_M);
	char text[LEVEL_LENGTH_BYTES];
	/* 100 m at most, and 9 decimals. */
	snprintf(buf, LEVEL_SCALED_BYTES, "%.30s%s", level_format_exact(text, value, &meters),
	         bare == LEVEL_M ? "" : " m");
	return buf;
}
