"""Richness, diversity and coefficients of conservatism beside the US EPA's own figures."""

import csv
import re
from collections import defaultdict

import pytest

from open_data import open_data
from surveys import simpson


@pytest.fixture(scope="module")
def wetlands():
    """Eight sites of the National Wetland Condition Assessment: plot and species, cover above nought."""
    path = open_data("nwca-diversity-reference", "sites_plots_species_cover.csv")
    found = defaultdict(set)
    with open(path, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if float(row["COVER"]) > 0:
                found[row["UID"]].add((row["PLOT"], row["USDA_NAME"]))
    return found


@pytest.fixture(scope="module")
def agency():
    path = open_data("nwca-diversity-reference", "expected_metrics_long.csv")
    with open(path, encoding="utf-8", newline="") as file:
        return {(row["UID"], row["PARAMETER"]): row["RESULT"] for row in csv.DictReader(file)}


def test_eight_wetlands_hold_as_many_species_as_the_agency_counted(quillwort, wetlands, agency):
    """US EPA, National Wetland Condition Assessment, metric TOTN_SPP (test data of aquametNWCA, CC0).

    Its D_ALL and FQAI_ALL rest on summed cover and on C values of all plants; the program's Simpson
    rests on occurrences and its catalogue holds water plants, so those are checked where the same
    arithmetic is (the tests of the `findings` crate reproduce them from the covers). Here Simpson
    is worked out from the plots each species was in.
    """
    assert len(wetlands) == 8
    book = quillwort.book("Wetlands")
    for uid, occurrences in wetlands.items():
        table = quillwort.folder / f"wetland-{uid}.csv"
        with open(table, "w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(["site", "species", "how_seen"])
            writer.writerows((plot, species, "rake") for plot, species in sorted(occurrences))
        quillwort(
            "record", book, table, "--survey", uid, "--new-taxa", "--scale", "presence",
            "--date", "2011-07-01",
        )
        found = quillwort.json("findings", book, "--survey", uid)
        assert found["richness"]["rake"] == int(agency[uid, "TOTN_SPP"]), uid
        counts = defaultdict(int)
        for _, species in occurrences:
            counts[species] += 1
        assert found["simpson"] == pytest.approx(simpson(*counts.values()), abs=1e-9), uid
        plots = len({plot for plot, _ in occurrences})
        assert found["sites"]["sampled"] == plots
        assert found["species_per_site"]["vegetated_mean"] == pytest.approx(
            len(occurrences) / plots, abs=1e-9
        )


WATER_PLANTS = [
    "Ceratophyllum demersum", "Elodea canadensis", "Heteranthera dubia", "Lemna minor",
    "Myriophyllum sibiricum", "Najas flexilis", "Nymphaea odorata", "Potamogeton zosteriformis",
    "Stuckenia pectinata", "Vallisneria americana", "Wolffia columbiana", "Potamogeton natans",
    "Potamogeton gramineus", "Brasenia schreberi", "Utricularia vulgaris", "Potamogeton crispus",
    "Myriophyllum spicatum",
]


# Where the agency lists one plant of ours under another name.
LISTED_AS = {"UTRICULARIA VULGARIS": "UTRICULARIA MACRORHIZA"}


@pytest.mark.parametrize("state", ["WI", "MN", "MI", "CA"])
def test_coefficients_of_conservatism_are_those_of_the_epa_s_tables(quillwort, state):
    """US EPA, National Wetland Condition Assessment: C values 2011 by state, 2016 by region (public
    domain). Floristic quality is the mean C of the natives that have one, times the root of their
    number: Nichols (1999), Lake and Reservoir Management 15: 133-141."""
    book = quillwort.book(f"C-{state}", "--region", state)
    table = quillwort.folder / f"c-{state}.csv"
    rows = "".join(f"1,{species},rake\n" for species in WATER_PLANTS)
    table.write_text(f"site,species,how_seen\n{rows}", encoding="utf-8")
    quillwort(
        "record", book, table, "--survey", "all", "--new-taxa", "--scale", "presence",
        "--date", "2011-07-01",
    )
    found = quillwort.json("findings", book, "--survey", "all")
    quality = found["floristic_quality"]
    published = published_c(quality["c_table"])
    with_c = {}
    for one in found["taxa"]:
        name = one["scientific_name"].upper()
        expected = published.get(LISTED_AS.get(name, name))
        if one["c"] is not None:
            assert one["c"] == expected, one["scientific_name"]
        if one["origin"] == "native" and one["c"] is not None:
            with_c[one["scientific_name"]] = one["c"]
    assert len(with_c) >= 5
    assert quality["n"] == len(with_c)
    mean = sum(with_c.values()) / len(with_c)
    assert quality["mean_c"] == pytest.approx(mean, abs=1e-12)
    assert quality["fqi"] == pytest.approx(sum(with_c.values()) / len(with_c) ** 0.5, abs=1e-12)
    natives = {one["scientific_name"] for one in found["taxa"] if one["origin"] == "native"}
    assert set(quality["without_c"]) == natives - set(with_c)


def published_c(named):
    """C by name of the one table and region the program says it read."""
    region = re.search(r"[A-Z_]+$", named)[0]
    if "2011" in named:
        file, name, value = "ccNat_2011_by_state.csv", "USDA_NAME", "NWCA_CC"
    else:
        file, name, value = "cval_2016_by_region.csv", "NWCA_NAME", "NWCA_CVAL"
    found = {}
    with open(open_data("nwca-cvalues", file), encoding="utf-8-sig", newline="") as table:
        for row in csv.DictReader(table):
            if row["GEOG_ID"] == region and re.fullmatch(r"10|\d", row[value] or ""):
                found[row[name]] = float(row[value])
    return found
