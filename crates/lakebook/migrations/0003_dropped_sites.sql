-- 0003: sites dropped from a plan stay on record.
--
-- Why and by whom a site was dropped; none for a site that stands.
ALTER TABLE site ADD COLUMN dropped TEXT;

DROP VIEW site_result;

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
    WHEN visit.id IS NULL AND site.dropped IS NOT NULL THEN 'dropped'
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
