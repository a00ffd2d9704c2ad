use crate::taxon::words;
use crate::{SurveyId, TaxonId};
use jiff::civil::{Date, Time};
use std::fmt;
use std::str::FromStr;
use units::{Celsius, Metres, MetresPerSecond};

words! {
    /// Why a survey is made.
    Purpose {
        /// To know the plants of the lake.
        Baseline = "baseline", "baseline";
        /// Before a treatment.
        PreTreatment = "pre-treatment", "before treatment";
        /// After a treatment.
        PostTreatment = "post-treatment", "after treatment";
        /// To find an invader early.
        EarlyDetection = "early-detection", "early detection";
        /// To draw the edge of a bed.
        Delineation = "delineation", "delineation of a bed";
        /// A walk through without a fixed plan.
        Meander = "meander", "meander";
        /// Something else.
        Other = "other", "other";
    }
}

words! {
    /// How sites are laid and looked at.
    Method {
        /// Fixed points.
        PointIntercept = "point-intercept", "point-intercept";
        /// Zones cut into sub-areas.
        SubAreas = "sub-areas", "sub-areas";
        /// Sections of shore.
        ShoreSections = "shore-sections", "shore sections";
        /// Lines from the shore.
        Transects = "transects", "transects";
        /// Something else.
        Other = "other", "other";
    }
}

words! {
    /// What a person did.
    CrewRole {
        /// Threw the rake.
        Rake = "rake", "rake";
        /// Wrote the sheet.
        Recorder = "recorder", "pencil";
        /// Steered.
        Boat = "boat", "boat";
        /// Led the day.
        Lead = "lead", "lead";
        /// Anything else.
        Other = "other", "crew";
    }
}

/// A person of the crew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CrewMember {
    /// Name or initials, the same person always under one name.
    pub name: String,
    /// What they did.
    pub role: CrewRole,
    /// True when they named the plants.
    pub identified: bool,
}

/// What the day was like. Every field may be missing: missing is not zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Conditions {
    /// The day.
    pub date: Option<Date>,
    /// On the water from.
    pub start: Option<Time>,
    /// Until.
    pub end: Option<Time>,
    /// Air temperature.
    pub air: Option<Celsius>,
    /// Water temperature.
    pub water: Option<Celsius>,
    /// Sky and weather in words.
    pub weather: String,
    /// Wind speed.
    pub wind: Option<MetresPerSecond>,
    /// Wind in words, when nobody measured it.
    pub wind_words: String,
    /// Secchi depth.
    pub secchi: Option<Metres>,
    /// Water level above (+) or below (−) the datum of the depth map.
    pub water_level: Option<Metres>,
    /// Rake, rope, GPS unit and its stated accuracy, boat.
    pub gear: String,
}

/// Which taxa were looked for. A taxon outside the scope was not looked for, which is not zero.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Scope {
    /// Everything that grows there.
    #[default]
    WholeCommunity,
    /// These only.
    Only(Vec<TaxonId>),
}

impl Scope {
    /// True when the taxon was looked for.
    pub fn covers(&self, taxon: TaxonId) -> bool {
        match self {
            Self::WholeCommunity => true,
            Self::Only(taxa) => taxa.contains(&taxon),
        }
    }
}

/// How the sites came to be where they are, enough to lay them again.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LayoutNote {
    /// Name of the layout, e.g. `point-grid`.
    pub layout: String,
    /// Every parameter as `name=value`, in a fixed order; includes the seed when one was used.
    pub parameters: Vec<(String, String)>,
}

/// The seal that closes a survey's record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seal {
    /// Who closed it.
    pub by: String,
    /// When, RFC 3339 in UTC.
    pub at: String,
    /// SHA-256 of the canonical record, hexadecimal.
    pub sha256: String,
}

/// One survey of the lake.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey {
    /// Key.
    pub id: SurveyId,
    /// Label, unique in the book, e.g. `2026-summer`.
    pub name: String,
    /// Why.
    pub purpose: Purpose,
    /// How.
    pub method: Method,
    /// Written protocol and its version, when one is followed.
    pub protocol: String,
    /// First day; none while only planned.
    pub start: Option<Date>,
    /// Last day.
    pub end: Option<Date>,
    /// Key of the one rating scale.
    pub scale: String,
    /// Why it is another scale than the surveys before were rated on; empty where it is not, or
    /// nobody said.
    pub scale_reason: String,
    /// Rake throws a site.
    pub throws_per_site: u8,
    /// Deeper sites were not visited by rule.
    pub depth_cap: Option<Metres>,
    /// Which taxa were looked for.
    pub scope: Scope,
    /// Who was there.
    pub crew: Vec<CrewMember>,
    /// The days.
    pub conditions: Vec<Conditions>,
    /// How the sites were laid.
    pub layout: LayoutNote,
    /// Anything else.
    pub note: String,
    /// Set once the record is closed.
    pub seal: Option<Seal>,
}

/// A survey that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SurveyError {
    /// The name is empty.
    NoName,
    /// The last day is before the first.
    EndsBeforeItStarts {
        /// First day.
        start: Date,
        /// Last day.
        end: Date,
    },
}

impl fmt::Display for SurveyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoName => write!(f, "a survey needs a name such as `2026-summer`"),
            Self::EndsBeforeItStarts { start, end } => {
                write!(f, "the survey ends on `{end}`, before it starts on `{start}`")
            }
        }
    }
}

impl std::error::Error for SurveyError {}

impl Survey {
    /// A survey with a name and a scale, everything else still open.
    ///
    /// # Errors
    /// [`SurveyError::NoName`] when the name is blank.
    pub fn new(id: SurveyId, name: &str, scale: &str) -> Result<Self, SurveyError> {
        let name = name.trim();
        if name.is_empty() {
            return Err(SurveyError::NoName);
        }
        Ok(Self {
            id,
            name: name.to_owned(),
            purpose: Purpose::Baseline,
            method: Method::PointIntercept,
            protocol: String::new(),
            start: None,
            end: None,
            scale: scale.to_owned(),
            scale_reason: String::new(),
            throws_per_site: 1,
            depth_cap: None,
            scope: Scope::WholeCommunity,
            crew: Vec::new(),
            conditions: Vec::new(),
            layout: LayoutNote::default(),
            note: String::new(),
            seal: None,
        })
    }

    /// Sets first and last day.
    ///
    /// # Errors
    /// [`SurveyError::EndsBeforeItStarts`].
    pub fn set_dates(&mut self, start: Date, end: Date) -> Result<(), SurveyError> {
        if end < start {
            return Err(SurveyError::EndsBeforeItStarts { start, end });
        }
        self.start = Some(start);
        self.end = Some(end);
        Ok(())
    }

    /// The people who named the plants; everyone when nobody is marked.
    pub fn identifiers(&self) -> Vec<&str> {
        let marked: Vec<&str> =
            self.crew.iter().filter(|one| one.identified).map(|one| one.name.as_str()).collect();
        if marked.is_empty() {
            self.crew.iter().map(|one| one.name.as_str()).collect()
        } else {
            marked
        }
    }
}
