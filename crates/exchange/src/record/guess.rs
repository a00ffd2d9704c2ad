//! Which row is the header and what its columns mean.

use super::RecordOptions;
use super::header::Header;
use crate::cells::{DateOrder, DateReading, forced_order, read_date};
use crate::columns::{
    ColumnGuess, ColumnMap, ColumnRef, Form, Meaning, looks_like_code, looks_like_taxon,
    names_a_measure, normal_header, plant_name, same_header,
};
use crate::fault::{Fault, Faults};
use crate::text::{Row, Table};
use std::collections::{BTreeMap, BTreeSet};

/// The header is the row the map says, else the first, unless a legend stands above the table and
/// a later row is understood better.
pub(super) fn find_header(table: &Table, options: &RecordOptions<'_>) -> Result<usize, Faults> {
    const LOOK: usize = 40;
    if let Some(number) = options.map.header_row {
        return table.rows.iter().position(|row| row.number == number).ok_or_else(|| {
            Fault::file(&table.file, "a header").at(number).found("a blank row").into()
        });
    }
    let score = |row: &Row| header_score(row, &options.map);
    let first = score(&table.rows[0]);
    if first >= 2 {
        return Ok(0);
    }
    let best = table.rows.iter().take(LOOK).enumerate().rev().max_by_key(|(_, row)| score(row));
    Ok(best.filter(|(_, row)| score(row) > first.max(1)).map_or(0, |(index, _)| index))
}

/// How many different meanings the cells of a row have as headers.
pub(crate) fn header_score(row: &Row, map: &ColumnMap) -> usize {
    let mut meanings: Vec<Meaning> = row
        .cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| !cell.is_empty())
        .filter_map(|(index, cell)| {
            let said = map.columns.iter().find(|(_, column)| {
                matches!(column, ColumnRef::Header(_)) && column.is(index, cell)
            });
            said.map(|(meaning, _)| *meaning)
                .or_else(|| Meaning::of_header(&normal_header(cell).0).map(|(m, _)| m))
        })
        .collect();
    meanings.sort_unstable();
    meanings.dedup();
    meanings.len()
}

pub(super) struct Guesser<'a> {
    pub(super) table: &'a Table,
    pub(super) header: &'a Header,
    pub(super) rows: &'a [Row],
    pub(super) options: &'a RecordOptions<'a>,
}

impl Guesser<'_> {
    /// The form of the table and what each column means.
    pub(super) fn guess(
        &self,
        faults: &mut Faults,
        warnings: &mut Vec<String>,
    ) -> (Form, Vec<ColumnGuess>) {
        let map = &self.options.map;
        let mut columns: Vec<ColumnGuess> = self
            .header
            .row
            .cells
            .iter()
            .enumerate()
            .map(|(index, header)| ColumnGuess {
                index,
                header: header.clone(),
                meaning: Meaning::Unknown,
                taxon: None,
                unit: normal_header(header).1,
            })
            .collect();
        self.take_from_map(&mut columns, faults);
        Self::take_from_headers(&mut columns, warnings);
        let form = map.form.unwrap_or_else(|| self.form(&mut columns));
        self.settle_ratings(form, &mut columns);
        self.settle_sites(form, &mut columns, warnings);
        if form == Form::Long {
            self.find_rating(&mut columns, warnings);
        }
        if form == Form::Wide {
            self.take_taxa(&mut columns);
            self.take_those_among_taxa(&mut columns);
            self.take_pairs(&mut columns, faults);
        }
        for guess in &columns {
            if guess.meaning == Meaning::Unknown && self.has_cells(guess.index) {
                let header = if guess.header.is_empty() {
                    format!("number {} (no header)", guess.index + 1)
                } else {
                    format!("`{}`", guess.header)
                };
                warnings.push(format!("column {header} is not understood and not read"));
            }
        }
        self.check(form, &columns, faults);
        (form, columns)
    }

    fn has_cells(&self, index: usize) -> bool {
        self.rows.iter().any(|row| !row.cell(index).is_empty())
    }

    fn fault(&self, expected: impl Into<String>) -> Fault {
        Fault::file(&self.table.file, expected).at(self.header.row.number)
    }

    /// What the person said comes first; a column that is not there is a fault.
    fn take_from_map(&self, columns: &mut [ColumnGuess], faults: &mut Faults) {
        let map = &self.options.map;
        let headers = self.header.row.cells.join(", ");
        let mut missing = |wanted: String| {
            faults.push(
                self.fault(format!("a column `{wanted}`, as the column map says")).found(&headers),
            );
        };
        for header in &map.ignore {
            for guess in columns.iter_mut().filter(|guess| same_header(&guess.header, header)) {
                guess.meaning = Meaning::Ignored;
            }
        }
        if let Some(joined) = columns.last_mut().filter(|_| !map.site_of.is_empty()) {
            joined.meaning = Meaning::Site;
        }
        for (meaning, column) in &map.columns {
            match columns.iter_mut().find(|guess| column.is(guess.index, &guess.header)) {
                Some(guess) => guess.meaning = *meaning,
                None => missing(column.to_string()),
            }
        }
        for (header, taxon) in &map.taxa {
            match columns.iter_mut().find(|guess| same_header(&guess.header, header)) {
                Some(guess) => {
                    guess.meaning = Meaning::TaxonColumn;
                    guess.taxon = Some(taxon.clone());
                }
                None => missing(header.clone()),
            }
        }
        for header in map.only.keys() {
            if !columns.iter().any(|guess| same_header(&guess.header, header)) {
                missing(header.clone());
            }
        }
    }

    /// For each meaning the most telling header wins; comments may stand in several columns.
    fn take_from_headers(columns: &mut [ColumnGuess], warnings: &mut Vec<String>) {
        let is_open = |guess: &ColumnGuess| guess.meaning == Meaning::Unknown;
        let mut candidates: BTreeMap<Meaning, Vec<(usize, usize)>> = BTreeMap::new();
        for guess in columns.iter().filter(|guess| is_open(guess)) {
            if let Some((meaning, rank)) = Meaning::of_header(&normal_header(&guess.header).0) {
                candidates.entry(meaning).or_default().push((rank, guess.index));
            }
        }
        for (meaning, mut found) in candidates {
            if columns.iter().any(|guess| guess.meaning == meaning) {
                continue;
            }
            found.sort_unstable();
            let many = meaning == Meaning::Comment;
            for &(_, index) in found.iter().take(if many { found.len() } else { 1 }) {
                columns[index].meaning = meaning;
            }
            if found.len() > 1 && !many {
                let (read, left) = (found[0].1, found[1].1);
                warnings.push(format!(
                    "columns `{}` and `{}` both look like {}: the first is read",
                    columns[read].header,
                    columns[left].header,
                    meaning.key()
                ));
            }
        }
    }

    /// A column that names the plant makes a long table. A column `species` full of whole numbers
    /// is a count.
    fn form(&self, columns: &mut [ColumnGuess]) -> Form {
        let Some(guess) = columns.iter_mut().find(|guess| guess.meaning == Meaning::Taxon) else {
            return Form::Wide;
        };
        let mut cells = self.rows.iter().map(|row| row.cell(guess.index)).filter(|c| !c.is_empty());
        let said = self.options.map.columns.contains_key(&Meaning::Taxon);
        let counts =
            cells.clone().next().is_some() && cells.all(|cell| cell.parse::<u32>().is_ok());
        if counts && !said {
            guess.meaning = Meaning::SpeciesTotal;
            Form::Wide
        } else {
            Form::Long
        }
    }

    /// A rating in a wide table is of everything; in a long table, with no other, of the plant.
    fn settle_ratings(&self, form: Form, columns: &mut [ColumnGuess]) {
        let said = &self.options.map.columns;
        let has = |columns: &[ColumnGuess], meaning| columns.iter().any(|g| g.meaning == meaning);
        let (from, to) = match form {
            Form::Wide => (Meaning::Rating, Meaning::TotalRating),
            Form::Long => (Meaning::TotalRating, Meaning::Rating),
        };
        let total = |guess: &ColumnGuess| {
            let words = normal_header(&guess.header).0;
            words.contains("total") || words.contains("overall")
        };
        if has(columns, to) || said.contains_key(&from) {
            return;
        }
        if let Some(guess) = columns.iter_mut().find(|guess| guess.meaning == from)
            && (form == Form::Wide || !total(guess))
        {
            guess.meaning = to;
        }
    }

    /// A long table whose header for the rating is not one of those known: the column that a word in
    /// it and short cells give away.
    fn find_rating(&self, columns: &mut [ColumnGuess], warnings: &mut Vec<String>) {
        const WORDS: [&str; 13] = [
            "ordinal",
            "rating",
            "density",
            "abundance",
            "score",
            "dominance",
            "cover",
            "fullness",
            "incidence",
            "presence",
            "present",
            "detected",
            "count",
        ];
        if columns.iter().any(|guess| guess.meaning == Meaning::Rating) {
            return;
        }
        let rank = |guess: &ColumnGuess| {
            let normal = normal_header(&guess.header).0;
            let words: Vec<&str> = normal.split(' ').collect();
            let telling = WORDS.iter().position(|word| words.contains(word))?;
            let of_all = !["species", "taxon", "plant"].iter().any(|word| words.contains(word));
            let fits = guess.meaning == Meaning::Unknown && self.mostly_like_ratings(guess.index);
            fits.then_some((telling, of_all, guess.index))
        };
        let Some((_, _, index)) = columns.iter().filter_map(rank).min() else { return };
        columns[index].meaning = Meaning::Rating;
        warnings.push(format!("`{}` is read as the rating of the plant", columns[index].header));
    }

    /// Of two headers that both look like the site, the one whose codes tell the rows apart is; the
    /// other, which comes back on many rows, is the part of the lake they lie in.
    fn settle_sites(&self, form: Form, columns: &mut [ColumnGuess], warnings: &mut Vec<String>) {
        let Some(read) = columns.iter().position(|guess| guess.meaning == Meaning::Site) else {
            return;
        };
        if self.options.map.columns.contains_key(&Meaning::Site)
            || !self.repeats(read, form, columns)
        {
            return;
        }
        let looks = |guess: &ColumnGuess| {
            let normal = normal_header(&guess.header).0;
            guess.meaning == Meaning::Unknown
                && matches!(Meaning::of_header(&normal), Some((Meaning::Site, _)))
        };
        let better = (0..columns.len())
            .find(|&index| looks(&columns[index]) && !self.repeats(index, form, columns));
        let Some(better) = better else { return };
        columns[better].meaning = Meaning::Site;
        let zoned = columns.iter().any(|guess| guess.meaning == Meaning::Zone);
        columns[read].meaning = if zoned { Meaning::Unknown } else { Meaning::Zone };
        let (site, zone) = (&columns[better].header, &columns[read].header);
        warnings.retain(|line| !(line.contains("both look like site")));
        warnings.push(format!(
            "`{site}` is read as the site, because `{zone}` is the same on many rows{}",
            if zoned { "" } else { "; that is read as the zone" }
        ));
    }

    /// Whether a row comes twice when this column says the site.
    fn repeats(&self, site: usize, form: Form, columns: &[ColumnGuess]) -> bool {
        let of = |meaning| columns.iter().find(|guess| guess.meaning == meaning).map(|g| g.index);
        let mut keys = vec![Some(site), of(Meaning::Date), of(Meaning::Time), of(Meaning::Throw)];
        if form == Form::Long {
            keys.push(of(Meaning::Taxon));
        }
        let mut seen = BTreeSet::new();
        self.rows.iter().filter(|row| !row.cell(site).is_empty()).any(|row| {
            let key: Vec<&str> = keys.iter().flatten().map(|index| row.cell(*index)).collect();
            !seen.insert(key)
        })
    }

    fn take_taxa(&self, columns: &mut [ColumnGuess]) {
        for guess in columns.iter_mut().filter(|guess| guess.meaning == Meaning::Unknown) {
            let header = guess.header.as_str();
            if header.is_empty() {
                continue;
            }
            let known = self.options.is_taxon.is_some_and(|is_taxon| is_taxon(header));
            let code = looks_like_code(header)
                && !names_a_measure(header)
                && self.cells_like_ratings(guess.index);
            let new = self.options.new_taxa && self.may_be_counts(header, guess.index);
            if known || looks_like_taxon(header) || code || new {
                guess.meaning = Meaning::TaxonColumn;
                guess.taxon = Some(plant_name(header));
            }
        }
    }

    /// A header nobody knows between two plants, over cells like theirs, names a plant too: to leave
    /// it out unasked would lose finds. Whether the lake's list knows it is settled later.
    fn take_those_among_taxa(&self, columns: &mut [ColumnGuess]) {
        let plants: Vec<usize> = columns
            .iter()
            .filter(|guess| guess.meaning == Meaning::TaxonColumn)
            .map(|guess| guess.index)
            .collect();
        let (Some(first), Some(last)) = (plants.first(), plants.last()) else { return };
        let ratings: BTreeSet<&str> = self
            .rows
            .iter()
            .flat_map(|row| plants.iter().map(|index| row.cell(*index)))
            .filter(|cell| !cell.is_empty())
            .collect();
        let bare = |index: usize| self.header.row.cell(index).is_empty();
        let in_pairs = plants.iter().filter(|index| bare(**index + 1)).count() * 2 > plants.len();
        for guess in &mut columns[*first..*last] {
            let index = guess.index;
            let mut cells =
                self.rows.iter().map(|row| row.cell(index)).filter(|cell| !cell.is_empty());
            let alike = cells.clone().all(|cell| ratings.contains(cell))
                || in_pairs && bare(index + 1) && self.mostly_like_ratings(index);
            let named = !guess.header.is_empty() && !names_a_measure(&guess.header);
            // a plant nobody found has its columns all the same
            let blank = in_pairs && bare(index + 1) && !self.has_cells(index);
            let holds = blank || cells.next().is_some() && alike;
            if guess.meaning == Meaning::Unknown && named && holds {
                guess.meaning = Meaning::TaxonColumn;
                guess.taxon = Some(plant_name(&guess.header));
            }
        }
    }

    /// The second column under a plant's name: as the map says, where the name reaches over it,
    /// or where it stands without a header right behind and holds short cells.
    fn take_pairs(&self, columns: &mut [ColumnGuess], faults: &mut Faults) {
        let map = &self.options.map;
        for (second, first) in &map.pairs {
            let taxon = columns
                .iter()
                .find(|guess| {
                    guess.meaning == Meaning::TaxonColumn && same_header(&guess.header, first)
                })
                .and_then(|guess| guess.taxon.clone());
            let number = second.parse().ok().map(ColumnRef::Number);
            let column = columns.iter_mut().find(|guess| {
                same_header(&guess.header, second)
                    || number.as_ref().is_some_and(|n| n.is(guess.index, &guess.header))
            });
            match (column, taxon) {
                (Some(guess), Some(taxon)) => {
                    (guess.meaning, guess.taxon) = (Meaning::Paired, Some(taxon));
                }
                (column, _) => {
                    let missing = if column.is_none() { second } else { first };
                    let expected = format!("a column `{missing}`, as the map's `[pairs]` says");
                    faults.push(self.fault(expected).found(self.header.row.cells.join(", ")));
                }
            }
        }
        for index in 1..columns.len() {
            let guess = &columns[index];
            if guess.meaning != Meaning::Unknown || !guess.header.is_empty() {
                continue;
            }
            let reached = self.header.continues.get(index).copied().flatten();
            let before = &columns[reached.unwrap_or(index - 1)];
            let meaning = match before.meaning {
                Meaning::TaxonColumn if reached.is_some() || self.mostly_like_ratings(index) => {
                    Meaning::Paired
                }
                Meaning::Ignored if reached.is_some() => Meaning::Ignored,
                _ => continue,
            };
            (columns[index].taxon, columns[index].meaning) = (before.taxon.clone(), meaning);
        }
        if map.ignore_paired {
            for guess in columns.iter_mut().filter(|guess| guess.meaning == Meaning::Paired) {
                guess.meaning = Meaning::Ignored;
            }
        }
    }

    /// A few words among ratings are slips; many are another column.
    fn mostly_like_ratings(&self, index: usize) -> bool {
        let cells = || self.rows.iter().map(|row| row.cell(index)).filter(|cell| !cell.is_empty());
        let short = cells().filter(|cell| cell.chars().count() <= 4).count();
        short > 0 && short * 10 >= cells().count() * 9
    }

    /// Whole numbers, 0 or blank somewhere as no plant grows everywhere, that are no running number,
    /// under a header that names no measure.
    fn may_be_counts(&self, header: &str, index: usize) -> bool {
        const FEW: usize = 5;
        let mut numbers = Vec::new();
        for cell in self.rows.iter().map(|row| row.cell(index)).filter(|cell| !cell.is_empty()) {
            let Ok(number) = cell.parse::<u32>() else { return false };
            numbers.push(number);
        }
        let running = numbers.len() > FEW && numbers.windows(2).all(|pair| pair[0] < pair[1]);
        let everywhere = numbers.len() == self.rows.len() && !numbers.contains(&0);
        !numbers.is_empty() && !running && !everywhere && !names_a_measure(header)
    }

    /// A rating is short.
    fn cells_like_ratings(&self, index: usize) -> bool {
        self.rows.iter().all(|row| row.cell(index).chars().count() <= 4)
    }

    /// Whether every plant of a long table has a row at every site: then rows are no finds.
    fn lists_all_everywhere(&self, columns: &[ColumnGuess]) -> bool {
        const FEW: usize = 3;
        let of = |meaning| columns.iter().find(|guess| guess.meaning == meaning).map(|g| g.index);
        let (Some(site), Some(taxon)) = (of(Meaning::Site), of(Meaning::Taxon)) else {
            return false;
        };
        let mut pairs = BTreeSet::new();
        let (mut sites, mut taxa) = (BTreeSet::new(), BTreeSet::new());
        for row in self.rows.iter().filter(|row| !row.cell(taxon).is_empty()) {
            pairs.insert((row.cell(site), row.cell(taxon)));
            sites.insert(row.cell(site));
            taxa.insert(row.cell(taxon));
        }
        sites.len() >= FEW && taxa.len() >= FEW && pairs.len() == sites.len() * taxa.len()
    }

    fn check(&self, form: Form, columns: &[ColumnGuess], faults: &mut Faults) {
        let has = |meaning| columns.iter().any(|guess| guess.meaning == meaning);
        let placed =
            has(Meaning::Latitude) && has(Meaning::Longitude) || has(Meaning::X) && has(Meaning::Y);
        let headers = self.header.row.cells.join(", ");
        if !has(Meaning::Site) && !placed {
            faults.push(
                self.fault("a column with the code of the site, or columns with its position")
                    .found(&headers)
                    .hint(
                        "name the column in a map: a file with the lines `[columns]` and \
                         `site = \"HEADER\"`, or `site = [\"transect\", \"depth\"]` where several \
                         say it together, given with `--columns MAP.toml`",
                    ),
            );
        }
        for (one, other) in [
            (Meaning::Latitude, Meaning::Longitude),
            (Meaning::Longitude, Meaning::Latitude),
            (Meaning::X, Meaning::Y),
            (Meaning::Y, Meaning::X),
        ] {
            if has(one) && !has(other) {
                let expected =
                    format!("a column for {} beside the one for {}", other.key(), one.key());
                faults.push(self.fault(expected).found(&headers));
            }
        }
        if form == Form::Long && !has(Meaning::Rating) && self.lists_all_everywhere(columns) {
            faults.push(
                self.fault("a column that says how much of the plant was found, or whether")
                    .found(&headers)
                    .hint(
                        "every plant stands at every site here, so the rows alone say nothing: name \
                         the column with `rating = \"HEADER\"` under `[columns]` in a map",
                    ),
            );
        }
        if form == Form::Long && !has(Meaning::Taxon) {
            faults.push(
                self.fault("a column that names the plant")
                    .found(&headers)
                    .hint("name it with `taxon = \"HEADER\"`, or say `form = \"wide\"`"),
            );
        }
    }
}

/// The order of day and month that the dates of the file themselves prove.
pub(super) fn infer_order(
    columns: &[ColumnGuess],
    rows: &[Row],
    warnings: &mut Vec<String>,
) -> Option<DateOrder> {
    let column = columns.iter().find(|guess| guess.meaning == Meaning::Date)?;
    let mut proof: BTreeMap<&str, (DateOrder, &Row)> = BTreeMap::new();
    for row in rows {
        if let Some(order) = forced_order(row.cell(column.index)) {
            proof.entry(order.key()).or_insert((order, row));
        }
    }
    let mut proofs = proof.into_values();
    let (Some((order, row)), None) = (proofs.next(), proofs.next()) else { return None };
    let ambiguous = rows
        .iter()
        .any(|row| matches!(read_date(row.cell(column.index), None), DateReading::Either(..)));
    if ambiguous {
        let words = match order {
            DateOrder::MonthFirst => "month/day/year",
            DateOrder::DayFirst => "day/month/year",
        };
        warnings.push(format!(
            "dates are read as {words}, because `{}` in row {} can only be that",
            row.cell(column.index),
            row.number
        ));
    }
    Some(order)
}
