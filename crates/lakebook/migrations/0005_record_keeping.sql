-- 0005: what a person says of a find of the check, a second person's entry of a survey, the naming of
-- unknowns, and the pictures themselves.

-- A find of the check a person confirmed. `said` is what the find said then: one that says
-- something else is open again.
CREATE TABLE settled_find (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  find TEXT NOT NULL,
  said TEXT NOT NULL,
  reason TEXT NOT NULL,
  settled_by TEXT NOT NULL,
  settled_at TEXT NOT NULL
);

-- A second person's entry of the same sheet, kept apart until the two are compared.
CREATE TABLE second_entry (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  site_id TEXT NOT NULL REFERENCES site (id) DEFERRABLE INITIALLY DEFERRED,
  entered_by TEXT NOT NULL,
  visit TEXT NOT NULL                 -- JSON, a visit as in the change log
);

-- Who named what was unknown, when, and on what evidence.
CREATE TABLE determination (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  taxon_id TEXT NOT NULL,             -- what it is now
  was_code TEXT NOT NULL,
  was_name TEXT NOT NULL,
  now_name TEXT NOT NULL,
  determined_by TEXT NOT NULL,
  determined_on DATE,
  evidence TEXT NOT NULL CHECK (evidence IN ('photo', 'specimen', 'expert', 'dna')),
  note TEXT NOT NULL
);

-- The picture kept for the book: turned upright, made smaller. `sha256` of `photo` names it.
ALTER TABLE photo ADD COLUMN survey_id TEXT REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE photo ADD COLUMN original_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE photo ADD COLUMN taken_at TEXT;
ALTER TABLE photo ADD COLUMN longitude DOUBLE;
ALTER TABLE photo ADD COLUMN latitude DOUBLE;
ALTER TABLE photo ADD COLUMN width_px INTEGER;
ALTER TABLE photo ADD COLUMN height_px INTEGER;
CREATE TABLE photo_content (
  id TEXT PRIMARY KEY,                -- SHA-256 of the content
  content BLOB NOT NULL
);
