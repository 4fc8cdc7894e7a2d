"""Reference values for shares, pairs and medians, by scipy.

Run by hand: python3 reference.py > reference.json (scipy 1.10.1 made the stored file). The exact test
of McNemar is the binomial test of those that changed either way.
"""
import json

from scipy import stats


def share(k, n):
    test = stats.binomtest(k, n)
    ends = lambda method: list(test.proportion_ci(0.95, method))
    at_most = lambda c: stats.binomtest(k, n, alternative="less").proportion_ci(c, "exact").high
    return {"k": k, "n": n, "exact": ends("exact"), "wilson": ends("wilson"), "atMost95": at_most(0.95), "atMost99": at_most(0.99)}


def pairs(a, b, c, d):
    return {"both": a, "onlyA": b, "onlyB": c, "neither": d, "p": stats.binomtest(b, b + c, 0.5).pvalue}


def median(n):
    low = max((k for k in range(n // 2) if stats.binom.cdf(k, n, 0.5) <= 0.025), default=-1)
    return {"n": n, "low": low, "high": n - 1 - low}


def draws(share, confidence):
    n = 1
    while stats.binomtest(0, n, alternative="less").proportion_ci(confidence, "exact").high > share:
        n += 1
    return {"share": share, "confidence": confidence, "n": n}


print(json.dumps({
    "shares": [share(k, n) for k, n in [(0, 1), (1, 1), (0, 20), (1, 29), (2, 59), (15, 148), (81, 263), (14, 60), (60, 60), (3, 10000)]],
    "pairs": [pairs(*t) for t in [(794, 150, 86, 570), (0, 5, 0, 55), (4, 0, 9, 47), (101, 59, 121, 33), (10, 1, 2, 7), (3, 2, 2, 3)]],
    "medians": [median(n) for n in [5, 6, 10, 20, 25, 59, 60, 64, 100, 1000]],
    "draws": [draws(s, c) for s, c in [(0.05, 0.95), (0.1, 0.95), (0.01, 0.95), (0.05, 0.99), (0.2, 0.9)]],
}, indent=1))
