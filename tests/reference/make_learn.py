"""Vectors for learning from scipy, an independent implementation: log likelihoods of numbers with correlated errors, chances of
intervals, and the posterior of two unknowns in a curved case, on a fine grid. Writes learn.csv beside it.

Run once: python3 make_learn.py
"""
from pathlib import Path

import numpy as np
import scipy
from scipy import integrate, stats

HERE = Path(__file__).parent
SOURCE = f"scipy {scipy.__version__}, numpy {np.__version__}"

with open(HERE / "learn.csv", "w") as out:
    print(f"# source: {SOURCE}", file=out)
    print("# made by: make_learn.py; what: normal = stats.multivariate_normal.logpdf of n values 50 + 3 sin(i), said", file=out)
    print("# 50, covariance 6.25 exp(-|i-j|/5) and 1 on the diagonal besides; between = norm.cdf difference (low, high,", file=out)
    print("# error, said); toy = integrate.simpson over a grid of 801 by 801 within +-5 (see toy below)", file=out)
    print("what,a,b,c,d,result", file=out)

    def row(what, a, b, c, d, result):
        print(f"{what},{a},{b},{c},{d},{float(result)!r}", file=out)

    for n in [1, 2, 7, 40]:
        i = np.arange(n)
        covariance = 6.25 * np.exp(-np.abs(i[:, None] - i[None, :]) / 5.0) + np.eye(n)
        measured = 50.0 + 3.0 * np.sin(i)
        row("normal", n, "", "", "", stats.multivariate_normal(np.full(n, 50.0), covariance).logpdf(measured))
    for low, high, error, said in [(0.5, 0.65, 0.05, 0.55), (0.5, 0.65, 0.05, 0.75), (0.0, 0.4, 0.06, 0.38), (0.7, 1.0, 0.04, 0.5)]:
        row("between", low, high, error, said, stats.norm.cdf((high - said) / error) - stats.norm.cdf((low - said) / error))

    # A heap that warms and cools in two unknowns: said(t) = 20 + 45 (1 - exp(-0.4 t e^(x/2))) exp(-0.06 t e^(y/2)),
    # measured 12 K warmer than typical at first and 5 K colder later, error 2 K each.
    def said(t, x, y):
        return 20 + 45 * (1 - np.exp(-0.4 * t * np.exp(x / 2))) * np.exp(-0.06 * t * np.exp(y / 2))

    days = [1.0, 2.0, 4.0, 8.0, 14.0]
    measured = [41.0, 52.0, 54.0, 43.0, 31.0]
    axis = np.linspace(-5, 5, 801)
    x, y = np.meshgrid(axis, axis, indexing="ij")
    log = sum(stats.norm.logpdf(m, said(t, x, y), 2.0) for t, m in zip(days, measured))
    prior = stats.norm.pdf(x) * stats.norm.pdf(y)

    def whole(values):
        return integrate.simpson(integrate.simpson(values, x=axis), x=axis)

    evidence = whole(prior * np.exp(log))
    share = prior * np.exp(log) / evidence
    means = [whole(share * v) for v in (x, y)]
    spreads = [np.sqrt(whole(share * (v - m) ** 2)) for v, m in zip((x, y), means)]
    tie = whole(share * (x - means[0]) * (y - means[1])) / (spreads[0] * spreads[1])
    bits = (whole(share * log) - np.log(evidence)) / np.log(2)
    for name, value in zip(["mean x", "mean y", "spread x", "spread y", "correlation", "bits"], [*means, *spreads, tie, bits]):
        row("toy", name, "", "", "", value)
