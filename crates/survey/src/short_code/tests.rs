use super::CodeStyle::{CommonInitials, ThreePlusThree, TwoPlusTwo};
use super::*;
use crate::catalogue::Catalogue;
use std::collections::BTreeSet;

#[test]
fn codes_of_single_taxa() {
    let table = [
        (TwoPlusTwo, "Ceratophyllum demersum", "coontail", "CEDE"),
        (ThreePlusThree, "Ceratophyllum demersum", "coontail", "CERDEM"),
        (CommonInitials, "Ceratophyllum demersum", "coontail", "CO"),
        (CommonInitials, "Potamogeton crispus", "curly-leaf pondweed", "CLP"),
        (CommonInitials, "Myriophyllum spicatum", "Eurasian watermilfoil", "EWM"),
        (CommonInitials, "Myriophyllum spicatum", "Eurasian water-milfoil", "EWM"),
        (CommonInitials, "Bidens beckii", "Beck's water-marigold", "BWM"),
        (CommonInitials, "Chara", "muskgrass", "CHAR"),
        (TwoPlusTwo, "Chara spp.", "muskgrass", "CHAR"),
        (ThreePlusThree, "Chara", "muskgrass", "CHARA"),
        (ThreePlusThree, "Potamogeton sp.", "pondweed", "POTAMO"),
        (TwoPlusTwo, "Typha × glauca", "hybrid cattail", "TYXG"),
        (ThreePlusThree, "Myriophyllum spicatum x sibiricum", "", "MYRXSI"),
        (ThreePlusThree, "Phragmites australis subsp. americanus", "", "PHRAME"),
        (TwoPlusTwo, "Isoëtes lacustris", "lake quillwort", "ISLA"),
        (TwoPlusTwo, "Hydrocharis morsus-ranae", "European frogbit", "HYMO"),
        (TwoPlusTwo, "", "sago pondweed", "SP"),
        (CommonInitials, "Lobelia dortmanna", "", "LODO"),
        (TwoPlusTwo, "", "", "UN-1"),
        (CommonInitials, "", "unknown pondweed", "UN-1"),
        (ThreePlusThree, "Unknown", "Unknown", "UN-1"),
        (CommonInitials, "", "水草", "UN-1"),
        // `NA` and `NAN` are what statistics programs write for no value
        (CommonInitials, "", "northern arum", "NOA"),
        (CommonInitials, "", "nannyberry", "NANN"),
    ];
    for (style, scientific, common, want) in table {
        let got = propose(style, scientific, common, |_| false);
        assert_eq!(got, want, "{style}: {scientific} / {common}");
    }
}

#[test]
fn clashes_take_more_letters_and_then_a_digit() {
    let table = [
        (TwoPlusTwo, "Potamogeton pulcher", "", vec!["POPU"], "POPUL"),
        (TwoPlusTwo, "Potamogeton pusillus", "", vec!["POPU", "POPUL"], "POPUS"),
        (ThreePlusThree, "Potamogeton pusillus", "", vec!["POTPUS"], "POTPUSI"),
        (CommonInitials, "", "sago pondweed", vec!["SP"], "SAP"),
        (CommonInitials, "", "sago pondweed", vec!["SP", "SAP", "SAGP", "SAGOP"], "SPO"),
        (TwoPlusTwo, "Chara", "", vec!["CHAR"], "CHARA"),
        (TwoPlusTwo, "Chara", "", vec!["CHAR", "CHARA"], "CHAR2"),
        (TwoPlusTwo, "", "", vec!["UN-1", "UN-2"], "UN-3"),
    ];
    for (style, scientific, common, taken, want) in table {
        let got = propose(style, scientific, common, |code| taken.contains(&code));
        assert_eq!(got, want, "{style}: {scientific} / {common} with {taken:?}");
    }
}

#[test]
fn the_whole_catalogue_gets_unique_codes_in_every_style() {
    for style in CodeStyle::ALL {
        let mut taken = BTreeSet::new();
        for taxon in Catalogue::builtin().taxa() {
            let code = propose(style, taxon.scientific_name, taxon.common_name, |code| {
                taken.contains(code)
            });
            let legal = code.bytes().all(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit());
            assert!(legal && (2..=LONGEST).contains(&code.len()), "{code}");
            assert!(!is_misread(&code), "{code}");
            assert!(taken.insert(code.clone()), "{style}: `{code}` twice");
        }
        assert_eq!(taken.len(), Catalogue::builtin().taxa().len());
    }
}

#[test]
fn a_thousand_unknowns_and_a_thousand_namesakes_stay_apart() {
    for (scientific, common) in [("", ""), ("Potamogeton pusillus", "small pondweed")] {
        let mut taken = BTreeSet::new();
        for _ in 0..1_000 {
            let code = propose(TwoPlusTwo, scientific, common, |code| taken.contains(code));
            assert!(code.len() <= LONGEST);
            assert!(taken.insert(code));
        }
    }
}

#[test]
fn dates_and_missing_values_are_no_codes() {
    for code in ["NA", "NAN", "SEP", "SEP2", "MAR10", "TRUE"] {
        assert!(is_misread(code), "{code}");
    }
    for code in ["MARQUA", "NAFL", "SEPX"] {
        assert!(!is_misread(code), "{code}");
    }
}

#[test]
fn styles_are_read_by_key() {
    for style in CodeStyle::ALL {
        assert_eq!(style.key().parse(), Ok(style));
    }
    assert_eq!("2 + 2".parse(), Ok(TwoPlusTwo));
    assert_eq!(
        "4+4".parse::<CodeStyle>().unwrap_err().to_string(),
        "code style `4+4` is not known, expected `initials`, `2+2` or `3+3`"
    );
}
