//! A rake throw as it is written on the sheet: `CEDE M, POCR T, = D`.

use super::Codes;
use super::body::field_fault;
use crate::error::Result;
use crate::views::{ObservationBody, ThrowBody};
use survey::HowSeen;
use survey::scale::RatingScale;

/// What a line about a throw says.
#[derive(Debug, Clone)]
pub(super) enum ThrowLine {
    /// It was thrown, and this came up.
    Thrown(ThrowBody),
    /// It was not made.
    NotMade(u8),
}

/// Reads `2: CEDE M, POCR T V, = D`; without a number it is the first throw. `0` is a bare rake, a
/// dash a throw that was not made, `V` a plant seen beside the rake, `=` the rake as a whole.
pub(super) fn throw_line(text: &str, scale: &RatingScale, codes: &Codes<'_>) -> Result<ThrowLine> {
    let (number, rest) = match text.split_once(':') {
        Some((number, rest)) => {
            let number: u8 = number.trim().parse().map_err(|_error| {
                field_fault("throw", format!("`{}` is no number of a throw", number.trim()))
                    .hint("write `1: CEDE M, POCR T`")
            })?;
            (number, rest.trim())
        }
        None => (1, text.trim()),
    };
    if rest.is_empty() {
        return Err(field_fault("throw", format!("nothing is written for throw `{number}`"))
            .hint("write `0` for a bare rake, `-` for a throw that was not made"));
    }
    if matches!(rest, "-" | "–" | "—") {
        return Ok(ThrowLine::NotMade(number));
    }
    let mut throw = ThrowBody { number, total: None, observations: Vec::new() };
    if rest == "0" || rest.eq_ignore_ascii_case("bare") {
        return Ok(ThrowLine::Thrown(throw));
    }
    for part in rest.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()) {
        match part.strip_prefix('=') {
            Some(total) => throw.total = Some(total.trim().to_owned()),
            None => throw.observations.push(find(part, scale, codes)),
        }
    }
    Ok(ThrowLine::Thrown(throw))
}

/// A throw as the sheet writes it: `1: CEDE M, POCR T V, = D`, `2: 0` for a bare rake.
pub fn throw_words(throw: &ThrowBody) -> String {
    let mut words: Vec<String> = throw
        .observations
        .iter()
        .map(|one| {
            let beside =
                one.seen.as_deref().filter(|seen| *seen == HowSeen::Visual.key()).map(|_| "V");
            let parts = [Some(one.taxon.as_str()), one.rating.as_deref(), beside];
            parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
        })
        .collect();
    words.extend(throw.total.as_ref().map(|total| format!("= {total}")));
    if words.is_empty() {
        words.push("0".to_owned());
    }
    format!("{}: {}", throw.number, words.join(", "))
}

/// A plant, its rating and whether it was beside the rake; the rating may be left out.
fn find(text: &str, scale: &RatingScale, codes: &Codes<'_>) -> ObservationBody {
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let mut seen = HowSeen::Rake;
    let beside = |word: &&str| word.eq_ignore_ascii_case("v") && scale.step(word).is_none();
    if words.len() > 1 && words.last().is_some_and(beside) {
        seen = HowSeen::Visual;
        words.pop();
    }
    let mut rating = None;
    if words.len() > 1 && codes.read(&words.join(" ")).is_err() {
        rating = words.pop().map(str::to_owned);
    }
    ObservationBody { taxon: words.join(" "), rating, seen: Some(seen.key().to_owned()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::{Code, GrowthForm, Id, Origin, Rank, Taxon, TaxonId};

    fn taxon(number: u128, code: &str) -> Taxon {
        Taxon {
            id: TaxonId(Id::v7(1, number)),
            code: Code::new(code).unwrap(),
            aliases: Vec::new(),
            scientific_name: format!("Plantus {number}"),
            common_name: String::new(),
            growth_form: GrowthForm::Submersed,
            origin: Origin::Native,
            rank: Rank::Species,
            listed_noxious: false,
            conservatism: None,
        }
    }

    #[test]
    fn a_throw_is_read_as_the_sheet_writes_it() {
        let taxa = [taxon(1, "CEDE"), taxon(2, "POCR"), taxon(3, "UN-1")];
        let codes = Codes::of(&taxa);
        let scale = RatingScale::by_key("handful").unwrap();
        let read = |text: &str| throw_line(text, scale, &codes);
        let say = |text: &str| match read(text).unwrap() {
            ThrowLine::NotMade(number) => format!("{number} not made"),
            ThrowLine::Thrown(throw) => {
                let mut words = vec![throw.number.to_string()];
                for one in throw.observations {
                    let rating = one.rating.unwrap_or_default();
                    words.push(format!("{} {rating} {}", one.taxon, one.seen.unwrap_or_default()));
                }
                words.extend(throw.total.map(|total| format!("= {total}")));
                words.join(" | ")
            }
        };
        for (text, want) in [
            ("CEDE M", "1 | CEDE M rake"),
            ("2: CEDE M, UN-1 T V; = D", "2 | CEDE M rake | UN-1 T visual | = D"),
            ("1: POCR V", "1 | POCR  visual"),
            ("3: POCR", "3 | POCR  rake"),
            ("2: 0", "2"),
            ("bare", "1"),
            ("2: –", "2 not made"),
            ("3: -", "3 not made"),
        ] {
            assert_eq!(say(text), want, "{text}");
        }
        for wrong in ["one: CEDE", "2:", ""] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }
}
