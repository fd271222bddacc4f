"""Freezing of a half space that starts above 0 degC and whose face is held in frost. Writes freezing.csv.

sharp: two-phase Neumann solution (Carslaw and Jaeger 1959, 11.2): all water freezes at 0 degC; front at 2 lam sqrt(a t).
span: water freezes evenly between -1 and 0 degC; piecewise constant heat capacity makes three zones with error functions,
joined with temperature and flux continuous where they meet (as in Cho and Sunderland 1969 for alloys); front is 0 degC.
Both with one conductivity throughout. k W/m K; capacities J/m3 K of liquid, freezing (span only) and frozen matter;
heat of melting J/m3; start and face degC. Answer: depth of the 0 degC front after a day, m, and temperatures a given share
of it deep, degC.
melting, ice, vapour: properties of ice Ih (IAPWS 2006, 2008) from the package iapws, in ice.csv.
Run once: pip install scipy iapws==1.5.5; python3 make_freezing.py
"""
import iapws
import numpy as np
import scipy
from iapws import IAPWS95
from iapws._iapws import _Ice, _Sublimation_Pressure
from scipy.optimize import brentq, least_squares
from scipy.special import erf, erfc

DAY = 86400.0
SPAN = 1.0
SHARES = (0.25, 0.5, 1.5)


def sharp(k, liquid, frozen, latent, start, face):
    al, af = k / liquid, k / frozen
    nu = np.sqrt(af / al)

    def miss(lam):
        ice = frozen * -face * np.exp(-lam**2) / erf(lam)
        water = liquid * start * np.sqrt(al / af) * np.exp(-(nu * lam) ** 2) / erfc(nu * lam)
        return ice - water - latent * lam * np.sqrt(np.pi)

    lam = brentq(miss, 1e-6, 5, xtol=1e-15)
    depth = 2 * lam * np.sqrt(af * DAY)

    def at(x):
        if x <= depth:
            return face * (1 - erf(x / (2 * np.sqrt(af * DAY))) / erf(lam))
        return start * (1 - erfc(x / (2 * np.sqrt(al * DAY))) / erfc(nu * lam))

    return depth, [at(share * depth) for share in SHARES]


def span(k, liquid, frozen, latent, start, face):
    # As the program has it: the freezing water counts half as ice.
    middle = 0.5 * (liquid + frozen) + latent / SPAN
    af, am, al = k / frozen, k / middle, k / liquid

    def zone(a, lo, hi, t_lo, t_hi):
        """Temperature and slope in x / sqrt(t) between two places, given at both."""
        e = lambda s: erf(s / (2 * np.sqrt(a)))
        scale = (t_hi - t_lo) / (e(hi) - e(lo))
        return (lambda s: t_lo + scale * (e(s) - e(lo)),
                lambda s: scale * np.exp(-s * s / (4 * a)) / np.sqrt(np.pi * a))

    def zones(p):
        inner, outer = np.exp(p[0]), np.exp(p[0]) + np.exp(p[1])
        return inner, outer, zone(af, 0, inner, face, -SPAN), zone(am, inner, outer, -SPAN, 0.0), \
            zone(al, outer, 40 * np.sqrt(al), 0.0, start)

    def miss(p):
        inner, outer, ice, mush, water = zones(p)
        return [ice[1](inner) - mush[1](inner), mush[1](outer) - water[1](outer)]

    guess, _ = sharp(k, liquid, frozen, latent, start, face)
    s = guess / np.sqrt(DAY)
    tries = [least_squares(miss, [np.log(s * (1 - w)), np.log(s * w)], xtol=1e-15, ftol=1e-15, gtol=1e-15)
             for w in (0.05, 0.1, 0.2, 0.4)]
    p = min(tries, key=lambda t: t.cost).x
    assert max(abs(v) for v in miss(p)) < 1e-8, miss(p)
    inner, outer, ice, mush, water = zones(p)
    depth = outer * np.sqrt(DAY)

    def at(x):
        s = x / np.sqrt(DAY)
        return float((ice if s <= inner else mush if s <= outer else water)[0](s))

    return depth, [at(share * depth) for share in SHARES]


# Dry 180 and 300 kg/m3, water 270 and 500: what can freeze is water less a quarter of the dry matter.
CASES = []
for dry, water, k in ((180.0, 270.0, 0.25), (300.0, 500.0, 0.4), (120.0, 60.0, 0.12)):
    freezable = water - 0.25 * dry
    liquid = 1300.0 * dry + 4180.0 * water
    for start, face in ((1.0, -10.0), (5.0, -10.0), (10.0, -20.0), (2.0, -5.0)):
        CASES.append((dry, water, k, liquid, liquid - 2130.0 * freezable, 333.4e3 * freezable, start, face))
with open("freezing.csv", "w") as f:
    f.write(f"# source: scipy {scipy.__version__}, numpy {np.__version__}; made by: make_freezing.py\n")
    f.write("kind,dry,water,k,start,face,depth," + ",".join(f"at_{s}" for s in SHARES) + "\n")
    for dry, water, k, liquid, frozen, latent, start, face in CASES:
        for name, solve in (("sharp", sharp), ("span", span)):
            depth, at = solve(k, liquid, frozen, latent, start, face)
            f.write(f"{name},{dry},{water},{k},{start},{face},{depth:.9f}," + ",".join(f"{t:.9f}" for t in at) + "\n")
with open("ice.csv", "w") as f:
    f.write(f"# source: iapws {iapws.__version__} (IAPWS 2006 ice Ih, 2008 sublimation, IAPWS-95); made by: make_freezing.py\n")
    f.write("temperature_c,melting_j_per_kg,ice_enthalpy_j_per_kg,vapour_pa\n")
    water = IAPWS95(T=273.15, P=0.101325).h
    for t in (0, -1, -2, -5, -10, -15, -20, -30, -40):
        ice = _Ice(273.15 + t, 0.101325)["h"]
        f.write(f"{t},{(water - ice) * 1e3 if t == 0 else float('nan')},{(ice - water) * 1e3:.3f},"
                f"{_Sublimation_Pressure(273.15 + t) * 1e6:.6f}\n".replace("nan", ""))
