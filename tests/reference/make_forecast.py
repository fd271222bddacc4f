"""Vectors for the forecast from scipy and numpy, independent implementations: points of the Sobol'
sequence, distributions, quantiles, discrepancies. Writes sobol.csv and distributions.csv beside it.

Run once: python3 make_forecast.py
"""
import math
from pathlib import Path

import numpy as np
import scipy
from scipy import stats

HERE = Path(__file__).parent
SOURCE = f"scipy {scipy.__version__}, numpy {np.__version__}"
DIMENSIONS = 16
Z90 = stats.norm.ppf(0.9)

points = stats.qmc.Sobol(DIMENSIONS, scramble=False, bits=32).random(1024)
with open(HERE / "sobol.csv", "w") as out:
    print(f"# source: {SOURCE}: stats.qmc.Sobol, unscrambled (directions of Joe and Kuo 2008)", file=out)
    print("# made by: make_forecast.py; coordinates times 2^32", file=out)
    print("number," + ",".join(f"x{i}" for i in range(DIMENSIONS)), file=out)
    for number in [*range(0, 20), 63, 100, 199, 511, 1000, 1023]:
        row = points[number] * 2.0**32
        assert np.all(row == np.floor(row))
        print(",".join([str(number), *(str(int(x)) for x in row)]), file=out)

with open(HERE / "distributions.csv", "w") as out:
    print(f"# source: {SOURCE}", file=out)
    print("# made by: make_forecast.py; what: deviate = stats.norm.ppf; factor = stats.lognorm.ppf", file=out)
    print("# (median, 90 % point over median); step = stats.norm.ppf (median, 90 % point less median);", file=out)
    print("# linear, inverted_cdf = numpy.quantile (values divided by spaces);", file=out)
    print("# l2_star = stats.qmc.discrepancy of points 1 to n (values: n and dimensions)", file=out)
    print("what,values,width,share,result", file=out)

    def row(what, values, width, share, result):
        print(f"{what},{values},{width},{share},{float(result)!r}", file=out)

    for share in [1e-10, 1e-6, 0.001, 0.01, 0.02425, 0.0749, 0.0751, 0.1, 0.3, 0.49, 0.6, 0.9, 0.925, 0.975, 0.9999]:
        row("deviate", "", "", share, stats.norm.ppf(share))
    for median, factor in [(1.0, 1.5), (0.012, 2.0), (0.26, 1.3), (1.5, 1.5), (450.0, 1.15)]:
        for share in [0.1, 0.25, 0.5, 0.75, 0.9, 0.97]:
            row("factor", median, factor, share, stats.lognorm(s=math.log(factor) / Z90, scale=median).ppf(share))
    for median, step in [(0.58, 0.04), (0.25, 0.07), (-3.0, 2.0)]:
        for share in [0.1, 0.25, 0.5, 0.75, 0.9, 0.97]:
            row("step", median, step, share, stats.norm(median, step / Z90).ppf(share))
    for values in [[3.0], [1.0, 2.0], [1.0, 2.0, 4.0, 8.0, 16.0], [0.1, 0.1, 0.1, 0.7], [float(x * x) for x in range(11)]]:
        for share in [0.0, 0.1, 0.33, 0.5, 0.9, 1.0]:
            text = " ".join(map(repr, values))
            row("linear", text, "", share, np.quantile(values, share))
            row("inverted_cdf", text, "", share, np.quantile(values, share, method="inverted_cdf"))
    for n, d in [(16, 2), (64, 2), (64, 5), (128, 16)]:
        row("l2_star", f"{n} {d}", "", "", stats.qmc.discrepancy(points[1 : n + 1, :d], method="L2-star"))
