"""One closed cell without any exchange, oxygen as in open air: scipy's LSODA at rtol 1e-10. Writes
closed_cell.csv. Rot equations are those of make_one_cell.py; heat stays in the cell.

Run once: python3 make_closed_cell.py > closed_cell.csv
With --time it prints instead how long LSODA takes at several tolerances, and how far off it then is.
"""
import math
import sys
import time
import scipy
from scipy.integrate import solve_ivp

CARD = (-1.0, 56.0, 72.0)
K = (0.26, 0.042, 0.012)
Y_FULL, Y_LEAST, R, DEATH, F_HUMUS, CROWD, X0, TAU = 0.40, 0.27, 8.0, 0.04, 0.30, 0.012, 0.01, 0.25
O2_C = 32 / 12 * 1.06
HEAT_C = 14.0e6 * O2_C
N_SHARES = (0.40, 0.22, 0.13, 0.20, 0.05)
CS, CW = 1300.0, 4180.0


def cardinal(t):
    lo, opt, hi = CARD
    if not lo < t < hi:
        return 0.0
    return (t - hi) * (t - lo) ** 2 / ((opt - lo) * ((opt - lo) * (t - opt) - (opt - hi) * (opt + lo - 2 * t)))


def case(name, cn, start):
    dry = 450 * 0.42
    ash = 0.15 * dry
    carbon = 0.47 * (dry - ash)
    cc = carbon / (dry - ash)
    pools = (0.25, 0.27, 0.28)
    inert = carbon * (1 - sum(pools))
    c = [carbon * p for p in pools]
    n = carbon / cn
    food = sum(c)
    x = min(X0 * food, 0.5 * n * R)
    c = [ci * (1 - x / food) for ci in c]
    n -= x / R
    npc = [n * s / ci for s, ci in zip(N_SHARES[:3], c)]
    water = 450 * 0.58
    solids = lambda y: ash + (sum(y[2:7]) + inert) / cc

    def rhs(t, y):
        e, w, c1, c2, c3, x, hum, nm = y
        s = solids(y)
        temp = e / (CS * s + CW * w)
        ft = cardinal(temp)
        phi = ft / (1 + math.exp(7.0622 - 17.684 * w / (w + s))) * x / (x + CROWD * (c1 + c2 + c3))
        sp = [K[0] * c1, K[1] * c2, K[2] * c3]
        eager, freed = sum(sp), sum(a * b for a, b in zip(sp, npc))
        death = DEATH * ft * x
        n_dead = (1 - F_HUMUS) * death / R
        hand = nm / TAU + n_dead
        yld = min(max(R * (hand + freed * phi) / (eager * phi), Y_LEAST), Y_FULL) if phi > 0 else Y_FULL
        short = phi * (eager * Y_LEAST / R - freed)
        eat = phi * (hand / short if short > hand else 1.0)
        growth = yld * eager * eat
        ox = eager * eat - growth + (1 - F_HUMUS) * death
        return [ox * HEAT_C, ox * (1 / cc + O2_C - 44 / 12), *[-a * eat for a in sp], growth - death,
                F_HUMUS * death, freed * eat - growth / R + n_dead]

    y0 = [(CS * dry + CW * water) * start, water, *c, x, 0.0, n * N_SHARES[4]]
    return rhs, y0, solids


DAYS = [0.5, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0, 30.0]


def solve(rhs, y0, rtol):
    atol = [rtol * max(abs(v), 1e-3) for v in y0]
    sol = solve_ivp(rhs, (0, 30), y0, method="LSODA", rtol=rtol, atol=atol, t_eval=DAYS)
    assert sol.success
    return sol


def rows(name, cn, start):
    rhs, y0, solids = case(name, cn, start)
    sol = solve(rhs, y0, 1e-10)
    for t, y in zip(sol.t, sol.y.T):
        s = solids(y)
        print(f"{name},{t},{y[0] / (CS * s + CW * y[1]):.9g},{y[1]:.9g},{s:.9g}")


def timed():
    rhs, y0, solids = case("balanced", 27.0, 20.0)
    temperatures = lambda sol: [y[0] / (CS * solids(y) + CW * y[1]) for y in sol.y.T]
    exact = temperatures(solve(rhs, y0, 1e-10))
    for rtol in (1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-8):
        begun = time.perf_counter()
        for _ in range(20):
            sol = solve(rhs, y0, rtol)
        taken = (time.perf_counter() - begun) / 20
        off = max(abs(a - b) for a, b in zip(temperatures(sol), exact))
        print(f"LSODA rtol {rtol:.0e}: {1e3 * taken:.2f} ms, {sol.nfev} rates, {off:.4f} K off")


if "--time" in sys.argv:
    timed()
    sys.exit()
print(f"# source: scipy {scipy.__version__} solve_ivp(method='LSODA', rtol=1e-10); one closed cell of 1 m3")
print("# made by: make_closed_cell.py")
print("case,day,temperature_c,water_kg,dry_kg")
rows("balanced", 27.0, 20.0)
rows("brown", 50.0, 20.0)
