//! What surveys say, as views: one survey, two, a row of them, and what was done between.
//!
//! [`findings_view`] reads one survey, [`compare_view`] two, [`trend_view`] all of them;
//! [`efficacy_view`] asks whether a treatment worked, [`spread_view`] where a plant moved,
//! [`extent_view`] maps its chance over the water. Chance is drawn from a seed that stands with the
//! result.

mod acres;
mod compare;
mod efficacy;
mod groups;
mod methods;
mod one;
mod places;
mod says;
mod shore;
mod spread;
mod trend;

pub use acres::{extent_view, extent_view_on};
pub use compare::compare_view;
pub use efficacy::{EfficacyRequest, efficacy_view, treatments_view};
pub(crate) use one::figures;
pub use one::{findings_view, findings_view_on};
pub(crate) use says::{limit_view, policy};
pub use spread::spread_view;
pub use trend::{trend_view, trends_view};

use crate::error::{Error, Result};
use crate::views::{CountView, EstimateView, FrequencyView, SurveyBriefRef, WarningView};
use findings::Frequency;
use findings::compare::{ComparedSurvey, Warning};
use findings::stats::Estimate;
use lakebook::LakeBook;
use survey::{Survey, SurveyRecord, Taxon, TaxonId};
use units::UnitSystem;

/// Chance is drawn from this number unless another is asked for.
pub const USUAL_SEED: u64 = 1;

/// Code that stands for all plants together.
pub const ANY_PLANT: &str = "any";

fn frequency(of: Frequency) -> FrequencyView {
    FrequencyView { k: of.k, n: of.n, p: of.p, se: of.se, low: of.low, high: of.high }
}

fn count(of: Frequency) -> CountView {
    CountView { k: of.k, n: of.n, p: of.p, low: of.low, high: of.high }
}

fn estimate(of: Estimate) -> EstimateView {
    EstimateView { value: of.value, low: of.low, high: of.high }
}

/// A message without its full stop: whoever shows it ends the sentence.
fn unstopped(text: &str) -> String {
    text.trim_end_matches('.').to_owned()
}

fn warning_view(one: &Warning, units: UnitSystem) -> WarningView {
    WarningView { kind: one.kind().to_owned(), message: unstopped(&one.message(units)) }
}

fn brief(of: &ComparedSurvey) -> SurveyBriefRef {
    SurveyBriefRef {
        survey: of.name.clone(),
        start: of.start.map(|date| date.to_string()),
        scale: of.scale.clone(),
        sampled: of.sampled,
    }
}

fn brief_of(record: &SurveyRecord) -> SurveyBriefRef {
    let sampled =
        record.visits.iter().filter(|visit| matches!(visit.result, survey::SiteResult::Sampled(_)));
    SurveyBriefRef {
        survey: record.survey.name.clone(),
        start: record.survey.start.map(|date| date.to_string()),
        scale: record.scale.key.clone(),
        sampled: sampled.count(),
    }
}

/// Records of all surveys, the earliest first, those without a date last.
fn all_records(book: &LakeBook) -> Result<Vec<SurveyRecord>> {
    records(book, |_| true)
}

/// Records of the surveys wanted, the earliest first, those without a date last.
fn records(book: &LakeBook, wanted: impl Fn(&Survey) -> bool) -> Result<Vec<SurveyRecord>> {
    let mut surveys: Vec<Survey> = book.surveys()?.into_iter().filter(wanted).collect();
    surveys.sort_by_key(|survey| (survey.start.is_none(), survey.start, survey.name.clone()));
    surveys.iter().map(|survey| crate::surveys::in_site_order(book, survey.id)).collect()
}

/// A taxon of the lake's list by its code, an alias or its scientific name; none for `any`.
pub(crate) fn taxon_of(book: &LakeBook, word: &str) -> Result<Option<Taxon>> {
    let word = word.trim();
    if word.eq_ignore_ascii_case(ANY_PLANT) {
        return Ok(None);
    }
    let taxa = book.taxa()?;
    let names = |taxon: &Taxon| {
        std::iter::once(taxon.code.as_str().to_owned())
            .chain(taxon.aliases.iter().map(ToString::to_string))
            .chain([taxon.scientific_name.clone(), taxon.common_name.clone()])
            .any(|name| !name.is_empty() && name.eq_ignore_ascii_case(word))
    };
    taxa.iter().find(|taxon| names(taxon)).cloned().map(Some).ok_or_else(|| {
        let known: Vec<&str> = taxa.iter().map(|taxon| taxon.code.as_str()).collect();
        Error::not_found(format!("no plant `{word}` on the lake's list")).hint(
            if known.is_empty() {
                "the list is empty: add one with `quillwort add BOOK species FILE`".to_owned()
            } else {
                format!("one of `{}`, or a scientific name", known.join("`, `"))
            },
        )
    })
}

fn code_of(taxa: &[Taxon], id: TaxonId) -> String {
    taxa.iter().find(|taxon| taxon.id == id).map_or_else(|| id.to_string(), |t| t.code.to_string())
}
