PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE setting(
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;
INSERT INTO setting VALUES('unit','m');
INSERT INTO setting VALUES('title','Of version 2');
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
INSERT INTO mark VALUES(1,'STONE','12.5','m',12500000000,'',0,'','2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE run(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK(length(name) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK(kind IN ('loop', 'link', 'open', 'crossing')),
  plan TEXT NOT NULL DEFAULT '' CHECK(length(plan) <= 40),
  time TEXT NOT NULL
) STRICT;
INSERT INTO run VALUES(1,'pond','loop','','2026-05-02T08:40:00+02:00');
INSERT INTO run VALUES(2,'over','crossing','far','2026-05-02T08:40:00+02:00');
CREATE TABLE sight(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  place INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK(kind IN ('BS', 'IS', 'FS')),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) <= 320),
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
  instrument TEXT NOT NULL DEFAULT '' CHECK(length(instrument) <= 40),
  rod TEXT NOT NULL DEFAULT '' CHECK(length(rod) <= 40),
  time TEXT NOT NULL,
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  overridden TEXT NOT NULL DEFAULT '' CHECK(length(overridden) <= 120),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  replaces INTEGER REFERENCES sight(id),
  CHECK((upper IS NULL) = (middle IS NULL) AND (middle IS NULL) = (lower IS NULL))
) STRICT;
INSERT INTO sight VALUES(1,1,1099511627776,'BS','STONE','m','1.375',1375000000,'','','',NULL,NULL,NULL,'38.5',38500000000,'rod','','','2026-05-02T08:40:00+02:00','bolt by the mill door','',NULL,'',NULL);
INSERT INTO sight VALUES(2,1,2199023255552,'FS','TP1','m','2.032',2032000000,'','','',NULL,NULL,NULL,'37.2',37200000000,'rod','','','2026-05-02T08:44:00+02:00','','',NULL,'',NULL);
INSERT INTO sight VALUES(3,1,3298534883328,'BS','TP1','m','1.559',1559000000,'','','',NULL,NULL,NULL,'41.0',41000000000,'rod','','','2026-05-02T08:50:00+02:00','','',NULL,'',NULL);
INSERT INTO sight VALUES(4,1,4398046511104,'IS','SILL','m','2.382',2382000000,'','','',NULL,NULL,NULL,'32.0',32000000000,'rod','','','2026-05-02T08:54:00+02:00','sill of the sluice','',NULL,'',NULL);
INSERT INTO sight VALUES(5,1,5497558138880,'FS','STONE','m','0.902',902000000,'','','',NULL,NULL,NULL,'42.3',42300000000,'rod','','','2026-05-02T08:56:00+02:00','','',NULL,'',NULL);
INSERT INTO sight VALUES(6,2,1099511627776,'BS','STAKE','m','1.482',1482000000,'','','',NULL,NULL,NULL,'4',4000000000,'rod','','','2026-05-02T08:40:00+02:00','','',NULL,'',NULL);
INSERT INTO sight VALUES(7,2,2199023255552,'FS','POLE','m','1.509',1509000000,'','','',NULL,NULL,NULL,'640',640000000000,'rod','','','2026-05-02T08:40:00+02:00','','',NULL,'',NULL);
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
INSERT INTO instrument VALUES(1,'builder','0.1 mm/m','','','','2026-05-02T08:40:00+02:00','2026-05-02T08:40:00+02:00');
INSERT INTO instrument VALUES(2,'builder','0.1 mm/m','-0.006097 mm/m','0.032772 mm/m','peg test of 2026-05-02, 1 set','2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE tolerance(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 39),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 400),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
INSERT INTO tolerance VALUES(1,'mine','section=9 mm','2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE pegtest(
  id INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL CHECK(length(instrument) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  standings TEXT NOT NULL CHECK(length(standings) BETWEEN 1 AND 4000),
  tilt TEXT NOT NULL CHECK(length(tilt) BETWEEN 1 AND 60),
  tilt_u TEXT NOT NULL CHECK(length(tilt_u) BETWEEN 1 AND 60),
  time TEXT NOT NULL
) STRICT;
INSERT INTO pegtest VALUES(1,'builder','m','30,1.3812,30,1.1310; 5,1.3954,55,1.1451','-0.006097 mm/m','0.032772 mm/m','2026-05-02T08:40:00+02:00');
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
INSERT INTO rod VALUES(1,'long','1 mm','','','','','','2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE fieldtest(
  id INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL CHECK(length(instrument) BETWEEN 1 AND 40),
  extent TEXT NOT NULL CHECK(extent IN ('simplified', 'full')),
  sigma TEXT NOT NULL DEFAULT '' CHECK(length(sigma) <= 60),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  pairs TEXT NOT NULL DEFAULT '' CHECK(length(pairs) <= 8000),
  time TEXT NOT NULL
) STRICT;
CREATE TABLE water(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  station TEXT NOT NULL CHECK(length(station) BETWEEN 1 AND 40),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  typed TEXT NOT NULL CHECK(length(typed) BETWEEN 1 AND 60),
  reading INTEGER NOT NULL CHECK(reading BETWEEN -100000000000 AND 100000000000),
  time TEXT NOT NULL,
  remark TEXT NOT NULL DEFAULT '' CHECK(length(remark) <= 120),
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
INSERT INTO water VALUES(1,2,'STAKE','m','0.25',250000000,'2026-05-02T08:40:00+02:00','',NULL,'');
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
  time TEXT NOT NULL,
  struck TEXT,
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120)
) STRICT;
INSERT INTO air VALUES(1,2,'m','1013','15','1','14','3','','','','2026-05-02T08:40:00+02:00',NULL,'');
CREATE TABLE plan(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
INSERT INTO "plan" VALUES(1,'far',replace('distance	640 m\n','\n',char(10)),'2026-05-02T08:40:00+02:00',NULL);
CREATE TABLE seal(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  late INTEGER NOT NULL DEFAULT 0 CHECK(late IN (0, 1)),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL
) STRICT;
INSERT INTO seal VALUES(1,2,replace('instrument	0.1 mm/m\ninstrument_source	a default\nk	-2.8678\nk_source	the air, booked 1 time\ndk	0.8709\ndk_source	the air, booked 1 time\nair_common	0\nradius	6371 km\ndeclared	0 m\nwater	0 m\nwater_floor	0 m\nflow	still\ndecides	bound\nstrike_rule	a slip seen by reading again at once\nrod_reading	0.5 mm + 0.010 mm/m\ntape_reading	1 mm\ntarget_reading	0.3 mm + 0.005 mm/m\ninstrument builder	0.1 mm/m\ndistance	640 m\n','\n',char(10)),0,'','2026-05-02T08:40:00+02:00');
INSERT INTO seal VALUES(2,2,replace('instrument	0.1 mm/m\ninstrument_source	a default\nk	0.15\nk_source	amended: air read again\ndk	0.8709\ndk_source	the air, booked 1 time\nair_common	0\nradius	6371 km\ndeclared	0 m\nwater	0 m\nwater_floor	0 m\nflow	still\ndecides	bound\nstrike_rule	a slip seen by reading again at once\nrod_reading	0.5 mm + 0.010 mm/m\ntape_reading	1 mm\ntarget_reading	0.3 mm + 0.005 mm/m\ninstrument builder	0.1 mm/m\ndistance	640 m\n','\n',char(10)),0,'air read again','2026-05-02T08:40:00+02:00');
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
  instrument TEXT NOT NULL DEFAULT '',
  rod TEXT NOT NULL DEFAULT '',
  PRIMARY KEY(run, slot)
) STRICT;
CREATE TABLE journal(
  seq INTEGER PRIMARY KEY NOT NULL CHECK(seq > 0),
  action INTEGER NOT NULL,
  time TEXT NOT NULL,
  act TEXT NOT NULL,
  run INTEGER,
  tbl TEXT NOT NULL CHECK(tbl IN ('setting', 'mark', 'run', 'sight', 'instrument', 'water', 'air',
    'plan', 'seal', 'pegtest', 'tolerance', 'rod', 'fieldtest')),
  row TEXT NOT NULL,
  before TEXT,
  after TEXT NOT NULL,
  undoes INTEGER
) STRICT;
INSERT INTO journal VALUES(1,1,'2026-05-02T08:40:00+02:00','set',NULL,'setting','unit',NULL,'{"name":"unit","value":"m"}',NULL);
INSERT INTO journal VALUES(2,1,'2026-05-02T08:40:00+02:00','set',NULL,'setting','title',NULL,'{"name":"title","value":"Of version 2"}',NULL);
INSERT INTO journal VALUES(3,3,'2026-05-02T08:40:00+02:00','mark',NULL,'mark','1',NULL,'{"id":1,"name":"STONE","typed":"12.5","unit":"m","elevation":12500000000,"u_typed":"","u":0,"source":"","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(4,4,'2026-05-02T08:40:00+02:00','new run',1,'run','1',NULL,'{"id":1,"name":"pond","kind":"loop","plan":"","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(5,4,'2026-05-02T08:40:00+02:00','import',1,'sight','1',NULL,'{"id":1,"run":1,"place":1099511627776,"kind":"BS","station":"STONE","unit":"m","typed":"1.375","reading":1375000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"38.5","distance":38500000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:40:00+02:00","remark":"bolt by the mill door","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(6,4,'2026-05-02T08:40:00+02:00','import',1,'sight','2',NULL,'{"id":2,"run":1,"place":2199023255552,"kind":"FS","station":"TP1","unit":"m","typed":"2.032","reading":2032000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"37.2","distance":37200000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:44:00+02:00","remark":"","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(7,4,'2026-05-02T08:40:00+02:00','import',1,'sight','3',NULL,'{"id":3,"run":1,"place":3298534883328,"kind":"BS","station":"TP1","unit":"m","typed":"1.559","reading":1559000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"41.0","distance":41000000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:50:00+02:00","remark":"","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(8,4,'2026-05-02T08:40:00+02:00','import',1,'sight','4',NULL,'{"id":4,"run":1,"place":4398046511104,"kind":"IS","station":"SILL","unit":"m","typed":"2.382","reading":2382000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"32.0","distance":32000000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:54:00+02:00","remark":"sill of the sluice","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(9,4,'2026-05-02T08:40:00+02:00','import',1,'sight','5',NULL,'{"id":5,"run":1,"place":5497558138880,"kind":"FS","station":"STONE","unit":"m","typed":"0.902","reading":902000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"42.3","distance":42300000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:56:00+02:00","remark":"","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(10,10,'2026-05-02T08:40:00+02:00','instrument',NULL,'instrument','1',NULL,'{"id":1,"name":"builder","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(11,11,'2026-05-02T08:40:00+02:00','rod',NULL,'rod','1',NULL,'{"id":1,"name":"long","zero":"1 mm","scale":"","expansion":"","reference":"","longest":"","remark":"","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(12,12,'2026-05-02T08:40:00+02:00','tolerance',NULL,'tolerance','1',NULL,'{"id":1,"name":"mine","figures":"section=9 mm","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(13,13,'2026-05-02T08:40:00+02:00','plan',NULL,'plan','1',NULL,'{"id":1,"name":"far","figures":"distance\t640 m\n","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(14,14,'2026-05-02T08:40:00+02:00','new run',2,'run','2',NULL,'{"id":2,"name":"over","kind":"crossing","plan":"","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(15,14,'2026-05-02T08:40:00+02:00','plan of run',2,'run','2','{"id":2,"name":"over","kind":"crossing","plan":"","time":"2026-05-02T08:40:00+02:00"}','{"id":2,"name":"over","kind":"crossing","plan":"far","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(16,16,'2026-05-02T08:40:00+02:00','air',2,'air','1',NULL,'{"id":1,"run":2,"unit":"m","pressure":"1013","low":"15","low_height":"1","high":"14","high_height":"3","water":"","wind":"","sky":"","time":"2026-05-02T08:40:00+02:00","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(17,17,'2026-05-02T08:40:00+02:00','water',2,'water','1',NULL,'{"id":1,"run":2,"station":"STAKE","unit":"m","typed":"0.25","reading":250000000,"time":"2026-05-02T08:40:00+02:00","remark":"","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(18,18,'2026-05-02T08:40:00+02:00','book',2,'sight','6',NULL,'{"id":6,"run":2,"place":1099511627776,"kind":"BS","station":"STAKE","unit":"m","typed":"1.482","reading":1482000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"4","distance":4000000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:40:00+02:00","remark":"","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(19,19,'2026-05-02T08:40:00+02:00','book',2,'sight','7',NULL,'{"id":7,"run":2,"place":2199023255552,"kind":"FS","station":"POLE","unit":"m","typed":"1.509","reading":1509000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"640","distance":640000000000,"method":"rod","instrument":"","rod":"","time":"2026-05-02T08:40:00+02:00","remark":"","overridden":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(20,19,'2026-05-02T08:40:00+02:00','seal',2,'seal','1',NULL,'{"id":1,"run":2,"figures":"instrument\t0.1 mm/m\ninstrument_source\ta default\nk\t-2.8678\nk_source\tthe air, booked 1 time\ndk\t0.8709\ndk_source\tthe air, booked 1 time\nair_common\t0\nradius\t6371 km\ndeclared\t0 m\nwater\t0 m\nwater_floor\t0 m\nflow\tstill\ndecides\tbound\nstrike_rule\ta slip seen by reading again at once\nrod_reading\t0.5 mm + 0.010 mm/m\ntape_reading\t1 mm\ntarget_reading\t0.3 mm + 0.005 mm/m\ninstrument builder\t0.1 mm/m\ndistance\t640 m\n","late":0,"why":"","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(21,21,'2026-05-02T08:40:00+02:00','peg test',NULL,'pegtest','1',NULL,'{"id":1,"instrument":"builder","unit":"m","standings":"30,1.3812,30,1.1310; 5,1.3954,55,1.1451","tilt":"-0.006097 mm/m","tilt_u":"0.032772 mm/m","time":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(22,21,'2026-05-02T08:40:00+02:00','strike instrument',NULL,'instrument','1','{"id":1,"name":"builder","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-05-02T08:40:00+02:00","struck":null}','{"id":1,"name":"builder","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-05-02T08:40:00+02:00","struck":"2026-05-02T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(23,21,'2026-05-02T08:40:00+02:00','instrument',NULL,'instrument','2',NULL,'{"id":2,"name":"builder","tolerance":"0.1 mm/m","tilt":"-0.006097 mm/m","tilt_u":"0.032772 mm/m","remark":"peg test of 2026-05-02, 1 set","time":"2026-05-02T08:40:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(24,24,'2026-05-02T08:40:00+02:00','amend',2,'seal','2',NULL,'{"id":2,"run":2,"figures":"instrument\t0.1 mm/m\ninstrument_source\ta default\nk\t0.15\nk_source\tamended: air read again\ndk\t0.8709\ndk_source\tthe air, booked 1 time\nair_common\t0\nradius\t6371 km\ndeclared\t0 m\nwater\t0 m\nwater_floor\t0 m\nflow\tstill\ndecides\tbound\nstrike_rule\ta slip seen by reading again at once\nrod_reading\t0.5 mm + 0.010 mm/m\ntape_reading\t1 mm\ntarget_reading\t0.3 mm + 0.005 mm/m\ninstrument builder\t0.1 mm/m\ndistance\t640 m\n","late":0,"why":"air read again","time":"2026-05-02T08:40:00+02:00"}',NULL);
CREATE UNIQUE INDEX mark_name ON mark(name) WHERE struck IS NULL;
CREATE INDEX sight_place ON sight(run, place, id);
CREATE UNIQUE INDEX instrument_name ON instrument(name) WHERE struck IS NULL;
CREATE UNIQUE INDEX tolerance_name ON tolerance(name) WHERE struck IS NULL;
CREATE UNIQUE INDEX rod_name ON rod(name) WHERE struck IS NULL;
CREATE INDEX water_run ON water(run, id);
CREATE INDEX air_run ON air(run, id);
CREATE UNIQUE INDEX plan_name ON plan(name) WHERE struck IS NULL;
CREATE INDEX seal_run ON seal(run, id);
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
CREATE TRIGGER plan_no_delete BEFORE DELETE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan is struck, never erased'); END;
CREATE TRIGGER seal_order BEFORE INSERT ON seal
WHEN NEW.id <> (SELECT coalesce(max(id), 0) + 1 FROM seal)
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
CREATE TRIGGER seal_no_update BEFORE UPDATE ON seal
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
CREATE TRIGGER seal_no_delete BEFORE DELETE ON seal
BEGIN SELECT RAISE(ABORT, 'what is sealed stays; amend it'); END;
COMMIT;
