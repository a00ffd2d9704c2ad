//! Plant cards and voucher labels from the book.

use super::marks::marks_of;
use super::sheets::{long_date, short_id};
use super::words::times_found;
use crate::error::Result;
use crate::ground::Ground;
use lakebook::LakeBook;
use report::cards::{PlantCard, PlantCards, VoucherLabel, VoucherLabels};
use std::cmp::Reverse;
use survey::{Origin, PhotoRef, Rank, SurveyRecord, Taxon};

/// Where the lake's own words for a plant's card are kept.
fn place(taxon: &Taxon) -> String {
    format!("card:{}", taxon.id)
}

/// The user's newest photo of a taxon, and what it says below: its caption, else the day it was taken.
fn photo_of(
    book: &LakeBook,
    photos: &[PhotoRef],
    taxon: &Taxon,
) -> Result<Option<(Vec<u8>, String)>> {
    let mut linked: Vec<&PhotoRef> =
        photos.iter().filter(|photo| photo.taxon == Some(taxon.id)).collect();
    linked.sort_by_key(|photo| Reverse((photo.taken, photo.id)));
    for photo in linked {
        // a photo may be named in the book without its picture
        let Some(bytes) = book.picture(&photo.sha256)? else { continue };
        let day = || photo.taken.map(|taken| long_date(&taken.date().to_string()));
        let words = match photo.caption.trim() {
            "" => day().unwrap_or_default(),
            caption => caption.to_owned(),
        };
        return Ok(Some((bytes, words)));
    }
    Ok(None)
}

pub(super) fn plant_cards(book: &LakeBook, ground: &Ground) -> Result<PlantCards> {
    let found = times_found(book)?;
    let photos = book.photos()?;
    let mut taxa = book.taxa()?;
    taxa.retain(|taxon| taxon.rank != Rank::Unidentified);
    let alert = |taxon: &Taxon| taxon.origin == Origin::Introduced || taxon.listed_noxious;
    // the introduced first, then the commonest
    taxa.sort_by_key(|taxon| (!alert(taxon), Reverse(found.get(&taxon.id).copied().unwrap_or(0))));
    let mut cards = Vec::new();
    for taxon in &taxa {
        let marks = marks_of(&taxon.scientific_name);
        let own = book.paper_text(&place(taxon))?;
        let lines = |all: &[&str]| all.iter().map(|line| (*line).to_owned()).collect();
        let (photo, photo_words) = match photo_of(book, &photos, taxon)? {
            Some((bytes, words)) => (Some(bytes), words),
            None => (None, String::new()),
        };
        let source = match (&own, marks) {
            (Some(_), _) => "The lake's own words.",
            (None, Some(_)) => "Marks from memory: a flora has the last word.",
            (None, None) => "Write the marks in, from a flora.",
        };
        cards.push(PlantCard {
            code: taxon.code.to_string(),
            name: taxon.spoken_name().to_owned(),
            scientific: taxon.scientific_name.clone(),
            origin: if taxon.listed_noxious {
                "listed noxious".to_owned()
            } else {
                taxon.origin.words().to_owned()
            },
            alert: alert(taxon),
            growth: taxon.growth_form.words().to_owned(),
            marks: match &own {
                Some(text) => text.lines().map(str::to_owned).collect(),
                None => marks.map(|one| lines(one.known_by)).unwrap_or_default(),
            },
            lookalikes: match &own {
                Some(_) => Vec::new(),
                None => marks.map(|one| lines(one.lookalikes)).unwrap_or_default(),
            },
            source: source.to_owned(),
            photo,
            photo_words,
        });
    }
    Ok(PlantCards { lake: ground.lake.name.clone(), cards })
}

/// Labels on one page.
const A_PAGE: usize = 10;

pub(super) fn voucher_labels(ground: &Ground, record: &SurveyRecord) -> VoucherLabels {
    let lake = &ground.lake;
    let taxon = |id| record.taxa.iter().find(|taxon| taxon.id == id);
    let mut labels: Vec<VoucherLabel> = record
        .vouchers
        .iter()
        .map(|voucher| {
            let site = voucher.site.and_then(|id| record.sites.iter().find(|site| site.id == id));
            let visit =
                site.and_then(|site| record.visits.iter().find(|visit| visit.site == site.id));
            let depth = visit.and_then(|visit| visit.depth).map(|depth| lake.units.depth(depth));
            let bottom = visit.and_then(|visit| visit.sediment).map(|one| one.words().to_owned());
            VoucherLabel {
                number: voucher.number.clone(),
                taxon: taxon(voucher.taxon)
                    .map(|taxon| taxon.scientific_name.clone())
                    .unwrap_or_default(),
                site: site.map(|site| site.code.to_string()).unwrap_or_default(),
                date: voucher.date.map(|date| long_date(&date.to_string())).unwrap_or_default(),
                depth: [depth, bottom].into_iter().flatten().collect::<Vec<_>>().join(", "),
                collector: voucher.collector.clone(),
                named_by: voucher.confirmed_by.clone(),
                kept_at: voucher.kept_at.clone(),
            }
        })
        .collect();
    // the page is filled up with blank ones, at least a row of them, their numbers running on
    let stem = short_id(&lake.name, &record.survey.name).replace(' ', "");
    let taken = |number: &str| record.vouchers.iter().any(|one| one.number == number);
    let wanted = (labels.len() + 2).div_ceil(A_PAGE) * A_PAGE;
    let mut next = 1;
    while labels.len() < wanted {
        let number = format!("{stem}-V{next:02}");
        next += 1;
        if !taken(&number) {
            labels.push(VoucherLabel { number, ..VoucherLabel::default() });
        }
    }
    let place: Vec<&str> = [lake.name.as_str(), lake.county.as_str(), lake.region.as_str()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    VoucherLabels { lake: place.join(", "), survey: record.survey.name.clone(), labels }
}
