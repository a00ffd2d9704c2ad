use crate::taxon::words;
use crate::{BedId, Code, PhotoId, ShorelineFindId, SiteId, SurveyId, TaxonId, VisitId, VoucherId};
use geo_types::MultiPolygon;
use jiff::civil::{Date, DateTime};
use std::fmt;
use std::str::FromStr;
use units::{LonLat, Metres};

words! {
    /// What a visit came to, as one coded field. Only the first two enter a denominator.
    Outcome {
        /// The rake was thrown and brought up plants.
        SampledWithPlants = "sampled-with-plants", "sampled, with plants";
        /// The rake was thrown and brought up none.
        SampledWithoutPlants = "sampled-without-plants", "sampled, no plants";
        /// Deeper than plants are looked for.
        TooDeep = "too-deep", "too deep";
        /// Plants stop the boat: usually the densest bed, never a zero.
        NotNavigablePlants = "not-navigable-plants", "not navigable because of plants";
        /// A dock or another structure stands there.
        DockOrStructure = "dock-or-structure", "dock or structure";
        /// A swim area.
        SwimArea = "swim-area", "swim area";
        /// Something that will be gone another day.
        TemporaryObstacle = "temporary-obstacle", "temporary obstacle";
        /// Private, or not safe.
        PrivateOrUnsafe = "private-or-unsafe", "private or unsafe";
        /// Left out for want of time.
        Skipped = "skipped", "skipped";
        /// Nobody wrote down why.
        NoInformation = "no-information", "no information";
    }
}

words! {
    /// Why a site was not sampled.
    NotSampled {
        /// Deeper than plants are looked for.
        TooDeep = "too-deep", "too deep";
        /// Plants stop the boat.
        NotNavigablePlants = "not-navigable-plants", "not navigable because of plants";
        /// A dock or another structure.
        DockOrStructure = "dock-or-structure", "dock or structure";
        /// A swim area.
        SwimArea = "swim-area", "swim area";
        /// Something that will be gone another day.
        TemporaryObstacle = "temporary-obstacle", "temporary obstacle";
        /// Private, or not safe.
        PrivateOrUnsafe = "private-or-unsafe", "private or unsafe";
        /// Left out for want of time.
        Skipped = "skipped", "skipped";
        /// Nobody wrote down why.
        NoInformation = "no-information", "no information";
    }
}

impl From<NotSampled> for Outcome {
    fn from(reason: NotSampled) -> Self {
        match reason {
            NotSampled::TooDeep => Self::TooDeep,
            NotSampled::NotNavigablePlants => Self::NotNavigablePlants,
            NotSampled::DockOrStructure => Self::DockOrStructure,
            NotSampled::SwimArea => Self::SwimArea,
            NotSampled::TemporaryObstacle => Self::TemporaryObstacle,
            NotSampled::PrivateOrUnsafe => Self::PrivateOrUnsafe,
            NotSampled::Skipped => Self::Skipped,
            NotSampled::NoInformation => Self::NoInformation,
        }
    }
}

impl Outcome {
    /// True for the two outcomes that enter a denominator.
    pub const fn is_sampled(self) -> bool {
        matches!(self, Self::SampledWithPlants | Self::SampledWithoutPlants)
    }
}

words! {
    /// The bottom as felt with a pole or seen on the rake.
    Sediment {
        /// Muck.
        Muck = "muck", "muck";
        /// Sand.
        Sand = "sand", "sand";
        /// Rock.
        Rock = "rock", "rock";
        /// Gravel.
        Gravel = "gravel", "gravel";
        /// Cobble.
        Cobble = "cobble", "cobble";
        /// Clay.
        Clay = "clay", "clay";
        /// Marl.
        Marl = "marl", "marl";
        /// Peat.
        Peat = "peat", "peat";
        /// Detritus, leaves, wood.
        Detritus = "detritus", "detritus";
    }
}

words! {
    /// How a plant came to be recorded.
    HowSeen {
        /// On the rake: the only kind that enters frequencies.
        Rake = "rake", "on the rake";
        /// Seen close by, not on the rake: counts for the species list only.
        Visual = "visual", "seen, not on the rake";
        /// On the shore.
        Shoreline = "shoreline", "on the shore";
    }
}

/// A step of the survey's scale, by its place in the scale from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rating(pub u8);

/// A position as the instrument gave it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fix {
    /// Where.
    pub position: LonLat,
    /// Stated accuracy.
    pub accuracy: Option<Metres>,
}

/// One taxon on one throw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Observation {
    /// What.
    pub taxon: TaxonId,
    /// How much; none when only presence was written down.
    pub rating: Option<Rating>,
    /// Where it was seen.
    pub seen: HowSeen,
}

/// One rake throw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Throw {
    /// 1, 2, 3 …
    pub number: u8,
    /// Rating of everything on the rake together.
    pub total: Option<Rating>,
    /// What was on it, and what was seen beside it.
    pub observations: Vec<Observation>,
}

/// Counts of species where a publisher gave no names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReportedCounts {
    /// Species on the rake.
    pub species: u16,
    /// Of these, native.
    pub native: Option<u16>,
}

/// What a sampled site gave: at least one throw, or counts somebody published.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sampling {
    throws: Vec<Throw>,
    reported: Option<ReportedCounts>,
}

/// A sampling that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SamplingError {
    /// Neither a throw nor a published count.
    NoThrow,
    /// Two throws with one number.
    ThrowTwice {
        /// The number.
        number: u8,
    },
    /// One taxon twice on a throw in one way.
    TaxonTwice {
        /// The throw.
        number: u8,
        /// The taxon.
        taxon: TaxonId,
    },
    /// More native species than species.
    MoreNativesThanSpecies {
        /// The counts.
        counts: ReportedCounts,
    },
}

impl fmt::Display for SamplingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoThrow => write!(f, "a sampled site needs at least one rake throw"),
            Self::ThrowTwice { number } => write!(f, "throw `{number}` is there twice"),
            Self::TaxonTwice { number, .. } => {
                write!(f, "throw `{number}` names one taxon twice")
            }
            Self::MoreNativesThanSpecies { counts } => write!(
                f,
                "`{}` native species are more than the `{}` species",
                counts.native.unwrap_or(0),
                counts.species
            ),
        }
    }
}

impl std::error::Error for SamplingError {}

impl Sampling {
    /// A sampling of one or more throws, and any published counts.
    ///
    /// # Errors
    /// [`SamplingError`] when there is neither, when a throw number or a taxon on a throw repeats,
    /// or when the counts contradict themselves.
    pub fn new(
        throws: Vec<Throw>,
        reported: Option<ReportedCounts>,
    ) -> Result<Self, SamplingError> {
        if throws.is_empty() && reported.is_none() {
            return Err(SamplingError::NoThrow);
        }
        if let Some(counts) = reported
            && counts.native.is_some_and(|native| native > counts.species)
        {
            return Err(SamplingError::MoreNativesThanSpecies { counts });
        }
        for (index, throw) in throws.iter().enumerate() {
            if throws[..index].iter().any(|earlier| earlier.number == throw.number) {
                return Err(SamplingError::ThrowTwice { number: throw.number });
            }
            for (place, one) in throw.observations.iter().enumerate() {
                let twice = throw.observations[..place]
                    .iter()
                    .any(|other| other.taxon == one.taxon && other.seen == one.seen);
                if twice {
                    return Err(SamplingError::TaxonTwice {
                        number: throw.number,
                        taxon: one.taxon,
                    });
                }
            }
        }
        Ok(Self { throws, reported })
    }

    /// The throws in the order written.
    pub fn throws(&self) -> &[Throw] {
        &self.throws
    }

    /// Published counts.
    pub fn reported(&self) -> Option<ReportedCounts> {
        self.reported
    }

    /// Every observation of every throw.
    pub fn observations(&self) -> impl Iterator<Item = &Observation> {
        self.throws.iter().flat_map(|throw| &throw.observations)
    }
}

/// What a visit gave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SiteResult {
    /// The rake was thrown.
    Sampled(Sampling),
    /// It was not, and why.
    NotSampled(NotSampled),
}

/// One visit to one site.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// Key.
    pub id: VisitId,
    /// The survey.
    pub survey: SurveyId,
    /// The site.
    pub site: SiteId,
    /// Where the boat was.
    pub actual: Option<Fix>,
    /// When, local time.
    pub time: Option<DateTime>,
    /// Depth measured there.
    pub depth: Option<Metres>,
    /// Bottom.
    pub sediment: Option<Sediment>,
    /// What it gave.
    pub result: SiteResult,
    /// Who wrote it.
    pub observer: String,
    /// Remark.
    pub note: String,
}

/// A bed seen at the surface, floating leaves or topped-out plants.
#[derive(Debug, Clone, PartialEq)]
pub struct SurfaceBed {
    /// Key.
    pub id: BedId,
    /// The survey.
    pub survey: SurveyId,
    /// What grows in it.
    pub taxa: Vec<TaxonId>,
    /// How dense.
    pub rating: Option<Rating>,
    /// Edge in longitude and latitude, when drawn.
    pub area: Option<MultiPolygon<f64>>,
    /// The site it was noted at, when not drawn.
    pub site: Option<SiteId>,
    /// Remark, such as how sure the edge is.
    pub note: String,
}

/// A plant found on the shore.
#[derive(Debug, Clone, PartialEq)]
pub struct ShorelineFind {
    /// Key.
    pub id: ShorelineFindId,
    /// The survey.
    pub survey: SurveyId,
    /// What.
    pub taxon: TaxonId,
    /// Where, when known.
    pub position: Option<LonLat>,
    /// Zone, when that is all that is known.
    pub zone: Option<Code>,
    /// Remark.
    pub note: String,
}

/// A photo by its content.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoRef {
    /// Key.
    pub id: PhotoId,
    /// The visit it belongs to.
    pub visit: Option<VisitId>,
    /// The survey, when it belongs to no visit.
    pub survey: Option<SurveyId>,
    /// The taxon or unknown it shows.
    pub taxon: Option<TaxonId>,
    /// File name as it came.
    pub file_name: String,
    /// SHA-256 of the picture the book keeps, hexadecimal; of the file, when it keeps none.
    pub sha256: String,
    /// SHA-256 of the file it was made from; empty when that is the picture itself.
    pub original_sha256: String,
    /// When it was taken, local time, the camera's clock put right.
    pub taken: Option<DateTime>,
    /// Where, as the camera says.
    pub position: Option<LonLat>,
    /// Width and height of the picture kept.
    pub pixels: Option<(u32, u32)>,
    /// Caption.
    pub caption: String,
    /// True when a ruler is in the picture.
    pub with_ruler: bool,
}

/// A pressed or frozen specimen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Voucher {
    /// Key.
    pub id: VoucherId,
    /// The survey.
    pub survey: SurveyId,
    /// Number on the label.
    pub number: String,
    /// What it was taken for.
    pub taxon: TaxonId,
    /// The site it came from.
    pub site: Option<SiteId>,
    /// Who took it.
    pub collector: String,
    /// The day.
    pub date: Option<Date>,
    /// Where it is kept.
    pub kept_at: String,
    /// Who confirmed the name, and how.
    pub confirmed_by: String,
}
