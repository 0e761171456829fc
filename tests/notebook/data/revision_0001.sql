-- A notebook of revision 0001, as written out by SQLite: the garden of sound.toml and two plans.
PRAGMA application_id = 1751217516;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE bed_found (
	bed INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	disease VARCHAR NOT NULL, 
	year INTEGER, 
	PRIMARY KEY (bed, position), 
	FOREIGN KEY(bed) REFERENCES beds (position)
);
INSERT INTO "bed_found" VALUES(0,0,'clubroot',2025);
CREATE TABLE bed_past (
	bed INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	crop VARCHAR NOT NULL, 
	year INTEGER, 
	PRIMARY KEY (bed, position), 
	FOREIGN KEY(bed) REFERENCES beds (position)
);
INSERT INTO "bed_past" VALUES(0,0,'potato',2026);
CREATE TABLE beds (
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR, 
	width JSON, 
	length JSON, 
	diameter JSON, 
	corners JSON, 
	cover VARCHAR, 
	sun VARCHAR, 
	PRIMARY KEY (position)
);
INSERT INTO "beds" VALUES(0,'slate',NULL,'"1.2 m"','"10 ft"',NULL,'[]',NULL,NULL);
INSERT INTO "beds" VALUES(1,'bell',NULL,NULL,NULL,NULL,'[[0, 0], [4, 0], [4, 2], [0, 2]]',NULL,NULL);
CREATE TABLE days_away (
	position INTEGER NOT NULL, 
	first DATE NOT NULL, 
	last DATE NOT NULL, 
	who JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "days_away" VALUES(0,'2027-07-31','2027-08-14','"Ada"');
CREATE TABLE eaters (
	position INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	age INTEGER, 
	portions JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "eaters" VALUES(0,'Ada',40,NULL);
CREATE TABLE food_in_store (
	position INTEGER NOT NULL, 
	food VARCHAR NOT NULL, 
	kind VARCHAR, 
	form VARCHAR NOT NULL, 
	place VARCHAR NOT NULL, 
	amount JSON NOT NULL, 
	put_by DATE NOT NULL, 
	PRIMARY KEY (position)
);
INSERT INTO "food_in_store" VALUES(0,'garlic',NULL,'cured','shed','"3 lb"','2026-08-20');
CREATE TABLE garden (
	position INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	invented BOOLEAN, 
	units VARCHAR, 
	least_patch JSON, 
	tray_cells INTEGER, 
	grow JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "garden" VALUES(0,'Two beds',NULL,NULL,NULL,NULL,'[]');
CREATE TABLE hours (
	position INTEGER NOT NULL, 
	every_week JSON, 
	by_month JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "hours" VALUES(0,5,NULL);
CREATE TABLE place (
	position INTEGER NOT NULL, 
	latitude JSON NOT NULL, 
	longitude JSON NOT NULL, 
	height JSON NOT NULL, 
	soil VARCHAR NOT NULL, 
	PRIMARY KEY (position)
);
INSERT INTO "place" VALUES(0,46.4,8.9,'"410 m"','loam');
CREATE TABLE plans (
	number INTEGER NOT NULL, 
	made_on DATE NOT NULL, 
	question_hash VARCHAR NOT NULL, 
	seed INTEGER NOT NULL, 
	effort VARCHAR NOT NULL, 
	version VARCHAR NOT NULL, 
	"plan" VARCHAR NOT NULL, 
	PRIMARY KEY (number)
);
INSERT INTO "plans" VALUES(1,'2027-02-01','abc',1,'usual','0.1.0','{"garden": "Two beds", "made_on": "2027-02-01", "horizon": {"first_day": "2027-02-01", "weeks": 104}, "beds": [], "plantings": [], "table": [], "helpings": [], "lots": [], "hours": [], "shortages": [], "broken": [], "solver": {"bound": 0.0, "objective": 0.0, "gap": 0.0, "net_gap": 0.0, "seconds": 0.5, "rounds": 1, "effort": "usual", "seed": 1}, "findings": []}');
INSERT INTO "plans" VALUES(2,'2027-02-01','def',2,'usual','0.1.0','{"garden": "Two beds", "made_on": "2027-02-01", "horizon": {"first_day": "2027-02-01", "weeks": 104}, "beds": [], "plantings": [], "table": [], "helpings": [], "lots": [], "hours": [], "shortages": [], "broken": [], "solver": {"bound": 0.0, "objective": 0.0, "gap": 0.0, "net_gap": 0.0, "seconds": 0.5, "rounds": 1, "effort": "usual", "seed": 2}, "findings": []}');
CREATE TABLE planting_stock (
	position INTEGER NOT NULL, 
	kind VARCHAR NOT NULL, 
	units JSON NOT NULL, 
	year INTEGER NOT NULL, 
	PRIMARY KEY (position)
);
INSERT INTO "planting_stock" VALUES(0,'potato/early',30,2026);
CREATE TABLE prices (
	position INTEGER NOT NULL, 
	what VARCHAR NOT NULL, 
	"each" JSON NOT NULL, 
	currency VARCHAR NOT NULL, 
	PRIMARY KEY (position)
);
INSERT INTO "prices" VALUES(0,'garlic',14,'EUR');
CREATE TABLE standing (
	position INTEGER NOT NULL, 
	bed VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	method VARCHAR NOT NULL, 
	started DATE NOT NULL, 
	area JSON NOT NULL, 
	PRIMARY KEY (position)
);
INSERT INTO "standing" VALUES(0,'slate','garlic/hard-necked','cloves','2026-11-02','"2 m2"');
CREATE TABLE stores (
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR, 
	kind VARCHAR NOT NULL, 
	room JSON, 
	jars INTEGER, 
	jar JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "stores" VALUES(0,'shed',NULL,'shed','"400 l"',NULL,NULL);
CREATE TABLE table_lines (
	position INTEGER NOT NULL, 
	eat JSON NOT NULL, 
	name VARCHAR, 
	amount JSON, 
	portions JSON, 
	first VARCHAR, 
	last VARCHAR, 
	wanted VARCHAR, 
	priority INTEGER, 
	grow_share JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "table_lines" VALUES(0,'"Garlic"',NULL,'"0.3 kg"',NULL,'09-15','06-30',NULL,4,'"80 %"');
CREATE TABLE weather (
	position INTEGER NOT NULL, 
	record VARCHAR, 
	columns JSON, 
	normals JSON, 
	PRIMARY KEY (position)
);
INSERT INTO "weather" VALUES(0,NULL,NULL,'{"tmin": [-4, -3, 0, 3, 7, 10, 12, 12, 8, 5, 0, -3], "tmax": [3, 5, 10, 14, 18, 22, 25, 24, 20, 14, 8, 4], "rain": [60, 58, 68, 82, 100, 100, 90, 100, 88, 82, 67, 55]}');
CREATE TABLE weather_days (
	day DATE NOT NULL, 
	tmin_c FLOAT, 
	tmax_c FLOAT, 
	rain_mm FLOAT, 
	PRIMARY KEY (day)
);
CREATE TABLE weather_record (
	position INTEGER NOT NULL, 
	origin VARCHAR NOT NULL, 
	PRIMARY KEY (position)
);
COMMIT;
