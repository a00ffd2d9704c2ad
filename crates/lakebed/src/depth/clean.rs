//! From depths as read to depths that can be trusted, with a finding for everything that was done.

use super::{ContourLine, DepthData, DepthError, Sounding};
use crate::at_once;
use crate::finding::Finding;
use crate::outline::Outline;
use geo_types::Coord;
use units::bounds::DEPTH;

/// Soundings within the lake, each place once, no depth negative; contours cut where they leave the
/// lake.
#[derive(Debug, Default)]
pub(super) struct CleanData {
    pub(super) soundings: Vec<Sounding>,
    /// Lines of at least one vertex, all in the lake.
    pub(super) contours: Vec<ContourLine>,
}

/// A file whose depths are negative in more than this share has its sign flipped or holds
/// elevations.
const MOST_NEGATIVE: f64 = 0.5;

pub(super) fn clean(
    outline: &Outline,
    data: &DepthData,
    findings: &mut Vec<Finding>,
) -> Result<CleanData, DepthError> {
    refuse_impossible(data)?;
    let (inside, on_land) = parted_by_shore(outline, &data.soundings);
    report_land(outline, &on_land, data.soundings.len(), findings);
    let (soundings, shallow) = clamp(inside);
    report_negative(outline, &shallow, soundings.len(), findings)?;
    let soundings = average_duplicates(soundings, outline, findings);
    let contours = data.contours.iter().flat_map(|contour| within(outline, contour)).collect();
    let clean = CleanData { soundings, contours };
    if clean.soundings.is_empty() && clean.contours.is_empty() {
        return Err(if data.is_empty() {
            DepthError::NoData
        } else {
            DepthError::NothingInTheLake { total: data.soundings.len() + data.contours.len() }
        });
    }
    Ok(clean)
}

/// Soundings in the lake and soundings on land.
fn parted_by_shore(outline: &Outline, soundings: &[Sounding]) -> (Vec<Sounding>, Vec<Sounding>) {
    let part = |soundings: &[Sounding]| -> (Vec<Sounding>, Vec<Sounding>) {
        soundings.iter().partition(|sounding| outline.contains(sounding.at))
    };
    let (first, second) = soundings.split_at(soundings.len() / 2);
    let ((mut inside, mut on_land), mut second) = at_once(|| part(first), || part(second));
    inside.append(&mut second.0);
    on_land.append(&mut second.1);
    (inside, on_land)
}

fn refuse_impossible(data: &DepthData) -> Result<(), DepthError> {
    let bad = |at: &Coord<f64>| !(at.x.is_finite() && at.y.is_finite());
    let odd = |s: &Sounding| !s.depth.is_finite() || bad(&s.at);
    let mut odd_ones = data.soundings.iter().enumerate().filter(|(_, s)| odd(s));
    if let Some((index, first)) = odd_ones.next() {
        return Err(DepthError::NotANumber {
            what: "sounding",
            number: index + 1,
            count: 1 + odd_ones.count(),
            found: first.depth,
        });
    }
    let odd = |c: &ContourLine| !c.depth.is_finite() || c.line.0.iter().any(bad);
    let mut odd_ones = data.contours.iter().enumerate().filter(|(_, c)| odd(c));
    if let Some((index, first)) = odd_ones.next() {
        return Err(DepthError::NotANumber {
            what: "contour",
            number: index + 1,
            count: 1 + odd_ones.count(),
            found: first.depth,
        });
    }
    let depths =
        data.soundings.iter().map(|s| s.depth).chain(data.contours.iter().map(|c| c.depth));
    let deepest = depths.fold(0.0, f64::max);
    if DEPTH.most < deepest { Err(DepthError::TooDeep { found: deepest }) } else { Ok(()) }
}

fn report_land(outline: &Outline, on_land: &[Sounding], total: usize, findings: &mut Vec<Finding>) {
    let Some(first) = on_land.first() else {
        return;
    };
    let outside = on_land.len();
    let place = outline.crs().unproject(first.at).ok();
    let share = outside as f64 / total as f64;
    let message = format!("{outside} of {total} soundings lie on land and were left out");
    let finding = if share < 0.05 {
        Finding::note(message)
    } else {
        Finding::warning(message).hint(
            "check that the outline and the depths are of the same water level and the same system",
        )
    };
    findings.push(finding.at(place).times(outside));
}

fn clamp(soundings: Vec<Sounding>) -> (Vec<Sounding>, Vec<Sounding>) {
    let shallow = soundings.iter().copied().filter(|sounding| sounding.depth < 0.0).collect();
    let clamped = soundings
        .into_iter()
        .map(|sounding| Sounding { depth: sounding.depth.max(0.0), ..sounding })
        .collect();
    (clamped, shallow)
}

fn report_negative(
    outline: &Outline,
    shallow: &[Sounding],
    total: usize,
    findings: &mut Vec<Finding>,
) -> Result<(), DepthError> {
    let Some(first) = shallow.first() else {
        return Ok(());
    };
    if MOST_NEGATIVE < shallow.len() as f64 / total as f64 {
        return Err(DepthError::MostlyNegative {
            negative: shallow.len(),
            total,
            example: first.depth,
        });
    }
    let least = shallow.iter().map(|sounding| sounding.depth).fold(0.0, f64::min);
    findings.push(
        Finding::warning(format!(
            "{} of {total} soundings are above the water, up to {:.2} m; they were taken as shore, depth 0",
            shallow.len(),
            -least
        ))
        .at(outline.crs().unproject(first.at).ok())
        .times(shallow.len()),
    );
    Ok(())
}

/// One sounding a place, the mean of those that share it; the order is by place, whatever the
/// file's.
fn average_duplicates(
    mut soundings: Vec<Sounding>,
    outline: &Outline,
    findings: &mut Vec<Finding>,
) -> Vec<Sounding> {
    soundings.sort_by(|a, b| {
        a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)).then(a.depth.total_cmp(&b.depth))
    });
    let (mut repeated, mut widest, mut place) = (0, 0.0f64, None);
    let single: Vec<Sounding> = soundings
        .chunk_by(|a, b| a.at == b.at)
        .map(|same| {
            let spread = same[same.len() - 1].depth - same[0].depth;
            repeated += same.len() - 1;
            if widest < spread {
                widest = spread;
                place = outline.crs().unproject(same[0].at).ok();
            }
            let sum: f64 = same.iter().map(|sounding| sounding.depth).sum();
            Sounding { at: same[0].at, depth: sum / same.len() as f64 }
        })
        .collect();
    if repeated > 0 {
        let message = format!("{repeated} soundings repeat a place and were averaged");
        findings.push(if widest < DISAGREEMENT {
            Finding::note(message).times(repeated)
        } else {
            Finding::warning(format!("{message}; they disagree by up to {widest:.2} m"))
                .hint("check the unit and the date of the file that was added twice")
                .at(place)
                .times(repeated)
        });
    }
    single
}

/// Soundings of one place that part by more disagree. Common practice: a foot.
const DISAGREEMENT: f64 = units::METRES_PER_FOOT;

/// The stretches of a contour that lie in the lake.
fn within(outline: &Outline, contour: &ContourLine) -> Vec<ContourLine> {
    let depth = contour.depth.max(0.0);
    contour
        .line
        .0
        .chunk_by(|a, b| outline.contains(*a) == outline.contains(*b))
        .filter(|stretch| outline.contains(stretch[0]))
        .map(|stretch| ContourLine { line: stretch.to_vec().into(), depth })
        .collect()
}
