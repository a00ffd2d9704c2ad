use super::change::TaxonChange;
use super::pairing::ComparedSites;
use crate::sampled::Sampled;
use jiff::civil::Date;
use std::collections::BTreeSet;
use survey::{Method, Purpose, Scope, Survey, SurveyRecord};
use units::{Metres, UnitSystem};

/// Days of the year two surveys may lie apart before the season is named as a reason for change:
/// surveys are repeated within the same two weeks (common practice).
const SEASON_WINDOW: i16 = 14;
/// 1 July in a year without a leap day.
const DIE_BACK: i16 = 182;
/// The plant that dies back by itself in early summer.
const CURLY_LEAF: &str = "Potamogeton crispus";

/// Something that restricts what a comparison can say.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// Different rating scales: only presence is compared.
    Scale {
        /// Earlier.
        from: String,
        /// Later.
        to: String,
        /// Why it was changed; empty when nobody said.
        why: String,
    },
    /// Different methods.
    Method {
        /// Earlier.
        from: Method,
        /// Later.
        to: Method,
    },
    /// Different purposes, other than before and after a treatment.
    Purpose {
        /// Earlier.
        from: Purpose,
        /// Later.
        to: Purpose,
    },
    /// One survey stopped at a depth the other went beyond.
    DepthCap {
        /// Depth compared to.
        shared: Metres,
        /// Sites left out because they are deeper.
        too_deep: usize,
        /// Sites left out for want of a depth.
        unknown: usize,
    },
    /// More than two weeks apart in the season.
    Season {
        /// Days of the year apart.
        days: i16,
    },
    /// A survey without a date.
    NoDate {
        /// Its name.
        survey: String,
    },
    /// Curly-leaf pondweed in a survey after it dies back.
    DieBack {
        /// Middle day of a survey past 1 July.
        late: Vec<Date>,
    },
    /// Other people named the plants.
    Observers {
        /// Earlier.
        from: Vec<String>,
        /// Later.
        to: Vec<String>,
    },
    /// Nobody wrote down who named the plants.
    NoObservers {
        /// Its name.
        survey: String,
    },
    /// Different numbers of rake throws a site.
    Throws {
        /// Earlier.
        from: u8,
        /// Later.
        to: u8,
    },
    /// Not all taxa were looked for in one of the surveys.
    Scope,
    /// Codes that stand for two places.
    Moved {
        /// Such codes.
        sites: usize,
    },
    /// Some sites are shared, too few to compare pairs: the test takes them as different ones.
    FewShared {
        /// Shared sites.
        sites: usize,
    },
    /// Sites with plants that nobody named.
    NotNamed {
        /// Earlier.
        from: usize,
        /// Later.
        to: usize,
    },
    /// Plants named to the genus one time and to the species the other, so that as named they come or go.
    Names {
        /// What they are called.
        taxa: Vec<String>,
    },
    /// No site is left to compare in one of the surveys.
    NothingToCompare,
}

impl Warning {
    /// A stable word for the kind.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Scale { .. } => "scale",
            Self::Method { .. } => "method",
            Self::Purpose { .. } => "purpose",
            Self::DepthCap { .. } => "depth-cap",
            Self::Season { .. } => "season",
            Self::NoDate { .. } => "no-date",
            Self::DieBack { .. } => "die-back",
            Self::Observers { .. } => "observers",
            Self::NoObservers { .. } => "no-observers",
            Self::Throws { .. } => "throws",
            Self::Scope => "scope",
            Self::Moved { .. } => "moved-sites",
            Self::FewShared { .. } => "few-shared-sites",
            Self::NotNamed { .. } => "plants-not-named",
            Self::Names { .. } => "names",
            Self::NothingToCompare => "nothing-to-compare",
        }
    }

    /// The warning in a sentence, depths in the units of the reader.
    pub fn message(&self, units: UnitSystem) -> String {
        match self {
            Self::Scale { from, to, why } => format!(
                "The surveys used different rating scales (`{from}`, `{to}`): only presence is \
                 compared, not ratings.{}",
                reason_of_scale(why)
            ),
            Self::Method { from, to } => format!(
                "The methods differ ({from}, then {to}): a difference may come from the method."
            ),
            Self::Purpose { from, to } => format!(
                "The purposes differ ({from}, then {to}): the sites may have been chosen \
                 differently."
            ),
            Self::DepthCap { shared, too_deep, unknown } => format!(
                "One survey stopped at {}: only sites to that depth are compared. Left out: \
                 {too_deep} deeper, {unknown} without a depth.",
                units.depth(*shared)
            ),
            Self::Season { days } => format!(
                "The surveys lie {days} days of the year apart: plants come and go with the season."
            ),
            Self::NoDate { survey } => {
                format!("Survey `{survey}` has no date: the season cannot be compared.")
            }
            Self::DieBack { late } => {
                let days: Vec<String> = late.iter().map(Date::to_string).collect();
                format!(
                    "Curly-leaf pondweed dies back by itself around 1 July: little or none of it on \
                     {} may be the season, not a change.",
                    days.join(" and ")
                )
            }
            Self::Observers { from, to } => format!(
                "Other people named the plants ({}, then {}): a difference may come from the eye.",
                from.join(", "),
                to.join(", ")
            ),
            Self::NoObservers { survey } => {
                format!("Survey `{survey}` does not say who named the plants.")
            }
            Self::Throws { from, to } => {
                format!("Rake throws a site differ ({from}, then {to}): more throws find more.")
            }
            Self::Scope => "Not all taxa were looked for in both surveys: those that were not are \
                 not compared."
                .to_owned(),
            Self::Moved { sites } => format!(
                "Site codes that stand for two places in the two plans: {sites}. They are not \
                 paired."
            ),
            Self::FewShared { sites } => format!(
                "Sites sampled in both surveys: {sites}, too few to compare pairs. The test takes \
                 all sites as different ones."
            ),
            Self::NotNamed { from, to } => format!(
                "Sites with plants that were not named: {from}, then {to}. They count as without \
                 any named taxon."
            ),
            Self::Names { taxa } => format!(
                "Named more finely in one survey than in the other: {}. As named they seem to come or \
                 go, so nothing is said of each apart.",
                taxa.join(", ")
            ),
            Self::NothingToCompare => {
                "One of the surveys has no sampled site that can be compared.".to_owned()
            }
        }
    }
}

pub(crate) fn warnings(
    from: &SurveyRecord,
    to: &SurveyRecord,
    first: &Sampled<'_>,
    second: &Sampled<'_>,
    sites: &ComparedSites<'_, '_>,
) -> Vec<Warning> {
    let (a, b) = (&from.survey, &to.survey);
    let mut found = Vec::new();
    let mut say = |applies: bool, warning: Warning| {
        if applies {
            found.push(warning);
        }
    };
    let (from_sites, to_sites) = sites.compared.counts();
    say(from_sites == 0 || to_sites == 0, Warning::NothingToCompare);
    say(
        !from.scale.same_steps(&to.scale),
        Warning::Scale {
            from: from.scale.key.clone(),
            to: to.scale.key.clone(),
            why: later_reason(a, b).to_owned(),
        },
    );
    say(a.method != b.method, Warning::Method { from: a.method, to: b.method });
    let treatment = (a.purpose, b.purpose) == (Purpose::PreTreatment, Purpose::PostTreatment);
    say(a.purpose != b.purpose && !treatment, Warning::Purpose { from: a.purpose, to: b.purpose });
    if let Some(shared) = sites.shared_depth {
        let (too_deep, unknown) = (sites.too_deep, sites.depth_unknown);
        say(true, Warning::DepthCap { shared, too_deep, unknown });
    }
    let days = (middle_day(a), middle_day(b));
    if let (Some(one), Some(other)) = days {
        let apart = days_apart(one, other);
        say(apart > SEASON_WINDOW, Warning::Season { days: apart });
    }
    for (survey, day) in [(a, days.0), (b, days.1)] {
        say(day.is_none(), Warning::NoDate { survey: survey.name.clone() });
    }
    let late: Vec<Date> =
        [days.0, days.1].into_iter().flatten().filter(|day| season_day(*day) >= DIE_BACK).collect();
    let curly = on_any_rake(from, first, CURLY_LEAF) || on_any_rake(to, second, CURLY_LEAF);
    say(curly && !late.is_empty(), Warning::DieBack { late });
    let (names_a, names_b) = (observers(a), observers(b));
    for (survey, names) in [(a, &names_a), (b, &names_b)] {
        say(names.is_empty(), Warning::NoObservers { survey: survey.name.clone() });
    }
    let comparable = !names_a.is_empty() && !names_b.is_empty();
    let differ = names_a.iter().map(|name| name.to_lowercase()).collect::<BTreeSet<_>>()
        != names_b.iter().map(|name| name.to_lowercase()).collect();
    say(comparable && differ, Warning::Observers { from: names_a, to: names_b });
    say(
        a.throws_per_site != b.throws_per_site,
        Warning::Throws { from: a.throws_per_site, to: b.throws_per_site },
    );
    let whole = |survey: &Survey| survey.scope == Scope::WholeCommunity;
    say(!whole(a) || !whole(b), Warning::Scope);
    say(sites.moved > 0, Warning::Moved { sites: sites.moved });
    say(sites.shared_but_few > 0, Warning::FewShared { sites: sites.shared_but_few });
    let unnamed = |sampled: &Sampled<'_>| {
        sampled
            .sites
            .iter()
            .filter(|site| site.plants && (site.counted_only || site.species.is_none()))
            .count()
    };
    let (from, to) = (unnamed(first), unnamed(second));
    say(from + to > 0, Warning::NotNamed { from, to });
    found
}

/// The warning of names that differ in detail, when a verdict was taken back for it.
pub(crate) fn of_names(taxa: &[TaxonChange]) -> Option<Warning> {
    let open: Vec<String> = taxa
        .iter()
        .filter(|one| one.names.as_ref().is_some_and(|names| names.withheld))
        .map(|one| one.taxon.spoken_name().to_owned())
        .collect();
    (!open.is_empty()).then_some(Warning::Names { taxa: open })
}

/// What was written of a change of scale, at the later of two surveys.
fn later_reason<'a>(one: &'a Survey, other: &'a Survey) -> &'a str {
    let later = if other.start < one.start { one } else { other };
    &later.scale_reason
}

/// The reason of a change of scale as a sentence to follow another.
fn reason_of_scale(why: &str) -> String {
    if why.is_empty() { String::new() } else { format!(" Why the scale was changed: {why}.") }
}

/// The day halfway through a survey.
pub(crate) fn middle_day(survey: &Survey) -> Option<Date> {
    let start = survey.start?;
    let end = survey.end.unwrap_or(start);
    let length = start.until(end).map_or(0, |span| span.get_days());
    start.checked_add(jiff::Span::new().days(length / 2)).ok()
}

/// Day of the year without leap days, so that one calendar date is one number.
fn season_day(day: Date) -> i16 {
    let number = day.day_of_year();
    if day.in_leap_year() && number > 59 { number - 1 } else { number }
}

fn days_apart(one: Date, other: Date) -> i16 {
    let apart = (season_day(one) - season_day(other)).abs();
    apart.min(365 - apart)
}

fn observers(survey: &Survey) -> Vec<String> {
    survey.identifiers().into_iter().map(str::to_owned).collect()
}

fn on_any_rake(record: &SurveyRecord, sampled: &Sampled<'_>, scientific_name: &str) -> bool {
    sampled
        .sites
        .iter()
        .flat_map(|site| &site.on_rake)
        .any(|(taxon, _)| record.taxa[*taxon].scientific_name.eq_ignore_ascii_case(scientific_name))
}
