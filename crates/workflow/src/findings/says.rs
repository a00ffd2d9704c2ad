//! Alerts and the summary in sentences.

use super::efficacy::{Asked, EfficacyRequest, introduced};
use super::spread::Map;
use super::{count, methods, records};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::views::{AlertView, BoardLimitView, FigureView, SentenceView};
use findings::alerts::{Alert, AlertKind, Limit, Policy, alerts};
use findings::summary::{Everything, Sentence, Topic, summary};
use findings::{Comparison, Efficacy, Spread, SurveyFindings, Trend};
use lakebook::LakeBook;
use survey::{BoardLimit, Code, LimitKind, SurveyRecord, Taxon, Treatment};
use units::UnitSystem;

/// What else the book knows: earlier surveys, treatments, the board's limits.
pub(super) struct Around {
    earlier: Vec<SurveyRecord>,
    treatments: Vec<Treatment>,
    policies: Vec<(usize, Policy)>,
    taxa: Vec<Taxon>,
}

impl Around {
    pub(super) fn of(book: &LakeBook, record: &SurveyRecord) -> Result<Self> {
        let start = record.survey.start;
        let earlier = match start {
            None => Vec::new(),
            Some(start) => records(book, |one| one.start.is_some_and(|day| day < start))?
                .into_iter()
                .filter(|one| !one.visits.is_empty())
                .collect(),
        };
        Ok(Self {
            earlier,
            treatments: book.treatments()?,
            policies: book
                .board_limits()?
                .iter()
                .enumerate()
                .map(|(place, one)| (place + 1, policy(one)))
                .collect(),
            taxa: book.taxa()?,
        })
    }
}

/// A limit of the board as the findings take it.
pub(crate) fn policy(of: &BoardLimit) -> Policy {
    Policy {
        text: of.text.clone(),
        adopted: of.adopted,
        taxon: of.taxon,
        zone: of.zone.clone(),
        limit: match of.limit {
            LimitKind::FrequencyAbove(share) => Limit::FrequencyAbove(share),
            LimitKind::SitesAbove(sites) => Limit::SitesAbove(sites as usize),
            LimitKind::RatingAtLeast(step) => Limit::RatingAtLeast(step),
        },
    }
}

/// The board's limits as they stand in the book.
pub(super) fn limits(around: &Around) -> Vec<BoardLimitView> {
    around.policies.iter().map(|(number, one)| limit_view(*number, one, &around.taxa)).collect()
}

pub(crate) fn limit_view(number: usize, of: &Policy, taxa: &[Taxon]) -> BoardLimitView {
    let (kind, value, words) = match of.limit {
        Limit::FrequencyAbove(share) => (
            "frequency-above",
            share,
            format!("at more than {} % of the sampled sites", units::decimals(share * 100.0, 1)),
        ),
        Limit::SitesAbove(sites) => {
            ("sites-above", sites as f64, format!("at more than {sites} sites"))
        }
        Limit::RatingAtLeast(step) => {
            ("rating-at-least", f64::from(step), format!("rated {step} or more at any site"))
        }
    };
    BoardLimitView {
        number,
        text: of.text.clone(),
        adopted: of.adopted.to_string(),
        taxon: of.taxon.map(|id| super::code_of(taxa, id)),
        zone: of.zone.as_ref().map(Code::to_string),
        kind: kind.to_owned(),
        value,
        words,
    }
}

/// Alerts and sentences of a survey against what else the book knows.
pub(super) fn says(
    record: &SurveyRecord,
    found: &SurveyFindings,
    around: &Around,
    ground: &Ground,
    units: UnitSystem,
    book: &LakeBook,
) -> Result<(Vec<AlertView>, Vec<SentenceView>)> {
    let earlier: Vec<&SurveyRecord> = around.earlier.iter().collect();
    let policies: Vec<Policy> = around.policies.iter().map(|(_, one)| one.clone()).collect();
    let alerts = alerts(&earlier, record, &policies)
        .map_err(|error| Error::fault(format!("a limit in the book: {error}")))?;
    let last = earlier.last().copied();
    let comparison = last.map(|last| Comparison::of(last, record));
    let trends = trends(&earlier, record);
    let moved = moved(last, record, ground, book)?;
    let spread: Vec<(&str, &Spread)> =
        moved.iter().map(|(name, spread)| (name.as_str(), spread)).collect();
    let efficacy = worked(last, record, around, ground)?;
    let everything = Everything {
        survey: Some(found),
        comparison: comparison.as_ref(),
        alerts: &alerts,
        trends: &trends,
        efficacy: efficacy.as_ref(),
        spread: &spread,
    };
    let mut sentences: Vec<SentenceView> =
        summary(&everything, units).iter().map(sentence_view).collect();
    sentences.extend(about_news(&earlier, &alerts, &policies));
    sentences.sort_by_key(|one| TOPICS.iter().position(|(_, key, _)| *key == one.topic));
    let views = alerts.iter().map(|alert| alert_view(alert, around)).collect();
    Ok((views, sentences))
}

/// Any plant and every introduced plant of the survey, with three surveys or more.
fn trends(earlier: &[&SurveyRecord], record: &SurveyRecord) -> Vec<Trend> {
    if earlier.len() < 2 {
        return Vec::new();
    }
    let mut all = earlier.to_vec();
    all.push(record);
    let taxa = introduced(all.iter().copied());
    std::iter::once(Trend::of(&all, None)).chain(Trend::of_each(&all, &taxa)).collect()
}

/// Introduced plants found in both surveys.
fn moved(
    last: Option<&SurveyRecord>,
    record: &SurveyRecord,
    ground: &Ground,
    book: &LakeBook,
) -> Result<Vec<(String, Spread)>> {
    let Some(last) = last else { return Ok(Vec::new()) };
    let here = introduced([record].into_iter());
    let both: Vec<_> =
        introduced([last].into_iter()).into_iter().filter(|id| here.contains(id)).collect();
    if both.is_empty() {
        return Ok(Vec::new());
    }
    let map = Map::of(book, ground, [last, record])?;
    let taxa = record.taxa.iter().filter(|taxon| both.contains(&taxon.id));
    Ok(taxa
        .map(|taxon| {
            let spread = map.spread(last, record, taxon, super::USUAL_SEED);
            (taxon.spoken_name().to_owned(), spread)
        })
        .collect())
}

/// Treatments between the survey before and this one, taken together.
fn worked(
    last: Option<&SurveyRecord>,
    record: &SurveyRecord,
    around: &Around,
    ground: &Ground,
) -> Result<Option<Efficacy>> {
    let Some(start) = record.survey.start else { return Ok(None) };
    let since = last.and_then(|last| last.survey.end.or(last.survey.start));
    let between: Vec<usize> = (0..around.treatments.len())
        .filter(|index| {
            let dates = around.treatments[*index].dates;
            dates.1 <= start && since.is_none_or(|since| dates.0 >= since)
        })
        .collect();
    if between.is_empty() {
        return Ok(None);
    }
    let targets = introduced(last.into_iter().chain([record]));
    if targets.is_empty() {
        return Ok(None);
    }
    let asked = Asked::put_together(
        &around.treatments,
        between,
        [last, None],
        record,
        targets,
        &[],
        ground,
    )?;
    asked.answer(&EfficacyRequest::default()).map(Some)
}

/// Topics in order: what they are called inside, outside, and the question.
const TOPICS: [(Topic, &str, &str); 6] = [
    (Topic::Here, "here", "What is here?"),
    (Topic::New, "new", "What is new?"),
    (Topic::Changed, "changed", "What changed?"),
    (Topic::Moved, "moved", "What moved?"),
    (Topic::Worked, "worked", "Did it work?"),
    (Topic::Sure, "sure", "How sure are we?"),
];

fn topic(of: Topic) -> (&'static str, &'static str) {
    let found = TOPICS.iter().find(|(topic, _, _)| *topic == of);
    found.map_or(("", ""), |(_, key, question)| (key, question))
}

fn sentence_view(of: &Sentence) -> SentenceView {
    let (key, question) = topic(of.topic);
    SentenceView {
        topic: key.to_owned(),
        question: question.to_owned(),
        sentence: of.text.clone(),
        figures: of
            .figures
            .iter()
            .map(|one| FigureView {
                name: one.name.to_owned(),
                value: one.value,
                low: one.low,
                high: one.high,
            })
            .collect(),
        cannot_tell: of.cannot_tell,
        anchor: anchor(of).to_owned(),
    }
}

fn anchor(of: &Sentence) -> &'static str {
    let has = |name: &str| of.figures.iter().any(|figure| figure.name == name);
    match of.topic {
        Topic::Here if has("max_plant_depth_m") => "deepest-plant-and-littoral-sites",
        Topic::Here if has("chao2") => "species-that-were-missed",
        Topic::Here => "frequency-of-occurrence",
        Topic::New => methods::ALERTS,
        Topic::Changed if has("log_odds_per_year") => "trend",
        Topic::Changed => "what-it-says",
        Topic::Moved => "where-it-moved",
        Topic::Worked => "did-it-work",
        Topic::Sure => "not-found",
    }
}

/// What is said when there is nothing to be alarmed at, or no ground to say so.
fn about_news(
    earlier: &[&SurveyRecord],
    alerts: &[Alert],
    policies: &[Policy],
) -> Vec<SentenceView> {
    let (key, question) = topic(Topic::New);
    let say = |text: &str, cannot_tell: bool| SentenceView {
        topic: key.to_owned(),
        question: question.to_owned(),
        sentence: text.to_owned(),
        figures: Vec::new(),
        cannot_tell,
        anchor: methods::ALERTS.to_owned(),
    };
    let first = |alert: &Alert| !matches!(alert.kind, AlertKind::AboveLimit { .. });
    let mut said = Vec::new();
    if earlier.is_empty() {
        said.push(say("Cannot tell what is new: no earlier survey is on record.", true));
    } else if !alerts.iter().any(first) {
        said.push(say(
            "No introduced or listed plant turned up where earlier surveys had not had it.",
            false,
        ));
    }
    if policies.is_empty() {
        said.push(say(
            "The lake board has no written limit on record, so no figure is held against one.",
            false,
        ));
    } else if alerts.iter().all(first) {
        said.push(say("No written limit of the lake board was passed.", false));
    }
    said
}

fn alert_view(of: &Alert, around: &Around) -> AlertView {
    let codes = |sites: &[Code]| sites.iter().map(Code::to_string).collect::<Vec<_>>();
    let mut view = AlertView {
        kind: String::new(),
        code: of.taxon.code.to_string(),
        scientific_name: of.taxon.scientific_name.clone(),
        common_name: of.taxon.common_name.clone(),
        zone: None,
        sites: Vec::new(),
        blanks_before: None,
        frequency: None,
        certain: None,
        limit: None,
        sentence: of.sentence(),
        anchor: methods::ALERTS.to_owned(),
    };
    match &of.kind {
        AlertKind::FirstInLake { blanks_before, sites, .. } => {
            "first-in-lake".clone_into(&mut view.kind);
            view.blanks_before = Some(*blanks_before);
            view.sites = codes(sites);
        }
        AlertKind::FirstInZone { zone, blanks_before, sites } => {
            "first-in-zone".clone_into(&mut view.kind);
            view.zone = Some(zone.to_string());
            view.blanks_before = Some(*blanks_before);
            view.sites = codes(sites);
        }
        AlertKind::AboveLimit { policy, frequency, certain } => {
            "above-limit".clone_into(&mut view.kind);
            view.zone = policy.zone.as_ref().map(Code::to_string);
            view.frequency = Some(count(*frequency));
            view.certain = *certain;
            let number = around.policies.iter().find(|(_, one)| one == policy);
            view.limit =
                Some(limit_view(number.map_or(0, |(number, _)| *number), policy, &around.taxa));
        }
    }
    view
}
