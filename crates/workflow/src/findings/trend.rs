//! Plants over the years.

use super::{ANY_PLANT, all_records, estimate, methods, taxon_of};
use crate::error::Result;
use crate::views::{
    BreakView, MannKendallView, PerYearView, TrendPointView, TrendView, TrendsView,
};
use findings::Trend;
use findings::trend::{BreakKind, LeftOut, TrendPoint};
use lakebook::LakeBook;
use survey::{SurveyRecord, Taxon, TaxonId};
use units::Metres;

/// The trend of one plant, by its code or name, or of any plant (`any`), over all surveys of a book.
///
/// # Errors
/// When there is no such plant on the list.
pub fn trend_view(book: &LakeBook, taxon: &str) -> Result<TrendView> {
    let taxon = taxon_of(book, taxon)?;
    let records = all_records(book)?;
    let all: Vec<&SurveyRecord> = records.iter().collect();
    let trend = Trend::of(&all, taxon.as_ref().map(|taxon| taxon.id));
    Ok(view_of(&trend, taxon.as_ref()))
}

/// The trends of any plant and of every taxon found in any survey, in the order of the list.
///
/// # Errors
/// When the book cannot be read.
pub fn trends_view(book: &LakeBook) -> Result<TrendsView> {
    let records = all_records(book)?;
    let all: Vec<&SurveyRecord> = records.iter().collect();
    let listed = book.taxa()?;
    let found =
        |taxon: &&Taxon| records.iter().any(|record| super::acres::found_on_rake(record, taxon.id));
    let taxa: Vec<&Taxon> = listed.iter().filter(found).collect();
    let ids: Vec<TaxonId> = taxa.iter().map(|taxon| taxon.id).collect();
    let mut views = vec![view_of(&Trend::of(&all, None), None)];
    let trends = Trend::of_each(&all, &ids);
    views.extend(trends.iter().zip(&taxa).map(|(trend, taxon)| view_of(trend, Some(taxon))));
    let mut notes = Vec::new();
    if records.len() < 3 {
        notes.push(format!("The book has {} surveys: a trend needs at least 3", records.len()));
    }
    Ok(TrendsView { taxa: views, notes })
}

pub(super) fn view_of(of: &Trend, taxon: Option<&Taxon>) -> TrendView {
    let model = of.model.as_ref().ok();
    let order = of.mann_kendall.as_ref().ok();
    TrendView {
        code: taxon.map_or_else(|| ANY_PLANT.to_owned(), |taxon| taxon.code.to_string()),
        scientific_name: taxon.map(|taxon| taxon.scientific_name.clone()).unwrap_or_default(),
        name: of.name.clone(),
        origin: taxon.map(|taxon| taxon.origin.key().to_owned()).unwrap_or_default(),
        surveys: of.surveys.iter().map(point_view).collect(),
        model: "quasi-binomial logistic regression on year".to_owned(),
        per_year: model.map(|one| PerYearView {
            value: one.per_year.value,
            low: one.per_year.low,
            high: one.per_year.high,
            p: one.p,
        }),
        odds_ratio: model.map(|one| estimate(one.odds_ratio())),
        overdispersion: model.map(|one| one.overdispersion),
        degrees_of_freedom: model.map(|one| one.degrees_of_freedom),
        surveys_used: model.map_or(0, |one| one.surveys),
        detectable: model.map(|one| one.detectable),
        mann_kendall: order.map(|one| MannKendallView {
            s: one.s,
            variance: one.variance,
            z: one.z,
            p: one.p,
            exact: one.exact,
            sens_slope: one.slope.value,
            sens_slope_low: one.slope.low,
            sens_slope_high: one.slope.high,
            values: one.values,
        }),
        mann_kendall_why_not: of
            .mann_kendall
            .as_ref()
            .err()
            .map(super::one::first_line)
            .unwrap_or_default(),
        breaks: of
            .breaks
            .iter()
            .map(|one| {
                let (kind, what) = match one.what {
                    BreakKind::Scale => ("scale", "the rating scale"),
                    BreakKind::Method => ("method", "the method"),
                    BreakKind::Throws => ("throws", "the number of throws a site"),
                };
                BreakView {
                    survey: one.name.clone(),
                    kind: kind.to_owned(),
                    message: format!(
                        "From {} on {what} is another: earlier surveys are not compared with later \
                         ones{}",
                        one.name,
                        if one.why.is_empty() { String::new() } else { format!(" ({})", one.why) }
                    ),
                    reason: one.why.clone(),
                }
            })
            .collect(),
        shared_depth_m: of.shared_depth.map(Metres::metres),
        verdict: of.verdict.words().to_owned(),
        why_not: of.model.as_ref().err().map(super::one::first_line).unwrap_or_default(),
        sentence: of.sentence(),
        methods: methods::of_trend(),
    }
}

fn point_view(point: &TrendPoint) -> TrendPointView {
    TrendPointView {
        survey: point.name.clone(),
        date: point.date.map(|date| date.to_string()),
        year: point.year,
        k: point.frequency.k,
        n: point.frequency.n,
        p: point.frequency.p,
        low: point.frequency.low,
        high: point.frequency.high,
        stretch: point.stretch,
        fitted: point.fitted,
        named_otherwise: point.named_otherwise,
        left_out: point.left_out.map_or("", left_out).to_owned(),
    }
}

fn left_out(why: LeftOut) -> &'static str {
    match why {
        LeftOut::NoDate => "it has no date",
        LeftOut::NoSites => "no site was sampled within the shared depth",
        LeftOut::NotLookedFor => "the plant was not looked for",
        LeftOut::NotOnTheList => "the plant is not on that survey's list",
    }
}
