use super::count;
use super::map::{in_order, map_data, place_of};
use crate::error::Result;
use crate::findings::figures;
use crate::ground::Ground;
use crate::lake::lake_view;
use crate::surveys::rank;
use findings::one::SiteMean;
use findings::{Frequency, SurveyFindings};
use jiff::civil::Date;
use lakebook::LakeBook;
use report::survey_report as paper;
use std::collections::BTreeMap;
use survey::{HowSeen, Rating, Site, SiteResult, SurveyRecord, TaxonId, Visit};
use units::{Metres, SquareMetres};

fn frequency(of: Frequency) -> Option<paper::Frequency> {
    Some(paper::Frequency {
        k: count(of.k),
        n: count(of.n),
        p: of.p?,
        se: of.se.unwrap_or(0.0),
        low: of.low?,
        high: of.high?,
    })
}

fn mean(of: Option<SiteMean>) -> Option<paper::Mean> {
    of.map(|one| paper::Mean { mean: one.mean, se: None, n: count(one.sites) })
}

fn origin(of: survey::Origin) -> paper::Origin {
    match of {
        survey::Origin::Native => paper::Origin::Native,
        survey::Origin::Introduced => paper::Origin::Introduced,
        survey::Origin::Unknown => paper::Origin::Unsettled,
    }
}

/// Steps of the scale that say how much came up, least first.
fn steps(record: &SurveyRecord) -> Vec<paper::ScaleStep> {
    let above = record.scale.steps.iter().filter(|step| step.value.is_some_and(|value| value > 0));
    above
        .map(|step| paper::ScaleStep {
            code: step.code.clone(),
            name: step.name.clone(),
            measure: step.measure.clone(),
        })
        .collect()
}

pub(super) fn survey_report(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
) -> Result<paper::SurveyReport> {
    let found = figures(record, ground.lake.units);
    let survey = &record.survey;
    let start = survey.start.unwrap_or_default();
    let order: BTreeMap<TaxonId, usize> =
        found.taxa.iter().enumerate().map(|(place, one)| (one.taxon.id, place)).collect();
    let mut sites = Vec::new();
    for site in in_order(record) {
        if let Some(row) = report_site(ground, record, site, &order)? {
            sites.push(row);
        }
    }
    let per_site = &found.species_per_site;
    Ok(paper::SurveyReport {
        lake: lake_facts(book, ground)?,
        survey: survey.name.clone(),
        survey_key: survey.id.to_string(),
        dates: (start, survey.end.unwrap_or(start)),
        question: String::new(),
        method: method(ground, record),
        counts: paper::SiteCounts {
            planned: count(found.sites.planned),
            visited: count(found.sites.visited),
            sampled: count(found.sites.sampled),
            vegetated: count(found.sites.vegetated),
            not_sampled: found
                .sites
                .not_sampled
                .iter()
                .map(|(reason, sites)| (reason.words().to_owned(), count(*sites)))
                .collect(),
        },
        any_plant: paper::AnyPlant {
            all: frequency(found.frequency_any.all),
            littoral: frequency(found.frequency_any.littoral),
        },
        max_plant_depth: found.max_plant_depth,
        littoral_sites: count(found.littoral_sites),
        species_per_site: paper::SpeciesPerSite {
            littoral: mean(per_site.littoral),
            vegetated: mean(per_site.vegetated),
            native_littoral: mean(per_site.native_littoral),
            native_where_native: mean(per_site.native_where_native),
        },
        richness: paper::Richness {
            rake: count(found.richness.rake),
            with_visuals: count(found.richness.with_visuals),
            with_shoreline: count(found.richness.with_shoreline),
        },
        simpson: found.diversity.as_ref().map(|one| one.simpson),
        floristic: floristic(&found),
        scale: paper::Scale { name: record.scale.name.clone(), steps: steps(record) },
        taxa: found.taxa.iter().map(|one| taxon(record, one)).collect(),
        sites,
        zones: zones(book, ground)?,
        map: map_data(book, ground, record)?,
        conditions: conditions(record),
        crew: survey
            .crew
            .iter()
            .map(|one| paper::CrewMember {
                name: one.name.clone(),
                role: if one.identified {
                    format!("{}, named the plants", one.role.words())
                } else {
                    one.role.words().to_owned()
                },
            })
            .collect(),
        identification: identification(record),
        cautions: found
            .notes
            .iter()
            .map(|note| sentence(&note.message(ground.lake.units)))
            .collect(),
        seal: survey.seal.as_ref().map(|seal| paper::Seal {
            date: day(&seal.at),
            by: seal.by.clone(),
            checksum: seal.sha256.clone(),
        }),
        amendments: book
            .amendments(survey.id)?
            .into_iter()
            .map(|one| paper::Amendment { date: day(&one.at), by: one.by, reason: one.why })
            .collect(),
        species_maps: paper::SpeciesMaps::Automatic,
    })
}

/// The day of an RFC 3339 time.
fn day(at: &str) -> Date {
    at.get(..10).and_then(|day| day.parse().ok()).unwrap_or_default()
}

/// A message as a sentence: a capital, a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    let stop = if text.ends_with('.') { "" } else { "." };
    format!("{first}{}{stop}", letters.as_str())
}

fn lake_facts(book: &LakeBook, ground: &Ground) -> Result<paper::LakeFacts> {
    let view = lake_view(book, ground, ground.littoral())?;
    let lake = &ground.lake;
    let place: Vec<&str> = [lake.county.as_str(), lake.region.as_str()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    Ok(paper::LakeFacts {
        name: lake.name.clone(),
        place: place.join(", "),
        area: SquareMetres::new(view.area_m2),
        max_depth: view.max_depth_m.map(Metres::new),
        mean_depth: view.mean_depth_m.map(Metres::new),
        littoral: view
            .littoral
            .map(|one| (SquareMetres::new(one.area_m2), Metres::new(one.max_depth_m))),
        hypsography: view
            .hypsography
            .iter()
            .map(|row| (Metres::new(row.depth_m), SquareMetres::new(row.area_m2)))
            .collect(),
        depth_reference: lake.depth_datum.clone(),
        coordinates: ground.crs.name().to_owned(),
    })
}

fn zones(book: &LakeBook, ground: &Ground) -> Result<Vec<paper::ZoneFacts>> {
    let view = lake_view(book, ground, ground.littoral())?;
    Ok(view
        .zones
        .into_iter()
        .map(|zone| paper::ZoneFacts {
            code: zone.code,
            name: zone.name,
            area: SquareMetres::new(zone.area_m2),
        })
        .collect())
}

fn method(ground: &Ground, record: &SurveyRecord) -> paper::Method {
    let survey = &record.survey;
    let units = ground.lake.units;
    let value = |name: &str| {
        survey
            .layout
            .parameters
            .iter()
            .find(|(known, _)| known == name)
            .and_then(|(_, value)| value.parse::<f64>().ok())
    };
    let mut layout = match survey.layout.layout.as_str() {
        "point-grid" => match value("spacing_m") {
            Some(spacing) => {
                let spacing = Metres::new(spacing);
                let text = match units {
                    units::UnitSystem::Us => format!("{} ft", units::decimals(spacing.feet(), 0)),
                    units::UnitSystem::Metric => {
                        format!("{} m", units::decimals(spacing.metres(), 0))
                    }
                };
                format!("an even grid of points, {text} apart")
            }
            None => "an even grid of points".to_owned(),
        },
        "sub-areas" => "one place in each sub-area of the lake's zones".to_owned(),
        "given" => "points given by another source, their numbers kept".to_owned(),
        "" => "sites as recorded in the field".to_owned(),
        other => other.to_owned(),
    };
    if let Some(cap) = survey.depth_cap {
        layout.push_str(&format!(", down to {}", units.depth(cap)));
    }
    let gear = survey.conditions.iter().map(|day| day.gear.as_str()).find(|gear| !gear.is_empty());
    paper::Method {
        layout,
        gear: gear.unwrap_or_default().to_owned(),
        throws: survey.throws_per_site,
        combined: if survey.throws_per_site > 1 {
            "the largest counts".to_owned()
        } else {
            String::new()
        },
        notes: if survey.protocol.is_empty() {
            Vec::new()
        } else {
            vec![sentence(&survey.protocol)]
        },
    }
}

fn floristic(found: &SurveyFindings) -> Option<paper::FloristicQuality> {
    let quality = found.floristic_quality.as_ref()?;
    let rows = found
        .taxa
        .iter()
        .filter(|one| one.sites > 0 && one.taxon.origin == survey::Origin::Native)
        .map(|one| paper::FloristicRow {
            scientific_name: one.taxon.scientific_name.clone(),
            common_name: one.taxon.common_name.clone(),
            c: one.taxon.conservatism.as_ref().map(|c| c.value),
            note: if one.taxon.conservatism.is_none() {
                "not in the table".to_owned()
            } else {
                String::new()
            },
        })
        .collect();
    Some(paper::FloristicQuality {
        n: count(quality.quality.natives),
        mean_c: quality.quality.mean_c,
        fqi: quality.quality.index,
        c_table: quality.c_table.clone(),
        rows,
    })
}

fn taxon(record: &SurveyRecord, one: &findings::one::TaxonFindings) -> paper::TaxonFinding {
    let steps = steps(record);
    let ratings = steps
        .iter()
        .map(|step| {
            let sites = one.rating.distribution.iter().find(|count| count.code == step.code);
            count(sites.map_or(0, |count| count.sites))
        })
        .collect();
    let mut notes = Vec::new();
    if one.taxon.rank == survey::Rank::Genus {
        notes.push("Named to the genus only.".to_owned());
    }
    for voucher in record.vouchers.iter().filter(|voucher| voucher.taxon == one.taxon.id) {
        notes.push(format!("Voucher {}, {}.", voucher.number, voucher.kept_at));
    }
    paper::TaxonFinding {
        code: one.taxon.code.to_string(),
        scientific_name: one.taxon.scientific_name.clone(),
        common_name: one.taxon.common_name.clone(),
        origin: origin(one.taxon.origin),
        listed_noxious: one.taxon.listed_noxious,
        growth_form: one.taxon.growth_form.words().to_owned(),
        sites: count(one.sites),
        visuals: count(one.visuals),
        all: frequency(one.frequency.all),
        littoral: frequency(one.frequency.littoral),
        vegetated: frequency(one.frequency.vegetated),
        relative: one.relative_frequency,
        mean_rating: one.rating.mean,
        ratings,
        max_depth: one.max_depth,
        notes,
    }
}

fn report_site(
    ground: &Ground,
    record: &SurveyRecord,
    site: &Site,
    order: &BTreeMap<TaxonId, usize>,
) -> Result<Option<paper::ReportSite>> {
    let Some((x, y)) = place_of(ground, record, site)? else { return Ok(None) };
    let visit = record.visits.iter().find(|visit| visit.site == site.id);
    let plants = record.plants();
    let outcome = match visit.map(|visit| &visit.result) {
        None => paper::SiteOutcome::NotVisited,
        Some(SiteResult::NotSampled(reason)) => {
            paper::SiteOutcome::NotSampled(reason.words().to_owned())
        }
        Some(SiteResult::Sampled(_)) => paper::SiteOutcome::Sampled {
            with_plants: visit.is_some_and(|visit| record.has_plants(visit, &plants)),
        },
    };
    Ok(Some(paper::ReportSite {
        code: site.code.to_string(),
        zone: site.zone.as_ref().map(ToString::to_string).unwrap_or_default(),
        x,
        y,
        depth: visit.and_then(|visit| visit.depth),
        bottom: visit
            .and_then(|visit| visit.sediment)
            .map(|one| one.words().to_owned())
            .unwrap_or_default(),
        outcome,
        found: visit.map(|visit| occurrences(record, visit, order)).unwrap_or_default(),
        note: visit.map(|visit| visit.note.clone()).unwrap_or_default(),
    }))
}

fn occurrences(
    record: &SurveyRecord,
    visit: &Visit,
    order: &BTreeMap<TaxonId, usize>,
) -> Vec<paper::Occurrence> {
    let SiteResult::Sampled(sampling) = &visit.result else { return Vec::new() };
    let mut found: BTreeMap<usize, (bool, Option<Rating>)> = BTreeMap::new();
    for one in sampling.observations().filter(|one| record.says_present(one.rating)) {
        let Some(&place) = order.get(&one.taxon) else { continue };
        let on_rake = one.seen == HowSeen::Rake && record.on_rake(one);
        let entry = found.entry(place).or_insert((on_rake, one.rating));
        if on_rake && !entry.0 {
            *entry = (true, one.rating);
        } else if on_rake == entry.0 {
            entry.1 = entry.1.max(one.rating);
        }
    }
    found
        .into_iter()
        .map(|(taxon, (on_rake, rating))| paper::Occurrence {
            taxon,
            how: if on_rake {
                let step = rating.and_then(|rating| rank(&record.scale, rating)).unwrap_or(1);
                paper::HowSeen::Rake { step: u8::try_from(step).unwrap_or(1) }
            } else {
                paper::HowSeen::Visual
            },
        })
        .collect()
}

fn conditions(record: &SurveyRecord) -> Vec<paper::Conditions> {
    record
        .survey
        .conditions
        .iter()
        .filter_map(|day| {
            let mut weather = day.weather.clone();
            if !day.wind_words.is_empty() {
                if !weather.is_empty() {
                    weather.push_str(", ");
                }
                weather.push_str(&day.wind_words);
            }
            Some(paper::Conditions {
                date: day.date?,
                air: day.air,
                water: day.water,
                secchi: day.secchi,
                weather,
                water_level: day
                    .water_level
                    .map(|level| format!("{:+.2} m", level.metres()))
                    .unwrap_or_default(),
            })
        })
        .collect()
}

fn identification(record: &SurveyRecord) -> String {
    let named: Vec<&str> = record
        .survey
        .crew
        .iter()
        .filter(|one| one.identified)
        .map(|one| one.name.as_str())
        .collect();
    match named.as_slice() {
        [] => String::new(),
        names => format!(
            "Plants named by {}; {} vouchers kept.",
            names.join(" and "),
            record.vouchers.len()
        ),
    }
}
