//! The trade's words as types: lake, zone, site, survey, visit, throw, observation, taxon, scale.
//!
//! A value of these types is right by construction: a visit that was sampled has at least one
//! throw, an outcome that says "with plants" has plants, a code is never empty. The crate does no
//! I/O, reads no clock and serialises nothing; the store keeps rows of its own. Start with
//! [`SurveyRecord`], the whole record of one survey, and [`check`], what is still missing from it.

pub mod catalogue;
pub mod check;
mod code;
mod id;
mod keeping;
mod lake;
pub mod record;
pub mod scale;
pub mod short_code;
mod site;
mod survey;
mod taxon;
mod visit;

pub use code::{Code, CodeError};
pub use id::{
    BedId, BoardLimitId, EventId, Id, LandmarkId, ParseIdError, PhotoId, ShorelineFindId, SiteId,
    SubAreaId, SurveyId, TaxonId, TreatmentId, VisitId, VoucherId, ZoneId,
};
pub use keeping::{Determination, Evidence, SecondEntry};
pub use lake::{
    BoardLimit, Lake, Landmark, LandmarkKind, LimitKind, Protection, SubArea, Treatment,
    TreatmentMethod, Zone,
};
pub use record::SurveyRecord;
pub use site::Site;
pub use survey::{
    Conditions, CrewMember, CrewRole, LayoutNote, Method, Purpose, Scope, Seal, Survey, SurveyError,
};
pub use taxon::{Conservatism, GrowthForm, Origin, Rank, Taxon};
pub use visit::{
    Fix, HowSeen, NotSampled, Observation, Outcome, PhotoRef, Rating, ReportedCounts, Sampling,
    SamplingError, Sediment, ShorelineFind, SiteResult, SurfaceBed, Throw, Visit, Voucher,
};
