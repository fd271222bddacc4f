"""Reference histories of a heap of one single cell from scipy's LSODA (rtol 1e-9). Writes single_cell.csv.

The equations of the two-dimensional heap (surface balance, air flow, oxygen, ammonia, rot, settling, ground,
rain) are written here a second time for one cell, as ordinary differential equations without any time step,
tables or linearisation: exact functions, surface temperatures by scipy's brentq. So what the program makes of
the same cell shows its own errors of step, table and Newton. The parameters are those of its documentation.
Run once: python3 make_single_cell.py > single_cell.csv   (some minutes)
"""
import math
import sys
import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from rot_equations import HALF, HEAT_C, O2_C, YA, Food

DAY = 86400.0
CS, CW = 1300.0, 4180.0
HV = 2.556e6
O2_AIR = 32 / 28.97
G = 9.81
LID = (0.14, 0.1)
WIND = 1.5
FILM = 2.8 + 3 * WIND + 5.1


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


def density(t, w):
    return (1 + w) / spec_vol(t, w)


def constriction(opened, spacing):
    """Length of heap that costs as much as the way to slits of this share every `spacing` metres."""
    return -spacing / math.pi * math.log(math.sin(0.5 * math.pi * opened)) if opened > 0 else math.inf


def bernoulli(x):
    return 1 + x / 2 if abs(x) < 1e-6 else x / (1 - math.exp(-x))


class Case:
    """A mix (per m3 as built) in a skin: side and top (resistance, open share), base open share."""

    def __init__(self, name, volume=1.0, height=None, density=450.0, moisture=0.58, cn=27.0, d=1e-3,
                 pools=(0.25, 0.27, 0.28), slump=0.12, holds=3.0, mean=15.0, side=(0.0, 1.0), top=(0.0, 1.0),
                 base_open=0.0, raised=False, rain=1.0, side_factor=1.0, paving=False, spacing=(0.5, 0.5, 0.5)):
        self.name, self.v, self.d, self.slump, self.mean = name, volume, d, slump, mean
        self.h = height or volume ** (1 / 3)
        self.plan = volume / self.h
        self.r = math.sqrt(self.plan / math.pi)
        self.side_area = 2 * math.pi * self.r * self.h * side_factor
        self.side, self.top, self.base_open, self.raised, self.rain = side, top, base_open, raised, rain
        self.spacing = spacing
        self.ground_r = 0.094 if paving else 0.125
        dry = density * (1 - moisture)
        ash = 0.15 * dry
        carbon = 0.47 * (dry - ash)
        self.cc = 0.47
        self.dry0, self.held0 = dry, holds * dry
        self.food = Food(carbon, pools, cn)
        self.inert = self.food.inert
        self.mineral = dry - (self.inert + sum(self.food.start[:5])) / self.cc
        t0 = max(mean, 10.0)
        w = density * moisture
        self.y0 = [(CS * dry + CW * w) * t0, w, *self.food.start, 0.0, YA, mean]

    def properties(self, t, w_liq, s):
        """Height share, air space, permeability, conductivity of the moment."""
        load = 0.5 * (s + w_liq) * self.h
        pressed = ((load + 45.0) / 270.0) ** (-0.08 * min(max(self.slump / 0.12, 0.3), 3.0))
        slumped = 1 - self.slump * (1 - math.exp(-0.2 * t))
        solids = (s - self.mineral) / 1600 + self.mineral / 2500
        wet = w_liq / 1000
        h = max(pressed * slumped * (s / self.dry0) ** 0.8, (solids + wet) / 0.98)
        f = 1 - (solids + wet) / h
        perm = permeability(self.d, f)
        k = 0.06 + 0.44 * wet / (wet + f * h)
        return h, f, perm, k

    def told_share(self, t, w_liq, s):
        """Share of the volume as built that a record tells: nothing counts as looser than it was filled."""
        slumped = 1 - self.slump * (1 - math.exp(-0.2 * t))
        solids = (s - self.mineral) / 1600 + self.mineral / 2500
        loose = max(slumped * (s / self.dry0) ** 0.8, (solids + w_liq / 1000) / 0.98)
        return min(self.properties(t, w_liq, s)[0], loose)

    def everything(self, t, y):
        e, w_liq, oxygen, ground = *y[:2], *y[12:]
        s = self.mineral + (self.inert + sum(y[2:7])) / self.cc
        temp = e / (CS * s + CW * w_liq)
        h, f, perm, k = self.properties(t, w_liq, s)
        hour = 24 * ((99.0 + t) % 1.0)
        ta = self.mean + 4.0 * math.cos(2 * math.pi * (hour - 15.0) / 24)
        wa = min(humidity(self.mean, 0.75), humidity(ta, 1.0))
        aw = 1 - 1 / (1 + 10 * w_liq / s) ** 2
        ws = humidity(temp, 1.0)
        w = aw * ws
        dry_air = 1 / spec_vol(temp, ws)
        de = f * f * 0.178e-4 * ((temp + 273.15) / 273.15) ** 1.75
        mobility = perm * dry_air / (1.722e-5 + 4.8e-8 * temp)
        step = 1e-4
        slope_h = 1006 + w * 1860 + aw * (humidity(temp + step, 1) - humidity(temp - step, 1)) / (2 * step) \
            * (2.501e6 + 1860 * temp)
        # faces: area, depth, resistance beside the heap, open share, felt temperature, on the ground
        top_felt = ta - 5.1 * 6.0 / FILM
        faces = [(self.side_area * h, 0.5 * self.r, 1 / FILM + self.side[0], self.side[1], ta, False),
                 (self.plan, 0.5 * self.h * h, 1 / FILM + self.top[0], self.top[1], top_felt, False)]
        if self.raised:
            faces.append((self.plan, 0.5 * self.h * h, 1 / FILM, self.base_open, ta, False))
        else:
            faces.append((self.plan, 0.5 * self.h * h, self.ground_r, self.base_open, ground, True))
        # air flow: side, top, base; what goes out is positive, the sum is nothing
        lift = (density(ta, wa) - density(temp, ws)) * 0.5 * self.h * h * G
        reach = [depth + constriction(face[3], s) for face, s in zip(faces, self.spacing) for depth in [face[1]]]
        g = [mobility * face[0] / r for face, r in zip(faces, reach)]
        wind = [0.6 * WIND ** 2 * cp for cp in (-0.3, -0.4, -0.2)]
        driven = (g[2] - g[1]) * lift + sum(a * b for a, b in zip(g, wind))
        p = driven / sum(g) if sum(g) > 0 else 0.0
        flow = [g[0] * (p - wind[0]), g[1] * (p + lift - wind[1]), g[2] * (p - lift - wind[2])]
        # surface balance of every face
        heat = water = leaving = 0.0
        to_ground = 0.0
        for (area, depth, beside, opened, felt, on_ground), air, r in zip(faces, flow, reach):
            g_i = k * area / depth
            g_i *= bernoulli(air * slope_h / g_i)
            g_f = area / beside
            gas = 0.0 if on_ground else (0.0023 + 0.0025 * WIND) * 1.2 * area * opened
            miss = lambda ts: g_i * (temp - ts) - g_f * (ts - felt) - HV * gas * (aw * humidity(ts, 1) - wa)
            ts = brentq(miss, -60, 97, xtol=1e-10)
            w_s = aw * humidity(ts, 1)
            out, into = max(air, 0.0), min(air, 0.0)
            m = gas * (w_s - wa) + out * w_s + into * wa
            q = g_f * (ts - felt) + HV * gas * (w_s - wa) + out * enthalpy(ts, w_s) + into * enthalpy(ta, wa)
            heat, water = heat + q, water + m
            inside = de * dry_air * area / r
            diffused = inside * gas / (inside + gas) if gas > 0 else 0.0
            leaving += out + diffused
            if on_ground:
                to_ground = g_f * (ts - felt) / self.plan
        # rot
        m = w_liq / (w_liq + s)
        bed = 1 / (1 + math.exp(7.0622 - 17.684 * m)) / (1 + math.exp(-30 * (f - 0.12)))
        rot = self.food.rates(y[2:11], temp, bed)
        ox = rot["ox"]
        cut = oxygen / (HALF + oxygen) * (1 + HALF / YA)
        return locals()

    def rhs(self, t, y):
        q = self.everything(t, y)
        w_liq, nm, oxygen, ground = y[1], y[7], *y[12:]
        cut, temp, ox, s = q["cut"], q["temp"], q["ox"] * q["cut"], q["s"]
        per = DAY / self.v
        rain = self.rain * 45.0 / (365 / 12) * self.plan / self.v
        drain = max(w_liq - self.held0 * s / self.dry0, 0.0) * 0.5 / (self.h * q["h"])
        de = ox * HEAT_C - q["heat"] * per + CW * (rain * max(self.mean, 0.0) - drain * temp)
        dw = ox * (1 / self.cc + O2_C - 44 / 12) - q["water"] * per + rain - drain
        ph = self.food.ph(y[2:11])
        tk = temp + 273.15
        gas = nm * 1000 / max(w_liq, 1.0) / (1 + 10 ** (0.09018 + 2729.92 / tk - ph)) / 10 ** (-1.69 + 1477.7 / tk) \
            / density(temp, q["ws"])
        ammonia = gas * q["leaving"] * per
        store = self.v * q["h"] * q["f"] * q["dry_air"]
        used = q["ox"] * O2_C * cut / O2_AIR * self.v
        dy = (q["leaving"] * (YA - oxygen) * DAY - used) / store
        dg = (q["to_ground"] + (self.mean - ground) / 0.5) / 0.6e6 * DAY
        lost = ammonia + nm * drain / w_liq
        rates, buried, _ = self.food.change(y[2:11], temp, q["bed"], q["rot"], cut, oxygen, lost)
        return [de, dw, *rates, buried, dy, dg]


PLASTIC = (0.006, 0.03)
CASES = [
    Case("mesh_1m3"),
    Case("closed_1m3", side=PLASTIC, top=LID, base_open=0.10, rain=0.0, side_factor=2 / math.sqrt(math.pi)),
    Case("wet_72", moisture=0.72, density=450 * 0.42 / 0.28),
    Case("slats_cn50", cn=50.0, side=(0.039, 0.5), spacing=(0.1, 0.5, 0.5), side_factor=2 / math.sqrt(math.pi), paving=True),
    Case("tumbler", volume=0.3, height=0.9, d=1.2e-3, cn=22.0, mean=20.0, side=(0.006, 0.05), top=(0.006, 0.05),
         base_open=0.05, raised=True, rain=0.0),
]
DAYS = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 120.0]

if __name__ == "__main__":
    print(f"# source: scipy {scipy.__version__} solve_ivp(method='LSODA', rtol=1e-9) and brentq, numpy {np.__version__}")
    print("# made by: make_single_cell.py; whole heap, at the given day")
    print("case,day,temperature_c,water_kg,dry_kg,nitrogen_kg,volume_m3,oxygen")
    for case in CASES:
        atol = [1e-9 * max(abs(v), 1e-3) for v in case.y0]
        sol = solve_ivp(case.rhs, (0, 120), case.y0, method="LSODA", rtol=1e-9, atol=atol, t_eval=DAYS, max_step=0.05)
        assert sol.success, sol.message
        for t, y in zip(sol.t, sol.y.T):
            q = case.everything(t, y)
            n = case.food.nitrogen(y[2:11], y[11])
            row = (t, q["temp"], y[1] * case.v, q["s"] * case.v, n * case.v, case.v * case.told_share(t, y[1], q["s"]), y[12])
            print(case.name + "," + ",".join(f"{value:.10g}" for value in row), flush=True)
        print(case.name, sol.nfev, file=sys.stderr)
