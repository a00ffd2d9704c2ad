//! What the change log can speak of, and what can happen to it.

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};

macro_rules! kept_words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $key:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum $name { $($(#[$vdoc])* $variant,)+ }

        impl $name {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The word kept in the log.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$variant => $key,)+ }
            }

            /// The one with this key.
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.key() == key)
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.key())
            }
        }

        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                Ok(ToSqlOutput::Borrowed(self.key().into()))
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                Self::from_key(value.as_str()?).ok_or(FromSqlError::InvalidType)
            }
        }
    };
}

kept_words! {
    /// A kind of record.
    Entity {
        /// The lake's header.
        Lake = "lake";
        /// The lake's outline.
        Outline = "outline";
        /// A taxon on the lake's list.
        Taxon = "taxon";
        /// A rating scale.
        Scale = "scale";
        /// A zone.
        Zone = "zone";
        /// A sub-area.
        SubArea = "sub-area";
        /// A landmark.
        Landmark = "landmark";
        /// A survey's header.
        Survey = "survey";
        /// A planned site.
        Site = "site";
        /// A visit with its throws and observations.
        Visit = "visit";
        /// A surface bed.
        Bed = "surface-bed";
        /// A shoreline find.
        ShorelineFind = "shoreline-find";
        /// A photo.
        Photo = "photo";
        /// A voucher.
        Voucher = "voucher";
        /// A treatment.
        Treatment = "treatment";
        /// A picture under the lake.
        Background = "background";
        /// An immutable data set.
        DataSet = "data-set";
        /// The route of a survey.
        Route = "route";
        /// The lake's own words on a paper.
        PaperText = "paper-text";
        /// A field sheet read back.
        SheetScan = "sheet-scan";
        /// What the columns of a file mean.
        ColumnMap = "column-map";
        /// A limit the lake board wrote down.
        BoardLimit = "board-limit";
        /// A find of the check that was confirmed.
        Settlement = "settled-find";
        /// A second person's entry of a visit.
        SecondEntry = "second-entry";
        /// The naming of an unknown.
        Determination = "determination";
        /// A conflict between two edits.
        Conflict = "conflict";
        /// A whole save, named by its first event.
        Batch = "save";
    }
}

kept_words! {
    /// What an event did.
    Operation {
        /// Made or changed.
        Put = "put";
        /// Deleted; the log keeps it.
        Delete = "delete";
        /// A survey was sealed.
        Seal = "seal";
        /// A sealed survey was amended.
        Amend = "amend";
        /// A conflict was settled.
        Settle = "settle";
        /// A save was taken back.
        Undo = "undo";
    }
}

impl Entity {
    /// The table that holds its fold; none for what lives in the log only.
    pub(crate) const fn table(self) -> Option<&'static str> {
        Some(match self {
            Self::Lake => "lake",
            Self::Outline => "lake_outline",
            Self::Taxon => "taxon",
            Self::Scale => "rating_scale",
            Self::Zone => "zone",
            Self::SubArea => "sub_area",
            Self::Landmark => "landmark",
            Self::Survey => "survey",
            Self::Site => "site",
            Self::Visit => "visit",
            Self::Bed => "surface_bed",
            Self::ShorelineFind => "shoreline_find",
            Self::Photo => "photo",
            Self::Voucher => "voucher",
            Self::Treatment => "treatment",
            Self::Background => "background",
            Self::DataSet => "data_set",
            Self::Route => "route",
            Self::PaperText => "paper_text",
            Self::SheetScan => "sheet_scan",
            Self::ColumnMap => "column_map",
            Self::BoardLimit => "board_limit",
            Self::Settlement => "settled_find",
            Self::SecondEntry => "second_entry",
            Self::Determination => "determination",
            Self::Conflict | Self::Batch => return None,
        })
    }

    /// The word a person reads.
    pub const fn words(self) -> &'static str {
        match self {
            Self::SubArea => "sub-area",
            Self::Bed => "surface bed",
            Self::ShorelineFind => "shoreline find",
            Self::DataSet => "data set",
            Self::Settlement => "settled find",
            Self::SecondEntry => "second entry",
            Self::Scale => "rating scale",
            Self::BoardLimit => "limit of the lake board",
            Self::PaperText => "words on a paper",
            Self::SheetScan => "sheet read back",
            Self::ColumnMap => "column map",
            other => other.key(),
        }
    }
}
