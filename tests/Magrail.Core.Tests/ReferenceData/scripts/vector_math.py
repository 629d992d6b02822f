"""Writes vector-math.csv: logarithms, exponentials, sines (also of pi x), cosines and angles to 30 digits, by mpmath's own functions at 60 digits.

Run: python vector_math.py   (mpmath 1.2 or later; seconds)
"""

import math
import pathlib
import random

import mpmath as mp

mp.mp.dps = 60
HERE = pathlib.Path(__file__).resolve().parent.parent


def text(x):
    return mp.nstr(x, 30, strip_zeros=False, min_fixed=-5, max_fixed=5)


def main():
    rng = random.Random(2026)
    rows = []

    root = math.sqrt(0.5)
    logs = [1.0, 2.0, 0.5, 10.0, root, math.nextafter(root, 0), math.nextafter(root, 1), math.sqrt(2), math.nextafter(math.sqrt(2), 2),
            math.nextafter(1.0, 0), math.nextafter(1.0, 2), 1 - 1e-9, 1 + 1e-9, 2.2250738585072014e-308, 1.7976931348623157e308, 1e-300, 1e300]
    logs += [rng.uniform(0.5, 2.5) for _ in range(120)] + [10 ** rng.uniform(-300, 300) for _ in range(60)]
    rows += [("log", x, 0.0, mp.log(mp.mpf(x))) for x in logs]

    exps = [0.0, 1.0, -1.0, 1e-300, -1e-20, math.log(2) / 2, math.nextafter(math.log(2) / 2, 1), 700.0, -700.0]
    exps += [rng.uniform(-1, 1) for _ in range(80)] + [rng.uniform(-20, 20) for _ in range(80)] + [rng.uniform(-700, 700) for _ in range(40)]
    rows += [("exp", x, 0.0, mp.exp(mp.mpf(x))) for x in exps]

    angles = [0.0, math.pi / 2, math.pi / 4, math.nextafter(math.pi / 2, 0), 1e-300, 1e-9, 1.0, 0.5]
    angles += [rng.uniform(0, math.pi / 2) for _ in range(120)]
    rows += [("sin", x, 0.0, mp.sin(mp.mpf(x))) for x in angles] + [("cos", x, 0.0, mp.cos(mp.mpf(x))) for x in angles]

    points = [(0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0), (1.0, 1.0), (-1.0, -1.0), (1e-150, 1e150), (1e150, 1e-150), (1e-150, -1e150),
              (math.sqrt(2) - 1, 1.0), (1.0, math.sqrt(2) - 1), (-0.41421356237309503, 1.0), (0.41421356237309509, -1.0)]
    points += [(rng.uniform(-1, 1), rng.uniform(-1, 1)) for _ in range(120)]
    points += [(10 ** rng.uniform(-140, 140), 10 ** rng.uniform(-140, 140) * rng.choice([-1, 1])) for _ in range(40)]
    rows += [("atan2", y, x, mp.atan2(mp.mpf(y), mp.mpf(x))) for y, x in points]

    halves = [0.0, 0.5, -0.5, 1.0, 1.5, -3.5, 0.25, 1e-300, 1e-9, math.nextafter(0.5, 0), math.nextafter(0.5, 1), 1e9 + 0.25]
    halves += [rng.uniform(-1, 1) for _ in range(100)] + [rng.uniform(-1000, 1000) for _ in range(60)]
    rows += [("sinpi", x, 0.0, mp.sinpi(mp.mpf(x))) for x in halves]

    with open(HERE / "vector-math.csv", "w", newline="\n") as file:
        file.write("# source: ln x, e^x, sin x, cos x, sin(pi x) as sinpi, and atan2: the angle of the point that lies at second to the right and x up; x and second are doubles that read back exactly\n")
        file.write("# made by: scripts/vector_math.py (mpmath's own functions at 60 digits)\n")
        file.write("# digits: 30\n")
        file.write("# licence: MIT, made for this library\n")
        file.write("function,x,second,value\n")
        for name, x, second, value in rows:
            file.write(f"{name},{x!r},{second!r},{text(value)}\n")


main()
