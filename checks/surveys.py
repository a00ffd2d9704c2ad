"""Figures of one or two surveys worked out again from counts, by SciPy, statsmodels and plain sums.

The names are those of docs/methods.md, whose examples are worked out with them.
"""

import math

import numpy
import scipy.optimize
import scipy.stats
import statsmodels.stats.contingency_tables
import statsmodels.stats.multitest
import statsmodels.stats.proportion

Z = scipy.stats.norm.ppf(0.975)
Z_POWER = scipy.stats.norm.ppf(0.8)


def standard_error(k, n):
    """The standard error of a mean of noughts and ones, divisor n - 1: SciPy's `sem`."""
    if n < 2:
        return None
    return float(scipy.stats.sem(numpy.repeat([1.0, 0.0], [k, n - k]), ddof=1))


def wilson(k, n):
    low, high = statsmodels.stats.proportion.proportion_confint(k, n, alpha=0.05, method="wilson")
    # the two ends are exact at none and all; the library leaves a rounding there
    return (0.0 if k == 0 else float(low)), (1.0 if k == n else float(high))


def frequency(k, n):
    """The five figures printed with a share."""
    if n == 0:
        return {"k": k, "n": 0, "p": None, "se": None, "low": None, "high": None}
    low, high = wilson(k, n)
    return {"k": k, "n": n, "p": k / n, "se": standard_error(k, n), "low": low, "high": high}


def simpson(*counts):
    shares = numpy.array([one for one in counts if one > 0]) / sum(counts)
    return float(1 - (shares**2).sum())


def mcnemar_mid_p(gained, lost):
    """The exact test of statsmodels, less the chance of what was seen."""
    if gained + lost == 0:
        return 1.0
    table = [[0, lost], [gained, 0]]
    exact = statsmodels.stats.contingency_tables.mcnemar(table, exact=True).pvalue
    least = min(gained, lost)
    seen = scipy.stats.binom.pmf(least, gained + lost, 0.5)
    if gained == lost:
        # both tails hold the middle outcome, which statsmodels cuts at 1
        return float(2 * scipy.stats.binom.cdf(least, 2 * least, 0.5) - seen)
    return float(exact - seen)


def paired_difference(both, lost, gained, neither):
    """Newcombe (1998), Statistics in Medicine 17: 2635-2650, method 10, from Wilson's limits."""
    n = both + lost + gained + neither
    first, second = both + lost, both + gained
    p1, p2 = first / n, second / n
    (l1, u1), (l2, u2) = wilson(first, n), wilson(second, n)
    margins = first * (n - first) * second * (n - second)
    cross = both * neither - gained * lost
    if cross > n / 2:
        cross -= n / 2
    elif cross >= 0:
        cross = 0
    phi = cross / math.sqrt(margins) if margins else 0.0
    d = p2 - p1
    below = (p2 - l2) ** 2 - 2 * phi * (p2 - l2) * (u1 - p1) + (u1 - p1) ** 2
    above = (u2 - p2) ** 2 - 2 * phi * (u2 - p2) * (p1 - l1) + (p1 - l1) ** 2
    return d, d - math.sqrt(max(below, 0)), d + math.sqrt(max(above, 0))


def independent_difference(k1, n1, k2, n2):
    """Newcombe (1998), Statistics in Medicine 17: 873-890, method 10, as statsmodels has it."""
    low, high = statsmodels.stats.proportion.confint_proportions_2indep(
        k2, n2, k1, n1, method="newcomb", compare="diff"
    )
    return k2 / n2 - k1 / n1, float(low), float(high)


def two_proportions(k1, n1, k2, n2):
    """Chi-squared without correction, or Fisher's test below five expected: name and p value."""
    table = numpy.array([[k1, n1 - k1], [k2, n2 - k2]])
    if k1 + k2 in (0, n1 + n2):
        return "Fisher exact", 1.0
    expected = scipy.stats.contingency.expected_freq(table)
    if expected.min() < 5:
        return "Fisher exact", float(scipy.stats.fisher_exact(table).pvalue)
    return "chi-squared", float(scipy.stats.chi2_contingency(table, correction=False).pvalue)


def benjamini_hochberg(*p_values):
    return statsmodels.stats.multitest.multipletests(p_values, method="fdr_bh")[1].tolist()


def power_same_sites(n, gained, lost):
    """Connor (1987), Biometrics 43: 207-211, p. 209; shares of sites that change each way."""
    change, turnover = abs(gained - lost), gained + lost
    excess = math.sqrt(n) * change - Z * math.sqrt(turnover)
    spread = math.sqrt(max(turnover - change**2, 0))
    if spread == 0:
        return float(excess > 0)
    return float(scipy.stats.norm.cdf(excess / spread))


def power_different_sites(p1, n1, p2, n2, corrected=False):
    """Fleiss (1981), ch. 3; with the correction as Casagrande, Pike & Smith (1978)."""
    r, change = n2 / n1, abs(p1 - p2)
    pooled = (p1 + r * p2) / (1 + r)
    root = math.sqrt(n1)
    if corrected:
        root -= (r + 1) / (2 * r * change * math.sqrt(n1))
    excess = root * change - Z * math.sqrt(pooled * (1 - pooled) * (1 + 1 / r))
    spread = math.sqrt(p1 * (1 - p1) + p2 * (1 - p2) / r)
    return float(scipy.stats.norm.cdf(excess / spread)) if spread else float(excess > 0)


def smallest(most, power):
    """The smallest change up to `most` with a power of 80 %, or none."""
    if most <= 0:
        return None
    tried = numpy.linspace(0, most, 2001)[1:]
    reached = next((one for one in tried if power(one) >= 0.8), None)
    if reached is None:
        return None
    before = reached - most / 2000
    if before <= 0 or power(before) >= 0.8:
        before = 1e-12
    return float(scipy.optimize.brentq(lambda one: power(one) - 0.8, before, reached, xtol=1e-10))


def detectable_same_sites(both, lost, gained, neither):
    n = both + lost + gained + neither
    first, stay = (both + lost) / n, min(lost, gained) / n
    found = [
        smallest(1 - first - stay, lambda change: power_same_sites(n, stay + change, stay)),
        smallest(first - stay, lambda change: power_same_sites(n, stay + change, stay)),
    ]
    found = [one for one in found if one is not None]
    return min(found) if found else None


def detectable_different_sites(k1, n1, n2, corrected=False):
    p1 = k1 / n1
    found = [
        smallest(1 - p1, lambda change: power_different_sites(p1, n1, p1 + change, n2, corrected)),
        smallest(p1, lambda change: power_different_sites(p1, n1, p1 - change, n2, corrected)),
    ]
    found = [one for one in found if one is not None]
    return min(found) if found else None
