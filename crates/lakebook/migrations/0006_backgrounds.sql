-- 0006: scanned maps under the lake, what may be done in a zone in words, and the year a zone was
-- last used.

-- A picture that lies under the lake: its bytes are a data set, its place follows from control points.
CREATE TABLE background (
  fid INTEGER PRIMARY KEY,
  geom MULTIPOLYGON NOT NULL,         -- the picture's edge on the ground
  id TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  data_set_id TEXT NOT NULL REFERENCES data_set (id) DEFERRABLE INITIALLY DEFERRED,
  width_px INTEGER NOT NULL,
  height_px INTEGER NOT NULL,
  warp TEXT NOT NULL,                 -- affine, projective or thin-plate
  control_points TEXT NOT NULL,       -- JSON: name, x and y in pixels, longitude and latitude
  residual_m DOUBLE NOT NULL,         -- root mean square over the control points
  note TEXT NOT NULL
);

ALTER TABLE zone ADD COLUMN rule TEXT NOT NULL DEFAULT '';
ALTER TABLE zone ADD COLUMN until_year INTEGER;
