//! Did a plant become commoner or rarer over the years?

use crate::Frequency;
use crate::compare::change::{LEVEL, found_anywhere, has};
use crate::compare::names::{any, may_be_one, places};
use crate::compare::warning::middle_day;
use crate::sampled::{Sampled, SampledSite};
use crate::stats::distribution::{student_two_sided, student_two_tails};
use crate::stats::logistic::{Group, LogisticError, fit};
use crate::stats::mann_kendall::{MannKendall, MannKendallError, mann_kendall};
use crate::stats::power::Goal;
use crate::stats::{Confidence, Estimate};
use jiff::civil::Date;
use std::collections::{BTreeSet, HashSet};
use survey::{SurveyId, SurveyRecord, TaxonId};
use thiserror::Error;
use units::Metres;

/// What several surveys say of one plant, or of all plants together, over the years.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// The plant; none for any plant.
    pub taxon: Option<TaxonId>,
    /// What it is called.
    pub name: String,
    /// Every survey, the earliest first, those without a date last.
    pub surveys: Vec<TrendPoint>,
    /// Where scale or method changed: surveys on both sides are not compared with each other.
    pub breaks: Vec<Break>,
    /// Depth all surveys reached, when some stopped by rule: deeper sites are left out.
    pub shared_depth: Option<Metres>,
    /// Logistic trend on sites with year.
    pub model: Result<TrendModel, NoTrend>,
    /// Mann–Kendall test and Sen's slope on frequencies, a proportion a year.
    pub mann_kendall: Result<MannKendall, MannKendallError>,
    /// What may be said.
    pub verdict: TrendVerdict,
    /// Other names the plant may have been written down under, which left nothing to say; empty when the
    /// verdict stands.
    pub may_be: Vec<String>,
}

/// One survey in a trend.
#[derive(Debug, Clone, PartialEq)]
pub struct TrendPoint {
    /// The survey.
    pub survey: SurveyId,
    /// Its name.
    pub name: String,
    /// The day halfway through it.
    pub date: Option<Date>,
    /// The same as a year with decimals.
    pub year: Option<f64>,
    /// Of the sampled sites within the shared depth.
    pub frequency: Frequency,
    /// Number of the stretch between breaks, from 0.
    pub stretch: usize,
    /// Sites more where it may have been written down under another name: its genus, or one of its
    /// species.
    pub named_otherwise: usize,
    /// Why it takes no part; none when it does.
    pub left_out: Option<LeftOut>,
    /// Share the model gives on that day; none when it is not in a fit.
    pub fitted: Option<f64>,
}

/// Why a survey takes no part in a trend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// It has no date.
    NoDate,
    /// No sampled site within the shared depth.
    NoSites,
    /// The plant was not looked for.
    NotLookedFor,
    /// The plant is not on that survey's list: merged with another then, or split later.
    NotOnTheList,
}

/// A change of scale or method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Break {
    /// The survey from which on it holds.
    pub from: SurveyId,
    /// Its name.
    pub name: String,
    /// What changed.
    pub what: BreakKind,
    /// Why the scale was changed; empty when nobody said, and for other breaks.
    pub why: String,
}

/// What changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BreakKind {
    /// The rating scale.
    Scale,
    /// The method.
    Method,
    /// The number of throws a site.
    Throws,
}

/// A fitted trend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrendModel {
    /// Change of the log odds a year.
    pub per_year: Estimate,
    /// Two-sided p value.
    pub p: f64,
    /// How much more or less than a binomial the surveys vary, 1 for alike.
    pub overdispersion: f64,
    /// Surveys less coefficients.
    pub degrees_of_freedom: usize,
    /// Surveys in the fit.
    pub surveys: usize,
    /// Smallest change of the log odds a year these surveys show 8 times in 10 at two-sided 5 %.
    pub detectable: f64,
}

impl TrendModel {
    /// What the odds are multiplied by each year.
    pub fn odds_ratio(&self) -> Estimate {
        let Estimate { value, low, high } = self.per_year;
        Estimate { value: value.exp(), low: low.exp(), high: high.exp() }
    }
}

/// Why no trend was fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NoTrend {
    /// Too few surveys.
    #[error(
        "`{surveys}` comparable surveys show no trend: expected at least 3 within a stretch of one scale and method"
    )]
    TooFewSurveys {
        /// Surveys that could take part.
        surveys: usize,
    },
    /// Never found.
    #[error("never found in these surveys")]
    NeverFound,
    /// Found at every site of every survey.
    #[error("found at every site of every survey")]
    Everywhere,
    /// Found only before or only after some survey, so that no slope is steep enough.
    #[error("found only at one end of the years: no slope can be fitted")]
    OnlyAtOneEnd,
    /// The fit failed otherwise.
    #[error(transparent)]
    Fit(LogisticError),
}

/// What may be said of a trend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TrendVerdict {
    /// Up, p of the model at most 0.05.
    Rising,
    /// Down.
    Falling,
    /// Neither can be shown.
    CannotTell,
}

impl TrendVerdict {
    /// `rising`, `falling` or `cannot tell`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rising => "rising",
            Self::Falling => "falling",
            Self::CannotTell => "cannot tell",
        }
    }
}

impl Trend {
    /// The trend of a plant, or of any plant, over records of one lake in any order.
    ///
    /// # Formula
    /// `logit p = aₛ + b·year`: an intercept for every stretch between changes of scale, method or
    /// throws, one slope. Surveys vary more than a binomial, or less where sites are the same
    /// (quasi-binomial): standard errors times `√φ`, `φ = X²/df`, and Student's t.
    /// # Units
    /// Log odds a year.
    /// # Assumptions
    /// A straight line in log odds, surveys independent of one another given the year. Where the genus of
    /// a species was written down too, or a species of a genus, a verdict stands only when both together
    /// bear it out.
    /// # References
    /// McCullagh & Nelder (1989), Generalized Linear Models, section 4.5 (from memory).
    pub fn of(records: &[&SurveyRecord], taxon: Option<TaxonId>) -> Self {
        Ordered::of(records).trend(taxon)
    }

    /// The trend of each of several plants, the records read once; see [`Trend::of`].
    pub fn of_each(records: &[&SurveyRecord], taxa: &[TaxonId]) -> Vec<Self> {
        let ordered = Ordered::of(records);
        taxa.iter().map(|taxon| ordered.trend(Some(*taxon))).collect()
    }

    /// The answer in a sentence with its figures.
    pub fn sentence(&self) -> String {
        let used: Vec<&TrendPoint> =
            self.surveys.iter().filter(|point| point.left_out.is_none()).collect();
        let (Some(first), Some(last)) = (used.first(), used.last()) else {
            return format!("Cannot tell how {} changed: no survey can be used.", self.name);
        };
        let percent = |share: f64| units::decimals(share * 100.0, 0);
        let span = |point: &TrendPoint| {
            let year = point.date.map_or_else(String::new, |date| date.year().to_string());
            format!("{} % in {year}", percent(point.frequency.p.unwrap_or(0.0)))
        };
        let model = match &self.model {
            Ok(model) => model,
            Err(why) => return format!("Cannot tell how {} changed: {why}.", self.name),
        };
        let ratio = model.odds_ratio();
        let shares = (span(first), span(last));
        match self.verdict {
            TrendVerdict::CannotTell if !self.may_be.is_empty() => format!(
                "Cannot tell whether {} became commoner or rarer: {}, {}, but it may have been written \
                 down as {} too.",
                self.name,
                shares.0,
                shares.1,
                self.may_be.join(" or ")
            ),
            TrendVerdict::CannotTell => {
                let least = model.detectable.exp();
                let reach = if least > MOST_SAID {
                    "hardly any change could have shown".to_owned()
                } else {
                    format!(
                        "a change in the odds of less than {} % a year could not have shown",
                        signed(least)
                    )
                };
                format!(
                    "Cannot tell whether {} became commoner or rarer: {}, {} ({} surveys; {reach}).",
                    self.name, shares.0, shares.1, model.surveys
                )
            }
            verdict => format!(
                "{} became {}, from {} to {} (odds {} % a year, 95 % interval {} to {} %, {} surveys).",
                capital(&self.name),
                if verdict == TrendVerdict::Rising { "commoner" } else { "rarer" },
                shares.0,
                shares.1,
                signed(ratio.value),
                signed(ratio.low),
                signed(ratio.high),
                model.surveys
            ),
        }
    }
}

/// Odds ratios a year beyond this are only said to be more.
const MOST_SAID: f64 = 11.0;

/// Records in the order of their days, read once.
struct Ordered<'r> {
    records: Vec<(&'r SurveyRecord, Sampled<'r>)>,
    shared_depth: Option<Metres>,
    breaks: Vec<Break>,
}

impl<'r> Ordered<'r> {
    fn of(records: &[&'r SurveyRecord]) -> Self {
        let mut ordered: Vec<&SurveyRecord> = records.to_vec();
        ordered.sort_by_key(|record| {
            let day = middle_day(&record.survey);
            (day.is_none(), day, record.survey.name.clone())
        });
        Self {
            shared_depth: shared_depth(&ordered),
            breaks: breaks(&ordered),
            records: ordered.into_iter().map(|record| (record, Sampled::of(record))).collect(),
        }
    }

    /// Taxa found that may be this one under another name.
    fn other_names(&self, id: TaxonId) -> Vec<TaxonId> {
        let listed = || self.records.iter().rev().flat_map(|(record, _)| &record.taxa);
        let Some(own) = listed().find(|one| one.id == id) else { return Vec::new() };
        let found: HashSet<TaxonId> = self
            .records
            .iter()
            .flat_map(|(record, sampled)| found_anywhere(record, sampled))
            .collect();
        let others: BTreeSet<TaxonId> = listed()
            .filter(|one| one.id != id && found.contains(&one.id) && may_be_one(own, one))
            .map(|one| one.id)
            .collect();
        others.into_iter().collect()
    }

    fn trend(&self, taxon: Option<TaxonId>) -> Trend {
        let others = taxon.map_or_else(Vec::new, |id| self.other_names(id));
        let mut stretch = 0;
        let mut surveys: Vec<TrendPoint> = self
            .records
            .iter()
            .enumerate()
            .map(|(place, (record, sampled))| {
                let broken = self.breaks.iter().any(|one| one.from == record.survey.id);
                stretch += usize::from(place > 0 && broken);
                point(record, sampled, (taxon, &others), self.shared_depth, stretch)
            })
            .collect();
        let model = model(&surveys).map(|(model, line)| {
            for point in &mut surveys {
                point.fitted = line.at(point);
            }
            model
        });
        let named = verdict(model.as_ref().ok());
        let together = || verdict(model_of_all_names(&surveys).as_ref());
        let stands = named == TrendVerdict::CannotTell
            || surveys.iter().all(|point| point.named_otherwise == 0)
            || together() == named;
        Trend {
            taxon,
            name: taxon.map_or_else(|| "any plant".to_owned(), |id| self.name(id)),
            breaks: self.breaks.clone(),
            shared_depth: self.shared_depth,
            mann_kendall: mann_kendall(&stretches(&surveys)),
            model,
            verdict: if stands { named } else { TrendVerdict::CannotTell },
            may_be: if stands {
                Vec::new()
            } else {
                others.iter().map(|id| self.name(*id)).collect()
            },
            surveys,
        }
    }

    /// As the latest list that has it calls it.
    fn name(&self, id: TaxonId) -> String {
        let mut listed = self.records.iter().rev().flat_map(|(record, _)| &record.taxa);
        listed
            .find(|one| one.id == id)
            .map_or_else(|| id.to_string(), |one| one.spoken_name().to_owned())
    }
}

fn verdict(model: Option<&TrendModel>) -> TrendVerdict {
    match model {
        Some(model) if model.p <= LEVEL && model.per_year.value > 0.0 => TrendVerdict::Rising,
        Some(model) if model.p <= LEVEL && model.per_year.value < 0.0 => TrendVerdict::Falling,
        _ => TrendVerdict::CannotTell,
    }
}

/// The model of a plant and of the names it may have been written down under together.
fn model_of_all_names(surveys: &[TrendPoint]) -> Option<TrendModel> {
    let mut all = surveys.to_vec();
    for point in &mut all {
        let Frequency { k, n, .. } = point.frequency;
        point.frequency = Frequency::of(k + point.named_otherwise, n);
    }
    model(&all).ok().map(|(model, _)| model)
}

fn signed(ratio: f64) -> String {
    if ratio > MOST_SAID {
        return "more than +1000".to_owned();
    }
    let percent = units::decimals((ratio - 1.0) * 100.0, 0);
    if ratio > 1.0 && percent != "0" { format!("+{percent}") } else { percent }
}

pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The least depth at which a survey stopped, when not all stopped there.
fn shared_depth(records: &[&SurveyRecord]) -> Option<Metres> {
    let least = records.iter().filter_map(|record| record.survey.depth_cap).reduce(Metres::min)?;
    records.iter().any(|record| record.survey.depth_cap != Some(least)).then_some(least)
}

fn breaks(records: &[&SurveyRecord]) -> Vec<Break> {
    let mut found = Vec::new();
    for pair in records.windows(2) {
        let (one, other) = (pair[0], pair[1]);
        let kinds = [
            (!one.scale.same_steps(&other.scale), BreakKind::Scale),
            (one.survey.method != other.survey.method, BreakKind::Method),
            (one.survey.throws_per_site != other.survey.throws_per_site, BreakKind::Throws),
        ];
        found.extend(kinds.into_iter().filter(|(differs, _)| *differs).map(|(_, what)| Break {
            from: other.survey.id,
            name: other.survey.name.clone(),
            what,
            why: match what {
                BreakKind::Scale => other.survey.scale_reason.clone(),
                BreakKind::Method | BreakKind::Throws => String::new(),
            },
        }));
    }
    found
}

fn point(
    record: &SurveyRecord,
    sampled: &Sampled<'_>,
    (taxon, others): (Option<TaxonId>, &[TaxonId]),
    shared_depth: Option<Metres>,
    stretch: usize,
) -> TrendPoint {
    let others = places(record, others);
    let place = taxon.and_then(|id| record.taxa.iter().position(|one| one.id == id));
    let by_rule = record.survey.depth_cap.is_some() && record.survey.depth_cap <= shared_depth;
    let within = |site: &&SampledSite<'_>| {
        shared_depth.is_none_or(|most| site.depth.map_or(by_rule, |depth| depth <= most))
    };
    let sites: Vec<&SampledSite<'_>> = sampled.sites.iter().filter(within).collect();
    let found =
        sites.iter().filter(|site| if taxon.is_some() { has(site, place) } else { site.plants });
    let frequency = Frequency::of(found.count(), sites.len());
    let named_otherwise =
        sites.iter().filter(|site| !has(site, place) && any(site, &others)).count();
    let date = middle_day(&record.survey);
    let left_out = if date.is_none() {
        Some(LeftOut::NoDate)
    } else if taxon.is_some_and(|id| !record.survey.scope.covers(id)) {
        Some(LeftOut::NotLookedFor)
    } else if taxon.is_some() && place.is_none() {
        Some(LeftOut::NotOnTheList)
    } else if sites.is_empty() {
        Some(LeftOut::NoSites)
    } else {
        None
    };
    TrendPoint {
        survey: record.survey.id,
        name: record.survey.name.clone(),
        year: date.map(|day| {
            let length = f64::from(day.days_in_year());
            f64::from(day.year()) + (f64::from(day.day_of_year()) - 1.0) / length
        }),
        date,
        frequency,
        stretch,
        named_otherwise,
        left_out,
        fitted: None,
    }
}

/// Surveys that take part, by stretch: time, frequency.
fn stretches(surveys: &[TrendPoint]) -> Vec<Vec<(f64, f64)>> {
    let mut all: Vec<Vec<(f64, f64)>> = Vec::new();
    for point in surveys.iter().filter(|point| point.left_out.is_none()) {
        if let (Some(year), Some(share)) = (point.year, point.frequency.p) {
            all.resize(all.len().max(point.stretch + 1), Vec::new());
            all[point.stretch].push((year, share));
        }
    }
    all
}

/// The fitted line: one intercept for each stretch that tells, one slope.
struct Line {
    middle: f64,
    intercepts: Vec<(usize, f64)>,
    slope: f64,
}

impl Line {
    fn at(&self, point: &TrendPoint) -> Option<f64> {
        let own = self.intercepts.iter().find(|(stretch, _)| *stretch == point.stretch)?;
        let logit = own.1 + self.slope * (point.year? - self.middle);
        point.left_out.is_none().then(|| 1.0 / (1.0 + (-logit).exp()))
    }
}

fn model(surveys: &[TrendPoint]) -> Result<(TrendModel, Line), NoTrend> {
    let used: Vec<&TrendPoint> = surveys.iter().filter(|point| point.left_out.is_none()).collect();
    if used.len() < 3 {
        return Err(NoTrend::TooFewSurveys { surveys: used.len() });
    }
    if used.iter().all(|point| point.frequency.k == 0) {
        return Err(NoTrend::NeverFound);
    }
    if used.iter().all(|point| point.frequency.k == point.frequency.n) {
        return Err(NoTrend::Everywhere);
    }
    // a stretch of one survey, or found never or always, says nothing of the slope
    let of = |stretch: usize| used.iter().filter(move |point| point.stretch == stretch);
    let telling: Vec<usize> = (0..=used.iter().map(|point| point.stretch).max().unwrap_or(0))
        .filter(|stretch| {
            of(*stretch).count() > 1
                && of(*stretch).any(|point| point.frequency.k > 0)
                && of(*stretch).any(|point| point.frequency.k < point.frequency.n)
        })
        .collect();
    let fitted: Vec<&TrendPoint> =
        used.iter().copied().filter(|point| telling.contains(&point.stretch)).collect();
    if fitted.len() < telling.len() + 2 {
        return Err(NoTrend::TooFewSurveys { surveys: fitted.len() });
    }
    let middle = fitted.iter().filter_map(|point| point.year).sum::<f64>() / fitted.len() as f64;
    let groups: Vec<Group> = fitted
        .iter()
        .map(|point| {
            let own = telling.iter().map(|stretch| f64::from(*stretch == point.stretch));
            let year = point.year.map_or(0.0, |year| year - middle);
            Group {
                found: point.frequency.k as f64,
                sites: point.frequency.n as f64,
                columns: own.chain([year]).collect(),
            }
        })
        .collect();
    let fitted_model = fit(&groups).map_err(|error| match error {
        LogisticError::Separated => NoTrend::OnlyAtOneEnd,
        other => NoTrend::Fit(other),
    })?;
    let degrees = fitted_model.degrees_of_freedom;
    let phi = fitted_model.overdispersion().unwrap_or(1.0);
    let value = fitted_model.coefficients[telling.len()];
    let se = fitted_model.standard_errors[telling.len()] * phi.sqrt();
    let reach = student_two_sided(Confidence::NINETY_FIVE.alpha(), degrees as f64) * se;
    let line = Line {
        middle,
        intercepts: telling
            .iter()
            .copied()
            .zip(fitted_model.coefficients.iter().copied())
            .collect(),
        slope: value,
    };
    let model = TrendModel {
        per_year: Estimate { value, low: value - reach, high: value + reach },
        p: student_two_tails(value / se, degrees as f64),
        overdispersion: phi,
        degrees_of_freedom: degrees,
        surveys: groups.len(),
        detectable: reach + Goal::USUAL.z_power() * se,
    };
    Ok((model, line))
}

#[cfg(test)]
mod tests;
