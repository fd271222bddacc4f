"""Rot, written a second time from the documentation for the references of the other scripts here.

State of the biology, per cubic metre: carbon of three pools, microbes, humus, mineral nitrogen, nitrogen in
microbes, nitrogen in the medium pool (which cells that die of heat join), unmet share of the demand for oxygen.
"""
import math

CARD = (-1.0, 56.0, 74.0)
K = (0.26, 0.042, 0.015)
Y, R, DEATH, F_HUMUS, CROWD, X0 = 0.385, 7.8, 0.032, 0.50, 0.012, 0.01
LEAN = (1 / 11.0, 1 / 12.0, 1 / 18.0)
SLOW_FIRST = 0.8
DIE_OFF = 1.0
TAU, HALF, YA = 0.25, 0.02, 0.2095
RICH, MINERAL = (1.6, 0.9, 0.6, 0.9), 0.01
GAS = 0.08
FRESH_PH = 6.6
O2_C = 32 / 12 * 1.06
HEAT_C = 14.0e6 * O2_C


def cardinal(t):
    lo, opt, hi = CARD
    if not lo < t < hi:
        return 0.0
    return (t - hi) * (t - lo) ** 2 / ((opt - lo) * ((opt - lo) * (t - opt) - (opt - hi) * (opt + lo - 2 * t)))


class Food:
    """Pools, first microbes and nitrogen of a mix of so much carbon at this C:N."""

    def __init__(self, carbon, pools, cn):
        self.inert = carbon * (1 - sum(pools))
        food = carbon * sum(pools)
        n = carbon / cn
        self.microbes = min(X0 * food, 0.5 * n * R)
        self.c = [carbon * p * (1 - self.microbes / food) for p in pools]
        n -= self.microbes / R
        weights = [r * c for r, c in zip(RICH, [*self.c, self.inert])]
        per = n * (1 - MINERAL) / sum(weights)
        self.npc = [r * per for r in RICH[:3]]
        self.never = weights[3] * per
        # Carbon, microbes, humus, mineral nitrogen, nitrogen of microbes, nitrogen of the medium pool, unmet share.
        self.start = [*self.c, self.microbes, 0.0, n * MINERAL, self.microbes / R, self.npc[1] * self.c[1], 0.0]

    def nitrogen(self, y, buried):
        c1, c2, c3, x, hum, nm, nx, n2, air = y
        return self.npc[0] * c1 + n2 + self.npc[2] * c3 + nx + nm + buried + self.never

    def ph(self, y):
        s = min(max(y[0] / self.c[0], 0.0), 1.0)
        return 8.4 - (8.4 - FRESH_PH) * min(1.6 * s * s, 1.0) - 1.5 * y[8] * math.sqrt(s)

    def rates(self, y, temp, bed):
        """Rates at full oxygen; `bed` is the product of moisture and air-space factor."""
        c1, c2, c3, x, hum, nm, nx, n2, air = y
        npc = [self.npc[0], n2 / max(c2, 1e-12), self.npc[2]]
        ft = cardinal(temp)
        gate = min(max((temp - 35) / 10, 0.0), 1.0)
        sweet = 1 - gate * 0.95 / (1 + math.exp(6 * (self.ph(y) - 6.2)))
        phi = ft * bed * sweet * x / (x + CROWD * (c1 + c2 + c3))
        speed = [k * c for k, c in zip(K, (c1, c2, c3))]
        death, dying = DEATH * ft * x, DEATH * ft * nx
        hand = max(nm, 0.0) / TAU + (1 - F_HUMUS) * dying
        lack = [phi * s * (Y * lean - n) for s, lean, n in zip(speed, LEAN, npc)]
        fast, slow = lack[0], lack[1] + lack[2]
        shares = (1.0, 1.0)
        if fast + slow > hand:
            even = hand / (fast + slow)
            shares = (even, even)
            if fast > 0 and slow > 0:
                first = even + SLOW_FIRST * (max((hand - slow) / fast, 0.0) - even)
                shares = (first, min((hand - first * fast) / slow, 1.0))
        uptake = [phi * speed[0] * shares[0], phi * speed[1] * shares[1], phi * speed[2] * shares[1]]
        growth = Y * sum(uptake)
        brought = sum(u * n for u, n in zip(uptake, npc))
        taken = min(growth / R, hand + brought)
        return dict(uptake=uptake, growth=growth, death=death, humus=F_HUMUS * death,
                    ox=sum(uptake) - growth + (1 - F_HUMUS) * death,
                    freed=brought - taken + (1 - F_HUMUS) * dying, taken=taken, dying=dying,
                    buried=F_HUMUS * dying, npc=npc)

    def change(self, y, temp, bed, r, cut, oxygen, lost):
        """Rates of change of the nine, buried nitrogen and nitrogen gas; `cut` the oxygen factor, `lost` mineral
        nitrogen leaving otherwise."""
        c1, c2, c3, x, hum, nm, nx, n2, air = y
        die = DIE_OFF * (max(temp - 58, 0.0) / 7) ** 4
        o = oxygen / YA
        warm = min(max(min((temp - 5) / 25, (48 - temp) / 10), 0.0), 1.0)
        gas = GAS * bed * warm * max(4 * o * (1 - o), 0.0) * max(nm, 0.0)
        up = [u * cut for u in r["uptake"]]
        rates = [-up[0], -up[1] + die * x, -up[2], (r["growth"] - r["death"]) * cut - die * x, r["humus"] * cut,
                 r["freed"] * cut - gas - lost, (r["taken"] - r["dying"]) * cut - die * nx,
                 die * nx - up[1] * r["npc"][1], 1 - cut - air]
        return rates, r["buried"] * cut, gas
