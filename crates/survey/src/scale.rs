//! Placeholder until the scale module is moved in.

/// Bounds of cover.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoverBounds {
    /// From, proportion.
    pub low: f64,
    /// To, proportion.
    pub high: f64,
}

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Code.
    pub code: String,
    /// Name.
    pub name: String,
    /// Field measure.
    pub measure: String,
    /// Number used in statistics.
    pub value: Option<u8>,
    /// Cover bounds.
    pub cover: Option<CoverBounds>,
    /// On the rake, not only seen.
    pub on_rake: bool,
}

/// A rating scale.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingScale {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// Source.
    pub source: String,
    /// Steps.
    pub steps: Vec<Step>,
}

impl RatingScale {
    /// The step a text stands for.
    pub fn step(&self, text: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.code.eq_ignore_ascii_case(text.trim()))
    }
}
