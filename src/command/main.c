/* rodbook: a field book for differential leveling. */
#include <locale.h>
#ifdef __GLIBC__
#include <malloc.h>
#endif
#include <signal.h>
#include <stdlib.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "command/command.h"
#include "command/help.h"

static const struct {
	const char *name;
	int (*run)(int argc, char **argv);
} commands[] = {
    {"new", command_new},
    {"mark", command_mark},
    {"import", command_import},
    {"set", command_set},
    {"runs", command_runs},
    {"stations", command_stations},
    {"find", command_find},
    {"page", command_page},
    {"closure", command_closure},
    {"slips", command_slips},
    {"export", command_export},
    {"adjust", command_adjust},
    {"adjusted", command_adjusted},
    {"changes", command_changes},
    {"begin", command_begin},
    {"grade", command_grade},
    {"statement", command_statement},
    {"profile", command_profile},
    {"longsight", command_longsight},
    {"closures", command_closures},
    {"head", command_head},
    {"copy", command_copy},
    {"bundle", command_bundle},
    {"card", command_card},
    {"blank", command_blank},
    {"sight", command_sight},
    {"offset", command_offset},
    {"water", command_water},
    {"air", command_air},
    {"gauge", command_gauge},
    {"gauges", command_gauges},
    {"setout", command_setout},
    {"setouts", command_setouts},
    {"plan", command_plan},
    {"drop", command_drop},
    {"drops", command_drops},
    {"repeat", command_repeat},
    {"seal", command_seal},
    {"amend", command_amend},
    {"instrument", command_instrument},
    {"pegtest", command_pegtest},
    {"tolerance", command_tolerance},
    {"rod", command_rod},
    {"reciprocal", command_reciprocal},
    {"scale", command_scale},
    {"fieldtest", command_fieldtest},
    {"leave", command_leave},
    {"check", command_check},
    {"close", command_close},
    {"reopen", command_reopen},
    {"journal", command_journal},
    {"verify", command_verify},
    {"rescue", command_rescue},
};

static const char help[] =
    "rodbook, a field book for differential leveling\n"
    "\n"
    "  rodbook BOOK [RUN]                     open the editor\n"
    "  rodbook new BOOK [--unit m|ft|ftin|in] [--title TEXT]\n"
    "  rodbook mark BOOK [NAME ELEVATION [--u U] [--source TEXT]] [--csv]\n"
    "  rodbook mark BOOK NAME [--description TEXT] [--reach TEXT]\n"
    "  rodbook import BOOK FILE.csv           runs or a whole book, from CSV\n"
    "  rodbook import BOOK OTHER.rodbook [RUN...]          runs and marks of a book\n"
    "  rodbook set BOOK [NAME VALUE] [--csv]  the settings, and what each means\n"
    "  rodbook runs BOOK [--csv]              the runs, and how each closes\n"
    "  rodbook stations BOOK [NAME] [--csv]   what the runs found for each point\n"
    "  rodbook find BOOK TEXT [--csv]         sights by station or remark\n"
    "  rodbook page BOOK RUN [--csv | --print | --html FILE]         the page\n"
    "  rodbook closure BOOK RUN [--tolerance SET] [--csv | --html FILE]\n"
    "  rodbook slips BOOK RUN [--csv]         where to read again when a run misses\n"
    "  rodbook export BOOK RUN|--marks|--whole [-o FILE]   CSV for import\n"
    "  rodbook copy BOOK FOLDER|FILE          a second copy, verified\n"
    "  rodbook bundle BOOK RUN... -o FOLDER   all that a skeptic needs\n"
    "  rodbook statement BOOK RUN [--csv | --print | --html FILE]    all of it\n"
    "  rodbook profile|longsight BOOK RUN [--svg FILE] [--csv | --html FILE]  drawn\n"
    "  rodbook closures BOOK [RUN...] [--svg FILE] [--csv | --html FILE]      drawn\n"
    "  rodbook grade BOOK RUN [\"ELEVATION; FROM; SLOPE\"]   for cut and fill\n"
    "  rodbook adjust BOOK RUN [--by distance|setups] [--sd S] [--keep] [--csv]\n"
    "  rodbook adjust BOOK --net [RUN...] [the same]       several runs as a net\n"
    "  rodbook adjusted BOOK [N] [--csv]      adjustments that are kept\n"
    "  rodbook changes BOOK --first RUN[,RUN...] --second RUN[,RUN...] [OPTION...]\n"
    "                                         marks between two epochs and more\n"
    "\n"
    "  rodbook card BOOK PLAN [--power N] [--html FILE]   for the far pole\n"
    "  rodbook blank [--pegtest] [--unit U] [--html FILE]  sheets to write on\n"
    "  rodbook plan --distance D [OPTION...]  what a long sight can show, before it\n"
    "  rodbook begin BOOK RUN loop|link|open|crossing [--plan NAME] [--turn MARK]\n"
    "  rodbook instrument BOOK [NAME --tolerance T [--tilt G --u U]] [--csv]\n"
    "  rodbook water BOOK RUN [STATION READING...] [--csv]\n"
    "  rodbook air BOOK RUN [OPTION...] [--csv]             what bends the light\n"
    "  rodbook head BOOK RUN [--day DAY] [OPTION...]   who, with what, why\n"
    "  rodbook sight BOOK RUN BS|IS|FS STATION READING [--distance D] [OPTION...]\n"
    "  rodbook offset BOOK RUN FROM TO HEIGHT|--ends A B [OPTION...]\n"
    "  rodbook repeat BOOK RUN [NEW]    the same long sight at another hour\n"
    "  rodbook seal BOOK RUN            seal the figures of a crossing before looking\n"
    "  rodbook amend BOOK RUN FIGURE VALUE --why TEXT      change what is sealed\n"
    "  rodbook drop BOOK RUN [--csv | --html FILE]         what a crossing says\n"
    "  rodbook drops BOOK [RUN...] [--svg FILE] [--csv | --html FILE]  together\n"
    "\n"
    "  rodbook gauge BOOK RUN STATION READING | --strike --why TEXT  a staff gauge\n"
    "  rodbook gauges BOOK [--csv]            what the runs found, less what was read\n"
    "  rodbook setout BOOK RUN STATION WANTED | --strike --why TEXT\n"
    "  rodbook setouts BOOK [--csv]           what was set out, and how it stands\n"
    "\n"
    "  rodbook leave BOOK [RUN...] [--csv]    what is still open before leaving\n"
    "  rodbook check BOOK RUN MARK --aside --why TEXT      a mark that has moved\n"
    "  rodbook close BOOK RUN [--why TEXT]    from then on the run stays as it is\n"
    "  rodbook reopen BOOK RUN --why TEXT     and is opened again for a reason\n"
    "  rodbook journal BOOK [RUN] [--csv]     every change, in order\n"
    "  rodbook verify BOOK [--at SEQ | --against DIGEST@SEQ] [--csv]\n"
    "                                         does the journal yield the tables?\n"
    "  rodbook rescue BROKEN NEW              what can be read of a damaged book\n"
    "\n"
    "  rodbook rod BOOK [NAME [--zero L] [--scale PPM] ...]  rods, and their errors\n"
    "  rodbook tolerance BOOK [NAME FIGURES]  tolerance sets, also the book's own\n"
    "  rodbook pegtest --setup DA,A,DB,B --setup DA,A,DB,B [--book BOOK] [--csv]\n"
    "  rodbook reciprocal --bank-a NEAR,FAR --bank-b FAR,NEAR --distance D [--csv]\n"
    "  rodbook scale --low MARK@PX --high MARK@PX --hair PX   from a photograph\n"
    "  rodbook fieldtest FILE.csv|- [--full] [--sigma S] [--csv]     ISO 17123-2\n"
    "\n"
    "All options of a command, with an example: rodbook help COMMAND\n"
    "What the words of the trade mean: rodbook help words\n"
    "A book named like a command is opened with ./ or -- before it.\n"
    "Exit status: 0 done, 1 the answer is no, 2 wrong usage, 3 a file cannot be used.\n"
    "The manual: man rodbook\n";

/* What fits a screen of 24 lines. */
static const char first_steps[] =
    "rodbook, a field book for differential leveling\n"
    "\n"
    "  rodbook pond.rodbook                   the editor; makes a new book;\n"
    "                                         F1 or Ctrl-G shows its keys\n"
    "\n"
    "  rodbook runs pond.rodbook              the runs, and how each closes\n"
    "  rodbook page pond.rodbook RUN          the page of a run\n"
    "  rodbook closure pond.rodbook RUN       does it close? Exit status 0: it does\n"
    "  rodbook leave pond.rodbook             what is still open before leaving\n"
    "  rodbook export pond.rodbook RUN        the run as CSV\n"
    "\n"
    "  rodbook plan --distance 800            what a sight over water can show\n"
    "  rodbook begin pond.rodbook RUN crossing        a run for it\n"
    "  rodbook drop pond.rodbook RUN          what it showed, and what could fake it\n"
    "\n"
    "  rodbook help [COMMAND]                 every command, or all options of one\n"
    "  man rodbook                            the manual\n";

/* SQLite takes and gives back a page cache for each statement that sorts or keeps rows. A heap that
 * is given to the system and fetched again each time costs ten times the work itself. */
#define KEPT_HEAP_BYTES (64 << 20)

static void keep_heap(void)
{
#ifdef __GLIBC__
	mallopt(M_TRIM_THRESHOLD, KEPT_HEAP_BYTES);
#endif
}

/* A command that is asked for help prints its usage, and does nothing else. */
static bool help_command(const char *name)
{
	char *ask[] = {"--help"};
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (strcmp(name, commands[i].name) == 0) {
			help_does(name);
			fflush(stdout);
			commands[i].run(1, ask);
			help_example(name);
			return true;
		}
	return false;
}

/* `help`, `help words` or `help COMMAND`. */
static int command_help(int argc, char **argv)
{
	char shown[400];
	if (argc == 0) {
		fputs(help, stdout);
	} else if (argc == 1 && strcmp(argv[0], "words") == 0) {
		help_words();
	} else if (argc != 1 || !help_command(argv[0])) {
		fprintf(stderr, "rodbook: no help for %s; all commands: rodbook help\n",
		        level_show_text(shown, sizeof shown, argv[0], false));
		return EXIT_USAGE;
	}
	return command_flush();
}

int main(int argc, char **argv)
{
	keep_heap();
	/* A write beyond the limit on the size of files then fails, as on a full disk. */
	signal(SIGXFSZ, SIG_IGN);
	/* Characters as the terminal has them; numbers as files have them. */
	if (!setlocale(LC_CTYPE, "") || MB_CUR_MAX == 1)
		setlocale(LC_CTYPE, "C.UTF-8");
	if (argc < 2) {
		fputs(first_steps, stderr);
		return EXIT_USAGE;
	}
	if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)
		return command_help(0, NULL);
	if (strcmp(argv[1], "help") == 0)
		return command_help(argc - 2, argv + 2);
	if (argc == 3 && (strcmp(argv[2], "--help") == 0 || strcmp(argv[2], "-h") == 0))
		return command_help(1, argv + 1);
	if (strcmp(argv[1], "--version") == 0) {
		puts("rodbook " RODBOOK_VERSION);
		return command_flush();
	}
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (strcmp(argv[1], commands[i].name) == 0)
			return commands[i].run(argc - 2, argv + 2);
	/* A book and a run open the editor; more is a command that nobody knows. */
	if (argc > 3 && argv[1][0] != '-' && access(argv[1], F_OK) != 0) {
		char shown[400];
		fprintf(stderr, "rodbook: there is no command %s; all of them: rodbook --help\n",
		        level_show_text(shown, sizeof shown, argv[1], false));
		return EXIT_USAGE;
	}
	return command_edit(argc - 1, argv + 1);
}
