use super::*;
use crate::stats::assert_close;
use crate::stats::occupancy::OccupancyError;
use crate::testing::{missed, rake, record, throw, visit};
use survey::{Code, Sampling, SiteResult};
use units::LonLat;

fn zoned() -> SurveyRecord {
    let mut record = record(&["CEDE", "POCR"]);
    for (zone, depth, notes) in [
        (Some("W1"), Some(0.4), vec!["CEDE 1"]),
        (Some("W1"), Some(0.7), vec!["CEDE 3", "POCR 1"]),
        (Some("W1"), Some(1.1), vec![]),
        (Some("E2"), Some(1.4), vec!["POCR 2"]),
        (None, None, vec!["CEDE 2"]),
    ] {
        rake(&mut record, depth, &notes);
        record.sites.last_mut().unwrap().zone = zone.map(|code| Code::new(code).unwrap());
    }
    missed(&mut record, NotSampled::NotNavigablePlants);
    record.sites.last_mut().unwrap().zone = Some(Code::new("N9").unwrap());
    record
}

#[test]
fn each_zone_has_its_own_denominator_and_an_unsampled_one_has_none() {
    let record = zoned();
    let zones = by_zone(&record, &[Code::new("S4").unwrap()]);
    let keys: Vec<String> = zones
        .iter()
        .map(|zone| match &zone.key {
            GroupKey::Zone(code) => code.to_string(),
            other => format!("{other:?}"),
        })
        .collect();
    assert_eq!(keys, ["E2", "N9", "S4", "W1", "NoZone"]);
    let west = &zones[3];
    assert_eq!(
        (west.planned, west.sampled, west.frequency_any.k, west.richness),
        (Some(3), 3, 2, 2)
    );
    assert_eq!(west.taxa[0].code.as_str(), "CEDE");
    assert_close(west.taxa[0].frequency.p.unwrap(), 2.0 / 3.0, 1e-12, "of the zone's sites");
    assert_close(west.taxa[0].rating.mean.unwrap(), 2.0, 1e-12, "mean of 1 and 3");
    let north = &zones[1];
    assert_eq!((north.planned, north.sampled), (Some(1), 0));
    assert_eq!(north.not_sampled[&NotSampled::NotNavigablePlants], 1);
    assert_eq!((north.frequency_any.p, north.species_per_site), (None, None));
    assert_eq!((zones[2].planned, zones[2].sampled), (Some(0), 0));
}

#[test]
fn depth_steps_close_over_all_sampled_sites() {
    let steps = by_depth(&zoned(), Metres::new(0.5));
    let sites: Vec<usize> = steps.iter().map(|step| step.sampled).collect();
    assert_eq!(sites, [1, 1, 2, 1]);
    assert_eq!(steps[1].key, GroupKey::Depth { from: Metres::new(0.5), to: Metres::new(1.0) });
    assert_eq!(steps[3].key, GroupKey::NoDepth);
    assert_eq!(steps[2].frequency_any.k, 1);
    assert_close(steps[1].species_per_site.unwrap().mean, 2.0, 1e-12, "species");
}

#[test]
fn strata_of_the_layout_are_the_callers_own() {
    let record = zoned();
    let inner = |site: &survey::Site| Some(if site.rank < 3 { "near" } else { "far" }.to_owned());
    let strata = by_stratum(&record, &inner);
    assert_eq!(strata[0].key, GroupKey::Stratum("far".to_owned()));
    assert_eq!((strata[0].planned, strata[0].sampled, strata[1].sampled), (Some(4), 3, 2));
}

#[test]
fn quarters_of_depth_leave_out_what_was_not_measured() {
    let mut record = record(&["CEDE"]);
    for depth in [Some(1.0), Some(2.0), Some(4.0), Some(7.0), Some(11.0), Some(16.0), None] {
        rake(&mut record, depth, &["CEDE 1"]);
    }
    let findings = SurveyFindings::of(&record, &Options::default());
    let depth = findings.taxa[0].depth_quartiles.unwrap();
    // numpy 2.4 `quantile` of 1, 2, 4, 7, 11, 16
    assert_eq!(
        (depth.lower, depth.median, depth.upper),
        (Metres::new(2.5), Metres::new(5.5), Metres::new(10.0))
    );
    assert_eq!(depth.sites, 6);
    assert_eq!(findings.dominance, [1.0]);
}

#[test]
fn repeated_throws_tell_how_often_a_plant_is_missed() {
    let mut record = record(&["CEDE", "POCR"]);
    // 24 sites once, 36 twice, 60 never: p 3/4, psi 96²/(4·36·120)
    for (times, first, second) in [(24, true, false), (36, true, true), (60, false, false)] {
        for _ in 0..times {
            let notes = |there: bool| if there { vec!["CEDE 1"] } else { vec![] };
            let throws = vec![throw(&record, 1, &notes(first)), throw(&record, 2, &notes(second))];
            visit(
                &mut record,
                Some(1.0),
                SiteResult::Sampled(Sampling::new(throws, None).unwrap()),
            );
        }
    }
    let found = SurveyFindings::of(&record, &Options::default()).detection;
    assert_eq!(found.len(), 1, "only what was found");
    let fit = found[0].fit.unwrap();
    assert_close(fit.detection.value, 0.75, 1e-8, "p");
    assert_close(fit.occupancy.value, 96.0_f64.powi(2) / (4.0 * 36.0 * 120.0), 1e-8, "psi");
    assert!(fit.missed_everywhere < 1e-20);
    let once = SurveyFindings::of(&zoned(), &Options::default()).detection;
    assert!(once.iter().all(|one| one.fit == Err(OccupancyError::NotRepeated)));
}

#[test]
fn inclusion_probabilities_weigh_the_sites() {
    let mut record = record(&["CEDE"]);
    for number in 0..40_u32 {
        let notes: &[&str] = if number < 10 { &["CEDE 1"] } else { &[] };
        rake(&mut record, Some(1.0), notes);
        let site = record.sites.last_mut().unwrap();
        // the ten sites with the plant stood for twice as many places each
        site.inclusion_probability = Some(if number < 10 { 0.1 } else { 0.2 });
        let east = -89.4 + f64::from(number) * 0.001;
        site.planned = Some(LonLat::new(east, 43.05).unwrap());
    }
    let design = SurveyFindings::of(&record, &Options::default()).design.unwrap();
    assert_close(design.any.mean.value, 100.0 / 250.0, 1e-12, "100 of 250 places");
    assert_close(design.taxa[0].1.total, 100.0, 1e-9, "places with it");
    assert_eq!(design.any, design.taxa[0].1);
    record.sites[3].inclusion_probability = None;
    assert_eq!(design_weighted(&record).unwrap().left_out, 1);
    assert!(SurveyFindings::of(&zoned(), &Options::default()).design.is_none());
}
