//! Names short enough for a receiver: some take six letters, some ten, some thirty.

use std::collections::BTreeSet;

/// Names that fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fitted {
    /// One for each name given, in the same order; none is longer than asked, none is there twice.
    pub names: Vec<String>,
    /// Those that had to be shortened, before and after.
    pub shortened: Vec<(String, String)>,
}

/// Fits names to a length in characters. One that is too long loses its punctuation, then its middle: head and
/// tail stay, because numbers stand at the end. It never becomes the name of another.
///
/// # Errors
/// The first name that cannot be shortened without being taken for another.
pub fn fit(names: &[String], length: usize) -> Result<Fitted, String> {
    let count = |name: &str| name.chars().count();
    let whole: BTreeSet<String> =
        names.iter().filter(|name| count(name) <= length).map(|name| name.to_lowercase()).collect();
    let mut taken = whole;
    let mut fitted = Fitted { names: Vec::with_capacity(names.len()), shortened: Vec::new() };
    for name in names {
        if count(name) <= length {
            fitted.names.push(name.clone());
            continue;
        }
        let plain: Vec<char> = name.chars().filter(|c| c.is_alphanumeric()).collect();
        let mut tries: Vec<String> = Vec::new();
        if plain.len() <= length {
            tries.push(plain.iter().collect());
        } else {
            // keep as much of the tail as there are digits, at least one letter of the head
            let digits = plain.iter().rev().take_while(|c| c.is_ascii_digit()).count();
            let most = length.saturating_sub(1);
            for tail in [digits.min(most), most, length / 2] {
                let head = length - tail;
                tries.push(
                    plain[..head].iter().chain(&plain[plain.len() - tail..]).collect::<String>(),
                );
            }
        }
        let free = tries
            .into_iter()
            .find(|short| !short.is_empty() && !taken.contains(&short.to_lowercase()));
        let Some(short) = free else { return Err(name.clone()) };
        taken.insert(short.to_lowercase());
        fitted.shortened.push((name.clone(), short.clone()));
        fitted.names.push(short);
    }
    Ok(fitted)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn names_that_fit_stay_and_long_ones_keep_head_and_number() {
        let fitted = fit(&names("14 W1-03 WESTBAY-014 WESTBAY-015"), 6).unwrap();
        assert_eq!(fitted.names, ["14", "W1-03", "WES014", "WES015"]);
        assert_eq!(fitted.shortened.len(), 2);
    }

    #[test]
    fn a_short_name_is_never_that_of_another() {
        for given in ["N1-10 N110 N1-1-0", "ABCDEFGH1 ABCXXXGH1 A1", "EAST-1 EAST1"] {
            let given = names(given);
            let length = 4;
            match fit(&given, length) {
                Ok(fitted) => {
                    let different: BTreeSet<_> =
                        fitted.names.iter().map(|name| name.to_lowercase()).collect();
                    assert_eq!(different.len(), given.len(), "{fitted:?}");
                    assert!(fitted.names.iter().all(|name| name.chars().count() <= length));
                }
                Err(name) => assert!(given.contains(&name)),
            }
        }
        assert_eq!(fit(&names("AB-1 AB1"), 3).unwrap_err(), "AB-1");
    }
}
