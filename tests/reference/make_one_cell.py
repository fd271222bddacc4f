"""Reference histories of the well-mixed heap from scipy's LSODA (rtol 1e-10). Writes one_cell.csv.

The equations are written here a second time, from the documentation and not from the program, so
that a slip in either shows. Run once: python3 make_one_cell.py > one_cell.csv   (about a minute)
"""
import math
import sys
import numpy as np
import scipy
from scipy.integrate import solve_ivp

from rot_equations import HALF, HEAT_C, O2_C, YA, Food

DAY = 86400.0
CS, CW = 1300.0, 4180.0
WIND = 1.5


def permeability(d, f):
    """m2, of particles of d metres at free air space f."""
    open_part = max(f - 0.25, 0.0) / 0.35
    a, b = 0.0115 * open_part ** 2.5, 0.020
    return min(max(d ** 2 * a * b / (a + b), 1e-13), 1e-6)


def psat(t):
    return 611.21 * math.exp((18.678 - t / 234.5) * t / (257.14 + t))


def humidity(t, rh):
    e = rh * psat(t)
    return 0.621945 * e / (101325.0 - e)


def enthalpy(t, w):
    return 1006.0 * t + w * (2.501e6 + 1860.0 * t)


def spec_vol(t, w):
    return 287.042 * (t + 273.15) * (1 + w / 0.621945) / 101325.0


class Case:
    """A mix (per m3 as built) in a mesh cylinder or a closed bin, in even weather."""

    def __init__(self, name, volume=1.0, density=450.0, moisture=0.58, cn=27.0, d=1e-3,
                 pools=(0.25, 0.27, 0.28), slump=0.12, holds=3.0, mean=15.0, closed=False):
        self.name, self.v, self.d, self.slump, self.holds, self.mean = name, volume, d, slump, holds, mean
        dry = density * (1 - moisture)
        self.dry0, self.ash = dry, 0.15 * dry
        carbon = 0.47 * (dry - self.ash)
        self.cc = carbon / (dry - self.ash)
        self.food = Food(carbon, pools, cn)
        self.inert = self.food.inert
        t0 = max(mean, 10.0)
        w = density * moisture
        self.y0 = [(CS * dry + CW * w) * t0, w, *self.food.start, 0.0]
        side = volume ** (1 / 3)
        self.plan, self.h0 = side * side, side
        # A mesh cylinder of that plan area has the perimeter of the circle, a bin that of the square.
        perimeter = 4 * side if closed else math.pi * side * math.sqrt(4 / math.pi)
        self.side0 = perimeter * side
        if closed:
            self.us, self.ut, self.os, self.ot, self.ob, self.rain = 11.6, 4.5, 0.05, 0.1, 0.05, 0.0
        else:
            self.us, self.ut, self.os, self.ot, self.ob, self.rain = 12.5, 12.5, 1.0, 1.0, 0.0, 1.0

    def solids(self, y):
        return self.ash + (sum(y[2:7]) + self.inert) / self.cc

    def geometry(self, t, y):
        s = self.solids(y)
        airless = (s - self.ash) / 1600 + self.ash / 2500 + y[1] / 1000
        h = (1 - self.slump * (1 - math.exp(-0.2 * t))) * (s / self.dry0) ** 0.8
        h = max(h, 1.02 * airless)
        return s, h, 1 - airless / h

    def everything(self, t, y):
        e, w_liq = y[:2]
        s, h, f = self.geometry(t, y)
        temp = e / (CS * s + CW * w_liq)
        m = w_liq / (w_liq + s)
        hour = 24 * ((99.0 + t) % 1.0)
        ta = self.mean + 4.0 * math.cos(2 * math.pi * (hour - 15.0) / 24)
        aw = 1 - 1 / (1 + 10 * w_liq / s) ** 2
        w, wa = humidity(temp, aw), humidity(ta, 0.75)
        sv = spec_vol(temp, w)
        rho, rhoa = (1 + w) / sv, (1 + wa) / spec_vol(ta, wa)
        # draught
        perm = permeability(self.d, f)
        hh = self.h0 * h
        skin = 0.15 * hh
        res = hh / self.plan + skin / (self.side0 * h * self.os + self.plan * self.ob) \
            + skin * (1 / self.ot - 1) / self.plan
        mu = 1.722e-5 + 4.8e-8 * temp
        pressure = max(rhoa - rho, 0.0) * 9.81 * hh + 0.1 * 0.6 * WIND ** 2
        draught = perm / mu / sv * pressure / res
        # skin
        side = self.side0 * h
        area = side + self.plan
        depth = 0.5 * self.v * h / area
        de = f * f * 0.178e-4 * ((temp + 273.15) / 273.15) ** 1.75
        film = 1.2 * (0.0023 + 0.0025 * WIND)
        diff = (side * self.os + self.plan * self.ot) / (depth * sv / de + 1 / film)
        water_vol = w_liq / 1000 / h
        k = 0.06 + 0.44 * min(water_vol / (f + water_vol), 1.0)
        ua = side / (depth / k + 1 / self.us) + self.plan / (depth / k + 1 / self.ut)
        ground = self.plan / (0.5 * hh / k + 1 / 1.6)
        # rot at full oxygen
        bed = 1 / (1 + math.exp(7.0622 - 17.684 * m)) / (1 + math.exp(-30 * (f - 0.12)))
        rot = self.food.rates(y[2:11], temp, bed)
        ox = rot["ox"]
        # oxygen: bisection on supply = use
        g = (draught + diff) * 32 / 28.97 * DAY / self.v
        use = ox * O2_C
        fo = lambda yy: yy / (HALF + yy) * (1 + HALF / YA)
        lo, hi = 0.0, YA
        for _ in range(200):
            mid = 0.5 * (lo + hi)
            if g * (YA - mid) > use * fo(mid):
                lo = mid
            else:
                hi = mid
        oxygen = 0.5 * (lo + hi)
        cut = fo(oxygen)
        return dict(s=s, h=h, f=f, temp=temp, ta=ta, w=w, wa=wa, sv=sv, draught=draught, diff=diff, ua=ua,
                    ground=ground, bed=bed, rot=rot, cut=cut, ox=ox * cut, oxygen=oxygen)

    def rhs(self, t, y):
        q = self.everything(t, y)
        w_liq, nm = y[1], y[7]
        air, dif = q["draught"] * DAY / self.v, q["diff"] * DAY / self.v
        temp = q["temp"]
        vap_d = dif * (q["w"] - q["wa"])
        vap = air * (q["w"] - q["wa"]) + vap_d
        rain = self.rain * 45.0 / (365 / 12) * self.plan / self.v
        drain = max(w_liq - self.holds * q["s"], 0.0) / 0.25
        water_c = 1 / self.cc + O2_C - 44 / 12
        surface = (q["ua"] * (temp - q["ta"]) + q["ground"] * (temp - self.mean)) * DAY / self.v
        heat_vap = air * (enthalpy(temp, q["w"]) - enthalpy(q["ta"], q["wa"])) + vap_d * (2.501e6 + 1860 * temp)
        ph = self.food.ph(y[2:11])
        tk = temp + 273.15
        gas = nm / w_liq * 1000 / (1 + 10 ** (0.09018 + 2729.92 / tk - ph)) / 10 ** (-1.69 + 1477.7 / tk)
        nh3 = gas * q["sv"] * (air + dif)
        de = q["ox"] * HEAT_C + rain * CW * max(q["ta"], 0) - surface - heat_vap - drain * CW * temp
        lost = nh3 + nm * drain / w_liq
        rates, buried, _ = self.food.change(y[2:11], temp, q["bed"], q["rot"], q["cut"], q["oxygen"], lost)
        return [de, q["ox"] * water_c + rain - vap - drain, *rates, buried]


CASES = [
    Case("good_1m3"),
    Case("small_0.2m3", volume=0.2),
    Case("wet_72", moisture=0.72, density=450 * 0.42 / 0.28),
    Case("brown_cn50", cn=50.0),
    Case("closed_1m3", closed=True),
    Case("grass", density=382.0, moisture=0.82, cn=17.0, d=0.3e-3, pools=(0.466, 0.284, 0.18), slump=0.5, holds=4.5),
]
DAYS = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 120.0]

print(f"# source: scipy {scipy.__version__} solve_ivp(method='LSODA', rtol=1e-10), numpy {np.__version__}")
print("# made by: make_one_cell.py; whole heap, at the given day")
print("case,day,temperature_c,water_kg,dry_kg,nitrogen_kg,volume_m3,oxygen")
for case in CASES:
    atol = [1e-10 * max(abs(v), 1e-3) for v in case.y0]
    sol = solve_ivp(case.rhs, (0, 120), case.y0, method="LSODA", rtol=1e-10, atol=atol, t_eval=DAYS, max_step=0.05)
    assert sol.success, sol.message
    for t, y in zip(sol.t, sol.y.T):
        q = case.everything(t, y)
        n = case.food.nitrogen(y[2:11], y[11])
        row = (t, q["temp"], y[1] * case.v, q["s"] * case.v, n * case.v, case.v * q["h"], q["oxygen"])
        print(case.name + "," + ",".join(f"{value:.10g}" for value in row))
    print(case.name, sol.nfev, file=sys.stderr)
