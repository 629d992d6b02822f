"""One launch over ten stations of facing block magnets, computed apart from the library.

Force per ampere: the field of a uniformly magnetized block as two charged faces (the textbook solid-angle sum of arctangents),
K = -(turns / section) times the integral of B_y dz over all turns, by Gauss-Legendre quadrature over depth, axial position
and the outline (straight legs and corner arcs). One station's curve k(d) is tabulated by Chebyshev pieces on 0 to 215 mm
(it is odd in d), the sum over the ten stations again by Chebyshev pieces over the path. Then SciPy's DOP853 at rtol
1e-12 with a terminal event at every contact edge, at the end of every clamp interval and at the release.

Resistance, inductance, mass and winding section of the coil are inputs here; they have tests of their own.
Writes ../launch-ten-stations.csv.
"""
import math
import os
import numpy as np
from numpy.polynomial import chebyshev as cheb
from numpy.polynomial.legendre import leggauss
from scipy.integrate import solve_ivp

# Geometry, m and T.
ALONG, ACROSS, HEIGHT, GAP, PITCH, STATIONS, REMANENCE = 0.012, 0.006, 0.020, 0.010, 0.020, 10, 1.3
WIDTH, TALL, CORNER = 0.012, 0.018, 0.003
DEPTH, AXIAL, TURNS = 0.00849, 0.003396, 180
# Circuit.
COIL_OHMS, HENRIES, COIL_KG = 1.2885098103368176, 0.0007347883453492605, 0.026708629383305267
VOLTS, SOURCE_OHMS, LEAD_OHMS, SWITCH_OHMS, BRUSH_OHMS, CLAMP = 37.0, 0.045, 0.012, 0.006, 0.004, 60.0
# Mechanics.
SLED_KG, PAYLOAD_KG, MU, MU_REST, VISCOUS, BRUSH_N = 0.025, 0.040, 0.12, 0.18, 0.01, 0.8
DRAG_AREA, AIR, G = 12e-4, 1.225, 9.80665
# Strips: dwell 0.8, lead 0.5 mm, brush 3 mm.
BRUSH, DWELL, LEAD = 0.003, 0.8, 0.0005

MASS = SLED_KG + COIL_KG + PAYLOAD_KG


def field_y(x, y, z, cy):
    """B_y of a block centered at (0, cy, 0), magnetized along +y, at points outside it."""
    total = 0.0
    for face, charge in ((cy + ACROSS / 2, 1.0), (cy - ACROSS / 2, -1.0)):
        h = y - face
        for sx in (1.0, -1.0):
            u = x + sx * ALONG / 2
            for sz in (1.0, -1.0):
                w = z + sz * HEIGHT / 2
                total = total + charge * sx * sz * np.arctan(u * w / (h * np.sqrt(u * u + w * w + h * h)))
    return REMANENCE / (4 * math.pi) * total


def pair_field(x, y, z):
    c = GAP / 2 + ACROSS / 2
    return field_y(x, y, z, c) + field_y(x, y, z, -c)


def section_points(n_depth, n_axial, n_leg, n_arc):
    """Points (x, y, z) and weights w of -turns/section * dz along the right-handed (about +y) turns."""
    def rule(n, a, b):
        q, w = leggauss(n)
        return 0.5 * (a + b) + 0.5 * (b - a) * q, 0.5 * (b - a) * w
    depth, wd = rule(n_depth, 0.0, DEPTH)
    axial, wa = rule(n_axial, -AXIAL, AXIAL)
    scale = TURNS / (DEPTH * 2 * AXIAL)
    hx, hz = WIDTH / 2 - CORNER, TALL / 2 - CORNER
    px, pz, pw, pd = [], [], [], []
    for s, ws in zip(depth, wd):
        r = CORNER + s
        # Right-handed about +y runs from +z to +x to -z to -x: at the front leg (+x) z falls.
        q, w = rule(n_leg, -hz, hz)
        for side in (1.0, -1.0):
            px.append(np.full(n_leg, side * (hx + r)))
            pz.append(q)
            pw.append(-side * w * ws * -scale)
        # Corner arcs; the angle a runs from +z to +x, so dz = -r sin(a) da about each corner's center.
        for start, cx, cz in ((0.0, hx, hz), (0.5, hx, -hz), (1.0, -hx, -hz), (1.5, -hx, hz)):
            a, w = rule(n_arc, start * math.pi, (start + 0.5) * math.pi)
            px.append(cx + r * np.sin(a))
            pz.append(cz + r * np.cos(a))
            pw.append(-r * np.sin(a) * w * ws * -scale)
    px, pz, pw = np.concatenate(px), np.concatenate(pz), np.concatenate(pw)
    shape = (len(px), n_axial)
    x = np.broadcast_to(px[:, None], shape).ravel()
    y = np.broadcast_to(axial[None, :], shape).ravel()
    z = np.broadcast_to(pz[:, None], shape).ravel()
    return x, y, z, (pw[:, None] * wa[None, :]).ravel()


class Pieces:
    """Chebyshev pieces over a row of break points."""

    def __init__(self, f, breaks, n):
        self.breaks = np.asarray(breaks)
        nodes = np.cos((np.arange(n) + 0.5) * math.pi / n)
        self.c = [cheb.chebfit(nodes, np.array([f(0.5 * (a + b) + 0.5 * (b - a) * q) for q in nodes]), n - 1)
                  for a, b in zip(self.breaks[:-1], self.breaks[1:])]

    def __call__(self, x):
        j = min(max(int(np.searchsorted(self.breaks, x, side="right")) - 1, 0), len(self.c) - 1)
        a, b = self.breaks[j], self.breaks[j + 1]
        s = (2 * x - a - b) / (b - a)
        b1 = b2 = 0.0
        c = self.c[j]
        for k in range(len(c) - 1, 0, -1):
            b1, b2 = c[k] + 2 * s * b1 - b2, b1
        return float(c[0] + s * b1 - b2)


def main():
    coarse = section_points(24, 20, 84, 28)
    fine = section_points(30, 26, 110, 36)

    def k_station(d, points=coarse):
        # The coil's middle d ahead of the station.
        x, y, z, w = points
        return float(np.dot(w, pair_field(x + d, y, z)))

    worst = 0.0
    for d in (0.0013, 0.0049, 0.0101, 0.0163, 0.0297):
        worst = max(worst, abs(k_station(d) - k_station(d, fine)))
    breaks = list(np.arange(0, 17) * 0.0025) + [0.06, 0.09, 0.14, 0.215]
    one = Pieces(k_station, breaks, 22)
    peak_k = max(abs(k_station(d)) for d in np.linspace(0.004, 0.016, 25))
    table_error = max(abs(one(d) - k_station(d)) for d in (0.00031, 0.0037, 0.0088, 0.0114, 0.0212, 0.0333, 0.051, 0.12))
    quad_error = worst / peak_k
    print("quadrature", quad_error, "table", table_error / peak_k, flush=True)

    def k_sum(x):
        total = 0.0
        for s in range(STATIONS):
            d = x - s * PITCH
            total += (1 if s % 2 == 0 else -1) * math.copysign(1.0, d) * one(abs(d))
        return total

    strips = []
    for k in range(STATIONS - 1):
        middle = (k + 0.5) * PITCH - LEAD
        half = 0.5 * DWELL * PITCH
        strips.append((middle - half, middle + half, math.copysign(1.0, k_sum((k + 0.5) * PITCH))))
    start, release = strips[0][0] + BRUSH, strips[-1][1]
    path = Pieces(k_sum, np.linspace(-0.0025, 0.2, 82), 20)

    ohms = SOURCE_OHMS + LEAD_OHMS + SWITCH_OHMS + 2 * BRUSH_OHMS + COIL_OHMS
    normal = MASS * G + 2 * BRUSH_N
    slide, rest = MU * normal, MU_REST * normal
    drag = 0.5 * AIR * DRAG_AREA
    peak_i = peak_a = 0.0

    # At rest until |K i| = friction at rest.
    i0 = strips[0][2] * rest / abs(path(start))
    t = -(HENRIES / ohms) * math.log(1 - ohms * abs(i0) / VOLTS)
    y = np.array([start, 0.0, i0, 0.0, coil_heat_at_rest(t, ohms)])
    y[3] = VOLTS * charge_at_rest(t, ohms)

    def leg(t, y, volts, r, fed, edge, until_zero):
        def f(_, s):
            k = path(s[0])
            di = 0.0 if volts is None else (volts - r * s[2] - k * s[1]) / HENRIES
            return [s[1], (k * s[2] - slide - VISCOUS * s[1] - drag * s[1] * abs(s[1])) / MASS, di,
                    fed * VOLTS * s[2], COIL_OHMS * s[2] ** 2]

        def at_edge(_, s):
            return s[0] - edge
        at_edge.terminal, at_edge.direction = True, 1
        events = [at_edge]
        if until_zero:
            sign = math.copysign(1.0, y[2])

            def died(_, s):
                return sign * s[2]
            died.terminal, died.direction = True, -1
            events.append(died)
        sol = solve_ivp(f, (t, t + 1), y, method="DOP853", rtol=1e-12, atol=1e-14, events=events, dense_output=True)
        assert sol.status == 1, sol.message
        ts = np.linspace(t, sol.t[-1], 300)
        states = sol.sol(ts)
        a = max(abs(f(0, s)[1]) for s in states.T)
        return sol.t[-1], sol.y[:, -1].copy(), len(sol.t_events[0]) > 0, np.abs(states[2]).max(), a

    for j, (_, leave, sign) in enumerate(strips):
        t, y, _, top, acc = leg(t, y, sign * VOLTS, ohms, sign, leave, False)
        peak_i, peak_a = max(peak_i, top), max(peak_a, acc)
        if j + 1 == len(strips):
            break
        meet = strips[j + 1][0]
        t, y, reached, top, acc = leg(t, y, -math.copysign(CLAMP, y[2]), COIL_OHMS, 0.0, meet, True)
        peak_i, peak_a = max(peak_i, top), max(peak_a, acc)
        if not reached:
            y[2] = 0.0
            t, y, _, _, acc = leg(t, y, None, COIL_OHMS, 0.0, meet, False)
            peak_a = max(peak_a, acc)
    here = os.path.dirname(os.path.abspath(__file__))
    with open(os.path.join(here, "..", "launch-ten-stations.csv"), "w", encoding="utf-8") as out:
        out.write("# One launch over ten stations of facing blocks; K(x) by Gauss-Legendre quadrature over the winding, SciPy DOP853 at rtol 1e-12.\n")
        out.write(f"# Made by scripts/launch_ten_stations.py; K(x) agrees with itself to {max(quad_error, table_error / peak_k):.1e} of its peak under refinement; peaks sampled (1e-4). MIT, as this repository.\n")
        out.write("coil_ohms,henries,coil_kilograms,depth,half_axial,turns,start,release,station_peak,k_at_start,exit_speed,exit_time,exit_current,peak_current,peak_acceleration,drawn,coil_heat\n")
        out.write(",".join([repr(COIL_OHMS), repr(HENRIES), repr(COIL_KG), repr(DEPTH), repr(AXIAL), repr(TURNS)]
                           + [f"{v:.15g}" for v in (start, release, peak_k, path(start), y[1], t, y[2], peak_i, peak_a, y[3], y[4])]) + "\n")
    print(y[1], t, peak_i, path(0.005))


def charge_at_rest(t, ohms):
    """Integral of i = V/R (1 - exp(-R t/L))."""
    tau = HENRIES / ohms
    return VOLTS / ohms * (t - tau * (1 - math.exp(-t / tau)))


def coil_heat_at_rest(t, ohms):
    """R_coil times the integral of i^2 while the sled rests."""
    tau = HENRIES / ohms
    e = math.exp(-t / tau)
    return COIL_OHMS * (VOLTS / ohms) ** 2 * (t - 2 * tau * (1 - e) + 0.5 * tau * (1 - e * e))


if __name__ == "__main__":
    main()
