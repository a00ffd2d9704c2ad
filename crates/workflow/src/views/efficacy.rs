use super::{CountView, SurveyBriefRef, WarningView};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Whether a treatment worked.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EfficacyView {
    /// The treatments asked for.
    pub treatments: Vec<TreatmentView>,
    /// The survey before; none when there is none.
    pub before: Option<SurveyBriefRef>,
    /// The first survey after.
    pub after: SurveyBriefRef,
    /// A survey a year on; none when there is none.
    pub later: Option<SurveyBriefRef>,
    /// Codes of the plants the treatment was meant for.
    pub targets: Vec<String>,
    /// How they were chosen: `as given` or `introduced plants found in either survey`.
    pub target_rule: String,
    /// Codes of the zones the untreated sites lie in; empty for everywhere outside the treatments.
    pub control: Vec<String>,
    /// What restricts the answer, first of all.
    pub warnings: Vec<WarningView>,
    /// Change of frequency in the treated part beyond the untreated, all targets together.
    pub estimate: Option<ContrastView>,
    /// The same as the log of a ratio of odds ratios.
    pub estimate_logit: Option<ContrastView>,
    /// Abbott's percentage as a share; none when undefined.
    pub abbott: Option<ControlView>,
    /// Henderson and Tilton's as a share; none when undefined.
    pub henderson_tilton: Option<ControlView>,
    /// Smallest effect on frequency these sites show 8 times in 10; none when nothing varied.
    pub detectable: Option<f64>,
    /// All targets together, everything there is.
    pub together: EffectView,
    /// Each target.
    pub target: Vec<TaxonEffectView>,
    /// Each native plant, commonest first.
    pub natives: Vec<TaxonEffectView>,
    /// All targets together, from before to the later survey.
    pub persistence: Option<EffectView>,
    /// `yes`, `no` or `cannot tell`.
    pub verdict: String,
    /// Why.
    pub reason: String,
    /// The answer in sentences.
    pub sentences: Vec<String>,
    /// Each site and its part, for a map.
    pub sites: Vec<PartSiteView>,
    /// Permutations and resamples.
    pub permutations: u32,
    /// Their seed.
    pub seed: u64,
    /// Where `docs/methods.md` explains a figure: its key here, the anchor there.
    pub methods: BTreeMap<String, String>,
}

/// A treatment of the lake.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TreatmentView {
    /// Its short code, `T1`, `T2`, … in the order of the book.
    pub code: String,
    /// Name.
    pub name: String,
    /// Method, as a key.
    pub method: String,
    /// First day.
    pub start: String,
    /// Last day.
    pub end: String,
    /// Area of its outline within the lake's scale.
    pub area_m2: f64,
    /// Area as reported by who did it.
    pub reported_area_m2: Option<f64>,
    /// Who did it, under which permit.
    pub by: String,
    /// The survey before, where the book says so.
    pub before: Option<String>,
    /// Remark.
    pub note: String,
    /// Where a label stands, `[x, y]`.
    pub label: [f64; 2],
    /// GeoJSON geometry in metres of the working system.
    #[schema(value_type = Object)]
    pub geometry: serde_json::Value,
}

/// An effect with its interval.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ContrastView {
    /// The effect; below zero for a fall.
    pub value: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// `difference of proportions`, `log odds` or `steps of the scale`.
    pub scale: String,
    /// Permutation p of no effect, two-sided; none on the log odds.
    pub p: Option<f64>,
}

/// A share taken away.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ControlView {
    /// The share; negative for an increase.
    pub value: f64,
    /// Lower limit of the resampled share; none when resampling cannot tell.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
}

/// What happened in both parts.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct EffectView {
    /// In the treated part.
    pub treated: PartChangeView,
    /// In the untreated part.
    pub untreated: PartChangeView,
    /// Change of frequency beyond the untreated part.
    pub difference: Option<ContrastView>,
    /// The same as the log of a ratio of odds ratios.
    pub log_odds: Option<ContrastView>,
    /// Permutation p.
    pub p: Option<f64>,
    /// Adjusted for the number of plants in the list.
    pub p_adjusted: Option<f64>,
    /// Abbott's share.
    pub abbott: Option<ControlView>,
    /// Henderson and Tilton's.
    pub henderson_tilton: Option<ControlView>,
    /// Smallest effect on frequency that would have shown.
    pub detectable: Option<f64>,
    /// The same from ratings; none when the surveys used different scales or one of one step.
    pub density: Option<DensityView>,
    /// What may be said: `fell`, `rose`, `cannot tell` or `not compared`.
    pub verdict: String,
    /// Codes of other names it may have been written down under, which left nothing to say.
    pub may_be: Vec<String>,
}

/// One part before and after.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PartChangeView {
    /// Before.
    pub before: CountView,
    /// After.
    pub after: CountView,
    /// Whether the same sites were sampled both times.
    pub same_sites: bool,
}

/// An effect on ratings, absent plants rated zero.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct DensityView {
    /// Mean in the treated part, before and after.
    pub treated: [f64; 2],
    /// Mean in the untreated part.
    pub untreated: [f64; 2],
    /// Change of the mean beyond the untreated part, in steps of the scale.
    pub difference: Option<ContrastView>,
    /// Abbott's share of mean ratings.
    pub abbott: Option<ControlView>,
    /// Henderson and Tilton's.
    pub henderson_tilton: Option<ControlView>,
}

/// What happened to one plant.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TaxonEffectView {
    /// Code.
    pub code: String,
    /// Scientific name.
    pub scientific_name: String,
    /// Common name.
    pub common_name: String,
    /// Origin.
    pub origin: String,
    /// What happened.
    pub effect: EffectView,
}

/// A site and the part it lies in.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PartSiteView {
    /// Code.
    pub code: String,
    /// East.
    pub x: f64,
    /// North.
    pub y: f64,
    /// `treated`, `untreated`, `both` or `neither`.
    pub part: String,
    /// Whether any target came up before; none when not sampled.
    pub before: Option<bool>,
    /// After.
    pub after: Option<bool>,
}
