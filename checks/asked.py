"""The examples of the method notes put to the program itself: one method a note."""

import csv
import datetime
import itertools

import numpy
import shapely

NAMES = [
    "Ceratophyllum demersum", "Potamogeton crispus", "Potamogeton pusillus",
    "Potamogeton nodosus", "Stuckenia pectinata", "Heteranthera dubia", "Myriophyllum spicatum",
    "Najas flexilis", "Elodea canadensis",
]


def polygon(ring):
    return shapely.polygons(numpy.asarray(ring, dtype=float))


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
