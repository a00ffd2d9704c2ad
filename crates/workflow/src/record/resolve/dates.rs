//! The days of a record.

use super::Resolver;
use jiff::civil::Date;

impl Resolver<'_> {
    /// All days lie in one year, the survey's own, or within a winter of a day that does.
    pub(super) fn dates(&mut self) {
        const WINTER: i32 = 92;
        let dated: Vec<(usize, Date)> =
            self.table.rows.iter().filter_map(|row| row.date.map(|date| (row.row, date))).collect();
        let survey = self.known.survey;
        let year_in_name = survey
            .name
            .split(|c: char| !c.is_ascii_digit())
            .find(|digits| digits.len() == 4)
            .and_then(|digits| digits.parse::<i16>().ok())
            .filter(|year| (1900..2200).contains(year));
        let year = survey.start.map(Date::year).or(year_in_name);
        let year = year.or_else(|| dated.first().map(|(_, date)| date.year()));
        let own = || dated.iter().filter(|(_, date)| year.is_none_or(|year| date.year() == year));
        let near = |date: Date| {
            own().any(|(_, day)| day.until(date).is_ok_and(|span| span.get_days().abs() <= WINTER))
        };
        let wrong: Vec<&(usize, Date)> = dated
            .iter()
            .filter(|(_, date)| year.is_some_and(|year| date.year() != year) && !near(*date))
            .collect();
        if let (Some((row, date)), Some(year)) = (wrong.first(), year) {
            let fault = self
                .fault(
                    *row,
                    "date",
                    format!("a day in {year}, the year of survey `{}`", survey.name),
                )
                .found(format!("{date} ({} rows like it)", wrong.len()))
                .hint(
                    "correct the dates, or say what they are under `[read_as]` in a column map, or \
                     record the file into a survey of its own year",
                );
            self.faults.push(fault);
        }
        let days = dated.iter().map(|(_, date)| *date).chain(self.known.day);
        let first = days.clone().min();
        self.out.dates = first.zip(days.max());
    }
}
