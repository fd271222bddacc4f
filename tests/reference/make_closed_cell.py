"""One closed cell without any exchange, oxygen as in open air: scipy's LSODA at rtol 1e-10. Writes
closed_cell.csv. Rot equations are those of rot_equations.py, without the factor of the air space; heat stays in the cell.

Run once: python3 make_closed_cell.py > closed_cell.csv
With --time it prints instead how long LSODA takes at several tolerances, and how far off it then is.
"""
import math
import sys
import time
import scipy
from scipy.integrate import solve_ivp

from rot_equations import HEAT_C, O2_C, YA, Food

CS, CW = 1300.0, 4180.0


def case(name, cn, start):
    dry = 450 * 0.42
    ash = 0.15 * dry
    carbon = 0.47 * (dry - ash)
    cc = carbon / (dry - ash)
    pools = (0.25, 0.27, 0.28)
    food = Food(carbon, pools, cn)
    water = 450 * 0.58
    solids = lambda y: ash + (sum(y[2:7]) + food.inert) / cc

    def rhs(t, y):
        e, w = y[:2]
        s = solids(y)
        temp = e / (CS * s + CW * w)
        bed = 1 / (1 + math.exp(7.0622 - 17.684 * w / (w + s)))
        r = food.rates(y[2:], temp, bed)
        rates, _, _ = food.change(y[2:], temp, bed, r, 1.0, YA, 0.0)
        return [r["ox"] * HEAT_C, r["ox"] * (1 / cc + O2_C - 44 / 12), *rates]

    y0 = [(CS * dry + CW * water) * start, water, *food.start]
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
