//! The whole record of a survey, put into words for the paper that is kept.

use super::sheets::{long_date, row_word};
use crate::error::Result;
use crate::ground::Ground;
use lakebook::LakeBook;
use report::record_paper::{RecordPaper, RecordSeal, RecordTable, RecordedSite};
use std::collections::{BTreeMap, BTreeSet};
use survey::{
    Conditions, HowSeen, Rank, Rating, Sampling, Scope, Site, SiteId, SiteResult, SurveyRecord,
    Taxon, TaxonId, Visit,
};
use units::{LonLat, UnitSystem, decimals};

pub(super) fn record_paper(
    book: &LakeBook,
    ground: &Ground,
    record: &SurveyRecord,
) -> Result<RecordPaper> {
    let words = Words::of(ground, record);
    let visits = record.visits_by_site();
    let mut sites: Vec<&Site> = record.sites.iter().collect();
    sites.sort_by_key(|site| site.rank);
    let rows = sites
        .iter()
        .filter(|site| !site.spare || visits.contains_key(&site.id))
        .map(|site| words.site(site, visits.get(&site.id).copied()))
        .collect();
    let lake = &ground.lake;
    let place = [&lake.name, &lake.county, &lake.region, &lake.water_body_number];
    let place: Vec<&str> =
        place.into_iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
    Ok(RecordPaper {
        lake: place.join(", "),
        survey: record.survey.name.clone(),
        answer: answer(record),
        header: words.header(),
        before: vec![words.days(), crew(record)],
        row_word: row_word(&record.survey).to_owned(),
        sites: rows,
        behind: vec![
            words.beds(),
            words.shore(),
            words.unknowns(book)?,
            words.vouchers(),
            words.photos(),
            words.settled(book)?,
            amendments(book, record)?,
            words.plants(),
            scale(record),
        ],
        seal: record.survey.seal.as_ref().map(|seal| RecordSeal {
            by: seal.by.clone(),
            at: moment(&seal.at),
            sha256: seal.sha256.clone(),
        }),
    })
}

/// `14 July 2026, 08:30 UTC` of a time as the book keeps it.
fn moment(at: &str) -> String {
    let day = at.get(..10).map_or_else(|| at.to_owned(), long_date);
    match at.get(11..16) {
        Some(time) => format!("{day}, {time} UTC"),
        None => day,
    }
}

fn table(title: &str, columns: &[(&str, u8)], rows: Vec<Vec<String>>, none: &str) -> RecordTable {
    RecordTable {
        title: title.to_owned(),
        about: String::new(),
        columns: columns.iter().map(|(head, part)| ((*head).to_owned(), *part)).collect(),
        rows,
        none: none.to_owned(),
    }
}

fn answer(record: &SurveyRecord) -> String {
    let sampled = record.visits.iter().filter(|visit| sampling_of(visit).is_some());
    let finds: usize =
        sampled.clone().filter_map(sampling_of).map(|one| one.observations().count()).sum();
    let planned = record.sites.iter().filter(|site| site.stands()).count();
    format!(
        "{planned} planned, {} visited, {} sampled; {finds} finds written down.",
        record.visits.len(),
        sampled.count()
    )
}

fn crew(record: &SurveyRecord) -> RecordTable {
    let row = |one: &survey::CrewMember| {
        let named = if one.identified { "named the plants" } else { "" };
        vec![one.name.clone(), one.role.words().to_owned(), named.to_owned()]
    };
    let rows = record.survey.crew.iter().map(row).collect();
    table("Who was there", &[("Name", 4), ("Did", 4), ("", 4)], rows, "Nobody is written down.")
}

fn amendments(book: &LakeBook, record: &SurveyRecord) -> Result<RecordTable> {
    let short = |sha256: &str| sha256.get(..12).unwrap_or(sha256).to_owned();
    let row = |one: lakebook::Amendment| {
        let sums = format!("{} → {}", short(&one.sha256_before), short(&one.sha256_after));
        vec![moment(&one.at), one.by, one.why, sums]
    };
    let rows = book.amendments(record.survey.id)?.into_iter().map(row).collect();
    Ok(table(
        "Changed after the seal",
        &[("When", 4), ("By", 3), ("Why", 6), ("Checksum before → after", 5)],
        rows,
        "Nothing was changed after the seal.",
    ))
}

fn scale(record: &SurveyRecord) -> RecordTable {
    let row = |step: &survey::scale::Step| {
        vec![step.code.clone(), step.name.clone(), step.measure.clone()]
    };
    let rows = record.scale.steps.iter().map(row).collect();
    let mut of = table(
        "Codes of the ratings",
        &[("Code", 1), ("Rating", 3), ("In the hand", 7)],
        rows,
        "The scale has no steps.",
    );
    of.about.clone_from(&record.scale.name);
    if !record.survey.scale_reason.is_empty() {
        of.about
            .push_str(&format!(". Why it is another than before: {}", record.survey.scale_reason));
    }
    of
}

const fn sampling_of(visit: &Visit) -> Option<&Sampling> {
    match &visit.result {
        SiteResult::Sampled(sampling) => Some(sampling),
        SiteResult::NotSampled(_) => None,
    }
}

fn position(place: LonLat) -> String {
    format!("{}, {}", decimals(place.latitude(), 5), decimals(place.longitude(), 5))
}

/// The record with what its keys stand for.
struct Words<'a> {
    record: &'a SurveyRecord,
    units: UnitSystem,
    taxa: BTreeMap<TaxonId, &'a Taxon>,
    sites: BTreeMap<SiteId, &'a Site>,
}

impl<'a> Words<'a> {
    fn of(ground: &Ground, record: &'a SurveyRecord) -> Self {
        Self {
            record,
            units: ground.lake.units,
            taxa: record.taxa.iter().map(|taxon| (taxon.id, taxon)).collect(),
            sites: record.sites.iter().map(|site| (site.id, site)).collect(),
        }
    }

    fn plant(&self, taxon: TaxonId) -> String {
        self.taxa.get(&taxon).map(|taxon| taxon.code.to_string()).unwrap_or_default()
    }

    fn rating(&self, rating: Rating) -> String {
        self.record.scale.step_of(rating).map(|step| step.code.clone()).unwrap_or_default()
    }

    fn code_of(&self, site: Option<SiteId>) -> String {
        site.and_then(|id| self.sites.get(&id))
            .map(|site| format!("{} {}", row_word(&self.record.survey), site.code))
            .unwrap_or_default()
    }

    fn header(&self) -> Vec<(String, String)> {
        let survey = &self.record.survey;
        let day = |date: Option<jiff::civil::Date>| {
            date.map(|date| long_date(&date.to_string())).unwrap_or_default()
        };
        let dates = match (survey.start, survey.end) {
            (Some(start), Some(end)) if start != end => {
                format!("{} to {}", day(Some(start)), day(Some(end)))
            }
            (start, _) => day(start),
        };
        let layout: Vec<String> = std::iter::once(survey.layout.layout.clone())
            .chain(survey.layout.parameters.iter().map(|(name, value)| format!("{name}={value}")))
            .filter(|part| !part.is_empty())
            .collect();
        let looked_for = match &survey.scope {
            Scope::WholeCommunity => "every plant".to_owned(),
            Scope::Only(taxa) => {
                taxa.iter().map(|taxon| self.plant(*taxon)).collect::<Vec<_>>().join(", ")
            }
        };
        [
            ("Days", dates),
            ("Purpose", survey.purpose.words().to_owned()),
            ("Method", survey.method.words().to_owned()),
            ("Protocol", survey.protocol.clone()),
            ("Looked for", looked_for),
            ("Throws a site", survey.throws_per_site.to_string()),
            ("Scale", self.record.scale.name.clone()),
            (
                "Not deeper than",
                survey.depth_cap.map(|cap| self.units.depth(cap)).unwrap_or_default(),
            ),
            ("Sites laid as", layout.join(", ")),
            ("Remark", survey.note.clone()),
        ]
        .into_iter()
        .filter(|(_, value)| !value.is_empty())
        .map(|(name, value)| (name.to_owned(), value))
        .collect()
    }

    fn days(&self) -> RecordTable {
        let row = |day: &Conditions| {
            let hours: Vec<String> = [day.start, day.end]
                .into_iter()
                .flatten()
                .map(|time| time.strftime("%H:%M").to_string())
                .collect();
            let warm = |value: Option<units::Celsius>| {
                value.map(|value| self.units.temperature(value)).unwrap_or_default()
            };
            let wind =
                day.wind.map(|wind| format!("{} m/s", decimals(wind.metres_per_second(), 1)));
            let weather: Vec<String> = [day.weather.clone(), day.wind_words.clone()]
                .into_iter()
                .chain(wind)
                .filter(|part| !part.is_empty())
                .collect();
            let depth = |value: Option<units::Metres>| {
                value.map(|value| self.units.depth(value)).unwrap_or_default()
            };
            vec![
                day.date.map(|date| long_date(&date.to_string())).unwrap_or_default(),
                hours.join(" to "),
                [("air", warm(day.air)), ("water", warm(day.water))]
                    .into_iter()
                    .filter(|(_, value)| !value.is_empty())
                    .map(|(what, value)| format!("{what} {value}"))
                    .collect::<Vec<_>>()
                    .join(", "),
                weather.join(", "),
                depth(day.secchi),
                depth(day.water_level),
                day.gear.clone(),
            ]
        };
        table(
            "The days",
            &[
                ("Day", 5),
                ("Hours", 5),
                ("Temperature", 5),
                ("Weather", 6),
                ("Secchi depth", 3),
                ("Water level", 3),
                ("Gear", 6),
            ],
            self.record.survey.conditions.iter().map(row).collect(),
            "Nothing is written of the days.",
        )
    }

    fn site(&self, site: &Site, visit: Option<&Visit>) -> RecordedSite {
        let units = self.units;
        let mut place = Vec::new();
        let parts = [
            site.zone.as_ref().map(|zone| format!("zone {zone}")),
            site.sub_area.as_ref().map(|part| format!("part {part}")),
            Some(site.landmark.clone()),
        ];
        place.push(
            parts
                .into_iter()
                .flatten()
                .filter(|part| !part.is_empty())
                .collect::<Vec<_>>()
                .join(", "),
        );
        match (visit.and_then(|visit| visit.actual), site.planned) {
            (Some(fix), _) => place.push(position(fix.position)),
            (None, Some(planned)) => place.push(format!("({})", position(planned))),
            (None, None) => {}
        }
        let map_depth = site.map_depth.map(|depth| format!("map {}", units.depth(depth)));
        let Some(visit) = visit else {
            let why = match &site.dropped {
                Some(why) => format!("taken out of the plan: {why}"),
                None => "not visited".to_owned(),
            };
            return RecordedSite {
                code: site.code.to_string(),
                place,
                depth: map_depth.into_iter().collect(),
                throws: vec![why],
                ..RecordedSite::default()
            };
        };
        let when = visit.time.map(|time| time.strftime("%Y-%m-%d %H:%M").to_string());
        RecordedSite {
            code: site.code.to_string(),
            place,
            when: when.into_iter().chain([visit.observer.clone()]).collect(),
            depth: visit
                .depth
                .map(|depth| units.depth(depth))
                .into_iter()
                .chain(map_depth)
                .collect(),
            bottom: visit.sediment.map(|one| one.words().to_owned()).unwrap_or_default(),
            throws: self.throws(visit),
            note: visit.note.clone(),
        }
    }

    fn throws(&self, visit: &Visit) -> Vec<String> {
        let sampling = match &visit.result {
            SiteResult::Sampled(sampling) => sampling,
            SiteResult::NotSampled(reason) => {
                return vec![format!("not sampled: {}", reason.words())];
            }
        };
        let mut lines = Vec::new();
        let several = sampling.throws().len() > 1 || self.record.survey.throws_per_site > 1;
        for throw in sampling.throws() {
            let mut found: Vec<String> = throw
                .observations
                .iter()
                .map(|one| {
                    let rating = one.rating.map(|rating| self.rating(rating)).unwrap_or_default();
                    let beside = match one.seen {
                        HowSeen::Rake => "",
                        HowSeen::Visual => "V",
                        HowSeen::Shoreline => "on the shore",
                    };
                    [self.plant(one.taxon).as_str(), &rating, beside]
                        .into_iter()
                        .filter(|part| !part.is_empty())
                        .collect::<Vec<_>>()
                        .join("\u{a0}")
                })
                .collect();
            if found.is_empty()
                && throw.total.is_none_or(|one| !self.record.says_present(Some(one)))
            {
                found.push("bare".to_owned());
            }
            if let Some(total) = throw.total {
                found.push(format!("=\u{a0}{}", self.rating(total)));
            }
            let number = if several { format!("{}: ", throw.number) } else { String::new() };
            lines.push(format!("{number}{}", found.join(", ")));
        }
        if let Some(counts) = sampling.reported() {
            let native = counts.native.map(|native| format!(", {native} native"));
            lines.push(format!(
                "{} species reported{}",
                counts.species,
                native.unwrap_or_default()
            ));
        }
        lines
    }

    fn beds(&self) -> RecordTable {
        let row = |bed: &survey::SurfaceBed| {
            let drawn = if bed.area.is_some() { "drawn" } else { "" };
            let place = [self.code_of(bed.site), drawn.to_owned()];
            vec![
                place.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "),
                bed.taxa.iter().map(|taxon| self.plant(*taxon)).collect::<Vec<_>>().join(", "),
                bed.rating.map(|rating| self.rating(rating)).unwrap_or_default(),
                bed.note.clone(),
            ]
        };
        table(
            "Beds at the surface",
            &[("Where", 3), ("Plants", 4), ("Rating", 2), ("Remark", 6)],
            self.record.beds.iter().map(row).collect(),
            "No bed at the surface is written down.",
        )
    }

    fn shore(&self) -> RecordTable {
        let row = |find: &survey::ShorelineFind| {
            let zone = find.zone.as_ref().map(|zone| format!("zone {zone}"));
            let place = zone.into_iter().chain(find.position.map(position));
            vec![self.plant(find.taxon), place.collect::<Vec<_>>().join(", "), find.note.clone()]
        };
        table(
            "Plants on the shore",
            &[("Plant", 2), ("Where", 4), ("Remark", 6)],
            self.record.shoreline.iter().map(row).collect(),
            "No plant on the shore is written down.",
        )
    }

    /// Every taxon the record holds anywhere.
    fn held(&self) -> BTreeSet<TaxonId> {
        let record = self.record;
        let seen = record.visits.iter().filter_map(sampling_of).flat_map(Sampling::observations);
        seen.map(|one| one.taxon)
            .chain(record.beds.iter().flat_map(|bed| bed.taxa.iter().copied()))
            .chain(record.shoreline.iter().map(|find| find.taxon))
            .chain(record.vouchers.iter().map(|voucher| voucher.taxon))
            .collect()
    }

    fn unknowns(&self, book: &LakeBook) -> Result<RecordTable> {
        let held = self.held();
        let open = self
            .taxa
            .values()
            .filter(|taxon| taxon.rank == Rank::Unidentified && held.contains(&taxon.id))
            .map(|taxon| {
                vec![
                    taxon.code.to_string(),
                    "not named yet".to_owned(),
                    String::new(),
                    String::new(),
                ]
            });
        let settled =
            book.determinations()?.into_iter().filter(|one| held.contains(&one.taxon)).map(|one| {
                let when = one.on.map(|day| long_date(&day.to_string())).unwrap_or_default();
                let how = [one.evidence.words(), one.note.as_str()];
                let how: Vec<&str> = how.into_iter().filter(|part| !part.is_empty()).collect();
                let who = [one.by, when].into_iter().filter(|part| !part.is_empty());
                vec![one.was_code, one.now_name, who.collect::<Vec<_>>().join(", "), how.join("; ")]
            });
        Ok(table(
            "Unknowns",
            &[("Unknown", 2), ("Is", 4), ("Named by", 4), ("By what", 5)],
            open.chain(settled).collect(),
            "Every plant was named when it was found.",
        ))
    }

    fn vouchers(&self) -> RecordTable {
        let row = |voucher: &survey::Voucher| {
            let day = voucher.date.map(|date| long_date(&date.to_string())).unwrap_or_default();
            let taken = [self.code_of(voucher.site), voucher.collector.clone(), day];
            vec![
                voucher.number.clone(),
                self.plant(voucher.taxon),
                taken.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "),
                voucher.kept_at.clone(),
                voucher.confirmed_by.clone(),
            ]
        };
        table(
            "Specimens",
            &[("Number", 3), ("Plant", 2), ("Taken", 5), ("Kept at", 4), ("Name confirmed by", 4)],
            self.record.vouchers.iter().map(row).collect(),
            "No specimen is written down.",
        )
    }

    fn photos(&self) -> RecordTable {
        let at: BTreeMap<_, _> =
            self.record.visits.iter().map(|visit| (visit.id, visit.site)).collect();
        let row = |photo: &survey::PhotoRef| {
            let site = photo.visit.and_then(|visit| at.get(&visit).copied());
            let plant = photo.taxon.map(|taxon| self.plant(taxon)).unwrap_or_default();
            let shows = [self.code_of(site), plant, photo.caption.clone()];
            vec![
                photo.file_name.clone(),
                photo
                    .taken
                    .map(|time| time.strftime("%Y-%m-%d %H:%M").to_string())
                    .unwrap_or_default(),
                shows.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "),
                photo.sha256.get(..12).unwrap_or(&photo.sha256).to_owned(),
            ]
        };
        table(
            "Photos",
            &[("File", 4), ("Taken", 3), ("Shows", 6), ("SHA-256 begins", 3)],
            self.record.photos.iter().map(row).collect(),
            "No photo belongs to the record.",
        )
    }

    fn settled(&self, book: &LakeBook) -> Result<RecordTable> {
        let row = |one: survey::check::Settlement| {
            let site = one.find.split_once(':').map(|(_, place)| place.to_owned());
            let who = format!("{}, {}", one.by, moment(&one.at));
            vec![site.unwrap_or_default(), one.said, one.reason, who]
        };
        let rows = book.settlements(self.record.survey.id)?.into_iter().map(row).collect();
        Ok(table(
            "Asked by the check, and confirmed",
            &[("Where", 2), ("Asked", 6), ("Why it is right", 5), ("By", 4)],
            rows,
            "Nothing the check asked was confirmed with a reason.",
        ))
    }

    fn plants(&self) -> RecordTable {
        let held = self.held();
        let mut taxa: Vec<&&Taxon> =
            self.taxa.values().filter(|taxon| held.contains(&taxon.id)).collect();
        taxa.sort_by(|a, b| a.code.cmp(&b.code));
        let row = |taxon: &&&Taxon| {
            let listed = if taxon.listed_noxious { ", listed noxious" } else { "" };
            vec![
                taxon.code.to_string(),
                taxon.scientific_name.clone(),
                taxon.common_name.clone(),
                format!("{}{listed}", taxon.origin.words()),
            ]
        };
        table(
            "Codes of the plants",
            &[("Code", 2), ("Scientific name", 5), ("Common name", 5), ("Origin", 4)],
            taxa.iter().map(row).collect(),
            "No plant was found.",
        )
    }
}
