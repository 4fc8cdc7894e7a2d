"""The reference case of a disc on a track by superposition of axisymmetric finite elements.

    python3 track.py CASE.yaml > CASE.csv

Constant properties, held current, surfaces that lose no heat, layers as wide as heat gets: the temperature of a moving disc
is then the sum of what it left at each place it passed (Duhamel's principle; Carslaw and Jaeger 1959, Conduction of Heat in
Solids, sections 1.14 and 10.7),

    T(x, y, z, t) = integral over s of U(sqrt((x - v s)^2 + y^2), z, t - s) ds,

with U(.., t) what is left of one second's heat of the disc, t after it was put there. fem.py's quadratic triangles give the field and U,
the sum is a trapezoid rule over the places. Three meshes, each with half the cells, steps and places' distance of the one before.
"""
import datetime
import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
import numpy as np  # noqa: E402
import scipy  # noqa: E402
import yaml  # noqa: E402
from scipy.interpolate import CubicSpline  # noqa: E402

import fem  # noqa: E402

MM = 1e-3
DEEP, WIDE = 2.6 * MM, 9 * MM  # of the tissue that is looked at


class Track:
    def __init__(self, path, level):
        f = yaml.safe_load(open(path))
        m = f["motion"]
        self.v, self.length = m["speed_mm_s"] * MM, m["length_mm"] * MM
        self.on, self.after = self.length / self.v, f["afterwards_s"]
        self.amps = f["current"]["current_A"]
        c = self.c = fem.Case(path, level)
        assert c.h_lumen == 0 and c.h_metal == 0 and c.slope == 0 and not c.dies and not c.boiling and c.tip == "disc"
        self.probes = [(q["name"], *(q.get(k, 0) * MM for k in ("x_mm", "y_mm", "z_mm"))) for q in f["probes"]]
        self.dt, self.dr = 0.04 * 2.0**-level, 0.02 * MM * 2.0**-level
        self.left()

    def left(self):
        """U on a table of times, depths and radii: K/s."""
        c, m = self.c, self.c.m
        heat, cond = c.field(c.sigma0)
        self.ohm = 1 / cond
        free = np.setdiff1d(np.arange(m.n), c.bottom)
        C, A = m.mass(c.c), m.stiffness(c.k) + m.mass(c.g)
        mass = fem.splu(C[free][:, free])
        gam = 1 - np.sqrt(0.5)
        U = np.zeros(m.n)
        U[free] = mass.solve((m.load(heat) * (self.amps / cond)**2)[free])
        R, Z = m.R[m.R < WIDE + 1 * MM], m.Z[m.Z < DEEP]
        grid = m.full.reshape(len(m.R), len(m.Z))[:len(R), :len(Z)]
        self.z = Z
        r = np.arange(0, WIDE, self.dr)
        factors, rows = {}, []

        def step(U, dt):
            if dt not in factors:
                factors[dt] = fem.splu((C + gam * dt * A)[free][:, free])
            X1, X2, k = np.zeros(m.n), np.zeros(m.n), np.zeros(m.n)
            X1[free] = factors[dt].solve((C @ U)[free])
            k[free] = mass.solve(-(A @ X1)[free])
            X2[free] = factors[dt].solve((C @ (U + (1 - gam) * dt * k))[free])
            return X2
        n = int(round((self.on + self.after) / self.dt))
        for i in range(n + 1):
            rows.append(CubicSpline(R, U[grid], axis=0)(r).astype(np.float32))
            if i == 0:
                # what was just deposited is sharp at the rim: the first step in eight
                for _ in range(8):
                    U = step(U, self.dt / 8)
            else:
                U = step(U, self.dt)
        self.U = np.array(rows)

    def history(self, x, y):
        """Temperature above the body's at a place, of each time and depth."""
        U = self.U
        n = len(U)
        T = np.zeros((n, U.shape[2]))
        places = int(round(self.on / self.dt))
        for j in range(places + 1):
            at = np.hypot(x - self.v * j * self.dt, y) / self.dr
            i = int(at)
            if i + 1 >= U.shape[1]:
                continue
            part = (1 - (at - i)) * U[:n - j, i] + (at - i) * U[:n - j, i + 1]
            # trapezoid over the places passed by each time: half at the first, half at the present one
            w = 0.5 if j in (0, places) else 1.0
            T[j:] += w * self.dt * part
            if j not in (0, places):
                T[j] -= 0.5 * self.dt * part[0]
        return T

    def omega(self, T):
        c, rate = self.c, self.c.rate(T)
        return (self.dt * c.logmean(rate[:-1], rate[1:])).sum(0)


def solve(path, level, tell):
    t = Track(path, level)
    for name, x, y, z in t.probes:
        T = CubicSpline(t.z, t.history(x, y), axis=1)(z)
        for s in (1, 2, t.on, t.on + 2, t.on + t.after):
            tell("T_" + name, "C", s, fem.BODY + T[int(round(s / t.dt))])
    ln = lambda x, y: np.log(np.maximum(t.omega(t.history(x, y)), 1e-300))
    xs = np.arange(0, t.length + 0.5 * MM, 0.1 * MM)
    depth = lambda f: fem.crossing(t.z, f)
    tell("injury_depth_mm", "mm", t.on + t.after, max(depth(ln(x, 0)) for x in xs) / MM)
    ys = np.arange(1.2 * MM, 2 * MM, 0.05 * MM)
    half = 0
    for x in xs[10::5]:
        f = np.array([ln(x, y) for y in ys])
        half = max(half, max(fem.crossing(ys, f[:, k]) for k in range(len(t.z)) if t.z[k] < 1 * MM))
    tell("injury_half_width_mm", "mm", t.on + t.after, half / MM)
    return t


def main(path):
    levels, meshes = [], []
    for level in range(3):
        values = {}
        t = solve(path, level, lambda quantity, unit, s, value: values.update({(quantity, unit, f"{s:g}"): value}))
        levels.append(values)
        meshes.append(f"{len(t.c.m.tri)} triangles in steps of {t.dt:g} s")
    print(f"# {os.path.basename(path)} by track.py, {datetime.date.today()}: Python {sys.version.split()[0]}, scipy {scipy.__version__}, numpy {np.__version__}")
    print("# quadratic triangles, SDIRK of order 2, superposed along the track; " + "; ".join(meshes))
    print("# freefem: not computed")
    print("quantity,unit,time_s,coarse,middle,fine,order,extrapolated,freefem")
    for key in levels[2]:
        v = [l[key] for l in levels]
        p, tends = fem.order(*v)
        print(",".join([*key, *(f"{x:.8g}" for x in v), p, f"{tends:.8g}", ""]))


if __name__ == "__main__":
    main(sys.argv[1])
