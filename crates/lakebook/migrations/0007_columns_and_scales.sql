-- 0007: what the columns of a file of records mean, kept for the next file of the same shape; why a
-- survey is rated on another scale than those before.

CREATE TABLE column_map (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,            -- SHA-256 of the headers that are no plants
  headers TEXT NOT NULL,              -- JSON, as they stand in the file, in lower case
  plants TEXT NOT NULL,               -- JSON, those of them that name a plant
  header_row INTEGER NOT NULL,        -- where the header stood
  map TEXT NOT NULL,                  -- the column map, TOML
  source_file TEXT NOT NULL,
  survey TEXT NOT NULL,               -- name of the survey it was recorded into
  kept_at TEXT NOT NULL
);

ALTER TABLE survey ADD COLUMN scale_reason TEXT NOT NULL DEFAULT '';
