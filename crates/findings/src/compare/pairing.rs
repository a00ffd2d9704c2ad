//! Which sites of two surveys may stand beside each other.

use super::Design;
use crate::sampled::{Sampled, SampledSite};
use std::collections::BTreeMap;
use survey::{Code, SurveyRecord};
use units::{LonLat, Metres};

/// Farther apart than this, two positions under one code are two places: twice the ten metres a
/// handheld GPS unit may be off (common practice).
const ONE_PLACE: f64 = 20.0;
/// Mean radius of the Earth in metres (IUGG).
const EARTH_RADIUS: f64 = 6_371_008.8;

/// A site of each survey.
pub(crate) type Pair<'a, 'r> = (&'a SampledSite<'r>, &'a SampledSite<'r>);

/// The sites that are compared.
#[derive(Debug)]
pub(crate) enum Compared<'a, 'r> {
    /// The same sites.
    Paired(Vec<Pair<'a, 'r>>),
    /// Different sites.
    Independent(Vec<&'a SampledSite<'r>>, Vec<&'a SampledSite<'r>>),
}

impl Compared<'_, '_> {
    pub(crate) fn design(&self) -> Design {
        match self {
            Self::Paired(pairs) => Design::Paired { pairs: pairs.len() },
            Self::Independent(..) => Design::Independent,
        }
    }

    pub(crate) fn counts(&self) -> (usize, usize) {
        match self {
            Self::Paired(pairs) => (pairs.len(), pairs.len()),
            Self::Independent(from, to) => (from.len(), to.len()),
        }
    }
}

/// The sites that are compared, and what was left out on the way.
#[derive(Debug)]
pub(crate) struct ComparedSites<'a, 'r> {
    pub(crate) compared: Compared<'a, 'r>,
    pub(crate) shared_depth: Option<Metres>,
    /// Sites left out because they are deeper than the shared depth.
    pub(crate) too_deep: usize,
    /// Sites left out because nobody knows whether they are.
    pub(crate) depth_unknown: usize,
    /// Codes that stand for two places.
    pub(crate) moved: usize,
    /// Sites shared by two surveys that are compared as independent.
    pub(crate) shared_but_few: usize,
}

pub(crate) fn compared_sites<'a, 'r>(
    from: &SurveyRecord,
    to: &SurveyRecord,
    first: &'a Sampled<'r>,
    second: &'a Sampled<'r>,
) -> ComparedSites<'a, 'r> {
    let caps = (from.survey.depth_cap, to.survey.depth_cap);
    let shared_depth = shared_depth(caps);
    let (pairs, moved) = pairs(first, second);
    let smaller = first.sites.len().min(second.sites.len());
    let mut sites = ComparedSites {
        compared: Compared::Independent(Vec::new(), Vec::new()),
        shared_depth,
        too_deep: 0,
        depth_unknown: 0,
        moved,
        shared_but_few: 0,
    };
    if !pairs.is_empty() && 2 * pairs.len() >= smaller {
        let all = pairs.len();
        // one measured depth beyond the limit is enough to leave a pair out
        let kept: Vec<Pair<'a, 'r>> = pairs
            .into_iter()
            .filter(|(one, other)| {
                [one.depth, other.depth]
                    .into_iter()
                    .flatten()
                    .all(|depth| shared_depth.is_none_or(|most| depth <= most))
            })
            .collect();
        sites.too_deep = all - kept.len();
        sites.compared = Compared::Paired(kept);
    } else {
        sites.shared_but_few = pairs.len();
        let from_sites = sites.within(&first.sites, caps.0);
        let to_sites = sites.within(&second.sites, caps.1);
        sites.compared = Compared::Independent(from_sites, to_sites);
    }
    sites
}

impl ComparedSites<'_, '_> {
    /// Sites within the shared depth. A survey that itself stopped there has its sites within by
    /// rule, measured or not; of another, a site without a depth cannot be told.
    fn within<'a, 'r>(
        &mut self,
        sites: &'a [SampledSite<'r>],
        cap: Option<Metres>,
    ) -> Vec<&'a SampledSite<'r>> {
        let Some(most) = self.shared_depth else { return sites.iter().collect() };
        let by_rule = cap.is_some_and(|cap| cap <= most);
        let (mut too_deep, mut unknown) = (0, 0);
        let kept = sites
            .iter()
            .filter(|site| {
                if let Some(depth) = site.depth {
                    too_deep += usize::from(depth > most);
                    depth <= most
                } else {
                    unknown += usize::from(!by_rule);
                    by_rule
                }
            })
            .collect();
        self.too_deep += too_deep;
        self.depth_unknown += unknown;
        kept
    }
}

/// The depth both surveys reached, when they stopped at different depths.
///
/// # References
/// U.S. Geological Survey, Long Term Resource Monitoring: sites between 2.5 and 3.0 m were dropped
/// from the 1998 figures because later surveys stopped at 2.5 m.
fn shared_depth(caps: (Option<Metres>, Option<Metres>)) -> Option<Metres> {
    match caps {
        (Some(one), Some(other)) => (one < other || other < one).then(|| one.min(other)),
        (one, other) => one.or(other),
    }
}

/// Sites sampled in both surveys under one code at one place, and codes that moved.
fn pairs<'a, 'r>(first: &'a Sampled<'r>, second: &'a Sampled<'r>) -> (Vec<Pair<'a, 'r>>, usize) {
    let by_code: BTreeMap<&Code, &SampledSite<'r>> =
        first.sites.iter().filter_map(|one| Some((&one.site?.code, one))).collect();
    let mut moved = 0;
    let pairs = second
        .sites
        .iter()
        .filter_map(|later| {
            let earlier = *by_code.get(&later.site?.code)?;
            let apart = distance(earlier.site?.planned, later.site?.planned);
            if apart.is_some_and(|metres| metres > ONE_PLACE) {
                moved += 1;
                return None;
            }
            Some((earlier, later))
        })
        .collect();
    (pairs, moved)
}

/// Metres between two near places on a sphere, good enough to tell 20 m from 25.
fn distance(one: Option<LonLat>, other: Option<LonLat>) -> Option<f64> {
    let (one, other) = (one?, other?);
    let north = (other.latitude() - one.latitude()).to_radians();
    let middle = f64::midpoint(one.latitude(), other.latitude()).to_radians();
    let east = (other.longitude() - one.longitude()).to_radians() * middle.cos();
    Some(EARTH_RADIUS * north.hypot(east))
}
