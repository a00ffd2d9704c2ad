"""Estimates of the points in the Delta, and a kriged map, worked out again.

The Delta's tables are read by delta.py, not by the program. Communities are compared by scikit-bio, chances
are mapped by PyKrige with the variogram the program fitted.
"""

import json
import math

import numpy
import pykrige.ok
import pytest
import scipy.spatial.distance
import skbio.stats.distance

import estimates

EXACT = {"rel": 1e-9, "abs": 1e-9}


def letters(points):
    """Sampled points as strings, one letter a species, and the species in order."""
    sampled = {code: point for code, point in points.items() if point.sampled}
    species = sorted({name for point in sampled.values() for name in point.ratings})
    names = {name: chr(ord("A") + place) for place, name in enumerate(species)}
    return {c: "".join(sorted(names[n] for n in p.ratings)) for c, p in sampled.items()}


@pytest.fixture(scope="module", params=["2017-Pre", "2017-Post"])
def one(request, quillwort, delta_book):
    book, surveys = delta_book
    found = quillwort.json("findings", book, "--survey", request.param)
    return found, list(letters(surveys[request.param]).values())


def test_species_missed_in_the_delta(one):
    found, sites = one
    of = found["richness"]
    assert of["rake"] == len(set("".join(sites)))
    value, error, low, high = estimates.chao2(*sites)
    assert of["chao2"]["value"] == pytest.approx(value, **EXACT)
    assert of["chao2"]["se"] == pytest.approx(error, **EXACT)
    assert of["chao2"]["low"] == pytest.approx(low, **EXACT)
    assert of["chao2"]["high"] == pytest.approx(high, **EXACT)
    value, error = estimates.jackknife1(*sites)
    assert of["jackknife1"]["value"] == pytest.approx(value, **EXACT)
    assert of["jackknife1"]["se"] == pytest.approx(error, **EXACT)
    assert of["jackknife2"]["value"] == pytest.approx(estimates.jackknife2(*sites), rel=1e-8)
    assert of["coverage"] == pytest.approx(estimates.coverage(*sites), **EXACT)
    assert len(of["accumulation"]) == len(sites)
    for point in of["accumulation"][::9]:
        assert point["value"] == pytest.approx(estimates.species_at(point["sites"], *sites), **EXACT)
    for point in of["extrapolation"]:
        more = point["sites"] - len(sites)
        assert point["value"] == pytest.approx(estimates.species_after(more, *sites), **EXACT)


def test_diversity_in_the_delta(one):
    found, sites = one
    counts = estimates.incidence(sites)
    of = found["diversity"]
    got = of["shannon"], of["inverse_simpson"], of["evenness"]
    assert got == pytest.approx(estimates.diversity(*counts), **EXACT)
    assert found["dominance"] == pytest.approx(estimates.dominance(*counts), **EXACT)
    assert found["missed_at_most"] == pytest.approx(estimates.not_found(len(sites)), **EXACT)


def test_depths_in_quarters_in_the_delta(quillwort, delta_book):
    book, surveys = delta_book
    for survey, points in surveys.items():
        found = quillwort.json("findings", book, "--survey", survey)
        by_count = {}
        for name in {name for point in points.values() for name in point.ratings}:
            having = [p for p in points.values() if p.sampled and name in p.ratings]
            depths = [p.depth_m for p in having if p.depth_m is not None]
            by_count.setdefault(len(having), []).append(depths)
        checked = 0
        for taxon in found["taxa"]:
            candidates = by_count.get(taxon["sites"], [])
            # a taxon is told by the number of its points where no other has as many
            if len(candidates) == 1 and candidates[0]:
                of = taxon["depth_quartiles"]
                got = [of[f"{w}_m"] for w in ("least", "lower", "median", "upper", "greatest")]
                assert got == pytest.approx(estimates.depth_quarters(*candidates[0]), **EXACT)
                checked += 1
        assert checked >= 2


def test_communities_of_the_delta(quillwort, delta_book):
    book, surveys = delta_book
    view = quillwort.json("compare", book, "--from", "2017-Pre", "--to", "2017-Post")
    before, after = letters(surveys["2017-Pre"]), letters(surveys["2017-Post"])
    assert view["design"] == "paired"
    both = sorted(set(before) & set(after))
    assert view["pairs"] == len(both)
    names = [
        sorted({n for p in s.values() if p.sampled for n in p.ratings})
        for s in (surveys["2017-Pre"], surveys["2017-Post"])
    ]
    species = sorted({*names[0], *names[1]})

    def rows(points):
        return numpy.array([[float(n in points[c].ratings) for n in species] for c in both])

    one, other = rows(surveys["2017-Pre"]), rows(surveys["2017-Post"])
    keep = (one.sum(axis=0) + other.sum(axis=0)) > 0
    one, other = one[:, keep], other[:, keep]
    of = view["community"]
    bray, jaccard = estimates.dissimilarities(one.mean(axis=0), other.mean(axis=0))
    assert of["bray_curtis"] == pytest.approx(bray, **EXACT)
    assert of["jaccard"] == pytest.approx(jaccard, **EXACT)
    all_rows = numpy.vstack([one, other])
    apart = scipy.spatial.distance.squareform(
        numpy.nan_to_num(scipy.spatial.distance.pdist(all_rows, "braycurtis"))
    )
    matrix = skbio.stats.distance.DistanceMatrix(apart)
    groups = ["before"] * len(one) + ["after"] * len(other)
    r = skbio.stats.distance.anosim(matrix, groups, permutations=0)["test statistic"]
    assert not of["rated"]
    assert of["r"] == pytest.approx(r, **EXACT)
    assert of["permutations"] == 999
    assert of["within_pairs"]


# A map of chances -----------------------------------------------------------------------------


def asked(quillwort, book, address):
    """What the served book answers at an address."""
    with quillwort.served(book) as ask:
        return ask(address)


def test_a_map_of_chances_is_that_of_pykrige(quillwort):
    """A lake without a bend, so that every point is in sight; the same 12 nearest points."""
    book = quillwort.book("Kriged", "--units", "metric")
    square = [[-90, 45], [-89.98, 45], [-89.98, 45.014], [-90, 45.014], [-90, 45]]
    shore = quillwort.folder / "kriged.geojson"
    shore.write_text(
        '{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":'
        f"[{json.dumps(square)}]}}}}"
    )
    quillwort("add", book, "outline", shore)
    random = numpy.random.default_rng(20260714)
    lines = ["site,longitude,latitude,depth_m,Najas flexilis"]
    for number in range(80):
        x, y = random.uniform(0.0005, 0.0195), random.uniform(0.0005, 0.0135)
        there = random.random() < 1 / (1 + math.exp(700 * (x - 0.009)))
        lines.append(f"{number + 1},{-90 + x:.7f},{45 + y:.7f},1.5,{int(there)}")
    table = quillwort.folder / "kriged.csv"
    table.write_text("\n".join(lines) + "\n")
    quillwort(
        "record", book, table, "--survey", "one", "--new-taxa", "--scale", "fullness",
        "--date", "2026-07-14",
    )
    view = asked(quillwort, book, "/api/surveys/one/extent?taxon=Najas%20flexilis")
    assert view["method"] == "indicator kriging"
    points = numpy.array([[one["x"], one["y"], one["found"]] for one in view["points"]], dtype=float)
    fitted = view["variogram"]
    parameters = {"psill": fitted["partial"], "range": fitted["range_m"], "nugget": fitted["nugget"]}
    model = pykrige.ok.OrdinaryKriging(
        points[:, 0], points[:, 1], points[:, 2],
        variogram_model="exponential", variogram_parameters=parameters,
    )
    cells = numpy.array(view["cells"])
    chance, _ = model.execute(
        "points", cells[:, 0], cells[:, 1], backend="loop", n_closest_points=12
    )
    # cells stand in the answer to the decimetre, chances to four digits; where two points are within that
    # of being the twelfth nearest, the other may be taken: about one cell in a thousand
    apart = numpy.abs(cells[:, 2] - numpy.clip(chance, 0, 1))
    assert numpy.quantile(apart, 0.997) < 5e-4
    assert (apart > 5e-4).mean() < 0.003
    whole = view["zones"][0]
    share = cells[:, 2].mean()
    assert whole["area_m2"] == pytest.approx(share * whole["water_m2"], rel=1e-3)
    # cells in the plane, brought back to the ellipsoid
    assert whole["water_m2"] == pytest.approx(quillwort.json("lake", book)["area_m2"], rel=1e-4)
    assert whole["low_m2"] < whole["area_m2"] < whole["high_m2"]
