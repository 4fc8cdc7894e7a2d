"""The reference cases by finite elements on the sparse matrices of scipy (Virtanen and others 2020, Nat Methods 17:261).

    python3 fem.py CASE.yaml [FREEFEM.csv] > CASE.csv

Values come from the scenario file, all else from the equations; nothing is shared with the program under test, nor
with fem.edp, whose results go into a column of their own. The mesh is a grid of graded lines cut into triangles: borders of
layers, the metal and its rim lie on edges. Three meshes, each with half the cells and steps of the one before.

Without boiling: quadratic triangles, an L-stable Runge-Kutta method of second order (SDIRK; Alexander 1977, SIAM J Numer
Anal 14:1006), with conductivity, perfusion and damage iterated within each stage.
With boiling: linear triangles, a lumped mass, the enthalpy method (Voller and Cross 1981, Int J Heat Mass Transfer
24:545) in explicit steps below the limit of positivity; with every longer step the field anew, conductivity by the water at
each point of quadrature, and a step of backward Euler for the liquid water that diffuses with its heat.
"""
import csv
import datetime
import os
import sys

import numpy as np
import scipy
import scipy.sparse as sp
import scipy.sparse.linalg as sla
import yaml

MM, BODY, GAS, ZERO = 1e-3, 37.0, 8.314462618, 273.15


# ---- mesh ------------------------------------------------------------------------------------

def lines(breaks, size):
    """Grid lines from break to break, cells as large as size(x) says."""
    out = [breaks[0]]
    for a, b in zip(breaks, breaks[1:]):
        x = np.linspace(a, b, 4001)
        n = np.concatenate([[0], np.cumsum(np.diff(x) / size((x[1:] + x[:-1]) / 2))])
        cells = max(1, int(np.ceil(n[-1] - 1e-9)))
        out += list(np.interp(np.arange(1, cells + 1) * n[-1] / cells, n, x))
    return np.array(out)


class Mesh:
    """Triangles of order p on the grid r x z, cells where hole() is true left out."""

    def __init__(self, r, z, order, hole):
        nr, nz = len(r) - 1, len(z) - 1
        R, Z = r, z
        if order == 2:  # lines through the middles as well: nodes of the quadratic triangles
            R = np.sort(np.concatenate([r, (r[1:] + r[:-1]) / 2]))
            Z = np.sort(np.concatenate([z, (z[1:] + z[:-1]) / 2]))
        self.R, self.Z, self.order = R, Z, order
        i, k = np.meshgrid(np.arange(nr), np.arange(nz), indexing="ij")
        i, k = i.ravel(), k.ravel()
        keep = ~hole((r[i] + r[i + 1]) / 2, (z[k] + z[k + 1]) / 2)
        i, k = i[keep], k[keep]
        node = lambda a, b: a * len(Z) + b
        s = order
        # corners of the two triangles of a cell, counted in node lines; diagonals alternate
        odd = ((i + k) % 2).astype(bool)
        quad = [(0, 0), (s, 0), (s, s), (0, s)]
        tri = []
        for c in range(2):
            for flip in (False, True):
                q = [quad[j] for j in ([(0, 1, 2), (0, 2, 3)] if not flip else [(0, 1, 3), (1, 2, 3)])[c]]
                m = odd == flip
                pts = [(s * i[m] + p[0], s * k[m] + p[1]) for p in q]
                if s == 2:
                    for a, b in ((0, 1), (1, 2), (2, 0)):
                        pts.append(((pts[a][0] + pts[b][0]) // 2, (pts[a][1] + pts[b][1]) // 2))
                tri.append(np.stack([node(a, b) for a, b in pts], axis=1))
        tri = np.concatenate(tri)
        used, tri = np.unique(tri, return_inverse=True)
        self.tri = tri.reshape(-1, 3 * s)
        self.full = -np.ones(len(R) * len(Z), int)  # node of the grid -> unknown
        self.full[used] = np.arange(len(used))
        self.r, self.z = R[used // len(Z)], Z[used % len(Z)]
        self.n = len(used)
        self.quadrature()
        self.pattern()

    def quadrature(self):
        # seven points, exact to degree 5 (Radon 1948; Strang and Fix 1973)
        q = np.sqrt(15)
        a, b = (6 - q) / 21, (6 + q) / 21
        pts = [(1 / 3, 1 / 3, 1 / 3)] + [(1 - 2 * a, a, a), (a, 1 - 2 * a, a), (a, a, 1 - 2 * a)] \
            + [(1 - 2 * b, b, b), (b, 1 - 2 * b, b), (b, b, 1 - 2 * b)]
        L = np.array(pts)
        W = np.array([9 / 40] + 3 * [(155 - q) / 1200] + 3 * [(155 + q) / 1200])
        corners = self.tri[:, :3]
        x, y = self.r[corners], self.z[corners]
        det = (x[:, 1] - x[:, 0]) * (y[:, 2] - y[:, 0]) - (x[:, 2] - x[:, 0]) * (y[:, 1] - y[:, 0])
        gx = np.stack([y[:, 1] - y[:, 2], y[:, 2] - y[:, 0], y[:, 0] - y[:, 1]], 1) / det[:, None]
        gy = np.stack([x[:, 2] - x[:, 1], x[:, 0] - x[:, 2], x[:, 1] - x[:, 0]], 1) / det[:, None]
        if self.order == 1:
            N = L
            dN = np.broadcast_to(np.eye(3), (len(L), 3, 3))  # d N_a / d L_b
        else:
            N = np.concatenate([L * (2 * L - 1), 4 * L * L[:, [1, 2, 0]]], 1)
            dN = np.zeros((len(L), 6, 3))
            for c in range(3):
                dN[:, c, c] = 4 * L[:, c] - 1
                dN[:, 3 + c, c] = 4 * L[:, (c + 1) % 3]
                dN[:, 3 + c, (c + 1) % 3] = 4 * L[:, c]
        self.N = N
        self.gx = np.einsum("qab,eb->eqa", dN, gx)
        self.gy = np.einsum("qab,eb->eqa", dN, gy)
        q = slice(0, 1) if self.order == 1 else slice(None)
        gg = self.gx[:, q, :, None] * self.gx[:, q, None, :] + self.gy[:, q, :, None] * self.gy[:, q, None, :]
        self.gg = gg.reshape(len(gg), gg.shape[1], -1)  # of each pair of nodes
        self.w = 2 * np.pi * np.abs(det)[:, None] / 2 * W * (x @ L.T)  # volume of each point
        self.mid = y.mean(1)

    def pattern(self):
        m = self.tri.shape[1]
        rows, cols = np.repeat(self.tri, m, 1).ravel(), np.tile(self.tri, (1, m)).ravel()
        key, self.place = np.unique(rows.astype(np.int64) * self.n + cols, return_inverse=True)
        self.indices = (key % self.n).astype(np.int32)
        self.indptr = np.concatenate([[0], np.cumsum(np.bincount(key // self.n, minlength=self.n))]).astype(np.int32)

    def matrix(self, element):
        data = np.bincount(self.place, element.ravel(), len(self.indices))
        return sp.csr_matrix((data, self.indices, self.indptr), (self.n, self.n))

    def stiffness(self, c):
        cw = self.w * c
        if self.order == 1:  # gradients are the same all over a triangle
            cw = cw.sum(1)[:, None]
        return self.matrix(np.matmul(cw[:, None, :], self.gg))

    def mass(self, c):
        return self.matrix(np.einsum("eq,qa,qb->eab", self.w * c, self.N, self.N, optimize=True))

    def load(self, f):
        return np.bincount(self.tri.ravel(), ((self.w * f) @ self.N).ravel(), self.n)

    def at_points(self, u):
        return u[self.tri] @ self.N.T

    def square_gradient(self, u):
        e = u[self.tri]
        gx, gy = (self.gx[:, :1], self.gy[:, :1]) if self.order == 1 else (self.gx, self.gy)
        return np.matmul(gx, e[:, :, None])[:, :, 0]**2 + np.matmul(gy, e[:, :, None])[:, :, 0]**2

    def surface(self, edges):
        """Mass matrix of a line of nodes (r ascending or z ascending), with the area around the axis."""
        M = sp.lil_matrix((self.n, self.n))
        s = self.order
        g, wg = np.polynomial.legendre.leggauss(4)
        g, wg = (g + 1) / 2, wg / 2
        N = np.stack([1 - g, g], 1) if s == 1 else np.stack([(1 - g) * (1 - 2 * g), 4 * g * (1 - g), g * (2 * g - 1)], 1)
        for j in range(0, len(edges) - s, s):
            p = edges[j:j + s + 1]
            a, b = p[0], p[-1]
            length = np.hypot(self.r[b] - self.r[a], self.z[b] - self.z[a])
            rr = self.r[a] + g * (self.r[b] - self.r[a])
            e = np.einsum("q,qa,qb->ab", 2 * np.pi * rr * length * wg, N, N)
            if s == 1:
                e = np.diag(e.sum(1))
            for x in range(s + 1):
                for y in range(s + 1):
                    M[p[x], p[y]] += e[x, y]
        return M.tocsr()

    def line(self, r=None, z=None):
        """Nodes along a grid line, ascending."""
        n = np.where(np.abs(self.r - r) < 1e-12)[0] if r is not None else np.where(np.abs(self.z - z) < 1e-12)[0]
        return n[np.argsort(self.z[n] if r is not None else self.r[n])]

    def probe(self, r, z):
        """Weights of the nodes at a point."""
        c = self.tri[:, :3]
        x, y = self.r[c], self.z[c]
        det = (x[:, 1] - x[:, 0]) * (y[:, 2] - y[:, 0]) - (x[:, 2] - x[:, 0]) * (y[:, 1] - y[:, 0])
        l1 = ((r - x[:, 0]) * (y[:, 2] - y[:, 0]) - (x[:, 2] - x[:, 0]) * (z - y[:, 0])) / det
        l2 = ((x[:, 1] - x[:, 0]) * (z - y[:, 0]) - (r - x[:, 0]) * (y[:, 1] - y[:, 0])) / det
        e = int(np.argmax(np.minimum(np.minimum(l1, l2), 1 - l1 - l2)))
        L = np.array([1 - l1[e] - l2[e], l1[e], l2[e]])
        assert L.min() > -1e-6, (r, z)
        N = L if self.order == 1 else np.concatenate([L * (2 * L - 1), 4 * L * L[[1, 2, 0]]])
        return self.tri[e], N


def splu(A):
    return sla.splu(A.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0, options={"SymmetricMode": True})


# ---- the case ----------------------------------------------------------------------------------

class Case:
    def __init__(self, path, level):
        f = yaml.safe_load(open(path))
        self.boiling = f["physics"]["boiling"]
        self.percolates = self.boiling and f["physics"]["drying"] == "percolation"
        layers = f["wall"]["layers"] + [f["wall"]["beyond"]]
        self.borders = np.concatenate([[0], np.cumsum([l["thickness_mm"] for l in layers])]) * MM
        mat = [l["material"] for l in layers]
        e = f["electrode"]
        self.a, self.tip = e["radius_mm"] * MM, e["tip"]
        self.l = e.get("insertion_mm", 0) * MM
        self.h_metal, self.t_metal = e["heat_transfer_W_m2K"], e["temperature_C"] - BODY
        self.h_lumen, self.t_lumen = f["wall"]["lumen"]["heat_transfer_W_m2K"], f["wall"]["lumen"]["temperature_C"] - BODY
        cur = f["current"]
        self.power, self.on, self.after = cur.get("power_W"), cur.get("on_s"), f["afterwards_s"]
        peak = cur.get("limits", {}).get("peak_voltage_V", 0)
        self.most_v = peak / np.sqrt(2) if peak else np.inf
        p = f["physics"]
        self.slope = p["conductivity_per_K"]
        self.dies = p["perfusion_stops"] == "with-damage"
        assert self.dies or p["perfusion_stops"] == "never"
        d = f["damage"]
        self.lnA, self.EaR = np.log(float(d["A_per_s"])), float(d["Ea_J_mol"]) / GAS
        self.probes = [(q["name"], q.get("r_mm", 0) * MM, q["z_mm"] * MM) for q in f["probes"]]
        R = f["domain"]["radius_mm"] * MM
        assert f["domain"]["side"] == "insulated" and f["domain"]["bottom"] == "grounded"
        blood = f["body"]["blood_heat_capacity_J_kgK"]
        assert f["body"]["temperature_C"] == BODY

        # cells: h in the zone of interest (4 mm), growing by a fifth of the distance outside, small by the rim
        scale = 2.0**-level
        if self.boiling:
            h, tiny, grow, zone = 0.08 * MM * scale, 0.08 * MM * scale, 0, 2.4 * MM
            if self.percolates:  # a contact dries from its rim
                h, tiny, grow = 0.16 * MM * scale, 0.04 * MM * scale, 0.2 * scale
        else:
            h, tiny, grow, zone = 0.3 * MM * scale, 2e-6 * scale, 0.6 * scale, 4 * MM
        near = lambda x, at: np.minimum(h, tiny + grow * np.abs(x - at)) if grow else h + 0 * x
        far = lambda x: 0.2 * scale * np.maximum(0, x - zone)
        r = lines([0, self.a, zone, R], lambda x: near(x, self.a) + far(x))
        zb = sorted(set(np.round(np.concatenate([self.borders, [self.l]]), 9)))
        z = lines(zb, lambda x: near(x, self.l) + far(x))
        hole = lambda r, z: (r < self.a) & (z < self.l)
        m = self.m = Mesh(r, z, 1 if self.boiling else 2, hole)
        layer = np.searchsorted(self.borders, m.mid) - 1
        col = lambda key: np.array([x[key] for x in mat])[layer][:, None] * np.ones(m.w.shape[1])
        self.sigma0, self.k = col("sigma_S_m"), col("k_W_mK")
        self.c = col("density_kg_m3") * col("heat_capacity_J_kgK")
        self.g = col("perfusion_kg_m3s") * blood
        if self.boiling:
            self.wet_mass = col("density_kg_m3") * col("water_fraction")
            self.latent, self.dry_share = p["latent_heat_J_kg"], p["dry_conductivity_share"]
            self.k_dry = np.minimum(p["dry_k_W_mK"], self.k)
            if self.percolates:
                self.n, self.threshold = p["conductivity_exponent"], p["conductivity_threshold"]
            self.rise = p.get("coagulated_conductivity_rise_percent", 0) / 100
            self.leak = 2 * np.pi * cur.get("frequency_kHz", 0) * 1e3 * VACUUM * p.get("dry_permittivity", 0)
            self.D = p.get("water_diffusivity_m2_s", 0)
            # dried tissue is the wet one less its water, whose heat capacity is the same in every layer
            assert (self.c - self.wet_mass * WATER_C >= (col("density_kg_m3") - self.wet_mass) * DRY_C).all()
            assert not p["carbonisation"] and p["boil_C"] == 100
        eps = 1e-9
        if self.tip == "needle":
            on = np.where((m.r <= self.a + eps) & (m.z <= self.l + eps))[0]
            shaft, end = m.line(r=self.a), m.line(z=self.l)
            parts = [shaft[m.z[shaft] <= self.l + eps], end[m.r[end] <= self.a + eps]]
        else:
            on = np.where((m.r <= self.a + eps) & (m.z < eps))[0]
            top = m.line(z=0)
            parts = [top[m.r[top] <= self.a + eps]]
        top = m.line(z=0)
        self.metal = on
        self.bottom = np.where(m.z > self.borders[-1] - eps)[0]
        self.S_metal = sum(m.surface(x) for x in parts)
        self.S_lumen = m.surface(top[m.r[top] >= self.a - eps])
        self.step = (0.1 if not self.boiling else 0.01) * scale
        self.tell = [] if self.on is None else sorted({1, self.on / 2, self.on, self.on + 2, self.on + self.after})

    # -- field: potential 1 on the metal, 0 at the bottom -------------------------------------------
    factors = None

    def field(self, sigma, tolerance=1e-9):
        """Heat at 1 V in W/m3 at the points of quadrature, and the conductance."""
        m = self.m
        A = m.stiffness(sigma)
        if self.factors is None:
            self.free = np.setdiff1d(np.arange(m.n), np.concatenate([self.metal, self.bottom]))
            self.phi = np.zeros(m.n)
            self.phi[self.metal] = 1
        I, phi = self.free, self.phi

        def solve(r):
            y = np.zeros(m.n)
            y[I] = self.factors.solve(r[I])
            return y
        fresh = self.factors is None or self.iterations > 12
        if fresh:
            self.factors = splu(A[I][:, I])
        # conjugate gradients on the last factors, from the last potential: one iteration if they are fresh
        r = -(A @ phi)
        y = solve(r)
        p, ry = y.copy(), r[I] @ y[I]
        self.iterations = 0
        while ry > tolerance**2 * (phi @ (A @ phi)):
            Ap = A @ p
            step = ry / (p @ Ap)
            phi += step * p
            r -= step * Ap
            y = solve(r)
            ry, old = r[I] @ y[I], ry
            p = y + ry / old * p
            self.iterations += 1
            assert self.iterations < 200
        heat = sigma * m.square_gradient(phi)
        return heat, (m.w * heat).sum()

    def rate(self, T):
        return np.exp(self.lnA - self.EaR / (T + BODY + ZERO))

    def logmean(self, a, b):
        q = b / a
        near = np.abs(q - 1) < 1e-5
        return np.where(near, (a + b) / 2, (b - a) / np.where(near, 1, np.log(q)))

    def sigma(self, T):
        return self.sigma0 * (1 + self.slope * np.minimum(self.m.at_points(T), 100 - BODY))

    def drying_sigma(self, T, w, omega):
        """Conductivity at the points of quadrature, S/m, with the share w of its water left."""
        wet, w = self.sigma(T), self.m.at_points(w)
        if self.rise:
            wet = wet * (1 + self.rise * (1 - self.m.at_points(np.exp(-omega))))
        dry = np.maximum(self.dry_share * wet, np.minimum(self.leak, wet))
        if self.percolates:
            x = np.clip((w - self.threshold) / (1 - self.threshold), 0, 1)
            return dry + (wet - dry) * x**self.n
        return 1 / (w / wet + (1 - w) / dry)


def smooth(c, tell):
    m = c.m
    free = np.setdiff1d(np.arange(m.n), c.bottom)
    C = m.mass(c.c)
    K = m.stiffness(c.k) + c.h_lumen * c.S_lumen + c.h_metal * c.S_metal
    G = m.mass(c.g)
    cool = c.h_lumen * c.t_lumen * c.S_lumen @ np.ones(m.n) + c.h_metal * c.t_metal * c.S_metal @ np.ones(m.n)
    A = K + G
    gam = 1 - np.sqrt(0.5)
    T, omega = np.zeros(m.n), np.zeros(m.n)
    energy, t, factors = 0.0, 0.0, {}
    heat, cond = c.field(c.sigma(T))
    tell("resistance_start_ohm", "ohm", 0, 1 / cond)
    base = m.load(heat) * c.power / cond

    def gains(X, omega, on):
        """Heat into the nodes in W besides -A X, at temperature X and damage omega."""
        s = cool.copy()
        if on and c.slope:
            q, g = c.field(c.sigma(X))
            s += m.load(q) * c.power / g
        elif on:
            s += base
        if c.dies:  # what perfusion no longer takes away
            s += m.load(c.g * (1 - np.exp(-np.maximum(m.at_points(omega), 0))) * m.at_points(X))
        return s

    def stage(start, X, damage, dt, on):
        """Solves C (X - start) = gam dt (gains - A X), from a guess of X; and the flow of heat there."""
        if dt not in factors:
            factors[dt] = splu((C + gam * dt * A)[free][:, free])
        fixed = C @ start
        for _ in range(30):
            s = gains(X, damage(X), on)
            new = np.zeros(m.n)
            new[free] = factors[dt].solve((fixed + gam * dt * s)[free])
            moved, X = np.abs(new - X).max(), new
            if moved < 1e-6 or not (c.slope or c.dies):
                return X, s - A @ X
        raise RuntimeError("a stage does not settle")

    mass = splu(C[free][:, free])
    for span, on in ((c.on, True), (c.after, False)):
        n = int(round(span / c.step))
        # the source jumps: the first step in eight
        for dt in [span / n / 8] * 8 + [span / n] * (n - 1):
            r0 = c.rate(T)
            at_stage = lambda X: omega + gam * dt * c.logmean(r0, c.rate(X))
            at_end = lambda X: omega + dt * c.logmean(r0, c.rate(X))
            X1, f1 = stage(T, T, at_stage, dt, on)
            k1 = np.zeros(m.n)
            k1[free] = mass.solve(f1[free])
            X2, _ = stage(T + (1 - gam) * dt * k1, T + dt * k1, at_end, dt, on)
            T, omega = X2, at_end(X2)
            t += dt
            energy += dt * c.power * on
            for s in c.tell:
                if abs(s - t) < 1e-9:
                    probes(c, T, s, tell)
        if on:
            heat, cond = c.field(c.sigma(T))
            tell("resistance_end_ohm", "ohm", t, 1 / cond)
    tell("energy_J", "J", t, energy)
    injury(c, omega, tell)


def boil(c, tell):
    m = c.m
    lump = lambda f: m.load(f)
    V = lump(np.ones_like(c.c))
    C, W = lump(c.c), lump(c.wet_mass) * 1.0          # J/K and kg of water of each node
    CW = W * WATER_C
    K, k_now = m.stiffness(c.k), np.ones(m.n)
    film = c.h_lumen * c.S_lumen.diagonal() + c.h_metal * c.S_metal.diagonal()
    drive = c.h_lumen * c.t_lumen * c.S_lumen.diagonal() + c.h_metal * c.t_metal * c.S_metal.diagonal()
    G = lump(c.g)
    T, w, omega = np.zeros(m.n), np.ones(m.n), np.zeros(m.n)
    limit = 0.9 * ((C - CW) / (K.diagonal() + film + G)).min()
    top = 100 - BODY
    flows = c.wet_mass * c.D  # kg/(m s) of water at a unit gradient of w
    t, energy, first, out = 0.0, 0.0, None, None
    for span, on in ((c.on, True), (c.after, False)):
        n = int(round(span / c.step))
        inner = int(np.ceil(span / n / limit))
        dt = span / n / inner
        if c.D:
            water = splu(sp.diags(W) + span / n * m.stiffness(flows))
        for i in range(n):
            source = drive
            if np.abs(w - k_now).max() > 1e-3 and (c.k_dry < c.k).any():
                K, k_now = m.stiffness(c.k_dry + m.at_points(w) * (c.k - c.k_dry)), w.copy()
            if on:
                q, g = c.field(c.drying_sigma(T, w, omega), 1e-6)
                v2 = min(c.power / g, c.most_v**2)
                source = drive + m.load(q) * v2
                energy += span / n * v2 * g
                out = 1 / g
                if first is None:
                    first = out
                    tell("resistance_start_ohm", "ohm", 0, first)
            rate = c.rate(T)
            lossy = film + G * (np.exp(-omega) if c.dies else 1)
            for j in range(inner):
                # heat of the step: to the boiling point, then water, then on
                E = dt * (source - K @ T - lossy * T)
                Cw = C - (1 - w) * CW
                new = T + E / Cw
                over = np.flatnonzero((new > top) & (w > 0))
                if len(over):
                    left = (new[over] - top) * Cw[over]
                    lost = np.minimum(left / (c.latent * W[over]), w[over])
                    left -= lost * c.latent * W[over]
                    w[over] -= lost
                    w[over[w[over] < 1e-9]] = 0
                    new[over] = top + left / (C[over] - (1 - w[over]) * CW[over])
                new[c.bottom] = 0
                T = new
            if c.D and w.min() < 1:
                moved = water.solve(W * w)
                carried = -span / n * (m.stiffness(WATER_C * flows * m.at_points(T)) @ moved)
                T = (T * (C - (1 - w) * CW) + carried) / (C - (1 - moved) * CW)
                w = moved
            omega = omega + span / n * c.logmean(rate, c.rate(T))
            t += span / n
            for s in c.tell:
                if abs(s - t) < 1e-9:
                    probes(c, T, s, tell)
        if on:
            tell("resistance_end_ohm", "ohm", t, out)
            tell("dried_mm3", "mm3", t, ((1 - w) * V).sum() / MM**3)
            z = m.line(r=0)
            z = z[m.z[z] >= c.l - 1e-9]
            tell("boiled_depth_mm", "mm", t, crossing(m.z[z], 0.5 - w[z]) / MM)
    tell("energy_J", "J", t, energy)
    columns = [m.line(r=at) for at in np.unique(m.r) if at < 4 * MM]
    tell("dried_depth_mm", "mm", t, max(crossing(m.z[z], 0.5 - w[z]) for z in columns) / MM)
    injury(c, omega, tell)


WATER_C = 4178.0  # J/(kg K), the heat capacity that leaves with the water
DRY_C = 1200.0  # J/(kg K), the least that dried tissue has
VACUUM = 8.8541878128e-12  # F/m


def probes(c, T, s, tell):
    for name, r, z in c.probes:
        nodes, N = c.m.probe(r, z)
        tell("T_" + name, "C", s, BODY + T[nodes] @ N)


def crossing(x, f):
    """Last x at which f falls through 0, by a straight line; x[0] if it never was above."""
    i = np.where((f[:-1] >= 0) & (f[1:] < 0))[0]
    if not len(i):
        return x[0]
    i = i[-1]
    return x[i] + (x[i + 1] - x[i]) * f[i] / (f[i] - f[i + 1])


def injury(c, omega, tell):
    m = c.m
    f = np.log(np.maximum(omega, 1e-300))
    z = m.line(r=0)
    tell("injury_depth_mm", "mm", c.on + c.after, crossing(m.z[z], f[z]) / MM)
    width = 0
    for at in np.unique(m.z):
        if at < 4 * MM:
            r = m.line(z=at)
            width = max(width, crossing(m.r[r], f[r]))
    tell("injury_half_width_mm", "mm", c.on + c.after, width / MM)


def order(c, m, f):
    """Observed order of three values with halved cells and steps, and what they tend to."""
    if abs(c - f) > 1e-9 * abs(f) and (c - m) * (m - f) > 0 and 1.2 < (c - m) / (m - f) < 40:
        p = np.log2((c - m) / (m - f))
        return f"{p:.2f}", f + (f - m) / (2**p - 1)
    return "", f


def main(path, other=None):
    levels, meshes = [], []
    for level in range(3):
        c, values = Case(path, level), {}
        (boil if c.boiling else smooth)(c, lambda quantity, unit, s, value: values.update({(quantity, unit, f"{s:g}"): value}))
        levels.append(values)
        meshes.append(f"{len(c.m.tri)} triangles in steps of {c.step:g} s")
    elsewhere, program = {}, ""
    if other:
        with open(other) as f:
            program = f.readline().strip("# \n")
            for row in csv.DictReader(f):
                elsewhere[row["quantity"], row["time_s"]] = float(row["value"])
    print(f"# {os.path.basename(path)} by fem.py, {datetime.date.today()}: Python {sys.version.split()[0]}, scipy {scipy.__version__}, numpy {np.__version__}")
    print(f"# {'linear triangles with a lumped mass, enthalpy' if c.boiling else 'quadratic triangles, SDIRK of order 2'}; " + "; ".join(meshes))
    print("# freefem: " + (program or "not computed"))
    print("quantity,unit,time_s,coarse,middle,fine,order,extrapolated,freefem")
    for key in levels[2]:
        v = [l[key] for l in levels]
        p, tends = order(*v)
        there = elsewhere.get((key[0], key[2]), elsewhere.get((key[0], "")))
        print(",".join([*key, *(f"{x:.8g}" for x in v), p, f"{tends:.8g}", "" if there is None else f"{there:.8g}"]))


if __name__ == "__main__":
    main(*sys.argv[1:])
