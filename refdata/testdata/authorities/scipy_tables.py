"""SciPy on curves through tables: apt-get install python3-scipy.

Its PchipInterpolator is the method monotone, its CubicSpline with not-a-knot
ends smooth, and NumPy's least squares with the powers 1 to 4 the method
measured. Every linkage.table case agrees to its own tolerance, but not closer
than 1e-12 of the largest value.
"""
import sys

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, si

a = Authority(__file__)
try:
    import numpy
    import scipy
    from scipy.interpolate import CubicSpline, PchipInterpolator
except ImportError as e:
    a.need(False, str(e))


class Powers:
    """b₁t + … + b₄t⁴ with t = s/stroke, by least squares; the zero point is exact."""

    def __init__(self, s, w):
        self.scale = s[-1]
        t = s[1:] / self.scale
        b = numpy.linalg.lstsq(numpy.stack([t**k for k in range(1, 5)], axis=1), w[1:], rcond=None)[0]
        self.p = numpy.polynomial.Polynomial([0.0, *b])

    def __call__(self, s, order=0):
        p = self.p.deriv(order) if order else self.p
        return p(s / self.scale) / self.scale**order


METHODS = {"monotone": PchipInterpolator, "smooth": lambda s, w: CubicSpline(s, w, bc_type="not-a-knot"), "measured": Powers}
ORDERS = {"travel": 0, "lever_ratio": 1, "lever_ratio_slope": 2}

for case in a.cases("linkage.table"):
    given = case["given"]
    stroke = numpy.array([si(v) for v in given["stroke"]])
    curve = METHODS[given.get("method", "monotone")](stroke, numpy.array([si(v) for v in given["travel"]]))
    at = numpy.clip([si(v) for v in given["at"]], 0, stroke[-1]) if "at" in given else []
    for output, expected in case["expect"].items():
        if output == "progression":
            first, last = float(curve(0.0, 1)), float(curve(stroke[-1], 1))
            pairs = [(expected, (first - last) / first)]
        else:
            pairs = list(zip(expected, map(float, curve(at, ORDERS[output]))))
        peak = max(abs(si(want)) for want, _ in pairs)
        tolerance = case.get("tolerance", {}).get(output, case.get("tolerance", {}).get("*", 1e-9))
        for want, got in pairs:
            near = si(tolerance) if isinstance(tolerance, str) else tolerance * (abs(si(want)) or peak)
            a.compare(case, output, si(want), got, max(near, 1e-12 * peak))

a.finish(scipy.__version__)
