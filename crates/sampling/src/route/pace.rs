use super::RouteError;
use units::Metres;

/// How long a boat stays at a site.
///
/// # Formula
/// `settle + throws · (each_throw + each_metre · depth)`, in minutes: finding and holding the place and writing, then for each
/// throw the sorting and rating, and the rope down and up. An unknown depth counts as no rope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SiteMinutes {
    /// Once a site.
    pub settle: f64,
    /// For each throw.
    pub each_throw: f64,
    /// For each throw and each metre of depth.
    pub each_metre: f64,
}

impl SiteMinutes {
    /// The same for every site.
    pub const fn flat(minutes: f64) -> Self {
        Self { settle: minutes, each_throw: 0.0, each_metre: 0.0 }
    }

    /// Minutes at a site.
    pub fn at(&self, depth: Option<Metres>, throws: u32) -> f64 {
        let rope = depth.map_or(0.0, Metres::metres) * self.each_metre;
        self.settle + f64::from(throws) * (self.each_throw + rope)
    }
}

/// A rest, taken by every boat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Break {
    /// Minutes after the start of the day; it is taken at the first moment after that, if the boat is still out.
    pub after: f64,
    /// Minutes it lasts.
    pub minutes: f64,
}

/// Breaks in order of the day.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Breaks(Vec<Break>);

impl Breaks {
    pub(crate) fn new(breaks: &[Break]) -> Result<Self, RouteError> {
        for rest in breaks {
            check("the time of a break", rest.after)?;
            check("the length of a break", rest.minutes)?;
        }
        let mut breaks = breaks.to_vec();
        breaks.sort_by(|a, b| a.after.total_cmp(&b.after));
        Ok(Self(breaks))
    }

    /// Minutes since the start when so many minutes of work are done, breaks included.
    pub(crate) fn elapsed(&self, work: f64) -> f64 {
        self.0
            .iter()
            .fold(work, |clock, rest| if clock > rest.after { clock + rest.minutes } else { clock })
    }

    /// The most minutes of work that end within so many minutes since the start.
    pub(crate) fn room(&self, available: f64) -> f64 {
        let mut rested = 0.0;
        for rest in &self.0 {
            if available <= rest.after {
                break;
            }
            if available < rest.after + rest.minutes {
                return rest.after - rested;
            }
            rested += rest.minutes;
        }
        available - rested
    }
}

pub(crate) fn check(what: &'static str, minutes: f64) -> Result<(), RouteError> {
    if minutes.is_finite() && minutes >= 0.0 {
        Ok(())
    } else {
        Err(RouteError::Minutes { what, found: minutes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rope_and_throws_take_time() {
        let pace = SiteMinutes { settle: 1.5, each_throw: 1.0, each_metre: 0.25 };
        let same = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} against {b}");
        same(pace.at(Some(Metres::new(4.0)), 3), 1.5 + 3.0 * (1.0 + 1.0));
        same(pace.at(None, 2), 3.5);
        same(SiteMinutes::flat(4.0).at(Some(Metres::new(9.0)), 5), 4.0);
    }

    #[test]
    fn a_break_counts_once_the_boat_is_still_out() {
        let breaks = Breaks::new(&[
            Break { after: 240.0, minutes: 30.0 },
            Break { after: 120.0, minutes: 10.0 },
        ])
        .unwrap();
        let clock =
            [(100.0, 100.0), (120.0, 120.0), (121.0, 131.0), (229.0, 239.0), (231.0, 271.0)];
        for (work, expected) in clock {
            assert!((breaks.elapsed(work) - expected).abs() < 1e-12, "{work}");
        }
    }

    #[test]
    fn the_room_of_a_day_is_what_elapses_within_it() {
        let breaks = Breaks::new(&[
            Break { after: 120.0, minutes: 10.0 },
            Break { after: 240.0, minutes: 30.0 },
        ])
        .unwrap();
        for available in [0.0, 60.0, 120.0, 125.0, 130.0, 200.0, 240.0, 250.0, 270.0, 400.0] {
            let room = breaks.room(available);
            assert!(breaks.elapsed(room) <= available, "{available}: {room}");
            assert!(breaks.elapsed(room + 0.001) > available, "{available}: {room}");
        }
    }
}
