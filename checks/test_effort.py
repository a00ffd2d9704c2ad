"""Effort: the six purposes on the invented lake and on Lake Wingra, recomputed by scipy and statsmodels.

Binomial search (Green & Young 1993), Cochran (1977), Fleiss (1981), Gundersen & Jensen (1987), as docs/methods.md
states them; here only general-purpose libraries speak.
"""

import math

import pytest
import scipy.optimize
import scipy.stats
from statsmodels.stats.power import normal_power_het, normal_sample_size_one_tail

PURPOSES = ["richness", "detect", "estimate", "change", "delineate", "treatment"]
ACRE = 4046.8564224
SITES = 90
RUNS = 1_000


@pytest.fixture(scope="module", params=["demo", "wingra_book"])
def book(request):
    return request.getfixturevalue(request.param)


def spreads(asked):
    """Standard deviations under no change and under the change, one observation in each survey."""
    seen = 1 - (1 - asked["detection"]) ** asked["throws"]
    p, q = asked["from"] * seen, asked["to"] * seen
    middle = (p + q) / 2
    null = math.sqrt(2 * middle * (1 - middle))
    return p - q, null, math.sqrt(p * (1 - p) + q * (1 - q))


def bed_spacing(area, points):
    """A grid over a bed twice as long as wide and one spacing round it has so many points."""
    width = math.sqrt(area / 2)
    if points <= 4:
        # the margin round the bed takes all of them: the widest grid the program looks at
        return width / 0.1
    def count(s):
        return (width / s + 2) * (2 * width / s + 2) - points
    return scipy.optimize.brentq(count, 1e-3 * width, 1e3 * width)


def bed_error(asked, on_bed):
    seen = 1 - (1 - asked["detection"]) ** asked["throws"]
    return math.sqrt(0.0724 * 4.243 * on_bed**-1.5 + (1 - seen) / (seen * on_bed))


def chance(purpose, asked, n):
    """The chance that n sites reach what is asked."""
    seen = 1 - (1 - asked["detection"]) ** asked["throws"]
    if purpose == "richness":
        one = 1 - scipy.stats.binom.pmf(0, n, asked["occupancy"] * seen)
        return one ** asked["species"]
    if purpose == "detect":
        return 1 - scipy.stats.binom.pmf(0, n, asked["occupancy"] * seen)
    if purpose == "estimate":
        p = asked["occupancy"] * seen
        return 1 - 2 * scipy.stats.norm.sf(asked["margin"], scale=math.sqrt(p * (1 - p) / n))
    if purpose == "delineate":
        on_bed = asked["patch_area_m2"] / bed_spacing(asked["patch_area_m2"], n) ** 2
        return 1 - 2 * scipy.stats.norm.sf(asked["margin"], scale=bed_error(asked, on_bed))
    difference, null, there = spreads(asked)
    return normal_power_het(
        abs(difference), n, (1 - asked["confidence"]) / 2, std_null=null, std_alternative=there,
        alternative="larger",
    )


def sites(purpose, asked):
    """The fewest sites that do."""
    seen = 1 - (1 - asked["detection"]) ** asked["throws"]
    if purpose in ("change", "treatment"):
        difference, null, there = spreads(asked)
        n = normal_sample_size_one_tail(
            abs(difference), asked["power"], (1 - asked["confidence"]) / 2, std_null=null,
            std_alternative=there,
        )
        return math.ceil(n - 1e-9)
    if purpose == "delineate":
        z = scipy.stats.norm.isf((1 - asked["confidence"]) / 2)
        wanted = asked["margin"] / z
        on_bed = scipy.optimize.brentq(lambda n: bed_error(asked, n) - wanted, 1e-2, 1e7)
        spacing = math.sqrt(asked["patch_area_m2"] / on_bed)
        width = math.sqrt(asked["patch_area_m2"] / 2)
        return math.ceil((width / spacing + 2) * (2 * width / spacing + 2) - 1e-9)
    if purpose == "estimate":
        p, z = asked["occupancy"] * seen, scipy.stats.norm.isf((1 - asked["confidence"]) / 2)
        return math.ceil(z**2 * p * (1 - p) / asked["margin"] ** 2)
    return next(n for n in range(1, 10**6) if chance(purpose, asked, n) >= asked["confidence"])


@pytest.mark.parametrize("purpose", PURPOSES)
def test_each_purpose_is_answered_with_numbers_the_libraries_confirm(quillwort, book, purpose):
    said = quillwort.json(
        "effort", book, "--purpose", purpose, "--sites", SITES, "--runs", RUNS, "--seed", 7
    )
    asked = said["inputs"]
    assert said["formula"]["sites"] == sites(purpose, asked)
    curve = said["curve"]
    assert len(curve["sites"]) >= 40
    for n, shown in zip(curve["sites"], curve["chance"], strict=True):
        assert shown == pytest.approx(chance(purpose, asked, n), abs=2e-6), n
    assert said["rule_of_thumb"]["sites"] == round(asked["area_m2"] / ACRE)

    # hours: an hour to launch, 2 min a site, 1 min a throw, 1.5 m/s along 0.7124 sqrt(n A)
    area = asked["area_m2"]
    if purpose == "delineate":
        area = SITES * bed_spacing(asked["patch_area_m2"], SITES) ** 2
    minutes = 60 + SITES * (2 + asked["throws"]) + 0.7124 * math.sqrt(SITES * area) / 1.5 / 60
    assert said["judged"]["hours"] == pytest.approx(minutes / 60, rel=1e-9)

    sentence = said["sentence"]
    assert sentence.startswith(f"{said['formula']['sites']} ") and sentence.endswith(".")
    assert f"{SITES} sites, 2 throws each: " in sentence and "chance" in sentence

    simulated = said["simulation"]
    assert simulated["runs"] == RUNS
    for n, share in zip(simulated["sites"], simulated["chance"], strict=True):
        if purpose == "richness":
            # drawn from the lake's own species, not from ten alike: only its order is the formula's
            continue
        expected = chance(purpose, asked, n)
        noise = 4.5 * math.sqrt(max(expected * (1 - expected), 0.002) / RUNS)
        # spread-out sites do no worse than random ones; the normal curve is rough for a few sites
        rough = {"detect": 0.01, "estimate": 0.06, "delineate": 0.08}.get(purpose, 0.04)
        if n >= 20:
            assert abs(share - expected) < noise + rough, (n, share, expected)
    if purpose == "richness":
        assert simulated["chance"] == sorted(simulated["chance"]) or max(simulated["chance"]) > 0.99


def test_all_six_are_answered_at_once_in_plain_sentences(quillwort, book):
    lines = quillwort("effort", book, "--runs", 200).strip().splitlines()
    assert [line.split(":")[0] for line in lines] == PURPOSES
    for line in lines:
        assert line.endswith(".") and "sites" in line or "points" in line


def test_a_species_of_the_last_survey_is_looked_for_where_it_was(quillwort, book):
    """The virtual surveys of one species give back the share of sites where it came up."""
    surveys = [one for one in quillwort.json("surveys", book) if one["sampled"]]
    record = quillwort.json("findings", book, "--survey", surveys[-1]["name"])
    if not record["taxa"]:
        # Lake Wingra's table counts species a site and names none
        refused = quillwort.result("effort", book, "--purpose", "estimate", "--species", "X")
        assert refused.returncode == 2 and "hint: " in refused.stderr
        return
    commonest = max(record["taxa"], key=lambda one: one["frequency"]["all"]["k"])
    said = quillwort.json(
        "effort", book, "--purpose", "estimate", "--species", commonest["code"], "--runs", RUNS,
        "--detection", 0.8, "--throws", 1,
    )
    assert commonest["code"] in said["simulation"]["plants"]
    found = commonest["frequency"]["all"]["p"]
    throws = surveys[-1]["throws_per_site"]
    grows = min(found / (1 - 0.2**throws), 0.99)
    assert said["inputs"]["occupancy"] == pytest.approx(grows, rel=1e-9)
