//! Names as people write them, brought to one key.

use super::distance::slips;

/// Letters and digits in lower case; `×` as `x`, `subsp.` as `ssp.`, `PW` as pondweed, accents set
/// aside.
///
/// `white water-lily`, `White waterlily` and `WHITE WATER LILY` share one key.
pub(super) fn folded(name: &str) -> String {
    name.split(|c: char| c.is_whitespace() || c == '_')
        .map(|word| match letters(word).as_str() {
            "subsp" | "subspecies" => "ssp".to_owned(),
            "variety" => "var".to_owned(),
            "pw" => "pondweed".to_owned(),
            _ => letters(word),
        })
        .collect()
}

/// The key of the genus when a name ends in `sp.`, `spp.`, `species` or the like.
pub(super) fn genus_of(name: &str) -> Option<String> {
    let words: Vec<&str> = name
        .split(|c: char| c.is_whitespace() || c == '_')
        .filter(|word| !word.is_empty())
        .collect();
    let mut kept = words.len();
    while kept > 0 {
        let word = letters(words[kept - 1]);
        let number = !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
        // `sp. 2` names a plant told apart from `sp. 1`, but no further than the genus
        let follows_sp = number && kept > 1 && is_species_word(&letters(words[kept - 2]));
        if !is_species_word(&word) && !follows_sp {
            break;
        }
        kept -= 1;
    }
    (kept > 0 && kept < words.len()).then(|| folded(&words[..kept].join(" ")))
}

fn is_species_word(word: &str) -> bool {
    matches!(
        word,
        "sp" | "spp" | "species" | "spec" | "sp1" | "sp2" | "sp3" | "sp4" | "sp5" | "genus"
    )
}

/// First letter of the genus and the rest, from `P. crispus` or `P crispus`.
pub(super) fn abbreviated(name: &str) -> Option<(char, String)> {
    let (genus, rest) = name.trim().split_once(['.', ' '])?;
    let mut genus = genus.chars();
    let letter = genus.next()?.to_ascii_lowercase();
    let rest = folded(rest);
    (letter.is_ascii_alphabetic() && genus.next().is_none() && rest.len() >= 3)
        .then_some((letter, rest))
}

/// Slips between an abbreviated name and a full one, one at most: `P. crispsu`.
pub(super) fn abbreviates(full: &str, letter: char, rest: &str) -> Option<usize> {
    let (genus, epithet) = full.split_once(' ')?;
    let first = genus.chars().next()?.to_ascii_lowercase();
    (first == letter).then(|| slips(&folded(epithet), rest, 1))?
}

/// The words of a name that are long enough to say something, folded.
pub(super) fn telling_words(name: &str) -> Vec<String> {
    name.split_whitespace().map(letters).filter(|word| word.chars().count() >= 4).collect()
}

fn letters(word: &str) -> String {
    word.chars().flat_map(char::to_lowercase).filter_map(plain).collect()
}

/// Lower-case letter or digit without accent; the marks of hybrids as `x`.
fn plain(c: char) -> Option<char> {
    let plain = match c {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' => 'a',
        'ç' => 'c',
        'è' | 'é' | 'ê' | 'ë' => 'e',
        'ì' | 'í' | 'î' | 'ï' => 'i',
        'ñ' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => 'o',
        'ù' | 'ú' | 'û' | 'ü' => 'u',
        'ý' | 'ÿ' => 'y',
        '×' | '✕' => 'x',
        other => other,
    };
    plain.is_alphanumeric().then_some(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_one_name_share_a_key() {
        let table = [
            ("White water-lily", "white waterlily"),
            ("Beck's water-marigold", "becks water marigold"),
            ("Typha × glauca", "TYPHA xGLAUCA"),
            ("Phragmites australis subsp. americanus", "PHRAGMITES AUSTRALIS SSP. AMERICANUS"),
            ("Isoëtes lacustris", "isoetes lacustris"),
            ("Potamogeton_crispus", "Potamogeton crispus"),
            ("Richard sons PW", "Richardson's pondweed"),
        ];
        for (one, other) in table {
            assert_eq!(folded(one), folded(other), "{one} / {other}");
        }
    }

    #[test]
    fn species_words_lead_to_the_genus() {
        let table = [
            ("Chara sp.", Some("chara")),
            ("Chara SPP", Some("chara")),
            ("Chara species", Some("chara")),
            ("Chara sp. 2", Some("chara")),
            ("Nitella_sp", Some("nitella")),
            ("Chara", None),
            ("sp.", None),
            ("Chara vulgaris", None),
            ("Chara 2", None),
        ];
        for (name, want) in table {
            assert_eq!(genus_of(name).as_deref(), want, "{name}");
        }
    }
}
