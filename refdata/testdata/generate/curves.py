"""Lever-ratio curves at 50 digits, and a spring seen through one.

curve(spec) makes one from the "curve" of a case: a constant ratio, a fork, or a
table by one of the methods

    monotone   the piecewise cubic of Fritsch and Butland: at an inner point the
               weighted harmonic mean of the chords beside it, at an end a
               three-point formula, kept from overshooting
    smooth     the cubic spline with not-a-knot ends
    measured   the polynomial of degree 4 through the zero point, by least squares;
               of degree 3 where there are fewer than 7 readings

A table has two of stroke, travel and lever_ratio. A given ratio is interpolated
itself; measured is a polynomial of it, of a degree less. Then w(s) = ∫ LR ds, or
s(w) = ∫ dw/LR, is integrated numerically.

It has stroke and travel, and travel_at(s), ratio(s), slope(s), stroke_at(w).
AtWheel(curve, law) is a law over the vertical travel of the wheel.
"""
from mpmath import mp, mpf

from casefile import close, si
from laws import bisect


class Line:
    """w = ratio · s."""

    def __init__(self, ratio, stroke):
        self.r, self.stroke, self.travel, self.kinks = ratio, stroke, ratio * stroke, []

    def travel_at(self, s):
        return self.r * s

    def ratio(self, s):
        return self.r

    def slope(self, s):
        return mpf(0)

    def stroke_at(self, w):
        return w / self.r


class Cubic:
    """Cubics between points with the slopes given there."""

    def __init__(self, s, w, slopes):
        self.s, self.w, self.d = s, w, slopes
        self.stroke, self.travel, self.kinks = s[-1], w[-1], list(s[1:-1])

    def _piece(self, s):
        i = 0
        while i < len(self.s) - 2 and s >= self.s[i + 1]:
            i += 1
        h = self.s[i + 1] - self.s[i]
        chord = (self.w[i + 1] - self.w[i]) / h
        a, b = self.d[i], self.d[i + 1]
        return s - self.s[i], (self.w[i], a, (3 * chord - 2 * a - b) / h, (a + b - 2 * chord) / h**2)

    def travel_at(self, s):
        u, c = self._piece(s)
        return c[0] + u * (c[1] + u * (c[2] + u * c[3]))

    def ratio(self, s):
        u, c = self._piece(s)
        return c[1] + u * (2 * c[2] + u * 3 * c[3])

    def slope(self, s):
        u, c = self._piece(s)
        return 2 * c[2] + 6 * u * c[3]

    def stroke_at(self, w):
        return stroke_at(self, w)


class Polynomial:
    """w = Σ bₖ (s/stroke)ᵏ, from k = 1 on, or from first."""

    def __init__(self, b, stroke, first=1):
        self.b, self.stroke, self.travel, self.kinks, self.first = b, stroke, sum(b), [], first

    def _sum(self, s, order):
        t, total = s / self.stroke, mpf(0)
        for k, b in enumerate(self.b, self.first):
            factor = mp.ff(k, order)
            total += b * factor * (t ** (k - order) if k >= order else 0)
        return total / self.stroke**order

    def travel_at(self, s):
        return self._sum(s, 0)

    def ratio(self, s):
        return self._sum(s, 1)

    def slope(self, s):
        return self._sum(s, 2)

    def stroke_at(self, w):
        return stroke_at(self, w)


def stroke_at(curve, w):
    """The stroke at a travel: bisection until Newton's method is safe."""
    if w <= 0 or w >= curve.travel:
        return mpf(0) if w <= 0 else curve.stroke
    s = bisect(lambda s: curve.travel_at(s) - w, mpf(0), curve.stroke, 30)
    for _ in range(4):
        s -= (curve.travel_at(s) - w) / curve.ratio(s)
    return s


def monotone(s, w):
    h = [b - a for a, b in zip(s, s[1:])]
    m = [(b - a) / x for a, b, x in zip(w, w[1:], h)]
    if len(m) == 1:
        return [m[0], m[0]]

    def end(h0, h1, m0, m1):
        d = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1)
        if d * m0 <= 0:
            return mpf(0)
        return 3 * m0 if m0 * m1 <= 0 and abs(d) > 3 * abs(m0) else d

    inner = []
    for i in range(1, len(m)):
        a, b = 2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]
        inner.append((a + b) / (a / m[i - 1] + b / m[i]) if m[i - 1] * m[i] > 0 else mpf(0))
    return [end(h[0], h[1], m[0], m[1])] + inner + [end(h[-1], h[-2], m[-1], m[-2])]


def smooth(s, w):
    """The slopes of the not-a-knot spline: second derivatives continuous at
    inner points, third derivatives at the second and the last but one."""
    n = len(s)
    h = [b - a for a, b in zip(s, s[1:])]
    m = [(b - a) / x for a, b, x in zip(w, w[1:], h)]
    a, y = mp.zeros(n), mp.zeros(n, 1)
    for i in range(1, n - 1):
        a[i, i - 1], a[i, i], a[i, i + 1] = 1 / h[i - 1], 2 / h[i - 1] + 2 / h[i], 1 / h[i]
        y[i] = 3 * (m[i - 1] / h[i - 1] + m[i] / h[i])
    for row, i in ((0, 1), (n - 1, n - 2)):  # (d₀ + d₁ − 2m)/h² is the third derivative over 6
        a[row, i - 1] += 1 / h[i - 1] ** 2
        a[row, i] += 1 / h[i - 1] ** 2 - 1 / h[i] ** 2
        a[row, i + 1] -= 1 / h[i] ** 2
        y[row] = 2 * m[i - 1] / h[i - 1] ** 2 - 2 * m[i] / h[i] ** 2
    return list(mp.lu_solve(a, y))


class Integral:
    """w(s) = ∫ LR ds, where LR(x) over the stroke is what travel_at of a curve says."""

    def __init__(self, lr):
        self.lr, self.stroke, self.kinks = lr, lr.stroke, lr.kinks
        self.travel = self.travel_at(self.stroke)

    def travel_at(self, s):
        return mp.quadgl(self.lr.travel_at, [0] + [k for k in self.kinks if 0 < k < s] + [s], maxdegree=2)  # exact of cubics

    def ratio(self, s):
        return self.lr.travel_at(s)

    def slope(self, s):
        return self.lr.ratio(s)

    def stroke_at(self, w):
        return stroke_at(self, w)


class Reciprocal:
    """s(w) = ∫ dw/LR, where LR(x) over the travel is what travel_at of a curve says."""

    def __init__(self, lr):
        self.lr, self.travel = lr, lr.stroke
        self.ws, self.ss = [mpf(0)] + lr.kinks + [lr.stroke], [mpf(0)]
        for a, b in zip(self.ws, self.ws[1:]):
            self.ss.append(self.ss[-1] + self.part(a, b))
        self.stroke, self.kinks = self.ss[-1], self.ss[1:-1]

    def part(self, a, b):
        return mp.quadgl(lambda w: 1 / self.lr.travel_at(w), mp.linspace(a, b, 3))

    def stroke_at(self, w):
        i = max(k for k, start in enumerate(self.ws[:-1]) if start <= max(w, 0))
        return self.ss[i] + self.part(self.ws[i], min(w, self.travel))

    def travel_at(self, s):
        if s <= 0 or s >= self.stroke:
            return mpf(0) if s <= 0 else self.travel
        i = max(k for k, start in enumerate(self.ss[:-1]) if start <= s)
        w = self.ws[i] + (self.ws[i + 1] - self.ws[i]) * (s - self.ss[i]) / (self.ss[i + 1] - self.ss[i])
        for _ in range(12):  # Newton's method, from a place in the right piece
            step = (self.ss[i] + self.part(self.ws[i], w) - s) * self.lr.travel_at(w)
            w -= step
            if abs(step) < mpf("1e-45"):
                return w
        raise ValueError("no travel at this stroke")

    def ratio(self, s):
        return self.lr.travel_at(self.travel_at(s))

    def slope(self, s):
        w = self.travel_at(s)
        return self.lr.travel_at(w) * self.lr.ratio(w)


def measured(s, w, zero=True):
    """Through the zero point, which needs no row; of a ratio with a constant term."""
    full, count = max(s), 3 if len(s) < 7 else 4
    rows = [(x / full, v) for x, v in zip(s, w) if not zero or x or v]
    powers = mp.matrix([[t**k for k in range(zero, count + zero)] for t, _ in rows])
    y = mp.matrix([v for _, v in rows])
    b, _ = mp.qr_solve(powers, y)
    again = mp.lu_solve(powers.T * powers, powers.T * y)  # the normal equations
    for p, q in zip(b, again):
        close(p + b[0], q + b[0], mpf("1e-30"), "least squares")
    return Polynomial(list(b), full, int(zero))


def through(x, y, method, zero=True):
    x, y = [si(v) for v in x], [si(v) for v in y]
    if method == "measured":
        return measured(x, y, zero)
    return Cubic(x, y, {"monotone": monotone, "smooth": smooth}[method](x, y))


def table(stroke=None, travel=None, lever_ratio=None, method="monotone"):
    if lever_ratio is None:
        return through(stroke, travel, method)
    return (Integral if stroke else Reciprocal)(through(stroke or travel, lever_ratio, method, zero=False))


def curve(spec):
    if "constant" in spec:
        ratio = si(spec["constant"])
        return Line(ratio, si(spec["travel"]) / ratio)
    if "fork" in spec:
        return Line(mp.sin(si(spec["fork"]["head_angle"])), si(spec["fork"]["travel"]))
    return table(**spec["table"])


class AtWheel:
    """F_w = F_s/LR, k_w = k_s/LR² − F_s LR′/LR³, E_w = E_s, as far as both the
    curve and the spring go."""

    def __init__(self, curve, law):
        self.curve, self.law = curve, law
        self.full = min(curve.stroke, law.travel)
        self.travel = curve.travel_at(self.full)
        self.kinks = [curve.travel_at(k) for k in list(curve.kinks) + list(law.kinks) if 0 < k < self.full]

    def stroke(self, w):
        return min(self.curve.stroke_at(w), self.full)

    def force(self, w):
        s = self.stroke(w)
        return self.law.force(s) / self.curve.ratio(s)

    def rate(self, w):
        s = self.stroke(w)
        r = self.curve.ratio(s)
        return self.law.rate(s) / r**2 - self.law.force(s) * self.curve.slope(s) / r**3

    def energy(self, w):
        return self.law.energy(self.stroke(w))
