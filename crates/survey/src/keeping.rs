use crate::taxon::words;
use crate::{Id, TaxonId, Visit};
use jiff::civil::Date;
use std::fmt;
use std::str::FromStr;

/// One visit written up by a second person from the same sheet, kept apart from the first.
#[derive(Debug, Clone, PartialEq)]
pub struct SecondEntry {
    /// Key.
    pub id: Id,
    /// Who entered it.
    pub by: String,
    /// What they read on the sheet; its key is the first entry's.
    pub visit: Visit,
}

words! {
    /// What the name of a plant rests on.
    Evidence {
        /// A photo.
        Photo = "photo", "a photo";
        /// A specimen.
        Specimen = "specimen", "a specimen";
        /// An expert saw it.
        Expert = "expert", "an expert";
        /// Its DNA.
        Dna = "dna", "its DNA";
    }
}

/// The naming of what was unknown: everywhere at once, and by whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Determination {
    /// Key.
    pub id: Id,
    /// What it is now.
    pub taxon: TaxonId,
    /// The code it had.
    pub was_code: String,
    /// The name it had.
    pub was_name: String,
    /// The name it got.
    pub now_name: String,
    /// Who named it.
    pub by: String,
    /// When.
    pub on: Option<Date>,
    /// On what evidence.
    pub evidence: Evidence,
    /// Remark.
    pub note: String,
}
