/* The figures of the first page that stand nowhere else, as quantities. */
#include "report/front/front.h"
#include "report/quantities.h"

void front_csv(FILE *out, const struct work_run *run)
{
	const struct level_terms *terms = &run->terms.terms;
	char name[60];
	struct front front = {0};
	front_of(run, &front);
	if (!front.scale.has || run->book.run.kind != LEVEL_CROSSING)
		return;
	quantity_real(out, "seen_low", true, front.scale.low, "m");
	quantity_real(out, "seen_high", true, front.scale.high, "m");
	quantity_real(out, "k_low", true, terms->k - terms->dk_low, "");
	quantity_real(out, "k_high", true, terms->k + terms->dk_high, "");
	quantity_real(out, "peg_part", true, front_peg_part(run), "m");
	for (int i = 0; i < LEVEL_ALLOWANCE_LINES; i++) {
		enum level_allowance_line line = (enum level_allowance_line)i;
		snprintf(name, sizeof name, "size_%s", level_allowance_name(line));
		quantity_real(out, name, true,
		              level_line_size(&run->closing.allowance, line, terms->decides), "m");
	}
}
