//! Did a treatment work?

use super::one::first_line;
use super::{all_records, brief_of, code_of, count, methods, places, taxon_of, unstopped};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::lake::{label_point, polygons_json, project};
use crate::views::{
    ContrastView, ControlView, DensityView, EffectView, EfficacyView, PartChangeView, PartSiteView,
    TaxonEffectView, TreatmentView, WarningView,
};
use findings::Efficacy;
use findings::efficacy::{
    DensityEffect, Effect, EfficacyError, Options, Part, PartChange, Question, TaxonEffect,
};
use findings::stats::Estimate;
use findings::stats::baci::ResampledShare;
use findings::summary::{Everything, summary};
use geo::{Area, Intersects};
use jiff::civil::Date;
use lakebed::coord_of;
use lakebook::LakeBook;
use std::collections::{BTreeMap, HashMap};
use survey::{Origin, Site, SiteId, SiteResult, SurveyRecord, Taxon, TaxonId, Treatment};

/// What is asked of a treatment.
#[derive(Debug, Clone, Default)]
pub struct EfficacyRequest {
    /// Treatments by code (`T1`) or name.
    pub treatments: Vec<String>,
    /// Survey before; the last one before the treatment when not given.
    pub before: Option<String>,
    /// Survey after; the first one after the treatment when not given.
    pub after: Option<String>,
    /// Survey a year on; the first one at least 300 days after `after` when not given.
    pub later: Option<String>,
    /// Codes of the zones untreated sites are taken from; everywhere outside treatments when empty.
    pub control: Vec<String>,
    /// Codes or names of the plants it was meant for; introduced plants found when empty.
    pub targets: Vec<String>,
    /// Smallest fall of frequency, a proportion, that would be called a success.
    pub worthwhile_fall: Option<f64>,
    /// Seed of permutations and resamples.
    pub seed: Option<u64>,
}

/// A survey at least this many days on shows whether an effect lasted.
const A_YEAR_ON: i32 = 300;

/// The treatments of a book, in its order.
///
/// # Errors
/// When the book cannot be read.
pub fn treatments_view(book: &LakeBook) -> Result<Vec<TreatmentView>> {
    let ground = Ground::shore_of(book)?;
    let surveys = book.surveys()?;
    book.treatments()?
        .iter()
        .enumerate()
        .map(|(index, one)| treatment_view(index, one, &ground, &surveys))
        .collect()
}

fn treatment_view(
    index: usize,
    of: &Treatment,
    ground: &Ground,
    surveys: &[survey::Survey],
) -> Result<TreatmentView> {
    let shape = project(ground, &of.area)?;
    let scale = ground.outline.as_ref().map_or(1.0, lakebed::Outline::area_scale);
    let label = label_point(&shape);
    let before = of.before.and_then(|id| surveys.iter().find(|survey| survey.id == id));
    Ok(TreatmentView {
        code: code_at(index),
        name: of.name.clone(),
        method: of.method.key().to_owned(),
        start: of.dates.0.to_string(),
        end: of.dates.1.to_string(),
        area_m2: shape.unsigned_area() * scale,
        reported_area_m2: of.reported_area.map(units::SquareMetres::square_metres),
        by: of.by.clone(),
        before: before.map(|survey| survey.name.clone()),
        note: of.note.clone(),
        label: [label.x, label.y],
        geometry: polygons_json(&shape),
    })
}

fn code_at(index: usize) -> String {
    format!("T{}", index + 1)
}

/// Did it work?
///
/// # Errors
/// When a treatment, survey, zone or plant is not there, or they stand in the wrong order.
pub fn efficacy_view(book: &LakeBook, request: &EfficacyRequest) -> Result<EfficacyView> {
    let all = book.treatments()?;
    let chosen = chosen(&all, &request.treatments)?;
    let records = all_records(book)?;
    let ground = Ground::shore_of(book)?;
    let asked = Asked::of(book, request, &all, chosen, &records, &ground)?;
    let efficacy = asked.answer(request)?;
    asked.view(book, &efficacy, request, &ground)
}

fn chosen(all: &[Treatment], words: &[String]) -> Result<Vec<usize>> {
    let known = || {
        let names: Vec<String> = all
            .iter()
            .enumerate()
            .map(|(index, one)| format!("`{}` ({})", code_at(index), one.name))
            .collect();
        if names.is_empty() {
            "the book has none: add them with `quillwort add BOOK treatments FILE`".to_owned()
        } else {
            format!("one or several of {}", names.join(", "))
        }
    };
    if words.is_empty() {
        return Err(Error::input("no treatment is named").hint(known()));
    }
    let mut chosen = Vec::new();
    for word in words {
        let word = word.trim();
        let place = (0..all.len()).find(|index| {
            code_at(*index).eq_ignore_ascii_case(word)
                || all[*index].name.eq_ignore_ascii_case(word)
        });
        match place {
            Some(place) if chosen.contains(&place) => {}
            Some(place) => chosen.push(place),
            None => {
                return Err(
                    Error::not_found(format!("no treatment `{word}` in the book")).hint(known())
                );
            }
        }
    }
    Ok(chosen)
}

/// A question with everything looked up.
pub(super) struct Asked<'a> {
    all: &'a [Treatment],
    chosen: Vec<usize>,
    before: Option<&'a SurveyRecord>,
    after: &'a SurveyRecord,
    later: Option<&'a SurveyRecord>,
    targets: Vec<TaxonId>,
    target_rule: &'static str,
    control: Vec<String>,
    parts: HashMap<SiteId, Part>,
    /// Sites left out because another treatment lies over them.
    elsewhere_treated: usize,
}

impl<'a> Asked<'a> {
    fn of(
        book: &LakeBook,
        request: &EfficacyRequest,
        all: &'a [Treatment],
        chosen: Vec<usize>,
        records: &'a [SurveyRecord],
        ground: &Ground,
    ) -> Result<Self> {
        let from = chosen.iter().map(|index| all[*index].dates.0).min();
        let to = chosen.iter().map(|index| all[*index].dates.1).max();
        let (Some(from), Some(to)) = (from, to) else {
            return Err(Error::input("no treatment is named"));
        };
        let before = before(request, all, &chosen, records, from)?;
        let after = after(request, records, to)?;
        let later = match &request.later {
            Some(name) => Some(named(records, name)?),
            None => a_year_on(records, after),
        };
        let targets = request
            .targets
            .iter()
            .map(|word| {
                taxon_of(book, word)?.map(|taxon| taxon.id).ok_or_else(|| {
                    Error::input("`any` is no plant a treatment can be meant for")
                        .hint("name the plants by their codes")
                })
            })
            .collect::<Result<Vec<_>>>()?;
        for code in &request.control {
            if !ground.zones.iter().any(|zone| zone.code.as_str().eq_ignore_ascii_case(code)) {
                let known: Vec<&str> = ground.zones.iter().map(|zone| zone.code.as_str()).collect();
                return Err(Error::not_found(format!("no zone `{code}` in the book"))
                    .hint(format!("one of `{}`", known.join("`, `"))));
            }
        }
        Self::put_together(all, chosen, [before, later], after, targets, &request.control, ground)
    }

    /// Sorts the sites into parts; introduced plants found when no target is named.
    pub(super) fn put_together(
        all: &'a [Treatment],
        chosen: Vec<usize>,
        [before, later]: [Option<&'a SurveyRecord>; 2],
        after: &'a SurveyRecord,
        targets: Vec<TaxonId>,
        control: &[String],
        ground: &Ground,
    ) -> Result<Self> {
        let mut asked = Self {
            all,
            chosen,
            before,
            after,
            later,
            target_rule: "as given",
            targets,
            control: control.to_vec(),
            parts: HashMap::new(),
            elsewhere_treated: 0,
        };
        if asked.targets.is_empty() {
            asked.target_rule = "introduced plants found in either survey";
            asked.targets = introduced(before.into_iter().chain([after]));
        }
        for record in before.into_iter().chain([after]).chain(later) {
            asked.sort(record, ground)?;
        }
        Ok(asked)
    }

    fn sort(&mut self, record: &SurveyRecord, ground: &Ground) -> Result<()> {
        let first = self.before.and_then(|record| record.survey.start);
        let last = self.after.survey.end.or(self.after.survey.start);
        let places = places::of_sites(record, ground)?;
        for site in &record.sites {
            let Some(place) = places.get(&site.id) else { continue };
            let at = coord_of(place.lon_lat);
            let inside = |index: usize| self.all[index].area.intersects(&at);
            let treated = self.chosen.iter().any(|index| inside(*index));
            // another treatment since the survey before makes a site neither treated nor untreated
            let other = (0..self.all.len()).any(|index| {
                let dates = self.all[index].dates;
                !self.chosen.contains(&index)
                    && first.is_none_or(|first| dates.1 >= first)
                    && last.is_none_or(|last| dates.0 <= last)
                    && inside(index)
            });
            let in_zone = |zone: &survey::Code| {
                self.control.iter().any(|code| code.eq_ignore_ascii_case(zone.as_str()))
            };
            let untreated = if self.control.is_empty() {
                !treated && !other
            } else {
                site.zone.as_ref().is_some_and(in_zone) && !other
            };
            let is_after = record.survey.id == self.after.survey.id;
            self.elsewhere_treated += usize::from(other && !treated && is_after);
            self.parts.insert(site.id, Part { treated, untreated });
        }
        Ok(())
    }

    pub(super) fn answer(&self, request: &EfficacyRequest) -> Result<Efficacy> {
        let seed = request.seed.unwrap_or(super::USUAL_SEED);
        let part = |site: &Site| self.parts.get(&site.id).copied().unwrap_or_default();
        let question = Question {
            before: self.before,
            after: self.after,
            later: self.later,
            targets: &self.targets,
            part: &part,
        };
        let options =
            Options { worthwhile_fall: request.worthwhile_fall, ..Options::with_seed(seed) };
        Efficacy::of(&question, options).map_err(|error| match error {
            EfficacyError::NoTarget => {
                Error::input("no introduced plant was found in the surveys, and no target is named")
                    .hint("name the plants the treatment was meant for with `--target`")
            }
            other => {
                let hint = other.to_string().split("\nhint: ").nth(1).map(str::to_owned);
                let error = Error::input(first_line(&other));
                match hint {
                    Some(hint) => error.hint(hint),
                    None => error,
                }
            }
        })
    }

    fn view(
        &self,
        book: &LakeBook,
        found: &Efficacy,
        request: &EfficacyRequest,
        ground: &Ground,
    ) -> Result<EfficacyView> {
        let units = book.lake()?.units;
        let surveys = book.surveys()?;
        let mut warnings: Vec<WarningView> = found
            .warnings
            .iter()
            .map(|one| WarningView {
                kind: one.kind().to_owned(),
                message: unstopped(&one.message()),
            })
            .collect();
        if self.elsewhere_treated > 0 {
            warnings.push(WarningView {
                kind: "treated-otherwise".to_owned(),
                message: format!(
                    "Sites in another treatment of the same time: {}. They are in neither part",
                    self.elsewhere_treated
                ),
            });
        }
        warnings.extend(found.survey_warnings.iter().map(|one| super::warning_view(one, units)));
        let listed = &self.after.taxa;
        let together = effect_view(&found.target, listed);
        let everything = Everything { efficacy: Some(found), ..Everything::default() };
        Ok(EfficacyView {
            treatments: self
                .chosen
                .iter()
                .map(|index| treatment_view(*index, &self.all[*index], ground, &surveys))
                .collect::<Result<_>>()?,
            before: self.before.map(brief_of),
            after: brief_of(self.after),
            later: self.later.map(brief_of),
            targets: self.targets.iter().map(|id| code_of(&self.after.taxa, *id)).collect(),
            target_rule: self.target_rule.to_owned(),
            control: self.control.clone(),
            warnings,
            estimate: together.difference.clone(),
            estimate_logit: together.log_odds.clone(),
            abbott: together.abbott.clone(),
            henderson_tilton: together.henderson_tilton.clone(),
            detectable: together.detectable,
            target: found.targets.iter().map(|one| taxon_view(one, listed)).collect(),
            natives: found.natives.iter().map(|one| taxon_view(one, listed)).collect(),
            persistence: found.persistence.as_ref().map(|one| effect_view(one, listed)),
            verdict: found.verdict.words().to_owned(),
            reason: unstopped(found.verdict.reason()),
            sentences: summary(&everything, units).into_iter().map(|one| one.text).collect(),
            sites: self.sites(ground)?,
            permutations: found.options.permutations,
            seed: request.seed.unwrap_or(super::USUAL_SEED),
            methods: methods::of_efficacy(),
            together,
        })
    }

    /// Sites of the survey after, each with its part and what came up before and after.
    fn sites(&self, ground: &Ground) -> Result<Vec<PartSiteView>> {
        let places = places::of_sites(self.after, ground)?;
        let finds = |record: &SurveyRecord| -> BTreeMap<String, bool> {
            let codes: BTreeMap<SiteId, String> =
                record.sites.iter().map(|site| (site.id, site.code.to_string())).collect();
            record
                .visits
                .iter()
                .filter(|visit| matches!(visit.result, SiteResult::Sampled(_)))
                .filter_map(|visit| {
                    let found = |id: &TaxonId| record.largest_on_rake(visit, *id).is_some();
                    Some((codes.get(&visit.site)?.clone(), self.targets.iter().any(found)))
                })
                .collect()
        };
        let before = self.before.map(finds).unwrap_or_default();
        let after = finds(self.after);
        let mut sites = Vec::new();
        for site in &self.after.sites {
            let Some(at) = places.get(&site.id).and_then(|place| place.metres) else { continue };
            let part = self.parts.get(&site.id).copied().unwrap_or_default();
            let code = site.code.to_string();
            sites.push(PartSiteView {
                x: at[0],
                y: at[1],
                part: match (part.treated, part.untreated) {
                    (true, true) => "both",
                    (true, false) => "treated",
                    (false, true) => "untreated",
                    (false, false) => "neither",
                }
                .to_owned(),
                before: before.get(&code).copied(),
                after: after.get(&code).copied(),
                code,
            });
        }
        Ok(sites)
    }
}

fn named<'a>(records: &'a [SurveyRecord], name: &str) -> Result<&'a SurveyRecord> {
    records.iter().find(|record| record.survey.name == name).ok_or_else(|| {
        let known: Vec<&str> = records.iter().map(|record| record.survey.name.as_str()).collect();
        Error::not_found(format!("no survey `{name}`"))
            .hint(format!("one of `{}`", known.join("`, `")))
    })
}

fn before<'a>(
    request: &EfficacyRequest,
    all: &[Treatment],
    chosen: &[usize],
    records: &'a [SurveyRecord],
    from: Date,
) -> Result<Option<&'a SurveyRecord>> {
    if let Some(name) = &request.before {
        let record = named(records, name)?;
        if record.survey.start.is_some_and(|start| start > from) {
            return Err(Error::input(format!(
                "survey `{name}` began after the treatment of {from}"
            ))
            .hint("name a survey from before it with `--before`, or leave it out"));
        }
        return Ok(Some(record));
    }
    let kept = chosen.iter().find_map(|index| all[*index].before);
    if let Some(record) = kept.and_then(|id| records.iter().find(|one| one.survey.id == id)) {
        return Ok(Some(record));
    }
    let sampled = |record: &&SurveyRecord| !record.visits.is_empty();
    Ok(records.iter().filter(sampled).rfind(|record| {
        let end = record.survey.end.or(record.survey.start);
        end.is_some_and(|end| end <= from)
    }))
}

fn after<'a>(
    request: &EfficacyRequest,
    records: &'a [SurveyRecord],
    to: Date,
) -> Result<&'a SurveyRecord> {
    if let Some(name) = &request.after {
        let record = named(records, name)?;
        if record.survey.start.is_some_and(|start| start < to) {
            return Err(Error::input(format!(
                "survey `{name}` began before the treatment of {to} was over"
            ))
            .hint("name a survey from after it with `--after`"));
        }
        return Ok(record);
    }
    records
        .iter()
        .filter(|record| !record.visits.is_empty())
        .find(|record| record.survey.start.is_some_and(|start| start >= to))
        .ok_or_else(|| {
            Error::input(format!("no survey was made after the treatment of {to}"))
                .hint("survey the treated and the untreated part, then ask again")
        })
}

fn a_year_on<'a>(records: &'a [SurveyRecord], after: &SurveyRecord) -> Option<&'a SurveyRecord> {
    let from = after.survey.start?;
    records.iter().filter(|record| !record.visits.is_empty()).find(|record| {
        record
            .survey
            .start
            .is_some_and(|start| start.since(from).is_ok_and(|span| span.get_days() >= A_YEAR_ON))
    })
}

/// Introduced plants that came up on the rake in any of the records.
pub(super) fn introduced<'a>(records: impl Iterator<Item = &'a SurveyRecord>) -> Vec<TaxonId> {
    let mut targets: Vec<TaxonId> = Vec::new();
    for record in records {
        for taxon in record.taxa.iter().filter(|taxon| taxon.origin == Origin::Introduced) {
            if !targets.contains(&taxon.id) && super::acres::found_on_rake(record, taxon.id) {
                targets.push(taxon.id);
            }
        }
    }
    targets
}

fn contrast(of: Option<Estimate>, scale: &str, p: Option<f64>) -> Option<ContrastView> {
    of.map(|one| ContrastView {
        value: one.value,
        low: one.low,
        high: one.high,
        scale: scale.to_owned(),
        p,
    })
}

fn control(of: Option<ResampledShare>) -> Option<ControlView> {
    of.map(|one| ControlView {
        value: one.value,
        low: one.interval.map(|interval| interval.low),
        high: one.interval.map(|interval| interval.high),
    })
}

fn part_view(of: &PartChange) -> PartChangeView {
    PartChangeView { before: count(of.before), after: count(of.after), same_sites: of.same_sites }
}

fn effect_view(of: &Effect, listed: &[Taxon]) -> EffectView {
    EffectView {
        treated: part_view(&of.treated),
        untreated: part_view(&of.untreated),
        difference: contrast(of.difference, "difference of proportions", of.p),
        log_odds: contrast(of.log_odds, "log odds", None),
        p: of.p,
        p_adjusted: of.p_adjusted,
        abbott: control(of.control.abbott),
        henderson_tilton: control(of.control.henderson_tilton),
        detectable: of.detectable,
        density: of.density.as_ref().map(density_view),
        verdict: of.verdict.words().to_owned(),
        may_be: of.may_be.iter().map(|id| code_of(listed, *id)).collect(),
    }
}

fn density_view(of: &DensityEffect) -> DensityView {
    DensityView {
        treated: [of.treated.0, of.treated.1],
        untreated: [of.untreated.0, of.untreated.1],
        difference: contrast(of.difference, "steps of the scale", of.p),
        abbott: control(of.control.abbott),
        henderson_tilton: control(of.control.henderson_tilton),
    }
}

fn taxon_view(of: &TaxonEffect, listed: &[Taxon]) -> TaxonEffectView {
    TaxonEffectView {
        code: of.taxon.code.to_string(),
        scientific_name: of.taxon.scientific_name.clone(),
        common_name: of.taxon.common_name.clone(),
        origin: of.taxon.origin.key().to_owned(),
        effect: effect_view(&of.effect, listed),
    }
}
