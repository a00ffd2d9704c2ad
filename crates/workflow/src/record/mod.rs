//! A file of records into a survey.

mod columns;
mod numbered;
mod resolve;
mod sites;
mod understood;
mod words;

pub use sites::{add_site, begin_survey};

use crate::add::file_name;
use crate::alerts;
use crate::error::{Error, Result};
use crate::ground::{Ground, year_of};
use crate::place;
use crate::species::SpeciesList;
use crate::views::{RecordResultView, SkippedRowView, TaxonListView};
use exchange::{Fault, Faults, RecordRow, RecordTable};
use geo_types::{Coord, coord};
use jiff::civil::Date;
use lakebed::Crs;
use lakebook::LakeBook;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use survey::check::LakeMap;
use survey::scale::RatingScale;
use survey::{Conditions, CrewMember, CrewRole, Site, SiteId, Survey, SurveyId, TaxonId, VisitId};
use units::{LengthUnit, LonLat};

/// What the user says about a file of records.
#[derive(Debug, Clone, Default)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch a person sets")]
pub struct RecordRequest {
    /// Name of the survey; made when new.
    pub survey: String,
    /// What the columns mean, a TOML file.
    pub columns: Option<PathBuf>,
    /// Sheet of a workbook; the one that looks like a record when not said.
    pub sheet: Option<String>,
    /// Guess what the columns mean, though the book remembers a file of the same kind.
    pub guess_columns: bool,
    /// Write what the columns were taken for to this file, for next year.
    pub save_columns: Option<PathBuf>,
    /// Change a sealed survey: who signs, and why.
    pub amend: Option<(String, String)>,
    /// Store nothing.
    pub preview: bool,
    /// Key of the rating scale.
    pub scale: Option<String>,
    /// Why it is another scale than the surveys before were rated on.
    pub scale_reason: String,
    /// Make a scale of the numbers found.
    pub new_scale: bool,
    /// Take unseen names as new species.
    pub new_taxa: bool,
    /// Unit of depths when the column does not say.
    pub unit: Option<LengthUnit>,
    /// The day, when the file has none.
    pub date: Option<Date>,
    /// System of x and y columns.
    pub crs: Option<String>,
    /// Who was there.
    pub crew: Vec<CrewMember>,
}

/// A scale by key: built in, or one of the book's own.
///
/// # Errors
/// When nobody knows it; the error lists the known ones.
pub fn scale_of(book: &LakeBook, key: &str) -> Result<RatingScale> {
    let own = book.scales()?;
    let wanted = key.trim().to_lowercase();
    if let Some(scale) = own.iter().find(|scale| scale.key == wanted) {
        return Ok(scale.clone());
    }
    if let Some(scale) = RatingScale::by_key(&wanted) {
        return Ok(scale.clone());
    }
    let mut known: Vec<&str> =
        RatingScale::builtin().iter().map(|scale| scale.key.as_str()).collect();
    known.extend(own.iter().map(|scale| scale.key.as_str()));
    known.dedup();
    Err(Error::input(format!("there is no rating scale `{key}`"))
        .hint(format!("choose one of {}", known.join(", "))))
}

/// Reads a file and records it, or says all that is wrong with it and records nothing.
///
/// # Errors
/// All faults of the file at once.
pub fn record(
    book: &mut LakeBook,
    path: &Path,
    request: &RecordRequest,
) -> Result<RecordResultView> {
    let (view, faults) = look_or_store(book, path, request, false)?;
    faults.or(view).map_err(Error::from)
}

/// Looks at a file as [`record`] would read it, and stores nothing. What would be refused stands
/// among the rows left out, and is counted.
///
/// # Errors
/// When the file as a whole cannot be read.
pub fn look(book: &mut LakeBook, path: &Path, request: &RecordRequest) -> Result<RecordResultView> {
    let request = RecordRequest { preview: true, ..request.clone() };
    let (mut view, faults) = look_or_store(book, path, &request, true)?;
    view.faults = faults.0.len();
    for fault in &faults.0 {
        let found = fault.found.as_ref().map(|found| format!("found `{found}`, "));
        let field = fault.field.as_ref().map(|field| format!("field `{field}`: "));
        let reason = format!(
            "{}{}expected {}",
            field.unwrap_or_default(),
            found.unwrap_or_default(),
            fault.expected
        );
        view.skipped.push(SkippedRowView { row: fault.row.unwrap_or(0), reason });
    }
    if view.faults > 0 {
        let mut hints: Vec<&str> = faults.0.iter().filter_map(|one| one.hint.as_deref()).collect();
        hints.dedup();
        hints.truncate(3);
        view.warnings.insert(
            0,
            format!(
                "{} things must be put right before this file can be stored: {}",
                view.faults,
                hints.join("; ")
            ),
        );
    }
    Ok(view)
}

fn look_or_store(
    book: &mut LakeBook,
    path: &Path,
    request: &RecordRequest,
    lenient: bool,
) -> Result<(RecordResultView, Faults)> {
    let ground = Ground::of(book)?;
    let mut species = SpeciesList::new(&ground.lake, book.taxa()?);
    let (mut table, mut faults, remembered) = columns::read(book, path, request, &species)?;
    if !lenient {
        faults = faults.or(Faults::default())?;
    }
    let known_survey = book
        .surveys()?
        .into_iter()
        .find(|one| one.name.eq_ignore_ascii_case(request.survey.trim()));
    refuse_seal(known_survey.as_ref(), request)?;
    let (scale, mut warnings) =
        scale_for(book, known_survey.as_ref(), &table, request, lenient.then_some(&mut faults))?;
    let mut survey = match &known_survey {
        Some(survey) => survey.clone(),
        None => Survey::new(SurveyId(book.new_id()), &request.survey, &scale.key)
            .map_err(|error| Error::input(error.to_string()))?,
    };
    rate_on(&mut survey, &scale, request);
    let (sites, visited) = planned_and_visited(book, known_survey.as_ref())?;
    if sites.is_empty() {
        numbered::number_sites(&mut table);
    }
    let crs = positions_system(&table, &ground, request)?;
    #[expect(clippy::result_large_err, reason = "a fault is told once and ends the reading")]
    let position = |row: &RecordRow| position(row, &table.file, crs.as_ref());
    let new_id = || book.new_id();
    let known = resolve::Known {
        survey: &survey,
        scale: &scale,
        sites: &sites,
        visited: &visited,
        replaces: request.amend.is_some(),
        deepest: ground.deepest(),
        depth_unit: request.unit.unwrap_or_else(|| ground.lake.units.length_unit()),
        unit_said: request.unit.is_some(),
        new_taxa: request.new_taxa,
        day: request.date,
        position: &position,
        new_id: &new_id,
    };
    let (mut resolved, more) = resolve::resolve(&table, &known, &mut species);
    if !lenient && !more.0.is_empty() {
        return Err(more.into());
    }
    faults.0.extend(more.0);
    complete(&mut survey, &resolved, request)?;
    drop_position_into_zones(&ground, &survey, &mut resolved.new_sites);
    let scale_break = crate::scales::scale_break(book, &survey, &scale)?;
    warnings.extend(remembered.as_ref().map(columns::told));
    warnings.extend(table.warnings.iter().cloned());
    warnings.append(&mut resolved.warnings);
    let found = found(&resolved, &scale);
    let view = RecordResultView {
        survey: survey.name.clone(),
        preview: request.preview,
        scale: scale.key.clone(),
        scale_break,
        rows_read: table.rows_read,
        faults: 0,
        visits: resolved.visits.len(),
        observations: resolved.observations,
        new_sites: resolved.new_sites.len(),
        unplanned: resolved.unplanned(&sites),
        new_taxa: species.added().map(taxon_view).collect(),
        sheets: columns::sheets(&table),
        remembered,
        skipped: table
            .skipped
            .iter()
            .map(|one| SkippedRowView { row: one.row, reason: one.reason.clone() })
            .collect(),
        alerts: alerts::plant_alerts(book, survey.id, &found, species.taxa())?,
        understood: understood::understood(&resolved, &sites, &scale, species.taxa()),
        warnings,
    };
    if request.preview {
        return Ok((view, faults));
    }
    let kept = columns::to_keep(book, &table, path, &survey.name)?;
    let stored_scale = book.scales()?.iter().any(|one| one.key == scale.key);
    let store = |writer: &mut lakebook::Writer<'_>| {
        if !stored_scale {
            writer.put_scale(&scale)?;
        }
        species.added().try_for_each(|taxon| writer.put_taxon(taxon))?;
        writer.put_survey(&survey)?;
        kept.iter().try_for_each(|columns| writer.put_column_map(columns))?;
        resolved.new_sites.iter().try_for_each(|site| writer.put_site(site))?;
        resolved.visits.iter().try_for_each(|visit| writer.put_visit(visit))?;
        resolved.shoreline.iter().try_for_each(|find| writer.put_shoreline_find(find))
    };
    if let Some((by, why)) = &request.amend {
        book.amend(survey.id, by, why, store)?;
    } else {
        let (visits, name) = (view.visits, &survey.name);
        let note = format!("recorded {visits} visits of {name} from {}", file_name(path));
        book.transact(&note, store)?;
    }
    Ok((view, faults))
}

/// The sites of a survey, and which of them have a visit.
fn planned_and_visited(
    book: &LakeBook,
    survey: Option<&Survey>,
) -> Result<(Vec<Site>, BTreeMap<SiteId, VisitId>)> {
    let Some(survey) = survey else { return Ok((Vec::new(), BTreeMap::new())) };
    let record = book.record(survey.id)?;
    let visited = record.visits.iter().map(|visit| (visit.site, visit.id)).collect();
    Ok((record.sites, visited))
}

/// A sealed survey takes amendments only, and only a sealed one does.
fn refuse_seal(survey: Option<&Survey>, request: &RecordRequest) -> Result<()> {
    let sealed = survey.and_then(|survey| survey.seal.as_ref().map(|seal| (survey, seal)));
    match (sealed, &request.amend) {
        (Some((survey, seal)), None) => {
            Err(Error::input(format!("survey `{}` is sealed, by {}", survey.name, seal.by))
                .hint("change it with `quillwort amend`, saying who and why"))
        }
        (None, Some(_)) => Err(Error::input(format!(
            "there is no sealed survey `{}`",
            request.survey
        ))
        .hint(
            "an open survey is recorded with `quillwort record`; `quillwort surveys` lists them",
        )),
        _ => Ok(()),
    }
}

fn taxon_view(taxon: &survey::Taxon) -> TaxonListView {
    TaxonListView {
        code: taxon.code.to_string(),
        scientific_name: taxon.scientific_name.clone(),
        common_name: taxon.common_name.clone(),
        origin: taxon.origin.key().to_owned(),
        growth_form: taxon.growth_form.key().to_owned(),
    }
}

/// Every rating code written in the table.
fn codes(table: &RecordTable) -> BTreeSet<String> {
    use exchange::CellReading;
    let mut codes = BTreeSet::new();
    let mut note = |text: &str| {
        if let CellReading::Rating(code) = CellReading::of(text) {
            codes.insert(code);
        }
    };
    for row in &table.rows {
        row.rating.iter().chain(&row.total_rating).for_each(|text| note(text));
        row.taxa.iter().for_each(|cell| note(&cell.raw));
    }
    codes
}

/// Every plant a file found.
fn found(resolved: &resolve::Resolved, scale: &RatingScale) -> BTreeSet<TaxonId> {
    let mut found = alerts::found_at(&resolved.visits, scale);
    found.extend(resolved.shoreline.iter().map(|find| find.taxon));
    found
}

/// What a survey is rated on from now, and why, where that was said.
fn rate_on(survey: &mut Survey, scale: &RatingScale, request: &RecordRequest) {
    survey.scale.clone_from(&scale.key);
    if !request.scale_reason.trim().is_empty() {
        request.scale_reason.trim().clone_into(&mut survey.scale_reason);
    }
}

/// The scale a file is read on; where it is only looked at, one that cannot be told is a fault like
/// the others.
fn scale_for(
    book: &LakeBook,
    survey: Option<&Survey>,
    table: &RecordTable,
    request: &RecordRequest,
    faults: Option<&mut Faults>,
) -> Result<(RatingScale, Vec<String>)> {
    match (choose_scale(book, survey, table, request, &table.map.scale_steps), faults) {
        (Err(error), Some(faults)) if request.new_scale => {
            let scale = provisional_scale(&codes(table), request)?;
            faults.push(scale_fault(&table.file, &error));
            Ok((scale, Vec::new()))
        }
        (chosen, _) => chosen,
    }
}

/// A scale to look at a file on whose codes do not say which is more: numbers by their size, words
/// behind them. Nothing is stored on it.
fn provisional_scale(codes: &BTreeSet<String>, request: &RecordRequest) -> Result<RatingScale> {
    let mut order: Vec<String> = codes.iter().cloned().collect();
    let size = |code: &String| code.parse::<f64>().unwrap_or(f64::INFINITY);
    order.sort_by(|a, b| size(a).total_cmp(&size(b)).then_with(|| a.cmp(b)));
    new_scale(codes, &order, &request.survey, request.scale.as_deref())
}

fn scale_fault(file: &str, error: &Error) -> Fault {
    let fault = Fault::file(file, "ratings of one scale, the least first").found(&error.message);
    match &error.hint {
        Some(hint) => fault.hint(hint),
        None => fault,
    }
}

/// The scale said, the survey's own, or the one built-in scale that reads every code of the file.
fn choose_scale(
    book: &LakeBook,
    survey: Option<&Survey>,
    table: &RecordTable,
    request: &RecordRequest,
    order: &[String],
) -> Result<(RatingScale, Vec<String>)> {
    let codes = codes(table);
    if request.new_scale {
        let made = new_scale(&codes, order, &request.survey, request.scale.as_deref())?;
        return one_scale(book, survey, made, request.scale.is_some());
    }
    if let Some(key) = &request.scale {
        let scale = scale_of(book, key)?;
        if let Some(survey) = survey
            && survey.scale != scale.key
            && !book.record(survey.id)?.visits.is_empty()
        {
            return Err(Error::input(format!(
                "survey `{}` is rated on the scale `{}`, not `{}`",
                survey.name, survey.scale, scale.key
            ))
            .hint("a survey has one scale: change it with `quillwort scale`, saying why, or record the file into a survey of its own"));
        }
        return Ok((scale, Vec::new()));
    }
    if let Some(survey) = survey {
        return Ok((scale_of(book, &survey.scale)?, Vec::new()));
    }
    let usual = ["fullness", "handful", "dominance", "words", "presence"];
    let fits = |scale: &&RatingScale| codes.iter().all(|code| scale.step(code).is_some());
    let found = usual.iter().filter_map(|key| RatingScale::by_key(key)).find(fits);
    let Some(scale) = found else {
        let all: Vec<String> = codes.iter().take(12).map(|code| format!("`{code}`")).collect();
        return Err(Error::input(format!(
            "`{}`: no built-in scale has all of its ratings {}",
            table.file,
            all.join(", ")
        ))
        .hint("say the scale with `--scale`, or take the file's own codes as a scale with `--new-scale`"));
    };
    let warning = format!(
        "the ratings were read on the scale `{}`; if they are of another, say it with `--scale`",
        scale.key
    );
    let warnings = if codes.is_empty() { Vec::new() } else { vec![warning] };
    Ok((scale.clone(), warnings))
}

/// A scale just made, or the book's own that has the same steps: so that surveys of several years
/// are rated on one.
fn one_scale(
    book: &LakeBook,
    survey: Option<&Survey>,
    made: RatingScale,
    named: bool,
) -> Result<(RatingScale, Vec<String>)> {
    let own = book.scales()?;
    if let Some(survey) = survey
        && !book.record(survey.id)?.visits.is_empty()
        && let Some(has) = own.iter().find(|scale| scale.key == survey.scale)
    {
        let reads = made.steps.iter().all(|step| has.step(&step.code).is_some());
        return if reads {
            Ok((has.clone(), Vec::new()))
        } else {
            Err(Error::input(format!(
                "survey `{}` is rated on the scale `{}`, which has not all codes of the file",
                survey.name, survey.scale
            ))
            .hint("a survey has one scale: record the file into a survey of its own"))
        };
    }
    match own.into_iter().find(|scale| scale.same_steps(&made)) {
        Some(scale) if !named => {
            let warning = format!(
                "the ratings have the codes of the scale `{}` and were read on it; if they mean \
                 something else, name theirs with `--scale`",
                scale.key
            );
            Ok((scale, vec![warning]))
        }
        _ => Ok((made, Vec::new())),
    }
}

/// A scale from the codes a file uses: plain whole numbers are all numbers up to the largest, other
/// codes are ranked.
fn new_scale(
    codes: &BTreeSet<String>,
    order: &[String],
    survey: &str,
    key: Option<&str>,
) -> Result<RatingScale> {
    let numbers: Option<BTreeSet<u8>> = codes
        .iter()
        .map(|code| {
            let value: f64 = code.parse().ok()?;
            ((value - value.round()).abs() < 1e-9 && (0.0..=100.0).contains(&value))
                .then_some(value as u8)
        })
        .collect();
    let key = new_key(survey, key);
    let made = match numbers.filter(|_| order.is_empty()) {
        // nothing but zeros and blanks: a scale of two steps holds that
        Some(numbers) => {
            RatingScale::numbers(&key, 0, numbers.last().map_or(1, |most| *most.max(&1)))
        }
        None => RatingScale::of_codes(&key, codes.iter().map(String::as_str), order),
    };
    made.map_err(|errors| {
        scale_errors(&errors).hint(
            "choose a scale that has these codes with `--scale`, or write \
             `scale_steps = [\"LEAST\", …, \"MOST\"]` in a column map",
        )
    })
}

/// The key said, else one made from the survey's name.
fn new_key(survey: &str, key: Option<&str>) -> String {
    let plain: String = survey
        .chars()
        .map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' })
        .collect();
    key.map_or_else(|| format!("numbers-{plain}"), str::to_lowercase)
}

fn scale_errors(errors: &[survey::scale::ScaleError]) -> Error {
    Error::input(errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
}

/// Which system the file's positions are in, refusing positions outside the lake's surroundings.
fn positions_system(
    table: &RecordTable,
    ground: &Ground,
    request: &RecordRequest,
) -> Result<Option<Crs>> {
    let projected = table.rows.iter().any(|row| row.x.is_some() && row.y.is_some());
    let crs = match &request.crs {
        Some(words) => Some(place::crs_from_words(words)?),
        None if projected => None,
        None => Some(Crs::wgs84()),
    };
    let around = place::surroundings(ground.outline.as_ref(), &ground.lake.region);
    let degrees: Vec<Coord<f64>> = table
        .rows
        .iter()
        .filter_map(|row| Some(coord! {x: row.longitude?, y: row.latitude?}))
        .collect();
    place::refuse_strays(&table.file, &degrees, &Crs::wgs84(), around.as_ref())?;
    if let Some(crs) = crs.as_ref().filter(|_| projected) {
        let native: Vec<Coord<f64>> =
            table.rows.iter().filter_map(|row| Some(coord! {x: row.x?, y: row.y?})).collect();
        place::refuse_strays(&table.file, &native, crs, around.as_ref())?;
    }
    Ok(crs)
}

#[expect(clippy::result_large_err, reason = "a fault is told once and ends the reading")]
fn position(row: &RecordRow, file: &str, crs: Option<&Crs>) -> Result<Option<LonLat>, Fault> {
    if let (Some(longitude), Some(latitude)) = (row.longitude, row.latitude) {
        return LonLat::new(longitude, latitude).map(Some).map_err(|error| {
            Fault::file(file, "a place on Earth")
                .at(row.row)
                .field("longitude")
                .found(error.to_string())
        });
    }
    let (Some(x), Some(y)) = (row.x, row.y) else { return Ok(None) };
    let Some(crs) = crs else {
        return Err(Fault::file(file, "the reference system of the x and y columns")
            .at(row.row)
            .field("x")
            .found(x.to_string())
            .hint("say it with `--crs EPSG:n`"));
    };
    crs.native_to_lon_lat(coord! {x: x, y: y}).map(Some).map_err(|error| {
        Fault::file(file, "a place on Earth")
            .at(row.row)
            .field("x")
            .found(x.to_string())
            .hint(error.hint())
    })
}

fn drop_position_into_zones(ground: &Ground, survey: &Survey, sites: &mut [Site]) {
    let year = year_of(survey);
    for site in sites {
        let Some(place) = site.planned else { continue };
        if site.zone.is_none() {
            site.zone = ground.zone_at(place, year).map(|zone| zone.code.clone());
        }
        site.map_depth = ground.depth_at(place);
    }
}

/// Fills the survey's header from what the file and the user say; nothing written is overwritten.
fn complete(
    survey: &mut Survey,
    resolved: &resolve::Resolved,
    request: &RecordRequest,
) -> Result<()> {
    if let Some((first, last)) = resolved.dates {
        let start = survey.start.map_or(first, |start| start.min(first));
        let end = survey.end.map_or(last, |end| end.max(last));
        survey.set_dates(start, end).map_err(|error| Error::input(error.to_string()))?;
        if survey.conditions.is_empty() {
            let days: BTreeSet<Date> = resolved
                .visits
                .iter()
                .filter_map(|visit| visit.time.map(jiff::civil::DateTime::date))
                .collect();
            survey.conditions = days
                .into_iter()
                .map(|day| Conditions { date: Some(day), ..Conditions::default() })
                .collect();
        }
    }
    for member in &request.crew {
        if !survey.crew.iter().any(|known| known.name == member.name) {
            survey.crew.push(member.clone());
        }
    }
    for name in &resolved.crew {
        if !survey.crew.iter().any(|known| known.name == *name) {
            let member =
                CrewMember { name: name.clone(), role: CrewRole::Other, identified: false };
            survey.crew.push(member);
        }
    }
    let throws = resolved
        .visits
        .iter()
        .filter_map(|visit| match &visit.result {
            survey::SiteResult::Sampled(sampling) => Some(sampling.throws().len()),
            survey::SiteResult::NotSampled(_) => None,
        })
        .max();
    if let Some(throws) = throws.and_then(|throws| u8::try_from(throws).ok()) {
        survey.throws_per_site = survey.throws_per_site.max(throws);
    }
    Ok(())
}
