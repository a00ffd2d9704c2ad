use survey::{Rating, SurveyRecord};

/// Sites by rating, and their mean where the scale has numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingSummary {
    /// Mean of the numbers of the steps, over sites where found and rated. None when nothing was
    /// rated, or when the scale has one step only, whose mean would say nothing.
    pub mean: Option<f64>,
    /// Sites rated above zero.
    pub rated: usize,
    /// Sites where found but not rated.
    pub unrated: usize,
    /// Sites by step, every step above zero in the order of the scale.
    pub distribution: Vec<RatingCount>,
}

/// Sites with one rating.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RatingCount {
    /// Code of the step.
    pub code: String,
    /// Sites.
    pub sites: usize,
}

impl RatingSummary {
    /// From the ratings of the sites where something was found; zeros are left out.
    ///
    /// # Assumptions
    /// Numbers of steps are ranks: their mean compares within one scale only.
    pub(crate) fn of(record: &SurveyRecord, ratings: impl Iterator<Item = Option<Rating>>) -> Self {
        let steps = &record.scale.steps;
        let mut counts = vec![0_usize; steps.len()];
        let mut unrated = 0;
        for rating in ratings {
            match rating.and_then(|Rating(step)| counts.get_mut(usize::from(step))) {
                Some(count) => *count += 1,
                None => unrated += 1,
            }
        }
        let counted = || {
            steps
                .iter()
                .zip(&counts)
                .filter_map(|(step, sites)| Some((step, step.value.filter(|v| *v > 0)?, *sites)))
        };
        let rated: usize = counted().map(|(_, _, sites)| sites).sum();
        let sum: f64 = counted().map(|(_, value, sites)| f64::from(value) * sites as f64).sum();
        Self {
            mean: (rated > 0 && counted().count() > 1).then(|| sum / rated as f64),
            rated,
            unrated,
            distribution: counted()
                .map(|(step, _, sites)| RatingCount { code: step.code.clone(), sites })
                .collect(),
        }
    }
}
