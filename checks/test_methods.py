"""The worked examples of docs/methods.md: every line of a `check` box is run.

Each is worked out by a general-purpose library and, where the program can be asked, by the program.
A value holds when it rounds to the digits printed.
"""

import ast
import csv
import datetime
import itertools
import math
import re

import numpy
import pytest
import scipy.constants
import scipy.spatial
import scipy.stats
import shapely
import statsmodels.stats.inter_rater
import statsmodels.stats.proportion

import estimates
import shapes
import surveys
from open_data import ROOT

METHODS = ROOT / "docs" / "methods.md"
NAMES = [
    "Ceratophyllum demersum", "Potamogeton crispus", "Potamogeton pusillus",
    "Potamogeton nodosus", "Stuckenia pectinata", "Heteranthera dubia", "Myriophyllum spicatum",
    "Najas flexilis", "Elodea canadensis",
]


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


def polygon(ring):
    return shapely.polygons(numpy.asarray(ring, dtype=float))


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

COUNTER = itertools.count()


class Asked:
    """Makes the little survey or lake of an example and asks the program for its figures."""

    def __init__(self, quillwort, demo=None):
        self.quillwort = quillwort
        self.demo = demo

    def record(
        self, book, survey, rows, header=("site", "depth_m", *NAMES), date="2002-07-15", scale=None
    ):
        table = self.quillwort.folder / f"{book}-{survey}.csv"
        with open(table, "w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([header, *rows])
        found = any(str(cell) not in ("", "0") for row in rows for cell in row[2:])
        # surveys that share a scale are said to; else one is made for each
        scale = ("--new-scale",) if found and scale is None else ("--scale", scale or "fullness")
        self.quillwort(
            "record", book, table, "--survey", survey, "--new-taxa", *scale,
            "--date", date,
        )

    def new(self):
        return self.quillwort.book(f"Example-{next(COUNTER)}", "--units", "metric")

    def one(self, rows, **options):
        book = self.new()
        self.record(book, "one", rows, **options)
        return self.quillwort.json("findings", book, "--survey", "one")

    def first_taxon(self, k, n):
        rows = [[i + 1, 1.5, "1" if i < k else "0"] for i in range(n)]
        found = self.one(rows, header=("site", "depth_m", NAMES[0]))
        # a species found nowhere is in no list: any plant has the same share
        return found["frequency_any"]["all"]

    def spread(self, counts, vegetated, sites):
        """Species dealt out one after another over the vegetated sites, so that all get some."""
        cells = [["0"] * len(counts) for _ in range(sites)]
        place = itertools.cycle(range(vegetated))
        for species, count in enumerate(counts):
            for _ in range(count):
                cells[next(place)][species] = "1"
        rows = [[number + 1, 1.5, *row] for number, row in enumerate(cells)]
        return self.one(rows, header=("site", "depth_m", *NAMES[: len(counts)]))

    def lake(self, ring):
        book = self.new()
        path = self.quillwort.folder / f"{book}.geojson"
        shape = shapely.to_geojson(polygon(ring))
        path.write_text(f'{{"type":"Feature","properties":{{}},"geometry":{shape}}}')
        self.quillwort("add", book, "outline", path)
        return book

    def pairs(self, both, lost, gained, neither):
        kinds = [("1", "1")] * both + [("1", "0")] * lost + [("0", "1")] * gained
        kinds += [("0", "0")] * neither
        header = ("site", "depth_m", NAMES[0])
        book = self.new()
        for survey, side in (("first", 0), ("second", 1)):
            rows = [[i + 1, 1.5, kind[side]] for i, kind in enumerate(kinds)]
            self.record(book, survey, rows, header=header)
        return self.compared(book)

    def two(self, k1, n1, k2, n2):
        header = ("site", "depth_m", NAMES[0])
        book = self.new()
        for survey, letter, k, n in (("first", "a", k1, n1), ("second", "b", k2, n2)):
            rows = [[f"{letter}{i + 1}", 1.5, "1" if i < k else "0"] for i in range(n)]
            self.record(book, survey, rows, header=header)
        return self.compared(book)

    def compared(self, book):
        view = self.quillwort.json("compare", book, "--from", "first", "--to", "second")
        (taxon,) = view["taxa"]
        return taxon

    def effort(self, purpose, *options):
        view = self.quillwort.json(
            "effort", self.demo, "--purpose", purpose, "--runs", 0, *options
        )
        return view["formula"]["sites"]

    # the functions of the examples

    def sites_to_find(self, share, chance, throws):
        return self.effort(
            "detect", "--occupancy", share, "--detection", chance, "--throws", throws
        )

    def sites_to_find_all(self, share, chance, throws, species):
        assert species == 10  # as many as the program takes where no survey says better
        return self.effort(
            "richness", "--occupancy", share, "--detection", chance, "--throws", throws
        )

    def sites_for_margin(self, share, margin):
        assert share == 0.5
        return self.effort("estimate", "--margin", margin, "--detection", 1, "--throws", 1)

    def sites_for_change(self, before, after):
        return self.effort(
            "change", "--from", before, "--to", after, "--detection", 1, "--throws", 1
        )

    def geodesic(self, ring):
        measures = self.quillwort.json("lake", self.lake(ring))
        return measures["area_m2"], measures["perimeter_m"]

    def longest_reach(self, ring):
        return self.quillwort.json("lake", self.lake(ring))["max_length_m"]

    def fetch_north(self, ring):
        return self.quillwort.json("lake", self.lake(ring))["fetch_m"]["n"]

    def deepest_plant(self, with_plants, without):
        return self.depths(with_plants, without)["max_plant_depth_m"]

    def littoral_sites(self, with_plants, without):
        return self.depths(with_plants, without)["littoral_sites"]

    def depths(self, with_plants, without):
        kinds = [(depth, "1") for depth in with_plants] + [(depth, "0") for depth in without]
        rows = [[i + 1, depth, cell] for i, (depth, cell) in enumerate(kinds)]
        return self.one(rows, header=("site", "depth_m", NAMES[0]))

    def standard_error(self, k, n):
        return self.first_taxon(k, n)["se"]

    def wilson(self, k, n):
        share = self.first_taxon(k, n)
        return share["low"], share["high"]

    def relative_frequency(self, *counts):
        taxa = {one["scientific_name"]: one for one in self.spread(counts, 40, 120)["taxa"]}
        return [taxa[name]["relative_frequency"] for name in NAMES[: len(counts)]]

    def species_a_site(self, counts, vegetated, sites):
        means = self.spread(counts, vegetated, sites)["species_per_site"]
        return means["littoral_mean"], means["vegetated_mean"]

    def simpson(self, *counts):
        return self.spread(counts, 40, 120)["simpson"]

    def mean_rating(self, *ratings):
        rows = [[i + 1, 1.5, rating] for i, rating in enumerate(ratings)]
        found = self.one(rows, header=("site", "depth_m", NAMES[0]))
        return found["taxa"][0]["mean_rating"]

    def richness(self, rake, seen, shore):
        rows = [
            [1, name, how, "1" if how == "rake" else ""]
            for how, names in (("rake", rake), ("visual", seen), ("shoreline", shore))
            for name in names
        ]
        counts = self.one(rows, header=("site", "species", "how_seen", "rating"))["richness"]
        return counts["rake"], counts["with_visuals"], counts["with_shoreline"]

    def difference_same_sites(self, *counts):
        one = self.pairs(*counts)["difference"]
        return one["value"], one["low"], one["high"]

    def mcnemar_mid_p(self, *counts):
        return self.pairs(*counts)["p"]

    def kappa(self, neither, second, first, both):
        book = self.new()
        cells = [(0, 0)] * neither + [(0, 1)] * second + [(1, 0)] * first + [(1, 1)] * both
        for crew, name in enumerate(("one", "two")):
            rows = [[i + 1, 1.5, str(pair[crew])] for i, pair in enumerate(cells)]
            self.record(book, name, rows, header=("site", "depth_m", NAMES[0]))
        asked = self.quillwort.json("observers", book, "--from", "one", "--to", "two")
        return asked["kappa_presence"]

    def smallest_change_same_sites(self, *counts):
        return self.pairs(*counts)["detectable"]

    def difference_different_sites(self, *counts):
        one = self.two(*counts)["difference"]
        return one["value"], one["low"], one["high"]

    def chi_squared_p(self, *counts):
        one = self.two(*counts)
        assert one["test"] == "chi-squared"
        return one["p"]

    def fisher_p(self, *counts):
        one = self.two(*counts)
        assert one["test"] == "Fisher exact"
        return one["p"]

    def smallest_change_different_sites(self, k1, n1, n2):
        return self.two(k1, n1, k1, n2)["detectable"]

    # estimates, models and tests

    def letters(self, sites):
        """Findings of sites written as strings of letters, one a species."""
        species = sorted(set("".join(sites)))
        rows = [
            [n + 1, 1.5, *("1" if one in site else "0" for one in species)]
            for n, site in enumerate(sites)
        ]
        names = [NAMES[ord(one) - ord("A")] for one in species]
        return self.one(rows, header=("site", "depth_m", *names))

    def chao2(self, *sites):
        one = self.letters(sites)["richness"]["chao2"]
        return one["value"], one["se"], one["low"], one["high"]

    def jackknife1(self, *sites):
        one = self.letters(sites)["richness"]["jackknife1"]
        assert one["method"] == "Heltshe & Forrester (1983)"
        return one["value"], one["se"]

    def jackknife2(self, *sites):
        return self.letters(sites)["richness"]["jackknife2"]["value"]

    def species_at(self, number, *sites):
        curve = self.letters(sites)["richness"]["accumulation"]
        return next(one["value"] for one in curve if one["sites"] == number)

    def species_after(self, more, *sites):
        curve = self.letters(sites)["richness"]["extrapolation"]
        return next(one["value"] for one in curve if one["sites"] == len(sites) + more)

    def coverage(self, *sites):
        return self.letters(sites)["richness"]["coverage"]

    def diversity(self, *counts):
        one = self.spread(counts, 40, 120)["diversity"]
        return one["shannon"], one["inverse_simpson"], one["evenness"]

    def dominance(self, *counts):
        return self.spread(counts, 40, 120)["dominance"]

    def depth_quarters(self, *depths):
        one = self.depths(depths, [])["taxa"][0]["depth_quartiles"]
        return [one[f"{word}_m"] for word in ("least", "lower", "median", "upper", "greatest")]

    def not_found(self, sites):
        rows = [[n + 1, 1.5, "0"] for n in range(sites)]
        return self.one(rows, header=("site", "depth_m", NAMES[0]))["missed_at_most"]

    def thrown(self, found, throws):
        rows = [
            [n + 1, 1.5, number + 1, NAMES[0] if number < some else "", "1" if number < some else "0"]
            for n, some in enumerate(found)
            for number in range(throws)
        ]
        header = ("site", "depth_m", "throw", "species", "rating")
        (one,) = self.one(rows, header=header)["detection"]
        return one

    def occupancy(self, found, throws):
        one = self.thrown(found, throws)
        return one["occupancy"], one["detection"], one["missed_chance"]

    def occupancy_limits(self, found, throws):
        one = self.thrown(found, throws)
        return one["occupancy_low"], one["occupancy_high"]

    def amounts(self, one, other):
        """Two surveys of rated sites, a row a site, the same sites both times."""
        book = self.new()
        names = NAMES[: len(one[0])]
        for survey, rows in (("first", one), ("second", other)):
            rows = [[n + 1, 1.5, *row] for n, row in enumerate(rows)]
            self.record(book, survey, rows, ("site", "depth_m", *names), scale="fullness")
        return self.quillwort.json("compare", book, "--from", "first", "--to", "second")

    def dissimilarities(self, one, other):
        sites = max(*one, *other)
        rows = [[[int(n < count) for count in side] for n in range(sites)] for side in (one, other)]
        view = self.amounts(*rows)["community"]
        return view["bray_curtis"], view["jaccard"]

    def anosim_r(self, one, other):
        view = self.amounts(one, other)["community"]
        assert view["rated"]
        return view["r"]

    def dated(self, years, found, sites, name=NAMES[0]):
        """One survey a year, on the day that makes the year's decimals."""
        book = self.new()
        for number, (year, k, n) in enumerate(zip(years, found, sites, strict=True)):
            whole = int(year)
            days = (datetime.date(whole + 1, 1, 1) - datetime.date(whole, 1, 1)).days
            day = datetime.date(whole, 1, 1) + datetime.timedelta(round((year - whole) * days))
            rows = [[i + 1, 1.5, "1" if i < k else "0"] for i in range(n)]
            header = ("site", "depth_m", name)
            self.record(book, f"s{number}", rows, header, day.isoformat(), "fullness")
        return self.quillwort.json("trend", book, "--taxon", name)

    def trend(self, years, found, sites):
        # a year's decimals are those of a whole day: the slope moves in its fifth digit
        one = self.dated(years, found, sites)["per_year"]
        return tuple(one[key] for key in ("value", "low", "high", "p"))

    def mann_kendall(self, *values):
        years = [2000.0 + n for n in range(len(values))]
        one = self.dated(years, values, [100] * len(values))["mann_kendall"]
        assert one["exact"]
        return one["s"], one["p"], one["sens_slope"] * 100

    def baci(self, treated, untreated, other_sites=False):
        """A square lake, its west half treated between two surveys."""
        corners = [[-90, 45], [-89.99, 45], [-89.99, 45.01], [-90, 45.01]]
        book = self.lake(corners)
        west = shapely.to_geojson(shapely.box(-90.001, 44.999, -89.995, 45.011))
        path = self.quillwort.folder / f"{book}-treated.geojson"
        path.write_text(
            '{"type":"Feature","properties":{"name":"west","method":"herbicide",'
            f'"start":"2002-05-01","end":"2002-05-02"}},"geometry":{west}}}'
        )
        self.quillwort("add", book, "treatments", path)
        header = ("site", "longitude", "latitude", "depth_m", "Myriophyllum spicatum")
        for survey, side, date in (("before", 0, "2001-07-15"), ("after", 1, "2002-07-15")):
            rows = []
            for letter, x, counts in (("t", -89.998, treated), ("u", -89.992, untreated)):
                cells = self.cells(counts, side, other_sites)
                for n, cell in enumerate(cells):
                    code = f"{letter}{side if other_sites else ''}{'-' if other_sites else ''}{n + 1}"
                    rows.append([code, f"{x:.6f}", f"{45.001 + n * 0.00007:.6f}", 1.5, cell])
            self.record(book, survey, rows, header, date, "fullness")
        return self.quillwort.json(
            "efficacy", book, "--treatment", "T1", "--target", "Myriophyllum spicatum"
        )

    def cells(self, counts, side, other_sites):
        if other_sites:
            k, n = counts[2 * side : 2 * side + 2]
            return [int(i < k) for i in range(n)]
        both, lost, gained, neither = counts
        kinds = [(1, 1)] * both + [(1, 0)] * lost + [(0, 1)] * gained + [(0, 0)] * neither
        return [kind[side] for kind in kinds]

    def contrast(self, treated, untreated):
        one = self.baci(treated, untreated)["estimate"]
        return one["value"], one["low"], one["high"]

    def contrast_of_other_sites(self, treated, untreated):
        one = self.baci(treated, untreated, other_sites=True)["estimate"]
        return one["value"], one["low"], one["high"]

    def henderson_tilton(self, treated_before, treated_after, untreated_before, untreated_after):
        treated = [treated_before, 100, treated_after, 100]
        untreated = [untreated_before, 100, untreated_after, 100]
        return self.baci(treated, untreated, other_sites=True)["henderson_tilton"]["value"]


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
