"""Reference values for rank correlations and their permutation bands, by scipy and numpy.

Run by hand: python3 permutation.py > permutation.json (scipy 1.10.1 made the stored file). One
sample of ten with ties, and three points of seven draws each with one permutation for all points:
all permutations are tried.
"""
import itertools
import json

import numpy as np
from scipy import stats

x10 = [3.1, 1.2, 4.4, 4.4, 2.0, 5.5, 0.3, 2.9, 6.1, 1.9]
y10 = [0.9, 0.4, 1.1, 1.6, 0.8, 1.2, 0.5, 0.8, 1.5, 1.4]
sampled = stats.permutation_test(
    (y10,), lambda y: stats.spearmanr(x10, y)[0], permutation_type="pairings",
    n_resamples=20000, vectorized=False, random_state=1)

xd = [0.62, 0.11, 0.95, 0.40, 0.77, 0.29, 0.53]
yd = [[1.9, 1.2, 2.2, 1.3, 1.7, 1.8, 1.4],
      [2.9, 2.7, 2.8, 2.1, 3.3, 2.2, 2.5],
      [3.4, 3.9, 4.4, 3.1, 3.8, 3.6, 3.0]]
rx = stats.zscore(stats.rankdata(xd)) / np.sqrt(len(xd))
w = sum(stats.zscore(stats.rankdata(y)) / np.sqrt(len(xd)) for y in yd) / len(yd)
null = np.array([rx[list(p)] @ w for p in itertools.permutations(range(len(xd)))])
mean = float(np.mean([stats.spearmanr(xd, y)[0] for y in yd]))
print(json.dumps({
    "one": {"x": x10, "y": y10, "rho": stats.spearmanr(x10, y10)[0], "p": sampled.pvalue,
            "band": float(np.quantile(np.abs(sampled.null_distribution), 0.95))},
    "grouped": {"x": xd, "y": yd, "rho": mean, "p": float(np.mean(np.abs(null) >= abs(mean) - 1e-12)),
                "band": float(np.quantile(np.abs(null), 0.95))},
}, indent=1))
