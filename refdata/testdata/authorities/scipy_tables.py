"""SciPy on curves through tables: apt-get install python3-scipy.

Its PchipInterpolator is the method monotone, its CubicSpline with not-a-knot
ends smooth, and NumPy's least squares with the powers 1 to 4 the method
measured; 1 to 3 where there are fewer than seven readings. Ratios over the stroke
are integrated by these splines' own antiderivatives, ratios over the travel as
the differential equation dw/ds = LR(w) by DOP853. Every linkage.table case agrees to its own tolerance, but not closer
than 1e-12 of the largest value.
"""
import sys

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, si

a = Authority(__file__)
try:
    import numpy
    import scipy
    from scipy.integrate import solve_ivp
    from scipy.interpolate import CubicSpline, PchipInterpolator
except ImportError as e:
    a.need(False, str(e))


class Powers:
    """b₁t + … + b₄t⁴ with t = s/stroke, by least squares; the zero point is exact.
    Of ratios the powers 0 to 3, where every reading counts."""

    def __init__(self, s, w, zero=1):
        self.scale = max(s)
        count = 3 if len(s) < 7 else 4
        rows = (s != 0) | (w != 0) | (zero == 0)
        t = s[rows] / self.scale
        b = numpy.linalg.lstsq(numpy.stack([t**k for k in range(zero, count + zero)], axis=1), w[rows], rcond=None)[0]
        self.p = numpy.polynomial.Polynomial([0.0] * zero + list(b))

    def __call__(self, s, order=0):
        p = self.p.deriv(order) if order else self.p
        return p(s / self.scale) / self.scale**order

    def antiderivative(self):
        self.p = self.p.integ() * self.scale
        return self


METHODS = {"monotone": PchipInterpolator, "smooth": lambda s, w: CubicSpline(s, w, bc_type="not-a-knot"), "measured": Powers}


class OverTravel:
    """w(s) of a ratio over the travel, integrated from one of its points to the next."""

    def __init__(self, w, ratio, method):
        self.ratio = Powers(w, ratio, 0) if method == "measured" else METHODS[method](w, ratio)
        knots = w if method != "measured" else numpy.linspace(0, max(w), 9)
        self.knots, self.starts = knots, [0.0]
        for a, b in zip(knots, knots[1:]):
            self.starts.append(self.starts[-1] + self.run(lambda w, s: [1 / self.ratio(w)], a, b, 0.0))

    def run(self, rate, a, b, start):
        if not b > a:
            return start
        return float(solve_ivp(rate, (a, b), [start], method="DOP853", rtol=3e-14, atol=1e-16).y[0, -1])

    def __call__(self, s, order=0):
        return numpy.array([self.at(x, order) for x in numpy.atleast_1d(s)])

    def at(self, s, order):
        i = max(k for k, start in enumerate(self.starts[:-1]) if start <= s)
        w = self.run(lambda s, w: self.ratio(w), 0.0, s - self.starts[i], self.knots[i])
        return [w, float(self.ratio(w)), float(self.ratio(w) * self.ratio(w, 1))][order]


def curve_of(given):
    """The curve and its full stroke."""
    read = {k: numpy.array([si(v) for v in given[k]]) for k in ("stroke", "travel", "lever_ratio") if k in given}
    method = given.get("method", "monotone")
    if "lever_ratio" not in read:
        return METHODS[method](read["stroke"], read["travel"]), max(read["stroke"])
    if "stroke" in read:
        fit = Powers(read["stroke"], read["lever_ratio"], 0) if method == "measured" else METHODS[method](read["stroke"], read["lever_ratio"])
        return fit.antiderivative(), max(read["stroke"])
    c = OverTravel(read["travel"], read["lever_ratio"], method)
    return c, c.starts[-1]


ORDERS = {"travel": 0, "lever_ratio": 1, "lever_ratio_slope": 2}

for case in a.cases("linkage.table"):
    given = case["given"]
    curve, full = curve_of(given)
    at = numpy.clip([si(v) for v in given["at"]], 0, full) if "at" in given else []
    for output, expected in case["expect"].items():
        if output == "progression":
            first, last = float(curve(0.0, 1)), float(curve(full, 1))
            pairs = [(expected, (first - last) / first)]
        elif output == "stroke_full":
            pairs = [(expected, full)]
        else:
            pairs = list(zip(expected, map(float, curve(at, ORDERS[output]))))
        peak = max(abs(si(want)) for want, _ in pairs)
        tolerance = case.get("tolerance", {}).get(output, case.get("tolerance", {}).get("*", 1e-9))
        for want, got in pairs:
            near = si(tolerance) if isinstance(tolerance, str) else tolerance * (abs(si(want)) or peak)
            a.compare(case, output, si(want), got, max(near, 1e-12 * peak))

a.finish(scipy.__version__)
