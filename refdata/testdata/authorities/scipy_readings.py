"""SciPy on a straight line through readings: apt-get install python3-scipy.

Its linregress fits every spring.readings case by ordinary least squares. All
agree to 1e-9 of the largest force, and of the rate; a standard error to 1e-6,
as both programs cancel where the readings lie on a line.
"""
import sys

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, si

a = Authority(__file__)
try:
    import numpy
    import scipy
    from scipy.stats import linregress
except ImportError as e:
    a.need(False, str(e))

for case in a.cases("spring.readings"):
    x, y = ([si(v) for v in case["given"][name]] for name in ("travel", "force"))
    fit = linregress(x, y)
    scatter = [f - fit.intercept - fit.slope * t for t, f in zip(x, y)]
    peak = max(abs(f) for f in y)
    wide = max(x) - min(x)
    squares = float(numpy.dot(scatter, scatter))
    outputs = {
        "rate": (fit.slope, 1e-9 * abs(fit.slope)),
        "force_at_zero": (fit.intercept, 1e-9 * peak),
        "rate_standard_error": (fit.stderr, 1e-6 * fit.stderr + 1e-9 * peak / wide),
        "force_at_zero_standard_error": (fit.intercept_stderr, 1e-6 * fit.intercept_stderr + 1e-9 * peak),
        "residual_rms": ((squares / len(x)) ** 0.5, 1e-9 * peak),
        "residual_deviation": ((squares / max(len(x) - 2, 1)) ** 0.5, 1e-9 * peak),
    }
    for output, expected in case["expect"].items():
        got, allowed = outputs[output]
        a.compare(case, output, si(expected), float(got), allowed)

a.finish(scipy.__version__)
