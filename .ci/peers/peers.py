"""How long SciPy takes for a look-up and for a root: nanoseconds each.

Prints the name of the work, nanoseconds, and a check sum, a line each.
"""
import time

import numpy
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

stroke = numpy.linspace(0.0, 65.0, 14)
travel = 2.95 * stroke - 0.00425 * stroke**2
curve = PchipInterpolator(stroke, travel).derivative()
at = numpy.array([65.0 * (i * 619 % 1024) / 1024 for i in range(1024)])


def one_by_one():
    return sum(float(curve(x)) for x in at), len(at)


def all_at_once():
    return float(curve(at).sum()), len(at)


AREA, V0, P0, AMBIENT, N, TRAVEL = 9.079202768874502e-4, 190e-6, 651325.0, 101325.0, 1.3, 0.16


def force(x):
    return AREA * (P0 * (V0 / (V0 - AREA * x)) ** N - AMBIENT)


def roots():
    low, high = force(0.0), force(TRAVEL)
    total = 0.0
    for i in range(200):
        load = low + (high - low) * (i + 1) / 202
        total += brentq(lambda x: force(x) - load, 0.0, TRAVEL, xtol=1e-13, rtol=8.9e-16)
    return total, 200


for name, work in (("one by one", one_by_one), ("all at once", all_at_once), ("roots", roots)):
    best = None
    for _ in range(5):
        start = time.perf_counter_ns()
        total, n = work()
        took = (time.perf_counter_ns() - start) / n
        best = took if best is None or took < best else best
    print(f"{name};{best!r};{total!r}")
