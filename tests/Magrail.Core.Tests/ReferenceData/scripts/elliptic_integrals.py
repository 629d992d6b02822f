"""Writes elliptic-complete.csv and elliptic-cel.csv: complete elliptic integrals to 30 digits.

Method (not the arithmetic-geometric mean and not a Landen transformation): with tan(phi) = exp(u),

    cel(kc, p, a, b) = integral over all u of (a + b w) e^u / ((1 + p w) sqrt((1 + w) (1 + kc^2 w))),  w = e^(2u),

is integrated by the trapezoidal rule, which converges exponentially for a function analytic in a strip. For p < 0 the
pole lies at u0 = -ln(-p)/2; the rule with points u0 + (n + 1/2) h gives the Cauchy principal value with the same convergence.
K = cel(kc, 1, 1, 1), E = cel(kc, 1, 1, kc^2). K and E are compared with mpmath's own ellipk and ellipe wherever
1 - m can be written at the working precision, and a second step width must agree.

Run: python elliptic_integrals.py   (mpmath 1.2 or later; about a minute and a half)
"""

import pathlib
import random

import mpmath as mp

mp.mp.dps = 60
DIGITS = 30
HERE = pathlib.Path(__file__).resolve().parent.parent


def parts(kc, p, h):
    """The integrals of the cos^2 part and of the sin^2 part: cel(kc, p, 1, 0) and cel(kc, p, 0, 1)."""
    kc, p = abs(mp.mpf(kc)), mp.mpf(p)
    pole = -mp.log(abs(p)) / 2
    knees = [mp.mpf(0), pole, -mp.log(kc)]
    margin = mp.mp.dps * mp.log(10)
    low, high = min(knees) - margin, max(knees) + margin
    first, last = int(mp.floor((low - pole) / h)), int(mp.ceil((high - pole) / h))
    kc2 = kc * kc
    # w = e^(2u) by repeated multiplication; 60 digits leave room for the growth of rounding.
    root = mp.exp(pole + (first + mp.mpf(1) / 2) * h)
    ratio = mp.exp(h)
    cos_part = sin_part = mp.mpf(0)
    for _ in range(first, last + 1):
        w = root * root
        common = root / ((1 + p * w) * mp.sqrt((1 + w) * (1 + kc2 * w)))
        cos_part += common
        sin_part += common * w
        root *= ratio
    return cos_part * h, sin_part * h


def checked(kc, p):
    # The rule's error is exp(-pi^2/h) of the terms. Next to a pole far from 1, terms of about |p|^(-1/2) (or |p|^(1/2))
    # cancel down to about 1: such a sum gets that many more digits and a narrower step.
    more = int(abs(mp.log10(abs(p)))) if p < 0 else 0
    step = mp.pi ** 2 / (mp.log(10) * (DIGITS + 13 + more))
    with mp.workdps(mp.mp.dps + more):
        fine = parts(kc, p, step)
        coarse = parts(kc, p, mp.mpf(10) / 9 * step)
    for a, b in zip(fine, coarse):
        assert abs(a - b) <= mp.mpf(10) ** -(DIGITS + 2) * abs(a), (kc, p, a, b)
    return fine


def complete(kind, x):
    x = mp.mpf(x)
    if kind == "k":
        m1 = (1 - x) * (1 + x)
    elif kind == "m":
        m1 = 1 - x
    else:
        m1 = x * x
    kc = mp.sqrt(m1)
    cos_part, sin_part = checked(kc, 1)
    big_k, big_e = cos_part + sin_part, cos_part + m1 * sin_part
    if m1 > mp.mpf(10) ** -10:
        for ours, theirs in ((big_k, mp.ellipk(1 - m1)), (big_e, mp.ellipe(1 - m1))):
            assert abs(ours - theirs) <= mp.mpf(10) ** -(DIGITS + 2) * abs(ours), (kind, x)
    return big_k, big_e


def digits(x):
    return mp.nstr(x, DIGITS, min_fixed=-3, max_fixed=6)


def header(columns, what):
    return [
        f"# source: {what}",
        "# made by: scripts/elliptic_integrals.py (trapezoidal rule in ln tan(phi), mpmath, 60 digits or more; two step widths agree)",
        f"# digits: {DIGITS}; arguments are doubles, written so that they read back exactly",
        "# licence: MIT, made for this library",
        columns,
    ]


def main():
    rng = random.Random(20240607)
    rows = header(
        "kind,argument,K,E",
        "complete elliptic integrals K and E; kind k = modulus, m = parameter k^2, kc = complementary modulus",
    )
    k_values = [0.0, 1e-300, 1e-20, 1e-8, 1e-4, 0.01, 0.1, 0.5, 0.7071067811865476, 0.9, 0.99, 0.999999, 1 - 2.0**-40, 1 - 2.0**-53]
    k_values += [-x for x in (0.25, 0.875)] + [rng.random() for _ in range(25)] + [1 - 10 ** rng.uniform(-15, 0) for _ in range(15)]
    m_values = [0.0, 1e-300, 1e-16, 1e-8, 0.05, 0.5, 0.9, 0.999, 1 - 1e-9, 1 - 2.0**-53, -1e-10, -0.5, -1.0, -10.0, -1e6, -1e100]
    m_values += [rng.random() for _ in range(25)] + [-(10 ** rng.uniform(-3, 6)) for _ in range(10)]
    c_values = [1.0, 0.9999999999, 0.5, 0.1, 1e-2, 1e-4, 1e-8, 1e-16, 1e-50, 1e-100, 1e-150, 1e-200, 1e-300, 2.0, 10.0, 1e4, 1e20, 1e100, 1e150]
    c_values += [-0.3] + [rng.random() for _ in range(25)] + [10 ** rng.uniform(-300, 0) for _ in range(25)] + [10 ** rng.uniform(0, 10) for _ in range(10)]
    for kind, values in (("k", k_values), ("m", m_values), ("kc", c_values)):
        for x in values:
            big_k, big_e = complete(kind, x)
            rows.append(f"{kind},{x!r},{digits(big_k)},{digits(big_e)}")
    (HERE / "elliptic-complete.csv").write_text("\n".join(rows) + "\n")

    rows = header(
        "kc,p,a,b,cel,scale",
        "Bulirsch's cel, principal value for p < 0; scale = the greater of |a cel(kc,p,1,0)| and |b cel(kc,p,0,1)|",
    )
    cases = []
    for kc in (1.0, 0.5, 0.1, 1e-3, 1e-8, 1e-30, 1e-300, 3.0, 1e5, 1e100):
        for p in (1.0, 0.3, 4.1, 1e-6, 1e-30, 1e-150, 1e6, 1e30, 1e150, -0.3, -1.0, -4.1, -1e-6, -1e-30, -1e6, -1e30, -1e-150, -1e150):
            cases.append((kc, p, 1.2, 1.1))
    for kc in (0.7, 1e-5):
        for p in (0.2, 5.0, -0.2, -5.0):
            cases += [(kc, p, 1.0, 0.0), (kc, p, 0.0, 1.0), (kc, p, 1.0, -1.0), (kc, p, -1.0, 1.0), (kc, p, -1.0, 0.5)]
    for sign in (1, -1):
        for _ in range(60):
            cases.append((10 ** rng.uniform(-12, 1), sign * 10 ** rng.uniform(-8, 8), rng.uniform(-2, 2), rng.uniform(-2, 2)))
    for kc, p, a, b in cases:
        cos_part, sin_part = checked(kc, p)
        cos_part *= mp.mpf(a)
        sin_part *= mp.mpf(b)
        rows.append(f"{kc!r},{p!r},{a!r},{b!r},{digits(cos_part + sin_part)},{mp.nstr(max(abs(cos_part), abs(sin_part)), 6)}")
    (HERE / "elliptic-cel.csv").write_text("\n".join(rows) + "\n")


if __name__ == "__main__":
    main()
