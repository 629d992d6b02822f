"""Axial force of a thick coil on a coaxial cylinder magnet by SciPy quadrature.

The magnet is a current sheet of J/mu0 on its side, so that the force on a circle of radius r at z is (J/mu0) (M(z - L/2) - M(z + L/2)) per
ampere, M the mutual inductance of two circles (J. C. Maxwell, Treatise, art. 701), averaged over the winding section.
Run: python thick_coil_force.py (writes thick-coil-force.csv beside this folder).
"""
import pathlib
from math import pi, sqrt
from scipy.constants import mu_0
from scipy.integrate import dblquad
from scipy.special import ellipe, ellipk

R, L, J = 9e-3, 10e-3, 1.0


def mutual(a, b, z):
    m = 4 * a * b / ((a + b) ** 2 + z * z)
    k = sqrt(m)
    return mu_0 * sqrt(a * b) * ((2 / k - k) * ellipk(m) - 2 / k * ellipe(m))


def force(inner, wall, length, turns, distance):
    value, error = dblquad(
        lambda z, r: mutual(r, R, z - L / 2) - mutual(r, R, z + L / 2),
        inner, inner + wall, distance - length / 2, distance + length / 2, epsabs=0, epsrel=1e-13)
    return turns * J / mu_0 * value / (wall * length), turns * J / mu_0 * error / (wall * length)


with open(pathlib.Path(__file__).resolve().parent.parent / "thick-coil-force.csv", "w") as out:
    out.write("# axial force, N at 1 A, of a coil on a coaxial cylinder magnet (radius 9 mm, length 10 mm, 1 T), by SciPy quadrature over the section\n")
    out.write("# made by scripts/thick_coil_force.py; 10 digits or more; lengths in mm, distance between centers; licence MIT, as the rest\n")
    out.write("inner,wall,length,turns,distance,force,error\n")
    for inner, wall, length, turns, distance in [
            (10, 1, 20, 400, 10), (10, 0.2, 20, 100, 10), (10, 5, 20, 100, 10), (10, 5, 20, 100, 3), (10, 5, 20, 100, 25), (11, 3, 8, 100, 6)]:
        value, error = force(inner * 1e-3, wall * 1e-3, length * 1e-3, turns, distance * 1e-3)
        out.write(f"{inner},{wall},{length},{turns},{distance},{value:.13e},{error:.1e}\n")
