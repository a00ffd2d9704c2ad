//! Greedy label placement: each label tries a few places and takes the one that hurts least.

use super::plane::{Rect, inside};

/// What is in the way of a label.
#[derive(Debug, Default)]
pub(crate) struct Obstacles {
    /// Labels and marks: never to be covered.
    hard: Vec<Rect>,
    /// The route: better not covered.
    soft: Vec<Rect>,
    /// The shore in pixels: better not crossed.
    shore: Vec<Vec<(f64, f64)>>,
    /// Where labels may stand.
    field: Option<Rect>,
}

/// What a label prefers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ground {
    Land,
    Water,
    Any,
}

impl Obstacles {
    pub(crate) fn new(field: Rect, shore: Vec<Vec<(f64, f64)>>) -> Self {
        Self { hard: Vec::new(), soft: Vec::new(), shore, field: Some(field) }
    }

    pub(crate) fn block(&mut self, rect: Rect) {
        self.hard.push(rect);
    }

    pub(crate) fn avoid(&mut self, (x, y): (f64, f64), radius: f64) {
        let (width, height) = (2.0 * radius, 2.0 * radius);
        self.soft.push(Rect { x: x - radius, y: y - radius, width, height });
    }

    pub(crate) fn block_disc(&mut self, (x, y): (f64, f64), radius: f64) {
        self.block(Rect {
            x: x - radius,
            y: y - radius,
            width: 2.0 * radius,
            height: 2.0 * radius,
        });
    }

    pub(crate) fn is_free(&self, rect: Rect) -> bool {
        self.field.is_none_or(|field| field.holds(rect))
            && self.hard.iter().all(|other| rect.overlap(*other) <= 0.0)
    }

    /// How much a place hurts: lying across the shore, or on the wrong side of it.
    fn cost(&self, rect: Rect, ground: Ground) -> f64 {
        const ACROSS: usize = 5;
        let wet = (0..ACROSS)
            .flat_map(|step| {
                let x = rect.x + rect.width * step as f64 / (ACROSS - 1) as f64;
                [(x, rect.y), (x, rect.bottom())]
            })
            .filter(|point| inside(&self.shore, *point))
            .count() as f64
            / (2 * ACROSS) as f64;
        let wrong = match ground {
            Ground::Land => wet,
            Ground::Water => 1.0 - wet,
            Ground::Any => 0.0,
        };
        let on_route = self.soft.iter().any(|other| rect.overlap(*other) > 0.0);
        8.0 * wet.min(1.0 - wet) + 3.0 * wrong + if on_route { 2.5 } else { 0.0 }
    }

    /// The best free place among candidates (given best first), blocked from then on.
    pub(crate) fn take(
        &mut self,
        candidates: impl IntoIterator<Item = Rect>,
        ground: Ground,
    ) -> Option<Rect> {
        let best = candidates
            .into_iter()
            .enumerate()
            .filter(|(_, rect)| self.is_free(*rect))
            .map(|(rank, rect)| (self.cost(rect, ground) + 0.25 * rank as f64, rect))
            .min_by(|a, b| a.0.total_cmp(&b.0))?
            .1;
        // air at both ends, so that neighbours do not read as one word
        self.block(Rect { x: best.x - 2.5, width: best.width + 5.0, ..best });
        Some(best)
    }
}

/// Eight places round a mark for a label of a size: right, left, above, below, then the corners.
pub(crate) fn around((x, y): (f64, f64), radius: f64, width: f64, height: f64) -> [Rect; 8] {
    let (gap, near) = (radius + 3.0, radius * 0.7 + 1.5);
    let at = |left: f64, top: f64| Rect { x: left, y: top, width, height };
    [
        at(x + gap, y - height / 2.0),
        at(x - gap - width, y - height / 2.0),
        at(x - width / 2.0, y - gap - height + 2.0),
        at(x - width / 2.0, y + gap - 1.0),
        at(x + near, y - near - height),
        at(x + near, y + near),
        at(x - near - width, y - near - height),
        at(x - near - width, y + near),
    ]
}

/// A rectangle of a size with its middle at a point.
pub(crate) fn centred((x, y): (f64, f64), width: f64, height: f64) -> Rect {
    Rect { x: x - width / 2.0, y: y - height / 2.0, width, height }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crowded_labels_are_left_out_rather_than_stacked() {
        let field = Rect { x: 0.0, y: 0.0, width: 100.0, height: 60.0 };
        let mut obstacles = Obstacles::new(field, Vec::new());
        let placed: Vec<_> = (0..60)
            .filter_map(|index| {
                let point = (50.0 + f64::from(index % 3), 30.0 + f64::from(index % 5));
                obstacles.take(around(point, 3.0, 20.0, 10.0), Ground::Any)
            })
            .collect();
        assert!(!placed.is_empty() && placed.len() < 20, "{} placed", placed.len());
        for (index, one) in placed.iter().enumerate() {
            assert!(field.holds(*one));
            for other in &placed[index + 1..] {
                assert!(one.overlap(*other) <= 0.0, "{one:?} covers {other:?}");
            }
        }
    }

    #[test]
    fn a_landmark_is_lettered_on_land() {
        let water = vec![vec![(0.0, 0.0), (50.0, 0.0), (50.0, 100.0), (0.0, 100.0), (0.0, 0.0)]];
        let field = Rect { x: -200.0, y: -200.0, width: 500.0, height: 500.0 };
        let mut obstacles = Obstacles::new(field, water);
        let at_left = obstacles.take(around((0.0, 50.0), 4.0, 40.0, 10.0), Ground::Land).unwrap();
        assert!(at_left.right() < 0.0, "{at_left:?}");
    }
}
