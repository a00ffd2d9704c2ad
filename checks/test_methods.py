"""The worked examples of docs/methods.md: every line of a `check` box is run.

Each is worked out by a general-purpose library and, where the program can be asked, by the program.
A value holds when it rounds to the digits printed.
"""

import ast
import csv
import itertools
import math
import re

import numpy
import pytest
import scipy.constants
import scipy.spatial
import scipy.stats
import statsmodels.stats.inter_rater
import statsmodels.stats.proportion

import estimates
import shapes
import surveys
from asked import Asked, polygon
from open_data import ROOT

METHODS = ROOT / "docs" / "methods.md"


def examples():
    """Name, arguments and printed values of every line in a box, and the line itself."""
    found = []
    for box in re.findall(r"^```check\n(.*?)^```", METHODS.read_text(encoding="utf-8"), re.M | re.S):
        for line in box.splitlines():
            call, _, values = line.rpartition(" = ")
            tree = ast.parse(call, mode="eval").body
            arguments = [ast.literal_eval(one) for one in tree.args]
            found.append((tree.func.id, arguments, [one.strip() for one in values.split(",")], line))
    return found


EXAMPLES = examples()


def check(line, found, printed):
    found = list(found) if isinstance(found, (tuple, list)) else [found]
    assert len(found) == len(printed), line
    for value, text in zip(found, printed, strict=True):
        decimals = len(text.partition(".")[2])
        # half a unit of the last digit, and a whisker for ties
        assert value == pytest.approx(float(text), abs=0.5 * 10**-decimals * (1 + 1e-9)), line


# What a library says -------------------------------------------------------------------------


def utm_of(ring):
    return 32616 if ring[0][0] >= -90 else 32615


def longest_reach(ring):
    # in a lake without a bend the longest line runs between two vertices
    assert polygon(ring).convex_hull.equals(polygon(ring))
    ends = itertools.combinations(ring, 2)
    return max(shapes.GEOD.inv(*one, *other)[2] for one, other in ends)


def off_by(differences):
    absolute = numpy.abs(differences)
    return absolute.mean(), numpy.quantile(absolute, 0.95, method="inverted_cdf")


def cone(radius, depth, level):
    area = math.pi * radius**2
    left = 1 - level / depth
    return area * left**2, area * depth / 3 * left**3


def floristic_quality(*c):
    return len(c), numpy.mean(c), numpy.sum(c) / math.sqrt(len(c))


def kappa(neither, second, first, both):
    """Two crews, found or not: counts by row, the first crew's."""
    table = [[neither, second], [first, both]]
    return statsmodels.stats.inter_rater.cohens_kappa(table, return_results=True).kappa


def mcnemar_mid_p(both, lost, gained, neither):
    del both, neither
    return surveys.mcnemar_mid_p(gained, lost)


def chi_squared_p(k1, n1, k2, n2):
    table = [[k1, n1 - k1], [k2, n2 - k2]]
    return scipy.stats.chi2_contingency(table, correction=False).pvalue


def fisher_p(k1, n1, k2, n2):
    return scipy.stats.fisher_exact([[k1, n1 - k1], [k2, n2 - k2]]).pvalue


def found_at_least_once(chance, throws):
    return scipy.stats.binom.sf(0, throws, chance)


def sites_to_find(share, chance, throws):
    """The least number at which a binomial count is above 0 with 95 %."""
    seen = share * found_at_least_once(chance, throws)
    return next(n for n in itertools.count(1) if scipy.stats.binom.sf(0, n, seen) >= 0.95)


def sites_to_find_all(share, chance, throws, species):
    seen = share * found_at_least_once(chance, throws)
    return next(n for n in itertools.count(1) if scipy.stats.binom.sf(0, n, seen) ** species >= 0.95)


def sites_for_margin(share, margin):
    return math.ceil(
        statsmodels.stats.proportion.samplesize_confint_proportion(share, margin, method="normal")
    )


def sites_for_change(before, after):
    return math.ceil(
        statsmodels.stats.proportion.samplesize_proportions_2indep_onetail(
            before - after, after, 0.8, alpha=0.05, alternative="two-sided"
        )
    )


def hours(sites, throws, acres):
    tour = 0.7124 * math.sqrt(sites * acres * scipy.constants.acre)
    return (60 + sites * (2 + throws) + tour / 1.5 / 60) / 60


def spatial_balance(chosen):
    places = numpy.array(list(itertools.product(range(4), range(4))), dtype=float)
    apart = scipy.spatial.distance.cdist(places, numpy.array(chosen, dtype=float))
    nearest = numpy.isclose(apart, apart.min(axis=1, keepdims=True))
    owned = (nearest / nearest.sum(axis=1, keepdims=True)).sum(axis=0) * len(chosen) / len(places)
    return ((owned - 1) ** 2).mean()


LIBRARY = {
    "found_at_least_once": found_at_least_once,
    "sites_to_find": sites_to_find,
    "sites_to_find_all": sites_to_find_all,
    "sites_for_margin": sites_for_margin,
    "sites_for_change": sites_for_change,
    "points_on_bed": lambda margin, shape: (0.0724 * shape * surveys.Z**2 / margin**2) ** (2 / 3),
    "hours": hours,
    "spatial_balance": spatial_balance,
    "metres": lambda unit: {
        "foot": scipy.constants.foot, "survey foot": scipy.constants.survey_foot
    }[unit],
    "square_metres": lambda unit: {"acre": scipy.constants.acre}[unit],
    "cubic_metres": lambda unit: {
        "acre-foot": scipy.constants.acre * scipy.constants.foot
    }[unit],
    "acre_feet": lambda acres, feet: acres * scipy.constants.acre * feet * scipy.constants.foot
    / (scipy.constants.acre * scipy.constants.foot),
    "geodesic": lambda ring: shapes.geodesic(polygon(ring)),
    "shoreline_development": lambda shore, area: shore / (2 * math.sqrt(math.pi * area)),
    "longest_reach": longest_reach,
    "fetch_north": lambda ring: shapes.reach(polygon(ring), utm_of(ring), 0),
    "off_by": off_by,
    "cone": cone,
    "relative_depth": lambda depth, area: 100 * depth / (2 * math.sqrt(area / math.pi)),
    "points_to_100_acres": lambda spacing: 100 * scipy.constants.acre / spacing**2,
    "spacing_for": lambda area, number: math.sqrt(area / number),
    "deepest_plant": lambda with_plants, without: max(with_plants),
    "littoral_sites": lambda with_plants, without: int(
        (numpy.array(with_plants + without) <= max(with_plants)).sum()
    ),
    "standard_error": surveys.standard_error,
    "wilson": surveys.wilson,
    "relative_frequency": lambda *counts: (numpy.array(counts) / sum(counts)).tolist(),
    "species_a_site": lambda counts, vegetated, sites: (
        sum(counts) / sites, sum(counts) / vegetated
    ),
    "mean_rating": lambda *ratings: numpy.mean(ratings),
    "richness": lambda rake, seen, shore: (
        len({*rake}), len({*rake, *seen}), len({*rake, *seen, *shore})
    ),
    "simpson": surveys.simpson,
    "floristic_quality": floristic_quality,
    "difference_same_sites": surveys.paired_difference,
    "mcnemar_mid_p": mcnemar_mid_p,
    "kappa": kappa,
    "difference_different_sites": surveys.independent_difference,
    "chi_squared_p": chi_squared_p,
    "fisher_p": fisher_p,
    "benjamini_hochberg": surveys.benjamini_hochberg,
    "power_different_sites": surveys.power_different_sites,
    "smallest_change_different_sites": surveys.detectable_different_sites,
    "smallest_change_same_sites": surveys.detectable_same_sites,
    **{
        name: getattr(estimates, name)
        for name in (
            "chao2", "jackknife1", "jackknife2", "species_at", "species_after", "coverage",
            "diversity", "dominance", "depth_quarters", "not_found", "still_there", "occupancy",
            "occupancy_limits", "weighted_share", "nearest_share", "variogram", "signed_rank",
            "cliff_delta", "dissimilarities", "anosim_r", "noise", "contrast",
            "contrast_of_other_sites", "abbott", "henderson_tilton", "trend", "mann_kendall",
            "middle",
        )
    },
}


@pytest.mark.parametrize(
    ("name", "arguments", "printed", "line"), EXAMPLES, ids=[one[3][:60] for one in EXAMPLES]
)
def test_an_example_is_what_a_library_works_out(name, arguments, printed, line):
    check(line, LIBRARY[name](*arguments), printed)


def test_every_method_has_its_example():
    assert {name for name, *_ in EXAMPLES} == set(LIBRARY)


# What the program says -----------------------------------------------------------------------


ASKED = [one for one in EXAMPLES if hasattr(Asked, one[0])]


@pytest.mark.parametrize(
    ("name", "arguments", "printed", "line"), ASKED, ids=[one[3][:60] for one in ASKED]
)
def test_an_example_is_what_the_program_says(quillwort, demo, name, arguments, printed, line):
    check(line, getattr(Asked(quillwort, demo), name)(*arguments), printed)


def test_a_cone_sounded_all_over_has_the_volume_of_a_cone(quillwort):
    """The examples of the depth model: within half a per cent of solid geometry."""
    cones = [(arguments, values) for name, arguments, values, _ in EXAMPLES if name == "cone"]
    (radius, depth, _), _ = cones[0]
    east, north = 420_000.0, 4_980_000.0
    from_metres = shapes.pyproj.Proj(32616)
    turn = numpy.linspace(0, 2 * math.pi, 181)[:-1]

    def at(distance):
        x = east + distance * numpy.cos(turn)
        y = north + distance * numpy.sin(turn)
        return numpy.column_stack(from_metres(x, y, inverse=True))

    asked = Asked(quillwort)
    book = asked.lake(at(radius).tolist())
    table = quillwort.folder / "cone.csv"
    with open(table, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["longitude", "latitude", "depth_m"])
        for distance in numpy.arange(10, radius - 5, 10):
            for x, y in at(distance)[:: max(1, int(180 // (2 * math.pi * distance / 10)))]:
                writer.writerow([f"{x:.9f}", f"{y:.9f}", f"{depth * (1 - distance / radius):.6f}"])
        x, y = from_metres(east, north, inverse=True)
        writer.writerow([f"{x:.9f}", f"{y:.9f}", f"{depth:.6f}"])
    quillwort("add", book, "depths", table)
    rows = {
        round(row["depth_m"], 6): row for row in quillwort.json("lake", book)["hypsography"]
    }
    whole, volume = cone(radius, depth, 0)
    for (_, _, level), printed in cones:
        row = rows[float(level)]
        assert row["area_m2"] == pytest.approx(float(printed[0]), abs=5e-3 * whole)
        assert row["volume_below_m3"] == pytest.approx(float(printed[1]), abs=5e-3 * volume)
