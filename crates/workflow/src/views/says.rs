use super::CountView;
use serde::Serialize;
use utoipa::ToSchema;

/// Something to be heard of at once.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AlertView {
    /// `first-in-lake`, `first-in-zone` or `above-limit`.
    pub kind: String,
    /// Code of the plant.
    pub code: String,
    /// Its scientific name.
    pub scientific_name: String,
    /// Its common name.
    pub common_name: String,
    /// The zone, when it is about one.
    pub zone: Option<String>,
    /// Codes of the sites with it.
    pub sites: Vec<String>,
    /// Earlier surveys that looked there and did not find it; with none it may always have been there.
    /// None for a limit.
    pub blanks_before: Option<usize>,
    /// Share of sites held against a limit.
    pub frequency: Option<CountView>,
    /// For a limit of frequency: whether the interval too lies above it.
    pub certain: Option<bool>,
    /// The board's limit that was passed.
    pub limit: Option<BoardLimitView>,
    /// In a sentence.
    pub sentence: String,
    /// Anchor in `docs/methods.md`.
    pub anchor: String,
}

/// A limit the lake board wrote down.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BoardLimitView {
    /// Its number, to name it by.
    pub number: usize,
    /// The board's own words.
    pub text: String,
    /// Day it was adopted.
    pub adopted: String,
    /// Code of the plant; none for every introduced plant, one by one.
    pub taxon: Option<String>,
    /// Code of the zone; none for the whole lake.
    pub zone: Option<String>,
    /// `frequency-above`, `sites-above` or `rating-at-least`.
    pub kind: String,
    /// A share of sites, a number of sites, or the number of a rating.
    pub value: f64,
    /// What is too much, in words.
    pub words: String,
}

/// A sentence and what it rests on.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SentenceView {
    /// `here`, `new`, `changed`, `moved`, `worked` or `sure`.
    pub topic: String,
    /// The question it answers.
    pub question: String,
    /// The sentence.
    pub sentence: String,
    /// The figures behind it.
    pub figures: Vec<FigureView>,
    /// True when the answer is that nobody can tell.
    pub cannot_tell: bool,
    /// Anchor in `docs/methods.md`.
    pub anchor: String,
}

/// A figure behind a sentence.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FigureView {
    /// Stable name, e.g. `frequency_any`.
    pub name: String,
    /// The figure.
    pub value: f64,
    /// Lower limit.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}
