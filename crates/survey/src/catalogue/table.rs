//! Reads the tables that are built in. They hold no comma inside a field and no quotes; the test
//! `every_row_of_the_tables_is_read` holds their shape.

use super::names::folded;
use super::{CONSERVATISM_TABLES, CValue, Catalogue, CatalogueTaxon, OriginFact};
use crate::{GrowthForm, Origin, Rank};
use std::collections::BTreeMap;

pub(super) const TAXA: &str = include_str!("../../data/taxa.csv");
pub(super) const ORIGIN: &str = include_str!("../../data/origin.csv");
pub(super) const CONSERVATISM: &str = include_str!("../../data/conservatism.csv");

/// Rows of a table after its header, as long as they have `N` fields.
pub(super) fn rows<const N: usize>(text: &'static str) -> impl Iterator<Item = [&'static str; N]> {
    text.lines().skip(1).filter_map(|line| {
        let fields: Vec<&'static str> = line.split(',').collect();
        <[&'static str; N]>::try_from(fields).ok()
    })
}

fn list(field: &'static str) -> Vec<&'static str> {
    field.split(';').filter(|one| !one.is_empty()).collect()
}

pub(super) fn read() -> Catalogue {
    let taxa: Vec<CatalogueTaxon> = rows(TAXA)
        .map(|[scientific, common, others, family, form, second, rank, old, note, provenance]| {
            CatalogueTaxon {
                scientific_name: scientific,
                common_name: common,
                other_names: list(others),
                family,
                growth_form: form.parse().unwrap_or(GrowthForm::Unknown),
                second_form: second.parse().ok(),
                rank: rank.parse().unwrap_or(Rank::Unidentified),
                old_names: list(old),
                note,
                provenance,
            }
        })
        .collect();
    let places: BTreeMap<&'static str, usize> =
        taxa.iter().enumerate().map(|(place, taxon)| (taxon.scientific_name, place)).collect();
    let mut by_name: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (place, taxon) in taxa.iter().enumerate() {
        for name in taxon.names() {
            let bearers = by_name.entry(folded(name)).or_default();
            if !bearers.contains(&place) {
                bearers.push(place);
            }
        }
    }
    let origins = rows(ORIGIN)
        .filter_map(|[taxon, region, origin, listed, source]| {
            let origin = origin.parse().unwrap_or(Origin::Unknown);
            let fact = OriginFact { origin, listed, region, source };
            Some(((*places.get(taxon)?, region), fact))
        })
        .collect();
    let conservatism = rows(CONSERVATISM)
        .filter_map(|[taxon, region, value, table, _version, listed_as]| {
            let number = CONSERVATISM_TABLES.iter().position(|one| one.key == table)?;
            let value = value.parse().ok()?;
            let one = CValue { value, table: &CONSERVATISM_TABLES[number], region, listed_as };
            Some(((*places.get(taxon)?, number, region), one))
        })
        .collect();
    Catalogue { taxa, by_name, origins, conservatism }
}
