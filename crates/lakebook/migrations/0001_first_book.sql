-- 0001: the first lake book.
--
-- Every table here except `change_log`, `data_set_content` and the bookkeeping at the end is the
-- fold of `change_log`: it can be dropped and folded again. Keys are UUIDv7 as text; `fid` exists
-- because a GeoPackage table needs an integer key, and means nothing. Column names carry their
-- unit. No STRICT tables and no generated columns: older GIS readers refuse a file that has them.

-- Which form the book has, and which program gave it that form.
CREATE TABLE schema_version (
  version INTEGER PRIMARY KEY,
  applied_at TEXT NOT NULL,
  program TEXT NOT NULL
);

-- Every write, in the order this book took it in. `clock` is a hybrid logical clock that sorts as
-- text. `batch` is the device_seq of the first event of the same save. `chain` is a SHA-256 over
-- the chain of the device's event before and over this event.
CREATE TABLE change_log (
  fid INTEGER PRIMARY KEY AUTOINCREMENT,
  id TEXT NOT NULL UNIQUE,
  device TEXT NOT NULL,
  device_seq INTEGER NOT NULL CHECK (device_seq >= 1),
  clock TEXT NOT NULL,
  actor TEXT NOT NULL,
  entity TEXT NOT NULL,
  entity_id TEXT NOT NULL,
  operation TEXT NOT NULL CHECK (operation IN ('put', 'delete', 'seal', 'amend', 'settle', 'undo')),
  base_version TEXT,
  body TEXT NOT NULL,
  note TEXT NOT NULL,
  batch INTEGER NOT NULL,
  chain TEXT NOT NULL,
  UNIQUE (device, device_seq)
);
CREATE INDEX change_log_by_entity ON change_log (entity_id, entity);
CREATE INDEX change_log_by_clock ON change_log (clock);
CREATE TRIGGER change_log_is_never_changed BEFORE UPDATE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is only ever added to'); END;
CREATE TRIGGER change_log_is_never_cut BEFORE DELETE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is only ever added to'); END;

-- Edits made from a version that was no longer the current one: kept beside it, for a person.
CREATE TABLE conflict (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- the event that was kept beside
  entity TEXT NOT NULL,
  entity_id TEXT NOT NULL,
  current_version TEXT,               -- the version that stood when it came
  settled INTEGER NOT NULL DEFAULT 0
);

CREATE TABLE lake (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- also the key of the book
  name TEXT NOT NULL,
  water_body_number TEXT NOT NULL,
  county TEXT NOT NULL,
  region TEXT NOT NULL,
  units TEXT NOT NULL,
  working_epsg INTEGER NOT NULL,
  littoral_from_m DOUBLE NOT NULL,
  littoral_to_m DOUBLE NOT NULL,
  depth_datum TEXT NOT NULL,
  code_style TEXT NOT NULL
);

CREATE TABLE lake_outline (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON NOT NULL,
  id TEXT NOT NULL UNIQUE,            -- the key of the book: a lake has one outline
  source_file TEXT NOT NULL,
  sha256 TEXT NOT NULL,               -- of the file it came from
  note TEXT NOT NULL
);

CREATE TABLE zone (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON NOT NULL,
  id TEXT NOT NULL UNIQUE,
  code TEXT NOT NULL,
  name TEXT NOT NULL,
  protection TEXT NOT NULL,
  since_year INTEGER
);

CREATE TABLE sub_area (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON NOT NULL,
  id TEXT NOT NULL UNIQUE,
  zone_id TEXT REFERENCES zone (id) DEFERRABLE INITIALLY DEFERRED,
  code TEXT NOT NULL
);

CREATE TABLE landmark (
  fid INTEGER PRIMARY KEY,
  geom POINT NOT NULL,
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  kind TEXT NOT NULL
);

CREATE TABLE taxon (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  code TEXT NOT NULL,
  aliases TEXT NOT NULL,              -- JSON array of earlier codes
  scientific_name TEXT NOT NULL,
  common_name TEXT NOT NULL,
  growth_form TEXT NOT NULL,
  origin TEXT NOT NULL,
  rank TEXT NOT NULL,
  listed_noxious BOOLEAN NOT NULL,
  conservatism DOUBLE,
  conservatism_table TEXT
);

CREATE TABLE rating_scale (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- the stable key of the scale
  name TEXT NOT NULL,
  source TEXT NOT NULL
);
CREATE TABLE rating_step (
  fid INTEGER PRIMARY KEY,
  scale_id TEXT NOT NULL REFERENCES rating_scale (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  place INTEGER NOT NULL,             -- from 0, the least first
  code TEXT NOT NULL,
  name TEXT NOT NULL,
  measure TEXT NOT NULL,
  value INTEGER,
  cover_from DOUBLE,
  cover_to DOUBLE,
  on_rake BOOLEAN NOT NULL
);
CREATE INDEX rating_step_by_scale ON rating_step (scale_id, place);

CREATE TABLE survey (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  purpose TEXT NOT NULL,
  method TEXT NOT NULL,
  protocol TEXT NOT NULL,
  start_date DATE,
  end_date DATE,
  scale_id TEXT NOT NULL REFERENCES rating_scale (id) DEFERRABLE INITIALLY DEFERRED,
  throws_per_site INTEGER NOT NULL,
  depth_cap_m DOUBLE,
  looked_for TEXT NOT NULL,           -- JSON: null for the whole community, else taxon keys
  crew TEXT NOT NULL,                 -- JSON
  conditions TEXT NOT NULL,           -- JSON, one object a day
  layout TEXT NOT NULL,
  layout_parameters TEXT NOT NULL,    -- JSON array of [name, value]
  note TEXT NOT NULL,
  seal_by TEXT,
  seal_at TEXT,
  seal_sha256 TEXT                    -- of the record as it stands, amendments included
);

CREATE TABLE amendment (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- the event
  survey_id TEXT NOT NULL,
  amended_by TEXT NOT NULL,
  why TEXT NOT NULL,
  amended_at TEXT NOT NULL,
  sha256_before TEXT NOT NULL,
  sha256_after TEXT NOT NULL
);

CREATE TABLE site (
  fid INTEGER PRIMARY KEY,
  geom POINT,                         -- where it was planned; none for a place known by name only
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  code TEXT NOT NULL,
  map_depth_m DOUBLE,
  zone TEXT,
  sub_area TEXT,
  landmark TEXT NOT NULL,
  plan_order INTEGER NOT NULL,
  inclusion_probability DOUBLE,
  spare BOOLEAN NOT NULL
);
CREATE INDEX site_by_survey ON site (survey_id);

CREATE TABLE visit (
  fid INTEGER PRIMARY KEY,
  geom POINT,                         -- where the boat was
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  site_id TEXT NOT NULL REFERENCES site (id) DEFERRABLE INITIALLY DEFERRED,
  accuracy_m DOUBLE,
  local_time TEXT,
  depth_m DOUBLE,
  sediment TEXT,
  result TEXT NOT NULL,               -- `sampled`, or why not
  reported_species INTEGER,
  reported_native_species INTEGER,
  observer TEXT NOT NULL,
  note TEXT NOT NULL
);
CREATE INDEX visit_by_survey ON visit (survey_id);
CREATE INDEX visit_by_site ON visit (site_id);

CREATE TABLE throw (
  fid INTEGER PRIMARY KEY,
  visit_id TEXT NOT NULL REFERENCES visit (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  number INTEGER NOT NULL,
  total_rating INTEGER                -- place on the survey's scale, from 0
);
CREATE INDEX throw_by_visit ON throw (visit_id);

CREATE TABLE observation (
  fid INTEGER PRIMARY KEY,
  visit_id TEXT NOT NULL REFERENCES visit (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  throw_number INTEGER NOT NULL,
  taxon_id TEXT NOT NULL REFERENCES taxon (id) DEFERRABLE INITIALLY DEFERRED,
  rating INTEGER,                     -- place on the survey's scale, from 0
  seen TEXT NOT NULL
);
CREATE INDEX observation_by_visit ON observation (visit_id);

CREATE TABLE surface_bed (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  taxa TEXT NOT NULL,                 -- JSON array of taxon keys
  rating INTEGER,
  site_id TEXT REFERENCES site (id) DEFERRABLE INITIALLY DEFERRED,
  note TEXT NOT NULL
);

CREATE TABLE shoreline_find (
  fid INTEGER PRIMARY KEY,
  geom POINT,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  taxon_id TEXT NOT NULL REFERENCES taxon (id) DEFERRABLE INITIALLY DEFERRED,
  zone TEXT,
  note TEXT NOT NULL
);

CREATE TABLE photo (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  visit_id TEXT REFERENCES visit (id) DEFERRABLE INITIALLY DEFERRED,
  taxon_id TEXT REFERENCES taxon (id) DEFERRABLE INITIALLY DEFERRED,
  file_name TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  caption TEXT NOT NULL,
  with_ruler BOOLEAN NOT NULL
);
CREATE INDEX photo_by_visit ON photo (visit_id);

CREATE TABLE voucher (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  number TEXT NOT NULL,
  taxon_id TEXT NOT NULL REFERENCES taxon (id) DEFERRABLE INITIALLY DEFERRED,
  site_id TEXT REFERENCES site (id) DEFERRABLE INITIALLY DEFERRED,
  collector TEXT NOT NULL,
  date DATE,
  kept_at TEXT NOT NULL,
  confirmed_by TEXT NOT NULL
);

CREATE TABLE treatment (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON NOT NULL,
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  method TEXT NOT NULL,
  start_date DATE NOT NULL,
  end_date DATE NOT NULL,
  reported_area_m2 DOUBLE,
  done_by TEXT NOT NULL,
  survey_before_id TEXT REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  note TEXT NOT NULL
);

-- Bulk data never changes and is named by its SHA-256: one event a set, not one a row.
CREATE TABLE data_set (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- SHA-256 of the content
  kind TEXT NOT NULL CHECK (kind IN ('soundings', 'contours', 'raster')),
  source_file TEXT NOT NULL,
  unit TEXT NOT NULL,                 -- of the source as given; the content is in metres
  crs TEXT NOT NULL,                  -- of the source as given; the content is in EPSG:4326
  count INTEGER NOT NULL,
  note TEXT NOT NULL,
  created_at DATETIME NOT NULL
);
CREATE TABLE data_set_content (
  id TEXT PRIMARY KEY,
  content BLOB NOT NULL
);
CREATE TABLE sounding (
  fid INTEGER PRIMARY KEY,
  geom POINT NOT NULL,
  data_set_id TEXT NOT NULL REFERENCES data_set (id) DEFERRABLE INITIALLY DEFERRED,
  depth_m DOUBLE NOT NULL
);
CREATE TABLE depth_contour (
  fid INTEGER PRIMARY KEY,
  geom GEOMETRY NOT NULL,
  data_set_id TEXT NOT NULL REFERENCES data_set (id) DEFERRABLE INITIALLY DEFERRED,
  depth_m DOUBLE NOT NULL
);

-- What each site came to, as one layer for a GIS. The outcome follows the survey's scale: a step
-- worth nothing is not there, a step for plants seen beside the rake is not on it, filamentous
-- algae alone are no plant.
CREATE VIEW site_result AS
SELECT
  site.fid AS OGC_FID,
  site.geom AS geom,
  survey.name AS survey,
  site.code AS code,
  site.zone AS zone,
  site.sub_area AS sub_area,
  CASE
    WHEN visit.id IS NULL THEN 'not-visited'
    WHEN visit.result <> 'sampled' THEN visit.result
    WHEN visit.reported_species > 0
      OR EXISTS (
        SELECT 1 FROM throw JOIN rating_step AS step
          ON step.scale_id = survey.scale_id AND step.place = throw.total_rating
        WHERE throw.visit_id = visit.id AND step.value > 0)
      OR EXISTS (
        SELECT 1 FROM observation JOIN taxon ON taxon.id = observation.taxon_id
          LEFT JOIN rating_step AS step
          ON step.scale_id = survey.scale_id AND step.place = observation.rating
        WHERE observation.visit_id = visit.id AND observation.seen = 'rake'
          AND taxon.growth_form <> 'filamentous-alga'
          AND coalesce(step.on_rake, 1) = 1 AND coalesce(step.value, 1) <> 0)
      THEN 'sampled-with-plants'
    ELSE 'sampled-without-plants'
  END AS outcome,
  visit.depth_m AS depth_m,
  site.map_depth_m AS map_depth_m,
  visit.sediment AS sediment,
  (SELECT group_concat(code, ' ') FROM (
     SELECT DISTINCT taxon.code AS code
     FROM observation JOIN taxon ON taxon.id = observation.taxon_id
     WHERE observation.visit_id = visit.id ORDER BY taxon.code)) AS taxa,
  visit.observer AS observer,
  visit.note AS note
FROM site
JOIN survey ON survey.id = site.survey_id
LEFT JOIN visit ON visit.site_id = site.id;

-- Worked-out results, dropped freely; no part of the record.
CREATE TABLE derived (
  key TEXT PRIMARY KEY,
  sha256 TEXT NOT NULL,
  content BLOB NOT NULL
);

-- Open only while this program writes. A change made while it is closed is another program's, and
-- triggers note it in `edited_elsewhere`.
CREATE TABLE write_gate (
  only INTEGER PRIMARY KEY CHECK (only = 1),
  open INTEGER NOT NULL
);
INSERT INTO write_gate VALUES (1, 0);
CREATE TABLE edited_elsewhere (
  fid INTEGER PRIMARY KEY,
  table_name TEXT NOT NULL,
  row_key TEXT,
  what TEXT NOT NULL
);
