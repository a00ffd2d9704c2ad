//! Papers of words: what goes into the kit list, the safety page and the residents' card.

use super::marks::marks_of;
use super::sheets::{hour, long_date};
use crate::error::{Error, Result};
use crate::ground::Ground;
use crate::route;
use lakebook::{KeptBoat, LakeBook};
use report::handout::{FloatPlan, KitList, ResidentPlant, ResidentsCard, SafetyPage, Section};
use std::collections::BTreeMap;
use survey::{Origin, Rank, SurveyRecord, Taxon, TaxonId};

/// Where the lake's own kit list is kept.
const KIT: &str = "kit";
/// Minutes after the planned return when those on shore call for help (common practice: the plan says a
/// time, and somebody keeps to it).
const GRACE: i64 = 60;

/// The kit list to start from: common practice of lake crews, in the order of loading.
const USUAL_KIT: &str = "# To find the place
GPS unit with the sites loaded, spare batteries
Paper map of the sites, in a case
Compass; range finder for shore distances
Depth line or pole, marked; sounder if there is one

# To sample
Two-sided rake head on a marked rope
Pole rake for shallow water
Spare rake and rope
White tray or tub to sort in
Hand lens, Secchi disk, thermometer

# To record
Field sheets in route order, spares on waterproof paper
Clipboard with a string, pencils (no pens)
Plant cards, laminated
Camera or phone in a dry bag; ruler for photos

# To keep plants
Sealing bags, numbered; voucher labels
Permanent marker, paper towels
Cooler with ice packs
Permit to collect or carry plants, where one is needed

# For the eyes and hands
Polarised glasses, hat, sun cream
Gloves; dry clothes in a bag
Water and food

# Safety
Life jacket on each person
First aid kit, whistle, throw rope, bailer
Anchor and rope, paddles, kill switch lanyard
Phone or radio in a dry bag; float plan left on shore
Fire extinguisher and lights, as the rules ask

# On the way home
Brush and bucket to clean boat, trailer and rake
Bags for plant scraps: into the rubbish, not the water
";

/// Begins a thing that is on the list and stays ashore.
const ASHORE: char = '~';

fn sections(text: &str) -> Vec<Section> {
    let mut all: Vec<Section> = Vec::new();
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
        if let Some(title) = line.strip_prefix('#') {
            all.push(Section { title: title.trim().to_owned(), lines: Vec::new() });
        } else if !line.starts_with(ASHORE) {
            let line = line.trim_start_matches(['-', '*']).trim().to_owned();
            match all.last_mut() {
                Some(section) => section.lines.push(line),
                None => all.push(Section { title: "To take along".to_owned(), lines: vec![line] }),
            }
        }
    }
    all
}

/// The kit list as text: the lake's own, else the usual one. A line with `#` begins a group, one with `~` stays ashore
/// and is not printed.
///
/// # Errors
/// When the book cannot be read.
pub fn kit_text(book: &LakeBook) -> Result<String> {
    Ok(book.paper_text(KIT)?.unwrap_or_else(|| USUAL_KIT.to_owned()))
}

/// Keeps the lake's own kit list; an empty text goes back to the usual one.
///
/// # Errors
/// When the text has no thing in it, or the book cannot be written.
pub fn keep_kit_text(book: &mut LakeBook, text: &str) -> Result<()> {
    let text = text.trim();
    if text.is_empty() {
        if book.paper_text(KIT)?.is_some() {
            book.transact("the usual kit list again", |writer| writer.delete_paper_text(KIT))?;
        }
        return Ok(());
    }
    if sections(text).iter().all(|section| section.lines.is_empty()) {
        return Err(Error::input("the kit list has headings and nothing under them")
            .hint("write one thing a line; a line that begins with `#` is a heading, one with `~` stays ashore"));
    }
    book.transact("kit list", |writer| writer.put_paper_text(KIT, text))?;
    Ok(())
}

fn kept_boats(book: &LakeBook, record: &SurveyRecord) -> Result<Vec<KeptBoat>> {
    Ok(book.route(record.survey.id)?.map(|route| route.boats).unwrap_or_default())
}

/// The day of the route that is kept, in a sentence; empty without one.
pub(super) fn day(book: &LakeBook, record: &SurveyRecord) -> Result<String> {
    Ok(book.route(record.survey.id)?.map_or_else(String::new, |route| {
        let date = route.boats.first().map(|boat| long_date(&boat.date)).unwrap_or_default();
        format!("{date}: {}.", route.sentence)
    }))
}

pub(super) fn kit_list(book: &LakeBook, ground: &Ground, record: &SurveyRecord) -> Result<KitList> {
    let route = book.route(record.survey.id)?;
    let boats = route
        .as_ref()
        .and_then(|route| route.boats.iter().map(|boat| boat.boat).max())
        .unwrap_or(1)
        .clamp(1, 4);
    let own = book.paper_text(KIT)?.is_some();
    let mut groups = sections(&kit_text(book)?);
    groups.retain(|group| !group.lines.is_empty());
    Ok(KitList {
        lake: ground.lake.name.clone(),
        survey: record.survey.name.clone(),
        day: day(book, record)?,
        groups,
        boats,
        source: if own {
            "The lake's own list.".to_owned()
        } else {
            "Common practice of lake crews; make it your own with `quillwort kit`. \
             What the law wants on board differs from state to state."
                .to_owned()
        },
    })
}

/// Minutes added to a time of day; the time as it is when it is none.
fn later(time: &str, minutes: i64) -> String {
    let Ok(time) = time.parse::<jiff::civil::Time>() else { return time.to_owned() };
    let later = time.wrapping_add(jiff::SignedDuration::from_mins(minutes));
    hour(&route::clock(later))
}

fn section(title: &str, lines: &[&str]) -> Section {
    Section {
        title: title.to_owned(),
        lines: lines.iter().map(|line| (*line).to_owned()).collect(),
    }
}

pub(super) fn safety_page(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
    clock: fn(jiff::civil::Date) -> i32,
) -> Result<SafetyPage> {
    let boats = kept_boats(book, record)?;
    let light = if boats.is_empty() {
        String::new()
    } else {
        let light = route::kept_view(book, &record.survey.name, clock)?.daylight;
        match (light.rise, light.set) {
            (Some(rise), Some(set)) => {
                format!("Light from {} to {}.", hour(&rise), hour(&set))
            }
            _ => String::new(),
        }
    };
    let plans = boats
        .iter()
        .map(|boat| FloatPlan {
            boat: format!("boat {}", boat.boat),
            date: long_date(&boat.date),
            launch: boat.launch.clone(),
            leaves: hour(&boat.start),
            sites: match (boat.stops.first(), boat.stops.last()) {
                (Some(first), Some(last)) => {
                    format!("{} sites, {} to {}", boat.stops.len(), first.code, last.code)
                }
                _ => String::new(),
            },
            home: hour(&boat.finish),
            call_at: later(&boat.finish, GRACE),
        })
        .collect();
    Ok(SafetyPage {
        lake: ground.lake.name.clone(),
        survey: record.survey.name.clone(),
        light,
        plans,
        sections: vec![
            section(
                "Before you leave",
                &[
                    "Two people a boat at least. Everyone wears a life jacket, fastened, all day.",
                    "Look at the forecast for wind and lightning: they decide, not the plan. \
                     At thunder, off the water.",
                    "Kill switch on the one who steers. Engine off while the rake is out.",
                ],
            ),
            section(
                "Cold water",
                &[
                    "Dress for the water, not for the air: spring surveys are the cold season.",
                    "In the water: one minute to get the breath under control, about ten in which \
                     hands still work, about an hour before cold takes consciousness (the 1-10-1 rule). \
                     Stay with the boat.",
                    "Shivering, slurring, stumbling: off the water, dry, warm slowly, call for help.",
                ],
            ),
            section(
                "Clean, drain, dry",
                &[
                    "Before leaving the launch take every scrap of plant and mud from boat, motor, \
                     trailer, anchor and rake; scraps go into the rubbish on land.",
                    "Drain everything that holds water: bilge, motor, live well, tubs.",
                    "Dry five days or more before another water, or use hot water; ask what your \
                     state requires.",
                    "From the least infested water to the most. A rake for infested lakes stays there.",
                ],
            ),
            section(
                "Plants and permits",
                &[
                    "Carrying listed plants, even to have them named, may need a permit: ask first, \
                     bag double, label.",
                    "Do not pull up protected plants or wild rice; keep exact places to yourselves.",
                    "Herbicide is for licensed applicators under permit only. This page says nothing \
                     of doses, and nobody in a survey boat needs to.",
                ],
            ),
            section(
                "If something goes wrong",
                &[
                    "Person overboard: engine off, throw rope, talk to them, lift over the stern.",
                    "Motor dead: anchor, call shore, stay with the boat.",
                    "Back on shore: tell the person who holds this page. Then only they may tear it up.",
                ],
            ),
        ],
        rules: "Common practice; the 1-10-1 rule and dressing for the water as boating safety offices \
                teach them (Maryland Natural Resources Police, cold water boating). State and local \
                rules, and the law on board equipment, come first."
            .to_owned(),
    })
}

pub(super) fn residents_card(
    book: &LakeBook,
    ground: &Ground,
    record: Option<&SurveyRecord>,
) -> Result<ResidentsCard> {
    let taxa = book.taxa()?;
    let found = times_found(book)?;
    let mut listed: Vec<&Taxon> =
        taxa.iter().filter(|taxon| taxon.rank != Rank::Unidentified).collect();
    listed.sort_by_key(|taxon| std::cmp::Reverse(found.get(&taxon.id).copied().unwrap_or(0)));
    let plant = |taxon: &&Taxon, note: String| {
        let marks = marks_of(&taxon.scientific_name);
        ResidentPlant {
            name: taxon.spoken_name().to_owned(),
            scientific: taxon.scientific_name.clone(),
            marks: marks.map(|one| one.known_by.join(" ")).unwrap_or_default(),
            note,
        }
    };
    let alert = |taxon: &&&Taxon| taxon.origin == Origin::Introduced || taxon.listed_noxious;
    let introduced: Vec<ResidentPlant> = listed
        .iter()
        .filter(alert)
        .take(5)
        .map(|taxon| {
            let note = match found.get(&taxon.id) {
                Some(_) => "In this lake.",
                None => "Watched for; not met by a survey so far.",
            };
            plant(taxon, note.to_owned())
        })
        .collect();
    let natives: Vec<ResidentPlant> = listed
        .iter()
        .filter(|taxon| taxon.origin == Origin::Native && found.contains_key(&taxon.id))
        .take(6)
        .map(|taxon| {
            let marks = marks_of(&taxon.scientific_name);
            plant(taxon, marks.map(|one| one.good.to_owned()).unwrap_or_default())
        })
        .collect();
    if introduced.is_empty() && natives.is_empty() {
        return Err(Error::input("the lake has no plants to show its residents")
            .hint("add them with `quillwort add BOOK species FILE`, or record a survey"));
    }
    let surveyed = record.map(|record| record.survey.name.clone());
    Ok(ResidentsCard {
        lake: ground.lake.name.clone(),
        answer: match surveyed {
            Some(name) => format!("What the surveys met up to {name}."),
            None => "What the surveys met.".to_owned(),
        },
        introduced,
        natives,
        sections: vec![
            section(
                "Please do",
                &[
                    "Rake loose plants from your shore onto land, well above the water.",
                    "Clean, drain and dry boat and gear before and after every trip.",
                    "Photograph an unknown plant beside a coin and send the picture with the place.",
                ],
            ),
            section(
                "Please do not",
                &[
                    "Do not chop or churn introduced plants: fragments take root elsewhere.",
                    "Do not put anything into the water against plants. Treatment is for licensed \
                     applicators under a permit.",
                    "Do not clear a shore of native plants without asking which rules hold.",
                ],
            ),
        ],
        source: "Marks from memory, not checked against a flora: let somebody who knows plants \
                 confirm a find. State and local rules come first."
            .to_owned(),
    })
}

/// In how many sampled sites of all surveys each taxon came up on the rake.
pub(super) fn times_found(book: &LakeBook) -> Result<BTreeMap<TaxonId, usize>> {
    let mut found: BTreeMap<TaxonId, usize> = BTreeMap::new();
    for survey in book.surveys()? {
        let record = book.record(survey.id)?;
        for visit in &record.visits {
            for taxon in
                record.taxa.iter().filter(|taxon| record.largest_on_rake(visit, taxon.id).is_some())
            {
                *found.entry(taxon.id).or_default() += 1;
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kit_list_is_groups_of_things() {
        let all = sections("rope\n# To sample\n- rake\n~ second rake\n\n  tray\n#To record\n");
        let titles: Vec<&str> = all.iter().map(|one| one.title.as_str()).collect();
        assert_eq!(titles, ["To take along", "To sample", "To record"]);
        assert_eq!(all[1].lines, ["rake", "tray"]);
        assert!(all[2].lines.is_empty());
    }

    #[test]
    fn help_is_called_an_hour_after_the_plan() {
        assert_eq!(later("11:44", GRACE), "12:44 pm");
        assert_eq!(later("23:30", GRACE), "12:30 am");
        assert_eq!(later("soon", GRACE), "soon");
    }
}
