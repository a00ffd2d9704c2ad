-- 0004: limits the lake board wrote down, for alerts

CREATE TABLE board_limit (
  fid INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  text TEXT NOT NULL,                 -- the board's own words
  adopted DATE NOT NULL,              -- surveys before this day are not held against it
  taxon_id TEXT REFERENCES taxon (id) DEFERRABLE INITIALLY DEFERRED, -- none: every introduced plant
  zone TEXT,                          -- code; none: the whole lake
  kind TEXT NOT NULL CHECK (kind IN ('frequency-above', 'sites-above', 'rating-at-least')),
  value DOUBLE NOT NULL CHECK (value >= 0)  -- a share of sites, a number of sites, the number of a rating
);
