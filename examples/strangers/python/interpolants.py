"""Curves through, or near, the points of a table: piecewise polynomials."""

from mpmath import matrix, mp, mpf


class Pieces:
    """A function by polynomials between knots, each in the distance from its own knot."""

    def __init__(self, knots, polynomials):
        self.knots, self.polynomials = knots, polynomials
        self.sums = [mpf(0)]
        for i, polynomial in enumerate(polynomials):
            self.sums.append(self.sums[-1] + self.area(polynomial, knots[i + 1] - knots[i]))

    @staticmethod
    def area(polynomial, t):
        return sum(c * t ** (k + 1) / (k + 1) for k, c in enumerate(polynomial))

    def piece(self, x):
        """The piece that goes on from x; at the end the last one."""
        low, high = 0, len(self.polynomials) - 1
        while low < high:
            middle = (low + high + 1) // 2
            if self.knots[middle] <= x:
                low = middle
            else:
                high = middle - 1
        return low

    def value(self, x, derivative=0):
        i = self.piece(x)
        coefficients = self.polynomials[i]
        for _ in range(derivative):
            coefficients = [k * c for k, c in enumerate(coefficients)][1:]
        return sum((c * (x - self.knots[i]) ** k for k, c in enumerate(coefficients)), mpf(0))

    def integral(self, x):
        i = self.piece(x)
        return self.sums[i] + self.area(self.polynomials[i], x - self.knots[i])

    def extremes(self, derivative=0):
        """Least and greatest value over all pieces."""
        values = []
        for i, coefficients in enumerate(self.polynomials):
            for _ in range(derivative):
                coefficients = [k * c for k, c in enumerate(coefficients)][1:]
            at = lambda t, cs=coefficients: sum((c * t**k for k, c in enumerate(cs)), mpf(0))
            h = self.knots[i + 1] - self.knots[i]
            values += [at(mpf(0)), at(h)]
            turning = [k * c * h ** (k - 1) for k, c in enumerate(coefficients)][1:]
            largest = max([abs(c) for c in turning], default=mpf(0))
            while turning and abs(turning[-1]) <= largest * mpf("1e-25"):
                turning.pop()
            if len(turning) > 1:
                for t in mp.polyroots([c / largest for c in turning[::-1]], maxsteps=200, extraprec=100):
                    if abs(mp.im(t)) < mpf("1e-12") and 0 < mp.re(t) < 1:
                        values.append(at(mp.re(t) * h))
        return min(values), max(values)


def hermite(knots, values, slopes):
    polynomials = []
    for i in range(len(knots) - 1):
        h = knots[i + 1] - knots[i]
        chord, a, b = (values[i + 1] - values[i]) / h, slopes[i], slopes[i + 1]
        polynomials.append([values[i], a, (3 * chord - 2 * a - b) / h, (a + b - 2 * chord) / h**2])
    return Pieces(knots, polynomials)


def monotone(x, y):
    """The piecewise cubic of Fritsch and Butland."""
    h = [b - a for a, b in zip(x, x[1:])]
    d = [(b - a) / step for a, b, step in zip(y, y[1:], h)]
    if len(x) == 2:
        return hermite(x, y, [d[0], d[0]])
    slopes = [end_slope(h[0], h[1], d[0], d[1])]
    for i in range(1, len(x) - 1):
        if d[i - 1] * d[i] <= 0:
            slopes.append(mpf(0))
            continue
        w1, w2 = 2 * h[i] + h[i - 1], h[i] + 2 * h[i - 1]
        slopes.append((w1 + w2) / (w1 / d[i - 1] + w2 / d[i]))
    slopes.append(end_slope(h[-1], h[-2], d[-1], d[-2]))
    return hermite(x, y, slopes)


def end_slope(h0, h1, d0, d1):
    slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0:
        return mpf(0)
    if d0 * d1 < 0 and abs(slope) > 3 * abs(d0):
        return 3 * d0
    return slope


def smooth(x, y):
    """The cubic spline with not-a-knot ends, by its second derivatives m."""
    n = len(x)
    h = [b - a for a, b in zip(x, x[1:])]
    d = [(b - a) / step for a, b, step in zip(y, y[1:], h)]
    low, middle, high, right = [], [], [], []
    for i in range(1, n - 1):
        low.append(h[i - 1])
        middle.append(2 * (h[i - 1] + h[i]))
        high.append(h[i])
        right.append(6 * (d[i] - d[i - 1]))
    # m₀ = m₁ − (m₂ − m₁)·h₀/h₁, and likewise at the other end.
    middle[0] += h[0] + h[0] ** 2 / h[1]
    high[0] -= h[0] ** 2 / h[1]
    middle[-1] += h[-1] + h[-1] ** 2 / h[-2]
    low[-1] -= h[-1] ** 2 / h[-2]
    for i in range(1, n - 2):
        factor = low[i] / middle[i - 1]
        middle[i] -= factor * high[i - 1]
        right[i] -= factor * right[i - 1]
    m = [mpf(0)] * n
    for i in range(n - 3, -1, -1):
        m[i + 1] = (right[i] - (high[i] * m[i + 2] if i < n - 3 else 0)) / middle[i]
    m[0] = m[1] - (m[2] - m[1]) * h[0] / h[1]
    m[-1] = m[-2] + (m[-2] - m[-3]) * h[-1] / h[-2]
    polynomials = []
    for i in range(n - 1):
        slope = d[i] - h[i] * (2 * m[i] + m[i + 1]) / 6
        polynomials.append([y[i], slope, m[i] / 2, (m[i + 1] - m[i]) / (6 * h[i])])
    return Pieces(x, polynomials)


def measured(x, y, powers):
    """The polynomial of these powers of t = x/(greatest x), by least squares."""
    greatest = max(x)
    A = matrix([[(v / greatest) ** p for p in powers] for v in x])
    solution = mp.lu_solve(A.T * A, A.T * matrix(y))
    coefficients = [mpf(0)] * (max(powers) + 1)
    for p, c in zip(powers, solution):
        coefficients[p] = c / greatest**p
    return Pieces([mpf(0), greatest], [coefficients])
