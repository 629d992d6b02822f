"""Launches with the effects of power path, contacts, heat and braking, by SciPy's DOP853 at rtol 3e-14 with located events.

One coil of force constant K(x) = K0 sin(pi x/p) passes N cells. On each of two contact lines strip k is touched from
(k + 0.1) p + d to (k + 0.9) p + d (d = 0 on the upper line, "stagger" on the lower); the upper strip is plus in even cells and minus in
odd ones, the lower one the other way. Equations (Kirchhoff's laws and Newton's):

    L i' = w - R(T) i - K v          w: voltage across the coil
    j = i + (w - c)/Rp               j: current through the contacts; Rp and capacitor voltage c only with a suppressor; C c' = j - i
    w = s E - (s^2 Rs(x) + Rc(x)) j - a   connected; s = +1, -1, 0; a: arcs in series, each fall + field * gap, against j, and
                                          the drop of each brush that touches, against j too; j = 0 where less than that is offered
    Ct T' = i^2 R(T),  R(T) = R (1 + alpha T), T the rise
    m v' = K i - (dry + viscous v + drag v |v| + slope) - brake
    E = source voltage; or, at the current limit, what makes |j| equal to it

A contact that parts with more than the least arc current draws an arc that ends when j does, or where the brush meets a strip again, or
where the clamp's voltage is reached. The opened switch is one more arc, of no length. Below the least current, or without an arc, the current
moves to the clamp or the resistor. Rp and C: series RC; Rp alone: resistor. Contact resistance q/sqrt(o) + l/o for each brush, o the part
of it on the strip, held at 0.02 below that. Bars: 2 r y fed at the start, 2 r y (1 - y) fed at both ends, y the part of the way.
After the release (x = release) the sled goes on alone, over an eddy-current plate F = 2 Fp (v/vc)/(1 + (v/vc)^2), until it rests.

Heat and energies are states of their own. Writes ../launch-effects.csv.
"""
import math
import os
import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

# At 1e-12 the last arc of "all" was off by 5e-8: a step that spans too much passes its own estimate.
RTOL, ATOL = 3e-14, 1e-16
BASE = dict(volts=24.0, source_ohms=0.05, limit=0.0, ohms=1.0, henries=0.7e-3, kilograms=0.06, k0=1.2, pitch=0.02, cells=10,
            start_speed=0.5, brush=1e-3, stagger=0.0, bars_ohms=0.0, bars_feed="none", q_ohms=0.0, l_ohms=0.0,
            drop=0.0, arc_fall=0.0, arc_field=0.0, arc_least=0.5, clamp=0.0, parallel_ohms=0.0, farads=0.0, heat_capacity=0.0, alpha=0.00393,
            dry=0.0, viscous=0.0, drag=0.0, slope=0.0, opens=0.0, closes=0.0, release_part=1.0, sled_kilograms=0.0, dry_after=0.0,
            slope_after=0.0, brake_start=0.0, brake_length=0.0, brake_force=0.0, brake_speed=0.0)
CASES = {
    "bars-start": dict(bars_ohms=0.3, bars_feed="Start", clamp=40.0),
    "bars-both": dict(bars_ohms=0.6, bars_feed="Both", clamp=40.0),
    "arc-column": dict(arc_fall=14.0, arc_field=12000.0),
    "arc-staggered": dict(arc_fall=13.0, arc_field=9000.0, stagger=0.0007),
    "arc-resistor": dict(arc_fall=12.0, arc_field=5000.0, parallel_ohms=8.0),
    "series-rc": dict(parallel_ohms=15.0, farads=8e-6, opens=3e-3, closes=3.4e-3),
    "arc-clamp": dict(arc_fall=12.0, arc_field=20000.0, clamp=40.0, stagger=0.0004),
    "flash-over": dict(arc_fall=8.0, arc_field=500.0, stagger=0.0006),
    "warming": dict(heat_capacity=0.15, clamp=40.0),
    "overlap": dict(q_ohms=0.02, l_ohms=0.015, brush=2e-3, clamp=40.0),
    "drop": dict(drop=1.0, clamp=40.0),
    "drop-held": dict(drop=1.2, volts=4.0, source_ohms=0.0, start_speed=3.0, clamp=40.0, dry=0.05),
    "drop-arc": dict(drop=1.0, volts=8.0, start_speed=4.0, arc_fall=3.0, arc_field=1500.0, arc_least=0.05, stagger=0.0006, dry=0.1),
    "drop-resistor": dict(drop=1.2, volts=6.0, start_speed=3.5, parallel_ohms=8.0, arc_fall=1.0, arc_field=500.0, arc_least=0.1),
    "limit-resistor": dict(limit=9.0, parallel_ohms=40.0),
    "all": dict(limit=14.0, parallel_ohms=25.0, arc_fall=12.0, arc_field=6000.0, bars_ohms=0.3, bars_feed="Both", q_ohms=0.012, l_ohms=0.008,
                drop=0.8, brush=2e-3, stagger=0.0005, heat_capacity=0.4, dry=0.15, viscous=0.02, drag=2e-4, slope=0.1, opens=2e-3, closes=2.4e-3,
                release_part=0.97, sled_kilograms=0.04, dry_after=0.12, slope_after=0.1 * 0.04 / 0.06,
                brake_start=0.015, brake_length=0.6, brake_force=6.0, brake_speed=1.5),
}
# State: x, v, i, c, T, then energies.
X, V, I, C, T, DRAWN, COIL, OTHER, ARC, SUP, FRICTION, DRAG, BRAKE = range(13)
NAMES = ["drawn", "coil_heat", "other_heat", "arc", "suppressor", "friction", "drag_work", "brake"]


class Course:
    def __init__(self, p):
        self.__dict__.update(p)
        self.release = self.release_part * self.cells * self.pitch
        self.bars_end = 1.05 * self.cells * self.pitch
        self.touch = {"u": [], "l": []}
        marks = set()
        for line, shift in (("u", 0.0), ("l", self.stagger)):
            for k in range(self.cells):
                a, b = (k + 0.1) * self.pitch + shift, (k + 0.9) * self.pitch + shift
                rail = 0.5 if (k % 2 == 0) == (line == "u") else -0.5
                self.touch[line].append((a, b, rail))
                marks.update((a, b))
                if self.q_ohms + self.l_ohms > 0:
                    for o in (0.02, 1.0):
                        marks.update((a + o * self.brush, b - o * self.brush))
        marks.update((self.release, self.bars_end))
        if self.brake_force:
            marks.update((self.release + self.brake_start, self.release + self.brake_start + self.brake_length))
        self.marks = sorted(marks)
        self.arcs = {}          # 'u', 'l' -> (rail, edge); 's' -> the switch
        self.sign = 0.0
        self.flow = 0.0         # sense of the current through brushes with a drop
        self.mode = "open"      # open, fed, clamp, suppressed
        self.supply = "volts"   # volts, limit, zero
        self.closed = True
        self.on = {"u": None, "l": None}
        self.lost = 0.0
        self.released = False
        self.breaks = 0
        self.flashed = set()
        self.peak = 0.0
        self.turns = 0

    # What a brush lies on in the stretch that begins at x.
    def contact(self, line, x):
        for a, b, rail in self.touch[line]:
            if a - 1e-9 <= x < b - 1e-9:
                return (a, b, rail)
        return None

    def side(self, line):
        return self.on[line][2] if self.on[line] else self.arcs[line][0] if line in self.arcs else None

    def contact_ohms(self, x):
        total = 0.0
        if self.q_ohms + self.l_ohms > 0:
            for line in "ul":
                if self.on[line]:
                    a, b, _ = self.on[line]
                    o = max(0.02, min(x - a, b - x, self.brush) / self.brush)
                    total += self.q_ohms / math.sqrt(o) + self.l_ohms / o
        return total

    def source_path(self, x):
        y = min(1.0, max(0.0, x / self.bars_end))
        loop = 2 * self.bars_ohms * (y if self.bars_feed == "Start" else y * (1 - y))
        return self.source_ohms + (loop if self.bars_feed != "none" else 0.0)

    def arc_volts(self, x):
        total = sum(self.arc_fall + self.arc_field * abs(x - self.arcs[m][1]) for m in "ul" if m in self.arcs)
        return self.sign * (total + (self.arc_fall if "s" in self.arcs else 0.0))

    def drops(self):
        return self.drop * sum(1 for line in "ul" if self.on[line])

    def offered(self, y):
        """What would drive a current through brushes that carry none."""
        s = (self.side("u") - self.side("l")) if self.closed else 0.0
        coil = y[C] - y[I] * self.parallel_ohms if self.parallel_ohms else self.k0 * math.sin(math.pi * y[X] / self.pitch) * y[V]
        return s * self.volts - coil

    def choose_flow(self, y):
        if self.arcs:
            self.flow = self.sign
        elif self.mode == "fed" and self.drop:
            if not self.parallel_ohms and y[I] != 0:
                self.flow = math.copysign(1, y[I])
            else:
                o = self.offered(y)
                self.flow = math.copysign(1, o) if abs(o) > self.drops() * (1 + 1e-12) else 0.0

    def held(self):
        return self.mode == "fed" and self.drop > 0 and self.flow == 0 and not self.arcs

    def network(self, y):
        """(w, j, E, I, contact ohms, source ohms, arc volts)"""
        x, i, c = y[X], y[I], y[C]
        g = 1 / self.parallel_ohms if self.parallel_ohms else 0.0
        if self.mode == "open":
            return None
        if self.mode == "clamp":
            return (-math.copysign(self.clamp, self.sign), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
        if self.held() and not self.parallel_ohms:
            return None
        if self.mode == "suppressed" or self.held():
            return (c - i * self.parallel_ohms, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
        s = self.side("u") - self.side("l")
        rs, rc, a = self.source_path(x), self.contact_ohms(x), self.arc_volts(x) + self.flow * self.drops()
        if self.supply == "limit":
            j = s * self.limit
            w = c + (j - i) / g
            e = s * (w + rc * j + a) + rs * self.limit
            return (w, j, e, self.limit, rc, rs, a)
        e = self.volts if self.supply == "volts" else 0.0
        j = (i + g * (s * e - a - c)) / (1 + g * (s * s * rs + rc))
        w = s * e - (s * s * rs + rc) * j - a
        return (w, j, e, s * j, rc, rs, a)

    def slope_of(self, t, y):
        d = np.zeros(13)
        x, v, i = y[X], y[V], y[I]
        k = self.k0 * math.sin(math.pi * x / self.pitch)
        r = self.ohms * (1 + self.alpha * y[T])
        net = self.network(y)
        if net:
            w, j, e, total, rc, rs, a = net
            d[I] = (w - r * i - k * v) / self.henries
            d[DRAWN] = e * total
            arc = self.arc_volts(x) if self.arcs else 0.0
            d[OTHER] = rs * total * total + rc * j * j + (a - arc) * j
            d[ARC] = arc * j
            d[SUP] = w * (j - i) if self.parallel_ohms or self.mode == "clamp" else 0.0
            if self.farads:
                d[C] = (j - i) / self.farads
        d[COIL] = r * i * i
        if self.heat_capacity:
            d[T] = r * i * i / self.heat_capacity
        dry, slope, mass = (self.dry_after, self.slope_after, self.sled_kilograms) if self.released else (self.dry, self.slope, self.kilograms)
        brake = 0.0
        if self.released and self.brake_force and self.braked:
            q = v / self.brake_speed
            brake = 2 * self.brake_force * q / (1 + q * q)
        rub = dry + self.viscous * v
        air = self.drag * v * abs(v)
        d[X], d[V] = v, (k * i - rub - air - slope - brake) / mass
        d[FRICTION], d[DRAG], d[BRAKE] = rub * v, air * v, brake * v
        return d

    def choose_supply(self, y):
        self.supply = "volts"
        if self.limit and self.mode == "fed" and self.side("u") != self.side("l"):
            if self.network(y)[3] > self.limit:
                self.supply = "limit"
                assert 0 <= self.network(y)[2] <= self.volts

    def part(self, y, where, j, s):
        """The contacts 'where', or the switch, part under the current j, on the side s of the source."""
        if self.arcs:
            self.arcs.update(where)
            return
        if self.drop and self.flow == 0:
            self.leave(y)
            return
        self.breaks += 1
        if self.arc_fall and abs(j) > self.arc_least:
            # What would lie across the contacts if the coil's current left them at once.
            left = y[C] - y[I] * self.parallel_ohms if self.parallel_ohms else -math.copysign(self.clamp or math.inf, j)
            if math.copysign(1, j) * (s * self.volts - left) - self.drops() >= len(where) * self.arc_fall:
                self.arcs, self.sign = dict(where), math.copysign(1, j)
                return
        self.leave(y)

    def leave(self, y):
        self.arcs = {}
        if self.parallel_ohms:
            self.mode = "suppressed"
        elif self.clamp and y[I] != 0:
            self.mode, self.sign = "clamp", math.copysign(1, y[I])
        else:
            self.lost += 0.5 * self.henries * y[I] ** 2
            y[I] = 0.0
            self.mode = "open"

    def settle(self, x, y):
        """Contacts after a mark or a movement of the switch."""
        before = self.network(y)
        j = before[1] if before else 0.0
        s = self.side("u") - self.side("l") if self.mode == "fed" else 0.0
        gone = {}
        for line in "ul":
            now = self.contact(line, x)
            if self.on[line] and not now:
                gone[line] = (self.on[line][2], x)
            if now and line in self.arcs:
                if now[2] != self.arcs.pop(line)[0]:
                    self.flashed.add(self.breaks)
            self.on[line] = now
        if self.mode == "fed":
            if gone:
                self.part(y, gone, j, s)
            elif not self.closed and "s" not in self.arcs:
                self.part(y, {"s": None}, j, s)
            elif self.closed and "s" in self.arcs:
                del self.arcs["s"]
        elif self.on["u"] and self.on["l"] and self.closed:
            self.mode = "fed"
        self.choose_flow(y)
        self.choose_supply(y)

    def events(self, mark, y):
        def at_mark(_, s):
            return s[X] - mark
        at_mark.direction = 1
        out = [("mark", at_mark)]
        if self.mode == "clamp":
            def died(_, s):
                return self.sign * s[I]
            died.direction = -1
            out.append(("clamp-died", died))
        if self.mode == "open" and self.clamp:
            def bounded(_, s):
                return abs(self.k0 * s[V]) - self.clamp
            bounded.direction = 1
            out.append(("never", bounded))
        if self.arcs:
            def ended(_, s):
                return self.sign * self.network(s)[1]
            ended.direction = -1
            out.append(("arc-died", ended))
            if self.clamp:
                def taken(_, s):
                    return -self.sign * self.network(s)[0] - self.clamp
                taken.direction = 1
                out.append(("taken", taken))
        if self.drop and self.mode == "fed" and not self.arcs:
            def turned(_, s):
                return self.drops() - abs(self.offered(s)) if self.flow == 0 else self.flow * (self.network(s)[1] if self.parallel_ohms else s[I])
            turned.direction = -1
            out.append(("flow", turned))
        if self.limit and self.mode == "fed":
            if self.supply == "volts":
                def reached(_, s):
                    return self.network(s)[3] - self.limit
                reached.direction = 1
                out.append(("limit", reached))
            else:
                def eased(_, s):
                    return self.network(s)[2] - self.volts
                eased.direction = 1

                def emptied(_, s):
                    return self.network(s)[2]
                emptied.direction = -1
                out += [("volts", eased), ("never", emptied)]
        if self.released:
            def rest(_, s):
                return s[V]
            rest.direction = -1
            out.append(("rest", rest))
        for _, e in out:
            e.terminal = True
        return out

    def run(self):
        y = np.zeros(13)
        y[X], y[V] = 0.2 * self.pitch, self.start_speed
        t = 0.0
        self.braked = False
        clock = [when for when in (self.opens, self.closes) if when > 0]
        self.settle(y[X], y)
        pending = [m for m in self.marks if m > y[X] + 1e-12]
        exit_state = None
        while True:
            mark = pending[0] if pending else 1e9
            events = self.events(mark, y)
            until = clock[0] if clock else t + 5.0
            sol = solve_ivp(self.slope_of, (t, until), y, method="DOP853", rtol=RTOL, atol=ATOL, events=[e for _, e in events], dense_output=True, max_step=2e-3)
            assert sol.status >= 0, sol.message
            ts = np.linspace(t, sol.t[-1], 200)
            currents = np.abs(sol.sol(ts)[I])
            if not self.released:
                b = int(currents.argmax())
                if 0 < b < 199 and currents[b] > self.peak:
                    fine = minimize_scalar(lambda q: -abs(sol.sol(q)[I]), bounds=(ts[b - 1], ts[b + 1]), method="bounded", options={"xatol": 1e-12})
                    self.peak = max(self.peak, -fine.fun)
                self.peak = max(self.peak, currents.max())
            t, y = sol.t[-1], sol.y[:, -1].copy()
            if sol.status == 0:
                assert clock, "time ran out"
                clock.pop(0)
                self.closed = not self.closed
                self.settle(y[X], y)
                continue
            name = next(n for (n, _), hits in zip(events, sol.t_events) if len(hits))
            if name == "never":
                raise AssertionError("a case beyond what this script solves")
            if name == "rest":
                return exit_state, (t, y, self.lost)
            if name == "mark":
                pending.pop(0)
                if mark == self.release and not self.released:
                    exit_state = (t, y.copy(), self.lost)
                    if not self.sled_kilograms:
                        return exit_state, exit_state
                    self.released = True
                if self.released:
                    self.braked = self.release + self.brake_start <= mark + 1e-12 < self.release + self.brake_start + self.brake_length
                    assert mark < self.release + self.brake_start + self.brake_length, "left the plate"
                self.settle(mark, y)
            elif name == "clamp-died":
                y[I] = 0.0
                self.mode = "open"
            elif name == "arc-died":
                self.arcs = {}
                if self.parallel_ohms:
                    self.mode = "suppressed"
                else:
                    y[I] = 0.0
                    self.mode = "open"
                self.supply = "volts"
            elif name == "flow":
                if self.flow == 0:
                    self.flow = math.copysign(1, self.offered(y))
                else:
                    if not self.parallel_ohms:
                        y[I] = 0.0
                    self.flow = 0.0
                    self.choose_flow(y)
                self.turns += 1
            elif name == "taken":
                self.arcs = {}
                self.mode = "clamp"
            elif name == "limit":
                self.supply = "limit"
            elif name == "volts":
                self.supply = "volts"


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    lines = []
    for name, changes in CASES.items():
        p = {**BASE, **changes}
        course = Course(p)
        (t, y, lost), (t_end, y_end, lost_end) = course.run()
        magnetic = 0.5 * p["henries"] * y[I] ** 2
        spent = sum(y[DRAWN + 1:]) + lost + magnetic + 0.5 * p["kilograms"] * (y[V] ** 2 - p["start_speed"] ** 2) + p["slope"] * (y[X] - 0.2 * p["pitch"])
        print(f"{name}: v {y[V]:.12g} t {t:.12g} i {y[I]:.6g} peak {course.peak:.6g} breaks {course.breaks} flashes {len(course.flashed)} turns {course.turns} rise {y[T]:.5g} residual {spent / y[DRAWN] - 1:.2e}",
              {n: float(f"{q:.5g}") for n, q in zip(NAMES, y[DRAWN:])}, f"lost {lost:.3g} stop {y_end[X]:.9g} at {t_end:.6g}", flush=True)
        values = [course.breaks, len(course.flashed), y[V], t, y[I], course.peak, y[T], *y[DRAWN:], lost, y_end[X], t_end, y_end[ARC], y_end[SUP], y_end[BRAKE]]
        lines.append(",".join([name] + [v if isinstance(v, str) else repr(v) for v in p.values()] + [f"{q:.15g}" for q in values]))
    with open(os.path.join(here, "..", "launch-effects.csv"), "w", encoding="utf-8") as out:
        out.write("# Launches with bars, arcs, suppressors, warming, overlap, current limit, bounce and braking; SciPy DOP853, rtol 3e-14, events located by brentq.\n")
        out.write("# Made by scripts/launch_effects.py; figures good to about 1e-10. Zero: effect absent. MIT, as this repository.\n")
        out.write(",".join(["case", *BASE, "breaks", "flashes", "exit_speed", "exit_time", "exit_current", "peak_current", "rise", *NAMES, "lost",
                            "stop", "stop_time", "arc_at_stop", "suppressor_at_stop", "brake_at_stop"]) + "\n")
        out.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
