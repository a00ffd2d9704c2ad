//! The papers as a whole: what is on them, that nothing overlaps, that they can be kept for decades.

#![allow(
    clippy::assigning_clones,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "helpers of tests stand outside test functions"
)]

#[path = "tamarin/mod.rs"]
mod tamarin;

use report::draw::{LandmarkKind, LandmarkMark};
use report::sheet::SheetRow;
use report::survey_report::{HowSeen, Occurrence, SiteOutcome, SpeciesMaps};
use report::{Fonts, Palette, Paper, PlacedText, Print, PrintError, PrintedPage, Settings};
use std::fmt::Write as _;
use std::process::Command;
use std::sync::OnceLock;
use units::UnitSystem;

/// Fonts, or leave the test with the line that says so.
macro_rules! fonts_or_skip {
    () => {
        match tamarin::fonts() {
            Some(fonts) => fonts,
            None => return,
        }
    };
}

fn field_sheets(
    sheets: &report::sheet::FieldSheets,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Print, PrintError> {
    report::field_sheets(sheets, settings, fonts)?.print(fonts)
}

fn site_map(
    map: &report::site_map::SiteMap,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Print, PrintError> {
    report::site_map(map, settings, fonts)?.print(fonts)
}

fn survey_report(
    report: &report::survey_report::SurveyReport,
    settings: &Settings,
    fonts: &Fonts,
) -> Result<Print, PrintError> {
    report::survey_report(report, settings, fonts)?.print(fonts)
}

/// The report and the sheets in colour, set once for all tests that only look at them.
fn shared(fonts: &Fonts) -> &'static (Print, Print) {
    static SHARED: OnceLock<(Print, Print)> = OnceLock::new();
    SHARED.get_or_init(|| {
        let report = survey_report(&tamarin::survey_report(), &colour(), fonts).unwrap();
        (report, field_sheets(&tamarin::sheets(), &colour(), fonts).unwrap())
    })
}

fn colour() -> Settings {
    tamarin::settings(Palette::Colour)
}

/// All text of a page in the order it was set.
fn words(page: &PrintedPage) -> String {
    let all = page.texts.iter().map(|text| text.text.as_str()).collect::<Vec<_>>().join(" ");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every word of the file as a reader of PDF extracts it, lettering in pictures included; none when the
/// tool is not installed.
fn extracted(print: &Print) -> Option<String> {
    let file = std::env::temp_dir().join(format!("quillwort-{:p}.pdf", &raw const print.pdf));
    std::fs::write(&file, &print.pdf).unwrap();
    let output = Command::new("pdftotext").arg("-layout").arg(&file).arg("-").output();
    std::fs::remove_file(&file).unwrap();
    let Ok(output) = output else {
        println!("skipped: no pdftotext here");
        return None;
    };
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(String::from_utf8(output.stdout).unwrap())
}

fn contains(bytes: &[u8], wanted: &str) -> bool {
    bytes.windows(wanted.len()).any(|window| window == wanted.as_bytes())
}

/// PDF/A-2a says so in its metadata (ISO 19005-2, 6.6.4), PDF/UA-1 likewise (ISO 14289-1, clause 5).
fn assert_lasting(print: &Print) {
    assert!(print.pdf.starts_with(b"%PDF-1.7"), "ISO 32000-1 is PDF 1.7");
    for mark in [
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ] {
        assert!(contains(&print.pdf, mark), "no `{mark}`");
    }
}

/// A box round the letters: half the size over the base line for small ones, no descenders.
fn letters(text: &PlacedText) -> (f64, f64, f64, f64) {
    (text.x, text.y - 0.46 * text.size, text.x + text.width, text.y)
}

/// No text leaves the page's outer 9 mm, and no two pieces of text lie over each other.
fn assert_tidy(print: &Print) {
    for (number, page) in print.pages.iter().enumerate() {
        let air = 9.0 * 72.0 / 25.4;
        let texts: Vec<&PlacedText> =
            page.texts.iter().filter(|text| !text.text.trim().is_empty()).collect();
        for (index, text) in texts.iter().enumerate() {
            let (x0, y0, x1, y1) = letters(text);
            assert!(
                x0 >= air - 1.0
                    && x1 <= page.width - air + 1.0
                    && y0 >= 0.0
                    && y1 <= page.height - 12.0,
                "page {}: `{}` runs off the page at {x0:.0}..{x1:.0}, {y1:.0}",
                number + 1,
                text.text
            );
            for other in &texts[index + 1..] {
                let (a0, b0, a1, b1) = letters(other);
                let (wide, high) = (x1.min(a1) - x0.max(a0), y1.min(b1) - y0.max(b0));
                assert!(
                    wide <= 0.6 || high <= 0.4,
                    "page {}: `{}` lies over `{}`",
                    number + 1,
                    text.text,
                    other.text
                );
            }
        }
    }
}

/// Place and words of every text, rounded to points: the layout as a thing to compare.
fn layout(page: &PrintedPage) -> String {
    let mut lines = format!("{:.0} x {:.0}\n", page.width, page.height);
    for text in &page.texts {
        let _ = writeln!(lines, "{:4.0} {:4.0} {:4.1} {}", text.x, text.y, text.size, text.text);
    }
    lines
}

#[test]
fn a_field_sheet_has_everything_the_crew_writes_in() {
    let fonts = fonts_or_skip!();
    let print = &shared(&fonts).1;
    assert_lasting(print);
    assert_tidy(print);
    assert_eq!(print.pages.len(), 8, "111 sites, 15 a sheet");
    let first = words(&print.pages[0]);
    for wanted in [
        "What came up?",
        "Lake Tamarin",
        "Sheet 1 of 8:",
        "date",
        "start",
        "end",
        "air °F",
        "water °F",
        "wind, sky",
        "Secchi ft",
        "boat",
        "crew: rake",
        "map says",
        "throw 1",
        "throw 3",
        "outcome, note",
        "MYSP",
        "Eurasian watermilfoil",
        "trace: a pinch",
        "plants stop the boat",
        "Wear your life jacket.",
        "Read back by",
        "LT 26-S 01",
    ] {
        assert!(first.contains(wanted), "no `{wanted}` on the sheet");
    }
    let marked: Vec<_> =
        print.pages[0].texts.iter().filter(|text| text.text.trim() == "!").collect();
    assert_eq!(marked.len(), 3, "three introduced plants carry a mark");
    insta::assert_snapshot!("sheet-1", layout(&print.pages[0]));
}

#[test]
fn a_pdf_reader_finds_every_site_and_every_code() {
    let fonts = fonts_or_skip!();
    let Some(text) = extracted(&shared(&fonts).1) else { return };
    for (code, ..) in tamarin::SPECIES {
        assert!(text.contains(code), "no code {code}");
    }
    let words: std::collections::BTreeSet<&str> = text.split_whitespace().collect();
    for site in 1..=111 {
        assert!(words.contains(site.to_string().as_str()), "no site {site}");
    }
    assert!(text.contains("LT 26-S 08"));
    let map = site_map(&tamarin::site_map_page(), &colour(), &fonts).unwrap();
    let Some(text) = extracted(&map) else { return };
    for wanted in [
        "111",
        "W1",
        "flagpole",
        "Launch",
        "500 ft",
        "89.400° W",
        "43.070° N",
        "Not for navigation",
        "812.4 ft",
    ] {
        assert!(text.contains(wanted), "no `{wanted}` on the map");
    }
}

#[test]
fn sheets_hold_one_site_and_a_thousand() {
    let fonts = fonts_or_skip!();
    let mut sheets = tamarin::sheets();
    let row = sheets.rows[0].clone();
    sheets.rows = vec![row.clone()];
    sheets.throws = 1;
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert_eq!(print.pages.len(), 1);
    assert!(words(&print.pages[0]).contains("1 site, 1."));
    assert!(words(&print.pages[0]).contains("what came up"));
    assert_tidy(&print);

    let (x, y) = row.place.unwrap();
    sheets.rows = (0..1_000)
        .map(|index| SheetRow {
            code: (index + 1).to_string(),
            place: Some((x + 11.0 * f64::from(index % 40), y + 11.0 * f64::from(index / 40))),
            ..row.clone()
        })
        .collect();
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert_eq!(print.pages.len(), 67);
    assert!(words(&print.pages[66]).contains("LT 26-S 67"));
    assert_tidy(&print);
}

#[test]
fn seventy_plants_spill_to_a_page_of_codes() {
    let fonts = fonts_or_skip!();
    let sheets = tamarin::many_codes();
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert_tidy(&print);
    assert_eq!(print.pages.len(), 3, "two sheets and the codes");
    assert!(words(&print.pages[0]).contains("All codes: last page"));
    let last = words(&print.pages[2]);
    for index in 0..70 {
        assert!(last.contains(&format!("XY{index:02}")), "no XY{index:02}");
        assert!(last.contains(&format!("of some length {index}")), "name {index} is cut");
    }
}

#[test]
fn sub_areas_keep_their_places_together() {
    let fonts = fonts_or_skip!();
    let sheets = tamarin::sub_area_sheets();
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert_eq!(print.pages.len(), 3, "three groups of four on a sheet of fifteen");
    assert_tidy(&print);
    assert!(words(&print.pages[0]).contains("E1-1"));
}

#[test]
fn a4_and_metres_are_tidy() {
    let fonts = fonts_or_skip!();
    let metric = Settings { paper: Paper::A4, units: UnitSystem::Metric, ..colour() };
    let mut sheets = tamarin::sheets();
    sheets.rows.truncate(20);
    for print in [
        field_sheets(&sheets, &metric, &fonts).unwrap(),
        site_map(&tamarin::site_map_page(), &metric, &fonts).unwrap(),
        survey_report(&tamarin::survey_report(), &metric, &fonts).unwrap(),
    ] {
        assert_lasting(&print);
        assert_tidy(&print);
        let page = &print.pages[0];
        let (short, long) = (page.width.min(page.height), page.width.max(page.height));
        assert!((short - 595.28).abs() < 0.1 && (long - 841.89).abs() < 0.1, "ISO 216 A4");
    }
}

#[test]
fn the_report_says_n_with_every_share() {
    let fonts = fonts_or_skip!();
    let report = tamarin::survey_report();
    let print = &shared(&fonts).0;
    assert_lasting(print);
    assert_tidy(print);
    let all: Vec<String> = print.pages.iter().map(words).collect();
    let cover = &all[0];
    let n = report.counts.sampled;
    assert!(cover.contains(&format!("n = {n}")), "{cover}");
    assert!(cover.contains("What lives in Lake Tamarin?"));
    assert!(cover.contains("checksum 7f3a 91c2 … e04b; 1 amendment"));
    let last = print.pages.len();
    assert!(cover.contains(&format!("1 of {last}")));
    assert!(all[last - 1].contains(&format!("{last} of {last}")));
    for question in [
        "How did we look?",
        "Where did we look?",
        "How much of the lake has plants?",
        "What lives here, and how common is it?",
        "How particular are these plants?",
        "Where is Eurasian watermilfoil?",
        "Who was out, and in what weather?",
        "How far can these figures be trusted?",
        "What was recorded at each site?",
    ] {
        assert!(all.iter().any(|page| page.contains(question)), "no page asks `{question}`");
    }
    let headed = all.iter().filter(|page| page.contains("plants and ratings")).count();
    assert_eq!(headed, 3, "the table of sites repeats its head on each page");
    insta::assert_snapshot!("report-cover", layout(&print.pages[0]));
}

#[test]
fn the_same_record_gives_the_same_bytes() {
    let fonts = fonts_or_skip!();
    let report = tamarin::survey_report();
    let one = &shared(&fonts).0;
    let two = survey_report(&report, &colour(), &fonts).unwrap();
    assert!(one.pdf == two.pdf);
    assert!(contains(&one.pdf, "2026-08-20T00:00:00"), "the date handed in is the file's date");
    assert!(contains(&one.pdf, "Lake Tamarin survey"), "the author is in the metadata");
}

#[test]
fn what_people_type_is_never_run() {
    let fonts = fonts_or_skip!();
    let nasty = "*x* #panic() $y$ \\ <script> \"q\" [a] `b` @c _d_ // e";
    let mut report = tamarin::survey_report();
    report.lake.name = nasty.to_owned();
    report.taxa[0].common_name = nasty.to_owned();
    report.sites[0].note = nasty.to_owned();
    report.sites[0].code = "<1&".to_owned();
    report.cautions.push(nasty.to_owned());
    report.map.landmarks.push(LandmarkMark {
        name: "<b> & \"c\"".to_owned(),
        kind: LandmarkKind::Landmark,
        x: report.sites[0].x,
        y: report.sites[0].y,
    });
    let print = survey_report(&report, &colour(), &fonts).unwrap();
    let flat = |text: &str| text.split_whitespace().collect::<String>();
    let found = print
        .pages
        .iter()
        .map(|page| flat(&words(page)).matches(&flat(nasty)).count())
        .sum::<usize>();
    assert!(found >= 4, "found {found} times");
    let mut sheets = tamarin::sheets();
    sheets.rows.truncate(10);
    sheets.species[0].name = nasty.to_owned();
    sheets.rows[0].landmark = "#pagebreak()".to_owned();
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert!(words(&print.pages[0]).contains("#pagebreak()"));
}

#[test]
fn long_names_and_other_scripts_fit() {
    let fonts = fonts_or_skip!();
    let sheets = tamarin::long_names();
    let print = field_sheets(&sheets, &colour(), &fonts).unwrap();
    assert_tidy(&print);
    let text = words(&print.pages[0]);
    assert!(text.contains("Озеро") && text.contains('□'), "{text}");
    assert!(
        print.remarks.iter().any(|remark| remark.contains('湖')),
        "the letter without a font is told: {:?}",
        print.remarks
    );
    let mut report = tamarin::survey_report();
    report.lake.name = tamarin::LONG_NAME.to_owned();
    report.taxa[0].common_name =
        "a very long common name that goes on over the whole line and on".to_owned();
    report.sites[0].note = "x".repeat(200);
    report.crew[0].name = "Ελένη Παπαδοπούλου".to_owned();
    let print = survey_report(&report, &colour(), &fonts).unwrap();
    assert_tidy(&print);
}

#[test]
fn without_sites_the_message_says_what_to_do() {
    let fonts = fonts_or_skip!();
    let mut sheets = tamarin::sheets();
    sheets.rows.clear();
    let error = field_sheets(&sheets, &colour(), &fonts).unwrap_err();
    assert_eq!(
        error.to_string(),
        "survey `summer survey 2026` of `Lake Tamarin` has no sites, there is nothing to print on a \
         field sheet\nhint: lay the sites first (`quillwort plan`)"
    );
    let mut report = tamarin::survey_report();
    report.sites.clear();
    assert!(survey_report(&report, &colour(), &fonts).unwrap_err().is_input());
    let mut page = tamarin::site_map_page();
    page.map.outline.0.clear();
    let error = site_map(&page, &colour(), &fonts).unwrap_err();
    assert!(matches!(error, PrintError::NoOutline { .. }), "{error}");
    let mut sheets = tamarin::sheets();
    sheets.throws = 7;
    let error = field_sheets(&sheets, &colour(), &fonts).unwrap_err();
    assert_eq!(error.to_string(), "throws at a site is `7`, a sheet takes 1 to 3");
    let mut report = tamarin::survey_report();
    report.sites[3].found.push(Occurrence { taxon: 99, how: HowSeen::Visual });
    let error = survey_report(&report, &colour(), &fonts).unwrap_err();
    assert_eq!(error.to_string(), "site `4` names species `99`, but there are only 17");
    assert!(Fonts::new(vec![b"no font".to_vec()]).is_err());
}

#[test]
fn a_survey_that_found_nothing_still_has_a_report() {
    let fonts = fonts_or_skip!();
    let mut report = tamarin::survey_report();
    for site in &mut report.sites {
        site.found.clear();
        if let SiteOutcome::Sampled { with_plants } = &mut site.outcome {
            *with_plants = false;
        }
    }
    report.taxa.clear();
    report.floristic = None;
    report.max_plant_depth = None;
    report.counts.vegetated = 0;
    report.richness.rake = 0;
    report.simpson = None;
    report.seal = None;
    report.species_per_site.vegetated = None;
    report.species_per_site.native_where_native = None;
    let print = survey_report(&report, &colour(), &fonts).unwrap();
    assert_tidy(&print);
    let cover = words(&print.pages[0]);
    assert!(cover.contains("none of them") && cover.contains("Draft"), "{cover}");
}

#[test]
fn a_page_for_each_species_when_asked() {
    let fonts = fonts_or_skip!();
    let mut report = tamarin::survey_report();
    report.species_maps = SpeciesMaps::OnePage;
    let print = survey_report(&report, &colour(), &fonts).unwrap();
    assert_tidy(&print);
    let asked = print.pages.iter().filter(|page| words(page).contains("Where is ")).count();
    let found = report.taxa.iter().filter(|taxon| taxon.sites > 0).count();
    assert_eq!(asked, found);
}
