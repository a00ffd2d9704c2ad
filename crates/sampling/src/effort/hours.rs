use super::EffortError;
use super::error::above_zero;
use units::{Metres, MetresPerSecond, SquareMetres};

/// How fast a crew works.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Minutes a site: find it, hold the boat, write.
    pub site_minutes: f64,
    /// Minutes a throw: throw, haul, sort.
    pub throw_minutes: f64,
    /// Boat between sites.
    pub boat: MetresPerSecond,
    /// Minutes a survey: launch, set up, load.
    pub fixed_minutes: f64,
}

impl Default for Pace {
    /// 2 min a site, 1 min a throw, a boat at walking pace, an hour for launching: a hundred sites
    /// with two throws fill a long day, as crews report (100 points with two tosses in a day: Hartsock,
    /// Hayes, Latimore & Elgin 2025, conference abstract).
    fn default() -> Self {
        Self {
            site_minutes: 2.0,
            throw_minutes: 1.0,
            boat: MetresPerSecond::new(1.5),
            fixed_minutes: 60.0,
        }
    }
}

/// Hours on the water for so many sites in an area.
///
/// # Formula
/// `fixed + n·(site + K·throw) + L/v`, with `L ≈ 0.7124·√(n·A)` the length of a good tour of n
/// points spread over area A.
/// # Assumptions
/// A compact lake; arms and islands make the tour longer. The route of a real plan is measured.
/// # Errors
/// A pace that is not above 0.
/// # References
/// Beardwood, Halton & Hammersley 1959, Proc. Cambridge Phil. Soc. 55: 299–327; constant Johnson &
/// McGeoch 1996 (both from memory).
pub fn hours_on_water(
    sites: usize,
    throws: u32,
    area: SquareMetres,
    pace: &Pace,
) -> Result<f64, EffortError> {
    let tour = 0.7124 * (sites as f64 * area.square_metres()).sqrt();
    hours_of_tour(sites, throws, Metres::new(tour), pace)
}

/// Hours on the water for so many sites along a way of known length.
///
/// # Formula
/// `fixed + n·(site + K·throw) + L/v`.
/// # Errors
/// A pace that is not above 0.
pub fn hours_of_tour(
    sites: usize,
    throws: u32,
    length: Metres,
    pace: &Pace,
) -> Result<f64, EffortError> {
    let speed = above_zero("speed of the boat", pace.boat.metres_per_second())?;
    for minutes in [pace.site_minutes, pace.throw_minutes, pace.fixed_minutes] {
        if !(minutes.is_finite() && minutes >= 0.0) {
            return Err(EffortError::Input {
                word: "minutes of the pace",
                found: minutes,
                expected: "0 or more",
                hint: "give minutes a site and minutes a throw",
            });
        }
    }
    let minutes = pace.fixed_minutes
        + sites as f64 * (pace.site_minutes + f64::from(throws) * pace.throw_minutes)
        + length.metres() / speed / 60.0;
    Ok(minutes / 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_sites_with_two_throws_are_a_days_work() {
        let area = SquareMetres::from_acres(200.0);
        let hours = hours_on_water(100, 2, area, &Pace::default()).unwrap();
        assert!((7.0..10.0).contains(&hours), "{hours}");
    }

    #[test]
    fn the_parts_add_up() {
        let pace = Pace {
            site_minutes: 3.0,
            throw_minutes: 1.0,
            boat: MetresPerSecond::new(2.0),
            fixed_minutes: 30.0,
        };
        // 25 sites over a square kilometre: 0.7124 · 5 · 1000 m = 3,562 m, 29.683 min
        let hours = hours_on_water(25, 3, SquareMetres::new(1e6), &pace).unwrap();
        assert!((hours * 60.0 - (30.0 + 150.0 + 29.683_333)).abs() < 1e-4, "{hours}");
        let still = Pace { boat: MetresPerSecond::new(0.0), ..pace };
        assert!(hours_on_water(25, 3, SquareMetres::new(1e6), &still).is_err());
    }
}
