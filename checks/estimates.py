"""Estimates, models and tests of surveys worked out again: brute force, SciPy and statsmodels.

The names are those of docs/methods.md, whose examples are worked out with them. Nothing here follows the
program's way: jackknives leave sites out one by one, curves come from the hypergeometric distribution,
models from an optimiser or from statsmodels.
"""

import itertools
import math

import numpy
import scipy.optimize
import scipy.spatial.distance
import scipy.stats
import statsmodels.api

from surveys import Z, independent_difference, paired_difference


def incidence(sites):
    """Sites as strings of letters, one a species: in how many sites each was found."""
    species = sorted(set("".join(sites)))
    return numpy.array([sum(one in site for site in sites) for one in species])


def chao2(*sites):
    """Chao (1987) with the factor (T - 1)/T: value, standard error, interval on the log scale."""
    counts, t = incidence(sites), len(sites)
    seen, once, twice = len(counts), int((counts == 1).sum()), int((counts == 2).sum())
    a = (t - 1) / t
    if twice:
        k = once / twice
        value = seen + a * once**2 / (2 * twice)
        variance = twice * (a * k**2 / 2 + a**2 * k**3 + a**2 * k**4 / 4)
    else:
        value = seen + a * once * (once - 1) / 2
        variance = (
            a * once * (once - 1) / 2
            + a**2 * once * (2 * once - 1) ** 2 / 4
            - a**2 * once**4 / (4 * value)
        )
    unseen = value - seen
    stretch = math.exp(Z * math.sqrt(math.log(1 + variance / unseen**2))) if unseen else 1
    return value, math.sqrt(variance), seen + unseen / stretch, seen + unseen * stretch


def richness_without(sites, left_out):
    return len(set("".join(site for n, site in enumerate(sites) if n not in left_out)))


def jackknife1(*sites):
    """Sites left out one by one: the mean of the pseudovalues and the error of that mean."""
    t = len(sites)
    whole = len(set("".join(sites)))
    pseudo = [t * whole - (t - 1) * richness_without(sites, {n}) for n in range(t)]
    return float(numpy.mean(pseudo)), float(scipy.stats.sem(pseudo))


def jackknife2(*sites):
    """Sites left out one by one and two by two (Burnham & Overton 1978)."""
    t = len(sites)
    whole = len(set("".join(sites)))
    one = numpy.mean([richness_without(sites, {n}) for n in range(t)])
    two = numpy.mean([richness_without(sites, {*p}) for p in itertools.combinations(range(t), 2)])
    return float((t**2 * whole - 2 * (t - 1) ** 2 * one + (t - 2) ** 2 * two) / 2)


def species_at(number, *sites):
    """Species expected at some of the sites: each is missed with a hypergeometric chance."""
    t = len(sites)
    missed = [scipy.stats.hypergeom.pmf(0, t, int(found), number) for found in incidence(sites)]
    return float(len(missed) - sum(missed))


def species_after(more, *sites):
    value, _, _, _ = chao2(*sites)
    counts, t = incidence(sites), len(sites)
    seen, once = len(counts), int((counts == 1).sum())
    unseen = value - seen
    return seen + unseen * (1 - (1 - once / (t * unseen + once)) ** more) if unseen else seen


def coverage(*sites):
    counts, t = incidence(sites), len(sites)
    once, twice = int((counts == 1).sum()), int((counts == 2).sum())
    if not once:
        return 1.0
    rare, rest = ((t - 1) * once, 2 * twice) if twice else ((t - 1) * (once - 1), 2)
    return 1 - once / counts.sum() * rare / (rare + rest)


def diversity(*counts):
    """Shannon by SciPy, inverse Simpson, evenness."""
    shares = numpy.array([one for one in counts if one > 0]) / sum(counts)
    shannon = float(scipy.stats.entropy(shares))
    return shannon, float(1 / (shares**2).sum()), shannon / math.log(len(shares))


def dominance(*counts):
    return (numpy.cumsum(sorted(counts, reverse=True)) / sum(counts)).tolist()


def depth_quarters(*depths):
    return numpy.quantile(depths, [0, 0.25, 0.5, 0.75, 1]).tolist()


def not_found(sites):
    """The one-sided limit of Clopper and Pearson after no find."""
    return float(scipy.stats.beta.ppf(0.95, 1, sites))


def occupancy_likelihood(found, throws):
    """Minus the log likelihood of MacKenzie et al. (2002) as a function of both chances."""
    found, throws = numpy.asarray(found), numpy.broadcast_to(throws, len(found))

    def minus(psi, p):
        here = psi * p**found * (1 - p) ** (throws - found)
        return -float(numpy.log(here + (found == 0) * (1 - psi)).sum())

    return minus


def occupancy(found, throws):
    """Occupancy, detection and the chance that a site with the plant showed none."""
    minus = occupancy_likelihood(found, throws)
    best = scipy.optimize.minimize(
        lambda x: minus(*x), [0.5, 0.5], method="L-BFGS-B", bounds=[(1e-9, 1 - 1e-12)] * 2,
        options={"ftol": 1e-15, "gtol": 1e-10},
    )
    psi, p = best.x
    return float(psi), float(p), float((1 - p) ** numpy.max(throws))


def occupancy_limits(found, throws):
    """Profile likelihood limits of the occupancy."""
    minus = occupancy_likelihood(found, throws)
    psi, p, _ = occupancy(found, throws)
    least = minus(psi, p) + scipy.stats.chi2.ppf(0.95, 1) / 2

    def over(value):
        inner = scipy.optimize.minimize_scalar(
            lambda x: minus(value, x), bounds=(1e-9, 1 - 1e-12), method="bounded",
            options={"xatol": 1e-12},
        )
        return inner.fun - least

    low = scipy.optimize.brentq(over, 1e-6, psi, xtol=1e-10)
    high = scipy.optimize.brentq(over, psi, 1 - 1e-9, xtol=1e-10) if over(1 - 1e-9) > 0 else 1.0
    return low, high


def weighted_share(values, chances):
    """Hájek's mean and Horvitz and Thompson's total."""
    weights = 1 / numpy.asarray(chances)
    return float(numpy.average(values, weights=weights)), float(numpy.dot(values, weights))


def signed_rank(before, after):
    """Wilcoxon's V under Pratt's rule and its p from every assignment of signs; rank-biserial."""
    difference = numpy.subtract(after, before)
    ranks = scipy.stats.rankdata(numpy.abs(difference))[difference != 0]
    moved = difference[difference != 0]
    v, every = ranks[moved > 0].sum(), ranks.sum()
    sums = numpy.zeros(1)
    for rank in ranks:
        sums = numpy.concatenate([sums, sums + rank])
    p = min(1, 2 * min((sums <= v + 1e-9).mean(), (sums >= v - 1e-9).mean()))
    return float(v), float(p), float((2 * v - every) / every)


def cliff_delta(before, after):
    apart = numpy.sign(numpy.subtract.outer(after, before))
    return float(apart.mean())


def dissimilarities(one, other):
    """Bray-Curtis of amounts, Jaccard of presence, both by SciPy."""
    return (
        float(scipy.spatial.distance.braycurtis(one, other)),
        float(scipy.spatial.distance.jaccard(numpy.array(one) > 0, numpy.array(other) > 0)),
    )


def anosim_r(one, other):
    """Clarke's R of two groups of sites, Bray-Curtis, mid-ranks."""
    rows = numpy.array([*one, *other], dtype=float)
    apart = scipy.spatial.distance.pdist(rows, "braycurtis")
    apart = numpy.nan_to_num(apart)
    ranks = scipy.spatial.distance.squareform(scipy.stats.rankdata(apart))
    group = numpy.arange(len(rows)) < len(one)
    pairs = numpy.triu(numpy.ones_like(ranks, dtype=bool), 1)
    same = numpy.equal.outer(group, group)
    within, between = ranks[pairs & same].mean(), ranks[pairs & ~same].mean()
    return float((between - within) / (len(apart) / 2))


def contrast(treated, untreated):
    """Change in the treated part beyond the untreated: value and limits.

    Each part is four counts of the same sites (both, lost, gained, neither): Newcombe's limits, put
    together as Zou & Donner (2008), Statistics in Medicine 27: 1693-1702.
    """
    t, t_low, t_high = paired_difference(*treated)
    c, c_low, c_high = paired_difference(*untreated)
    d = t - c
    return d, d - math.hypot(t - t_low, c_high - c), d + math.hypot(t_high - t, c - c_low)


def contrast_of_other_sites(treated, untreated):
    """The same from k, n before and k, n after at different sites."""
    t, t_low, t_high = independent_difference(*treated)
    c, c_low, c_high = independent_difference(*untreated)
    d = t - c
    return d, d - math.hypot(t - t_low, c_high - c), d + math.hypot(t_high - t, c - c_low)


def abbott(treated_after, untreated_after):
    return 1 - treated_after / untreated_after


def henderson_tilton(treated_before, treated_after, untreated_before, untreated_after):
    log = math.log(treated_after / treated_before) - math.log(untreated_after / untreated_before)
    return 1 - math.exp(log)


def trend(years, found, sites):
    """Quasi-binomial logistic regression by statsmodels: log odds a year, limits, p."""
    years = numpy.asarray(years, dtype=float)
    found, sites = numpy.asarray(found), numpy.asarray(sites)
    design = statsmodels.api.add_constant(years - years.mean())
    counts = numpy.column_stack([found, numpy.subtract(sites, found)])
    family = statsmodels.api.families.Binomial()
    fit = statsmodels.api.GLM(counts, design, family=family).fit(tol=1e-14, maxiter=200)
    # the library's own estimate of the spread leaves out the sites behind each share
    expected = sites * fit.mu
    chi_squared = ((found - expected) ** 2 / (expected * (1 - fit.mu))).sum()
    free = len(years) - 2
    error = fit.bse[1] * math.sqrt(chi_squared / free)
    reach = scipy.stats.t.ppf(0.975, free) * error
    slope = fit.params[1]
    p = 2 * scipy.stats.t.sf(abs(slope) / error, free)
    return float(slope), float(slope - reach), float(slope + reach), float(p)


def mann_kendall(*values):
    """S, exact two-sided p over all orders, Sen's slope a step."""
    order = numpy.arange(len(values))
    s = sum(numpy.sign(b - a) for a, b in itertools.combinations(values, 2))
    p = scipy.stats.kendalltau(order, values, method="exact").pvalue
    return float(s), float(p), float(scipy.stats.theilslopes(values, order).slope)


def still_there(occupancy_share, detection, throws):
    """Bayes' rule: the chance that a plant stands where some throws found none."""
    missed = occupancy_share * (1 - detection) ** throws
    return missed / (missed + 1 - occupancy_share)


def nearest_share(points, found, length):
    """Share of a straight strip of water whose nearest point has the plant, from half-way lines."""
    ends = numpy.concatenate([[0], numpy.add(points[1:], points[:-1]) / 2, [length]])
    return float(numpy.dot(numpy.diff(ends), found) / length)


def variogram(nugget, partial, reach, apart):
    return nugget + partial * (1 - math.exp(-3 * apart / reach))


def middle(*places):
    return numpy.mean(places, axis=0).tolist()


def noise(measure):
    """Nichols (1997), as its abstract has them."""
    return {
        "greatest depth with plants, m": 0.8,
        "open share of the littoral": 0.13,
        "species": 4,
        "Simpson": 0.04,
        "similarity": 0.70,
    }[measure]
