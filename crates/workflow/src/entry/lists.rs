//! Beds, shoreline finds and the lake's list of plants.

use super::body::{field_fault, place, rating, rating_code};
use super::{Codes, open_survey, taxon_view};
use crate::error::{Error, Result};
use crate::species::{SpeciesList, plain};
use crate::views::{
    BedBody, BedEntry, EntryTaxonView, SaveBed, SaveDeletion, SaveShoreline, SaveTaxon,
    ShorelineBody, ShorelineEntry, SpeciesMatchView,
};
use lakebook::LakeBook;
use survey::catalogue::Catalogue;
use survey::{
    BedId, Code, Rank, ShorelineFind, ShorelineFindId, SurfaceBed, SurveyRecord, Taxon, TaxonId,
};

pub(super) fn bed_entry(bed: &SurfaceBed, record: &SurveyRecord, codes: &Codes<'_>) -> BedEntry {
    let site = bed.site.and_then(|id| record.sites.iter().find(|site| site.id == id));
    BedEntry {
        id: bed.id.to_string(),
        drawn: bed.area.is_some(),
        bed: BedBody {
            taxa: bed.taxa.iter().map(|taxon| codes.code(*taxon)).collect(),
            rating: rating_code(&record.scale, bed.rating),
            site: site.map(|site| site.code.to_string()),
            note: bed.note.clone(),
        },
    }
}

pub(super) fn shoreline_entry(find: &ShorelineFind, codes: &Codes<'_>) -> ShorelineEntry {
    ShorelineEntry {
        id: find.id.to_string(),
        find: ShorelineBody {
            taxon: codes.code(find.taxon),
            lon: find.position.map(units::LonLat::longitude),
            lat: find.position.map(units::LonLat::latitude),
            zone: find.zone.as_ref().map(ToString::to_string),
            note: find.note.clone(),
        },
    }
}

fn id_of<T: From<survey::Id>>(text: &str) -> Result<T> {
    text.trim().parse::<survey::Id>().map(T::from).map_err(|error| field_fault("id", error))
}

/// Keeps a surface bed; a drawn edge stays as it is.
///
/// # Errors
/// When the survey is sealed, or a field holds what it cannot hold.
pub fn save_bed(book: &mut LakeBook, survey: &str, save: &SaveBed) -> Result<BedEntry> {
    let (survey, scale) = open_survey(book, survey)?;
    let taxa = book.taxa()?;
    let codes = Codes::of(&taxa);
    if save.bed.taxa.is_empty() && save.bed.note.trim().is_empty() {
        return Err(field_fault("taxa", "a bed needs a plant, or a remark that says what it is"));
    }
    let site = save
        .bed
        .site
        .as_deref()
        .filter(|code| !code.trim().is_empty())
        .map(|code| book.site_by_code(survey.id, code))
        .transpose()?;
    let before = match save.id.as_deref() {
        Some(id) => {
            let before = book.bed(id_of(id)?)?.filter(|bed| bed.survey == survey.id);
            Some(before.ok_or_else(|| {
                Error::not_found(format!("survey `{}` has no such surface bed", survey.name))
            })?)
        }
        None => None,
    };
    let bed = SurfaceBed {
        id: before.as_ref().map_or_else(|| BedId(book.new_id()), |bed| bed.id),
        survey: survey.id,
        taxa: save.bed.taxa.iter().map(|code| codes.read(code)).collect::<Result<_>>()?,
        rating: rating(&scale, "rating", save.bed.rating.as_deref())?,
        area: before.and_then(|bed| bed.area),
        site: site.map(|site| site.id),
        note: save.bed.note.trim().to_owned(),
    };
    book.transact(&format!("surface bed of {}", survey.name), |writer| writer.put_bed(&bed))?;
    Ok(bed_entry(&bed, &book.record(survey.id)?, &codes))
}

/// Deletes a surface bed.
///
/// # Errors
/// When the survey is sealed or has no such bed.
pub fn delete_bed(book: &mut LakeBook, survey: &str, id: &str, _: &SaveDeletion) -> Result<()> {
    let (survey, _) = open_survey(book, survey)?;
    let bed: BedId = id_of(id)?;
    if book.bed(bed)?.is_none_or(|bed| bed.survey != survey.id) {
        return Err(Error::not_found(format!("survey `{}` has no such surface bed", survey.name)));
    }
    let note = format!("surface bed of {} deleted", survey.name);
    Ok(book.transact(&note, |writer| writer.delete_bed(bed))?)
}

/// Keeps a shoreline find.
///
/// # Errors
/// When the survey is sealed, or a field holds what it cannot hold.
pub fn save_shoreline(
    book: &mut LakeBook,
    survey: &str,
    save: &SaveShoreline,
) -> Result<ShorelineEntry> {
    let (survey, _) = open_survey(book, survey)?;
    let taxa = book.taxa()?;
    let codes = Codes::of(&taxa);
    let zone = save.find.zone.as_deref().map(str::trim).filter(|zone| !zone.is_empty());
    let id = match save.id.as_deref() {
        Some(id) => {
            let id = id_of(id)?;
            if book.shoreline_find(id)?.is_none_or(|find| find.survey != survey.id) {
                let name = &survey.name;
                return Err(Error::not_found(format!(
                    "survey `{name}` has no such shoreline find"
                )));
            }
            id
        }
        None => ShorelineFindId(book.new_id()),
    };
    let find = ShorelineFind {
        id,
        survey: survey.id,
        taxon: codes.read(&save.find.taxon)?,
        position: place(save.find.lon, save.find.lat)?,
        zone: zone
            .map(|zone| Code::new(zone).map_err(|error| field_fault("zone", error)))
            .transpose()?,
        note: save.find.note.trim().to_owned(),
    };
    let note = format!("shoreline find of {} in {}", codes.code(find.taxon), survey.name);
    book.transact(&note, |writer| writer.put_shoreline_find(&find))?;
    Ok(shoreline_entry(&find, &codes))
}

/// Deletes a shoreline find.
///
/// # Errors
/// When the survey is sealed or has no such find.
pub fn delete_shoreline(
    book: &mut LakeBook,
    survey: &str,
    id: &str,
    _: &SaveDeletion,
) -> Result<()> {
    let (survey, _) = open_survey(book, survey)?;
    let find: ShorelineFindId = id_of(id)?;
    if book.shoreline_find(find)?.is_none_or(|find| find.survey != survey.id) {
        let name = &survey.name;
        return Err(Error::not_found(format!("survey `{name}` has no such shoreline find")));
    }
    let note = format!("shoreline find of {} deleted", survey.name);
    Ok(book.transact(&note, |writer| writer.delete_shoreline_find(find))?)
}

/// Puts a plant on the lake's list, or changes what is said of one that is there.
///
/// # Errors
/// When the name is empty, a word unknown, or the code taken.
pub fn add_taxon(book: &mut LakeBook, save: &SaveTaxon) -> Result<EntryTaxonView> {
    let name = save.name.trim();
    if name.is_empty() {
        return Err(field_fault("name", "a plant needs a name")
            .hint("for a plant nobody can name yet, add an unknown"));
    }
    let mut list = SpeciesList::new(&book.lake()?, book.taxa()?);
    let id = list.add(name, TaxonId(book.new_id()));
    let mut taxon = list
        .taxa()
        .iter()
        .find(|one| one.id == id)
        .cloned()
        .ok_or_else(|| Error::fault("the plant just added is not on the list"))?;
    describe(&mut taxon, save)?;
    let note = format!("{} {} on the lake's list", taxon.code, taxon.spoken_name());
    book.transact(&note, |writer| writer.put_taxon(&taxon))?;
    Ok(taxon_view(&taxon, 0, 0))
}

fn describe(taxon: &mut Taxon, save: &SaveTaxon) -> Result<()> {
    if let Some(common) = &save.common_name {
        common.trim().clone_into(&mut taxon.common_name);
    }
    if let Some(code) = save.code.as_deref().map(str::trim).filter(|code| !code.is_empty()) {
        let code = Code::new(code).map_err(|error| field_fault("code", error))?;
        if code != taxon.code {
            // sheets already printed carry the old one
            let old = std::mem::replace(&mut taxon.code, code);
            if !taxon.aliases.contains(&old) {
                taxon.aliases.push(old);
            }
        }
    }
    if let Some(form) = &save.growth_form {
        taxon.growth_form = form.parse().map_err(|error| field_fault("growth_form", error))?;
    }
    if let Some(origin) = &save.origin {
        taxon.origin = origin.parse().map_err(|error| field_fault("origin", error))?;
    }
    if let Some(rank) = &save.rank {
        taxon.rank = rank.parse().map_err(|error| field_fault("rank", error))?;
    }
    if let Some(listed) = save.listed_noxious {
        taxon.listed_noxious = listed;
    }
    Ok(())
}

/// Puts the next numbered unknown on the lake's list.
///
/// # Errors
/// When the book cannot be written.
pub fn add_unknown(book: &mut LakeBook) -> Result<EntryTaxonView> {
    let mut list = SpeciesList::new(&book.lake()?, book.taxa()?);
    let number = list
        .taxa()
        .iter()
        .filter_map(|taxon| unknown_number(&taxon.scientific_name))
        .max()
        .unwrap_or(0)
        + 1;
    let id = list.add(&format!("Unknown {number}"), TaxonId(book.new_id()));
    let mut taxon = list
        .taxa()
        .iter()
        .find(|one| one.id == id)
        .cloned()
        .ok_or_else(|| Error::fault("the unknown just added is not on the list"))?;
    taxon.rank = Rank::Unidentified;
    book.transact(&format!("unknown {number} on the lake's list"), |writer| {
        writer.put_taxon(&taxon)
    })?;
    Ok(taxon_view(&taxon, 0, 0))
}

/// `Unknown 3` → 3.
pub(crate) fn unknown_number(name: &str) -> Option<u32> {
    let (word, number) = name.trim().split_once(' ')?;
    word.eq_ignore_ascii_case("unknown").then(|| number.trim().parse().ok())?
}

/// Plants of the list and of the catalogue that fit what was typed: codes first, then beginnings
/// of names, then names with slips of the pen.
///
/// # Errors
/// When the book cannot be read.
pub fn species_matches(
    book: &LakeBook,
    typed: &str,
    limit: usize,
) -> Result<Vec<SpeciesMatchView>> {
    let wanted = plain(typed);
    if wanted.is_empty() {
        return Ok(Vec::new());
    }
    let taxa = book.taxa()?;
    let catalogue = Catalogue::builtin();
    let mut found: Vec<(u8, SpeciesMatchView)> = Vec::new();
    for taxon in &taxa {
        let codes = std::iter::once(&taxon.code).chain(&taxon.aliases);
        let code = codes.map(|code| (plain(code.as_str()), code.to_string())).filter_map(
            |(code, shown)| {
                (code == wanted)
                    .then_some((0, shown.clone()))
                    .or_else(|| code.starts_with(&wanted).then_some((1, shown)))
            },
        );
        let known = catalogue.find(&taxon.scientific_name);
        let mut names: Vec<&str> = vec![&taxon.scientific_name, &taxon.common_name];
        if let Some(known) = known {
            for name in known.names() {
                names.push(name);
            }
        }
        let best = code.chain(names.into_iter().filter_map(|name| fit(name, &wanted))).min();
        if let Some((rank, matched)) = best {
            found.push((
                rank,
                SpeciesMatchView {
                    code: Some(taxon.code.to_string()),
                    scientific_name: taxon.scientific_name.clone(),
                    common_name: taxon.common_name.clone(),
                    matched,
                    slips: 0,
                },
            ));
        }
    }
    let listed = |name: &str| taxa.iter().any(|taxon| plain(&taxon.scientific_name) == plain(name));
    for taxon in catalogue.taxa().iter().filter(|taxon| !listed(taxon.scientific_name)) {
        if let Some((rank, matched)) = taxon.names().filter_map(|name| fit(name, &wanted)).min() {
            found.push((rank + 3, of_catalogue(taxon, &matched, 0)));
        }
    }
    found.sort_by(|a, b| (a.0, &a.1.scientific_name).cmp(&(b.0, &b.1.scientific_name)));
    let mut found: Vec<SpeciesMatchView> = found.into_iter().map(|(_, one)| one).collect();
    if found.is_empty() {
        for suggestion in catalogue.suggest(typed, limit) {
            let taxon = suggestion.taxon;
            let own = taxa.iter().find(|one| one.scientific_name == taxon.scientific_name);
            let mut one = of_catalogue(taxon, suggestion.name, suggestion.slips);
            one.code = own.map(|own| own.code.to_string());
            found.push(one);
        }
    }
    found.truncate(limit);
    Ok(found)
}

/// 2 for a name that begins with what was typed, 3 for one with a word that does.
fn fit(name: &str, wanted: &str) -> Option<(u8, String)> {
    if name.is_empty() {
        return None;
    }
    if plain(name).starts_with(wanted) {
        return Some((2, name.to_owned()));
    }
    name.split([' ', '-', '\''])
        .any(|word| plain(word).starts_with(wanted))
        .then(|| (3, name.to_owned()))
}

fn of_catalogue(
    taxon: &survey::catalogue::CatalogueTaxon,
    matched: &str,
    slips: usize,
) -> SpeciesMatchView {
    SpeciesMatchView {
        code: None,
        scientific_name: taxon.scientific_name.to_owned(),
        common_name: taxon.common_name.to_owned(),
        matched: matched.to_owned(),
        slips,
    }
}
