use super::table::{CONSERVATISM, ORIGIN, TAXA};
use super::*;
use std::collections::BTreeSet;

fn catalogue() -> &'static Catalogue {
    Catalogue::builtin()
}

fn found(name: &str) -> Option<&'static str> {
    catalogue().find(name).map(|taxon| taxon.scientific_name)
}

#[test]
fn every_row_of_the_tables_is_read() {
    let rows = |text: &str| text.lines().count() - 1;
    let catalogue = catalogue();
    assert_eq!(catalogue.taxa.len(), rows(TAXA));
    assert_eq!(catalogue.origins.len(), rows(ORIGIN));
    assert_eq!(catalogue.conservatism.len(), rows(CONSERVATISM));
    assert_eq!((rows(TAXA), rows(ORIGIN), rows(CONSERVATISM)), (252, 1_745, 2_582));
    let unread = |form, rank| form == GrowthForm::Unknown || rank == Rank::Unidentified;
    for taxon in catalogue.taxa() {
        assert!(!unread(taxon.growth_form, taxon.rank), "{}", taxon.scientific_name);
        assert!(!taxon.provenance.is_empty() && !taxon.family.is_empty());
    }
    let second = TAXA.lines().skip(1).filter(|line| !line.split(',').nth(5).unwrap().is_empty());
    assert_eq!(
        second.count(),
        catalogue.taxa().iter().filter(|taxon| taxon.second_form.is_some()).count()
    );
    assert!(ORIGIN.lines().skip(1).all(|line| {
        let word = line.split(',').nth(2).unwrap();
        word.parse::<Origin>().is_ok() && !line.ends_with(',')
    }));
    assert!(catalogue.conservatism.values().all(|one| one.value <= 10));
}

#[test]
fn every_name_finds_its_taxon() {
    let mut shared = BTreeSet::new();
    for taxon in catalogue().taxa() {
        for name in taxon.names() {
            for spelling in [name.to_owned(), name.to_uppercase(), name.replace(' ', "  ")] {
                let all = catalogue().find_all(&spelling);
                assert!(all.contains(&taxon), "{spelling}");
                if all.len() > 1 {
                    shared.insert(name);
                    assert_eq!(catalogue().find(&spelling), None, "{spelling}");
                } else {
                    assert_eq!(catalogue().find(&spelling), Some(taxon), "{spelling}");
                }
            }
        }
        for name in [taxon.scientific_name, taxon.common_name] {
            assert_eq!(found(name), Some(taxon.scientific_name), "{name}");
        }
    }
    // said of Potamogeton richardsonii and of P. perfoliatus
    assert_eq!(shared.into_iter().collect::<Vec<_>>(), ["clasping-leaf pondweed"]);
}

/// Old names from memory.
#[test]
fn names_are_found_as_people_write_them() {
    let table = [
        ("potamogeton pectinatus", Some("Stuckenia pectinata")),
        ("Elodea densa", Some("Egeria densa")),
        ("Polygonum amphibium", Some("Persicaria amphibia")),
        ("Scirpus acutus", Some("Schoenoplectus acutus")),
        ("Megalodonta beckii", Some("Bidens beckii")),
        ("Zosterella dubia", Some("Heteranthera dubia")),
        ("Utricularia macrorhiza", Some("Utricularia vulgaris")),
        ("White Waterlily", Some("Nymphaea odorata")),
        ("eurasian water-milfoil", Some("Myriophyllum spicatum")),
        ("Chara sp.", Some("Chara")),
        ("Chara", Some("Chara")),
        ("muskgrass species", Some("Chara")),
        ("Nitella_sp", Some("Nitella")),
        ("Potamogeton spp.", Some("Potamogeton")),
        ("Potamogeton sp. 2", Some("Potamogeton")),
        ("Typha x glauca", Some("Typha × glauca")),
        ("Typha xglauca", Some("Typha × glauca")),
        ("Myriophyllum spicatum × sibiricum", Some("Myriophyllum spicatum × sibiricum")),
        ("PHRAGMITES AUSTRALIS SSP. AMERICANUS", Some("Phragmites australis subsp. americanus")),
        ("filamentous_algae", Some("Filamentous algae")),
        ("Vallisneria_australis", Some("Vallisneria australis")),
        ("coontail sp.", None),
        ("Sago PW", Some("Stuckenia pectinata")),
        ("Threadleaf PW", Some("Stuckenia filiformis")),
        ("hydrilla", Some("Hydrilla verticillata")),
        ("Cladophora sp.", Some("Filamentous algae")),
        ("P. crispus", None),
        ("Quercus alba", None),
        ("", None),
        ("sp.", None),
    ];
    for (name, want) in table {
        assert_eq!(found(name), want, "{name}");
    }
}

#[test]
fn near_misses_are_suggested() {
    let table = [
        ("Potomageton crispus", "Potamogeton crispus"),
        ("Ceratophylum demersum", "Ceratophyllum demersum"),
        ("cootnail", "Ceratophyllum demersum"),
        ("P. crispus", "Potamogeton crispus"),
        ("C demersum", "Ceratophyllum demersum"),
        ("eurasian milfoil", "Myriophyllum spicatum"),
        ("Egeria dens", "Egeria densa"),
        ("P. pusilus", "Potamogeton pusillus"),
        ("EU milfoil", "Myriophyllum"),
        ("Naiads", "Najas"),
        ("water lilly", "Nymphaea"),
    ];
    for (name, want) in table {
        let first = catalogue().suggest(name, 3).first().map(|one| one.taxon.scientific_name);
        assert_eq!(first, Some(want), "{name}");
    }
    assert!(catalogue().suggest("", 5).is_empty());
    assert!(catalogue().suggest("zzzzzzzzzzzz", 5).is_empty());
    assert_eq!(catalogue().suggest("Potamogeton", 4).len(), 4);
    let both: Vec<_> = catalogue()
        .suggest("clasping leaf pondwed", 5)
        .iter()
        .map(|one| one.taxon.scientific_name)
        .collect();
    assert_eq!(both, ["Potamogeton perfoliatus", "Potamogeton richardsonii"]);
}

/// Sources: US EPA NWCA native status by state, 2016 and 2011 (data of aquametNWCA); rows of the
/// US in general and those said to be so from memory.
#[test]
fn origins_depend_on_the_region() {
    use Origin::{Introduced, Native, Unknown};
    let table = [
        ("Ceratophyllum demersum", "WI", Native, "WI"),
        ("Ceratophyllum demersum", "Wisconsin", Native, "WI"),
        ("Typha angustifolia", "WI", Introduced, "WI"),
        ("Phalaris arundinacea", "WI", Unknown, "WI"),
        ("Potamogeton crispus", "HI", Introduced, "US"),
        // from memory
        ("Myriophyllum heterophyllum", "ME", Introduced, "ME"),
        ("Myriophyllum heterophyllum", "WI", Native, "US"),
        ("Cabomba caroliniana", "MI", Introduced, "US"),
        ("Najas marina", "MN", Introduced, "MN"),
        ("Najas marina", "CA", Native, "CA"),
        ("Nymphaea odorata", "nowhere", Native, "US"),
        ("Potamogeton pectinatus", "US", Native, "US"),
        ("Filamentous algae", "MI", Unknown, "US"),
    ];
    for (name, region, origin, of) in table {
        let fact = catalogue().origin(name, region).unwrap();
        assert_eq!((fact.origin, fact.region), (origin, of), "{name} in {region}");
        assert!(!fact.source.is_empty());
    }
    assert_eq!(catalogue().origin("Quercus alba", "WI"), None);
    for taxon in catalogue().taxa() {
        assert!(catalogue().origin(taxon.scientific_name, "US").is_some());
    }
}

/// Source: 7 CFR 360.200, federal noxious weeds, from memory.
#[test]
fn the_federal_list_is_kept_apart_from_origin() {
    let listed: Vec<_> = catalogue()
        .taxa()
        .iter()
        .filter(|taxon| !catalogue().origin(taxon.scientific_name, "US").unwrap().listed.is_empty())
        .map(|taxon| taxon.scientific_name)
        .collect();
    assert_eq!(listed, ["Hydrilla verticillata", "Lagarosiphon major", "Salvinia molesta"]);
    // a state's own row keeps the federal mark
    for taxon in listed {
        for region in REGIONS {
            let fact = catalogue().origin(taxon, region.code).unwrap();
            assert_eq!(fact.listed, "federal noxious weed", "{taxon} in {}", region.code);
        }
    }
}

/// Source: US EPA NWCA, C values 2011 by state (ccNat) and 2016 by region, data of aquametNWCA.
#[test]
fn coefficients_are_those_of_the_tables() {
    const STATE: &str = "nwca-2011-state";
    const REGION: &str = "nwca-2016-region";
    let table = [
        ("Potamogeton gramineus", "MN", STATE, Some(7)),
        ("Potamogeton zosteriformis", "MN", STATE, Some(6)),
        ("Potamogeton pusillus", "MN", STATE, Some(7)),
        ("Potamogeton pusillus", "NY_GLHL", REGION, Some(5)),
        ("Potamogeton amplifolius", "MI", STATE, Some(6)),
        ("Potamogeton amplifolius", "MN", STATE, Some(7)),
        ("Potamogeton amplifolius", "WI", REGION, Some(7)),
        ("Potamogeton amplifolius", "WI", STATE, None),
        ("Potamogeton natans", "MI", STATE, Some(5)),
        ("Potamogeton natans", "Minnesota", STATE, Some(5)),
        ("Stuckenia pectinata", "MN", STATE, Some(3)),
        ("Ceratophyllum demersum", "MI", STATE, Some(1)),
        ("Ceratophyllum demersum", "MN", STATE, Some(2)),
        ("Ceratophyllum demersum", "WI", STATE, Some(3)),
        ("Ceratophyllum demersum", "ny_glhl", REGION, Some(3)),
        ("Ceratophyllum demersum", "NY", REGION, None),
        ("Persicaria amphibia", "WI", STATE, Some(5)),
        ("Polygonum amphibium", "MI", STATE, Some(6)),
        ("Spirodela polyrhiza", "WI", STATE, Some(5)),
        ("Vallisneria americana", "MI", REGION, Some(7)),
        ("Brasenia schreberi", "WI", STATE, Some(6)),
        ("Brasenia schreberi", "WI", "some other table", None),
        ("Typha angustifolia", "WI", STATE, Some(0)),
        // undetermined in the table
        ("Chara", "OH_OTH", REGION, None),
        ("Quercus alba", "WI", STATE, None),
    ];
    for (name, region, key, want) in table {
        let got = catalogue().conservatism(name, region, key);
        assert_eq!(got.map(|one| one.value), want, "{name} in {region} by {key}");
        assert!(got.is_none_or(|one| one.table.key == key));
    }
    let smartweed = catalogue().conservatism("Persicaria amphibia", "WI", STATE).unwrap();
    assert_eq!(smartweed.listed_as, "polygonum amphibium");
    let held = Conservatism::from(smartweed);
    assert_eq!(held.value.to_bits(), 5.0_f64.to_bits());
    assert_eq!(
        held.table,
        "US EPA National Wetland Condition Assessment 2011, C values by state, WI"
    );
}

#[test]
fn tables_name_their_regions() {
    let states = catalogue().conservatism_regions("nwca-2011-state");
    assert_eq!(states.len(), 48);
    assert!(states.iter().all(|state| region::state(state) == Some(state)));
    let regions = catalogue().conservatism_regions("nwca-2016-region");
    assert!(regions.contains(&"WI") && regions.contains(&"NY_GLHL") && !regions.contains(&"NY"));
    assert!(catalogue().conservatism_regions("none").is_empty());
    for one in &regions {
        assert!(region::state(&one[..2]).is_some(), "{one}");
    }
}

#[test]
fn only_names_that_were_read_say_so() {
    let read = catalogue().taxa().iter().filter(|taxon| taxon.provenance.contains("USGS LTRM"));
    assert_eq!(read.count(), 27);
    for taxon in catalogue().taxa() {
        assert!(taxon.provenance.contains("from memory"), "{}", taxon.scientific_name);
    }
}
