use super::map::map_data;
use super::words::times_found;
use crate::error::Result;
use crate::ground::Ground;
use crate::route;
use jiff::civil::{Date, Time};
use lakebook::{KeptBoat, LakeBook};
use report::sheet::{CodeWords, FieldSheets, SheetBoat, SheetRow, SheetSpecies};
use survey::{Method, Origin, Rank, Survey, SurveyId, SurveyRecord};

/// What to write for a site that was not sampled; the record reader knows these letters.
const OUTCOMES: &[(&str, &str)] = &[
    ("P", "plants stop the boat"),
    ("X", "too deep"),
    ("W", "dock, swim area"),
    ("R", "not reached: say why"),
    ("–", "that throw not made"),
];
const BOTTOMS: &[(&str, &str)] = &[("mu", "muck"), ("sa", "sand"), ("ro", "rock")];
const CAUTIONS: &[&str] = &[
    "Wear your life jacket.",
    "Drain, clean and dry boat and rake before you leave.",
    "Local rules come first.",
];

fn words(pairs: &[(&str, &str)]) -> Vec<CodeWords> {
    pairs
        .iter()
        .map(|(code, words)| CodeWords { code: (*code).to_owned(), words: (*words).to_owned() })
        .collect()
}

/// `LT 26-S`: initials of the lake, the year, the survey's first letter.
pub(super) fn short_id(lake: &str, survey: &str) -> String {
    let initials: String = lake
        .split(|c: char| !c.is_alphanumeric())
        .filter_map(|word| word.chars().next())
        .flat_map(char::to_uppercase)
        .take(3)
        .collect();
    let digits: String = survey.chars().filter(char::is_ascii_digit).take(4).collect();
    let year = if digits.len() == 4 { &digits[2..] } else { &digits };
    let letter: String = survey
        .chars()
        .find(|c| c.is_alphabetic())
        .map(|c| c.to_uppercase().collect())
        .unwrap_or_default();
    [initials, format!("{year}-{letter}")].join(" ").trim_end_matches('-').trim().to_owned()
}

/// The lake's list, the commonest of all surveys first.
pub(super) fn species(book: &LakeBook) -> Result<Vec<SheetSpecies>> {
    let found = times_found(book)?;
    let mut taxa = book.taxa()?;
    taxa.retain(|taxon| taxon.rank != Rank::Unidentified);
    taxa.sort_by(|a, b| {
        let times = |id| found.get(&id).copied().unwrap_or(0);
        times(b.id).cmp(&times(a.id)).then_with(|| a.code.cmp(&b.code))
    });
    let mut species: Vec<SheetSpecies> = taxa
        .iter()
        .map(|taxon| SheetSpecies {
            code: taxon.code.to_string(),
            name: taxon.spoken_name().to_owned(),
            introduced: taxon.origin == Origin::Introduced,
        })
        .collect();
    species.push(SheetSpecies {
        code: "UN-1".to_owned(),
        name: "unknown, bag it".to_owned(),
        introduced: false,
    });
    Ok(species)
}

/// What a row of the sheets is called.
pub(super) fn row_word(survey: &Survey) -> &'static str {
    match (survey.method, survey.layout.layout.as_str()) {
        (Method::SubAreas, _) => "place",
        (Method::ShoreSections, _) => "section",
        (_, "squares") => "square",
        (Method::Transects, _) => "station",
        _ => "site",
    }
}

/// What the square mark of a sheet holds first: sixteen letters and digits of the survey's key.
pub(crate) fn mark_key(survey: SurveyId) -> String {
    let key = survey.to_string();
    key.chars().filter(char::is_ascii_alphanumeric).take(16).collect::<String>().to_uppercase()
}

/// `14 July 2026` of an ISO day; the text itself when it is none.
pub(super) fn long_date(iso: &str) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let Ok(date) = iso.parse::<Date>() else { return iso.to_owned() };
    let month = MONTHS[usize::from(date.month().unsigned_abs()).saturating_sub(1) % 12];
    format!("{} {month} {}", date.day(), date.year())
}

/// `8:30 am` of `08:30`; the text itself when it is no time.
pub(super) fn hour(time: &str) -> String {
    let Ok(time) = time.parse::<Time>() else { return time.to_owned() };
    let half = if time.hour() < 12 { "am" } else { "pm" };
    format!("{}:{:02} {half}", (time.hour() + 11) % 12 + 1, time.minute())
}

fn sheet_boat(boat: &KeptBoat) -> SheetBoat {
    SheetBoat {
        boat: format!("boat {}", boat.boat),
        date: long_date(&boat.date),
        hours: format!(
            "Boat {} leaves {} at {}, home about {}.",
            boat.boat,
            boat.launch,
            hour(&boat.start),
            hour(&boat.finish)
        ),
    }
}

pub(super) fn field_sheets(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
    spares: u8,
) -> Result<FieldSheets> {
    let survey = &record.survey;
    let by_parts = survey.method == Method::SubAreas;
    let order = route::in_order(book, record)?;
    let mut rows = Vec::new();
    let mut boats = Vec::new();
    for part in &order.parts {
        let boat = part.boat.as_ref().map(|boat| {
            boats.push(sheet_boat(boat));
            boats.len() - 1
        });
        for site in &part.sites {
            let place = site.planned.map(|place| ground.project(place)).transpose()?;
            let stop = part
                .boat
                .as_ref()
                .and_then(|boat| boat.stops.iter().find(|stop| stop.code == site.code.as_str()));
            let way = match stop {
                Some(stop) => route::projected(ground, &stop.way)?,
                None => Vec::new(),
            };
            rows.push(SheetRow {
                code: site.code.to_string(),
                zone: site.zone.as_ref().map(ToString::to_string).unwrap_or_default(),
                group: site.sub_area.as_ref().map(ToString::to_string).filter(|part| {
                    // a sub-area with one site needs no heading over its only row
                    by_parts && part != site.code.as_str()
                }),
                landmark: site.landmark.clone(),
                planned_depth: site.map_depth,
                place: place.map(|at| (at.x, at.y)),
                way: way.iter().map(|at| (at.x, at.y)).collect(),
                position: site.planned,
                arrive: stop.map(|stop| hour(&stop.arrive)).unwrap_or_default(),
                boat,
            });
        }
    }
    Ok(FieldSheets {
        lake: ground.lake.name.clone(),
        survey: survey.name.clone(),
        short_id: short_id(&ground.lake.name, &survey.name),
        mark: mark_key(survey.id),
        row_word: row_word(survey).to_owned(),
        throws: survey.throws_per_site.clamp(1, 3),
        rows,
        rows_per_sheet: 15,
        boats,
        spares,
        species: species(book)?,
        ratings: record
            .scale
            .steps
            .iter()
            .map(|step| CodeWords {
                code: step.code.clone(),
                words: if step.measure.is_empty() {
                    step.name.clone()
                } else {
                    format!("{}: {}", step.name, step.measure.trim_start_matches("as much as "))
                },
            })
            .collect(),
        outcomes: words(OUTCOMES),
        bottoms: words(BOTTOMS),
        cautions: CAUTIONS.iter().map(|text| (*text).to_owned()).collect(),
        map: map_data(book, ground, record)?,
    })
}

#[cfg(test)]
mod tests {
    use super::short_id;

    #[test]
    fn a_sheet_is_known_by_lake_year_and_survey() {
        for (lake, survey, want) in [
            ("Lake Tamarin", "2026-summer", "LT 26-S"),
            ("Our Lake", "2017 Pre", "OL 17-P"),
            ("Wingra", "2022", "W 22"),
        ] {
            assert_eq!(short_id(lake, survey), want);
        }
    }
}
