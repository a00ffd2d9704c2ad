//! The invented survey: every figure follows from the invented sites.

use super::{SPECIES, ZONES, depth_at, map, places, zone_of};
use ::report::survey_report::{
    Amendment, AnyPlant, Conditions, CrewMember, FloristicQuality, FloristicRow, Frequency,
    HowSeen, LakeFacts, Mean, Method, Occurrence, Origin, ReportSite, Richness, Scale, ScaleStep,
    Seal, SiteCounts, SiteOutcome, SpeciesMaps, SpeciesPerSite, SurveyReport, TaxonFinding,
    ZoneFacts,
};
use jiff::civil::date;
use units::{Celsius, Metres, SquareMetres};

/// The Wilson interval (Wilson 1927, Journal of the American Statistical Association 22: 209–212).
fn frequency(k: u64, n: u64) -> Option<Frequency> {
    let z = 1.959_963_984_540_054_f64;
    let (kf, nf) = (k as f64, n as f64);
    (n > 0).then(|| {
        let p = kf / nf;
        let middle = (p + z * z / (2.0 * nf)) / (1.0 + z * z / nf);
        let half = z / (1.0 + z * z / nf) * (p * (1.0 - p) / nf + z * z / (4.0 * nf * nf)).sqrt();
        let se = if n > 1 { (p * (1.0 - p) / (nf - 1.0)).sqrt() } else { 0.0 };
        Frequency { k, n, p, se, low: (middle - half).max(0.0), high: (middle + half).min(1.0) }
    })
}

fn mean(values: &[f64]) -> Option<Mean> {
    let n = values.len() as f64;
    (!values.is_empty()).then(|| {
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
        let se = (values.len() > 1).then(|| (variance / n).sqrt());
        Mean { mean, se, n: values.len() as u64 }
    })
}

/// An even number between 0 and 1 that depends on the place and the plant only.
fn chance(a: u64, b: u64) -> f64 {
    let mut x = a.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ b.wrapping_mul(0xD1B5_4A32_D192_ED03);
    x ^= x >> 29;
    x = x.wrapping_mul(0xBF58_476D_1CE4_E5B9);
    x ^= x >> 32;
    (x % 1_000_003) as f64 / 1_000_003.0
}

/// Best depth in feet, spread, highest chance: each plant of SPECIES but the last two.
const HABIT: [(f64, f64, f64); 16] = [
    (9.0, 5.0, 0.75),
    (6.0, 4.0, 0.65),
    (4.0, 3.5, 0.6),
    (8.0, 4.0, 0.55),
    (6.0, 3.5, 0.5),
    (7.0, 4.0, 0.45),
    (10.0, 3.0, 0.5),
    (9.0, 4.0, 0.35),
    (8.0, 5.0, 0.3),
    (3.0, 2.0, 0.5),
    (5.0, 3.0, 0.3),
    (5.0, 3.0, 0.2),
    (3.0, 1.5, 0.3),
    (8.0, 3.0, 0.12),
    (6.0, 5.0, 0.09),
    (5.0, 3.0, 0.08),
];

fn sites() -> Vec<ReportSite> {
    places()
        .into_iter()
        .enumerate()
        .map(|(index, place)| {
            let depth = depth_at(place);
            let outcome = match index {
                41 => SiteOutcome::NotSampled("dock or structure".to_owned()),
                77 => SiteOutcome::NotSampled("too many plants to get through".to_owned()),
                110 => SiteOutcome::NotVisited,
                _ => SiteOutcome::Sampled { with_plants: false },
            };
            let mut found = Vec::new();
            if is_sampled(&outcome) && index % 23 != 5 {
                for (taxon, (best, spread, most)) in HABIT.iter().enumerate() {
                    let p = most * (-((depth.feet() - best) / spread).powi(2)).exp();
                    let draw = chance(index as u64 + 1, taxon as u64 + 1);
                    if draw < p {
                        let step = 1 + (4.0 * (1.0 - draw / p).powi(2)) as u8;
                        found.push(Occurrence { taxon, how: HowSeen::Rake { step: step.min(4) } });
                    } else if draw < p + 0.01 {
                        found.push(Occurrence { taxon, how: HowSeen::Visual });
                    }
                }
            }
            let outcome = match outcome {
                SiteOutcome::Sampled { .. } => {
                    SiteOutcome::Sampled { with_plants: found.iter().any(|s| step(s).is_some()) }
                }
                other => other,
            };
            ReportSite {
                code: (index + 1).to_string(),
                zone: zone_of(place).to_owned(),
                x: place.0,
                y: place.1,
                depth: is_sampled(&outcome).then_some(depth),
                bottom: ["muck", "sand", "rock"][index % 3].to_owned(),
                outcome,
                found,
                note: if index == 12 {
                    "photo 7, leaves cut by a propeller".to_owned()
                } else {
                    String::new()
                },
            }
        })
        .collect()
}

fn is_sampled(outcome: &SiteOutcome) -> bool {
    matches!(outcome, SiteOutcome::Sampled { .. })
}

fn step(seen: &Occurrence) -> Option<u8> {
    match seen.how {
        HowSeen::Rake { step } => Some(step),
        HowSeen::Visual => None,
    }
}

/// The report of the invented survey.
pub fn survey_report() -> SurveyReport {
    let mut sites = sites();
    let sampled: Vec<ReportSite> =
        sites.iter().filter(|site| is_sampled(&site.outcome)).cloned().collect();
    let on_rake = |site: &ReportSite| site.found.iter().filter(|s| step(s).is_some()).count();
    let vegetated: Vec<&ReportSite> = sampled.iter().filter(|site| on_rake(site) > 0).collect();
    let deepest =
        vegetated.iter().filter_map(|site| site.depth).fold(Metres::default(), Metres::max);
    let littoral: Vec<&ReportSite> =
        sampled.iter().filter(|site| site.depth.is_some_and(|d| d <= deepest)).collect();
    let (n, n_littoral, n_vegetated) =
        (sampled.len() as u64, littoral.len() as u64, vegetated.len() as u64);

    let occurrences: usize = sampled.iter().map(on_rake).sum();
    let taxon_at = |index: usize| {
        let (code, scientific, common, introduced) = SPECIES[index];
        let steps: Vec<u8> = sampled
            .iter()
            .flat_map(|site| &site.found)
            .filter(|seen| seen.taxon == index)
            .filter_map(step)
            .collect();
        let k = steps.len() as u64;
        let mean_rating = steps.iter().map(|s| f64::from(*s)).sum::<f64>() / (k as f64).max(1.0);
        TaxonFinding {
            code: code.to_owned(),
            scientific_name: scientific.to_owned(),
            common_name: common.to_owned(),
            origin: match (introduced, code) {
                (true, _) => Origin::Introduced,
                (_, "CHAR") => Origin::Unsettled,
                _ => Origin::Native,
            },
            listed_noxious: code == "HYVE",
            growth_form: "submersed".to_owned(),
            sites: k,
            visuals: sampled
                .iter()
                .flat_map(|site| &site.found)
                .filter(|seen| seen.taxon == index && step(seen).is_none())
                .count() as u64,
            all: frequency(k, n),
            littoral: frequency(k, n_littoral),
            vegetated: frequency(k, n_vegetated),
            relative: (k > 0).then(|| k as f64 / occurrences as f64),
            mean_rating: (k > 0).then_some(mean_rating),
            ratings: (1..=4).map(|s| steps.iter().filter(|t| **t == s).count() as u64).collect(),
            max_depth: sampled
                .iter()
                .filter(|site| site.found.iter().any(|s| s.taxon == index && step(s).is_some()))
                .filter_map(|site| site.depth)
                .reduce(Metres::max),
            notes: if code == "MYSP" {
                vec![
                    "Named from leaves with 12 or more leaflet pairs; hybrids not ruled out."
                        .to_owned(),
                ]
            } else {
                Vec::new()
            },
        }
    };
    let mut order: Vec<usize> = (0..17).collect();
    let all: Vec<TaxonFinding> = (0..17).map(taxon_at).collect();
    order.sort_by_key(|index| std::cmp::Reverse(all[*index].sites));
    for site in &mut sites {
        for seen in &mut site.found {
            seen.taxon = order.iter().position(|index| *index == seen.taxon).unwrap();
        }
    }
    let taxa: Vec<TaxonFinding> = order.iter().map(|index| all[*index].clone()).collect();
    let native = |site: &ReportSite| {
        site.found.iter().filter(|s| step(s).is_some() && !SPECIES[s.taxon].3).count() as f64
    };
    let natives: Vec<f64> = sampled.iter().map(native).filter(|count| *count > 0.0).collect();
    let c_values = [3, 6, 7, 6, 6, 3, 8, 8, 0, 6, 6, 3, 6, 7, 0, 7];
    let rows: Vec<FloristicRow> = all
        .iter()
        .take(16)
        .zip(c_values)
        .map(|(taxon, c)| FloristicRow {
            scientific_name: taxon.scientific_name.clone(),
            common_name: taxon.common_name.clone(),
            c: (c > 0).then_some(f64::from(c)),
            note: if c > 0 { String::new() } else { "introduced, left out".to_owned() },
        })
        .collect();
    let values: Vec<f64> = rows.iter().filter_map(|row| row.c).collect();
    let mean_c = values.iter().sum::<f64>() / values.len() as f64;
    let found_taxa = taxa.iter().filter(|taxon| taxon.sites > 0).count() as u64;
    let shares = |power: i32| {
        taxa.iter().filter_map(|taxon| taxon.relative).map(|p| p.powi(power)).sum::<f64>()
    };
    SurveyReport {
        lake: LakeFacts {
            name: "Lake Tamarin".to_owned(),
            place: "invented county".to_owned(),
            area: SquareMetres::from_acres(213.0),
            max_depth: Some(Metres::from_feet(34.0)),
            mean_depth: Some(Metres::from_feet(12.1)),
            littoral: Some((SquareMetres::from_acres(139.0), Metres::from_feet(15.0))),
            hypsography: (0..=34)
                .map(|feet| {
                    let share = 1.0 - (f64::from(feet) / 34.0).powf(1.0 / 0.9);
                    (
                        Metres::from_feet(f64::from(feet)),
                        SquareMetres::from_acres(213.0 * share * share),
                    )
                })
                .collect(),
            depth_reference: "full pool, 812.4 ft".to_owned(),
            coordinates: "NAD83 / UTM zone 16N".to_owned(),
        },
        survey: "summer survey 2026".to_owned(),
        survey_key: "tamarin-2026-summer".to_owned(),
        dates: (date(2026, 7, 14), date(2026, 7, 15)),
        question: String::new(),
        method: Method {
            layout: "an even grid, 209 ft apart, from the shore down to 15 ft".to_owned(),
            gear: "a double-sided rake head on a rope".to_owned(),
            throws: 2,
            combined: "the site takes the larger of the ratings".to_owned(),
            notes: vec!["The boat was held within 15 ft of the planned place by GPS.".to_owned()],
        },
        counts: SiteCounts {
            planned: sites.len() as u64,
            visited: n + 2,
            sampled: n,
            vegetated: n_vegetated,
            not_sampled: vec![
                ("dock or structure".to_owned(), 1),
                ("too many plants to get through".to_owned(), 1),
            ],
        },
        any_plant: AnyPlant {
            all: frequency(n_vegetated, n),
            littoral: frequency(n_vegetated, n_littoral),
        },
        max_plant_depth: Some(deepest),
        littoral_sites: n_littoral,
        species_per_site: SpeciesPerSite {
            littoral: mean(&littoral.iter().map(|s| on_rake(s) as f64).collect::<Vec<_>>()),
            vegetated: mean(&vegetated.iter().map(|s| on_rake(s) as f64).collect::<Vec<_>>()),
            native_littoral: mean(&littoral.iter().map(|s| native(s)).collect::<Vec<_>>()),
            native_where_native: mean(&natives),
        },
        richness: Richness {
            rake: found_taxa,
            with_visuals: found_taxa,
            with_shoreline: found_taxa + 1,
        },
        simpson: Some(1.0 - shares(2)),
        floristic: Some(FloristicQuality {
            n: values.len() as u64,
            mean_c,
            fqi: mean_c * (values.len() as f64).sqrt(),
            c_table: "invented values, for trying out".to_owned(),
            rows,
        }),
        scale: Scale {
            name: "five-step handful measure".to_owned(),
            steps: [
                ("T", "trace", "a pinch"),
                ("S", "sparse", "one handful"),
                ("M", "medium", "both hands full"),
                ("D", "dense", "full, hard to lift"),
            ]
            .map(|(code, name, measure)| ScaleStep {
                code: code.to_owned(),
                name: name.to_owned(),
                measure: measure.to_owned(),
            })
            .to_vec(),
        },
        taxa,
        sites,
        zones: ZONES
            .iter()
            .enumerate()
            .map(|(index, zone)| ZoneFacts {
                code: zone.0.to_owned(),
                name: zone.1.to_owned(),
                area: SquareMetres::from_acres(11.0 + 1.7 * index as f64),
            })
            .collect(),
        map: map(),
        conditions: [
            (14, 24.0, 23.5, "light wind from the south-west, clear"),
            (15, 26.0, 24.0, "calm, haze"),
        ]
        .map(|(day, air, water, weather)| Conditions {
            date: date(2026, 7, day),
            air: Some(Celsius::new(air)),
            water: Some(Celsius::new(water)),
            secchi: Some(Metres::from_feet(11.5)),
            weather: weather.to_owned(),
            water_level: "full pool".to_owned(),
        })
        .to_vec(),
        crew: [("T.K.", "pencil, boat"), ("A.M.", "rake, named the plants")]
            .map(|(name, role)| CrewMember { name: name.to_owned(), role: role.to_owned() })
            .to_vec(),
        identification: "A.M.; 9 vouchers kept.".to_owned(),
        cautions: vec![
            "Two sites could not be sampled; both lie in the densest water lilies.".to_owned(),
        ],
        seal: Some(Seal {
            date: date(2026, 8, 2),
            by: "T.K.".to_owned(),
            checksum: "7f3a91c2b6d0e4a58c1f22907be36d14a9c05f7783e1d2460bb9a31c5d77e04b".to_owned(),
        }),
        amendments: vec![Amendment {
            date: date(2026, 8, 9),
            by: "A.M.".to_owned(),
            reason: "voucher 7 named again: water stargrass, not flat-stem pondweed".to_owned(),
        }],
        species_maps: SpeciesMaps::Automatic,
    }
}
