"""Writes year_plans.json: 50 seeded years of arrivals and bays with the best plan of each, by scipy's `milp` (HiGHS).

    pip install scipy; python3 make_year_plans.py            # writes year_plans.json beside it
    python3 make_year_plans.py --time                        # only says how long the 50 take

The model is put up another way than in src/year/program.rs: every bay on its own with a yes or no for each month, and every
month's arrivals followed as a lot of its own into each heap; there, like bays stand together and a stock is carried.
What counts and the prices are those of src/year/task.rs.
"""
import json
import random
import sys
import time
from pathlib import Path

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

MONTHS = 12
MONTH_DAYS = 365 / 12
KEEPS, SPOILS, HEAP, WATER, STORE, INSET, RAISED = 1.0, 3.0, 0.05, 0.1, 0.002, 0.005, 0.03
# Best parts of the bands of src/mix/target.rs; too much air and a light heap need only work.
LIMITS = {"cn": (25.0, 35.0), "moisture": (0.5, 0.6), "air": (0.35, 0.85), "density": (100.0, 593.0)}
# Moisture, carbon, C:N, kg/m3, share settling, share slumping, months it lasts, days, when it arrives.
KINDS = [
    (0.15, 0.48, 54, 75, 0.5, 0.28, 12, 0, (9, 10, 11)),
    (0.12, 0.47, 80, 60, 0.3, 0.19, 24, 0, (6, 7, 8)),
    (0.40, 0.49, 90, 250, 0.1, 0.05, 24, 0, (1, 2, 10)),
    (0.08, 0.44, 200, 60, 0.4, 0.19, 24, 0, tuple(range(12))),
    (0.65, 0.42, 22, 350, 0.2, 0.2, 3, 0, tuple(range(12))),
    (0.80, 0.45, 16, 250, 0.4, 0.47, 0, 3, (3, 4, 5, 6, 7, 8)),
    (0.80, 0.42, 18, 400, 0.3, 0.47, 0, 7, tuple(range(12))),
    (0.75, 0.42, 24, 180, 0.4, 0.38, 0, 7, (2, 3, 4, 5, 6, 7, 8)),
]


def drawn(rng, seed):
    """A year from a seed."""
    stuffs = []
    for wet, carbon, cn, density, settles, slumps, months, days, when in rng.sample(KINDS, rng.randint(5, len(KINDS))):
        wet = min(0.9, wet * rng.uniform(0.85, 1.1))
        kg = 0.1 * density * rng.uniform(0.8, 1.2)
        dry = kg * (1 - wet)
        piled = 0.1 * (1 - settles)
        stuffs.append({
            "dry_kg": dry, "water_kg": kg - dry, "carbon_kg": dry * carbon,
            "nitrogen_kg": dry * carbon / (cn * rng.uniform(0.85, 1.15)), "piled_m3": piled,
            "settled_m3": piled * (1 - slumps), "airless_m3": dry / 1650 + (kg - dry) / 1000, "loose_m3": 0.1,
            "arrives": [rng.randint(1, 16) if month in when else 0 for month in range(MONTHS)],
            "lasts_months": months, "lasts_days": days if months == 0 else months * MONTH_DAYS,
        })
    for stuff in stuffs:
        for key in stuff:
            if isinstance(stuff[key], float):
                stuff[key] = float(f"{stuff[key]:.6g}")
    places = []
    for size, most in ((1.44, 3), (0.3, 1), (1.0, 2)):
        count = rng.randint(0 if places else 1, most)
        if count:
            places.append({
                "count": count, "low_m3": 0.765 if size > 0.765 else 0.6 * size, "high_m3": size,
                "fills_days": rng.choice([0, 7, 14, 30]) if size > 0.5 else 84,
                "fills_months": 1 if size > 0.5 else 3,
                "stands_months": rng.randint(3, 6), "free_from": rng.choice([0, 0, 0, 2]),
                "takes": [True] * len(stuffs) if size > 0.5 else [rng.random() < 0.7 for _ in stuffs],
            })
    demands = []
    if seed % 2:
        # A place that a demand names stands alone.
        alone = [at for at, place in enumerate(places) if place["count"] == 1]
        for _ in range(rng.randint(1, 3)):
            if not alone:
                break
            at, month = rng.choice(alone), rng.randrange(MONTHS)
            what = rng.choice(["build", "empty", "put", "none_spoils"] if seed % 3 else ["build", "empty"])
            if what == "none_spoils":
                demands.append({"what": what, "stuff": rng.randrange(len(stuffs))})
            elif what == "put":
                demands.append({"what": what, "place": at, "month": month, "stuff": rng.randrange(len(stuffs)), "units": 1.5})
            else:
                demands.append({"what": what, "place": at, "month": month})
    return {"seed": seed, "stuffs": stuffs, "places": places, "storage_m3": rng.choice([0.5, 2.0, 5.0]), "demands": demands}


class Rows:
    """A linear program put up column by column and row by row."""

    def __init__(self):
        self.cost, self.whole, self.most = [], [], []
        self.at, self.low, self.high = [], [], []

    def var(self, value, most=np.inf, whole=0):
        self.cost.append(-value)
        self.whole.append(whole)
        self.most.append(most)
        return len(self.cost) - 1

    def row(self, terms, low, high):
        self.at.append(terms)
        self.low.append(low)
        self.high.append(high)

    def solve(self):
        data, rows, cols = [], [], []
        for number, terms in enumerate(self.at):
            for col, factor in terms:
                data.append(factor)
                rows.append(number)
                cols.append(col)
        matrix = csr_matrix((data, (rows, cols)), shape=(len(self.at), len(self.cost)))
        return milp(
            np.array(self.cost), integrality=np.array(self.whole), bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(matrix, np.array(self.low), np.array(self.high)),
            options={"mip_rel_gap": 1e-9, "time_limit": 120},
        )


def solved(year):
    """Objective of the best plan, or None where the demands contradict each other."""
    rows, stuffs = Rows(), year["stuffs"]
    heaps, stored = [], [[] for _ in range(MONTHS)]
    taken = {}
    for kind, place in enumerate(year["places"]):
        for bay in range(place["count"]):
            for month in range(place["free_from"], MONTHS):
                put = any(d["what"] == "put" and (d["place"], d["month"]) == (kind, month) for d in year["demands"])
                inset = 0.0 if put else INSET
                built = rows.var(-HEAP, 1, 1)
                water = rows.var(-WATER / 1000)  # kg
                terms = []
                for filled in range(month, min(month + place["fills_months"], MONTHS)):
                    for number, stuff in enumerate(stuffs):
                        if not place["takes"][number]:
                            continue
                        keeps = stuff["lasts_months"] > 0
                        here = []
                        for since in range(max(0, filled - stuff["lasts_months"]), filled + 1):
                            if stuff["arrives"][since] == 0:
                                continue
                            waits = filled - since
                            value = (KEEPS if keeps else SPOILS) - STORE * waits
                            lot = rows.var(value * stuff["loose_m3"])
                            here.append((lot, 1.0))
                            terms.append((lot, number))
                            taken.setdefault((number, since), []).append((lot, 1.0))
                            for stands in range(since, filled):
                                stored[stands].append((lot, stuff["loose_m3"]))
                        if not keeps and here:
                            share = min(1.0, (place["fills_days"] + stuff["lasts_days"]) / MONTH_DAYS)
                            rows.row(here + [(built, -share * stuff["arrives"][filled])], -np.inf, 0)

                def sums(of, poured=0.0, heap=0.0):
                    row = [(col, of(stuffs[number])) for col, number in terms]
                    return row + [(water, poured), (built, heap)]

                def band(of, key, poured):
                    low, high = LIMITS[key]
                    low, high = low * (1 + inset), high * (1 - inset)
                    rows.row(sums(lambda s: of(s, low), poured(low)), 0, np.inf)
                    rows.row(sums(lambda s: of(s, high), poured(high)), -np.inf, 0)

                band(lambda s, b: s["carbon_kg"] - b * s["nitrogen_kg"], "cn", lambda b: 0.0)
                band(lambda s, b: s["water_kg"] - b * (s["water_kg"] + s["dry_kg"]), "moisture", lambda b: 1 - b)
                band(lambda s, b: (1 - b) * s["settled_m3"] - s["airless_m3"], "air", lambda b: -0.001)
                low, high = (LIMITS["density"][0] * (1 + inset), LIMITS["density"][1] * (1 - inset))
                rows.row(sums(lambda s: s["water_kg"] + s["dry_kg"] - low * s["piled_m3"], 1.0), 0, np.inf)
                rows.row(sums(lambda s: s["water_kg"] + s["dry_kg"] - high * s["piled_m3"], 1.0), -np.inf, 0)
                rows.row(sums(lambda s: s["piled_m3"], 0, -place["low_m3"] * (1 + (0.0 if put else RAISED))), 0, np.inf)
                rows.row(sums(lambda s: s["piled_m3"], 0, -place["high_m3"] * (1 - inset)), -np.inf, 0)
                heaps.append((kind, bay, month, built, terms))
    for kind, place in enumerate(year["places"]):
        for bay in range(place["count"]):
            for month in range(MONTHS):
                standing = [
                    (built, 1.0) for k, b, m, built, _ in heaps
                    if (k, b) == (kind, bay) and m <= month < m + place["stands_months"]
                ]
                if standing:
                    rows.row(standing, 0, 1)
    for (number, since), lots in taken.items():
        rows.row(lots, 0, stuffs[number]["arrives"][since])
    for lots in stored:
        if lots:
            rows.row(lots, 0, year["storage_m3"])
    for demand in year["demands"]:
        if demand["what"] == "none_spoils":
            lots = [lot for (number, _), them in taken.items() if number == demand["stuff"] for lot in them]
            rows.row(lots or [(0, 0.0)], sum(stuffs[demand["stuff"]]["arrives"]) * (1 - 1e-9), np.inf)
            continue
        kind, month = demand["place"], demand["month"]
        begun = [heap for heap in heaps if heap[0] == kind and heap[2] == month]
        if demand["what"] == "build":
            rows.row([(heap[3], 1.0) for heap in begun] or [(0, 0.0)], 1, np.inf)
        elif demand["what"] == "empty":
            stands = year["places"][kind]["stands_months"]
            rows.row([(heap[3], 1.0) for heap in heaps if heap[0] == kind and heap[2] <= month < heap[2] + stands] or [(0, 0.0)], 0, 0)
        else:
            lots = [(col, 1.0) for heap in begun for col, number in heap[4] if number == demand["stuff"]]
            rows.row(lots or [(0, 0.0)], demand["units"], demand["units"])
    found = rows.solve()
    if found.status == 2:
        return None
    assert found.status == 0, (year["seed"], found.message)
    return -found.fun


def main():
    years = [drawn(random.Random(seed), seed) for seed in range(50)]
    since = time.perf_counter()
    for year in years:
        began = time.perf_counter()
        year["objective"] = solved(year)
        print(year["seed"], year["objective"], f"{time.perf_counter() - began:.2f} s", flush=True)
    print(f"{time.perf_counter() - since:.2f} s for {len(years)} years")
    if "--time" not in sys.argv:
        target = Path(__file__).with_name("year_plans.json")
        lines = ",\n".join(json.dumps(year, separators=(",", ":")) for year in years)
        target.write_text(f"[\n{lines}\n]\n")


main()
