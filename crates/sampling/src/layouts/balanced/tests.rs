use super::*;
use crate::balance::layout_balance;
use geo_types::{MultiPolygon, Rect, coord};

fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> MultiPolygon<f64> {
    Rect::new(coord! { x: x0, y: y0 }, coord! { x: x1, y: y1 }).to_polygon().into()
}

fn zone(code: &str, polygon: MultiPolygon<f64>) -> ZoneArea {
    ZoneArea { code: Code::new(code).unwrap(), polygon }
}

#[expect(clippy::unnecessary_wraps, reason = "the shape of a depth function")]
fn slope(x: f64, _: f64) -> Option<Metres> {
    Some(Metres::new(x / 200.0))
}

fn frame() -> Frame<'static> {
    Frame::new(rect(0.0, 0.0, 1_000.0, 600.0))
        .unwrap()
        .with_zones(&[
            zone("W", rect(0.0, 0.0, 250.0, 600.0)),
            zone("M", rect(250.0, 0.0, 500.0, 600.0)),
            zone("E", rect(500.0, 0.0, 1_000.0, 600.0)),
        ])
        .unwrap()
        .with_depth(&slope)
}

fn small(number: usize, seed: u64) -> Balanced {
    Balanced { n_cells: 6_000, ..Balanced::new(number, seed) }
}

#[test]
fn a_balanced_layout_has_the_number_asked_for_and_equal_chances() {
    for method in [BalancedMethod::LocalPivotal, BalancedMethod::Tessellation] {
        let plan = Balanced { spares: 15, method, ..small(60, 3) };
        let layout = balanced(&frame(), &plan).unwrap();
        assert_eq!((layout.n_sites(), layout.sites.len()), (60, 75));
        let cells: f64 = layout.parameter("cells").unwrap().parse().unwrap();
        for (index, site) in layout.sites.iter().enumerate() {
            assert_eq!(site.code.as_str(), (index + 1).to_string());
            assert_eq!(site.spare, index >= 60);
            assert!((site.inclusion_probability.unwrap() - 60.0 / cells).abs() < 1e-12);
            assert!(site.zone.is_some() && site.depth.is_some());
        }
        assert_eq!(layout, balanced(&frame(), &plan).unwrap(), "same seed, same layout");
        assert_ne!(layout, balanced(&frame(), &Balanced { seed: 4, ..plan }).unwrap());
    }
}

/// Chances stored are chances kept, main sites alone, over 2,000 draws (z < 4.5).
#[test]
fn stored_chances_hold_for_the_main_sites_beside_spares() {
    let frame = Frame::new(rect(0.0, 0.0, 60.0, 40.0)).unwrap();
    let west = zone("T", rect(0.0, 0.0, 20.0, 40.0));
    let (mut in_west, mut stored) = (0_usize, 0.0);
    let runs = 2_000;
    for seed in 0..runs {
        let plan = Balanced {
            spares: 6,
            n_cells: 150,
            weights: Weights::Areas(vec![(west.clone(), 3.0)]),
            ..Balanced::new(10, seed)
        };
        let layout = balanced(&frame, &plan).unwrap();
        let main = layout.sites.iter().filter(|site| !site.spare);
        in_west += main.clone().filter(|site| site.x < 20.0).count();
        // Horvitz-Thompson count of all cells from the chances stored
        stored += main.map(|s| 1.0 / s.inclusion_probability.unwrap()).sum::<f64>() / runs as f64;
    }
    // weights 3 : 1 over a third and two thirds of the water: 3/5 of ten sites
    let mean = in_west as f64 / runs as f64;
    assert!((mean - 6.0).abs() < 4.5 * (2.4 / runs as f64).sqrt(), "{mean}");
    let layout = balanced(&frame, &Balanced { n_cells: 150, ..Balanced::new(10, 1) }).unwrap();
    let cells: f64 = layout.parameter("cells").unwrap().parse().unwrap();
    assert!((stored / cells - 1.0).abs() < 0.01, "{stored} of {cells}");
}

#[test]
fn strata_share_the_sites_by_area_or_equally() {
    let count = |layout: &Layout, code: &str| {
        let in_zone = |s: &&LaidSite| s.zone.as_ref().is_some_and(|z| z.as_str() == code);
        layout.sites.iter().filter(in_zone).count()
    };
    let by_area = balanced(&frame(), &Balanced { strata: Strata::Zones, ..small(40, 1) }).unwrap();
    assert_eq!([count(&by_area, "W"), count(&by_area, "M"), count(&by_area, "E")], [10, 10, 20]);
    let plan = Balanced { strata: Strata::Zones, allocation: Allocation::Equal, ..small(30, 1) };
    let equal = balanced(&frame(), &plan).unwrap();
    assert_eq!([count(&equal, "W"), count(&equal, "M"), count(&equal, "E")], [10, 10, 10]);
    // a site of the large zone stands for twice the water of one in a small zone
    let chance = |code: &str| {
        let in_zone = |s: &&LaidSite| s.zone.as_ref().is_some_and(|z| z.as_str() == code);
        equal.sites.iter().find(in_zone).unwrap().inclusion_probability.unwrap()
    };
    assert!((chance("W") / chance("E") - 2.0).abs() < 0.02);
    let bands = Strata::Depths(vec![Metres::new(1.0), Metres::new(2.0)]);
    let by_depth = balanced(&frame(), &Balanced { strata: bands, ..small(50, 1) }).unwrap();
    let shallow = by_depth.sites.iter().filter(|s| s.depth.unwrap().metres() <= 1.0).count();
    assert_eq!(shallow, 10);
    assert!(by_depth.parameter("sites_by_stratum").unwrap().starts_with("to 1 m: 10"));
}

#[test]
fn water_near_a_launch_is_looked_at_more_closely() {
    let plan = Balanced {
        weights: Weights::Near {
            places: vec![(0.0, 0.0)],
            distance: Metres::new(200.0),
            factor: 8.0,
        },
        ..small(100, 7)
    };
    let layout = balanced(&frame(), &plan).unwrap();
    let near = layout.sites.iter().filter(|s| s.x.hypot(s.y) <= 200.0).count();
    // a quarter circle of 31,416 m² of 600,000: 8·w/(1 + 7·w) of the sites
    let w = std::f64::consts::PI * 1e4 / 6e5;
    let want = 100.0 * 8.0 * w / (1.0 + 7.0 * w);
    assert!((near as f64 - want).abs() <= 2.0, "{near} for {want}");
}

#[test]
fn balanced_layouts_are_better_spread_than_random_ones() {
    let mean = |method| {
        (0..20)
            .map(|seed| {
                let plan = Balanced { method, n_cells: 3_000, ..Balanced::new(40, seed) };
                let layout = balanced(&frame(), &plan).unwrap();
                let places: Vec<(f64, f64)> = layout.sites.iter().map(|s| (s.x, s.y)).collect();
                layout_balance(&frame(), &places, 3_000).unwrap()
            })
            .sum::<f64>()
            / 20.0
    };
    let plain = mean(BalancedMethod::SimpleRandom);
    assert!(mean(BalancedMethod::LocalPivotal) < 0.5 * plain);
    assert!(mean(BalancedMethod::Tessellation) < 0.75 * plain);
}

#[test]
fn impossible_samples_say_what_to_do() {
    let bare = Frame::new(rect(0.0, 0.0, 30.0, 20.0)).unwrap();
    let depths = Strata::Depths(vec![Metres::new(2.0)]);
    let back = Strata::Depths(vec![Metres::new(2.0), Metres::new(1.0)]);
    let near = Weights::Near { places: vec![(0.0, 0.0)], distance: Metres::new(9.0), factor: -1.0 };
    let table: Vec<(Frame<'_>, Balanced, &str)> = vec![
        (bare.clone(), Balanced::new(0, 1), "at least 1"),
        (bare.clone(), Balanced::new(601, 1), "more than the water can hold"),
        (bare.clone(), Balanced { strata: Strata::Zones, ..Balanced::new(5, 1) }, "no zones"),
        (bare.clone(), Balanced { strata: depths, ..Balanced::new(5, 1) }, "depths of this lake"),
        (frame(), Balanced { strata: back, ..small(5, 1) }, "from shallow to deep"),
        (bare, Balanced { weights: near, ..Balanced::new(5, 1) }, "above 0"),
        (
            frame().between_depths(Some(Metres::new(30.0)), None).unwrap(),
            small(5, 1),
            "no water lies between the depth limits",
        ),
    ];
    for (frame, plan, want) in table {
        let error = balanced(&frame, &plan).unwrap_err().to_string();
        assert!(error.contains(want) && error.contains("hint: "), "{want}: {error}");
    }
}
