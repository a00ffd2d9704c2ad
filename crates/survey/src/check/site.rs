//! One site after another: is it written, and can it be so?

use super::{CheckFinding, History, LakeMap, doubt, fault};
use crate::record::SurveyRecord;
use crate::{GrowthForm, NotSampled, Scope, SiteResult, Taxon, TaxonId, Visit};
use std::collections::BTreeMap;
use units::{LonLat, Metres};

/// Boat farther than this from its planned site is asked about (common practice: a GPS fix is good
/// to 5–10 m, so 30 m is not the instrument).
const FAR_FROM_PLAN: Metres = Metres::new(30.0);
/// Depth off the map by more than this is asked about (common practice).
const DEPTH_OFF: Metres = Metres::from_feet(5.0);
/// Finds of a taxon before its depths are held against a new one (common practice).
const ENOUGH_FINDS: usize = 10;

/// How deep plants of a growth form are expected on a rake: emergent plants stand in shallow water,
/// floating leaves reach the surface from a few metres. Rounded up from general limnology, from
/// memory; a doubt, never a fault.
const fn usual_depth(form: GrowthForm) -> Option<Metres> {
    match form {
        GrowthForm::Emergent => Some(Metres::new(2.0)),
        GrowthForm::FloatingLeaf => Some(Metres::new(4.0)),
        _ => None,
    }
}

pub(super) fn sites(
    record: &SurveyRecord,
    map: &dyn LakeMap,
    history: &History,
    finds: &mut Vec<CheckFinding>,
) {
    let visits = record.visits_by_site();
    let taxa: BTreeMap<TaxonId, &Taxon> =
        record.taxa.iter().map(|taxon| (taxon.id, taxon)).collect();
    let rates_rakes = record.visits.iter().any(|visit| match &visit.result {
        SiteResult::Sampled(sampling) => {
            sampling.throws().iter().any(|throw| throw.total.is_some())
        }
        SiteResult::NotSampled(_) => false,
    });
    let deepest = map.deepest();
    for site in &record.sites {
        let code = site.code.as_str();
        let Some(visit) = visits.get(&site.id) else {
            if site.stands() {
                finds.push(doubt(
                    "no-visit",
                    code,
                    "planned, and nothing is written for it".into(),
                    "record the visit, or record why it was not sampled",
                ));
            }
            continue;
        };
        if visit.result == SiteResult::NotSampled(NotSampled::NoInformation) {
            finds.push(doubt(
                "no-reason",
                code,
                "not sampled, and no reason is written".into(),
                "ask the crew; leave it when nobody knows",
            ));
        }
        sampled(record, visit, code, rates_rakes, finds);
        plants(record, visit, code, &taxa, history, finds);
        depth_against_map(record, visit, site.planned, code, deepest, map, finds);
        if let (Some(fix), Some(planned)) = (visit.actual, site.planned) {
            let off = map.distance(fix.position, planned);
            if off > FAR_FROM_PLAN {
                finds.push(doubt(
                    "far-from-plan",
                    code,
                    format!("the boat was {:.0} m from the planned place", off.metres()),
                    "check the site number and the position; confirm when the site was moved",
                ));
            }
        }
        date_within(record, visit, code, finds);
    }
}

fn sampled(
    record: &SurveyRecord,
    visit: &Visit,
    code: &str,
    rates_rakes: bool,
    finds: &mut Vec<CheckFinding>,
) {
    let SiteResult::Sampled(sampling) = &visit.result else { return };
    if visit.depth.is_none() {
        finds.push(fault(
            "missing-depth",
            code,
            "sampled, and no depth is written".into(),
            "write the depth from the sheet; without it the site is left out of the littoral share",
        ));
    }
    let wanted = usize::from(record.survey.throws_per_site);
    let thrown = sampling.throws().len();
    if sampling.reported().is_none() && thrown < wanted {
        finds.push(doubt(
            "throws-missing",
            code,
            format!("{thrown} of {wanted} rake throws are written"),
            "write the others from the sheet; confirm when fewer were thrown",
        ));
    }
    for throw in sampling.throws() {
        let rated: Vec<_> = throw.observations.iter().filter(|one| record.on_rake(one)).collect();
        if throw.total.is_none() && throw.observations.is_empty() && rates_rakes {
            finds.push(
                doubt(
                    "rake-not-written",
                    code,
                    format!("throw {}: neither plants nor a rating of the rake", throw.number),
                    "rate the rake as bare, or write what was on it",
                )
                .of(throw.number),
            );
        }
        let Some(total) = record.value_of(throw.total) else { continue };
        let largest =
            rated.iter().filter_map(|one| record.value_of(one.rating)).fold(0.0, f64::max);
        if largest > total {
            finds.push(
                fault(
                    "rating-above-total",
                    code,
                    format!(
                        "throw {}: a species is rated `{largest}`, more than the whole rake `{total}`",
                        throw.number
                    ),
                    "correct one of the two from the sheet",
                )
                .of(throw.number),
            );
        }
        if total == 0.0 && !rated.is_empty() {
            finds.push(
                fault(
                    "bare-rake-with-plants",
                    code,
                    format!(
                        "throw {}: the rake is rated bare, yet species are named",
                        throw.number
                    ),
                    "correct the total or the species from the sheet",
                )
                .of(throw.number),
            );
        }
        if total > 0.0 && throw.observations.is_empty() && sampling.reported().is_none() {
            finds.push(
                doubt(
                    "plants-not-named",
                    code,
                    format!("throw {}: the rake was not bare, yet no plant is named", throw.number),
                    "write the plants from the sheet, or an unknown",
                )
                .of(throw.number),
            );
        }
    }
}

/// Plants against depth, against what was looked for.
fn plants(
    record: &SurveyRecord,
    visit: &Visit,
    code: &str,
    taxa: &BTreeMap<TaxonId, &Taxon>,
    history: &History,
    finds: &mut Vec<CheckFinding>,
) {
    let SiteResult::Sampled(sampling) = &visit.result else { return };
    let mut seen = Vec::new();
    for one in sampling.observations().filter(|one| record.says_present(one.rating)) {
        let Some(taxon) = taxa.get(&one.taxon) else { continue };
        if seen.contains(&one.taxon) {
            continue;
        }
        seen.push(one.taxon);
        if let Scope::Only(_) = &record.survey.scope
            && !record.survey.scope.covers(one.taxon)
        {
            finds.push(
                doubt(
                    "outside-scope",
                    code,
                    format!("{} is written, which this survey did not look for", taxon.code),
                    "correct the plant, or widen what the survey looked for",
                )
                .of(&taxon.code),
            );
        }
        let (Some(depth), true) = (visit.depth, record.on_rake(one)) else { continue };
        let before = history.taxa.get(&one.taxon);
        let deeper_than_known = before
            .filter(|known| known.sites >= ENOUGH_FINDS)
            .and_then(|known| known.deepest)
            .filter(|deepest| depth.metres() > 1.5 * deepest.metres() + 0.5);
        if let Some(deepest) = deeper_than_known {
            finds.push(
                doubt(
                    "deeper-than-known",
                    code,
                    format!(
                        "{} at {:.1} ft; in other surveys of this lake never below {:.1} ft",
                        taxon.code,
                        depth.feet(),
                        deepest.feet()
                    ),
                    "check the depth, the plant and the site number; confirm when it was so",
                )
                .of(&taxon.code),
            );
        } else if let Some(usual) =
            usual_depth(taxon.growth_form).filter(|usual| depth.metres() > usual.metres())
        {
            finds.push(
                doubt(
                    "deep-for-its-form",
                    code,
                    format!(
                        "{}, {}, on the rake at {:.1} ft; such plants are expected down to about {:.0} ft",
                        taxon.code,
                        taxon.growth_form.words(),
                        depth.feet(),
                        usual.feet()
                    ),
                    "check the depth and the plant; a loose leaf is written as seen, not on the rake",
                )
                .of(&taxon.code),
            );
        }
    }
}

/// Water level above the map's datum on the day of a visit; of the only day when it has none.
fn level_on_the_day(record: &SurveyRecord, visit: &Visit) -> Option<Metres> {
    let days = &record.survey.conditions;
    let day = visit.time.map(jiff::civil::DateTime::date);
    days.iter()
        .find(|one| one.date.is_some() && one.date == day)
        .or_else(|| (days.len() == 1).then(|| &days[0]))
        .and_then(|one| one.water_level)
}

fn depth_against_map(
    record: &SurveyRecord,
    visit: &Visit,
    planned: Option<LonLat>,
    code: &str,
    deepest: Option<Metres>,
    map: &dyn LakeMap,
    finds: &mut Vec<CheckFinding>,
) {
    let Some(depth) = visit.depth else { return };
    let level = level_on_the_day(record, visit).map_or(0.0, Metres::metres);
    if let Some(deepest) = deepest
        && depth.metres() > deepest.metres() * 1.1 + 0.3 + level.max(0.0)
    {
        finds.push(fault(
            "deeper-than-lake",
            code,
            format!(
                "depth {:.1} ft ({:.1} m) is deeper than the lake, {:.1} ft",
                depth.feet(),
                depth.metres(),
                deepest.feet()
            ),
            "check the unit (feet or metres) and the decimal point",
        ));
        return;
    }
    let Some(place) = visit.actual.map(|fix| fix.position).or(planned) else { return };
    if let Some(on_map) = map.depth_at(place) {
        let expected = (on_map.metres() + level).max(0.0);
        let off = (depth.metres() - expected).abs();
        if off > DEPTH_OFF.metres().max(0.4 * expected) {
            let level = if level == 0.0 {
                String::new()
            } else {
                format!(" with the day's water level of {:+.1} ft", Metres::new(level).feet())
            };
            finds.push(doubt(
                "depth-off-map",
                code,
                format!(
                    "depth {:.1} ft where the map says {:.1} ft{level}",
                    depth.feet(),
                    Metres::new(expected).feet()
                ),
                "check the sheet and the site number; confirm when it was measured so",
            ));
        }
    }
}

fn date_within(record: &SurveyRecord, visit: &Visit, code: &str, finds: &mut Vec<CheckFinding>) {
    let (Some(time), Some(start)) = (visit.time, record.survey.start) else { return };
    let end = record.survey.end.unwrap_or(start);
    if time.date() < start || time.date() > end {
        finds.push(fault(
            "date-outside-survey",
            code,
            format!("visited on {}, outside the survey's {start} to {end}", time.date()),
            "correct the date, or the survey's days",
        ));
    }
}
