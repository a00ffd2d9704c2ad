//! Words crews write for outcome, bottom and how a plant was seen.

use survey::{HowSeen, NotSampled, Sediment};

/// What an outcome cell says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum OutcomeWord {
    /// The rake was thrown.
    Sampled,
    /// The rake was thrown and came up bare.
    SampledBare,
    /// It was not thrown, and why.
    Not(NotSampled),
}

/// Letters and digits in lower case, single spaces between.
fn plain(text: &str) -> String {
    let spaced: String = text
        .chars()
        .map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { ' ' })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Reads an outcome; the codes at the foot of our sheets, the keys of our files, and plain words.
pub(super) fn outcome(text: &str) -> Option<OutcomeWord> {
    let words = plain(text);
    let has = |part: &str| words.contains(part);
    let not = |reason| Some(OutcomeWord::Not(reason));
    match words.as_str() {
        "sampled" | "sampled with plants" | "yes" | "y" | "ok" | "done" => {
            return Some(OutcomeWord::Sampled);
        }
        "sampled no plants" | "sampled without plants" | "no plants" | "bare" | "none found" => {
            return Some(OutcomeWord::SampledBare);
        }
        "p" => return not(NotSampled::NotNavigablePlants),
        "x" | "deep" => return not(NotSampled::TooDeep),
        "w" => return not(NotSampled::DockOrStructure),
        "r" | "nr" => return not(NotSampled::Skipped),
        _ => {}
    }
    if has("swim") || has("beach") {
        not(NotSampled::SwimArea)
    } else if has("plants") || has("weeds") || has("non navigable") || has("not navigable") {
        not(NotSampled::NotNavigablePlants)
    } else if has("too deep") {
        not(NotSampled::TooDeep)
    } else if has("dock") || has("pier") || has("raft") || has("structure") || has("boathouse") {
        not(NotSampled::DockOrStructure)
    } else if has("obstacle") || has("obstruction") || has("angler") {
        not(NotSampled::TemporaryObstacle)
    } else if has("private") || has("unsafe") || has("shallow") || has("rock") || has("land") {
        not(NotSampled::PrivateOrUnsafe)
    } else if has("skip") || has("time") || has("not reached") {
        not(NotSampled::Skipped)
    } else if has("no information") || has("unknown") || has("not sampled") {
        not(NotSampled::NoInformation)
    } else {
        None
    }
}

/// A remark that plainly says why nothing was sampled, where the file has no outcome column.
pub(super) fn reason_in_remark(text: &str) -> Option<NotSampled> {
    match outcome(text)? {
        OutcomeWord::Not(reason) => Some(reason),
        OutcomeWord::Sampled | OutcomeWord::SampledBare => None,
    }
}

/// Reads a bottom: a word, its first letters, or the usual single letters.
pub(super) fn sediment(text: &str) -> Option<Sediment> {
    let words = plain(text);
    match words.as_str() {
        "m" | "mu" | "mud" | "silt" | "soft" => return Some(Sediment::Muck),
        "s" | "sa" | "sandy" => return Some(Sediment::Sand),
        "r" | "ro" | "rocky" | "boulder" => return Some(Sediment::Rock),
        "g" | "gr" => return Some(Sediment::Gravel),
        "wood" | "leaves" | "organic" => return Some(Sediment::Detritus),
        _ => {}
    }
    let first = words.split(' ').next()?;
    Sediment::ALL.iter().copied().find(|one| one.key() == first)
}

/// Reads how a plant was seen; on the rake when nothing is written.
pub(super) fn how_seen(text: &str) -> Option<HowSeen> {
    match plain(text).as_str() {
        "" | "rake" | "r" | "on the rake" | "throw" => Some(HowSeen::Rake),
        "visual" | "v" | "seen" | "seen not on the rake" | "vis" => Some(HowSeen::Visual),
        "shoreline" | "shore" | "s" | "on the shore" => Some(HowSeen::Shoreline),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn outcomes_are_read_in_many_spellings() {
        let table = [
            ("Non-Navigable (Plants)", OutcomeWord::Not(NotSampled::NotNavigablePlants)),
            ("Non-Navigable (Swim Area)", OutcomeWord::Not(NotSampled::SwimArea)),
            ("No Information", OutcomeWord::Not(NotSampled::NoInformation)),
            ("Temporary Obstacle", OutcomeWord::Not(NotSampled::TemporaryObstacle)),
            ("too deep", OutcomeWord::Not(NotSampled::TooDeep)),
            ("dock-or-structure", OutcomeWord::Not(NotSampled::DockOrStructure)),
            ("sampled-without-plants", OutcomeWord::SampledBare),
            ("sampled, with plants", OutcomeWord::Sampled),
            ("P", OutcomeWord::Not(NotSampled::NotNavigablePlants)),
        ];
        for (text, want) in table {
            assert_eq!(outcome(text), Some(want), "{text}");
        }
        assert_eq!(outcome("lovely morning"), None);
    }

    #[test]
    fn every_key_of_an_outcome_is_read_back() {
        for reason in NotSampled::ALL {
            assert_eq!(outcome(reason.key()), Some(OutcomeWord::Not(*reason)), "{}", reason.key());
            assert_eq!(
                outcome(reason.words()),
                Some(OutcomeWord::Not(*reason)),
                "{}",
                reason.words()
            );
        }
    }

    #[test]
    fn bottoms_are_read_by_letter_and_by_word() {
        let table = [
            ("M", Sediment::Muck),
            ("sand", Sediment::Sand),
            ("R", Sediment::Rock),
            ("Muck, some sand", Sediment::Muck),
        ];
        for (text, want) in table {
            assert_eq!(sediment(text), Some(want), "{text}");
        }
        assert_eq!(sediment("lava"), None);
    }
}
