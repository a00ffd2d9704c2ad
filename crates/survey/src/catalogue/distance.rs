//! How many slips of the pen lie between two words.

/// Slips between two words when they are at most `most`: a letter too many, too few, wrong, or two
/// neighbours swapped.
///
/// # Formula
/// Optimal string alignment, the restricted Damerau–Levenshtein distance: the least number of
/// insertions, deletions, substitutions and swaps of neighbours, no letter edited twice.
/// # References
/// Damerau (1964), Communications of the ACM 7:171–176; Wagner & Lowrance (1975), Journal of the
/// ACM 22:177–183.
pub(super) fn slips(one: &str, other: &str, most: usize) -> Option<usize> {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    if one.len().abs_diff(other.len()) > most {
        return None;
    }
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for (row, letter) in one.iter().enumerate() {
        let mut now = vec![row + 1];
        for (column, against) in other.iter().enumerate() {
            let wrong = last[column] + usize::from(letter != against);
            let mut best = wrong.min(last[column + 1] + 1).min(now[column] + 1);
            if row > 0 && column > 0 && *letter == other[column - 1] && one[row - 1] == *against {
                best = best.min(before[column - 1] + 1);
            }
            now.push(best);
        }
        if now.iter().all(|slips| *slips > most) {
            return None;
        }
        before = last;
        last = now;
    }
    last.last().copied().filter(|slips| *slips <= most)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sources: Levenshtein's usual teaching examples (kitten/sitting 3, saturday/sunday 3, from
    /// memory); Damerau (1964) for the swap; `ca`/`abc` is 3 when no letter is edited twice, where
    /// the unrestricted distance is 2 (from memory).
    #[test]
    fn known_distances() {
        let table = [
            ("", "", 0),
            ("", "abc", 3),
            ("kitten", "sitting", 3),
            ("saturday", "sunday", 3),
            ("teh", "the", 1),
            ("ca", "abc", 3),
            ("potamogeton", "potamogeton", 0),
            ("potomageton", "potamogeton", 2),
        ];
        for (one, other, want) in table {
            assert_eq!(slips(one, other, 9), Some(want), "{one} {other}");
            assert_eq!(slips(other, one, 9), Some(want), "{other} {one}");
            assert_eq!(slips(one, other, want), Some(want), "{one} {other} at the limit");
            if want > 0 {
                assert_eq!(slips(one, other, want - 1), None, "{one} {other} past the limit");
            }
        }
    }
}
