"""Writes data/cases/linkage-fit.json: a polynomial through readings of travel, and its errors.

The coefficients solve the normal equations; curves.py finds them by another way, and
both agree. The standard errors are those of the coefficients, whose change by each
reading is linear: each reading is moved by itself, and the changes are added up as
squares. See casefile.py for how to run it.
"""
from mpmath import matrix, mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from curves import measured

file = File("readings of travel over stroke, and how sure their lever ratio is")
SCRIPT = "linkage_fit.py"


def coefficients(s, w):
    full, count = max(s), 3 if len(s) < 7 else 4
    a = matrix([[(x / full) ** k for k in range(1, count + 1)] for x in s])
    return full, mp.lu_solve(a.T * a, a.T * matrix(w))


def ratio(full, b, x):
    return sum(k * v * (x / full) ** (k - 1) for k, v in enumerate(b, 1)) / full


def fit(stroke, travel, at, note, unit="mm"):
    s, w, xs = [si(v) for v in stroke], [si(v) for v in travel], [si(v) for v in at]
    full, b = coefficients(s, w)
    other = measured(s, w)
    residual = [y - sum(v * (x / full) ** k for k, v in enumerate(b, 1)) for x, y in zip(s, w)]
    count, squares = sum(1 for x, y in zip(s, w) if x or y), sum(r**2 for r in residual)
    sigma = mp.sqrt(squares / (count - len(b)))
    errors = []
    for x in xs:
        close(ratio(full, b, x), other.ratio(x), mpf("1e-30"), "lever ratio")
        total = mpf(0)
        for i in range(len(s)):
            moved = list(w)
            moved[i] += mpf("1e-3")
            total += ((ratio(*coefficients(s, moved), x) - ratio(full, b, x)) / mpf("1e-3")) ** 2
        errors.append(sigma * mp.sqrt(total))
    g.add("linkage.fit", {"stroke": stroke, "travel": travel, "at": at},
          {"lever_ratio": num([ratio(full, b, x) for x in xs]), "lever_ratio_error": num(errors), "residual_rms": to(mp.sqrt(squares / count), unit), "reading_error": to(sigma, unit)},
          1e-9, "the lever ratio by QR decomposition", note)


def mm(*xs):
    return [f"{x} mm" for x in xs]


g = file.group(mpmath_source(SCRIPT, "invented readings"), "computed", 1)
SEVEN = (mm(0, 10, 20, 30, 40, 50, 60), mm(0, 29.6, 58.1, 85.3, 111.2, 136.4, 160.3))
fit(*SEVEN, mm(0, 20, 45, 60), "seven readings, a quartic")
fit(mm(0, 15, 30, 45, 60), mm(0, 44.0, 83.5, 119.6, 153.2), mm(0, 30, 60), "five readings, a cubic")
fit(mm(0, 12, 24, 36, 48, 60), mm(0, 35.4, 67.9, 98.4, 126.6, 153.3), mm(6, 33, 57), "six readings, a cubic")
fit(mm(0, 8, 16, 24, 32, 40, 48, 56), mm(0, 24.3, 47.2, 70.9, 92.6, 114.8, 135.5, 156.6), mm(0, 28, 56), "eight readings with errors")
fit(mm(0, 10, 20, 30, 40, 50, 60, 60), mm(0, 29.6, 58.1, 85.3, 111.2, 136.4, 160.3, 160.1), mm(0, 60), "full extension read twice")
fit(mm(2, 10, 20, 30, 40, 50, 60), mm(6.1, 29.6, 58.1, 85.3, 111.2, 136.4, 160.3), mm(0, 30, 60), "without a zero point")
fit(mm(60, 50, 40, 30, 20, 10, 0), mm(160.2, 136.5, 111.1, 85.5, 58.0, 29.7, 0), mm(15, 45), "on the way back")
fit(["0 in", "0.4 in", "0.8 in", "1.2 in", "1.6 in", "2 in", "2.25 in"], ["0 in", "1.15 in", "2.31 in", "3.38 in", "4.45 in", "5.4 in", "6.02 in"], ["0 in", "1.1 in", "2.25 in"], "in inches", "in")
g = file.group(RULES, "definition", 1)
g.refuse_each("linkage.fit", {"stroke": SEVEN[0], "travel": SEVEN[1], "at": mm(10)}, [
    ({"stroke": mm(0, 20, 40, 60), "travel": mm(0, 58, 111, 160)}, ["stroke", "travel"], "too few readings"), ({"travel": SEVEN[1][:-1]}, ["travel"], "one reading less"),
    ({"stroke": ["-1 mm"] + SEVEN[0][1:]}, ["stroke[0]"], "negative"), ({"travel": ["0"] + SEVEN[1][1:]}, ["travel[0]"], "missing unit"), ({"method": "smooth"}, ["method"], "no such field"),
    ({"travel": mm(0, -29.6, -58.1, -85.3, -111.2, -136.4, -160.3)}, ["travel"], "a travel that falls"),
])
file.write()
