//! What the findings say, in sentences made by rules, each with the figures behind it.

use crate::Frequency;
use crate::alerts::Alert;
use crate::compare::{Change, Comparison, Verdict as ChangeVerdict};
use crate::efficacy::{Efficacy, EfficacyVerdict};
use crate::one::SurveyFindings;
use crate::spread::Spread;
use crate::stats::Estimate;
use crate::trend::{Trend, TrendVerdict, capital};
use survey::Origin;
use units::{UnitSystem, decimals};

/// A sentence and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    /// The question it answers.
    pub topic: Topic,
    /// The sentence.
    pub text: String,
    /// The figures in it, by name.
    pub figures: Vec<Figure>,
    /// True when the answer is that nobody can tell.
    pub cannot_tell: bool,
}

/// The question a sentence answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// What is here?
    Here,
    /// What is new?
    New,
    /// What changed?
    Changed,
    /// What moved?
    Moved,
    /// Did it work?
    Worked,
    /// How sure are we?
    Sure,
}

/// A figure behind a sentence, with its interval when it has one.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Stable name, e.g. `frequency_any`.
    pub name: &'static str,
    /// The figure.
    pub value: f64,
    /// Lower limit.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}

impl Figure {
    fn plain(name: &'static str, value: f64) -> Self {
        Self { name, value, low: None, high: None }
    }

    fn of(name: &'static str, of: Estimate) -> Self {
        Self { name, value: of.value, low: Some(of.low), high: Some(of.high) }
    }

    fn share(name: &'static str, of: Frequency) -> Option<Self> {
        Some(Self { name, value: of.p?, low: of.low, high: of.high })
    }
}

/// All findings there are; sentences are made of those that are given.
#[derive(Debug, Clone, Copy, Default)]
pub struct Everything<'a> {
    /// The latest survey.
    pub survey: Option<&'a SurveyFindings>,
    /// Against the one before.
    pub comparison: Option<&'a Comparison>,
    /// Alerts.
    pub alerts: &'a [Alert],
    /// Trends.
    pub trends: &'a [Trend],
    /// Did a treatment work?
    pub efficacy: Option<&'a Efficacy>,
    /// What moved, with the spoken name of the plant.
    pub spread: &'a [(&'a str, &'a Spread)],
}

/// The summary, topics in order. Depths and distances in the units of the reader.
pub fn summary(findings: &Everything<'_>, units: UnitSystem) -> Vec<Sentence> {
    let mut all = Vec::new();
    if let Some(survey) = findings.survey {
        all.extend(here(survey, units));
        all.extend(sure(survey));
    }
    all.extend(findings.alerts.iter().map(|alert| Sentence {
        topic: Topic::New,
        text: alert.sentence(),
        figures: Vec::new(),
        cannot_tell: false,
    }));
    if let Some(comparison) = findings.comparison {
        all.extend(changed(comparison));
    }
    all.extend(findings.trends.iter().map(trend));
    all.extend(findings.spread.iter().map(|(name, spread)| moved(name, spread, units)));
    if let Some(efficacy) = findings.efficacy {
        all.extend(worked(efficacy));
    }
    all.sort_by_key(|sentence| sentence.topic);
    all
}

fn percent(share: f64) -> String {
    decimals(share * 100.0, 0)
}

fn with_interval(frequency: Frequency) -> String {
    match (frequency.p, frequency.low, frequency.high) {
        (Some(p), Some(low), Some(high)) => format!(
            "{} % ({} of {} sites, 95 % interval {} to {} %)",
            percent(p),
            frequency.k,
            frequency.n,
            percent(low),
            percent(high)
        ),
        _ => "an unknown share".to_owned(),
    }
}

fn say(topic: Topic, text: String, figures: Vec<Figure>) -> Sentence {
    Sentence { topic, text, figures, cannot_tell: false }
}

fn untold(topic: Topic, text: String, figures: Vec<Figure>) -> Sentence {
    Sentence { topic, text, figures, cannot_tell: true }
}

fn here(survey: &SurveyFindings, units: UnitSystem) -> Vec<Sentence> {
    if survey.sites.sampled == 0 {
        let text = "Cannot tell what grows here: no site was sampled.".to_owned();
        return vec![untold(Topic::Here, text, Vec::new())];
    }
    let any = survey.frequency_any.all;
    let mut all = vec![say(
        Topic::Here,
        format!("Plants came up at {}.", with_interval(any)),
        Figure::share("frequency_any", any).into_iter().collect(),
    )];
    if let Some(depth) = survey.max_plant_depth {
        all.push(say(
            Topic::Here,
            format!("The deepest plant came up from {}.", units.depth(depth)),
            vec![Figure::plain("max_plant_depth_m", depth.metres())],
        ));
    }
    let plants = || survey.taxa.iter().filter(|one| one.taxon.is_plant() && one.sites > 0);
    let introduced = plants().filter(|one| one.taxon.origin == Origin::Introduced).count();
    if survey.richness.rake > 0 {
        let mut text = format!(
            "{} kinds of plants came up, {introduced} of them introduced",
            survey.richness.rake
        );
        let mut figures = vec![
            Figure::plain("richness", survey.richness.rake as f64),
            Figure::plain("introduced", introduced as f64),
        ];
        if let Some(estimated) = &survey.estimated_richness {
            let (value, low, high) = (
                estimated.chao2.value,
                estimated.chao2.interval.low,
                estimated.chao2.interval.high,
            );
            text = format!(
                "{text}; the lake may hold about {} (95 % interval {} to {})",
                decimals(value, 0),
                decimals(low, 0),
                decimals(high, 0)
            );
            figures.push(Figure::of("chao2", Estimate { value, low, high }));
        }
        all.push(say(Topic::Here, format!("{text}."), figures));
    }
    let mut commonest: Vec<_> = plants().take(3).collect();
    commonest.extend(plants().skip(3).filter(|one| one.taxon.origin == Origin::Introduced));
    all.extend(commonest.into_iter().map(|one| {
        let kind = if one.taxon.origin == Origin::Introduced { " (introduced)" } else { "" };
        let frequency = one.frequency.all;
        say(
            Topic::Here,
            format!(
                "{}{kind} came up at {}.",
                capital(one.taxon.spoken_name()),
                with_interval(frequency)
            ),
            Figure::share("frequency", frequency).into_iter().collect(),
        )
    }));
    all
}

fn sure(survey: &SurveyFindings) -> Option<Sentence> {
    let share = survey.missed_at_most?;
    Some(say(
        Topic::Sure,
        format!(
            "A plant that was not found may still stand at up to {} % of places (95 %; {} sites, if \
             the rake never misses).",
            decimals(share * 100.0, 1),
            survey.sites.sampled
        ),
        vec![
            Figure::plain("missed_at_most", share),
            Figure::plain("sites_sampled", survey.sites.sampled as f64),
        ],
    ))
}

fn change_figures(change: &Change) -> Vec<Figure> {
    let mut figures = Vec::new();
    if let Some(one) = change.difference {
        let of = Estimate { value: one.value, low: one.low, high: one.high };
        figures.push(Figure::of("difference", of));
    }
    figures.extend(change.p_adjusted.or(change.p).map(|p| Figure::plain("p", p)));
    figures.extend(change.detectable.smallest().map(|least| Figure::plain("detectable", least)));
    figures
}

fn changed(comparison: &Comparison) -> Vec<Sentence> {
    let between = format!("between {} and {}", comparison.from.name, comparison.to.name);
    let points = |change: &Change| {
        change.difference.map_or_else(String::new, |one| {
            format!(
                "{} to {} %, difference {} points, 95 % interval {} to {}",
                percent(change.from.p.unwrap_or(0.0)),
                percent(change.to.p.unwrap_or(0.0)),
                percent(one.value),
                percent(one.low),
                percent(one.high)
            )
        })
    };
    let sentence = |name: &str, change: &Change| match change.verdict {
        ChangeVerdict::Rose => Some(say(
            Topic::Changed,
            format!("{name} became commoner {between} ({}).", points(change)),
            change_figures(change),
        )),
        ChangeVerdict::Fell => Some(say(
            Topic::Changed,
            format!("{name} became rarer {between} ({}).", points(change)),
            change_figures(change),
        )),
        ChangeVerdict::CannotTell | ChangeVerdict::NotCompared(_) => None,
    };
    let mut all: Vec<Sentence> = sentence("Plant growth", &comparison.any)
        .into_iter()
        .chain(
            comparison
                .taxa
                .iter()
                .filter_map(|one| sentence(&capital(one.taxon.spoken_name()), &one.change)),
        )
        .collect();
    let tested = comparison.taxa.iter().filter(|one| one.change.p.is_some());
    let still: Vec<_> =
        tested.filter(|one| one.change.verdict == ChangeVerdict::CannotTell).collect();
    if !still.is_empty() {
        let least = still
            .iter()
            .filter_map(|one| one.change.detectable.smallest())
            .fold(f64::INFINITY, f64::min);
        let could = if least.is_finite() {
            format!("; a change of less than {} points could not have shown in any", percent(least))
        } else {
            String::new()
        };
        let mut figures = vec![Figure::plain("taxa", still.len() as f64)];
        figures.extend(least.is_finite().then(|| Figure::plain("detectable", least)));
        all.push(untold(
            Topic::Changed,
            format!(
                "For {} other kinds the surveys cannot tell whether they changed {between}{could}.",
                still.len()
            ),
            figures,
        ));
    }
    if comparison.any.p.is_none() && all.is_empty() {
        let text = format!("Cannot tell what changed {between}: no sites can be compared.");
        all.push(untold(Topic::Changed, text, Vec::new()));
    }
    all
}

fn trend(trend: &Trend) -> Sentence {
    let figures = trend.model.as_ref().map_or_else(
        |_| Vec::new(),
        |model| {
            vec![
                Figure::of("log_odds_per_year", model.per_year),
                Figure::plain("p", model.p),
                Figure::plain("surveys", model.surveys as f64),
            ]
        },
    );
    Sentence {
        topic: Topic::Changed,
        text: trend.sentence(),
        figures,
        cannot_tell: trend.verdict == TrendVerdict::CannotTell,
    }
}

const WINDS: [&str; 8] =
    ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

/// The wind a bearing points to, in words.
pub fn direction(bearing: f64) -> &'static str {
    WINDS[(bearing / 45.0).round().rem_euclid(8.0) as usize % 8]
}

/// A way in words: short ones in feet or metres, long ones in miles or kilometres.
fn way(metres: f64, units: UnitSystem) -> String {
    let length = units::Metres::new(metres);
    match units {
        UnitSystem::Us if length.feet() < 1_000.0 => format!("{} ft", decimals(length.feet(), 0)),
        UnitSystem::Metric if metres < 1_000.0 => format!("{} m", decimals(metres, 0)),
        _ => units.distance(length),
    }
}

fn moved(name: &str, spread: &Spread, units: UnitSystem) -> Sentence {
    let shift = match &spread.shift {
        Ok(shift) => shift,
        Err(why) => {
            let text = format!("Cannot tell whether {name} moved: {why}.");
            return untold(Topic::Moved, text, Vec::new());
        }
    };
    let figures = vec![
        Figure::of("shift_m", shift.metres),
        Figure::plain("bearing_deg", shift.bearing),
        Figure::plain("p", shift.p),
    ];
    let way = way(shift.metres.value, units);
    if shift.p <= crate::compare::change::LEVEL {
        let wind = direction(shift.bearing);
        let text = format!("The middle of {name} moved {way} to the {wind} (p {:.3}).", shift.p);
        say(Topic::Moved, text, figures)
    } else {
        let text = format!(
            "Cannot tell whether {name} moved: its middle shifted {way}, as chance may do (p {:.2}).",
            shift.p
        );
        untold(Topic::Moved, text, figures)
    }
}

fn worked(efficacy: &Efficacy) -> Vec<Sentence> {
    let target = &efficacy.target;
    let mut figures = Vec::new();
    figures.extend(target.difference.map(|one| Figure::of("difference", one)));
    figures.extend(target.p.map(|p| Figure::plain("p", p)));
    figures.extend(target.detectable.map(|least| Figure::plain("detectable", least)));
    let told = target.difference.map_or_else(String::new, |one| {
        format!(
            " ({} points beyond the untreated part, 95 % interval {} to {})",
            percent(one.value),
            percent(one.low),
            percent(one.high)
        )
    });
    let reason = efficacy.verdict.reason();
    let sentence = match efficacy.verdict {
        EfficacyVerdict::Yes => {
            say(Topic::Worked, format!("The treatment worked. {reason}{told}"), figures)
        }
        EfficacyVerdict::No(_) => {
            say(Topic::Worked, format!("The treatment did not work. {reason}{told}"), figures)
        }
        EfficacyVerdict::CannotTell(_) => {
            let could = target.detectable.map_or_else(String::new, |least| {
                format!(" An effect of {} points would have been needed to show.", percent(least))
            });
            let text = format!("Cannot tell whether the treatment worked. {reason}{told}{could}");
            untold(Topic::Worked, text, figures)
        }
    };
    let harmed = efficacy.natives.iter().filter(|one| one.effect.verdict == ChangeVerdict::Fell);
    std::iter::once(sentence)
        .chain(harmed.map(|one| {
            let difference = one.effect.difference;
            say(
                Topic::Worked,
                format!(
                    "{}, a native, fell in the treated part beyond the untreated.",
                    capital(one.taxon.spoken_name())
                ),
                difference.map(|one| Figure::of("difference", one)).into_iter().collect(),
            )
        }))
        .collect()
}

#[cfg(test)]
mod tests;
