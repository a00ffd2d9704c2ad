//! From the rows of a file to visits: every name, code and number settled against the lake, or
//! every fault of the file listed.

mod dates;

use super::words::{self, OutcomeWord};
use crate::species::{Lookup, SpeciesList};
use exchange::{Fault, Faults, Form, RecordRow, RecordTable};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use survey::scale::RatingScale;
use survey::{
    Code, Fix, HowSeen, Id, NotSampled, Observation, Rating, ReportedCounts, Sampling, Sediment,
    ShorelineFind, ShorelineFindId, Site, SiteId, SiteResult, Survey, TaxonId, Throw, Visit,
    VisitId,
};
use units::{LengthUnit, LonLat, Metres};

/// What the lake and the survey already hold, and what the user said.
pub(super) struct Known<'a> {
    /// Header of the survey the file goes into.
    pub(super) survey: &'a Survey,
    /// Its scale.
    pub(super) scale: &'a RatingScale,
    /// Its sites.
    pub(super) sites: &'a [Site],
    /// Sites that already have a visit.
    pub(super) visited: &'a BTreeMap<SiteId, VisitId>,
    /// Rows take the place of the visits that are there.
    pub(super) replaces: bool,
    /// The user named the unit.
    pub(super) unit_said: bool,
    /// Greatest depth on the lake's map.
    pub(super) deepest: Option<Metres>,
    /// Unit of depths when neither cell nor header says.
    pub(super) depth_unit: LengthUnit,
    /// Take unseen names as new species.
    pub(super) new_taxa: bool,
    /// The day, when the file has none.
    pub(super) day: Option<Date>,
    /// Settles the position of a row, or says what is wrong with it.
    pub(super) position: &'a dyn Fn(&RecordRow) -> Result<Option<LonLat>, Fault>,
    /// Makes keys.
    pub(super) new_id: &'a dyn Fn() -> Id,
}

/// A file understood.
#[derive(Debug, Default)]
pub(super) struct Resolved {
    pub(super) new_sites: Vec<Site>,
    pub(super) visits: Vec<Visit>,
    pub(super) shoreline: Vec<ShorelineFind>,
    pub(super) observations: usize,
    pub(super) dates: Option<(Date, Date)>,
    pub(super) crew: BTreeSet<String>,
    pub(super) warnings: Vec<String>,
}

/// The map's greatest depth may be off by this much before a depth is refused.
fn too_deep(depth: Metres, deepest: Metres) -> bool {
    depth.metres() > 1.25 * deepest.metres() + 0.5
}

/// Settles every row of a table; what cannot be is left out and told as a fault.
pub(super) fn resolve(
    table: &RecordTable,
    known: &Known<'_>,
    species: &mut SpeciesList,
) -> (Resolved, Faults) {
    let mut resolver = Resolver {
        table,
        known,
        species,
        faults: Faults::default(),
        out: Resolved::default(),
        unknown_names: BTreeMap::new(),
        bare_depths: 0,
    };
    let mut order: Vec<String> = Vec::new();
    let mut by_site: BTreeMap<String, Vec<&RecordRow>> = BTreeMap::new();
    for row in &table.rows {
        let Some(code) = resolver.site_code(row) else { continue };
        let key = code.to_lowercase();
        if !by_site.contains_key(&key) {
            order.push(key.clone());
        }
        by_site.entry(key).or_default().push(row);
    }
    for key in &order {
        resolver.site(&by_site[key]);
    }
    resolver.dates();
    resolver.name_faults();
    if resolver.bare_depths > 0 && !known.unit_said {
        resolver.out.warnings.push(format!(
            "{} depths have no unit and were taken as {}; say it with `--unit`",
            resolver.bare_depths,
            known.depth_unit.sign()
        ));
    }
    let Resolver { faults, out, .. } = resolver;
    (out, faults)
}

struct Resolver<'a> {
    table: &'a RecordTable,
    known: &'a Known<'a>,
    species: &'a mut SpeciesList,
    faults: Faults,
    out: Resolved,
    /// Names nobody knows, with the rows they stand in and what they might have meant.
    unknown_names: BTreeMap<String, (Vec<usize>, Vec<String>)>,
    bare_depths: usize,
}

impl Resolver<'_> {
    fn fault(&self, row: usize, field: &str, expected: impl Into<String>) -> Fault {
        Fault::file(&self.table.file, expected).at(row).field(field)
    }

    fn site_code(&mut self, row: &RecordRow) -> Option<String> {
        let Some(text) = row.site.as_deref().map(str::trim).filter(|text| !text.is_empty()) else {
            let fault = self.fault(row.row, "site", "the code of the site");
            self.faults.push(fault.hint("write the site's number from the map in each row"));
            return None;
        };
        match Code::new(text) {
            Ok(code) => Some(code.as_str().to_owned()),
            Err(error) => {
                let fault = self.fault(row.row, "site", error.expected).found(text);
                self.faults.push(fault);
                None
            }
        }
    }

    /// One site: its rows must agree on what belongs to the visit as a whole.
    fn site(&mut self, rows: &[&RecordRow]) {
        let first = rows[0];
        let code = first.site.as_deref().unwrap_or_default().trim();
        let Some(site) = self.find_or_make_site(code, rows) else { return };
        if !self.known.replaces && self.known.visited.contains_key(&site.id) {
            let fault = self
                .fault(first.row, "site", "a site that has no record yet in this survey")
                .found(code)
                .hint("this file, or one like it, is already recorded: record it into another survey, or amend the visit");
            self.faults.push(fault);
            return;
        }
        let depth = self.depth(rows);
        let sediment = self.sediment(rows);
        let outcome = self.outcome(rows);
        let (throws, reported, shoreline) = self.throws(rows);
        let mut notes: Vec<String> = Vec::new();
        for text in rows.iter().filter_map(|row| row.comment.as_deref()) {
            if !notes.iter().any(|note| note == text) {
                notes.push(text.to_owned());
            }
        }
        for note in rows.iter().filter_map(|row| row.depth.as_ref()?.note.as_deref()) {
            let note = format!("depth: {note}");
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
        let note = notes.join("; ");
        let measured = depth.is_some()
            || sediment.is_some()
            || throws.iter().any(|throw| throw.total.is_some() || !throw.observations.is_empty());
        let Some(result) = self.result(rows, outcome, measured, throws, reported, &note) else {
            return;
        };
        let day = rows.iter().find_map(|row| row.date).or(self.known.day);
        let clock = rows.iter().find_map(|row| row.time);
        let time = day.map(|day| day.to_datetime(clock.unwrap_or_default()));
        let actual = self.actual(rows, &site);
        let observer = rows.iter().find_map(|row| row.crew.clone()).unwrap_or_default();
        if !observer.is_empty() {
            self.out.crew.insert(observer.clone());
        }
        self.out.shoreline.extend(shoreline.into_iter().map(|(taxon, note)| ShorelineFind {
            id: ShorelineFindId((self.known.new_id)()),
            survey: self.known.survey.id,
            taxon,
            position: actual.map(|fix: Fix| fix.position).or(site.planned),
            zone: site.zone.clone(),
            note,
        }));
        self.out.visits.push(Visit {
            id: self
                .known
                .visited
                .get(&site.id)
                .copied()
                .unwrap_or_else(|| VisitId::of_site(site.id)),
            survey: self.known.survey.id,
            site: site.id,
            actual,
            time,
            depth,
            sediment,
            result,
            observer,
            note,
        });
    }

    fn find_or_make_site(&mut self, code: &str, rows: &[&RecordRow]) -> Option<Site> {
        let same = |site: &&Site| site.code.as_str().eq_ignore_ascii_case(code);
        if let Some(site) = self.known.sites.iter().find(same) {
            return Some(site.clone());
        }
        let mut planned = None;
        for row in rows {
            match (self.known.position)(row) {
                Ok(place) => planned = planned.or(place),
                Err(fault) => {
                    self.faults.push(fault);
                    return None;
                }
            }
        }
        let site = Site {
            id: SiteId((self.known.new_id)()),
            survey: self.known.survey.id,
            code: Code::new(code).ok()?,
            planned,
            map_depth: None,
            zone: rows
                .iter()
                .find_map(|row| row.zone.as_deref())
                .and_then(|zone| Code::new(zone).ok()),
            sub_area: None,
            landmark: rows.iter().find_map(|row| row.landmark.clone()).unwrap_or_default(),
            rank: u32::try_from(self.known.sites.len() + self.out.new_sites.len())
                .unwrap_or(u32::MAX),
            inclusion_probability: None,
            spare: false,
            dropped: None,
        };
        self.out.new_sites.push(site.clone());
        Some(site)
    }

    /// Where the boat was, for a site whose plan has a place of its own.
    fn actual(&mut self, rows: &[&RecordRow], site: &Site) -> Option<Fix> {
        let is_new = self.out.new_sites.iter().any(|one| one.id == site.id);
        if is_new {
            return None;
        }
        for row in rows {
            match (self.known.position)(row) {
                Ok(Some(position)) => return Some(Fix { position, accuracy: None }),
                Ok(None) => {}
                Err(fault) => {
                    self.faults.push(fault);
                    return None;
                }
            }
        }
        None
    }

    fn depth(&mut self, rows: &[&RecordRow]) -> Option<Metres> {
        let mut depth: Option<(Metres, usize)> = None;
        for row in rows {
            let Some(cell) = &row.depth else { continue };
            let Some(value) = cell.value else { continue };
            let unit = cell.unit.unwrap_or_else(|| {
                self.bare_depths += 1;
                self.known.depth_unit
            });
            let metres = match Metres::depth(value * unit.metres()) {
                Ok(metres) => metres,
                Err(error) => {
                    let fault = self
                        .fault(row.row, "depth", "a depth of water, counted downwards from 0")
                        .found(&cell.raw)
                        .hint(error.to_string());
                    self.faults.push(fault);
                    continue;
                }
            };
            if let Some(deepest) = self.known.deepest
                && too_deep(metres, deepest)
            {
                let fault = self
                    .fault(
                        row.row,
                        "depth",
                        format!(
                            "at most the lake's {:.1} ft ({:.1} m)",
                            deepest.feet(),
                            deepest.metres()
                        ),
                    )
                    .found(format!("{} {}", cell.raw, unit.sign()))
                    .hint("check the unit (`--unit m` or `--unit ft`) and the decimal point");
                self.faults.push(fault);
                continue;
            }
            match depth {
                Some((earlier, at)) if (earlier.metres() - metres.metres()).abs() > 1e-9 => {
                    let fault = self
                        .fault(row.row, "depth", format!("the depth of row {at}, same site"))
                        .found(&cell.raw)
                        .hint("a site has one depth: correct one of the rows");
                    self.faults.push(fault);
                }
                Some(_) => {}
                None => depth = Some((metres, row.row)),
            }
        }
        depth.map(|(metres, _)| metres)
    }

    fn sediment(&mut self, rows: &[&RecordRow]) -> Option<Sediment> {
        let (row, text) =
            rows.iter().find_map(|row| row.sediment.as_deref().map(|text| (row.row, text)))?;
        let read = words::sediment(text);
        if read.is_none() {
            self.out
                .warnings
                .push(format!("row {row}: bottom `{text}` is not known and was left out"));
        }
        read
    }

    fn outcome(&mut self, rows: &[&RecordRow]) -> Option<OutcomeWord> {
        let (row, text) =
            rows.iter().find_map(|row| row.outcome.as_deref().map(|text| (row.row, text)))?;
        let read = words::outcome(text);
        if read.is_none() {
            let keys: Vec<&str> = survey::Outcome::ALL.iter().map(|one| one.key()).collect();
            let fault = self.fault(row, "outcome", keys.join(", ")).found(text);
            self.faults.push(fault);
        }
        read
    }

    fn rating(&mut self, row: usize, field: &str, text: &str) -> Option<Rating> {
        match self.known.scale.read(text) {
            Ok(rating) => Some(rating),
            Err(error) => {
                let fault = self
                    .fault(
                        row,
                        field,
                        format!("a rating of the scale `{}`: {}", self.known.scale.key, error.legal.join(", ")),
                    )
                    .found(text)
                    .hint("one survey has one scale: choose it with `--scale`, or take the file's own numbers as a scale with `--new-scale`");
                self.faults.push(fault);
                None
            }
        }
    }

    fn taxon(&mut self, row: usize, name: &str) -> Option<TaxonId> {
        match self.species.lookup(name) {
            Lookup::Listed(id) => Some(id),
            // a name the catalogue knows is no slip of the pen; the result names every addition
            Lookup::Unknown { .. } if self.known.new_taxa || SpeciesList::catalogued(name) => {
                Some(self.species.add(name, TaxonId((self.known.new_id)())))
            }
            Lookup::Unknown { suggestions } => {
                let entry =
                    self.unknown_names.entry(name.to_owned()).or_insert((Vec::new(), suggestions));
                entry.0.push(row);
                None
            }
        }
    }

    fn name_faults(&mut self) {
        for (name, (rows, suggestions)) in std::mem::take(&mut self.unknown_names) {
            let times =
                if rows.len() > 1 { format!(" ({} rows)", rows.len()) } else { String::new() };
            let field = if self.table.form == Form::Wide { "header" } else { "species" };
            let hint = if suggestions.is_empty() {
                "add it with `--new-taxa`, or to the list with `add BOOK species FILE`".to_owned()
            } else {
                format!(
                    "did you mean {}? otherwise `--new-taxa` takes it as a new species",
                    suggestions.join(", or ")
                )
            };
            let fault = self
                .fault(rows[0], field, format!("a species of the lake's list{times}"))
                .found(&name)
                .hint(hint);
            self.faults.push(fault);
        }
    }

    /// Throws of all rows, published counts, and finds on the shore with their remark.
    fn throws(
        &mut self,
        rows: &[&RecordRow],
    ) -> (Vec<Throw>, Option<ReportedCounts>, Vec<(TaxonId, String)>) {
        let mut throws: BTreeMap<u8, Throw> = BTreeMap::new();
        let mut reported = None;
        let mut shoreline = Vec::new();
        for row in rows {
            let number = u8::try_from(row.throw.unwrap_or(1)).ok().filter(|number| *number > 0);
            let Some(number) = number else {
                let fault = self.fault(row.row, "throw", "a throw number such as 1, 2 or 3");
                self.faults.push(fault.found(row.throw.unwrap_or(0).to_string()));
                continue;
            };
            let total =
                row.total_rating.as_deref().and_then(|text| self.rating(row.row, "total", text));
            let finds = self.finds(row);
            for (taxon, rating, seen) in finds {
                if seen == HowSeen::Shoreline {
                    shoreline.push((taxon, row.comment.clone().unwrap_or_default()));
                    continue;
                }
                let throw = throws.entry(number).or_insert_with(|| Throw {
                    number,
                    total: None,
                    observations: Vec::new(),
                });
                if throw.observations.iter().any(|one| one.taxon == taxon && one.seen == seen) {
                    let name = row.taxon.clone().unwrap_or_default();
                    let fault = self
                        .fault(row.row, "species", "each species once a throw")
                        .found(name)
                        .hint("two rows of one site name the same species: join them, or number the throws");
                    self.faults.push(fault);
                    continue;
                }
                throw.observations.push(Observation { taxon, rating, seen });
            }
            let entry = throws.entry(number).or_insert_with(|| Throw {
                number,
                total: None,
                observations: Vec::new(),
            });
            entry.total = entry.total.max(total);
            if let Some(species) = row.species_total {
                let counts = ReportedCounts {
                    species: u16::try_from(species).unwrap_or(u16::MAX),
                    native: row
                        .species_native
                        .map(|native| u16::try_from(native).unwrap_or(u16::MAX)),
                };
                reported = Some(counts);
            }
        }
        (throws.into_values().collect(), reported, shoreline)
    }

    /// What one row names.
    fn finds(&mut self, row: &RecordRow) -> Vec<(TaxonId, Option<Rating>, HowSeen)> {
        use exchange::CellReading;
        let mut finds = Vec::new();
        if let Some(name) = row.taxon.as_deref().map(str::trim).filter(|name| !name.is_empty()) {
            let nothing =
                ["none", "no plants", "nothing", "bare", "0", "-", "na", "n/a", "nan", "null"];
            if nothing.contains(&name.to_lowercase().as_str()) {
                return finds;
            }
            let seen = row.how_seen.as_deref().unwrap_or_default();
            let Some(mut seen_as) = words::how_seen(seen) else {
                let fault =
                    self.fault(row.row, "how_seen", "rake, visual or shoreline").found(seen);
                self.faults.push(fault);
                return finds;
            };
            let mut rating = None;
            if let Some(text) = row.rating.as_deref() {
                match CellReading::of(text) {
                    CellReading::Visual => seen_as = HowSeen::Visual,
                    CellReading::NotLookedFor | CellReading::NotReached => return finds,
                    CellReading::NotFound | CellReading::Zero => {
                        let Some(zero) = self.known.scale.zero() else { return finds };
                        rating = Some(zero);
                    }
                    CellReading::Rating(code) => {
                        rating = self.rating(row.row, "rating", &code);
                        if rating.is_none() {
                            return finds;
                        }
                    }
                }
            }
            if let Some(taxon) = self.taxon(row.row, name) {
                finds.push((taxon, rating, seen_as));
            }
        }
        for cell in &row.taxa {
            let (rating, seen) = match &cell.reading {
                CellReading::NotLookedFor | CellReading::NotReached => continue,
                CellReading::Visual => (None, HowSeen::Visual),
                CellReading::Zero | CellReading::NotFound => match self.known.scale.zero() {
                    Some(zero) => (Some(zero), HowSeen::Rake),
                    None => continue,
                },
                CellReading::Rating(code) => match self.rating(row.row, &cell.name, code) {
                    Some(rating) => (Some(rating), HowSeen::Rake),
                    None => continue,
                },
            };
            if let Some(taxon) = self.taxon(row.row, &cell.name) {
                finds.push((taxon, rating, seen));
            }
        }
        finds
    }

    /// Sampled or not. A depth, a bottom, a rating or a name makes a site sampled; a published count
    /// alone does not, because publishers print zeros for sites nobody reached.
    fn result(
        &mut self,
        rows: &[&RecordRow],
        outcome: Option<OutcomeWord>,
        measured: bool,
        throws: Vec<Throw>,
        reported: Option<ReportedCounts>,
        note: &str,
    ) -> Option<SiteResult> {
        let row = rows[0].row;
        let named = |scale: &RatingScale| {
            throws.iter().flat_map(|throw| &throw.observations).any(|one| {
                one.seen == HowSeen::Rake
                    && one.rating.is_none_or(|rating| Some(rating) != scale.zero())
            })
        };
        let reason = match outcome {
            Some(OutcomeWord::Not(reason)) if named(self.known.scale) => {
                let fault = self
                    .fault(row, "outcome", "a sampled site, since species on the rake are named")
                    .found(reason.key())
                    .hint("correct the outcome, or take the species out");
                self.faults.push(fault);
                return None;
            }
            Some(OutcomeWord::SampledBare) if named(self.known.scale) => {
                let fault = self
                    .fault(row, "outcome", "`sampled-with-plants`, since species are named")
                    .found("sampled-without-plants")
                    .hint("correct the outcome, or take the species out");
                self.faults.push(fault);
                return None;
            }
            Some(OutcomeWord::Not(reason)) => Some(reason),
            Some(OutcomeWord::Sampled | OutcomeWord::SampledBare) => None,
            None if measured => None,
            None => Some(words::reason_in_remark(note).unwrap_or(NotSampled::NoInformation)),
        };
        if let Some(reason) = reason {
            if reported.is_some_and(|counts| counts.species > 0) {
                let code = rows[0].site.as_deref().unwrap_or_default();
                self.out.warnings.push(format!(
                    "row {row}: site `{code}` has a count of species and nothing else; it was not taken as sampled"
                ));
            }
            return Some(SiteResult::NotSampled(reason));
        }
        self.out.observations += throws.iter().map(|throw| throw.observations.len()).sum::<usize>();
        match Sampling::new(throws, reported) {
            Ok(sampling) => Some(SiteResult::Sampled(sampling)),
            Err(error) => {
                let fault = self.fault(row, "record", "a record that agrees with itself");
                self.faults.push(fault.hint(error.to_string()));
                None
            }
        }
    }
}
