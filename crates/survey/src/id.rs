use std::fmt;
use std::str::FromStr;

/// A UUID version 7 (RFC 9562): 48 bits of Unix milliseconds, then random bits. It is made on the
/// device that makes the record; this crate only holds it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(u128);

impl Id {
    /// Sets the version and variant bits over a time and 74 usable random bits.
    pub const fn v7(unix_milliseconds: u64, random: u128) -> Self {
        let time = (unix_milliseconds as u128 & 0xffff_ffff_ffff) << 80;
        let random_a = (random >> 62 & 0xfff) << 64;
        let random_b = random & 0x3fff_ffff_ffff_ffff;
        Self(time | 0x7 << 76 | random_a | 0b10 << 62 | random_b)
    }

    /// A key made from a name and not from a moment, version 8 (RFC 9562 section 5.8): two devices
    /// that add the same thing give it the same key. `digest` is a hash of the name.
    pub const fn named(digest: u128) -> Self {
        let cleared = digest & !(0xf << 76) & !(0b11 << 62);
        Self(cleared | 0x8 << 76 | 0b10 << 62)
    }

    /// The 128 bits.
    pub const fn bits(self) -> u128 {
        self.0
    }

    /// From 128 bits kept earlier.
    pub const fn from_bits(bits: u128) -> Self {
        Self(bits)
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let h = self.0;
        write!(
            f,
            "{:08x}-{:04x}-{:04x}-{:04x}-{:012x}",
            h >> 96,
            h >> 80 & 0xffff,
            h >> 64 & 0xffff,
            h >> 48 & 0xffff,
            h & 0xffff_ffff_ffff
        )
    }
}

impl fmt::Debug for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// A text that is no UUID.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParseIdError {
    /// The text found.
    pub found: String,
}

impl fmt::Display for ParseIdError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` is not a record id", self.found)
    }
}

impl std::error::Error for ParseIdError {}

impl FromStr for Id {
    type Err = ParseIdError;
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let error = || ParseIdError { found: text.to_owned() };
        let dashes_right = text.len() == 36
            && text
                .bytes()
                .enumerate()
                .all(|(index, byte)| (byte == b'-') == matches!(index, 8 | 13 | 18 | 23));
        if !dashes_right || !text.bytes().all(|byte| byte == b'-' || byte.is_ascii_hexdigit()) {
            return Err(error());
        }
        let digits: String = text.chars().filter(|c| *c != '-').collect();
        u128::from_str_radix(&digits, 16).map(Self).ok().ok_or_else(error)
    }
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub Id);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0, f)
            }
        }
        impl FromStr for $name {
            type Err = ParseIdError;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                text.parse().map(Self)
            }
        }
        impl From<Id> for $name {
            fn from(id: Id) -> Self {
                Self(id)
            }
        }
    )+};
}

ids! {
    /// Key of a survey.
    SurveyId,
    /// Key of a site.
    SiteId,
    /// Key of a visit.
    VisitId,
    /// Key of a taxon on the lake's list.
    TaxonId,
    /// Key of a zone.
    ZoneId,
    /// Key of a sub-area.
    SubAreaId,
    /// Key of a landmark.
    LandmarkId,
    /// Key of a surface bed.
    BedId,
    /// Key of a shoreline find.
    ShorelineFindId,
    /// Key of a photo.
    PhotoId,
    /// Key of a voucher.
    VoucherId,
    /// Key of a treatment.
    TreatmentId,
    /// Key of a limit of the lake board.
    BoardLimitId,
    /// Key of an event in the change log.
    EventId,
}

impl VisitId {
    /// The key of a site's one visit, made from the site's: two people who write up one site in two
    /// copies of a book write the same record, and a difference between them is seen.
    pub const fn of_site(site: SiteId) -> Self {
        Self(Id::from_bits(site.0.bits() ^ 0x0076_6973_6974))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RFC 9562 (2024), appendix A.6, example of a UUIDv7 value.
    #[test]
    fn rfc_9562_appendix_a6_example() {
        let random = (0xcc3_u128 << 62) | 0x18c4_dc0c_0c07_398f;
        let id = Id::v7(0x017f_22e2_79b0, random);
        assert_eq!(id.to_string(), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
        assert_eq!("017f22e2-79b0-7cc3-98c4-dc0c0c07398f".parse(), Ok(id));
    }

    /// Source: RFC 9562 (2024), section 5.8: version 8 in bits 48 to 51, the variant in 64 and 65.
    #[test]
    fn a_key_made_from_a_name_is_of_version_8() {
        assert_eq!(Id::named(0).to_string(), "00000000-0000-8000-8000-000000000000");
        assert_eq!(Id::named(u128::MAX).to_string(), "ffffffff-ffff-8fff-bfff-ffffffffffff");
        let site = SiteId(Id::v7(5, 7));
        assert_ne!(VisitId::of_site(site).0, site.0);
        assert_eq!(VisitId::of_site(site).0.bits() >> 62, site.0.bits() >> 62);
    }

    #[test]
    fn a_text_that_is_no_id_is_named_in_the_error() {
        for text in [
            "",
            "site 14",
            "017f22e279b07cc398c4dc0c0c07398f",
            "017f22e2-79b0-7cc3-98c4-dc0c0c07398g",
        ] {
            let error = text.parse::<Id>().unwrap_err();
            assert!(error.to_string().contains(text), "{error}");
        }
    }
}
