"""Two coils with mutual inductance, each on its own brushes, on one source, by SciPy's DOP853 at rtol 1e-12 with located events.

Coil b is the distance D ahead of coil a; K(y) = K0 sin(pi y/p) with y = x for a and x + D for b. Strip k is touched from (k + 0.1) p to
(k + 0.9) p by a brush at y, by both brushes of a coil at once; it feeds forward in even k and backward in odd ones. Equations:

    La ia' + M ib' = sa u - aa - Ra ia - Ka v     (likewise b; a coil whose arcs have died has i = 0 and leaves the set)
    u = E - Rs (sa ia + sb ib)
    m v' = Ka ia + Kb ib

E = V, or at the current limit what makes sa ia + sb ib constant. An arc at each break: two contacts, each fall + field * gap, ends at i = 0 or
where the brush touches the next strip. Writes ../launch-two-coils.csv.
"""
import math
import os
import numpy as np
from scipy.integrate import solve_ivp

BASE = dict(volts=24.0, source_ohms=0.15, limit=0.0, ohms_a=1.0, ohms_b=1.3, henries_a=0.7e-3, henries_b=0.9e-3, mutual=0.25e-3, kilograms=0.09,
            k0=1.2, pitch=0.02, distance=0.031, cells=10, start_speed=0.5, arc_fall=13.0, arc_field=8000.0)
CASES = {"apart": {}, "against": dict(mutual=-0.3e-3), "limited": dict(limit=20.0), "flashes": dict(arc_fall=7.0, arc_field=300.0)}
X, V, A, B, DRAWN, COIL, OTHER, ARC = range(8)


def run(p):
    volts, rs, limit, pitch = p["volts"], p["source_ohms"], p["limit"], p["pitch"]
    ohms, ahead = (p["ohms_a"], p["ohms_b"]), (0.0, p["distance"])
    l = np.array([[p["henries_a"], p["mutual"]], [p["mutual"], p["henries_b"]]])
    on = [None, None]        # the strip touched
    side = [0, 0]
    arc = [None, None]       # (place of the edge, sign of the current)
    live = [False, False]
    supply = "volts"
    breaks = flashes = 0
    flashed = set()
    which = [0, 0]

    def strip(k, x):
        y = x + ahead[k]
        n = math.floor(y / pitch)
        return n if 0.1 - 1e-9 <= y / pitch - n < 0.9 - 1e-9 else None

    def solve(s):
        """slopes of the currents, E, total current, arc voltages"""
        i = s[A:B + 1]
        a = [0.0, 0.0]
        for k in range(2):
            if arc[k]:
                a[k] = arc[k][1] * 2 * (p["arc_fall"] + p["arc_field"] * (s[X] - arc[k][0]))
        force = [p["k0"] * math.sin(math.pi * (s[X] + ahead[k]) / pitch) for k in range(2)]
        sign = np.array([side[k] if live[k] else 0 for k in range(2)], float)
        total = float(sign @ i)
        rest = np.array([-a[k] - ohms[k] * i[k] - force[k] * s[V] for k in range(2)])
        members = [k for k in range(2) if live[k]]
        slopes = np.zeros(2)
        e = volts
        if members:
            inverse = np.linalg.inv(l[np.ix_(members, members)])
            if supply == "limit":
                sm = sign[members]
                u = -(sm @ inverse @ rest[members]) / (sm @ inverse @ sm)
                e = u + rs * total
            else:
                u = e - rs * total
            slopes[members] = inverse @ (rest[members] + sign[members] * u)
        return slopes, e, total, a, force

    def f(_, s):
        slopes, e, total, a, force = solve(s)
        i = s[A:B + 1]
        return [s[V], (force[0] * i[0] + force[1] * i[1]) / p["kilograms"], *slopes, e * total, ohms[0] * i[0] ** 2 + ohms[1] * i[1] ** 2,
                rs * total * total, a[0] * i[0] + a[1] * i[1]]

    def event(g, direction):
        def h(_, s):
            return g(s)
        h.terminal, h.direction = True, direction
        return h

    y = np.zeros(8)
    y[X], y[V] = 0.2 * pitch, p["start_speed"]
    end = p["cells"] * pitch
    marks = sorted(m for k in range(2) for n in range(p["cells"] + 3) for m in ((n + 0.1) * pitch - ahead[k], (n + 0.9) * pitch - ahead[k]) if y[X] < m < end) + [end]
    t = 0.0

    def settle(x, s):
        nonlocal breaks, supply
        for k in range(2):
            now = strip(k, x)
            if now is not None and on[k] is None:
                new = 1 if now % 2 == 0 else -1
                if arc[k] and new != side[k]:
                    flashed.add((k, which[k]))
                side[k], live[k], arc[k] = new, True, None
            elif now is None and on[k] is not None:
                assert abs(s[A + k]) > 0.01
                arc[k] = (x, math.copysign(1.0, s[A + k]))
                which[k] += 1
                breaks += 1
            on[k] = now
        decide(s)

    def decide(s):
        nonlocal supply
        if not limit:
            return
        supply = "volts"
        total = solve(s)[2]
        if abs(total - limit) < 1e-9 * limit:
            supply = "limit"
            e = solve(s)[1]
            assert e > 0
            if e > volts:
                supply = "volts"
        else:
            assert total < limit, "above the limit: beyond what this script solves"

    settle(y[X], y)
    while True:
        events = [event(lambda s: s[X] - marks[0], 1)]
        names = ["mark"]
        for k in range(2):
            if arc[k]:
                events.append(event(lambda s, k=k: arc[k][1] * s[A + k], -1))
                names.append(k)
        if limit:
            if supply == "volts":
                events.append(event(lambda s: solve(s)[2] - limit, 1))
                names.append("limit")
            else:
                events.append(event(lambda s: solve(s)[1] - volts, 1))
                names.append("volts")
                events.append(event(lambda s: solve(s)[1], -1))
                names.append("never")
        sol = solve_ivp(f, (t, t + 1), y, method="DOP853", rtol=1e-12, atol=1e-14, events=events, max_step=2e-3)
        assert sol.status == 1, sol.message
        t, y = sol.t[-1], sol.y[:, -1].copy()
        name = next(n for n, hits in zip(names, sol.t_events) if len(hits))
        if name == "mark":
            mark = marks.pop(0)
            if not marks:
                return t, y, breaks, len(flashed)
            settle(mark, y)
        elif name == "limit":
            supply = "limit"
        elif name == "volts":
            supply = "volts"
        elif name == "never":
            raise AssertionError("the supply would go below zero volts")
        else:
            y[A + name] = 0.0
            arc[name], live[name] = None, False
            decide(y)


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    lines = []
    for name, changes in CASES.items():
        p = {**BASE, **changes}
        t, y, breaks, flashes = run(p)
        magnetic = 0.5 * (p["henries_a"] * y[A] ** 2 + p["henries_b"] * y[B] ** 2) + p["mutual"] * y[A] * y[B]
        spent = y[COIL] + y[OTHER] + y[ARC] + magnetic + 0.5 * p["kilograms"] * (y[V] ** 2 - p["start_speed"] ** 2)
        print(name, y, breaks, flashes, f"residual {spent / y[DRAWN] - 1:.1e}", flush=True)
        lines.append(",".join([name] + [repr(v) for v in p.values()] + [str(breaks), str(flashes)] + [f"{q:.15g}" for q in (y[V], t, *y[A:])]))
    with open(os.path.join(here, "..", "launch-two-coils.csv"), "w", encoding="utf-8") as out:
        out.write("# Two coupled coils on one source, arcs at every break, one case at the current limit; SciPy DOP853, rtol 1e-12, events located by brentq.\n")
        out.write("# Made by scripts/launch_two_coils.py; figures good to about 1e-10. MIT, as this repository.\n")
        out.write(",".join(["case", *BASE, "breaks", "flashes", "exit_speed", "exit_time", "exit_current_a", "exit_current_b", "drawn", "coil_heat", "other_heat", "arc"]) + "\n")
        out.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
