"""Balance problems and their answers by scipy, for tests/science/balance.rs and tests/bench/balance.rs.

200 random mixes of invented materials, and one of 20 ingredients for the benchmark. The program is
written out again here from the formulas (mass balance), not taken from the Rust code:
feasible or not by linprog (HiGHS), which seeks the point with the greatest margin;
the least effort by minimize (SLSQP) from that point, its gradient given.
A problem whose margin is within 1e-4 of nothing is drawn again: there a yes or no means little.

    python3 tests/reference/make_balance.py           # writes tests/reference/balance.csv
    python3 tests/reference/make_balance.py --time    # scipy's time and the benchmark's, and their ratio
"""

import csv
import json
import sys
import time
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import linprog, minimize

HERE = Path(__file__).parent
CSV = HERE / "balance.csv"
HANDFUL_M3 = 0.012
WATER_HANDFUL_L = 12.0
# Free air space is that of the settled heap: crumbly matter slumps by a tenth, at 0.2 a day, measured after 14 days.
SETTLED = 1 - 0.10 * (1 - np.exp(-0.2 * 14))
BANDS = {
    # C:N, moisture, free air space, wet bulk density
    "works": [(20, 40), (0.40, 0.65), (0.20, 0.85), (100, 593)],
    "best make-up": [(25, 35), (0.50, 0.60), (0.20, 0.85), (100, 593)],
    "narrow": [(28, 30), (0.54, 0.56), (0.30, 0.80), (100, 593)],
}


def draw_part(rng):
    carbon = rng.uniform(0.30, 0.50)
    nitrogen = carbon / np.exp(rng.uniform(np.log(8), np.log(150)))
    by_bucket = rng.random() < 0.6
    amount = 0.0 if rng.random() < 0.2 else rng.uniform(0.5, 12) * (1 if by_bucket else 4)
    stock = "" if rng.random() < 0.75 else round(amount * rng.uniform(0.5, 4), 3)
    return {
        "moisture": round(rng.uniform(0.05, 0.9), 4),
        "carbon": round(carbon, 4),
        "nitrogen": round(nitrogen, 5),
        "ash": round(rng.uniform(0, 0.3), 4),
        "settles": round(rng.uniform(0, 0.4), 3),
        "density": round(np.exp(rng.uniform(np.log(50), np.log(900))), 1),
        "measure": "bucket" if by_bucket else "kg",
        "amount": round(amount, 3),
        "locked": int(rng.random() < 0.12),
        "stock": stock,
    }


def sums_of(kg, part):
    """Dry, water, carbon, nitrogen, airless volume, piled volume of so many kilograms."""
    dry = kg * (1 - part["moisture"])
    ash = dry * part["ash"]
    water = kg - dry
    airless = (dry - ash) / 1600 + ash / 2500 + water / 1000
    piled = kg / part["density"] * (1 - part["settles"])
    return np.array([dry, water, dry * part["carbon"], dry * part["nitrogen"], airless, piled])


def program(mix, parts):
    """Matrix and constants of `A u + c >= 0`, start, ranges, for handfuls u (water last)."""
    columns, start, ranges = [], [], []
    fixed = np.zeros(6)
    for part in parts:
        handful_kg = HANDFUL_M3 * part["density"]
        one_kg = 0.012 * part["density"] if part["measure"] == "bucket" else 1.0
        there = part["amount"] * one_kg / handful_kg
        if part["locked"]:
            fixed += sums_of(there * handful_kg, part)
            continue
        columns.append(sums_of(handful_kg, part))
        start.append(there)
        most = np.inf if part["stock"] == "" else float(part["stock"]) * one_kg / handful_kg
        ranges.append((0.0, most))
    columns.append(np.array([0, WATER_HANDFUL_L, 0, 0, WATER_HANDFUL_L / 1000, 0]))
    start.append(mix["water_l"] / WATER_HANDFUL_L)
    ranges.append((0.0, np.inf))
    (cn_lo, cn_hi), (m_lo, m_hi), (a_lo, a_hi), (d_lo, d_hi), (v_lo, v_hi) = mix["bands"]
    forms = [
        # dry, water, carbon, nitrogen, airless, piled, constant
        ([0, 0, 1, -cn_lo, 0, 0], 0),
        ([0, 0, -1, cn_hi, 0, 0], 0),
        ([-m_lo, 1 - m_lo, 0, 0, 0, 0], 0),
        ([m_hi, m_hi - 1, 0, 0, 0, 0], 0),
        ([0, 0, 0, 0, -1, (1 - a_lo) * SETTLED], 0),
        ([0, 0, 0, 0, 1, (a_hi - 1) * SETTLED], 0),
        ([1, 1, 0, 0, 0, -d_lo], 0),
        ([-1, -1, 0, 0, 0, d_hi], 0),
        ([0, 0, 0, 0, 0, 1], -v_lo),
        ([0, 0, 0, 0, 0, -1], v_hi),
    ]
    stuff = np.array(columns).T
    matrix = np.array([np.array(form) @ stuff for form, _ in forms])
    constants = np.array([np.array(form) @ fixed + constant for form, constant in forms])
    size = np.maximum(np.abs(matrix).max(axis=1), 1e-12)
    return matrix / size[:, None], constants / size, np.array(start), ranges


def margin(matrix, constants, ranges):
    """Greatest margin by which every row can be kept, at most 1, and where."""
    count = matrix.shape[1]
    found = linprog(
        np.append(np.zeros(count), -1.0),
        A_ub=np.hstack([-matrix, np.ones((len(matrix), 1))]),
        b_ub=constants,
        bounds=[*ranges, (None, 1.0)],
        method="highs",
    )
    assert found.status == 0, found.message
    return found.x[-1], found.x[:-1]


def least(matrix, constants, start, ranges, inside):
    """Least effort by SLSQP, in units that make the answer about 1."""
    scale = max(1e-9, np.linalg.norm(inside - start))
    for _ in range(3):
        answer = minimize(
            lambda e: e @ e,
            (inside - start) / scale,
            jac=lambda e: 2 * e,
            bounds=[
                ((lo - s) / scale, None if np.isinf(hi) else (hi - s) / scale)
                for (lo, hi), s in zip(ranges, start)
            ],
            constraints={
                "type": "ineq",
                "fun": lambda e: matrix @ (e + start / scale) + constants / scale,
                "jac": lambda e: matrix,
            },
            method="SLSQP",
            options={"ftol": 1e-15, "maxiter": 500},
        )
        inside = start + answer.x * scale
        scale = max(1e-9, np.linalg.norm(inside - start))
    return float((inside - start) @ (inside - start)), inside


def solve(mix, parts):
    """Whether it can be with the volume's best part, whether with what works, and the least effort
    of the first; None where one of them is a close call."""
    works, _ = solve_one({**mix, "bands": [*mix["bands"][:4], mix["volume_works"]]}, parts)
    best, effort = solve_one(mix, parts)
    if works is None or best is None:
        return None
    return best, works, effort


def solve_one(mix, parts):
    matrix, constants, start, ranges = program(mix, parts)
    spare, inside = margin(matrix, constants, ranges)
    if abs(spare) < 1e-4:
        return None, 0.0
    if spare < 0:
        return False, 0.0
    effort, at = least(matrix, constants, start, ranges, inside)
    worst = min((matrix @ at + constants).min(), 0.0)
    assert worst > -1e-7, f"{mix}: breaks a row by {worst}"
    return True, effort


def draw(rng, count):
    room = round(rng.uniform(0.2, 2.0), 3)
    name = rng.choice(list(BANDS))
    return {
        "room_m3": room,
        "water_l": 0.0 if rng.random() < 0.4 else round(rng.uniform(0, 60), 2),
        "bands": [*BANDS[name], (0.85 * room, room)],
        "volume_works": (0.6 * room, 1.05 * room),
    }, [draw_part(rng) for _ in range(count)]


def problems():
    rng = np.random.default_rng(20240917)
    while True:
        mix, parts = draw(rng, int(rng.integers(2, 9)))
        answer = solve(mix, parts)
        if answer is not None:
            yield mix, parts, answer


def of_twenty():
    rng = np.random.default_rng(7)
    while True:
        mix, parts = draw(rng, 20)
        for part in parts:
            part.update(locked=0, stock="")
        answer = solve(mix, parts)
        if answer is not None and answer[0] and answer[2] > 1.0:
            return mix, parts, answer


def write():
    source = problems()
    rows = [next(source) for _ in range(200)] + [of_twenty()]
    with CSV.open("w", newline="") as file:
        file.write("# source: scipy " + scipy.__version__ + " by make_balance.py: linprog, minimize SLSQP\n")
        file.write("# mix: number, room m3, water L, ends of C:N, moisture, air space, density,\n#   reachable with the volume at its best, with the volume that works, least effort of the first\n")
        file.write("# part: number, moisture, carbon, nitrogen, ash, settles, kg/m3, measure, amount, locked, stock\n")
        out = csv.writer(file, lineterminator="\n")
        for number, (mix, parts, (best, works, effort)) in enumerate(rows, 1):
            ends = [end for band in mix["bands"][:4] for end in band]
            out.writerow(["mix", number, mix["room_m3"], mix["water_l"], *ends, int(best), int(works), repr(effort)])
            for part in parts:
                out.writerow(["part", number, *part.values()])
    print(sum(answer[0] for _, _, answer in rows), "of", len(rows), "can be reached with the volume at its best")


def time_twenty():
    mix, parts, (_, _, effort) = of_twenty()
    matrix, constants, start, ranges = program(mix, parts)

    def once():
        _, inside = margin(matrix, constants, ranges)
        return least(matrix, constants, start, ranges, inside)

    once()
    times = []
    for _ in range(20):
        begun = time.perf_counter()
        found, _ = once()
        times.append(time.perf_counter() - begun)
    assert abs(found - effort) < 1e-6 * effort
    ours = sorted(times)[len(times) // 2]
    print(f"scipy, linprog + SLSQP: {1e6 * ours:.0f} us")
    kept = HERE.parents[1] / "target/criterion/balance of 20 ingredients/new/estimates.json"
    if kept.exists():
        ns = json.loads(kept.read_text())["median"]["point_estimate"]
        print(f"balance, from `cargo bench --bench balance`: {ns / 1e3:.0f} us")
        print(f"ratio scipy / balance: {ours / (ns * 1e-9):.1f}")
    else:
        print("run `cargo bench --no-default-features --bench balance` first for the ratio")


if __name__ == "__main__":
    time_twenty() if "--time" in sys.argv else write()
