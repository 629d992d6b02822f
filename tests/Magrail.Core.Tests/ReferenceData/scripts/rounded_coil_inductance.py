#!/usr/bin/env python3
"""Self- and mutual inductance of rounded-rectangle coils, by averaging filaments.

An independent formulation: the vector potential of one filament turn in closed form (straight parts by asinh, corner arcs by
INCOMPLETE ELLIPTIC INTEGRALS in Carlson's forms of scipy), the line integral over the other turn by graded Gauss-Legendre rules, and the average over both
winding sections by product rules; for a coil with itself the logarithm of coinciding filaments is removed by Duffy's map of the
(radial, axial) separation. Every row is computed at two resolutions; their difference is printed as the error.

    /usr/bin/env python3 rounded_coil_inductance.py > ../rounded-coil-inductance.csv

It takes half an hour. A number as argument leaves out that many rows (and the header), to go on after an interruption.
"""
import sys
import numpy as np
from scipy.special import elliprd, elliprf

MU0 = 1.25663706127e-6      # CODATA 2022


def gauss(n, a=0.0, b=1.0):
    x, w = np.polynomial.legendre.leggauss(n)
    return 0.5 * (a + b) + 0.5 * (b - a) * x, 0.5 * (b - a) * w


def graded(length, first, n):
    """Nodes on [0, length], graded toward 0 in pieces that double."""
    edges = [0.0]
    step = min(first, length)
    while edges[-1] + step < 0.999 * length:
        edges.append(edges[-1] + step)
        step = edges[-1]
    edges.append(length)
    xs, ws = zip(*(gauss(n, a, b) for a, b in zip(edges[:-1], edges[1:])))
    return np.concatenate(xs), np.concatenate(ws)


def line_part(t0, t1, d2):
    """integral of dt/sqrt(t^2 + d2) from t0 to t1, for either sign and for d2 = 0 beyond the ends"""
    t0, t1, d2 = np.broadcast_arrays(t0, t1, d2)
    r0, r1 = np.sqrt(t0 * t0 + d2), np.sqrt(t1 * t1 + d2)
    with np.errstate(all="ignore"):
        after = np.log((t1 + r1) / (t0 + r0))
        before = np.log((r0 - t0) / (r1 - t1))
        across = np.log((t1 + r1) * (r0 - t0) / d2)
    return np.where(t0 >= 0, after, np.where(t1 <= 0, before, across))


def elliptic(beta, m, m1):
    """integrals of 1/D and of sin^2/D from 0 to beta in (-pi/2, pi], D = sqrt(1 - m sin^2), by Carlson's forms; m1 = 1 - m"""
    turned = beta > 0.5 * np.pi
    b = np.where(turned, np.pi - beta, beta)
    sn, cs = np.sin(b), np.cos(b)
    d = cs * cs + m1 * sn * sn
    first = sn * elliprf(cs * cs, d, 1.0)
    second = sn ** 3 / 3 * elliprd(cs * cs, d, 1.0)
    if turned.any():
        k1 = elliprf(0.0, m1[turned], 1.0)
        k2 = elliprd(0.0, m1[turned], 1.0) / 3
        first[turned] = 2 * k1 - first[turned]
        second[turned] = 2 * k2 - second[turned]
    return first, second


def arc_part(px, pz, a, u, tx, tz, phi0):
    """integral over a quarter arc from phi0, radius a, of t.t' a dphi / distance; the point relative to the arc's center"""
    px, pz, a, u, tx, tz = (v.ravel() for v in np.broadcast_arrays(px, pz, a, u, tx, tz))
    R = np.hypot(px, pz)
    psi = np.arctan2(pz, px)
    least = (R - a) ** 2 + u * u
    most = (R + a) ** 2 + u * u
    Q = 2 * a * R
    m, m1 = 2 * Q / most, least / most
    th0 = (phi0 - psi + np.pi) % (2 * np.pi) - np.pi
    th1 = th0 + 0.5 * np.pi
    # components of t along e_psi and e_perp
    tr = tx * np.cos(psi) + tz * np.sin(psi)
    tp = -tx * np.sin(psi) + tz * np.cos(psi)
    f0, g0 = elliptic(0.5 * (np.pi - th0), m, m1)
    f1, g1 = elliptic(0.5 * (np.pi - th1), m, m1)
    cosine = -2 / np.sqrt(most) * (2 * (g1 - g0) - (f1 - f0))
    h0, h1 = np.sin(0.5 * th0) ** 2, np.sin(0.5 * th1) ** 2
    sine = 4 * (h1 - h0) / (np.sqrt(least + 2 * Q * h1) + np.sqrt(least + 2 * Q * h0))
    return a * (tp * cosine - tr * sine)


def along(t, part):
    """t times part, 0 where the field path is square to the line (the part may be infinite there)"""
    return np.where(t == 0, 0.0, t * np.where(t == 0, 0.0, part))


def potential(shape, s, u, x, z, tx, tz):
    """t.A 4 pi/mu0 of the filament turn of a shape at depth s, axial distance u"""
    hx, hz, r = shape
    a = r + s
    total = np.zeros(np.broadcast(s, u, x).shape)
    if hx > 0:
        total = total + along(tx, line_part(-hx - x, hx - x, (hz + a + z) ** 2 + u * u))
        total = total - along(tx, line_part(-hx - x, hx - x, (hz + a - z) ** 2 + u * u))
    if hz > 0:
        total = total + along(tz, line_part(-hz - z, hz - z, (hx + a - x) ** 2 + u * u))
        total = total - along(tz, line_part(-hz - z, hz - z, (hx + a + x) ** 2 + u * u))
    for cx, cz, phi0 in ((hx, hz, 0.0), (-hx, hz, 0.5 * np.pi), (-hx, -hz, np.pi), (hx, -hz, -0.5 * np.pi)):
        total = total + arc_part(x - cx, z - cz, a, u, tx, tz, phi0).reshape(total.shape)
    return total


def path(shape, s, first, n, quarter):
    """nodes of the turn at depth s: x, z, tx, tz, weight"""
    hx, hz, r = shape
    a = r + s
    rows = []
    if hz > 0:
        d, w = graded(hz, first, n)
        rows.append((np.full_like(d, hx + a), hz - d, np.zeros_like(d), np.ones_like(d), w))
    if hx > 0:
        d, w = graded(hx, first, n)
        rows.append((hx - d, np.full_like(d, hz + a), -np.ones_like(d), np.zeros_like(d), w))
    d, w = graded(0.25 * np.pi, first / a, n)
    for phi in (d, 0.5 * np.pi - d):
        rows.append((hx + a * np.cos(phi), hz + a * np.sin(phi), -np.sin(phi), np.cos(phi), a * w))
    x, z, tx, tz, w = (np.concatenate([row[i] for row in rows]) for i in range(5))
    if quarter:
        return x, z, tx, tz, 4 * w
    full = [(sx * x, sz * z, sz * tx, sx * tz, w) for sx in (1, -1) for sz in (1, -1)]
    return tuple(np.concatenate([row[i] for row in full]) for i in range(5))


def filaments(shape_a, s, shape_b, s2, u, dx, dz, first, n, quarter):
    """mutual inductance of two filament turns over mu0/(4 pi)"""
    x, z, tx, tz, w = path(shape_a, s, first, n, quarter)
    return np.sum(w * potential(shape_b, s2, u, x - dx, z - dz, tx, tz))


def shape_of(width, height, corner):
    return 0.5 * width - corner, 0.5 * height - corner, corner


def self_inductance(width, height, corner, length, depth, fine):
    shape = shape_of(width, height, corner)
    na, nb, ns, n = (9, 6, 7, 10) if not fine else (13, 8, 10, 14)
    tau, wtau = gauss(na)
    a, wa = tau ** 2, wtau * 2 * tau
    sig, wsig = gauss(ns)
    total = 0.0
    for one in (True, False):
        # radial separation v, axial separation u: v = depth a, u = length a b and the other way round
        ratio = depth / length if one else length / depth
        b, wb = graded(1.0, min(1.0, ratio), nb)
        for ai, wai in zip(a, wa):
            for bi, wbi in zip(b, wb):
                v, u = (depth * ai, length * ai * bi) if one else (depth * ai * bi, length * ai)
                weight = wai * wbi * ai * depth * length * (2 / length ** 2) * (length - u) * (2 / depth ** 2) * (depth - v)
                first = max(np.hypot(u, v), 1e-4 * (shape[0] + shape[1] + shape[2]))
                inner = 0.0
                for si, wsi in zip(sig, wsig):
                    s = (depth - v) * si
                    inner += wsi * filaments(shape, s, shape, s + v, u, 0, 0, first, n, True)
                total += weight * inner
    return MU0 / (4 * np.pi) * total


def mutual_inductance(coil_a, coil_b, dx, dy, dz, nodes, fine):
    wa, ha, ra, la, da = coil_a
    wb, hb, rb, lb, db = coil_b
    sa, sb = shape_of(wa, ha, ra), shape_of(wb, hb, rb)
    n, npath = (nodes, 10) if not fine else (nodes + 4, 14)
    p, wp = gauss(n)
    total = 0.0
    # axial separations: product rule, equal weights merged by symmetry only where exact
    ya = la * (p - 0.5)
    yb = lb * (p - 0.5) + dy
    us = np.abs(ya[:, None] - yb[None, :]).ravel()
    wus = (wp[:, None] * wp[None, :]).ravel()
    us, index = np.unique(np.round(us, 15), return_inverse=True)
    wus = np.bincount(index.ravel(), weights=wus)
    for si, wi in zip(p, wp):
        s = si * da
        x, z, tx, tz, w = path(sa, s, 0.1 * min(la, da), npath, False)
        for sj, wj in zip(p, wp):
            s2 = sj * db
            A = potential(sb, s2, us[:, None], (x - dx)[None, :], (z - dz)[None, :], tx[None, :], tz[None, :])
            total += wi * wj * np.sum(wus * (A @ w))
    return MU0 / (4 * np.pi) * total


SELF = [   # width, height, corner, length, depth; mm
    (12, 18, 3, 7, 4.5),       # rounded rectangle of bench size
    (12, 18, 0, 7, 4.5),       # sharp corners
    (10, 10, 5, 8, 6),         # round
    (8, 30, 4, 6, 3),          # racetrack
    (12, 12, 2, 2, 8),         # pancake
    (20, 40, 5, 30, 1),        # single thick layer, long
    (6, 80, 1, 4, 4),          # long and narrow
    (60, 40, 10, 1, 1),        # thin ring
]
BENCH = (12, 18, 3, 7, 4.5)
MUTUAL = [   # coil a, coil b, offset x, y (axial), z; mm; nodes of the section rules (more where the sections nearly touch)
    (BENCH, BENCH, 21.5, 0, 0, 20),           # side by side, 0.5 mm apart
    (BENCH, BENCH, 30, 0, 0, 5),
    (BENCH, BENCH, 120, 0, 0, 4),                             # far
    (BENCH, BENCH, 0, 8, 0, 9),                               # stacked, 1 mm apart
    (BENCH, BENCH, 6, 8, 0, 9),                               # stacked and moved
    (BENCH, BENCH, 13, 9, -7, 7),                             # stacked and moved both ways
    ((30, 40, 6, 7, 3), (8, 10, 2, 5, 4), 2, 0, 3, 6),        # one inside the other
    ((10, 10, 5, 8, 6), (14, 14, 7, 5, 2), 0, 12, 0, 6),      # round, coaxial
    ((8, 30, 4, 6, 3), BENCH, 25, 1, 0, 7),                   # different coils side by side
    ((60, 40, 10, 1, 1), (60, 40, 10, 1, 1), 70, 0, 0, 4),    # thin rings
]


HEADER = """\
# Self- and mutual inductance of rounded-rectangle coils, one turn spread evenly over each winding section.
# Source: none published; computed by scripts/rounded_coil_inductance.py (filaments in closed form with incomplete elliptic
# integrals of scipy, averaged over the sections). error = difference of two resolutions, henries. mu0 = 1.25663706127e-6.
# Digits: see error. Licence: MIT, as this repository. Lengths in mm; a coil is width height corner length depth (of the core section,
# axial length and radial depth of the winding). b empty: self-inductance. Offset of b from a: x across the width, y axial, z along the height.
a,b,x,y,z,inductance,error"""


def main():
    mm = 1e-3
    left_out = int(sys.argv[1]) if len(sys.argv) > 1 else 0
    if left_out == 0:
        print(HEADER)
    for row in SELF[left_out:]:
        m = [mm * v for v in row]
        coarse, fine = self_inductance(*m, False), self_inductance(*m, True)
        print(f"{' '.join(map(str, row))},,0,0,0,{fine:.12e},{abs(fine - coarse):.1e}", flush=True)
    for a, b, x, y, z, nodes in MUTUAL[max(0, left_out - len(SELF)):]:
        ca, cb = [mm * v for v in a], [mm * v for v in b]
        coarse, fine = (mutual_inductance(ca, cb, x * mm, y * mm, z * mm, nodes, f) for f in (False, True))
        print(f"{' '.join(map(str, a))},{' '.join(map(str, b))},{x},{y},{z},{fine:.12e},{abs(fine - coarse):.1e}", flush=True)


if __name__ == "__main__":
    main()
