PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE setting(
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;
INSERT INTO setting VALUES('unit','m');
INSERT INTO setting VALUES('title','Mill pond');
INSERT INTO setting VALUES('tolerance','third-order');
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
INSERT INTO mark VALUES(1,'STONE','12.5','m',12500000000,'0.002',2000000,'bronze bolt','2026-08-03T08:00:00+02:00','2026-08-05T08:30:00+02:00');
INSERT INTO mark VALUES(2,'LOW','12.3','m',12300000000,'',0,'','2026-08-03T08:00:00+02:00',NULL);
INSERT INTO mark VALUES(3,'WATER-E','11.104','m',11104000000,'',0,'','2026-08-03T08:00:00+02:00',NULL);
INSERT INTO mark VALUES(4,'WATER-W','11.104','m',11104000000,'',0,'','2026-08-03T08:00:00+02:00',NULL);
INSERT INTO mark VALUES(5,'STONE','12.51','m',12510000000,'0.002',2000000,'bronze bolt','2026-08-05T08:30:00+02:00',NULL);
CREATE TABLE run(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK(length(name) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK(kind IN ('loop', 'link', 'open', 'crossing')),
  plan TEXT NOT NULL DEFAULT '' CHECK(length(plan) <= 40),
  grade TEXT NOT NULL DEFAULT '' CHECK(length(grade) <= 120),
  turn TEXT NOT NULL DEFAULT '' CHECK(length(turn) <= 40),
  time TEXT NOT NULL
) STRICT;
INSERT INTO run VALUES(1,'lake','crossing','far','','','2026-08-03T08:20:00+02:00');
INSERT INTO run VALUES(2,'shut','loop','','','','2026-08-04T08:00:00+02:00');
INSERT INTO run VALUES(3,'checked','loop','','12 m; 0 m; 0.01','LOW','2026-08-05T08:00:00+02:00');
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
  CHECK((upper IS NULL) = (middle IS NULL) AND (middle IS NULL) = (lower IS NULL))
) STRICT;
INSERT INTO sight VALUES(1,1,1099511627776,'BS','PEG-E','m','2.004',2004000000,'','','',NULL,NULL,NULL,'6',6000000000,'rod','L1','','2026-08-03T08:30:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(2,1,2199023255552,'FS','PEG-W','m','2.333',2333000000,'','','',NULL,NULL,NULL,'1480',1480000000000,'rod','L1','','2026-08-03T08:30:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(3,2,1099511627776,'BS','STONE','m','1',1000000000,'','','',NULL,NULL,NULL,'30',30000000000,'rod','','','2026-08-04T08:00:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(4,2,2199023255552,'IS','PLATE','m','1.25',1250000000,'','','',NULL,NULL,NULL,'12',12000000000,'rod','','','2026-08-04T08:00:00+02:00','','a sill','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(5,2,3298534883328,'FS','P','m','1.5',1500000000,'','','',NULL,NULL,NULL,'30',30000000000,'rod','','','2026-08-04T08:00:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(6,2,4398046511104,'BS','P','m','1.6',1600000000,'','','',NULL,NULL,NULL,'30',30000000000,'rod','','long','2026-08-04T08:20:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(7,2,5497558138880,'FS','STONE','m','1.1',1100000000,'','','',NULL,NULL,NULL,'30',30000000000,'rod','','','2026-08-04T08:20:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(8,3,1099511627776,'BS','STONE','m','1.0',1000000000,'','','',NULL,NULL,NULL,'20',20000000000,'rod','','','2026-08-05T08:00:00+02:00','','','',0,'','','',NULL,'',NULL);
INSERT INTO sight VALUES(9,3,2199023255552,'FS','LOW','m','1.1',1100000000,'','','',NULL,NULL,NULL,'20',20000000000,'rod','','','2026-08-05T08:00:00+02:00','','','',0,'','','','2026-08-06T08:10:00+02:00','changed',NULL);
INSERT INTO sight VALUES(10,3,3298534883328,'FS','LOW','m','1.11',1110000000,'','','',NULL,NULL,NULL,'20',20000000000,'rod','','','2026-08-06T08:10:00+02:00','','','',0,'','','',NULL,'',9);
INSERT INTO sight VALUES(11,3,4398046511104,'BS','LOW','m','',1400000000,'1.5','1.4','1.3',1500000000,1400000000,1300000000,'',20000000000,'rod','','','2026-08-06T08:20:00+02:00','','','',0,'20','p1.jpg','',NULL,'',NULL);
INSERT INTO sight VALUES(12,3,5497558138880,'IS','G1','m','0.9',900000000,'','','',NULL,NULL,NULL,'',NULL,'target','','','2026-08-06T08:20:00+02:00','','','',0,'','','','2026-08-06T08:20:00+02:00','the rod had sunk',NULL);
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
INSERT INTO instrument VALUES(1,'L1','0.1 mm/m','','','','2026-08-03T08:00:00+02:00','2026-08-03T08:10:00+02:00');
INSERT INTO instrument VALUES(2,'L1','0.1 mm/m','+0.000903 mm/m','0.023293 mm/m','peg test of 2026-08-03, 2 sets','2026-08-03T08:10:00+02:00',NULL);
CREATE TABLE tolerance(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 39),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 400),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
INSERT INTO tolerance VALUES(1,'mine','section=9 mm','2026-08-03T08:00:00+02:00',NULL);
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
  booked TEXT NOT NULL DEFAULT ''
) STRICT;
INSERT INTO pegtest VALUES(1,'L1','m','30,1.3812,30,1.1310; 5,1.3954,55,1.1451; 30,1.4107,30,1.1609; 5,1.4241,55,1.1749','+0.000903 mm/m','0.023293 mm/m','','1','rod','2026-08-03T08:10:00+02:00','');
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
INSERT INTO rod VALUES(1,'long','0.5 mm','','','','','','2026-08-03T08:00:00+02:00',NULL);
CREATE TABLE fieldtest(
  id INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL CHECK(length(instrument) BETWEEN 1 AND 40),
  extent TEXT NOT NULL CHECK(extent IN ('simplified', 'full')),
  sigma TEXT NOT NULL DEFAULT '' CHECK(length(sigma) <= 60),
  unit TEXT NOT NULL CHECK(unit IN ('m', 'ft', 'ftin', 'in')),
  pairs TEXT NOT NULL DEFAULT '' CHECK(length(pairs) <= 8000),
  time TEXT NOT NULL
) STRICT;
INSERT INTO fieldtest VALUES(1,'L1','simplified','','m','1.432,1.301','2026-08-06T08:20:00+02:00');
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
INSERT INTO water VALUES(1,1,'PEG-E','m','0.412',412000000,'2026-08-03T08:20:00+02:00','','stilled',NULL,'');
INSERT INTO water VALUES(2,1,'PEG-E','m','0.414',414000000,'2026-08-03T08:20:00+02:00','','stilled','2026-08-06T08:00:00+02:00','a wave');
INSERT INTO water VALUES(3,1,'PEG-W','m','0.401',401000000,'2026-08-03T08:30:00+02:00','','',NULL,'');
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
INSERT INTO air VALUES(1,1,'m','1006','11.4','1','11.25','6','','','','','','','','','2026-08-03T08:20:00+02:00','',NULL,'');
INSERT INTO air VALUES(2,1,'m','1007','','','','','','','haze','','','','','','2026-08-06T08:00:00+02:00','','2026-08-06T08:00:00+02:00','read indoors');
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
INSERT INTO gauge VALUES(1,3,'LOW','m','0.35',350000000,'2026-08-06T10:00:00+02:00','','staff gauge',NULL,'');
INSERT INTO gauge VALUES(2,3,'LOW','m','0.36',360000000,'2026-08-06T10:00:00+02:00','','','2026-08-06T10:00:00+02:00','read again');
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
INSERT INTO setout VALUES(1,3,'S1','m','12.25',12250000000,'2026-08-06T10:00:00+02:00','2026-08-06T10:00:00+02:00','set out anew');
INSERT INTO setout VALUES(2,3,'S1','m','12.3',12300000000,'2026-08-06T10:00:00+02:00',NULL,'');
CREATE TABLE plan(
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK(length(name) BETWEEN 1 AND 40),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  time TEXT NOT NULL,
  struck TEXT
) STRICT;
INSERT INTO "plan" VALUES(1,'far',replace('distance	1480 m\nnear	6 m\nlevel	L1\n','\n',char(10)),'2026-08-03T08:10:00+02:00',NULL);
CREATE TABLE seal(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 4000),
  late INTEGER NOT NULL DEFAULT 0 CHECK(late IN (0, 1)),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL
) STRICT;
INSERT INTO seal VALUES(1,1,replace('instrument	0.1 mm/m\ninstrument_source	a default\nk	0.0082\ndk_low	0.8143\ndk_high	0.8143\nair_common	not declared\nradius	6371 km\ndrift	0.010 mm/m\ndeclared	0 m\nwater	0 m\nwater_floor	2 mm\nflow	still\ndepth	0 m\ndecides	u95\nstrike_rule	a slip seen by reading again at once\nrod_reading	0.5 mm + 0.010 mm/m\ntape_reading	1 mm\ntarget_reading	0.3 mm + 0.005 mm/m\ndistance_tape	0.1\ndistance_wires	1\ndistance_map	1\nthermometer_u	0.2\nplace	0.2\nk_source	thermometers\nrule	2\ninstrument L1	0.1 mm/m\ntilt L1	+0.000903 mm/m\ntilt_u L1	0.023293 mm/m\ntilt_sets L1	0\ntilt_g L1	60.0000 m\ndistance	1480 m\nnear	6 m\nlevel	L1\n','\n',char(10)),0,'','2026-08-03T08:30:00+02:00');
INSERT INTO seal VALUES(2,1,replace('instrument	0.1 mm/m\ninstrument_source	a default\nk	0.15\ndk_low	0.8143\ndk_high	0.8143\nair_common	not declared\nradius	6371 km\ndrift	0.010 mm/m\ndeclared	0 m\nwater	0 m\nwater_floor	2 mm\nflow	still\ndepth	0 m\ndecides	u95\nstrike_rule	a slip seen by reading again at once\nrod_reading	0.5 mm + 0.010 mm/m\ntape_reading	1 mm\ntarget_reading	0.3 mm + 0.005 mm/m\ndistance_tape	0.1\ndistance_wires	1\ndistance_map	1\nthermometer_u	0.2\nplace	0.2\nk_source	amended: the air was read again\nrule	2\ninstrument L1	0.1 mm/m\ntilt L1	+0.000903 mm/m\ntilt_u L1	0.023293 mm/m\ntilt_sets L1	0\ntilt_g L1	60.0000 m\ndistance	1480 m\nnear	6 m\nlevel	L1\n','\n',char(10)),0,'the air was read again','2026-08-03T08:40:00+02:00');
CREATE TABLE aside(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  mark TEXT NOT NULL CHECK(length(mark) BETWEEN 1 AND 40),
  state TEXT NOT NULL CHECK(state IN ('aside', 'held')),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL
) STRICT;
INSERT INTO aside VALUES(1,3,'LOW','aside','frost','2026-08-05T08:00:00+02:00');
CREATE TABLE closing(
  id INTEGER PRIMARY KEY,
  run INTEGER NOT NULL REFERENCES run(id),
  state TEXT NOT NULL CHECK(state IN ('closed', 'reopened')),
  why TEXT NOT NULL DEFAULT '' CHECK(length(why) <= 120),
  time TEXT NOT NULL,
  known TEXT NOT NULL DEFAULT '' CHECK(length(known) <= 1000000)
) STRICT;
INSERT INTO closing VALUES(1,2,'closed','','2026-08-04T08:30:00+02:00',replace('12500000000 2000000 STONE\n','\n',char(10)));
INSERT INTO closing VALUES(2,2,'reopened','a doubt','2026-08-04T08:40:00+02:00','');
INSERT INTO closing VALUES(3,2,'closed','','2026-08-04T08:50:00+02:00',replace('12500000000 2000000 STONE\n','\n',char(10)));
CREATE TABLE result(
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK(kind IN ('run', 'net')),
  subject TEXT NOT NULL CHECK(length(subject) BETWEEN 1 AND 4000),
  figures TEXT NOT NULL CHECK(length(figures) BETWEEN 1 AND 800000),
  seq INTEGER NOT NULL,
  time TEXT NOT NULL
) STRICT;
INSERT INTO result VALUES(1,'run','shut',replace('mark,elevation,sd,fixed\nSTONE,12.500,,yes\nPLATE,12.250198382,,no\nP,12.00025,,no\nSTONE,12.500,,yes\n\nrun,from,to,length,observed,adjusted,residual,standardized,setups,redundancy\nshut,STONE,P,60.000,-0.500,-0.49975,0.00025,,1,\nshut,P,STONE,60.000,0.4995,0.49975,0.00025,,1,\n\nquantity,value,unit\nrun,shut,\nby,distance,\ncorrected,yes,\nmisclosure,-0.0005,m\nsd_given,,m\n','\n',char(10)),30,'2026-08-04T08:20:00+02:00');
CREATE TABLE editor(
  id INTEGER PRIMARY KEY,
  host TEXT NOT NULL CHECK(length(host) <= 120),
  user TEXT NOT NULL CHECK(length(user) <= 120),
  process TEXT NOT NULL CHECK(length(process) <= 60),
  since TEXT NOT NULL
) STRICT;
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
  PRIMARY KEY(editor, run, slot)
) STRICT;
INSERT INTO draft VALUES(0,3,0,0,0,0,0,'m','IS','G1','0.91','','','','','','','','',0,'','p2.jpg');
CREATE TABLE journal(
  seq INTEGER PRIMARY KEY NOT NULL CHECK(seq > 0),
  action INTEGER NOT NULL,
  time TEXT NOT NULL,
  act TEXT NOT NULL,
  run INTEGER,
  tbl TEXT NOT NULL CHECK(tbl IN ('setting', 'mark', 'run', 'sight', 'instrument', 'water', 'air',
    'gauge', 'setout', 'plan', 'seal', 'pegtest', 'tolerance', 'rod', 'fieldtest', 'aside', 'closing',
    'result')),
  row TEXT NOT NULL,
  before TEXT,
  after TEXT NOT NULL,
  undoes INTEGER
) STRICT;
INSERT INTO journal VALUES(1,1,'2026-08-03T08:00:00+02:00','set',NULL,'setting','unit',NULL,'{"name":"unit","value":"m"}',NULL);
INSERT INTO journal VALUES(2,1,'2026-08-03T08:00:00+02:00','set',NULL,'setting','title',NULL,'{"name":"title","value":"Mill pond"}',NULL);
INSERT INTO journal VALUES(3,3,'2026-08-03T08:00:00+02:00','mark',NULL,'mark','1',NULL,'{"id":1,"name":"STONE","typed":"12.5","unit":"m","elevation":12500000000,"u_typed":"0.002","u":2000000,"source":"bronze bolt","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(4,4,'2026-08-03T08:00:00+02:00','mark',NULL,'mark','2',NULL,'{"id":2,"name":"LOW","typed":"12.3","unit":"m","elevation":12300000000,"u_typed":"","u":0,"source":"","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(5,5,'2026-08-03T08:00:00+02:00','mark',NULL,'mark','3',NULL,'{"id":3,"name":"WATER-E","typed":"11.104","unit":"m","elevation":11104000000,"u_typed":"","u":0,"source":"","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(6,6,'2026-08-03T08:00:00+02:00','mark',NULL,'mark','4',NULL,'{"id":4,"name":"WATER-W","typed":"11.104","unit":"m","elevation":11104000000,"u_typed":"","u":0,"source":"","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(7,7,'2026-08-03T08:00:00+02:00','set',NULL,'setting','tolerance',NULL,'{"name":"tolerance","value":"third-order"}',NULL);
INSERT INTO journal VALUES(8,8,'2026-08-03T08:00:00+02:00','instrument',NULL,'instrument','1',NULL,'{"id":1,"name":"L1","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(9,9,'2026-08-03T08:00:00+02:00','rod',NULL,'rod','1',NULL,'{"id":1,"name":"long","zero":"0.5 mm","scale":"","expansion":"","reference":"","longest":"","remark":"","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(10,10,'2026-08-03T08:00:00+02:00','tolerance',NULL,'tolerance','1',NULL,'{"id":1,"name":"mine","figures":"section=9 mm","time":"2026-08-03T08:00:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(11,11,'2026-08-03T08:10:00+02:00','peg test',NULL,'pegtest','1',NULL,'{"id":1,"instrument":"L1","unit":"m","standings":"30,1.3812,30,1.1310; 5,1.3954,55,1.1451; 30,1.4107,30,1.1609; 5,1.4241,55,1.1749","tilt":"+0.000903 mm/m","tilt_u":"0.023293 mm/m","k":"","dk":"1","method":"rod","time":"2026-08-03T08:10:00+02:00"}',NULL);
INSERT INTO journal VALUES(12,11,'2026-08-03T08:10:00+02:00','strike instrument',NULL,'instrument','1','{"id":1,"name":"L1","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-08-03T08:00:00+02:00","struck":null}','{"id":1,"name":"L1","tolerance":"0.1 mm/m","tilt":"","tilt_u":"","remark":"","time":"2026-08-03T08:00:00+02:00","struck":"2026-08-03T08:10:00+02:00"}',NULL);
INSERT INTO journal VALUES(13,11,'2026-08-03T08:10:00+02:00','instrument',NULL,'instrument','2',NULL,'{"id":2,"name":"L1","tolerance":"0.1 mm/m","tilt":"+0.000903 mm/m","tilt_u":"0.023293 mm/m","remark":"peg test of 2026-08-03, 2 sets","time":"2026-08-03T08:10:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(14,14,'2026-08-03T08:10:00+02:00','plan',NULL,'plan','1',NULL,'{"id":1,"name":"far","figures":"distance\t1480 m\nnear\t6 m\nlevel\tL1\n","time":"2026-08-03T08:10:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(15,15,'2026-08-03T08:20:00+02:00','new run',1,'run','1',NULL,'{"id":1,"name":"lake","kind":"crossing","plan":"","grade":"","turn":"","time":"2026-08-03T08:20:00+02:00"}',NULL);
INSERT INTO journal VALUES(16,15,'2026-08-03T08:20:00+02:00','plan of run',1,'run','1','{"id":1,"name":"lake","kind":"crossing","plan":"","grade":"","turn":"","time":"2026-08-03T08:20:00+02:00"}','{"id":1,"name":"lake","kind":"crossing","plan":"far","grade":"","turn":"","time":"2026-08-03T08:20:00+02:00"}',NULL);
INSERT INTO journal VALUES(17,17,'2026-08-03T08:20:00+02:00','air',1,'air','1',NULL,'{"id":1,"run":1,"unit":"m","pressure":"1006","low":"11.4","low_height":"1","high":"11.25","high_height":"6","water":"","wind":"","sky":"","at":"","at_height":"","wind_speed":"","wind_height":"","wind_from":"","time":"2026-08-03T08:20:00+02:00","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(18,18,'2026-08-03T08:20:00+02:00','water',1,'water','1',NULL,'{"id":1,"run":1,"station":"PEG-E","unit":"m","typed":"0.412","reading":412000000,"time":"2026-08-03T08:20:00+02:00","remark":"stilled","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(19,18,'2026-08-03T08:20:00+02:00','water',1,'water','2',NULL,'{"id":2,"run":1,"station":"PEG-E","unit":"m","typed":"0.414","reading":414000000,"time":"2026-08-03T08:20:00+02:00","remark":"stilled","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(20,20,'2026-08-03T08:30:00+02:00','book',1,'sight','1',NULL,'{"id":1,"run":1,"place":1099511627776,"kind":"BS","station":"PEG-E","unit":"m","typed":"2.004","reading":2004000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"6","distance":6000000000,"method":"rod","instrument":"L1","rod":"","time":"2026-08-03T08:30:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(21,21,'2026-08-03T08:30:00+02:00','book',1,'sight','2',NULL,'{"id":2,"run":1,"place":2199023255552,"kind":"FS","station":"PEG-W","unit":"m","typed":"2.333","reading":2333000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"1480","distance":1480000000000,"method":"rod","instrument":"L1","rod":"","time":"2026-08-03T08:30:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(22,21,'2026-08-03T08:30:00+02:00','seal',1,'seal','1',NULL,'{"id":1,"run":1,"figures":"instrument\t0.1 mm/m\ninstrument_source\ta default\nk\t0.0082\ndk_low\t0.8143\ndk_high\t0.8143\nair_common\tnot declared\nradius\t6371 km\ndrift\t0.010 mm/m\ndeclared\t0 m\nwater\t0 m\nwater_floor\t2 mm\nflow\tstill\ndepth\t0 m\ndecides\tu95\nstrike_rule\ta slip seen by reading again at once\nrod_reading\t0.5 mm + 0.010 mm/m\ntape_reading\t1 mm\ntarget_reading\t0.3 mm + 0.005 mm/m\ndistance_tape\t0.1\ndistance_wires\t1\ndistance_map\t1\nthermometer_u\t0.2\nplace\t0.2\nk_source\tthermometers\nrule\t2\ninstrument L1\t0.1 mm/m\ntilt L1\t+0.000903 mm/m\ntilt_u L1\t0.023293 mm/m\ntilt_sets L1\t0\ntilt_g L1\t60.0000 m\ndistance\t1480 m\nnear\t6 m\nlevel\tL1\n","late":0,"why":"","time":"2026-08-03T08:30:00+02:00"}',NULL);
INSERT INTO journal VALUES(23,23,'2026-08-03T08:30:00+02:00','water',1,'water','3',NULL,'{"id":3,"run":1,"station":"PEG-W","unit":"m","typed":"0.401","reading":401000000,"time":"2026-08-03T08:30:00+02:00","remark":"","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(24,24,'2026-08-03T08:40:00+02:00','amend',1,'seal','2',NULL,'{"id":2,"run":1,"figures":"instrument\t0.1 mm/m\ninstrument_source\ta default\nk\t0.15\ndk_low\t0.8143\ndk_high\t0.8143\nair_common\tnot declared\nradius\t6371 km\ndrift\t0.010 mm/m\ndeclared\t0 m\nwater\t0 m\nwater_floor\t2 mm\nflow\tstill\ndepth\t0 m\ndecides\tu95\nstrike_rule\ta slip seen by reading again at once\nrod_reading\t0.5 mm + 0.010 mm/m\ntape_reading\t1 mm\ntarget_reading\t0.3 mm + 0.005 mm/m\ndistance_tape\t0.1\ndistance_wires\t1\ndistance_map\t1\nthermometer_u\t0.2\nplace\t0.2\nk_source\tamended: the air was read again\nrule\t2\ninstrument L1\t0.1 mm/m\ntilt L1\t+0.000903 mm/m\ntilt_u L1\t0.023293 mm/m\ntilt_sets L1\t0\ntilt_g L1\t60.0000 m\ndistance\t1480 m\nnear\t6 m\nlevel\tL1\n","late":0,"why":"the air was read again","time":"2026-08-03T08:40:00+02:00"}',NULL);
INSERT INTO journal VALUES(25,25,'2026-08-04T08:00:00+02:00','new run',2,'run','2',NULL,'{"id":2,"name":"shut","kind":"loop","plan":"","grade":"","turn":"","time":"2026-08-04T08:00:00+02:00"}',NULL);
INSERT INTO journal VALUES(26,26,'2026-08-04T08:00:00+02:00','book',2,'sight','3',NULL,'{"id":3,"run":2,"place":1099511627776,"kind":"BS","station":"STONE","unit":"m","typed":"1","reading":1000000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"30","distance":30000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-04T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(27,27,'2026-08-04T08:00:00+02:00','book',2,'sight','4',NULL,'{"id":4,"run":2,"place":2199023255552,"kind":"IS","station":"PLATE","unit":"m","typed":"1.25","reading":1250000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"12","distance":12000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-04T08:00:00+02:00","remark":"a sill","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(28,28,'2026-08-04T08:00:00+02:00','book',2,'sight','5',NULL,'{"id":5,"run":2,"place":3298534883328,"kind":"FS","station":"P","unit":"m","typed":"1.5","reading":1500000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"30","distance":30000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-04T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(29,29,'2026-08-04T08:20:00+02:00','book',2,'sight','6',NULL,'{"id":6,"run":2,"place":4398046511104,"kind":"BS","station":"P","unit":"m","typed":"1.6","reading":1600000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"30","distance":30000000000,"method":"rod","instrument":"","rod":"long","time":"2026-08-04T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(30,30,'2026-08-04T08:20:00+02:00','book',2,'sight','7',NULL,'{"id":7,"run":2,"place":5497558138880,"kind":"FS","station":"STONE","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"30","distance":30000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-04T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(31,31,'2026-08-04T08:20:00+02:00','adjust',NULL,'result','1',NULL,'{"id":1,"kind":"run","subject":"shut","figures":"mark,elevation,sd,fixed\nSTONE,12.500,,yes\nPLATE,12.250198382,,no\nP,12.00025,,no\nSTONE,12.500,,yes\n\nrun,from,to,length,observed,adjusted,residual,standardized,setups,redundancy\nshut,STONE,P,60.000,-0.500,-0.49975,0.00025,,1,\nshut,P,STONE,60.000,0.4995,0.49975,0.00025,,1,\n\nquantity,value,unit\nrun,shut,\nby,distance,\ncorrected,yes,\nmisclosure,-0.0005,m\nsd_given,,m\n","seq":30,"time":"2026-08-04T08:20:00+02:00"}',NULL);
INSERT INTO journal VALUES(32,32,'2026-08-04T08:30:00+02:00','close',2,'closing','1',NULL,'{"id":1,"run":2,"state":"closed","why":"","time":"2026-08-04T08:30:00+02:00","known":"12500000000 2000000 STONE\n"}',NULL);
INSERT INTO journal VALUES(33,33,'2026-08-04T08:40:00+02:00','reopen',2,'closing','2',NULL,'{"id":2,"run":2,"state":"reopened","why":"a doubt","time":"2026-08-04T08:40:00+02:00","known":""}',NULL);
INSERT INTO journal VALUES(34,34,'2026-08-04T08:50:00+02:00','close',2,'closing','3',NULL,'{"id":3,"run":2,"state":"closed","why":"","time":"2026-08-04T08:50:00+02:00","known":"12500000000 2000000 STONE\n"}',NULL);
INSERT INTO journal VALUES(35,35,'2026-08-05T08:00:00+02:00','new run',3,'run','3',NULL,'{"id":3,"name":"checked","kind":"loop","plan":"","grade":"","turn":"","time":"2026-08-05T08:00:00+02:00"}',NULL);
INSERT INTO journal VALUES(36,35,'2026-08-05T08:00:00+02:00','turn of run',3,'run','3','{"id":3,"name":"checked","kind":"loop","plan":"","grade":"","turn":"","time":"2026-08-05T08:00:00+02:00"}','{"id":3,"name":"checked","kind":"loop","plan":"","grade":"","turn":"LOW","time":"2026-08-05T08:00:00+02:00"}',NULL);
INSERT INTO journal VALUES(37,37,'2026-08-05T08:00:00+02:00','book',3,'sight','8',NULL,'{"id":8,"run":3,"place":1099511627776,"kind":"BS","station":"STONE","unit":"m","typed":"1.0","reading":1000000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(38,38,'2026-08-05T08:00:00+02:00','book',3,'sight','9',NULL,'{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(39,39,'2026-08-05T08:00:00+02:00','set aside',3,'aside','1',NULL,'{"id":1,"run":3,"mark":"LOW","state":"aside","why":"frost","time":"2026-08-05T08:00:00+02:00"}',NULL);
INSERT INTO journal VALUES(40,40,'2026-08-05T08:00:00+02:00','grade of run',3,'run','3','{"id":3,"name":"checked","kind":"loop","plan":"","grade":"","turn":"LOW","time":"2026-08-05T08:00:00+02:00"}','{"id":3,"name":"checked","kind":"loop","plan":"","grade":"12 m; 0 m; 0.01","turn":"LOW","time":"2026-08-05T08:00:00+02:00"}',NULL);
INSERT INTO journal VALUES(41,41,'2026-08-05T08:30:00+02:00','strike mark',NULL,'mark','1','{"id":1,"name":"STONE","typed":"12.5","unit":"m","elevation":12500000000,"u_typed":"0.002","u":2000000,"source":"bronze bolt","time":"2026-08-03T08:00:00+02:00","struck":null}','{"id":1,"name":"STONE","typed":"12.5","unit":"m","elevation":12500000000,"u_typed":"0.002","u":2000000,"source":"bronze bolt","time":"2026-08-03T08:00:00+02:00","struck":"2026-08-05T08:30:00+02:00"}',NULL);
INSERT INTO journal VALUES(42,41,'2026-08-05T08:30:00+02:00','mark',NULL,'mark','5',NULL,'{"id":5,"name":"STONE","typed":"12.51","unit":"m","elevation":12510000000,"u_typed":"0.002","u":2000000,"source":"bronze bolt","time":"2026-08-05T08:30:00+02:00","struck":null}',NULL);
INSERT INTO journal VALUES(43,43,'2026-08-06T08:00:00+02:00','strike water',1,'water','2','{"id":2,"run":1,"station":"PEG-E","unit":"m","typed":"0.414","reading":414000000,"time":"2026-08-03T08:20:00+02:00","remark":"stilled","struck":null,"why":""}','{"id":2,"run":1,"station":"PEG-E","unit":"m","typed":"0.414","reading":414000000,"time":"2026-08-03T08:20:00+02:00","remark":"stilled","struck":"2026-08-06T08:00:00+02:00","why":"a wave"}',NULL);
INSERT INTO journal VALUES(44,44,'2026-08-06T08:00:00+02:00','air',1,'air','2',NULL,'{"id":2,"run":1,"unit":"m","pressure":"1007","low":"","low_height":"","high":"","high_height":"","water":"","wind":"","sky":"haze","at":"","at_height":"","wind_speed":"","wind_height":"","wind_from":"","time":"2026-08-06T08:00:00+02:00","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(45,45,'2026-08-06T08:00:00+02:00','strike air',1,'air','2','{"id":2,"run":1,"unit":"m","pressure":"1007","low":"","low_height":"","high":"","high_height":"","water":"","wind":"","sky":"haze","at":"","at_height":"","wind_speed":"","wind_height":"","wind_from":"","time":"2026-08-06T08:00:00+02:00","struck":null,"why":""}','{"id":2,"run":1,"unit":"m","pressure":"1007","low":"","low_height":"","high":"","high_height":"","water":"","wind":"","sky":"haze","at":"","at_height":"","wind_speed":"","wind_height":"","wind_from":"","time":"2026-08-06T08:00:00+02:00","struck":"2026-08-06T08:00:00+02:00","why":"read indoors"}',NULL);
INSERT INTO journal VALUES(46,46,'2026-08-06T08:10:00+02:00','change',3,'sight','9','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:10:00+02:00","why":"changed","replaces":null}',NULL);
INSERT INTO journal VALUES(47,46,'2026-08-06T08:10:00+02:00','change',3,'sight','10',NULL,'{"id":10,"run":3,"place":3298534883328,"kind":"FS","station":"LOW","unit":"m","typed":"1.11","reading":1110000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:10:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":9}',NULL);
INSERT INTO journal VALUES(48,48,'2026-08-06T08:10:00+02:00','undo',3,'sight','10','{"id":10,"run":3,"place":3298534883328,"kind":"FS","station":"LOW","unit":"m","typed":"1.11","reading":1110000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:10:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":9}','{"id":10,"run":3,"place":3298534883328,"kind":"FS","station":"LOW","unit":"m","typed":"1.11","reading":1110000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:10:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:10:00+02:00","why":"undone","replaces":9}',46);
INSERT INTO journal VALUES(49,48,'2026-08-06T08:10:00+02:00','undo',3,'sight','9','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:10:00+02:00","why":"changed","replaces":null}','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',46);
INSERT INTO journal VALUES(50,50,'2026-08-06T08:10:00+02:00','redo',3,'sight','9','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}','{"id":9,"run":3,"place":2199023255552,"kind":"FS","station":"LOW","unit":"m","typed":"1.1","reading":1100000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-05T08:00:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:10:00+02:00","why":"changed","replaces":null}',48);
INSERT INTO journal VALUES(51,50,'2026-08-06T08:10:00+02:00','redo',3,'sight','10','{"id":10,"run":3,"place":3298534883328,"kind":"FS","station":"LOW","unit":"m","typed":"1.11","reading":1110000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:10:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:10:00+02:00","why":"undone","replaces":9}','{"id":10,"run":3,"place":3298534883328,"kind":"FS","station":"LOW","unit":"m","typed":"1.11","reading":1110000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"20","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:10:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":9}',48);
INSERT INTO journal VALUES(52,52,'2026-08-06T08:20:00+02:00','book',3,'sight','11',NULL,'{"id":11,"run":3,"place":4398046511104,"kind":"BS","station":"LOW","unit":"m","typed":"","reading":1400000000,"upper_typed":"1.5","middle_typed":"1.4","lower_typed":"1.3","upper":1500000000,"middle":1400000000,"lower":1300000000,"distance_typed":"","distance":20000000000,"method":"rod","instrument":"","rod":"","time":"2026-08-06T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"20","photo":"p1.jpg","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(53,53,'2026-08-06T08:20:00+02:00','book',3,'sight','12',NULL,'{"id":12,"run":3,"place":5497558138880,"kind":"IS","station":"G1","unit":"m","typed":"0.9","reading":900000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"","distance":null,"method":"target","instrument":"","rod":"","time":"2026-08-06T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}',NULL);
INSERT INTO journal VALUES(54,54,'2026-08-06T08:20:00+02:00','strike',3,'sight','12','{"id":12,"run":3,"place":5497558138880,"kind":"IS","station":"G1","unit":"m","typed":"0.9","reading":900000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"","distance":null,"method":"target","instrument":"","rod":"","time":"2026-08-06T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":null,"why":"","replaces":null}','{"id":12,"run":3,"place":5497558138880,"kind":"IS","station":"G1","unit":"m","typed":"0.9","reading":900000000,"upper_typed":"","middle_typed":"","lower_typed":"","upper":null,"middle":null,"lower":null,"distance_typed":"","distance":null,"method":"target","instrument":"","rod":"","time":"2026-08-06T08:20:00+02:00","remark":"","overridden":"","again":0,"along":"","photo":"","distance_by":"","struck":"2026-08-06T08:20:00+02:00","why":"the rod had sunk","replaces":null}',NULL);
INSERT INTO journal VALUES(55,55,'2026-08-06T08:20:00+02:00','field test',NULL,'fieldtest','1',NULL,'{"id":1,"instrument":"L1","extent":"simplified","sigma":"","unit":"m","pairs":"","time":"2026-08-06T08:20:00+02:00"}',NULL);
INSERT INTO journal VALUES(56,56,'2026-08-06T08:20:00+02:00','pair',NULL,'fieldtest','1','{"id":1,"instrument":"L1","extent":"simplified","sigma":"","unit":"m","pairs":"","time":"2026-08-06T08:20:00+02:00"}','{"id":1,"instrument":"L1","extent":"simplified","sigma":"","unit":"m","pairs":"1.432,1.301","time":"2026-08-06T08:20:00+02:00"}',NULL);
INSERT INTO journal VALUES(57,57,'2026-08-06T10:00:00+02:00','gauge',3,'gauge','1',NULL,'{"id":1,"run":3,"station":"LOW","unit":"m","typed":"0.35","reading":350000000,"time":"2026-08-06T10:00:00+02:00","booked":"","remark":"staff gauge","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(58,58,'2026-08-06T10:00:00+02:00','gauge',3,'gauge','2',NULL,'{"id":2,"run":3,"station":"LOW","unit":"m","typed":"0.36","reading":360000000,"time":"2026-08-06T10:00:00+02:00","booked":"","remark":"","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(59,59,'2026-08-06T10:00:00+02:00','strike gauge',3,'gauge','2','{"id":2,"run":3,"station":"LOW","unit":"m","typed":"0.36","reading":360000000,"time":"2026-08-06T10:00:00+02:00","booked":"","remark":"","struck":null,"why":""}','{"id":2,"run":3,"station":"LOW","unit":"m","typed":"0.36","reading":360000000,"time":"2026-08-06T10:00:00+02:00","booked":"","remark":"","struck":"2026-08-06T10:00:00+02:00","why":"read again"}',NULL);
INSERT INTO journal VALUES(60,60,'2026-08-06T10:00:00+02:00','set out',3,'setout','1',NULL,'{"id":1,"run":3,"station":"S1","unit":"m","typed":"12.25","wanted":12250000000,"time":"2026-08-06T10:00:00+02:00","struck":null,"why":""}',NULL);
INSERT INTO journal VALUES(61,61,'2026-08-06T10:00:00+02:00','set out',3,'setout','1','{"id":1,"run":3,"station":"S1","unit":"m","typed":"12.25","wanted":12250000000,"time":"2026-08-06T10:00:00+02:00","struck":null,"why":""}','{"id":1,"run":3,"station":"S1","unit":"m","typed":"12.25","wanted":12250000000,"time":"2026-08-06T10:00:00+02:00","struck":"2026-08-06T10:00:00+02:00","why":"set out anew"}',NULL);
INSERT INTO journal VALUES(62,61,'2026-08-06T10:00:00+02:00','set out',3,'setout','2',NULL,'{"id":2,"run":3,"station":"S1","unit":"m","typed":"12.3","wanted":12300000000,"time":"2026-08-06T10:00:00+02:00","struck":null,"why":""}',NULL);
CREATE UNIQUE INDEX mark_name ON mark(name) WHERE struck IS NULL;
CREATE INDEX sight_place ON sight(run, place, id);
CREATE UNIQUE INDEX instrument_name ON instrument(name) WHERE struck IS NULL;
CREATE UNIQUE INDEX tolerance_name ON tolerance(name) WHERE struck IS NULL;
CREATE UNIQUE INDEX rod_name ON rod(name) WHERE struck IS NULL;
CREATE INDEX water_run ON water(run, id);
CREATE INDEX air_run ON air(run, id);
CREATE INDEX gauge_run ON gauge(run, id);
CREATE UNIQUE INDEX setout_station ON setout(run, station) WHERE struck IS NULL;
CREATE UNIQUE INDEX plan_name ON plan(name) WHERE struck IS NULL;
CREATE INDEX seal_run ON seal(run, id);
CREATE INDEX aside_run ON aside(run, id);
CREATE INDEX closing_run ON closing(run, id);
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
CREATE TRIGGER seal_closed_insert BEFORE INSERT ON seal
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER aside_closed_insert BEFORE INSERT ON aside
WHEN (SELECT state FROM closing WHERE run = NEW.run ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
CREATE TRIGGER run_closed_update BEFORE UPDATE ON run
WHEN (SELECT state FROM closing WHERE run = NEW.id ORDER BY id DESC LIMIT 1) = 'closed'
BEGIN SELECT RAISE(ABORT, 'the run is closed: reopen it first'); END;
COMMIT;
