//! What a book says by the real program: nothing found, one site, ties, treatments without a survey
//! before, and the lake board's own limits.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::float_cmp,
    clippy::needless_borrows_for_generic_args,
    reason = "a test stops where it must"
)]

mod common;

use common::Desk;
use serde_json::Value;

/// Records a wide table of presence into a survey on the fullness scale.
fn record(desk: &Desk, survey: &str, date: &str, table: &str) {
    let file = format!("{survey}.csv");
    desk.write(&file, table);
    let arguments = [
        "record",
        "lake.gpkg",
        &file,
        "--survey",
        survey,
        "--scale",
        "fullness",
        "--new-taxa",
        "--date",
        date,
    ];
    desk.run(&arguments).done();
}

fn json(desk: &Desk, arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.push("--json");
    desk.run(&all).done().json()
}

fn findings(desk: &Desk, survey: &str) -> Value {
    json(desk, &["findings", "lake.gpkg", "--survey", survey])
}

/// A book without a map.
fn bare() -> Desk {
    let desk = Desk::empty();
    desk.run(&["new", "lake.gpkg", "--name", "Bare Lake"]).done();
    desk
}

fn wide(rows: impl IntoIterator<Item = [u8; 2]>) -> String {
    let mut text = String::from("site,Ceratophyllum demersum,Najas flexilis\n");
    for (number, [one, other]) in rows.into_iter().enumerate() {
        text.push_str(&format!("{},{one},{other}\n", number + 1));
    }
    text
}

#[test]
fn a_wide_table_without_places_is_enough_for_all_that_needs_none() {
    let desk = bare();
    record(&desk, "one", "2026-07-01", &wide([[1, 0], [2, 1], [0, 0], [1, 0], [0, 1], [0, 0]]));
    let found = findings(&desk, "one");
    assert_eq!(found["richness"]["rake"], 2);
    assert_eq!(found["richness"]["chao2"]["value"], 2.0);
    assert_eq!(found["richness"]["accumulation"].as_array().unwrap().len(), 6);
    assert!(found["diversity"]["shannon"].as_f64().unwrap() > 0.6);
    assert_eq!(found["acres"].as_array().unwrap().len(), 0, "no outline, no acres");
    assert_eq!(found["detection"][0]["occupancy"], Value::Null, "one throw cannot tell");
    assert!(!found["detection"][0]["why_not"].as_str().unwrap().is_empty());
    assert_eq!(found["max_plant_depth_m"], Value::Null);
    desk.run(&["findings", "lake.gpkg", "--survey", "one"]).done();
}

#[test]
fn no_plants_at_all_is_undefined_and_not_zero() {
    let desk = bare();
    record(&desk, "one", "2026-07-01", &wide([[0, 0]; 12]));
    let found = findings(&desk, "one");
    for key in ["diversity", "simpson", "floristic_quality"] {
        assert_eq!(found[key], Value::Null, "{key}");
    }
    assert_eq!(found["richness"]["chao2"], Value::Null);
    assert_eq!(found["frequency_any"]["all"]["k"], 0);
    assert!(found["frequency_any"]["all"]["high"].as_f64().unwrap() > 0.2);
    let notes = found["notes"].to_string();
    assert!(notes.contains("undefined, not zero"), "{notes}");
}

#[test]
fn one_site_says_what_it_can() {
    let desk = bare();
    record(&desk, "one", "2026-07-01", &wide([[1, 2]]));
    let found = findings(&desk, "one");
    assert_eq!(found["richness"]["rake"], 2);
    assert_eq!(found["richness"]["chao2"], Value::Null, "one site estimates nothing");
    assert_eq!(found["frequency_any"]["all"]["se"], Value::Null);
    desk.run(&["findings", "lake.gpkg", "--survey", "one"]).done();
}

#[test]
fn one_species_everywhere_and_all_ties_show_no_change() {
    let desk = bare();
    record(&desk, "one", "2025-07-01", &wide([[2, 0]; 20]));
    record(&desk, "two", "2026-07-01", &wide([[2, 0]; 20]));
    let found = findings(&desk, "one");
    assert_eq!(found["diversity"]["evenness"], Value::Null, "one species has no evenness");
    let view = json(&desk, &["compare", "lake.gpkg", "--from", "one", "--to", "two"]);
    assert_eq!(view["taxa"][0]["verdict"], "cannot tell");
    assert_eq!(view["taxa"][0]["p"], 1.0);
    assert_eq!(view["ratings"][0]["wilcoxon"], Value::Null, "no site changed");
    assert_eq!(view["community"]["p"], Value::Null);
    assert!(view["community"]["why_not"].as_str().unwrap().contains("alike"));
    assert_eq!(view["community"]["bray_curtis"], 0.0);
    let trend = json(&desk, &["trend", "lake.gpkg", "--taxon", "any"]);
    assert_eq!(trend["verdict"], "cannot tell");
    assert!(trend["why_not"].as_str().unwrap().contains('3'), "{trend}");
}

#[test]
fn surveys_that_share_no_site_are_compared_as_different_ones() {
    let desk = bare();
    record(&desk, "one", "2025-07-01", "site,Najas flexilis\na1,1\na2,0\na3,1\na4,0\n");
    record(&desk, "two", "2026-07-01", "site,Najas flexilis\nb1,0\nb2,0\nb3,1\nb4,0\n");
    let view = json(&desk, &["compare", "lake.gpkg", "--from", "one", "--to", "two"]);
    assert_eq!(view["design"], "independent");
    assert_eq!(view["places"].as_array().unwrap().len(), 0);
    let spread = json(
        &desk,
        &["spread", "lake.gpkg", "--taxon", "Najas flexilis", "--from", "one", "--to", "two"],
    );
    assert_eq!(spread["shift_m"], Value::Null);
    assert!(!spread["why_not"].as_str().unwrap().is_empty());
    assert!(spread["sentence"].as_str().unwrap().starts_with("Cannot tell"));
}

#[test]
fn depths_missing_for_half_the_sites_are_counted_and_said() {
    let desk = bare();
    let mut text = String::from("site,depth_m,Najas flexilis\n");
    for number in 1..=10 {
        let depth = if number % 2 == 0 { "1.5" } else { "" };
        text.push_str(&format!("{number},{depth},1\n"));
    }
    record(&desk, "one", "2026-07-01", &text);
    let found = findings(&desk, "one");
    assert_eq!(found["sites_without_depth"], 5);
    assert_eq!(found["littoral_sites"], 5);
    assert_eq!(found["taxa"][0]["depth_quartiles"]["sites"], 5);
    let last = found["by_depth"].as_array().unwrap().last().unwrap().clone();
    assert_eq!((last["key"].as_str().unwrap(), last["sampled"].as_u64().unwrap()), ("", 5));
}

#[test]
fn a_species_split_between_years_is_left_out_where_it_was_not_listed() {
    let desk = bare();
    for (survey, year) in [("s1", 2021), ("s2", 2022), ("s3", 2023), ("s4", 2024)] {
        record(&desk, survey, &format!("{year}-07-01"), &wide([[1, 0], [0, 1], [1, 1], [0, 0]]));
    }
    let late = "site,Potamogeton pusillus\n1,1\n2,0\n3,1\n4,0\n";
    record(&desk, "s5", "2025-07-01", late);
    let trend = json(&desk, &["trend", "lake.gpkg", "--taxon", "Potamogeton pusillus"]);
    assert_eq!(trend["verdict"], "cannot tell");
    let all = json(&desk, &["trend", "lake.gpkg"]);
    assert_eq!(all["taxa"][0]["code"], "any");
    let unknown = desk.run(&["trend", "lake.gpkg", "--taxon", "Elodea nuttallii"]);
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("no plant `Elodea nuttallii`"), "{}", unknown.err);
    assert!(unknown.err.contains("hint: one of"), "{}", unknown.err);
}

/// The lake with its west half treated in May 2026.
fn treated() -> Desk {
    let desk = Desk::with_lake();
    desk.write(
        "treated.geojson",
        r#"{"type":"Feature","properties":{"name":"West","method":"herbicide","start":"2026-05-16",
        "end":"2026-05-17"},"geometry":{"type":"Polygon","coordinates":[[[-90.0,45.0],[-89.993,45.0],
        [-89.993,45.014],[-90.0,45.014],[-90.0,45.0]]]}}"#,
    );
    desk.run(&["add", "lake.gpkg", "treatments", "treated.geojson"]).done();
    desk
}

/// Milfoil at 16 western and 16 eastern sites; `west` of the western ones have it.
fn milfoil(west: usize, east: usize) -> String {
    let mut text = String::from("site,longitude,latitude,depth_ft,Myriophyllum spicatum\n");
    for number in 0..16 {
        let (row, column) = (number / 4, number % 4);
        for (side, x, there) in [("w", -89.999, number < west), ("e", -89.987, number < east)] {
            let (x, y) = (x + 0.0015 * column as f64, 45.0015 + 0.003 * row as f64);
            text.push_str(&format!("{side}{},{x:.5},{y:.5},6,{}\n", number + 1, u8::from(there)));
        }
    }
    text
}

#[test]
fn a_treatment_is_judged_against_what_was_not_treated() {
    let desk = treated();
    record(&desk, "before", "2025-07-14", &milfoil(12, 12));
    record(&desk, "after", "2026-07-14", &milfoil(1, 12));
    let view = json(&desk, &["efficacy", "lake.gpkg", "--treatment", "T1"]);
    assert_eq!(view["verdict"], "yes", "{view}");
    // (1 − 12) / 16 against nothing
    assert_eq!(view["estimate"]["value"], -0.6875);
    assert!((view["henderson_tilton"]["value"].as_f64().unwrap() - 11.0 / 12.0).abs() < 1e-12);
    assert_eq!(view["before"]["survey"], "before");
    let text = desk.run(&["efficacy", "lake.gpkg", "--treatment", "west"]).done().out;
    assert!(text.contains("The treatment worked"), "{text}");
}

#[test]
fn a_treatment_without_a_survey_before_cannot_be_told() {
    let desk = treated();
    record(&desk, "after", "2026-07-14", &milfoil(1, 12));
    let view = json(&desk, &["efficacy", "lake.gpkg", "--treatment", "T1"]);
    assert_eq!(view["verdict"], "cannot tell");
    assert_eq!(view["before"], Value::Null);
    assert_eq!(view["warnings"][0]["kind"], "no-before");
}

#[test]
fn a_question_of_a_treatment_that_makes_no_sense_is_refused_with_a_way_out() {
    let desk = treated();
    record(&desk, "before", "2025-07-14", &milfoil(12, 12));
    let refused = |arguments: &[&str], words: &[&str]| {
        let mut all = vec!["efficacy", "lake.gpkg"];
        all.extend(arguments);
        let run = desk.run(&all);
        assert_eq!(run.code, 2, "{arguments:?}\n{}{}", run.out, run.err);
        for word in words {
            assert!(run.err.contains(word), "{arguments:?}: no `{word}` in {}", run.err);
        }
        assert!(run.err.contains("hint:"), "{arguments:?}: {}", run.err);
    };
    refused(&["--treatment", "T1"], &["no survey was made after the treatment"]);
    record(&desk, "after", "2026-07-14", &milfoil(1, 12));
    refused(&["--treatment", "T9"], &["no treatment `T9`", "`T1`"]);
    refused(&["--treatment", "T1", "--before", "after"], &["began after the treatment"]);
    refused(&["--treatment", "T1", "--after", "before"], &["began before the treatment"]);
    refused(&["--treatment", "T1", "--control", "Z9"], &["no zone `Z9`"]);
    refused(&["--treatment", "T1", "--target", "any"], &["`any` is no plant"]);
    refused(&["--treatment", "T1", "--worthwhile", "lots"], &["`lots` is no share"]);
    refused(&["--treatment", "T1", "--before", "none"], &["no survey `none`"]);
}

#[test]
fn the_boards_limit_is_its_own_words_and_no_other() {
    let desk = treated();
    record(&desk, "before", "2025-07-14", &milfoil(12, 12));
    let summary = findings(&desk, "before")["summary"].to_string();
    assert!(summary.contains("no written limit on record"), "{summary}");
    let words = "Milfoil may stand at one site in ten.";
    let set = [
        "limit",
        "lake.gpkg",
        "--text",
        words,
        "--adopted",
        "2024-01-15",
        "--above",
        "10%",
        "--taxon",
        "Myriophyllum spicatum",
    ];
    desk.run(&set).done();
    let found = findings(&desk, "before");
    let alert = found["alerts"].as_array().unwrap().iter().find(|one| one["kind"] == "above-limit");
    let alert = alert.unwrap_or_else(|| panic!("{}", found["alerts"]));
    assert_eq!(alert["limit"]["text"], words);
    assert_eq!(alert["frequency"]["k"], 24);
    assert_eq!(alert["certain"], true);
    // a limit adopted later is not held against it
    desk.run(&["limit", "lake.gpkg", "--remove", "1"]).done();
    let mut later = set;
    later[5] = "2026-01-15";
    desk.run(&later).done();
    assert_eq!(findings(&desk, "before")["alerts"].as_array().unwrap().len(), 0);
    desk.run(&["verify", "lake.gpkg"]).done();
    let bad: [(&[&str], &str); 4] = [
        (&["--text", "x", "--adopted", "soon", "--above", "10%"], "is no day"),
        (&["--text", " ", "--adopted", "2024-01-15", "--above", "10%"], "needs the text"),
        (&["--text", "x", "--adopted", "2024-01-15"], "has no number"),
        (&["--remove", "7"], "no limit number `7`"),
    ];
    for (arguments, word) in bad {
        let mut all = vec!["limit", "lake.gpkg"];
        all.extend(arguments);
        let run = desk.run(&all);
        assert_eq!(run.code, 2, "{arguments:?}");
        assert!(run.err.contains(word) && run.err.contains("hint:"), "{arguments:?}: {}", run.err);
    }
}

#[test]
fn a_zone_nobody_sampled_is_unknown_and_not_empty() {
    let desk = Desk::with_lake();
    desk.write(
        "zones.geojson",
        r#"{"type":"FeatureCollection","features":[
        {"type":"Feature","properties":{"code":"W","name":"West"},"geometry":{"type":"Polygon",
         "coordinates":[[[-90.0,45.0],[-89.993,45.0],[-89.993,45.014],[-90.0,45.014],[-90.0,45.0]]]}},
        {"type":"Feature","properties":{"code":"E","name":"East"},"geometry":{"type":"Polygon",
         "coordinates":[[[-89.984,45.0],[-89.98,45.0],[-89.98,45.014],[-89.984,45.014],[-89.984,45.0]]]}}]}"#,
    );
    desk.run(&["add", "lake.gpkg", "zones", "zones.geojson"]).done();
    let west: String = milfoil(8, 0)
        .lines()
        .filter(|line| !line.starts_with('e'))
        .fold(String::new(), |text, line| text + line + "\n");
    record(&desk, "one", "2026-07-01", &west);
    let found = findings(&desk, "one");
    let acres = found["acres"].as_array().unwrap();
    let zone = |code: &str| {
        acres.iter().find(|one| one["code"] == "any" && one["zone"] == code).unwrap().clone()
    };
    assert!(zone("W")["area_m2"].as_f64().unwrap() > 0.0);
    assert_eq!(zone("E")["area_m2"], Value::Null, "nobody sampled there: cannot tell");
    assert_eq!(zone("E")["looked_at"], 0);
}

#[test]
fn a_plant_that_moved_says_which_way_along_the_shore_and_how_many_sites_stayed_bare() {
    let desk = Desk::with_lake();
    record(&desk, "one", "2025-07-14", &milfoil(4, 0));
    record(&desk, "two", "2026-07-14", &milfoil(0, 4));
    let arguments =
        ["spread", "lake.gpkg", "--taxon", "Myriophyllum spicatum", "--from", "one", "--to", "two"];
    let view = json(&desk, &arguments);
    // due east; the grid's north lies 2.99°·sin 45° west of true north here (meridian convergence)
    let east = 90.0 + 2.99 * 45.0_f64.to_radians().sin();
    assert!((view["bearing_deg"].as_f64().unwrap() - east).abs() < 0.05, "{view}");
    // both middles lie nearest to the south shore, and east along it is against the clock
    let along = &view["along_shore"];
    assert_eq!(along["way"], "counter-clockwise", "{view}");
    let (shore, shift) =
        (along["shore_m"].as_f64().unwrap(), view["shift_m"]["value"].as_f64().unwrap());
    assert!((shore - shift).abs() < 0.02 * shift, "{shore} {shift}");
    let text = desk.run(&arguments).done().out;
    assert!(text.contains("counter-clockwise round the lake"), "{text}");
    let compared = json(&desk, &["compare", "lake.gpkg", "--from", "one", "--to", "two"]);
    assert_eq!(compared["places"].as_array().unwrap().len(), 8);
    assert_eq!(compared["places_bare"], 24);
}

#[test]
fn scales_typed_anew_with_the_same_steps_are_one_scale() {
    let desk = bare();
    let table = wide([[2, 0], [1, 1], [3, 0], [0, 0], [1, 2], [0, 1]]);
    for (survey, date) in [("one", "2025-07-01"), ("two", "2026-07-01")] {
        let file = format!("{survey}.csv");
        desk.write(&file, &table);
        desk.run(&[
            "record",
            "lake.gpkg",
            &file,
            "--survey",
            survey,
            "--new-scale",
            "--new-taxa",
            "--date",
            date,
        ])
        .done();
    }
    let view = json(&desk, &["compare", "lake.gpkg", "--from", "one", "--to", "two"]);
    assert!(!view["warnings"].to_string().contains("\"scale\""), "{}", view["warnings"]);
    assert_eq!(view["ratings"].as_array().unwrap().len(), 2, "ratings are compared");
}

#[test]
fn species_merged_into_their_genus_are_said_together() {
    let desk = bare();
    let table = |species: &str, sites: usize| {
        let rows = (1..=40).map(|site| format!("{site},{}\n", u8::from(site <= sites)));
        rows.fold(format!("site,{species}\n"), |all, row| all + &row)
    };
    record(&desk, "2024", "2024-07-01", &table("Najas flexilis", 27));
    record(&desk, "2025", "2025-07-01", &table("Najas", 27));
    let view = json(&desk, &["compare", "lake.gpkg", "--from", "2024", "--to", "2025"]);
    for one in view["taxa"].as_array().unwrap() {
        assert_eq!(one["verdict"], "cannot tell", "{one}");
        assert_eq!(one["names"]["withheld"], true);
        assert_eq!(one["names"]["together_from"]["k"], 27);
        assert_eq!(one["names"]["together_to"]["k"], 27);
    }
    assert!(view["warnings"].to_string().contains("more finely"), "{}", view["warnings"]);
    assert!(view["sentences"].to_string().contains("not named alike both times"));
}
