//! The regions origins are known for.

/// The code that stands for the US in general.
pub(super) const GENERAL: &str = "US";

/// A region: the US in general or one of its states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Region {
    /// Two letters.
    pub code: &'static str,
    /// Name.
    pub name: &'static str,
}

macro_rules! regions {
    ($($code:literal $name:literal)+) => { [$(Region { code: $code, name: $name },)+] };
}

/// The US in general, then the states and the District of Columbia by name.
///
/// Source: US Postal Service two-letter codes.
pub const REGIONS: [Region; 52] = regions![
    "US" "United States in general"
    "AL" "Alabama" "AK" "Alaska" "AZ" "Arizona" "AR" "Arkansas" "CA" "California"
    "CO" "Colorado" "CT" "Connecticut" "DE" "Delaware" "DC" "District of Columbia"
    "FL" "Florida" "GA" "Georgia" "HI" "Hawaii" "ID" "Idaho" "IL" "Illinois" "IN" "Indiana"
    "IA" "Iowa" "KS" "Kansas" "KY" "Kentucky" "LA" "Louisiana" "ME" "Maine" "MD" "Maryland"
    "MA" "Massachusetts" "MI" "Michigan" "MN" "Minnesota" "MS" "Mississippi" "MO" "Missouri"
    "MT" "Montana" "NE" "Nebraska" "NV" "Nevada" "NH" "New Hampshire" "NJ" "New Jersey"
    "NM" "New Mexico" "NY" "New York" "NC" "North Carolina" "ND" "North Dakota" "OH" "Ohio"
    "OK" "Oklahoma" "OR" "Oregon" "PA" "Pennsylvania" "RI" "Rhode Island"
    "SC" "South Carolina" "SD" "South Dakota" "TN" "Tennessee" "TX" "Texas" "UT" "Utah"
    "VT" "Vermont" "VA" "Virginia" "WA" "Washington" "WV" "West Virginia" "WI" "Wisconsin"
    "WY" "Wyoming"
];

/// The code a text stands for: `wi`, `US-WI` or `Wisconsin`.
pub(super) fn state(text: &str) -> Option<&'static str> {
    let text = text.trim();
    let short = text
        .get(..3)
        .filter(|start| start.eq_ignore_ascii_case("US-"))
        .map_or(text, |_| &text[3..]);
    REGIONS
        .iter()
        .find(|region| {
            region.code.eq_ignore_ascii_case(short) || region.name.eq_ignore_ascii_case(text)
        })
        .map(|region| region.code)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn states_are_known_by_code_and_name() {
        let table = [
            ("WI", Some("WI")),
            (" wi ", Some("WI")),
            ("US-WI", Some("WI")),
            ("us-wi", Some("WI")),
            ("wisconsin", Some("WI")),
            ("US", Some("US")),
            ("NY_GLHL", None),
            ("", None),
            ("Ünterwalden", None),
        ];
        for (text, want) in table {
            assert_eq!(state(text), want, "{text}");
        }
    }
}
