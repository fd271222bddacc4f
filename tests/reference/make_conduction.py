"""Transient conduction by eigenfunction series, summed with scipy. Writes conduction.csv.

Slab (half width L), infinite cylinder (radius L) and finite cylinder (radius = half height) that start
at 1 and give heat through a film to surroundings at 0; Bi = U L / k, Fo = alpha t / L^2.
Run once: python3 make_conduction.py > conduction.csv
"""
import numpy as np
import scipy
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

TERMS = 80


def slab(bi, fo):
    z = [brentq(lambda z: z * np.sin(z) - bi * np.cos(z), n * np.pi + 1e-12, n * np.pi + np.pi / 2) for n in range(TERMS)]
    z = np.array(z)
    c = 4 * np.sin(z) / (2 * z + np.sin(2 * z)) * np.exp(-z * z * fo)
    return c.sum(), (c * np.cos(z)).sum(), (c * np.sin(z) / z).sum()


def cylinder(bi, fo):
    low = np.concatenate([[0.0], jn_zeros(1, TERMS)])
    high = jn_zeros(0, TERMS)
    z = np.array([brentq(lambda z: z * j1(z) - bi * j0(z), low[n] + 1e-12, high[n]) for n in range(TERMS)])
    c = 2 / z * j1(z) / (j0(z) ** 2 + j1(z) ** 2) * np.exp(-z * z * fo)
    return c.sum(), (c * j0(z)).sum(), (c * 2 * j1(z) / z).sum()


print(f"# source: scipy {scipy.__version__}, numpy {np.__version__}: series of {TERMS} terms")
print("# made by: make_conduction.py; share of the start, surface = rim of the finite cylinder")
print("body,bi,fo,centre,surface,mean")
CASES = [(0.5, 0.2), (0.5, 1.0), (1.0, 0.1), (1.0, 0.5), (1.0, 1.0), (2.0, 0.1), (2.0, 0.5), (2.0, 1.0),
         (5.0, 0.2), (5.0, 0.5), (10.0, 0.2), (10.0, 0.5)]
for bi, fo in CASES:
    for name, body in (("slab", slab), ("cylinder", cylinder)):
        print(f"{name},{bi},{fo}," + ",".join(f"{v:.12f}" for v in body(bi, fo)))
for fo in (0.1, 0.2, 0.5, 1.0):
    both = [a * b for a, b in zip(slab(2.0, fo), cylinder(2.0, fo))]
    print(f"finite,2.0,{fo}," + ",".join(f"{v:.12f}" for v in both))
# Radius 0.5 m, conductivity 0.4 W/m K, 1.6 MJ/m3 K, film 2 W/m2 K: Bi 2.5; 60 degC into 10 degC.
for day in (1, 2, 5, 10, 20, 40):
    fo = 0.4 / 1.6e6 * day * 86400 / 0.25
    print(f"metre,{2.5},{fo:.8f}," + ",".join(f"{v:.12f}" for v in cylinder(2.5, fo)))
