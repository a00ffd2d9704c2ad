use super::*;
use crate::stats::assert_close;
use crate::testing::{counted, missed, rake, record, throw, visit};
use survey::{Conservatism, GrowthForm, Origin, Rank, Sampling, Scope, SiteResult, Taxon};
use units::{UnitSystem, decimals};

fn findings(record: &SurveyRecord) -> SurveyFindings {
    SurveyFindings::of(record, &Options::default())
}

fn of<'f>(findings: &'f SurveyFindings, name: &str) -> &'f TaxonFindings {
    findings.taxa.iter().find(|one| one.taxon.scientific_name == name).unwrap()
}

/// UMESC 2002 table 6, Pool 12, contiguous backwater: 120 sites, 40 with submersed plants, nine
/// species at 31, 13, 8, 6, 6, 1, 1, 1, 1 of them (counts recovered from the printed frequencies).
const POOL_12: [(&str, usize); 9] = [
    ("CEDE", 31),
    ("STPE", 13),
    ("PONO", 8),
    ("HEDU", 6),
    ("MYSP", 6),
    ("POCR", 1),
    ("POFO", 1),
    ("NAGU", 1),
    ("ELCA", 1),
];

fn pool_12() -> SurveyRecord {
    let mut record = record(&POOL_12.map(|(name, _)| name));
    // coontail at the first 31 sites, the others in turn from the 40th back
    let mut sites = vec![Vec::new(); 40];
    sites.iter_mut().take(31).for_each(|site| site.push("CEDE"));
    let mut turn = (0..40).rev().cycle();
    for (name, count) in &POOL_12[1..] {
        turn.by_ref().take(*count).for_each(|site| sites[site].push(*name));
    }
    for notes in &sites {
        rake(&mut record, Some(1.0), notes);
    }
    (40..120).for_each(|_| rake(&mut record, Some(0.5), &[]));
    record
}

#[test]
fn usgs_2002_pool_12_frequencies_and_diversity() {
    let findings = findings(&pool_12());
    assert_eq!((findings.sites.sampled, findings.sites.vegetated), (120, 40));
    let coontail = of(&findings, "CEDE");
    assert_eq!(decimals(coontail.frequency.all.p.unwrap() * 100.0, 1), "25.8");
    assert_eq!(decimals(coontail.frequency.all.se.unwrap() * 100.0, 1), "4.0");
    assert_eq!(decimals(coontail.frequency.vegetated.p.unwrap() * 100.0, 1), "77.5");
    let relative: Vec<String> = findings
        .taxa
        .iter()
        .map(|one| decimals(one.relative_frequency.unwrap() * 100.0, 1))
        .collect();
    assert_eq!(relative, ["45.6", "19.1", "11.8", "8.8", "8.8", "1.5", "1.5", "1.5", "1.5"]);
    let diversity = findings.diversity.unwrap();
    assert_close(diversity.simpson, 0.725_346_0, 5e-8, "Simpson");
    assert_close(diversity.inverse_simpson, 3.640_945, 5e-7, "inverse Simpson");
    assert_close(diversity.shannon, 1.602_823, 5e-7, "Shannon");
    let means = findings.species_per_site;
    assert_close(means.littoral.unwrap().mean, 68.0 / 120.0, 1e-12, "all within the plant depth");
    assert_close(means.vegetated.unwrap().mean, 1.70, 1e-12, "where plants are");
    assert_eq!(findings.richness.rake, 9);
    // 68 occurrences at 120 sites, four species once and none twice
    let chao = findings.estimated_richness.unwrap().chao2;
    assert_close(chao.value, 9.0 + 119.0 / 120.0 * 4.0 * 3.0 / 2.0, 1e-12, "Chao2 without doubles");
}

#[test]
fn a_site_at_exactly_the_depth_of_the_deepest_plant_is_littoral() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, Some(1.0), &["CEDE 2"]);
    rake(&mut record, Some(3.2), &["CEDE 1"]);
    rake(&mut record, Some(3.2), &[]);
    rake(&mut record, Some(3.3), &[]);
    let findings = findings(&record);
    assert_eq!(findings.max_plant_depth, Some(Metres::new(3.2)));
    assert_eq!(findings.littoral_sites, 3);
    assert_eq!(findings.frequency_any.littoral.k, 2);
    assert_eq!((findings.frequency_any.all.k, findings.frequency_any.all.n), (2, 4));
    assert_eq!(of(&findings, "CEDE").frequency.littoral.n, 3);
    assert!(findings.notes.iter().all(|note| !matches!(note, Note::LimitNotReached { .. })));
}

#[test]
fn no_plants_anywhere_is_undefined_not_zero() {
    let mut record = record(&["CEDE"]);
    (0..30).for_each(|_| rake(&mut record, Some(2.0), &[]));
    let findings = findings(&record);
    assert_eq!(findings.max_plant_depth, None);
    assert_eq!(findings.littoral_sites, 0);
    assert_eq!(findings.frequency_any.littoral.p, None);
    assert_eq!(findings.frequency_any.all.p, Some(0.0));
    assert_eq!(findings.diversity, None);
    assert_eq!(findings.estimated_richness, None);
    assert_eq!(findings.species_per_site.vegetated, None);
    assert_eq!(findings.species_per_site.littoral, None);
    assert_close(findings.missed_at_most.unwrap(), 1.0 - 0.05_f64.powf(1.0 / 30.0), 1e-15, "bound");
    assert_eq!(findings.notes, [Note::NoPlants { sampled: 30 }]);
    assert!(findings.notes[0].message(UnitSystem::Us).contains("undefined, not zero"));
}

#[test]
fn one_site_has_a_frequency_and_an_interval_but_no_standard_error() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, Some(2.0), &["CEDE 3"]);
    let findings = findings(&record);
    let any = findings.frequency_any.all;
    assert_eq!((any.p, any.se, any.high), (Some(1.0), None, Some(1.0)));
    assert_close(any.low.unwrap(), 1.0 / (1.0 + 1.959_964_f64.powi(2)), 1e-6, "Wilson for 1 of 1");
    assert_eq!(findings.estimated_richness, None);
    assert!(findings.notes.contains(&Note::LimitNotReached { depth: Metres::new(2.0) }));
}

#[test]
fn a_survey_without_a_sampled_site_says_so_and_nothing_else() {
    let mut record = record(&["CEDE"]);
    missed(&mut record, NotSampled::DockOrStructure);
    let findings = findings(&record);
    assert_eq!(findings.notes, [Note::NoSiteSampled]);
    assert_eq!(findings.frequency_any.all.p, None);
    assert_eq!(findings.missed_at_most, None);
    assert_eq!((findings.sites.visited, findings.sites.sampled), (1, 0));
}

#[test]
fn a_missing_depth_leaves_littoral_figures_and_stays_in_the_others() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, None, &["CEDE 2"]);
    rake(&mut record, Some(1.5), &["CEDE 1"]);
    rake(&mut record, None, &[]);
    let findings = findings(&record);
    assert_eq!(findings.sites_without_depth, 2);
    assert_eq!(findings.max_plant_depth, Some(Metres::new(1.5)));
    let frequency = of(&findings, "CEDE").frequency;
    assert_eq!((frequency.all.k, frequency.all.n), (2, 3));
    assert_eq!((frequency.littoral.k, frequency.littoral.n), (1, 1));
    assert!(findings.notes.contains(&Note::SitesWithoutDepth { sites: 2, vegetated: 1 }));
}

#[test]
fn plants_without_any_depth_have_no_limit() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, None, &["CEDE 2"]);
    let findings = findings(&record);
    assert_eq!((findings.max_plant_depth, findings.littoral_sites), (None, 0));
    assert!(findings.notes.contains(&Note::NoPlantDepth));
}

#[test]
fn visited_is_sampled_plus_every_reason() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, Some(1.0), &["CEDE 1"]);
    missed(&mut record, NotSampled::NotNavigablePlants);
    missed(&mut record, NotSampled::NotNavigablePlants);
    missed(&mut record, NotSampled::TooDeep);
    visit(&mut record, None, SiteResult::NotSampled(NotSampled::Skipped));
    record.sites[4].spare = true;
    let unvisited = record.sites[0].clone();
    record.sites.push(unvisited);
    let findings = findings(&record);
    let sites = &findings.sites;
    assert_eq!((sites.planned, sites.visited, sites.sampled), (5, 5, 1));
    assert_eq!(sites.sampled + sites.not_sampled.values().sum::<usize>(), sites.visited);
    assert_eq!(sites.not_sampled[&NotSampled::NotNavigablePlants], 2);
    assert!(findings.notes.contains(&Note::NotNavigable { sites: 2 }));
}

#[test]
fn only_the_rake_enters_frequencies() {
    let mut record = record(&["CEDE", "POCR", "NYOD", "TYLA"]);
    rake(&mut record, Some(1.0), &["CEDE 2", "POCR V"]);
    rake(&mut record, Some(2.0), &["POCR V"]);
    record.beds = vec![survey::SurfaceBed {
        id: survey::BedId(survey::Id::v7(5, 1)),
        survey: record.survey.id,
        taxa: vec![record.taxa[2].id],
        rating: None,
        area: None,
        site: None,
        note: String::new(),
    }];
    record.shoreline = vec![survey::ShorelineFind {
        id: survey::ShorelineFindId(survey::Id::v7(6, 1)),
        survey: record.survey.id,
        taxon: record.taxa[3].id,
        position: None,
        zone: None,
        note: String::new(),
    }];
    let findings = findings(&record);
    assert_eq!(findings.max_plant_depth, Some(Metres::new(1.0)));
    assert_eq!(findings.sites.vegetated, 1);
    let seen = of(&findings, "POCR");
    assert_eq!((seen.sites, seen.visuals, seen.frequency.all.k), (0, 2, 0));
    let richness = findings.richness;
    assert_eq!((richness.rake, richness.with_visuals, richness.with_shoreline), (1, 3, 4));
}

#[test]
fn filamentous_algae_are_no_plant() {
    let mut record = record(&["CEDE", "ALGA"]);
    record.taxa[1].growth_form = GrowthForm::FilamentousAlga;
    rake(&mut record, Some(4.0), &["ALGA 3", "= 3"]);
    rake(&mut record, Some(1.0), &["ALGA 1", "CEDE 1", "= 2"]);
    let findings = findings(&record);
    assert_eq!(findings.max_plant_depth, Some(Metres::new(1.0)));
    assert_eq!((findings.sites.vegetated, findings.richness.rake), (1, 1));
    assert_close(findings.species_per_site.vegetated.unwrap().mean, 1.0, 0.0, "species");
    assert_eq!(of(&findings, "ALGA").sites, 2);
    assert_eq!(of(&findings, "ALGA").relative_frequency, None);
    assert_eq!(of(&findings, "CEDE").relative_frequency, Some(1.0));
    assert!(findings.notes.contains(&Note::RatedWithoutPlants { sites: 1 }));
}

#[test]
fn with_several_throws_the_largest_rating_of_a_site_counts_once() {
    let mut record = record(&["CEDE"]);
    let throws = vec![
        throw(&record, 1, &["CEDE 1"]),
        throw(&record, 2, &[]),
        throw(&record, 3, &["CEDE 3"]),
    ];
    visit(&mut record, Some(1.0), SiteResult::Sampled(Sampling::new(throws, None).unwrap()));
    rake(&mut record, Some(1.0), &["CEDE 2"]);
    rake(&mut record, Some(1.0), &["CEDE"]);
    let findings = findings(&record);
    let coontail = of(&findings, "CEDE");
    assert_eq!(coontail.sites, 3);
    assert_eq!(coontail.rating.mean, Some(2.5));
    assert_eq!((coontail.rating.rated, coontail.rating.unrated), (2, 1));
    let steps: Vec<(&str, usize)> =
        coontail.rating.distribution.iter().map(|one| (one.code.as_str(), one.sites)).collect();
    assert_eq!(steps, [("1", 0), ("2", 1), ("3", 1)]);
}

#[test]
fn a_rating_of_zero_is_not_a_find() {
    let mut record = record(&["CEDE", "STPE"]);
    record.scale = survey::scale::RatingScale::numbers("numbers", 0, 4).unwrap();
    rake(&mut record, Some(1.0), &["CEDE 0", "STPE 4", "= 4"]);
    rake(&mut record, Some(2.0), &["CEDE 0", "STPE 0", "= 0"]);
    let findings = findings(&record);
    assert_eq!(findings.sites.vegetated, 1);
    assert_eq!(findings.taxa.len(), 1);
    assert_eq!(findings.total_rating.mean, Some(4.0));
}

#[test]
fn presence_alone_has_no_mean_rating() {
    let mut record = record(&["CEDE"]);
    record.scale = survey::scale::RatingScale::by_key("presence").unwrap().clone();
    rake(&mut record, Some(1.0), &["CEDE P"]);
    let rating = of(&findings(&record), "CEDE").rating.clone();
    assert_eq!((rating.mean, rating.rated), (None, 1));
}

#[test]
fn a_rake_rated_but_not_named_is_vegetated_with_unknown_species() {
    let mut record = record(&["CEDE"]);
    rake(&mut record, Some(2.5), &["= 2"]);
    rake(&mut record, Some(1.0), &["CEDE 1", "= 1"]);
    rake(&mut record, Some(3.0), &[]);
    let findings = findings(&record);
    assert_eq!(findings.sites.vegetated, 2);
    assert_eq!(findings.max_plant_depth, Some(Metres::new(2.5)));
    assert_eq!(findings.species_per_site.littoral, Some(SiteMean { mean: 1.0, sites: 1 }));
    assert_eq!(findings.estimated_richness, None);
    assert!(findings.notes.contains(&Note::PlantsNotNamed { sites: 1 }));
    assert_eq!(findings.total_rating.mean, Some(1.5));
}

#[test]
fn published_counts_stand_in_for_names() {
    let mut record = record(&[]);
    counted(&mut record, 1.0, 3, 2);
    counted(&mut record, 2.0, 1, 0);
    counted(&mut record, 2.0, 0, 0);
    counted(&mut record, 5.0, 0, 0);
    let findings = findings(&record);
    let means = findings.species_per_site;
    assert_eq!(means.littoral, Some(SiteMean { mean: 4.0 / 3.0, sites: 3 }));
    assert_eq!(means.vegetated, Some(SiteMean { mean: 2.0, sites: 2 }));
    assert_eq!(means.native_littoral, Some(SiteMean { mean: 2.0 / 3.0, sites: 3 }));
    assert_eq!(means.native_where_native, Some(SiteMean { mean: 2.0, sites: 1 }));
    assert_eq!(findings.richness.rake, 0);
    assert!(findings.notes.contains(&Note::CountsWithoutNames { sites: 4 }));
}

fn with_c(taxon: &mut Taxon, value: f64, table: &str) {
    taxon.conservatism = Some(Conservatism { value, table: table.to_owned() });
}

#[test]
fn floristic_quality_is_of_the_natives_on_the_rake_and_names_its_table() {
    let mut record = record(&["CEDE", "STPE", "POCR", "NYOD", "CHAR"]);
    with_c(&mut record.taxa[0], 3.0, "US EPA NWCA 2011, WI");
    with_c(&mut record.taxa[1], 5.0, "US EPA NWCA 2011, WI");
    record.taxa[2].origin = Origin::Introduced;
    with_c(&mut record.taxa[3], 6.0, "US EPA NWCA 2011, WI");
    rake(&mut record, Some(1.0), &["CEDE 1", "STPE 1", "POCR 2", "NYOD V", "CHAR 1"]);
    let quality = findings(&record).floristic_quality.unwrap();
    assert_eq!(quality.quality.natives, 2);
    assert_close(quality.quality.index, 4.0 * 2.0_f64.sqrt(), 1e-12, "FQI");
    assert_close(quality.quality.all_species_mean_c, 8.0 / 3.0, 1e-12, "with the introduced");
    assert_eq!(quality.c_table, "US EPA NWCA 2011, WI");
    assert_eq!(quality.without_c, ["CHAR"]);

    with_c(&mut record.taxa[4], 7.0, "another table");
    let mixed = findings(&record);
    assert_eq!(mixed.floristic_quality, None);
    assert!(
        mixed
            .notes
            .iter()
            .any(|note| matches!(note, Note::SeveralTables { tables } if tables.len() == 2))
    );
}

#[test]
fn depth_tables_put_a_depth_on_a_step_into_the_deeper_one() {
    let mut record = record(&["CEDE"]);
    for feet in [1.0, 2.0, 5.0, 5.0, 9.0] {
        rake(&mut record, Some(Metres::from_feet(feet).metres()), &["CEDE 1"]);
    }
    rake(&mut record, Some(Metres::from_feet(5.5).metres()), &[]);
    let options = Options { depth_step: Metres::from_feet(1.0) };
    let findings = SurveyFindings::of(&record, &options);
    let depths = &of(&findings, "CEDE").depths;
    assert_eq!(depths.len(), 10);
    assert_eq!((depths[5].sampled, depths[5].found), (3, 2));
    assert_eq!(depths.iter().map(|step| step.found).sum::<usize>(), 5);
    // a step too fine for the depth is widened, never a table of thousands
    let fine = SurveyFindings::of(&record, &Options { depth_step: Metres::new(0.0001) });
    assert!(of(&fine, "CEDE").depths.len() <= 200);
}

#[test]
fn loosely_named_taxa_and_a_limited_scope_are_said() {
    let mut record = record(&["CEDE", "Potamogeton"]);
    record.taxa[1].rank = Rank::Genus;
    record.survey.scope = Scope::Only(vec![record.taxa[0].id]);
    rake(&mut record, Some(1.0), &["CEDE 1", "Potamogeton 1"]);
    let findings = findings(&record);
    assert!(findings.notes.contains(&Note::NamedLoosely { taxa: 1 }));
    assert!(findings.notes.contains(&Note::LimitedScope { taxa: 1, others_found: 1 }));
    assert!(!of(&findings, "Potamogeton").looked_for);
}

#[test]
fn a_taxon_that_is_not_on_the_list_is_counted_out_loud() {
    let mut record = record(&["CEDE", "GONE"]);
    rake(&mut record, Some(1.0), &["CEDE 1", "GONE 1"]);
    record.taxa.pop();
    let findings = findings(&record);
    assert!(findings.notes.contains(&Note::NotOnTheList { observations: 1 }));
    assert_eq!(findings.sites.vegetated, 1);
    assert_eq!(findings.species_per_site.vegetated, None);
}
