"""Surface balances by root finding, and the way of air to slits by a series. Writes surface.csv and slits.csv.

surface.csv: for a cell behind a face, the temperature at which what the half cell brings equals what the
outside takes, by scipy's brentq with exact functions of moist air (formulas of the ASHRAE handbook, vapour
pressure of Buck 1996, below 0 degC over ice), the heat and water through the face, and their change with the cell's temperature by
central differences.
slits.csv: extra length of an even medium in front of a wall with slits of share f a distance 1 apart: Laplace's
equation on a half strip by Galerkin's method, six terms.
Run once, in this folder: python3 make_surface.py
"""
import math
import numpy as np
import scipy
from scipy.optimize import brentq
from scipy.special import jv

HV = 2.556e6


def psat(t):
    return 611.21 * math.exp((18.678 - t / 234.5) * t / (257.14 + t))


def humidity(t, rh):
    e = rh * psat(t)
    return 0.621945 * e / (101325.0 - e)


def over_matter(t):
    """Humidity over wet matter: ice below 0 degC."""
    if t >= 0:
        return humidity(t, 1)
    e = 611.15 * math.exp((23.036 - t / 333.7) * t / (279.82 + t))
    return 0.621945 * e / (101325.0 - e)


def enthalpy(t, w):
    return 1006.0 * t + w * (2.501e6 + 1860.0 * t)


def bernoulli(x):
    return 1 + x / 2 if abs(x) < 1e-8 else x / (1 - math.exp(-x))


def exchange(inside, film, gas, tc, aw, slope, felt, air, w_air, flow):
    g_i = inside * bernoulli(flow * slope / inside)
    balance = lambda ts: g_i * (tc - ts) - film * (ts - felt) - HV * gas * (aw * over_matter(ts) - w_air)
    ts = brentq(balance, -59, 97, xtol=1e-12)
    w = aw * over_matter(ts)
    out, into = max(flow, 0.0), min(flow, 0.0)
    heat = film * (ts - felt) + HV * gas * (w - w_air) + out * enthalpy(ts, w) + into * enthalpy(air, w_air)
    return ts, heat, gas * (w - w_air) + out * w + into * w_air


rng = np.random.default_rng(20)
with open("surface.csv", "w") as f:
    f.write(f"# source: scipy {scipy.__version__} brentq; made by: make_surface.py\n")
    f.write("inside,film,gas,tc,aw,slope,felt,air,w_air,flow,heat,water,heat_slope,water_slope\n")
    for _ in range(200):
        inside = 10 ** rng.uniform(-0.5, 1.5)
        film = 10 ** rng.uniform(-1, 1.3)
        gas = rng.choice([0.0, 10 ** rng.uniform(-4, -2.5)])
        tc, aw = rng.uniform(-10, 80), rng.uniform(0.3, 1.0)
        air = rng.uniform(-15, 35)
        felt = air + rng.uniform(-3, 12)
        w_air = humidity(air, rng.uniform(0.3, 0.95))
        d = 1e-3
        slope = 1006 + aw * over_matter(tc) * 1860 + aw * (over_matter(tc + d) - over_matter(tc - d)) / (2 * d) \
            * (2.501e6 + 1860 * tc)
        flow = rng.choice([0.0, 1.0, -1.0]) * 10 ** rng.uniform(-5, -3)
        case = lambda t: exchange(inside, film, gas, t, aw, slope, felt, air, w_air, flow)
        _, heat, water = case(tc)
        up, down = case(tc + d), case(tc - d)
        row = (inside, film, gas, tc, aw, slope, felt, air, w_air, flow, heat, water,
               (up[1] - down[1]) / (2 * d), (up[2] - down[2]) / (2 * d))
        f.write(",".join(f"{v:.12g}" for v in row) + "\n")

with open("slits.csv", "w") as f:
    f.write(f"# source: scipy {scipy.__version__} special.jv; made by: make_surface.py\n")
    f.write("open_share,length\n")
    k = 2 * np.pi * np.arange(1, 400_001)
    for share in (0.03, 0.05, 0.1, 0.3, 0.5, 0.8):
        # flow through the slit sum c_m T_2m(x/a) / sqrt(1 - (x/a)^2), pressure 0 on it, by Galerkin's method
        a, terms = 0.5 * share, 6
        bessel = np.array([(-1) ** m * jv(2 * m, k * a) for m in range(terms)])
        matrix = 2 * np.pi * a * (bessel / k) @ bessel.T
        # rows l > 0: sum_m c_m matrix[l, m] = 0; row 0 gives the length; pi a c_0 = 1
        c0 = 1 / (np.pi * a)
        rest = np.linalg.solve(matrix[1:, 1:], -c0 * matrix[1:, 0])
        f.write(f"{share},{c0 * matrix[0, 0] + matrix[0, 1:] @ rest:.6g}\n")
