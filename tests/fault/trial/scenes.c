/* The commands that are disturbed, and the books that they start from. */
#include "trial.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#define B TRIAL_BOOK

const struct trial_scene trial_scenes[] = {
    {"rodbook new " B " --unit ft --title 'Long Water'", TRIAL_WRITES, NULL},
    {"rodbook mark " B " JETTY 10.25 --u 0.001 --source 'mill plan'", TRIAL_WRITES, "day"},
    {"rodbook set " B " title 'Another title'", TRIAL_WRITES, "day"},
    {"rodbook begin " B " next loop", TRIAL_WRITES, "day"},
    {"rodbook grade " B " pond-loop '12; 0; 1 %'", TRIAL_WRITES, "day"},
    {"rodbook sight " B " idle BS STONE 1.1 --distance 20", TRIAL_WRITES, "day"},
    {"rodbook offset " B " checked LOW RIM --ends 1.432 0.987 --u '1 mm'", TRIAL_WRITES, "day"},
    {"rodbook sight " B " work IS P1 1.2 --remark 'a sill'", TRIAL_WRITES, "day"},
    {"rodbook sight " B " work FS TP1 1.3 --distance 31 --rod long", TRIAL_WRITES, "day"},
    {"rodbook sight " B " lake FS PEG-W 2.333 --distance 1480 --instrument L1", TRIAL_WRITES,
     "day"},
    {"rodbook water " B " lake PEG-E 0.414", TRIAL_WRITES, "day"},
    {"rodbook air " B " lake --pressure 1011 --low 11.3@1 --high 11.2@6", TRIAL_WRITES, "day"},
    {"rodbook head " B " work --party 'two of us' --weather fog", TRIAL_WRITES, "day"},
    {"rodbook gauge " B " work G1 2.45 --remark 'ice'", TRIAL_WRITES, "day"},
    {"rodbook gauge " B " work G2 --strike --why 'a wave'", TRIAL_WRITES, "day"},
    {"rodbook setout " B " work S1 13.2", TRIAL_WRITES, "day"},
    {"rodbook setout " B " work S2 13.3", TRIAL_WRITES, "day"},
    {"rodbook setout " B " work S2 --strike --why 'an old plan'", TRIAL_WRITES, "day"},
    {"rodbook instrument " B " L2 --tolerance '0.2 mm/m'", TRIAL_WRITES, "day"},
    {"rodbook pegtest --book " B " --instrument L1 --setup 30,1.3998,30,1.1498 --setup "
     "5,1.4134,55,1.1627 --setup 30,1.4203,30,1.1693 --setup 5,1.4335,55,1.1838",
     TRIAL_WRITES, "day"},
    {"rodbook rod " B " short --zero '1 mm'", TRIAL_WRITES, "day"},
    {"rodbook tolerance " B " mine 'section=9 mm'", TRIAL_WRITES, "day"},
    {"rodbook plan --book " B " --keep near --distance 640", TRIAL_WRITES, "day"},
    {"rodbook amend " B " pond-crossing k 0.15 --why 'the air was read again'", TRIAL_WRITES,
     "day"},
    {"rodbook adjust " B " pond-loop --keep", TRIAL_WRITES, "day"},
    {"rodbook check " B " checked LOW --aside --why 'frost'", TRIAL_WRITES, "day"},
    {"rodbook close " B " pond-loop", TRIAL_WRITES, "day"},
    {"rodbook reopen " B " shut --why 'a doubt'", TRIAL_WRITES, "day"},
    {"rodbook import " B " run.csv", TRIAL_WRITES, "day"},
    {"rodbook import " B " whole.csv", TRIAL_WRITES, "empty"},
    {"rodbook import " B " other.base far-run", TRIAL_WRITES, "day"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-1"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-2"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-3"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-4"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-5"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-6"},
    {"rodbook runs " B, TRIAL_UPGRADES, "version-7"},
    {"rodbook runs " B, TRIAL_READS, "day"},
    {"rodbook card " B " far", TRIAL_READS, "day"},
    {"rodbook card " B " far --html /dev/stdout", TRIAL_READS, "day"},
    {"rodbook longsight " B " pond-crossing --html /dev/stdout", TRIAL_READS, "day"},
    {"rodbook profile " B " pond-loop --html /dev/stdout", TRIAL_READS, "day"},
    {"rodbook drops " B " --html /dev/stdout", TRIAL_READS, "day"},
    {"rodbook page " B " pond-loop", TRIAL_READS, "day"},
    {"rodbook closure " B " pond-loop", TRIAL_READS, "day"},
    {"rodbook slips " B " pond-loop", TRIAL_READS, "day"},
    {"rodbook find " B " tp1", TRIAL_READS, "day"},
    {"rodbook verify " B, TRIAL_READS, "day"},
    {"rodbook journal " B, TRIAL_READS, "day"},
    {"rodbook journal " B " --csv", TRIAL_READS, "day"},
    {"rodbook statement " B " pond-crossing", TRIAL_READS, "day"},
    {"rodbook export " B " pond-loop", TRIAL_READS, "day"},
    {"rodbook export " B " --whole", TRIAL_READS, "day"},
    {"rodbook export " B " --marks", TRIAL_READS, "day"},
    {"rodbook drop " B " pond-crossing", TRIAL_READS, "day"},
    {"rodbook drops " B, TRIAL_READS, "day"},
    {"rodbook gauges " B, TRIAL_READS, "day"},
    {"rodbook setouts " B, TRIAL_READS, "day"},
    {"rodbook leave " B, TRIAL_READS, "day"},
    {"rodbook adjust " B " --net", TRIAL_READS, "day"},
    {"rodbook set " B " --csv", TRIAL_READS, "day"},
};

size_t trial_scene_count(void)
{
	return sizeof trial_scenes / sizeof *trial_scenes;
}

size_t trial_scenes_of(enum trial_kind kind)
{
	size_t count = 0;
	for (size_t i = 0; i < trial_scene_count(); i++)
		count += trial_scenes[i].kind == kind;
	return count;
}

/* The book of a day: what each command needs, a run of each kind, one closed, one sealed. */
static const char *const day[] = {
    "rodbook new " B " --title 'Mill pond'",
    "rodbook mark " B " STONE 12.5 --u 0.002 --source 'bronze bolt'",
    "rodbook mark " B " WATER-E 11.104",
    "rodbook mark " B " WATER-W 11.104",
    "rodbook instrument " B " L1 --tolerance '0.1 mm/m'",
    "rodbook rod " B " long --zero '0.5 mm'",
    "rodbook pegtest --book " B " --instrument L1 --sky cloud --setup 30,1.3812,30,1.1310 --setup "
    "5,1.3954,55,1.1451 --setup 30,1.4107,30,1.1609 --setup 5,1.4241,55,1.1749",
    "rodbook plan --book " B " --keep far --distance 1480 --near 6 --instrument L1",
    "rodbook import " B " pond.csv",
    "rodbook begin " B " idle loop",
    "rodbook begin " B " work loop",
    "rodbook sight " B " work BS STONE 1.4 --distance 30",
    "rodbook gauge " B " work G2 2.4",
    "rodbook setout " B " work S2 13.1",
    "rodbook begin " B " lake crossing --plan far",
    "rodbook air " B " lake --pressure 1006 --low 11.4@1 --high 11.25@6",
    "rodbook water " B " lake PEG-E 0.412",
    "rodbook sight " B " lake BS PEG-E 2.004 --distance 6 --instrument L1",
    "rodbook mark " B " LOW 12.3",
    "rodbook begin " B " checked loop",
    "rodbook sight " B " checked BS STONE 1.0 --distance 20",
    "rodbook sight " B " checked FS LOW 1.2 --distance 20",
    "rodbook begin " B " shut loop",
    "rodbook sight " B " shut BS STONE 1 --distance 30",
    "rodbook sight " B " shut FS P 1.5 --distance 30",
    "rodbook sight " B " shut BS P 1.6 --distance 30",
    "rodbook sight " B " shut FS STONE 1.1 --distance 30",
    "rodbook close " B " shut",
    NULL,
};

static const char *const empty[] = {"rodbook new " B, NULL};

static const char *const other[] = {
    "rodbook new " B " --unit ft",
    "rodbook mark " B " BOLT 40",
    "rodbook instrument " B " L9 --tolerance '0.1 mm/m'",
    "rodbook begin " B " far-run open",
    "rodbook sight " B " far-run BS BOLT 4.25 --instrument L9",
    "rodbook sight " B " far-run FS END 5.17 --instrument L9",
    NULL,
};

static const char ring[] = "run,kind,sight,station,reading,distance\n"
                           "ring,loop,BS,STONE,1.375,38.5\n"
                           "ring,loop,FS,T1,2.032,37.2\n"
                           "ring,loop,BS,T1,1.559,41\n"
                           "ring,loop,FS,STONE,0.901,42.3\n";

static void make(const char *base, const char *const *lines)
{
	char room[1000], file[80], *words[TRIAL_WORDS];
	struct trial_said said;
	snprintf(file, sizeof file, "%s.base", base);
	for (size_t i = 0; lines[i]; i++) {
		trial_split(lines[i], room, sizeof room, words);
		trial_run(words, &said);
		if (said.status != 0)
			trial_stop("%s: %s", lines[i], said.err.at);
	}
	if (rename(TRIAL_BOOK, file) != 0)
		trial_stop("%s was not made", file);
}

/* A book as the program of that version wrote it. */
static void make_old(const char *path, int version)
{
	struct trial_bytes sql = trial_read(path);
	char file[80], *said = NULL;
	sqlite3 *db;
	snprintf(file, sizeof file, "version-%d.base", version);
	if (!sql.there || sqlite3_open(file, &db) != SQLITE_OK ||
	    sqlite3_exec(db, (const char *)sql.at, NULL, NULL, &said) != SQLITE_OK)
		trial_stop("%s: %s", path, said ? said : "cannot be read");
	snprintf(file, sizeof file, "PRAGMA application_id=1919902818; PRAGMA user_version=%d",
	         version);
	sqlite3_exec(db, file, NULL, NULL, NULL);
	sqlite3_close(db);
	free(sql.at);
}

void trial_make_bases(void)
{
	char room[100], *words[TRIAL_WORDS];
	struct trial_bytes csv = trial_read(DEMO_CSV);
	struct trial_said said;
	trial_preload(NULL);
	trial_write("run.csv", ring, sizeof ring - 1);
	trial_write("pond.csv", csv.at, csv.size);
	free(csv.at);
	make("day", day);
	make("empty", empty);
	make("other", other);
	trial_split("rodbook export day.base --whole", room, sizeof room, words);
	trial_run(words, &said);
	trial_write("whole.csv", said.out.at, said.out.size);
	make_old(BOOK_1, 1);
	make_old(BOOK_2, 2);
	make_old(BOOK_3, 3);
	make_old(BOOK_4, 4);
	make_old(BOOK_5, 5);
	make_old(BOOK_6, 6);
	make_old(BOOK_7, 7);
}
