use super::AreaEstimate;
use crate::random::Draw;
use crate::stats::design::score_interval;
use crate::stats::quantile::middle_95;
use crate::stats::{Confidence, Estimate};
use std::collections::BTreeMap;
use survey::Code;
use survey::scale::CoverBounds;
use units::SquareMetres;

/// Resamples of parts for an interval.
const RESAMPLES: usize = 999;

/// A part of a zone as a crew rated it.
#[derive(Debug, Clone, PartialEq)]
pub struct RatedSubArea {
    /// The zone.
    pub zone: Option<Code>,
    /// Its area.
    pub area: SquareMetres,
    /// What was found.
    pub result: SubAreaResult,
}

/// What a crew wrote of a plant in a sub-area.
#[derive(Debug, Clone, PartialEq)]
pub enum SubAreaResult {
    /// There.
    Found {
        /// Code of the rating; empty when not rated.
        step: String,
        /// Cover the step stands for, where its scale gives it.
        cover: Option<CoverBounds>,
    },
    /// Looked for and not there.
    NotFound,
    /// Not reached, or not looked for: unknown, not zero.
    NotLookedAt,
}

/// The extent of a plant in a zone, or over all, from rated sub-areas.
#[derive(Debug, Clone, PartialEq)]
pub struct SubAreaExtent {
    /// The zone; none over all.
    pub zone: Option<Code>,
    /// Area of its sub-areas.
    pub area: SquareMetres,
    /// Area of those looked at.
    pub looked_at: SquareMetres,
    /// Sub-areas looked at.
    pub sub_areas: usize,
    /// Of these, with the plant.
    pub found: usize,
    /// Area of the sub-areas that have it, those not looked at by their share; none when nobody looked
    /// at any. The interval has no width when all were looked at.
    pub extent: Option<AreaEstimate>,
    /// Area of sub-areas looked at by rating, in the order of the codes.
    pub by_step: Vec<(String, SquareMetres)>,
    /// Area covered by the plant itself in sub-areas looked at, from the cover of each step: between
    /// the lower and the upper bounds, the middle of classes in between. None when the scale has no
    /// cover for a step that was used.
    pub covered: Option<AreaEstimate>,
    /// Seed of the resamples.
    pub seed: u64,
}

/// Extent by zone, zones in the order of their codes, the whole first.
///
/// # Formula
/// `Σ aᵢyᵢ` over sub-areas looked at, plus the area not looked at times `Σ aᵢyᵢ/Σ aᵢ`. The interval is
/// for the area not looked at only: sub-areas looked at are drawn anew with replacement 999 times.
/// Cover: `Σ aᵢ·cover`, with the bounds of the classes (Daubenmire 1959 for their middles).
/// # Units
/// Square metres.
/// # Assumptions
/// Sub-areas not looked at are like those that were. A sub-area counts whole however little grows in
/// it: `covered` says how much does.
pub fn sub_area_extent(sub_areas: &[RatedSubArea], seed: u64) -> Vec<SubAreaExtent> {
    let mut zones: BTreeMap<&Code, Vec<&RatedSubArea>> = BTreeMap::new();
    for one in sub_areas {
        if let Some(zone) = &one.zone {
            zones.entry(zone).or_default().push(one);
        }
    }
    let all: Vec<&RatedSubArea> = sub_areas.iter().collect();
    let mut extents = vec![extent(None, &all, seed)];
    extents.extend(zones.into_iter().map(|(zone, parts)| extent(Some(zone.clone()), &parts, seed)));
    extents
}

fn extent(zone: Option<Code>, all: &[&RatedSubArea], seed: u64) -> SubAreaExtent {
    let area = |one: &RatedSubArea| one.area.square_metres();
    let looked: Vec<&RatedSubArea> =
        all.iter().copied().filter(|one| one.result != SubAreaResult::NotLookedAt).collect();
    let whole: f64 = all.iter().map(|one| area(one)).sum();
    let seen: f64 = looked.iter().map(|one| area(one)).sum();
    let parts: Vec<(f64, bool)> = looked
        .iter()
        .map(|one| (area(one), matches!(one.result, SubAreaResult::Found { .. })))
        .collect();
    let with: f64 = parts.iter().filter(|(_, found)| *found).map(|(area, _)| area).sum();
    let rest = (whole - seen).max(0.0);
    let extent = (seen > 0.0).then(|| {
        let Estimate { value, low, high } = if rest > 1e-9 * whole {
            share_of(&parts, seed)
        } else {
            Estimate { value: 0.0, low: 0.0, high: 0.0 }
        };
        let area = |share: f64| SquareMetres::new(with + share * rest);
        AreaEstimate { value: area(value), low: area(low), high: area(high) }
    });
    let mut by_step: BTreeMap<&str, f64> = BTreeMap::new();
    let mut covered = Some([0.0; 3]);
    for one in &looked {
        if let SubAreaResult::Found { step, cover } = &one.result {
            *by_step.entry(step).or_insert(0.0) += area(one);
            covered = covered.zip(*cover).map(|(sum, cover)| {
                let shares = [cover.low, cover.middle(), cover.high];
                std::array::from_fn(|k| sum[k] + shares[k] * area(one))
            });
        }
    }
    SubAreaExtent {
        zone,
        area: SquareMetres::new(whole),
        looked_at: SquareMetres::new(seen),
        sub_areas: looked.len(),
        found: parts.iter().filter(|(_, found)| *found).count(),
        extent,
        by_step: by_step
            .into_iter()
            .map(|(code, area)| (code.to_owned(), SquareMetres::new(area)))
            .collect(),
        covered: covered.filter(|_| seen > 0.0).map(|[low, value, high]| AreaEstimate {
            value: SquareMetres::new(value),
            low: SquareMetres::new(low),
            high: SquareMetres::new(high),
        }),
        seed,
    }
}

/// Share of weights with the plant, parts resampled.
fn share_of(parts: &[(f64, bool)], seed: u64) -> Estimate {
    let total: f64 = parts.iter().map(|(weight, _)| weight).sum();
    let with: f64 = parts.iter().filter(|(_, found)| *found).map(|(weight, _)| weight).sum();
    let value = with / total;
    let agree = parts.iter().all(|(_, found)| *found) || parts.iter().all(|(_, found)| !*found);
    if agree {
        let squares: f64 = parts.iter().map(|(weight, _)| weight * weight).sum();
        return score_interval(value, total * total / squares, Confidence::NINETY_FIVE.z());
    }
    let mut draw = Draw::new(seed);
    let mut shares: Vec<f64> = (0..RESAMPLES)
        .map(|_| {
            let (mut all, mut with) = (0.0, 0.0);
            for _ in 0..parts.len() {
                let (weight, found) = parts[draw.below(parts.len())];
                all += weight;
                with += if found { weight } else { 0.0 };
            }
            with / all
        })
        .collect();
    let (low, high) = middle_95(&mut shares).unwrap_or((0.0, 1.0));
    Estimate { value, low: low.min(value), high: high.max(value) }
}
