//! The plants of Lake Tamarin: each keeps to its depth, grows in patches and comes back most years.

use super::ground::{Ground, Place};
use super::random::{Field, Random};
use std::fmt::Write as _;
use units::METRES_PER_FOOT;

/// How a plant behaves.
struct Habit {
    scientific_name: &'static str,
    /// Depth it likes, feet.
    depth: f64,
    /// How far from that depth it still does well, feet.
    width: f64,
    /// Commonness at its best depth, log odds.
    common: f64,
    /// How patchy, log odds.
    patchy: f64,
    /// How much comes up, 0 a trace, 3 a full rake.
    lush: f64,
    /// Extra log odds in each of the three years.
    years: [f64; 3],
    /// Extra log odds in the treated beds in the last year.
    treated: f64,
}

const fn habit(
    scientific_name: &'static str,
    depth: f64,
    width: f64,
    common: f64,
    patchy: f64,
    lush: f64,
) -> Habit {
    Habit { scientific_name, depth, width, common, patchy, lush, years: [0.0; 3], treated: -0.3 }
}

const PLANTS: &[Habit] = &[
    habit("Ceratophyllum demersum", 9.0, 5.0, 1.3, 1.3, 1.9),
    habit("Najas flexilis", 6.0, 4.0, 0.7, 1.0, 1.0),
    habit("Chara", 4.0, 3.5, 1.0, 1.4, 1.5),
    habit("Potamogeton zosteriformis", 8.0, 3.5, 0.5, 1.1, 1.0),
    habit("Vallisneria americana", 6.0, 3.5, 0.4, 1.2, 1.2),
    habit("Elodea canadensis", 7.0, 4.0, 0.2, 1.1, 1.1),
    habit("Potamogeton praelongus", 10.0, 3.0, 0.2, 1.0, 0.8),
    habit("Potamogeton robbinsii", 9.5, 3.5, -0.3, 1.4, 1.3),
    Habit {
        years: [-3.2, 0.5, 0.2],
        treated: -5.5,
        ..habit("Myriophyllum spicatum", 8.0, 4.5, 0.4, 1.3, 1.6)
    },
    habit("Nymphaea odorata", 3.0, 1.6, 0.6, 1.4, 1.3),
    habit("Heteranthera dubia", 6.5, 3.0, -0.6, 1.1, 0.8),
    habit("Stuckenia pectinata", 3.5, 2.5, -0.8, 1.0, 0.7),
    habit("Nuphar variegata", 2.8, 1.4, -0.3, 1.4, 1.2),
    habit("Myriophyllum sibiricum", 7.5, 2.5, -1.6, 1.0, 0.7),
    Habit { years: [-0.6, 0.0, 0.2], ..habit("Potamogeton crispus", 7.0, 5.0, -2.3, 1.2, 0.5) },
    habit("Utricularia vulgaris", 4.0, 2.2, -2.0, 1.2, 0.6),
];

/// A place to visit.
#[derive(Debug, Clone)]
pub(super) struct Stop {
    pub(super) code: String,
    pub(super) place: Place,
    pub(super) treated: bool,
}

/// One of the three surveys.
#[derive(Debug, Clone, Copy)]
pub(super) struct Season {
    pub(super) index: usize,
    pub(super) days: [&'static str; 2],
    pub(super) observer: &'static str,
    /// Codes not reached, with the outcome written.
    pub(super) missed: &'static [(&'static str, &'static str)],
}

/// What stays the same from year to year.
#[derive(Debug)]
pub(super) struct Flora {
    patches: Vec<Field>,
    /// For each stop and plant, how lucky the plant is there.
    luck: Vec<Vec<f64>>,
}

const SCALE: [&str; 4] = ["T", "S", "M", "D"];

impl Flora {
    pub(super) fn new(random: &mut Random, stops: usize) -> Self {
        let patches = PLANTS.iter().map(|_| Field::new(random, 420.0, 5)).collect();
        let luck = (0..stops).map(|_| PLANTS.iter().map(|_| random.unit()).collect()).collect();
        Self { patches, luck }
    }

    fn chance(&self, plant: usize, stop: &Stop, depth_feet: f64, season: Season) -> f64 {
        let habit = &PLANTS[plant];
        let off = (depth_feet - habit.depth) / habit.width;
        let treated = if stop.treated && season.index == 2 { habit.treated } else { 0.0 };
        let odds = habit.common - 1.4 * off * off
            + habit.patchy * self.patches[plant].at(stop.place.x, stop.place.y)
            + habit.years[season.index]
            + treated;
        if depth_feet > 15.5 { 0.0 } else { 1.0 / (1.0 + (-odds).exp()) }
    }

    /// The survey as a file of one row a find, the way a crew types its sheets.
    pub(super) fn survey(
        &self,
        ground: &Ground,
        stops: &[Stop],
        season: Season,
        random: &mut Random,
    ) -> String {
        let mut text = String::from(
            "site,date,time,depth_ft,bottom,throw,total_rake,species,rating,how_seen,outcome,comment,observer\n",
        );
        let mut minutes = 0.0;
        for (index, stop) in stops.iter().enumerate() {
            let day = season.days[usize::from(index * 2 >= stops.len())];
            if index * 2 >= stops.len() && (index - 1) * 2 < stops.len() {
                minutes = 0.0;
            }
            minutes += 4.0 + 2.0 * random.unit();
            let clock =
                format!("{:02}:{:02}", 8 + (minutes / 60.0) as u32, (minutes % 60.0) as u32);
            let head =
                |depth: &str, bottom: &str| format!("{},{day},{clock},{depth},{bottom}", stop.code);
            let by = season.observer;
            if let Some((_, reason)) = season.missed.iter().find(|(code, _)| *code == stop.code) {
                let _ = writeln!(text, "{},,,,,,{reason},,{by}", head("", ""));
                continue;
            }
            let true_depth = ground.depth(stop.place).unwrap_or(0.3);
            let feet = (true_depth / METRES_PER_FOOT + 0.25 * random.normal()).max(0.5);
            let depth = format!("{:.1}", (feet * 2.0).round() / 2.0);
            let bottom = if feet < 4.5 && random.chance(0.55) {
                "sand"
            } else if random.chance(0.06) {
                "rock"
            } else {
                "muck"
            };
            let start = head(&depth, bottom);
            self.throws(&mut text, &start, index, stop, feet, season, random);
        }
        text
    }

    #[expect(clippy::too_many_arguments, reason = "the parts of one row")]
    fn throws(
        &self,
        text: &mut String,
        start: &str,
        index: usize,
        stop: &Stop,
        feet: f64,
        season: Season,
        random: &mut Random,
    ) {
        let by = season.observer;
        let grows: Vec<usize> = (0..PLANTS.len())
            .filter(|&plant| {
                // seven years in eight a plant's luck at a place is what it was
                let luck =
                    if random.chance(0.875) { self.luck[index][plant] } else { random.unit() };
                luck < self.chance(plant, stop, feet, season)
            })
            .collect();
        let mut seen = vec![false; PLANTS.len()];
        for throw in 1..=2 {
            let mut rows = Vec::new();
            let mut total = 0usize;
            for &plant in &grows {
                if !random.chance(0.72) {
                    continue;
                }
                let step =
                    (PLANTS[plant].lush + 0.9 * random.normal()).round().clamp(0.0, 3.0) as usize;
                total = total.max(step + 1);
                seen[plant] = true;
                rows.push((PLANTS[plant].scientific_name, SCALE[step]));
            }
            let total = if rows.is_empty() {
                "0"
            } else {
                SCALE[(total + usize::from(rows.len() > 4)).clamp(1, 4) - 1]
            };
            if rows.is_empty() {
                let _ = writeln!(text, "{start},{throw},0,,,,,,{by}");
            }
            for (species, rating) in rows {
                let _ = writeln!(text, "{start},{throw},{total},{species},{rating},rake,,,{by}");
            }
        }
        for &plant in &grows {
            let lily =
                matches!(PLANTS[plant].scientific_name, "Nymphaea odorata" | "Nuphar variegata");
            if lily && !seen[plant] && random.chance(0.8) {
                let species = PLANTS[plant].scientific_name;
                let _ = writeln!(text, "{start},1,,{species},,visual,,seen close by,{by}");
            }
        }
    }
}

/// Names for the lake's list.
pub(super) fn species() -> impl Iterator<Item = &'static str> {
    PLANTS.iter().map(|habit| habit.scientific_name)
}
