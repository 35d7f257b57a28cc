-- A book of level runs. Lengths are whole nanometers. The tables hold the present state; the
-- journal holds every change and cannot be altered through SQL.
CREATE TABLE setting(
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;

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
  struck TEXT
) STRICT;
CREATE UNIQUE INDEX mark_name ON mark(name) WHERE struck IS NULL;

CREATE TABLE run(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK(length(name) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK(kind IN ('loop', 'link', 'open', 'crossing')),
  time TEXT NOT NULL
) STRICT;

-- place orders the sights of a run; a BS opens a setup.
CREATE TABLE sight(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK(kind IN ('BS', 'IS', 'FS')),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) <= 60),
  reading INTEGER NOT NULL CHECK(reading BETWEEN 0 AND 100000000000),
  upper_typed TEXT NOT NULL DEFAULT '' CHECK(length(upper_typed) <= 60),
  middle_typed TEXT NOT NULL DEFAULT '' CHECK(length(middle_typed) <= 60),
  lower_typed TEXT NOT NULL DEFAULT '' CHECK(length(lower_typed) <= 60),
  upper INTEGER CHECK(upper BETWEEN 0 AND 100000000000),
  middle INTEGER CHECK(middle BETWEEN 0 AND 100000000000),
  lower INTEGER CHECK(lower BETWEEN 0 AND 100000000000),
  distance_typed TEXT NOT NULL DEFAULT '' CHECK(length(distance_typed) <= 60),
  distance INTEGER CHECK(distance BETWEEN 1 AND 100000000000000),
  method TEXT NOT NULL CHECK(method IN ('rod', 'tape', 'target')),
  time TEXT NOT NULL,
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  replaces INTEGER REFERENCES sight(id),
  CHECK((upper IS NULL) = (middle IS NULL) AND (middle IS NULL) = (lower IS NULL))
) STRICT;
CREATE INDEX sight_place ON sight(run, place, id);

-- The half-typed form: slot 0 is a new sight at the end, slot 1 a change of (or an insertion
-- after) the sight `at`.
CREATE TABLE draft(
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
  PRIMARY KEY(run, slot)
) STRICT;

-- One entry for each row changed; entries of one action share its first seq. before and after
-- are the row as JSON, before NULL for a new row.
CREATE TABLE journal(
  seq INTEGER PRIMARY KEY NOT NULL CHECK(seq > 0),
  action INTEGER NOT NULL,
  time TEXT NOT NULL,
  act TEXT NOT NULL,
  run INTEGER,
  tbl TEXT NOT NULL CHECK(tbl IN ('setting', 'mark', 'run', 'sight')),
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
