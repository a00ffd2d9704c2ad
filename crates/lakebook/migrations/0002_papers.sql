-- 0002: the route a survey's papers follow, the lake's own words on papers, sheets read back

CREATE TABLE route (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- key of the survey: a survey has one route
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  asked TEXT NOT NULL,                -- JSON: launch, boats, speed and the rest, as asked
  boats TEXT NOT NULL,                -- JSON: one object a boat and day, with its stops in order
  sentence TEXT NOT NULL
);

CREATE TABLE paper_text (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- the paper and place, such as `kit`
  text TEXT NOT NULL
);

CREATE TABLE sheet_scan (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  survey_id TEXT NOT NULL REFERENCES survey (id) DEFERRABLE INITIALLY DEFERRED,
  sheet INTEGER NOT NULL,
  sheets INTEGER NOT NULL,
  sites TEXT NOT NULL,                -- JSON array of the codes of its rows
  file_name TEXT NOT NULL,
  sha256 TEXT NOT NULL,               -- of the picture's file, kept as a data set
  note TEXT NOT NULL
);
CREATE INDEX sheet_scan_by_survey ON sheet_scan (survey_id);
