//! What is asked of a lake, from the words it is asked with.

use crate::error::{Error, Result};
use crate::ground::Ground;
use lakebed::{ClarityRegression, DepthModel, Littoral, Rule};
use lakebook::LakeBook;
use units::{Metres, UnitSystem, bounds};

/// Where the deep limit of the littoral zone comes from.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum LittoralLimit {
    /// The lake's own range of depths.
    #[default]
    Range,
    /// Chosen for this question.
    Chosen,
    /// Reckoned from Secchi depth.
    Secchi(Metres, ClarityRegression),
}

/// What is asked of a lake.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LakeRequest {
    /// The littoral zone.
    pub littoral: Littoral,
    /// Where its deep limit comes from.
    pub limit: LittoralLimit,
    /// How area and volume are found; by the depths there are when not said.
    pub rule: Option<Rule>,
    /// Zones of this year; those in use when not said.
    pub year: Option<i16>,
}

/// A question about the lake as it is typed or stands in an address; what is not said is as the book has it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LakeAsk {
    /// Level of the water above the reference, negative below.
    pub level: Option<Metres>,
    /// Word of a [`Rule`].
    pub rule: Option<String>,
    /// Shallow limit of the littoral zone.
    pub min_depth: Option<Metres>,
    /// Deep limit of the littoral zone.
    pub max_depth: Option<Metres>,
    /// Secchi depth the deep limit is reckoned from.
    pub secchi: Option<Metres>,
    /// Word of a [`ClarityRegression`].
    pub regression: Option<String>,
    /// Zones of this year.
    pub year: Option<i16>,
}

impl LakeAsk {
    /// The question settled, for a lake with its own littoral zone.
    ///
    /// # Errors
    /// When a word is unknown, or the limits make no zone.
    pub fn request(&self, own: Littoral) -> Result<LakeRequest> {
        let word = |error: &dyn std::fmt::Display| Error::input(error.to_string());
        let rule = self.rule.as_deref().map(str::parse::<Rule>).transpose();
        let rule = rule.map_err(|error| {
            word(&error).hint("give one of grid, frustum, trapezoid, raster-cells")
        })?;
        let regression = self.regression.as_deref().map(str::parse::<ClarityRegression>);
        let regression = regression
            .transpose()
            .map_err(|error| word(&error).hint("give one of them, or leave it out"))?
            .unwrap_or_default();
        let mut littoral = own;
        let mut limit = LittoralLimit::Range;
        if let Some(least) = self.min_depth {
            littoral.min_depth = least;
            limit = LittoralLimit::Chosen;
        }
        if let Some(most) = self.max_depth {
            littoral.max_depth = most;
            limit = LittoralLimit::Chosen;
        }
        if let Some(secchi) = self.secchi {
            if self.max_depth.is_some() {
                return Err(Error::input(
                    "a deep limit and a Secchi depth are given, which may not agree",
                )
                .hint("give one of them"));
            }
            if !(0.0..=MOST_SECCHI).contains(&secchi.metres()) || secchi <= Metres::new(0.0) {
                return Err(Error::input("that Secchi depth is none a lake has").hint(
                    "give the depth at which the disc goes out of sight, more than 0 and at most 50 m (164 ft)",
                ));
            }
            littoral.max_depth = regression.limit(secchi);
            limit = LittoralLimit::Secchi(secchi, regression);
        }
        let most = bounds::DEPTH.most;
        let known = |depth: Metres| (0.0..=most).contains(&depth.metres());
        if !known(littoral.min_depth) || !known(littoral.max_depth) {
            return Err(Error::input("a limit of the littoral zone is no depth of a lake")
                .hint(format!("give depths from 0 to {most} m below the water")));
        }
        if littoral.min_depth >= littoral.max_depth {
            return Err(Error::input(
                "the shallow limit of the littoral zone is not above its deep limit",
            )
            .hint("give a shallow limit smaller than the deep one"));
        }
        Ok(LakeRequest { littoral, limit, rule, year: self.year })
    }
}

/// Keeps the littoral zone asked for as the lake's own: where sites are laid and what is measured from
/// then on. What earlier surveys found is not touched.
///
/// # Errors
/// When no limit is asked for, or the limits make no zone.
pub fn keep_littoral(book: &mut LakeBook, ask: &LakeAsk) -> Result<()> {
    if ask.min_depth.is_none() && ask.max_depth.is_none() && ask.secchi.is_none() {
        return Err(Error::input("no limit of the littoral zone is given to keep")
            .hint("give a shallow limit, a deep limit or a Secchi depth"));
    }
    let mut lake = book.lake()?;
    let own = Littoral { min_depth: lake.littoral.0, max_depth: lake.littoral.1 };
    let request = ask.request(own)?;
    let Littoral { min_depth, max_depth } = request.littoral;
    let from = match request.limit {
        LittoralLimit::Secchi(secchi, regression) => {
            format!(", from a Secchi depth of {} by {}", lake.units.depth(secchi), regression.key())
        }
        _ => String::new(),
    };
    let range = format!("{} to {}", lake.units.depth(min_depth), lake.units.depth(max_depth));
    lake.littoral = (min_depth, max_depth);
    let note = format!("the littoral zone is the water from {range} deep{from}");
    Ok(book.transact(&note, |writer| writer.put_lake(&lake))?)
}

/// Farther down no disc was ever seen: 44 m in Crater Lake is the record of lakes (from memory).
const MOST_SECCHI: f64 = 50.0;

/// Higher or lower than this no lake stands for a season.
const MOST_RISE: f64 = 100.0;

impl Ground {
    /// The ground under water at another level, metres above the reference, negative below.
    ///
    /// # Errors
    /// When there are no depths, no water is left, or no lake rises so far.
    pub fn at_level(mut self, level: Metres) -> Result<Self> {
        let units = self.lake.units;
        let Some(model) = self.model.take() else {
            return Err(Error::input(format!(
                "`{}` has no depths yet, so another level of the water tells nothing",
                self.lake.name
            ))
            .hint("add depths first"));
        };
        refuse_level(&model, level, units)?;
        self.model = Some(model.at_level(level));
        Ok(self)
    }
}

fn refuse_level(model: &DepthModel, level: Metres, units: UnitSystem) -> Result<()> {
    let rise = level.metres();
    if MOST_RISE < rise {
        return Err(Error::input("that level of the water is higher than a lake rises").hint(
            format!(
                "give at most {} above the reference level",
                units.depth(Metres::new(MOST_RISE))
            ),
        ));
    }
    if rise <= -model.max_depth().metres() {
        return Err(Error::input(format!(
            "with the water {} below the reference level the lake is dry: its deepest place is {}",
            units.depth(Metres::new(-rise)),
            units.depth(model.max_depth())
        ))
        .hint("give a level nearer the reference"));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limits(request: &LakeRequest) -> (f64, f64) {
        (request.littoral.min_depth.feet(), request.littoral.max_depth.feet())
    }

    #[test]
    fn what_is_not_said_is_as_the_book_has_it() {
        let own = Littoral::default();
        let request = LakeAsk::default().request(own).expect("nothing is asked");
        assert_eq!(request, LakeRequest { littoral: own, ..LakeRequest::default() });
        let ask = LakeAsk { min_depth: Some(Metres::new(0.0)), ..LakeAsk::default() };
        let request = ask.request(own).expect("from the shore down");
        assert_eq!(request.limit, LittoralLimit::Chosen);
        let (least, most) = limits(&request);
        assert!(least.abs() < 1e-12 && (most - 8.0).abs() < 1e-9);
    }

    /// Ten feet of sight give 13.98 ft by Caffrey, Hoyer and Canfield (2007).
    #[test]
    fn secchi_depth_sets_the_deep_limit_alone() {
        let ask = LakeAsk {
            secchi: Some(Metres::from_feet(10.0)),
            rule: Some("frustum".to_owned()),
            ..LakeAsk::default()
        };
        let request = ask.request(Littoral::default()).expect("a Secchi depth");
        let (least, most) = limits(&request);
        assert!((least - 1.0).abs() < 1e-9 && (most - 13.98).abs() < 0.005, "{most}");
        assert_eq!(request.rule, Some(Rule::Frustum));
    }

    #[test]
    fn what_makes_no_sense_is_refused_with_a_way_out() {
        let metres = |value| Some(Metres::new(value));
        let word = |text: &str| Some(text.to_owned());
        for (ask, says) in [
            (LakeAsk { rule: word("cubes"), ..LakeAsk::default() }, "cubes"),
            (LakeAsk { regression: word("me-2026"), ..LakeAsk::default() }, "me-2026"),
            (LakeAsk { secchi: metres(0.0), ..LakeAsk::default() }, "Secchi"),
            (LakeAsk { secchi: metres(80.0), ..LakeAsk::default() }, "Secchi"),
            (
                LakeAsk { secchi: metres(2.0), max_depth: metres(3.0), ..LakeAsk::default() },
                "may not agree",
            ),
            (LakeAsk { max_depth: metres(0.1), ..LakeAsk::default() }, "not above"),
            (LakeAsk { min_depth: metres(-1.0), ..LakeAsk::default() }, "no depth of a lake"),
            (LakeAsk { max_depth: metres(1e300), ..LakeAsk::default() }, "no depth of a lake"),
        ] {
            let error = ask.request(Littoral::default()).expect_err(says);
            assert!(error.message.contains(says), "{}", error.message);
            assert!(error.hint.is_some_and(|hint| !hint.is_empty()), "{says}");
        }
    }
}
