//! Tables that say where, but not at which site.

use exchange::{Meaning, RecordTable};
use std::collections::BTreeMap;

/// Numbers the positions of a table that has no column for the site, in the order of the file.
/// Rows at one position on one day and time are one site.
pub(super) fn number_sites(table: &mut RecordTable) {
    if table.columns.iter().any(|guess| guess.meaning == Meaning::Site) {
        return;
    }
    let mut numbers: BTreeMap<String, usize> = BTreeMap::new();
    for row in table.rows.iter_mut().filter(|row| row.site.is_none()) {
        let place = (row.longitude.zip(row.latitude)).or(row.x.zip(row.y));
        let Some((x, y)) = place else { continue };
        let key = format!("{x} {y} {:?} {:?}", row.date, row.time);
        let next = numbers.len() + 1;
        row.site = Some(numbers.entry(key).or_insert(next).to_string());
    }
    if !numbers.is_empty() {
        table.warnings.push(format!(
            "no column says the site: {} positions were numbered in the order of the file",
            numbers.len()
        ));
    }
}
