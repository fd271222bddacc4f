"""Porous convection by Chebyshev collocation and Newton, and onset values. Writes convection.csv.

Darcy and Boussinesq in a unit square, scaled by side, temperature difference and diffusivity:
lap psi = -Ra dT/dx, u = dpsi/dz, w = -dpsi/dx, u T_x + w T_z = lap T. Nothing here is taken from the
program, which uses pressures and finite volumes.
Run once: python3 make_convection.py > convection.csv   (two minutes)
"""
import sys
import numpy as np
import scipy
from scipy.interpolate import BarycentricInterpolator
from scipy.linalg import lu_factor, lu_solve
from scipy.optimize import minimize
from scipy.special import jn_zeros


def cheb(n):
    """Differentiation matrix and points on [0, 1], rising."""
    x = np.cos(np.pi * np.arange(n + 1) / n)
    c = np.hstack([2, np.ones(n - 1), 2]) * (-1) ** np.arange(n + 1)
    dx = x[:, None] - x[None, :]
    d = np.outer(c, 1 / c) / (dx + np.eye(n + 1))
    d -= np.diag(d.sum(axis=1))
    return 2 * d[::-1, ::-1], 0.5 * (x[::-1] + 1)


def weights(x):
    """Integral weights of the interpolation polynomial on these points."""
    n = len(x) - 1
    t = 2 * x - 1
    v = np.polynomial.chebyshev.chebvander(t, n)
    moments = np.array([0 if k % 2 else 2 / (1 - k * k) for k in range(n + 1)])
    return np.linalg.solve(v.T, moments) / 2


class Square:
    def __init__(self, n, hot):
        self.n, self.hot = n, hot
        d, self.x = cheb(n)
        one = np.eye(n + 1)
        self.dx, self.dz = np.kron(d, one), np.kron(one, d)      # index i (x) * (n+1) + j (z)
        self.lap = self.dx @ self.dx + self.dz @ self.dz
        i, j = np.divmod(np.arange((n + 1) ** 2), n + 1)
        self.west, self.east, self.low, self.high = i == 0, i == n, j == 0, j == n
        edge = self.west | self.east | self.low | self.high
        a = self.lap.copy()
        a[edge] = np.eye((n + 1) ** 2)[edge]
        rhs = -self.dx.copy()
        rhs[edge] = 0
        self.p = lu_solve(lu_factor(a), rhs)                     # psi = Ra p T

    def solve(self, ra, t):
        eye = np.eye(len(t))
        held = (self.west, self.east) if self.hot == "side" else (self.low, self.high)
        tight, loose = held[0] | held[1], ~(held[0] | held[1])
        for _ in range(40):
            psi = ra * (self.p @ t)
            u, w = self.dz @ psi, -self.dx @ psi
            tx, tz = self.dx @ t, self.dz @ t
            f = u * tx + w * tz - self.lap @ t
            jac = (u[:, None] * self.dx + w[:, None] * self.dz - self.lap
                   + ra * (tx[:, None] * (self.dz @ self.p) - tz[:, None] * (self.dx @ self.p)))
            if self.hot == "side":
                for flat in (self.low & loose, self.high & loose):
                    f[flat], jac[flat] = tz[flat], self.dz[flat]
            else:
                for flat in (self.west & loose, self.east & loose):
                    f[flat], jac[flat] = tx[flat], self.dx[flat]
            f[tight], jac[tight] = (t - held[0])[tight], eye[tight]
            step = np.linalg.solve(jac, -f)
            t = t + step
            if np.abs(step).max() < 1e-10:
                return t
        raise RuntimeError(f"no convergence at Ra {ra}")

    def nusselt(self, t):
        if self.hot == "side":
            return -weights(self.x) @ (self.dx @ t)[self.west]
        return -weights(self.x) @ (self.dz @ t)[self.low]

    def psi_max(self, ra, t):
        n = self.n
        psi = ra * (self.p @ t).reshape(n + 1, n + 1)
        sign = np.sign(psi.flat[np.abs(psi).argmax()])
        at = lambda q: -sign * float(BarycentricInterpolator(self.x, BarycentricInterpolator(self.x, psi)(q[0]))(q[1]))
        i, j = np.unravel_index(np.abs(psi).argmax(), psi.shape)
        return -minimize(at, (self.x[i], self.x[j]), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12}).fun


def run(hot, ras, n):
    s = Square(n, hot)
    i, j = np.divmod(np.arange((n + 1) ** 2), n + 1)
    x, z = s.x[i], s.x[j]
    t = 1 - x if hot == "side" else 1 - z + 0.3 * np.cos(np.pi * x) * np.sin(np.pi * z) - 0.15 * np.sin(2 * np.pi * z)
    out = {}
    for ra in ras:
        t = s.solve(ra, t)
        out[ra] = s.nusselt(t), s.psi_max(ra, t)
    return out


def onset_open_top(k):
    """Least Ra with wave number k: closed hot floor, open cold top; theta = w = 0 below, Dw = theta = 0 above."""
    n = 40
    d, z = cheb(n)
    d2, eye = d @ d, np.eye(n + 1)
    zero = np.zeros_like(eye)
    # (D2 - k2) w = -k2 Ra theta; (D2 - k2) theta = -w at neutral stability.
    a = np.block([[d2 - k * k * eye, zero], [eye, d2 - k * k * eye]])
    b = np.block([[zero, -k * k * eye], [zero, zero]])
    m = n + 1
    for row, line in ((0, np.hstack([eye[0], 0 * eye[0]])), (n, np.hstack([d[n], 0 * d[n]])),
                      (m, np.hstack([0 * eye[0], eye[0]])), (m + n, np.hstack([0 * eye[0], eye[n]]))):
        a[row], b[row] = line, 0
    values = scipy.linalg.eig(a, b, right=False)
    good = values[np.isfinite(values) & (np.abs(values.imag) < 1e-6 * np.abs(values.real)) & (values.real > 0.1) & (np.abs(values) < 1e5)]
    return good.real.min()


print(f"# source: scipy {scipy.__version__}, numpy {np.__version__}: Chebyshev collocation and Newton")
print("# made by: make_convection.py; value and largest stream function; onset: critical Ra")
print("case,ra,value,psi_max,spread")
# spread: change of the value between the last two of three numbers of points
for hot, ras, grids in (("side", (10, 50, 100, 200, 350, 500, 700, 1000), (36, 44, 52)), ("below", (100, 200), (20, 26, 32))):
    runs = [run(hot, ras, n) for n in grids]
    for ra in ras:
        if hot == "side" and ra in (200, 350, 700):
            continue                                              # only steps on the way
        print([r[ra] for r in runs], file=sys.stderr)
        spread = abs(runs[-2][ra][0] - runs[-1][ra][0])
        print(f"{hot},{ra},{runs[-1][ra][0]:.6f},{runs[-1][ra][1]:.5f},{spread:.1e}")
print(f"onset_flat_closed,0,{4 * np.pi ** 2:.6f},0,0")
lam = jn_zeros(1, 1)[0]
print(f"onset_round_closed,0,{(np.pi ** 2 + lam ** 2) ** 2 / lam ** 2:.6f},0,0")
print(f"onset_round_open,0,{onset_open_top(lam):.6f},0,0")
