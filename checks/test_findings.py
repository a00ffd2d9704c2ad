"""What one survey says, worked out again from its table."""

import pytest

import surveys
import wingra
from surveys import frequency, simpson

TO_NINE_DIGITS = 1e-9


def check_frequency(found, k, n):
    expected = frequency(k, n)
    assert (found["k"], found["n"]) == (k, n)
    for name in ("p", "se", "low", "high"):
        if expected[name] is None:
            assert found[name] is None, name
        else:
            assert found[name] == pytest.approx(expected[name], abs=TO_NINE_DIGITS), name


def test_lake_wingra_2022_gives_the_agency_s_figures_where_its_columns_allow(quillwort, wingra_book):
    """Wisconsin Department of Natural Resources, summary row for 2022: sampled 423; with vegetation
    316; shallower than the deepest plant 419; frequency there 75.42 %; deepest plant 12.0 ft; species
    a site 1.62, where vegetated 2.15; native species a site 1.12, where native 1.55.

    The published columns hold counts of species, not names, so richness (19, with visuals 23) and
    Simpson (0.72) cannot be had from them. One of the agency's 316 vegetated sites has no species in
    the published columns: they give 315, and 75.18 %.
    """
    found = quillwort.json("findings", wingra_book, "--survey", "2022")
    sites = found["sites"]
    assert sites["sampled"] == 423
    assert found["littoral_sites"] == 419
    assert found["max_plant_depth_m"] == pytest.approx(12.0 * 0.3048, abs=1e-12)
    assert sites["vegetated"] == 315
    assert abs(sites["vegetated"] - 316) == 1
    assert 100 * found["frequency_any"]["littoral"]["p"] == pytest.approx(75.42, abs=0.25)
    means = found["species_per_site"]
    assert round(means["littoral_mean"], 2) == 1.62
    assert round(means["vegetated_mean"], 2) == 2.15
    assert round(means["native_littoral_mean"], 2) == 1.12
    # 1.5548 of the columns stands as 1.55
    assert round(means["native_where_native_mean"], 2) == 1.55
    assert found["simpson"] is None
    assert found["richness"]["rake"] == 0


def test_lake_wingra_2022_counts_by_hand(quillwort, wingra_book):
    """The same from the published table with sums of our own, intervals by statsmodels."""
    rows = wingra.published_rows()
    sampled = [row for row in rows if row[wingra.DEPTH]]
    vegetated = [row for row in sampled if int(row[wingra.SPECIES]) > 0]
    deepest = max(float(row[wingra.DEPTH]) for row in vegetated)
    littoral = [row for row in sampled if float(row[wingra.DEPTH]) <= deepest]
    found = quillwort.json("findings", wingra_book, "--survey", "2022")
    assert found["sites"]["planned"] == found["sites"]["visited"] == len(rows)
    check_frequency(found["frequency_any"]["all"], len(vegetated), len(sampled))
    inside = [row for row in vegetated if row in littoral]
    check_frequency(found["frequency_any"]["littoral"], len(inside), len(littoral))

    def mean(rows, column):
        return sum(int(row[column]) for row in rows) / len(rows)

    means = found["species_per_site"]
    with_natives = [row for row in sampled if int(row[wingra.NATIVES]) > 0]
    for name, expected in (
        ("littoral_mean", mean(littoral, wingra.SPECIES)),
        ("vegetated_mean", mean(vegetated, wingra.SPECIES)),
        ("native_littoral_mean", mean(littoral, wingra.NATIVES)),
        ("native_where_native_mean", mean(with_natives, wingra.NATIVES)),
    ):
        assert means[name] == pytest.approx(expected, abs=TO_NINE_DIGITS), name


def test_lake_wingra_2022_keeps_the_agency_s_reasons_for_not_sampling(quillwort, wingra_book):
    """As published: not navigable for plants 83, no information 33, temporary obstacle 2, swim area
    2; 423 and these 120 are the 543 points of the grid."""
    found = quillwort.json("findings", wingra_book, "--survey", "2022")
    assert found["sites"]["not_sampled"] == {
        "not-navigable-plants": 83,
        "no-information": 33,
        "temporary-obstacle": 2,
        "swim-area": 2,
    }
    published = {}
    for row in wingra.published_rows():
        if not row[wingra.DEPTH]:
            reason = wingra.REASONS[row[-1]]
            published[reason] = published.get(reason, 0) + 1
    assert found["sites"]["not_sampled"] == published


@pytest.fixture(scope="module", params=["2017-Pre", "2017-Post"])
def delta_survey(request, quillwort, delta_book):
    book, tables = delta_book
    return quillwort.json("findings", book, "--survey", request.param), tables[request.param]


# Headers of the sheets whose plants the program lists under another name.
NAMED = {
    "Egeria": "Egeria",
    "CLP": "Potamogeton crispus",
    "Coontail": "Ceratophyllum demersum",
    "EU Milfoil": "EU Milfoil",
    "Fanwort": "Cabomba caroliniana",
    "Sago PW": "Stuckenia pectinata",
    "Richard sons PW": "Potamogeton richardsonii",
    "Thread leaf PW": "Stuckenia filiformis",
    "Elodea": "Elodea",
    "Naiads": "Naiads",
}


def by_name(taxa):
    return {one["scientific_name"]: one for one in taxa}


def test_every_figure_of_the_delta_surveys_is_that_of_their_sheets(delta_survey):
    """California State Parks, Division of Boating and Waterways, 2017 before and after: 395 points, ten
    kinds of plant, densities 1 to 4 (one 5)."""
    found, points = delta_survey
    sampled = [one for one in points.values() if one.sampled]
    vegetated = [one for one in sampled if one.ratings]
    deepest = max(one.depth_m for one in vegetated if one.depth_m is not None)

    def is_littoral(point):
        return point.depth_m is not None and point.depth_m <= deepest + 1e-9

    littoral = [one for one in sampled if is_littoral(one)]
    assert found["sites"]["visited"] == len(points) == 395
    assert found["sites"]["sampled"] == len(sampled)
    assert found["sites"]["vegetated"] == len(vegetated)
    assert found["sites"]["not_sampled"] == {"no-information": len(points) - len(sampled)}
    assert found["max_plant_depth_m"] == pytest.approx(deepest, abs=TO_NINE_DIGITS)
    assert found["littoral_sites"] == len(littoral)
    assert found["sites_without_depth"] == sum(one.depth_m is None for one in sampled)
    check_frequency(found["frequency_any"]["all"], len(vegetated), len(sampled))
    check_frequency(
        found["frequency_any"]["littoral"], sum(bool(o.ratings) for o in littoral), len(littoral)
    )
    means = found["species_per_site"]
    species = [len(one.ratings) for one in littoral]
    assert means["littoral_mean"] == pytest.approx(sum(species) / len(species), abs=1e-9)
    species = [len(one.ratings) for one in vegetated]
    assert means["vegetated_mean"] == pytest.approx(sum(species) / len(species), abs=1e-9)

    headers = {name for one in sampled for name in one.ratings}
    taxa = by_name(found["taxa"])
    assert set(taxa) == {NAMED[name] for name in headers}
    assert found["richness"]["rake"] == len(headers)
    occurrences = {name: sum(name in one.ratings for one in sampled) for name in headers}
    assert found["simpson"] == pytest.approx(simpson(*occurrences.values()), abs=1e-9)
    for name in headers:
        one = taxa[NAMED[name]]
        there = [point for point in sampled if name in point.ratings]
        assert one["sites"] == len(there)
        shares = one["frequency"]
        check_frequency(shares["all"], len(there), len(sampled))
        check_frequency(shares["littoral"], sum(map(is_littoral, there)), len(littoral))
        check_frequency(shares["vegetated"], len(there), len(vegetated))
        share = len(there) / sum(occurrences.values())
        assert one["relative_frequency"] == pytest.approx(share, abs=1e-9)
        ratings = [point.ratings[name] for point in there]
        assert one["mean_rating"] == pytest.approx(sum(ratings) / len(ratings), abs=1e-9)
        counted = {step["code"]: step["sites"] for step in one["ratings"]}
        for rating in range(1, 5):
            assert counted[str(rating)] == ratings.count(rating)
        depths = [point.depth_m for point in there if point.depth_m is not None]
        assert one["max_depth_m"] == pytest.approx(max(depths), abs=1e-9) if depths else True
        assert sum(step["found"] for step in one["depths"]) == len(depths)


def test_the_relative_frequencies_of_a_survey_sum_to_one(delta_survey):
    found, _ = delta_survey
    shares = [one["relative_frequency"] for one in found["taxa"]]
    assert sum(shares) == pytest.approx(1.0, abs=1e-12)


def test_the_reference_itself_reproduces_the_published_figures():
    """Newcombe (1998), Statistics in Medicine 17: 857-872, table I (from memory, recomputed); U.S.
    Geological Survey, Long Term Resource Monitoring, vegetation tables: 24 of 74 is 32.4 +- 5.5."""
    assert surveys.wilson(81, 263) == pytest.approx((0.25529, 0.36621), abs=5e-6)
    assert surveys.wilson(0, 20) == pytest.approx((0.0, 0.16113), abs=5e-6)
    assert 100 * surveys.standard_error(24, 74) == pytest.approx(5.5, abs=0.05)
