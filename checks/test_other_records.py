"""Rake records that others keep, read with no help but a column map: counts and intervals by other means.

University of California Davis, Delta ground truth 2007-2021 (EDI 892, 1376); California State Parks,
monthly samples of a fluridone trial 2017-2018 (EDI 1376); North Temperate Lakes LTER, macrophytes of
the Madison lakes 1995-2023 (knb-lter-ntl.24).
"""

import csv

import pandas
import pytest
from statsmodels.stats.proportion import proportion_confint

from open_data import open_data


def recorded(quillwort, folder, rows, survey, *options):
    program = quillwort.at(folder)
    book = program.book("other", "--units", "metric")
    rows.to_csv(folder / "rows.csv", index=False, quoting=csv.QUOTE_MINIMAL)
    program("record", book, "rows.csv", "--survey", survey, "--new-taxa", "--new-scale", *options)
    return program.json("findings", book, "--survey", survey)


def holds_the_counts(findings, rows):
    """Each plant at as many samples as the table says, with the interval of a library."""
    samples = rows["sample_id"].nunique()
    assert findings["sites"]["sampled"] == samples
    counts = rows[rows["species_incidence"] == 1].groupby("species_code")["sample_id"].nunique()
    found = {taxon["code"]: taxon for taxon in findings["taxa"] if taxon["sites"]}
    assert {code: taxon["sites"] for code, taxon in found.items()} == counts.to_dict()
    for code, taxon in found.items():
        share = taxon["frequency"]["all"]
        low, high = proportion_confint(counts[code], samples, method="wilson")
        assert (share["k"], share["n"]) == (counts[code], samples)
        assert share["low"] == pytest.approx(low, abs=1e-9)
        assert share["high"] == pytest.approx(high, abs=1e-9)
    once, twice = (counts == 1).sum(), (counts == 2).sum()
    factor = (samples - 1) / samples
    chao = len(counts) + factor * once * (once - 1) / (2 * (twice + 1))
    if twice > 0 and once > 0:
        chao_classic = len(counts) + factor * once**2 / (2 * twice)
    else:
        chao_classic = chao
    value = findings["richness"]["chao2"]["value"]
    assert value == pytest.approx(chao, rel=1e-9) or value == pytest.approx(chao_classic, rel=1e-9)


@pytest.mark.parametrize("year", [2007, 2014, 2018, 2021])
def test_a_year_of_points_in_the_delta(quillwort, tmp_path, year):
    rows = pandas.read_csv(open_data("delta-cstars-rake", "cstars_flatfile.csv"), dtype=str)
    rows = rows[rows["sample_date"].str.startswith(str(year))]
    findings = recorded(quillwort, tmp_path, rows, f"{year}-points")
    holds_the_counts(findings, rows.assign(species_incidence=rows["species_incidence"].astype(int)))


@pytest.mark.parametrize("month", ["2017-05", "2017-09", "2018-04", "2018-12"])
def test_a_month_of_the_fluridone_trial(quillwort, tmp_path, month):
    rows = pandas.read_csv(open_data("delta-dsrs-fluridone", "dsrs_flatfile.csv"), dtype=str)
    rows = rows[rows["sample_date"].str.startswith(month)]
    if rows.empty:
        pytest.skip(f"no samples in {month}")
    findings = recorded(quillwort, tmp_path, rows, f"{month}-trial")
    holds_the_counts(findings, rows.assign(species_incidence=rows["species_incidence"].astype(int)))


@pytest.mark.parametrize("lake, year", [("WI", 2003), ("WI", 2010), ("ME", 2012), ("FI", 2001)])
def test_a_year_of_transects_in_madison(quillwort, tmp_path, lake, year):
    rows = pandas.read_csv(open_data("ntl-madison-macrophytes", "ntl_macrophyte.csv"), dtype=str)
    rows = rows[(rows["lakeid"] == lake) & (rows["year4"] == str(year))]
    (tmp_path / "map.toml").write_text('[columns]\nsite = ["transect", "depth"]\n')
    findings = recorded(
        quillwort, tmp_path, rows, f"{year}-transects", "--columns", "map.toml", "--unit", "m"
    )
    stations = rows.assign(rating=rows["rake_rating"].astype(float), depth=rows["depth"].astype(float))
    stations = stations.groupby(["transect", "depth"], as_index=False)["rating"].max()
    bare = stations[stations["rating"] > 0]
    assert findings["sites"]["sampled"] == len(stations)
    assert findings["sites"]["vegetated"] == len(bare)
    assert findings["max_plant_depth_m"] == pytest.approx(bare["depth"].max(), abs=1e-9)
    assert findings["littoral_sites"] == (stations["depth"] <= bare["depth"].max() + 1e-9).sum()
