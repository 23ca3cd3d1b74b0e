#!/usr/bin/env python3
"""Fill tables.json: the two interpolations of each table and, where there are
7 points or more, the least squares polynomial of degree 4 through the origin,
in exact rational arithmetic (Python's fractions), rounded once at the end.

    python3 linkage/testdata/generate/tables.py

The tables and the columns under "scipy" (scipy 1.10.1, PchipInterpolator and
CubicSpline with bc_type not-a-knot) stay as they are in the file. At a point of
the table the slope is the right-hand one, at the last point the left-hand one.
"""
import json
import math
import pathlib
from fractions import Fraction

FILE = pathlib.Path(__file__).parent.parent / "tables.json"


def pchip(x, y):
    """Lever ratios at the points, after Fritsch and Butland."""
    n = len(x)
    h = [b - a for a, b in zip(x, x[1:])]
    d = [(b - a) / g for a, b, g in zip(y, y[1:], h)]

    def edge(h0, h1, d0, d1):
        r = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
        if r * d0 <= 0:
            return Fraction(0)
        if d0 * d1 <= 0 and abs(r) > 3 * abs(d0):
            return 3 * d0
        return r

    inner = [
        (2 * h[i] + h[i - 1] + h[i] + 2 * h[i - 1])
        / ((2 * h[i] + h[i - 1]) / d[i - 1] + (h[i] + 2 * h[i - 1]) / d[i])
        for i in range(1, n - 1)
    ]
    return [edge(h[0], h[1], d[0], d[1])] + inner + [edge(h[-1], h[-2], d[-1], d[-2])]


def solve(rows):
    n = len(rows)
    for k in range(n):
        p = next(i for i in range(k, n) if rows[i][k] != 0)
        rows[k], rows[p] = rows[p], rows[k]
        rows[k] = [v / rows[k][k] for v in rows[k]]
        for i in range(n):
            if i != k:
                f = rows[i][k]
                rows[i] = [v - f * w for v, w in zip(rows[i], rows[k])]
    return [row[n:] for row in rows]


def notaknot(x, y):
    """Lever ratios at the points of the spline whose third derivative is
    continuous at the first and the last inner point, by elimination."""
    n = len(x)
    h = [b - a for a, b in zip(x, x[1:])]
    d = [(b - a) / g for a, b, g in zip(y, y[1:], h)]
    rows = []
    for i in (1, n - 2):  # (r[i-1]+r[i]-2d[i-1])/h[i-1]^2 == (r[i]+r[i+1]-2d[i])/h[i]^2
        a, b = 1 / h[i - 1] ** 2, 1 / h[i] ** 2
        row = [Fraction(0)] * (n + 1)
        row[i - 1], row[i], row[i + 1], row[n] = a, a - b, -b, 2 * (a * d[i - 1] - b * d[i])
        rows.append(row)
    for i in range(1, n - 1):  # continuous second derivative
        row = [Fraction(0)] * (n + 1)
        row[i - 1], row[i], row[i + 1] = 1 / h[i - 1], 2 / h[i - 1] + 2 / h[i], 1 / h[i]
        row[n] = 3 * (d[i - 1] / h[i - 1] + d[i] / h[i])
        rows.append(row)
    return [row[0] for row in solve(rows)]


def cubics(x, y, r):
    out = []
    for i in range(len(x) - 1):
        h = x[i + 1] - x[i]
        d = (y[i + 1] - y[i]) / h
        out.append((x[i], h, y[i], r[i], (3 * d - 2 * r[i] - r[i + 1]) / h, (r[i] + r[i + 1] - 2 * d) / h**2))
    return out


def exact(x, y, at, ratios):
    pieces = cubics(x, y, ratios(x, y))
    out = {"travel": [], "ratio": [], "slope": []}
    for s in at:
        x0, _, c0, c1, c2, c3 = [p for p in pieces if p[0] <= s][-1]
        u = s - x0
        out["travel"].append(c0 + u * (c1 + u * (c2 + u * c3)))
        out["ratio"].append(c1 + u * (2 * c2 + u * 3 * c3))
        out["slope"].append(2 * c2 + 6 * c3 * u)
    extremes = []
    for _, h, _, c1, c2, c3 in pieces:
        us = [Fraction(0), h]
        if c3 != 0 and 0 < -c2 / (3 * c3) < h:
            us.append(-c2 / (3 * c3))
        extremes += [c1 + u * (2 * c2 + u * 3 * c3) for u in us]
    result = {k: [float(v) for v in vs] for k, vs in out.items()}
    result["min"], result["max"] = float(min(extremes)), float(max(extremes))
    return result


def measured(x, y, at, degree=4):
    """Normal equations of the powers of s: the zero point takes no part."""
    x, y = x[1:], y[1:]
    powers = range(1, degree + 1)
    unit = lambda i: [Fraction(int(i == j)) for j in range(degree)]
    rows = [
        [sum(v ** (i + j) for v in x) for j in powers] + [sum(w * v**i for v, w in zip(x, y))] + unit(i - 1)
        for i in powers
    ]
    solved = solve(rows)
    b, inverse = [row[0] for row in solved], [row[1:] for row in solved]
    value = lambda s: sum(c * s**k for k, c in zip(powers, b))
    square = sum((w - value(v)) ** 2 for v, w in zip(x, y))
    variance = square / (len(x) - degree)
    error = []
    for s in at:
        g = [k * s ** (k - 1) for k in powers]
        error.append(math.sqrt(variance * sum(a * c * g[j] for i, a in enumerate(g) for j, c in enumerate(inverse[i]))))
    return {
        "travel": [float(value(s)) for s in at],
        "ratio": [float(sum(k * c * s ** (k - 1) for k, c in zip(powers, b))) for s in at],
        "slope": [float(sum(k * (k - 1) * c * s ** (k - 2) for k, c in zip(powers, b) if k > 1)) for s in at],
        "rms": math.sqrt(square / len(x)),
        "reading_error": math.sqrt(variance),
        "ratio_error": error,
    }


def main():
    data = json.loads(FILE.read_text())
    for t in data["tables"]:
        x, y, at = ([Fraction(str(v)) for v in t[k]] for k in ("stroke", "travel", "at"))
        t["exact"] = {"monotone": exact(x, y, at, pchip), "smooth": exact(x, y, at, notaknot)}
        if len(x) >= 7:
            t["exact"]["measured"] = measured(x, y, at)
    FILE.write_text(json.dumps(data, indent=1) + "\n")


main()
