PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE setting(
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;
INSERT INTO setting VALUES('unit','m');
INSERT INTO setting VALUES('title','Of version 1');
INSERT INTO setting VALUES('decimals','4');
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
INSERT INTO mark VALUES(1,'JETTY','10.25','m',10250000000,'0.001',1000000,'mill plan','2026-05-02T08:40:00+02:00','2026-05-02T08:40:00+02:00');
INSERT INTO mark VALUES(2,'JETTY','10.26','m',10260000000,'',0,'','2026-05-02T08:40:00+02:00',NULL);
INSERT INTO mark VALUES(3,'STONE','12.500','m',12500000000,'',0,'','2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE run(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK(length(name) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK(kind IN ('loop', 'link', 'open', 'crossing')),
  time TEXT NOT NULL
) STRICT;
INSERT INTO run VALUES(1,'pond','loop','2026-05-02T08:40:00+02:00');
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
INSERT INTO sight VALUES(1,1,1099511627776,'BS','STONE','m','1.375',1375000000,'','','',NULL,NULL,NULL,'38.5',38500000000,'rod','2026-05-02T08:40:00+02:00','bolt by the mill door',NULL,'',NULL);
INSERT INTO sight VALUES(2,1,2199023255552,'FS','TP1','m','2.032',2032000000,'','','',NULL,NULL,NULL,'37.2',37200000000,'rod','2026-05-02T08:44:00+02:00','',NULL,'',NULL);
INSERT INTO sight VALUES(3,1,3298534883328,'BS','TP1','m','1.559',1559000000,'','','',NULL,NULL,NULL,'41.0',41000000000,'rod','2026-05-02T08:50:00+02:00','',NULL,'',NULL);
INSERT INTO sight VALUES(4,1,4398046511104,'IS','SILL','m','2.382',2382000000,'','','',NULL,NULL,NULL,'32.0',32000000000,'rod','2026-05-02T08:54:00+02:00','sill of the sluice',NULL,'',NULL);
INSERT INTO sight VALUES(5,1,5497558138880,'FS','STONE','m','0.902',902000000,'','','',NULL,NULL,NULL,'42.3',42300000000,'rod','2026-05-02T08:56:00+02:00','',NULL,'',NULL);
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
INSERT INTO journal VALUES(1,1,'2026-05-02T08:40:00+02:00','set',NULL,'setting','unit',NULL,'{"name":"unit","value":"m"}',NULL);
INSERT INTO journal VALUES(2,1,'2026-05-02T08:40:00+02:00','set',NULL,'setting','title',NULL,'{"name":"title","value":"Of version 1"}',NULL);
INSERT INTO journal VALUES(3,3,'2026-05-02T08:40:00+02:00','mark',NULL,'mark','1',NULL,'{"id":1,"name":"JETTY","typed":"10.25","unit":"m","elevation":10250000000,"u_typed":"0.001","u":1000000,"source":"mill plan","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(4,4,'2026-05-02T08:40:00+02:00','strike mark',NULL,'mark','1','{"id":1,"name":"JETTY","typed":"10.25","unit":"m","elevation":10250000000,"u_typed":"0.001","u":1000000,"source":"mill plan","time":"2026-05-02T08:40:00+02:00","struck":null}','{"id":1,"name":"JETTY","typed":"10.25","unit":"m","elevation":10250000000,"u_typed":"0.001","u":1000000,"source":"mill plan","time":"2026-05-02T08:40:00+02:00","struck":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(5,4,'2026-05-02T08:40:00+02:00','mark',NULL,'mark','2',NULL,'{"id":2,"name":"JETTY","typed":"10.26","unit":"m","elevation":10260000000,"u_typed":"","u":0,"source":"","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(6,6,'2026-05-02T08:40:00+02:00','set',NULL,'setting','decimals',NULL,'{"name":"decimals","value":"4"}',NULL);
INSERT INTO journal VALUES(7,7,'2026-05-02T08:40:00+02:00','mark',NULL,'mark','3',NULL,'{"id":3,"name":"STONE","typed":"12.500","unit":"m","elevation":12500000000,"u_typed":"","u":0,"source":"","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(8,7,'2026-05-02T08:40:00+02:00','new run',1,'run','1',NULL,'{"id":1,"name":"pond","kind":"loop","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(9,7,'2026-05-02T08:40:00+02:00','import',1,'sight','1',NULL,'{"id":1,"run":1,"place":1099511627776,"kind":"BS","station":"STONE","unit":"m","typed":"1.375","reading":1375000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"38.5","distance":38500000000,"method":"rod","time":"2026-05-02T08:40:00+02:00","remark":"bolt by the mill door","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(10,7,'2026-05-02T08:40:00+02:00','import',1,'sight','2',NULL,'{"id":2,"run":1,"place":2199023255552,"kind":"FS","station":"TP1","unit":"m","typed":"2.032","reading":2032000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"37.2","distance":37200000000,"method":"rod","time":"2026-05-02T08:44:00+02:00","remark":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(11,7,'2026-05-02T08:40:00+02:00','import',1,'sight','3',NULL,'{"id":3,"run":1,"place":3298534883328,"kind":"BS","station":"TP1","unit":"m","typed":"1.559","reading":1559000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"41.0","distance":41000000000,"method":"rod","time":"2026-05-02T08:50:00+02:00","remark":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(12,7,'2026-05-02T08:40:00+02:00','import',1,'sight','4',NULL,'{"id":4,"run":1,"place":4398046511104,"kind":"IS","station":"SILL","unit":"m","typed":"2.382","reading":2382000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"32.0","distance":32000000000,"method":"rod","time":"2026-05-02T08:54:00+02:00","remark":"sill of the sluice","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(13,7,'2026-05-02T08:40:00+02:00','import',1,'sight','5',NULL,'{"id":5,"run":1,"place":5497558138880,"kind":"FS","station":"STONE","unit":"m","typed":"0.902","reading":902000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"42.3","distance":42300000000,"method":"rod","time":"2026-05-02T08:56:00+02:00","remark":"","struck":null,"why":"","replaces":null}',NULL);
CREATE UNIQUE INDEX mark_name ON mark(name) WHERE struck IS NULL;
CREATE INDEX sight_place ON sight(run, place, id);
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
COMMIT;
