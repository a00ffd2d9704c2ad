"""Two surveys side by side: counts from the sheets, tests by SciPy and statsmodels."""

import csv

import pytest

import surveys
from test_findings import NAMED, by_name


@pytest.fixture(scope="module")
def compared(quillwort, delta_book):
    book, tables = delta_book
    view = quillwort.json("compare", book, "--from", "2017-Pre", "--to", "2017-Post")
    return view, tables["2017-Pre"], tables["2017-Post"]


def ways(before, after, name):
    """Of the points sampled both times: found both times, before only, after only, never."""
    both = lost = gained = neither = 0
    for code, first in before.items():
        second = after[code]
        if not (first.sampled and second.sampled):
            continue
        was = name in first.ratings if name else bool(first.ratings)
        now = name in second.ratings if name else bool(second.ratings)
        both += was and now
        lost += was and not now
        gained += now and not was
        neither += not was and not now
    return both, lost, gained, neither


def check_paired(one, counts):
    both, lost, gained, neither = counts
    n = sum(counts)
    assert (one["from"]["k"], one["from"]["n"]) == (both + lost, n)
    assert (one["to"]["k"], one["to"]["n"]) == (both + gained, n)
    for side, k in (("from", both + lost), ("to", both + gained)):
        low, high = surveys.wilson(k, n)
        assert one[side]["p"] == pytest.approx(k / n, abs=1e-12)
        assert one[side]["low"] == pytest.approx(low, abs=1e-9)
        assert one[side]["high"] == pytest.approx(high, abs=1e-9)
    value, low, high = surveys.paired_difference(*counts)
    assert one["difference"]["value"] == pytest.approx(value, abs=1e-12)
    assert one["difference"]["low"] == pytest.approx(low, abs=1e-9)
    assert one["difference"]["high"] == pytest.approx(high, abs=1e-9)
    assert (one["lost"], one["gained"]) == (lost, gained)
    assert one["test"] == "McNemar mid-p"
    assert one["p"] == pytest.approx(surveys.mcnemar_mid_p(gained, lost), rel=1e-9, abs=1e-15)
    expected = surveys.detectable_same_sites(*counts)
    if expected is None:
        assert one["detectable"] is None
    else:
        assert one["detectable"] == pytest.approx(expected, abs=1e-6)


def test_each_taxon_of_the_delta_is_tested_on_the_points_raked_both_times(compared):
    view, before, after = compared
    assert view["design"] == "paired"
    pairs = sum(one.sampled and after[code].sampled for code, one in before.items())
    assert view["pairs"] == pairs
    check_paired(view["any"], ways(before, after, None))
    taxa = by_name(view["taxa"])
    points = [*before.values(), *after.values()]
    headers = {name for one in points if one.sampled for name in one.ratings}
    assert set(taxa) == {NAMED[name] for name in headers}
    for name in headers:
        check_paired(taxa[NAMED[name]], ways(before, after, name))


def test_p_values_are_adjusted_for_all_taxa_that_were_tested(compared):
    """Benjamini & Hochberg (1995), by statsmodels, from p values of our own."""
    view, before, after = compared
    names = {latin: header for header, latin in NAMED.items()}
    taxa = view["taxa"]
    raw = []
    for one in taxa:
        _, lost, gained, _ = ways(before, after, names[one["scientific_name"]])
        raw.append(surveys.mcnemar_mid_p(gained, lost))
    for one, expected in zip(taxa, surveys.benjamini_hochberg(*raw), strict=True):
        assert one["p_adjusted"] == pytest.approx(expected, rel=1e-9, abs=1e-15)
        moved = one["difference"]["value"]
        verdict = "cannot tell" if expected > 0.05 else "rose" if moved > 0 else "fell"
        assert one["verdict"] == verdict, one["code"]


def test_what_differs_between_the_delta_surveys_is_said_first(compared):
    """March to May, then September to November: plants come and go with the season."""
    view, _, _ = compared
    kinds = {one["kind"] for one in view["warnings"]}
    assert "season" in kinds
    assert "scale" in kinds  # one density of 5 stands in the first sheet only


def record(quillwort, book, name, prefix, counts, sites):
    """A survey in which each species came up at so many of the sites."""
    table = quillwort.folder / f"{book}-{name}.csv"
    with open(table, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["site", "depth_m", *counts])
        for number in range(sites):
            cells = ["1" if number < k else "0" for k in counts.values()]
            writer.writerow([f"{prefix}{number + 1}", "1.5", *cells])
    quillwort(
        "record", book, table, "--survey", name, "--new-taxa", "--new-scale",
        "--date", "2002-07-15",
    )


def test_surveys_of_different_sites_are_compared_as_different_ones(quillwort):
    """U.S. Geological Survey, Long Term Resource Monitoring, 2002 table 6, Pool 12: coontail at 31 of
    120 and 12 of 81 sites of two strata, p 0.061693 by Pearson's test (recomputed with SciPy). Beside it
    a count small enough for Fisher's test, and one that changed."""
    book = quillwort.book("Strata")
    first = {"Ceratophyllum demersum": 31, "Elodea canadensis": 2, "Najas flexilis": 60}
    second = {"Ceratophyllum demersum": 12, "Elodea canadensis": 10, "Najas flexilis": 20}
    record(quillwort, book, "first", "a", first, 120)
    record(quillwort, book, "second", "b", second, 81)
    view = quillwort.json("compare", book, "--from", "first", "--to", "second")
    assert view["design"] == "independent"
    taxa = by_name(view["taxa"])
    raw = []
    for name, k1 in first.items():
        one, k2 = taxa[name], second[name]
        test, p = surveys.two_proportions(k1, 120, k2, 81)
        raw.append((name, p))
        assert one["test"] == test
        assert one["p"] == pytest.approx(p, rel=1e-9)
        value, low, high = surveys.independent_difference(k1, 120, k2, 81)
        assert one["difference"]["value"] == pytest.approx(value, abs=1e-12)
        assert one["difference"]["low"] == pytest.approx(low, abs=1e-9)
        assert one["difference"]["high"] == pytest.approx(high, abs=1e-9)
        corrected = test == "Fisher exact"
        expected = surveys.detectable_different_sites(k1, 120, 81, corrected)
        assert one["detectable"] == pytest.approx(expected, abs=1e-6)
    assert taxa["Ceratophyllum demersum"]["p"] == pytest.approx(0.061693, abs=5e-7)
    assert taxa["Elodea canadensis"]["test"] == "Fisher exact"
    adjusted = surveys.benjamini_hochberg(*(p for _, p in raw))
    for (name, _), expected in zip(raw, adjusted, strict=True):
        assert taxa[name]["p_adjusted"] == pytest.approx(expected, rel=1e-9)
