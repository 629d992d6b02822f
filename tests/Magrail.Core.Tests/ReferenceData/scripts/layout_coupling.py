"""Force per ampere of coils in other layouts by brute quadrature of dl x B over the winding (NumPy).

Cylinders magnetized along their axis are taken as current sheets on their walls, summed around by the trapezoidal rule and along in closed form; blocks as
charged end faces, summed by Gauss-Legendre over the faces. Neither an elliptic integral nor an integrated form is used. The winding is integrated by
Gauss-Legendre over path, depth and axial position; nodes are changed until nothing else changes.
Run: python layout_coupling.py (writes layout-coupling.csv beside this folder).
"""
import pathlib
import numpy as np

HERE = pathlib.Path(__file__).resolve().parent.parent
GL = {n: np.polynomial.legendre.leggauss(n) for n in (8, 10, 12, 14, 16, 18, 20, 24, 28, 32, 40)}


def sheet(p, radius, half, n):
    """B (along the cylinder's axis first two across: u, v, w) of a current sheet of 1 T on a cylinder of radius and half length."""
    psi = 2 * np.pi * (np.arange(n) + 0.5) / n
    out = np.zeros_like(p)
    for s in psi:
        c, t = np.cos(s), np.sin(s)
        du, dv = p[0] - radius * c, p[1] - radius * t
        q = du * du + dv * dv
        # Integrals over the source's height of 1/r^3 and of (w - w')/r^3.
        up, low = p[2] + half, p[2] - half
        ru, rl = np.sqrt(q + up * up), np.sqrt(q + low * low)
        plain = up / (q * ru) - low / (q * rl)
        moment = 1 / rl - 1 / ru
        # Current along (-t, c, 0): cross with (du, dv, w - w').
        out[0] += c * moment
        out[1] += t * moment
        out[2] += (-t * dv - c * du) * plain
    return out * radius * (2 * np.pi / n) / (4 * np.pi)


def cylinder(p, body, n=360):
    """B at points (3, N) of a cylinder along the axis named, magnetized 1 T along it."""
    order = {"y": (2, 0, 1), "x": (1, 2, 0)}[body["axis"]]
    local = np.stack([p[k] - body["at"][k] for k in order])
    b = sheet(local, body["outer"], body["half"], n)
    if body["inner"] > 0:
        b = b - sheet(local, body["inner"], body["half"], n)
    out = np.empty_like(p)
    for i, k in enumerate(order):
        out[k] = b[i]
    return out * body["j"]


def block(p, body, n=32):
    """B of a block by the charges of its two pole faces; turned about the line along x."""
    c, s = np.cos(body["roll"]), np.sin(body["roll"])
    d = np.stack([p[k] - body["at"][k] for k in range(3)])
    own = np.stack([d[0], c * d[1] + s * d[2], c * d[2] - s * d[1]])
    h = body["size"]
    m = {"x": 0, "y": 1, "z": 2}[body["axis"]]
    a, b = [k for k in range(3) if k != m]
    t, w = GL[n]
    out = np.zeros_like(p)
    for sign in (1.0, -1.0):
        dm = own[m] - sign * h[m]
        for i in range(n):
            da = own[a] - h[a] * t[i]
            for j in range(n):
                db = own[b] - h[b] * t[j]
                f = sign * w[i] * w[j] * h[a] * h[b] / (da * da + db * db + dm * dm) ** 1.5
                out[m] += f * dm
                out[a] += f * da
                out[b] += f * db
    out *= body["j"] / (4 * np.pi)
    return np.stack([out[0], c * out[1] - s * out[2], c * out[2] + s * out[1]])


def winding(coil, nd, na, npath, pieces):
    """Places (3, N) and elements dl (3, N) of one turn, averaged over the section."""
    hw, hh, corner, d0, d1, y0, y1, along = coil
    t, w = GL[nd]
    ta, wa = GL[na]
    tp, wp = GL[npath]
    places, lengths = [], []
    for s, ws in zip(0.5 * (d0 + d1) + 0.5 * (d1 - d0) * t, 0.5 * w):
        r = corner + s
        outline = []
        for p in range(pieces):
            u = (2 * p + 1 + tp) / pieces - 1  # -1 .. 1
            for side in (-1, 1):
                leg = hh - corner
                if leg > 0:
                    outline.append((np.full_like(u, side * (hw + s)), leg * u, 0 * u, -side * leg * wp / pieces))
                leg = hw - corner
                if leg > 0:
                    outline.append((leg * u, np.full_like(u, side * (hh + s)), side * leg * wp / pieces, 0 * u))
                for up in (-1, 1):
                    phi = 0.25 * np.pi * (1 + u)
                    dphi = 0.25 * np.pi * wp / pieces
                    outline.append((side * (hw - corner + r * np.cos(phi)), up * (hh - corner + r * np.sin(phi)),
                                    up * r * np.sin(phi) * dphi, -side * r * np.cos(phi) * dphi))
        x, z, dx, dz = (np.concatenate(c) for c in zip(*outline))
        for y, wy in zip(0.5 * (y0 + y1) + 0.5 * (y1 - y0) * ta, 0.5 * wa):
            share = ws * wy
            if along:  # turned by a quarter about z: own y lies along x, own x along -y
                places.append(np.stack([np.full_like(x, y), -x, z]))
                lengths.append(share * np.stack([0 * x, -dx, dz]))
            else:
                places.append(np.stack([x, np.full_like(x, y), z]))
                lengths.append(share * np.stack([dx, 0 * x, dz]))
    return np.concatenate(places, axis=1), np.concatenate(lengths, axis=1)


def force(coil, bodies, shift, nodes):
    p, dl = winding(coil, *nodes)
    p = p + np.array(shift)[:, None]
    b = np.zeros_like(p)
    for body in bodies:
        b += cylinder(p, body) if "outer" in body else block(p, body)
    return np.sum(np.cross(dl, b, axis=0), axis=1)


def disc(y, outer, half, inner=0.0, x=0.0, z=0.0, j=1.0, axis="y"):
    return dict(axis=axis, at=(x, y, z), outer=outer, inner=inner, half=half, j=j)


FLAT = (6.0, 9.0, 3.0, 0.0, 4.0, -3.0, 3.0, False)
ROUND_ALONG = (8.0, 8.0, 8.0, 0.0, 3.0, -5.0, 5.0, True)
RECT_ALONG = (7.0, 9.0, 2.0, 0.0, 2.0, -5.0, 5.0, True)
SIX = [dict(axis="x", size=(6.0, 3.0, 5.0), at=(0.0, 18.0 * np.cos(np.pi * k / 3), 18.0 * np.sin(np.pi * k / 3)), roll=np.pi * k / 3, j=1.0)
       for k in range(6)]
PAIR = [dict(axis="y", size=(6.0, 3.0, 10.0), at=(0.0, s * 9.0, 0.0), roll=0.0, j=1.0) for s in (-1, 1)]
SIDEWAYS = [dict(axis="x", size=(5.0, 3.0, 8.0), at=(1.0, 9.0, 2.0), roll=0.0, j=1.0)]
UPWARD = [dict(axis="z", size=(5.0, 3.0, 8.0), at=(-1.0, -9.0, 1.0), roll=0.0, j=1.0)]

CASES = {
    # name: coil, bodies, displacements, offset of the coil across and up, nodes (depth, axial, path, pieces)
    "disc-pair": (FLAT, [disc(-9, 10, 3), disc(9, 10, 3)], (1.0, 4.5, 8.25, 13.0, 22.0), (0, 0), (16, 12, 24, 2)),
    "disc-pair-off": (FLAT, [disc(-9, 10, 3), disc(9, 10, 3)], (4.5, 13.0, -8.25), (0.75, 1.5), (18, 14, 28, 2)),
    "ring-over-flat": (FLAT, [disc(9, 12, 3, 5.0)], (2.0, 8.0, 15.0), (0, 0), (16, 12, 24, 2)),
    "pair-off": (FLAT, PAIR, (3.0, 8.0, -14.0), (0.75, 1.5), (14, 12, 20, 2)),
    "magnetized-along": (FLAT, SIDEWAYS, (-9.0, 0.0, 6.0), (0, 0), (14, 12, 20, 2)),
    "ring-coaxial": (ROUND_ALONG, [disc(0, 20, 5, 14.0, axis="x")], (2.0, 6.0, 9.5, 17.0), (0, 0), (12, 16, 8, 2)),
    "ring-coaxial-off": (ROUND_ALONG, [disc(0, 20, 5, 14.0, axis="x")], (6.0, -9.5), (1.0, -0.5), (16, 24, 28, 2)),
    "ring-coaxial-rect": (RECT_ALONG, [disc(0, 20, 5, 14.5, axis="x")], (2.0, 8.0), (0, 0), (14, 24, 32, 3)),
    "six-blocks-round": (ROUND_ALONG, SIX, (3.0, 7.5), (0, 0), (10, 14, 16, 3)),
    "six-blocks-rect": (RECT_ALONG, SIX, (3.0, 7.5), (0, 0), (8, 14, 14, 3)),
    "six-blocks-off": (ROUND_ALONG, SIX, (3.0, -7.5), (1.0, -0.5), (10, 14, 16, 3)),
    "ring-over-flat-off": (FLAT, [disc(9, 12, 3, 5.0)], (2.0, -8.0), (0.75, 1.5), (18, 14, 28, 2)),
    "magnetized-up-off": (FLAT, UPWARD, (-9.0, 1.0, 6.0), (0.75, 1.5), (14, 12, 20, 2)),
}


def main():
    lines = []
    for name, (coil, bodies, places, off, nodes) in CASES.items():
        for d in places:
            k = force(coil, bodies, (d, *off), nodes)
            text = ";".join(
                " ".join(["ring", b["axis"], *(repr(float(v)) for v in (*b["at"], b["outer"], b["inner"], b["half"], b["j"]))]) if "outer" in b
                else " ".join(["block", b["axis"], *(repr(float(v)) for v in (*b["at"], *b["size"], b["roll"], b["j"]))])
                for b in bodies)
            print(name, d, k, flush=True)
            lines.append(",".join([name, *(repr(float(v)) for v in coil[:7]), str(int(coil[7])), text, *(repr(float(v)) for v in (d, *off)),
                                   *(f"{v:.15e}" for v in k)]))
        fewer = tuple({8: 8, 10: 8, 12: 10, 14: 12, 16: 14, 18: 16, 20: 16, 24: 20, 28: 24, 32: 28}[n] if i < 3 else n for i, n in enumerate(nodes))
        if not name.startswith("six"):
            print("   change with fewer nodes", np.max(np.abs(force(coil, bodies, (places[-1], *off), fewer) - k)), flush=True)
    (HERE / "layout-coupling.csv").write_text(
        "# force per ampere (kx, ky, kz in mm per turn and per tesla) of coils in several layouts, by NumPy quadrature of dl x B over the winding\n"
        "# made by scripts/layout_coupling.py; error seen on changing the nodes below 1e-10; lengths in mm, angles in rad; licence MIT, as the rest\n"
        "# bodies: ring axis x y z outer inner half j; block magnetization x y z half-x half-y half-z roll j. along = 1: the coil's axis lies along the track\n"
        "name,hw,hh,corner,d0,d1,y0,y1,along,bodies,d,across,up,kx,ky,kz\n" + "\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
