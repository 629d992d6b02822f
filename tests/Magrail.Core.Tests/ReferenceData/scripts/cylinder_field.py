"""mu0 H of discs and rings by brute quadrature of their surface charges (SciPy), magnetized along the axis and across it.

Lengths in mm, cylinder axis w, polarization 1 T. Along the axis: charges +/-1 on the end faces. Across it (along u): cos(phi) on the outer side,
-cos(phi) on the wall of the bore. No elliptic integral is used. Run: python cylinder_field.py (writes cylinder-field.csv beside this folder).
"""
import pathlib
import numpy as np
from scipy.integrate import quad

HERE = pathlib.Path(__file__).resolve().parent.parent


def plane(f, a0, a1, b0, b1, breaks_a, breaks_b):
    """Nested adaptive quadrature with break points where the integrand peaks."""
    def inner(a):
        pts = sorted({b0, b1, *[min(max(b, b0), b1) for b in breaks_b]})
        return sum(quad(f, lo, hi, args=(a,), epsabs=1e-13, epsrel=1e-12, limit=200)[0] for lo, hi in zip(pts, pts[1:]) if hi > lo)
    pts = sorted({a0, a1, *[min(max(a, a0), a1) for a in breaks_a]})
    return sum(quad(inner, lo, hi, epsabs=1e-12, epsrel=1e-11, limit=200)[0] for lo, hi in zip(pts, pts[1:]) if hi > lo)


def axial(p, inner, outer, half, axis):
    rho, phi = np.hypot(p[0], p[1]), np.arctan2(p[1], p[0])
    total = 0.0
    for sign, face in ((1.0, half), (-1.0, -half)):
        w = p[2] - face

        def f(psi, s):
            d = (p[0] - s * np.cos(phi + psi), p[1] - s * np.sin(phi + psi), w)
            return s * d[axis] / (d[0] ** 2 + d[1] ** 2 + d[2] ** 2) ** 1.5
        total += sign * plane(f, inner, outer, -np.pi, np.pi, [rho], [0.0])
    return total / (4 * np.pi)


def diametral(p, inner, outer, half, axis):
    phi = np.arctan2(p[1], p[0])
    total = 0.0
    for sign, radius in ((1.0, outer), (-1.0, inner)):
        if radius == 0:
            continue

        def f(psi, h):
            d = (p[0] - radius * np.cos(phi + psi), p[1] - radius * np.sin(phi + psi), p[2] - h)
            return np.cos(phi + psi) * radius * d[axis] / (d[0] ** 2 + d[1] ** 2 + d[2] ** 2) ** 1.5
        total += sign * plane(f, -half, half, -np.pi, np.pi, [p[2]], [0.0])
    return total / (4 * np.pi)


def main():
    rng = np.random.default_rng(42)
    lines = []
    for name, inner, outer, half in (("disc", 0.0, 10.0, 3.0), ("ring", 6.0, 11.0, 4.0)):
        count = 0
        while count < 38:
            rho, phi, w = rng.uniform(0, 2 * outer), rng.uniform(-np.pi, np.pi), rng.uniform(-3, 3) * half
            if count < 3:
                rho = (0.0, 0.3, 1.1)[count]
            if count >= 26:  # twelve more in the magnet
                rho, w = rng.uniform(inner, outer), rng.uniform(-1, 1) * half
            p = [float(np.round(x * 64) / 64) for x in (rho * np.cos(phi), rho * np.sin(phi), w)]
            rho = np.hypot(p[0], p[1])
            clear = 0.35
            on_faces = abs(abs(p[2]) - half) < clear and inner - clear < rho < outer + clear
            on_sides = min(abs(rho - outer), abs(rho - inner) if inner else 9) < clear and abs(p[2]) < half + clear
            if on_faces or on_sides:
                continue
            inside = inner < rho < outer and abs(p[2]) < half
            along = [axial(p, inner, outer, half, k) for k in range(3)]
            across = [diametral(p, inner, outer, half, k) for k in range(3)]
            lines.append(",".join([name, repr(inner), repr(outer), repr(half), *map(repr, p), str(int(inside)),
                                   *(f"{float(x):.16e}" for x in along + across)]))
            count += 1
    (HERE / "cylinder-field.csv").write_text(
        "# mu0 H of a disc (diameter 20, length 6 mm) and a ring (22 outside, 12 bore, length 8 mm), polarization 1 T, by SciPy quadrature of the surface charges\n"
        "# made by scripts/cylinder_field.py; absolute error about 1e-12 T; lengths in mm from the middle, axis w, fields in T; licence MIT, as the rest\n"
        "# inside = 1: the point lies in the magnet, where B = mu0 H + 1 T; a: magnetized along the axis w, d: across it, along u\n"
        "name,inner,outer,half,u,v,w,inside,au,av,aw,du,dv,dw\n" + "\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
