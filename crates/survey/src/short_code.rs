//! Short codes for the taxa of a lake's list: proposed here, unique in the lake, the user's to
//! change until first used.
//!
//! How a clash is settled, always in the same way so that a person can foresee it: first more
//! letters, then a digit. `POPU` taken, *Potamogeton pulcher* becomes `POPUL`. Codes that a
//! spreadsheet would turn into something else (`NA`, `NAN`, `SEP2`) are passed over.

use std::fmt;
use std::str::FromStr;

/// Longest code proposed, so that a column of a field sheet holds it.
pub const LONGEST: usize = 8;

/// How codes are formed; the lake book's choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CodeStyle {
    /// Initials of the common name: curly-leaf pondweed `CLP`, Eurasian watermilfoil `EWM`.
    CommonInitials,
    /// Two letters of the genus and two of the epithet: *Ceratophyllum demersum* `CEDE`.
    TwoPlusTwo,
    /// Three and three: *Ceratophyllum demersum* `CERDEM`.
    ThreePlusThree,
}

impl CodeStyle {
    /// All of them, in the order people list them.
    pub const ALL: [Self; 3] = [Self::CommonInitials, Self::TwoPlusTwo, Self::ThreePlusThree];

    /// The word kept in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::CommonInitials => "initials",
            Self::TwoPlusTwo => "2+2",
            Self::ThreePlusThree => "3+3",
        }
    }

    /// The words a person reads.
    pub const fn words(self) -> &'static str {
        match self {
            Self::CommonInitials => "initials of the common name",
            Self::TwoPlusTwo => "2 + 2 letters of the scientific name",
            Self::ThreePlusThree => "3 + 3 letters of the scientific name",
        }
    }
}

impl fmt::Display for CodeStyle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}

/// A word that names no style.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownCodeStyle {
    /// The word found.
    pub found: String,
}

impl fmt::Display for UnknownCodeStyle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "code style `{}` is not known, expected `initials`, `2+2` or `3+3`", self.found)
    }
}

impl std::error::Error for UnknownCodeStyle {}

impl FromStr for CodeStyle {
    type Err = UnknownCodeStyle;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wanted: String = text.chars().filter(|c| !c.is_whitespace()).collect();
        Self::ALL
            .into_iter()
            .find(|style| style.key().eq_ignore_ascii_case(&wanted))
            .ok_or_else(|| UnknownCodeStyle { found: text.trim().to_owned() })
    }
}

/// A code for a taxon, upper-case ASCII, at most [`LONGEST`] characters, that `taken` says is free.
///
/// Initials take a letter a word of the common name (`watermilfoil` is two words, as it is also
/// written); a one-word name gives its first two letters. A genus gives its first four letters, in
/// the style of three and three its first six. Where the words of the style are missing the other
/// name serves; where both are, or the name says `unknown`, the code is `UN-1`, `UN-2` and so on.
///
/// Settling a clash:
/// 1. initials: more letters of the first word (`SP`, `SAP`, `SAGP`), then of the last (`SPO`);
/// 2. scientific name: more letters of the epithet (`POPU`, `POPUL`, `POPULC`), then of the genus;
/// 3. a digit from 2 on (`POPU2`).
///
/// `taken` is asked with upper-case text and must leave something free.
pub fn propose(
    style: CodeStyle,
    scientific: &str,
    common: &str,
    taken: impl Fn(&str) -> bool,
) -> String {
    let free = |code: &str| !code.is_empty() && !is_misread(code) && !taken(code);
    let binomial = scientific_words(scientific);
    let spoken = common_words(common);
    let unknown = |words: &[String]| {
        words.is_empty() || words.iter().any(|word| word == "UNKNOWN" || word == "UNIDENTIFIED")
    };
    let (has_binomial, has_spoken) = (!unknown(&binomial), !unknown(&spoken));
    let candidates = match style {
        // a genus is no more told by its common name than by its own
        CodeStyle::CommonInitials if has_spoken && (binomial.len() != 1 || !has_binomial) => {
            from_initials(&spoken)
        }
        CodeStyle::ThreePlusThree if has_binomial => from_binomial(&binomial, 3),
        _ if has_binomial => from_binomial(&binomial, 2),
        _ if has_spoken => from_initials(&spoken),
        _ => Vec::new(),
    };
    if let Some(code) = candidates.iter().find(|code| free(code)) {
        return code.clone();
    }
    match candidates.first() {
        Some(base) => numbered(base, 2, free),
        None => numbered("UN-", 1, free),
    }
}

/// The base with the first free number, shortened where number and base grow too long.
fn numbered(base: &str, first: u32, free: impl Fn(&str) -> bool) -> String {
    let with = |number: u32| {
        let digits = number.to_string();
        format!("{}{digits}", &base[..base.len().min(LONGEST - digits.len())])
    };
    (first..1_000_000).map(with).find(|code| free(code)).unwrap_or_else(|| with(1_000_000))
}

fn from_binomial(words: &[String], letters: usize) -> Vec<String> {
    let genus = &words[0];
    let Some(epithet) = epithet(words) else {
        let shortest = if letters == 2 { 4 } else { 6 };
        return (shortest..=LONGEST).map(|count| start(genus, count)).collect();
    };
    let mut codes = Vec::new();
    for from_genus in letters..=LONGEST - letters {
        for from_epithet in letters..=LONGEST - from_genus {
            codes.push(start(genus, from_genus) + &start(&epithet, from_epithet));
        }
    }
    codes
}

/// The epithet; below the species the last name, so that two subspecies differ. A hybrid formula
/// is told by an `X` before its second parent.
fn epithet(words: &[String]) -> Option<String> {
    let rest: Vec<&String> = words[1..]
        .iter()
        .filter(|word| !matches!(word.as_str(), "SSP" | "SUBSP" | "VAR" | "F"))
        .collect();
    let last = rest.last()?;
    let hybrid = rest.iter().any(|word| *word == "X");
    if last.as_str() == "X" {
        return None;
    }
    Some(if hybrid { format!("X{last}") } else { (*last).clone() })
}

fn from_initials(words: &[String]) -> Vec<String> {
    let initials: String = words.iter().map(|word| start(word, 1)).collect();
    let initials = start(&initials, LONGEST);
    let (first, last) = (&words[0], &words[words.len() - 1]);
    if words.len() == 1 {
        return (2..=LONGEST).map(|count| start(first, count)).collect();
    }
    let mut codes = vec![initials.clone()];
    for count in 2..=4 {
        codes.push(start(first, count) + &initials[1..]);
    }
    for count in 2..=4 {
        codes.push(initials[..initials.len() - 1].to_owned() + &start(last, count));
    }
    codes.retain(|code| code.len() <= LONGEST);
    codes
}

fn start(word: &str, count: usize) -> String {
    word[..word.len().min(count)].to_owned()
}

/// Upper-case ASCII words of a scientific name, without `sp.` and its like.
fn scientific_words(name: &str) -> Vec<String> {
    let mut words = ascii_words(&name.replace('×', " x "), false);
    words.retain(|word| !matches!(word.as_str(), "SP" | "SPP" | "SPECIES" | "CF" | "AFF"));
    words
}

/// Upper-case ASCII words of a common name; a hyphen parts words.
fn common_words(name: &str) -> Vec<String> {
    let mut words = ascii_words(name, true);
    if let Some(last) = words.last().filter(|last| last.as_str() == "WATERMILFOIL").cloned() {
        words.pop();
        words.extend([start(&last, 5), last[5..].to_owned()]);
    }
    words
}

fn ascii_words(name: &str, hyphen_parts: bool) -> Vec<String> {
    name.split(|c: char| c.is_whitespace() || c == '_' || (hyphen_parts && matches!(c, '-' | '/')))
        .map(|word| word.chars().filter_map(ascii_letter).collect::<String>())
        .filter(|word| !word.is_empty())
        .collect()
}

fn ascii_letter(c: char) -> Option<char> {
    let plain = match c.to_lowercase().next()? {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => 'a',
        'ç' => 'c',
        'è' | 'é' | 'ê' | 'ë' => 'e',
        'ì' | 'í' | 'î' | 'ï' => 'i',
        'ñ' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => 'o',
        'ù' | 'ú' | 'û' | 'ü' => 'u',
        'ý' | 'ÿ' => 'y',
        other => other,
    };
    plain.is_ascii_alphabetic().then(|| plain.to_ascii_uppercase())
}

/// True for a code that a spreadsheet or a statistics program takes for something else: no value,
/// yes and no, or a date; and for `SPP`, which people do.
fn is_misread(code: &str) -> bool {
    const WORDS: [&str; 12] =
        ["NA", "NAN", "ND", "NO", "NONE", "NULL", "YES", "TRUE", "FALSE", "INF", "ERR", "SPP"];
    const MONTHS: [&str; 12] =
        ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"];
    let month = MONTHS.iter().any(|month| {
        code.strip_prefix(month).is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))
    });
    month || WORDS.contains(&code)
}

#[cfg(test)]
mod tests;
