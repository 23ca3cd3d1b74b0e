"""What SciPy answers to a piece of work, how long that takes, and how often it evaluates the function.

    python3 peers.py WORK < data.json

Prints for each method the values, nanoseconds and evaluations. The start of Python does not count.
What a function in Python costs at each call does, so evaluations are counted too.
"""
import json
import sys
import time

import numpy
from scipy.integrate import DOP853, solve_ivp
from scipy.interpolate import CubicSpline, PchipInterpolator, splev, splrep
from scipy.linalg import lstsq
from scipy.optimize import brentq, least_squares, minimize, toms748

EPS = numpy.finfo(float).eps


def timed(solve):
    """The answer of solve, and the least time of up to seven runs of it."""
    best, begun = None, time.perf_counter_ns()
    for _ in range(7):
        start = time.perf_counter_ns()
        values, evaluations = solve()
        took = time.perf_counter_ns() - start
        best = took if best is None else min(best, took)
        if time.perf_counter_ns() - begun > 5e8:
            break
    return dict(values=[float(v) for v in values], ns=best, evaluations=evaluations)


def lookups(data):
    """Derivatives of the monotone cubic through points."""
    ratio = PchipInterpolator(data["x"], data["y"]).derivative()
    at = numpy.array(data["at"])
    return {"SciPy, one by one": lambda: ([ratio(x) for x in data["at"]], 0), "SciPy, all at once": lambda: (ratio(at), 0)}


def splines(data):
    """Cubic splines through points, and their derivatives."""
    x, y, at = (numpy.array(data[name]) for name in ("x", "y", "at"))
    return {
        "SciPy's CubicSpline": lambda: (CubicSpline(x, y)(at, 1), 0),
        "SciPy's splrep": lambda: (splev(at, splrep(x, y, s=0), 1), 0),
    }


def readings(data):
    """The polynomial of degree 4 through 0 nearest to readings, and its derivatives."""
    x, y, at = (numpy.array(data[name]) for name in ("x", "y", "at"))
    powers = numpy.arange(1, 5)

    def fit():
        full = x.max()
        b = lstsq((x[:, None] / full) ** powers, y)[0]
        return (at[:, None] / full) ** (powers - 1) @ (b * powers) / full, 0

    return {"SciPy's lstsq": fit}


def chamber(data):
    """Volume, pressure and exponent of a chamber from forces, with the derivatives that all methods get."""
    x, read, area, ambient = numpy.array(data["x"]), numpy.array(data["force"]), data["area"], data["ambient"]

    def residuals(p):
        volume, pressure, n = 1e-4 * p[0], 1e5 * p[1], p[2]
        return area * (pressure * (volume / (volume - area * x)) ** n - ambient) - read

    def derivatives(p):
        volume, pressure, n = 1e-4 * p[0], 1e5 * p[1], p[2]
        ratio = volume / (volume - area * x)
        force = area * pressure * ratio**n
        return numpy.stack([force * n * (1 - ratio) / p[0], force / p[1], force * numpy.log(ratio)], axis=1)

    def solve(method):
        r = least_squares(residuals, data["start"], derivatives, method=method, x_scale="jac", ftol=1e-14, xtol=1e-14, gtol=1e-14)
        return r.x, r.nfev + (r.njev or 0)

    return {"SciPy's least_squares, lm": lambda: solve("lm"), "SciPy's least_squares, trf": lambda: solve("trf")}


def roots(data):
    """The travel of an air spring at loads."""
    area, volume, pressure, ambient, n, travel = (data[name] for name in ("area", "volume", "pressure", "ambient", "n", "travel"))

    def force(x):
        return area * (pressure * (volume / (volume - area * x)) ** n - ambient)

    def solve(find):
        found = [find(lambda x, load=load: force(x) - load, 0.0, travel, xtol=1e-13, rtol=4 * EPS, full_output=True) for load in data["loads"]]
        return [x for x, _ in found], sum(r.function_calls for _, r in found)

    return {"SciPy's brentq": lambda: solve(brentq), "SciPy's toms748": lambda: solve(toms748)}


def bike(data):
    """Slope and rest of a bike on two springs, dampers and tyres, from the forces on its masses."""
    G, mass, ahead, behind = 9.80665, data["mass"], data["ahead"], data["behind"]
    inertia, speed, height, length, first = mass * data["gyration"] ** 2, data["speed"], data["height"], data["length"], data["first"]
    front, rear = data["front"], data["rear"]

    def ground(x):
        return height * numpy.sin(numpy.pi * (x - first) / length) if first < x < first + length else 0.0

    def end(p, travel, velocity, ground_above_axle):
        beyond = min(travel, 0.0) + max(travel - p["travel"], 0.0)
        spring = p["preload"] + p["rate"] * (travel - beyond) + p["stops"] * beyond
        return spring, p["damping"] * velocity, max(0.0, p["tyre"] * ground_above_axle)

    def slope(t, y):
        z, pitch, uf, ur, vz, vpitch, vf, vr, _, _ = y.tolist()
        wf, wr = vf - vz - ahead * vpitch, vr - vz + behind * vpitch
        sf, df, nf = end(front, uf - z - ahead * pitch, wf, ground(speed * t) - uf)
        sr, dr, nr = end(rear, ur - z + behind * pitch, wr, ground(speed * t - ahead - behind) - ur)
        return [
            vz, vpitch, vf, vr,
            (sf + df + sr + dr) / mass - G, (ahead * (sf + df) - behind * (sr + dr)) / inertia,
            (nf - sf - df) / front["unsprung"] - G, (nr - sr - dr) / rear["unsprung"] - G,
            df * wf, dr * wr,
        ]

    loads = mass * G * behind / (ahead + behind), mass * G * ahead / (ahead + behind)
    axles = [-(n + p["unsprung"] * G) / p["tyre"] for n, p in zip(loads, (front, rear))]
    bodies = [u - (n - p["preload"]) / p["rate"] for u, n, p in zip(axles, loads, (front, rear))]
    pitch = (bodies[0] - bodies[1]) / (ahead + behind)
    rest = numpy.array([bodies[0] - ahead * pitch, pitch, *axles, 0, 0, 0, 0, 0, 0])
    assert max(abs(v) for v in slope(0, rest)) < 1e-9
    kinks = sorted((first + d + b) / speed for d in (0, length) for b in (0, ahead + behind))
    return slope, rest, kinks


def ride(data):
    """Places at times of a ride over a bump; each method at the first tolerance that keeps the permitted error."""
    slope, rest, kinks = bike(data)
    times, scale = data["times"], numpy.array(data["scale"])

    def follow(**how):
        """The places at the times; steps end where the ground has a kink."""
        y, t, rows, calls = rest, 0.0, [], 0
        for stop in [k for k in kinks if k < times[-1]] + [times[-1]]:
            at = [v for v in times if t < v <= stop]
            run = solve_ivp(slope, (t, stop), y, t_eval=sorted({*at, stop}), **how)
            assert run.success, run.message
            rows += run.y[:4, : len(at)].T.ravel().tolist()
            y, t, calls = run.y[:, -1], stop, calls + run.nfev
        return rows, calls

    want, _ = follow(method="DOP853", rtol=1e-12, atol=1e-14, max_step=1e-3)

    def fitting(method):
        tolerance = 1e-2
        while tolerance > 1e-13:
            how = dict(method=method, rtol=tolerance, atol=tolerance * scale)
            if max(abs(a - b) for a, b in zip(follow(**how)[0], want)) <= data["within"]:
                return lambda: follow(**how)
            tolerance /= data["finer"]
        sys.exit(f"no tolerance of {method} keeps the error")

    return {"reference": lambda: (want, 0), "SciPy's DOP853": fitting("DOP853"), "SciPy's RK45": fitting("RK45")}


def pivots(data):
    """The pivots of a four-bar for a lever ratio: circles that cross, and a complex step for the ratio."""
    points = {name: numpy.array(p) for name, p in data["points"].items()}
    at, want, room = numpy.array(data["at"]), numpy.array(data["want"]), data["room"]
    small = 1e-20
    strokes = data["stroke"] * at + 1j * small

    def cross(a, b):
        return a[0] * b[1] - a[1] * b[0]

    def carried(a, b, c, a1, b1):
        """Where c of a body is when its points a and b are at a1 and b1."""
        d, e, d1 = b - a, c - a, b1 - a1
        along, aside = d @ e / (d @ d), cross(d, e) / (d @ d)
        return numpy.array([a1[0] + along * d1[0] - aside * d1[1], a1[1] + along * d1[1] + aside * d1[0]])

    def crossing(a, b, c, a1, b1, to_b):
        """The point as far from a1 as c is from a, and to_b from b1, on the same side as c."""
        d1, from_a = b1 - a1, (c - a) @ (c - a)
        square = d1[0] ** 2 + d1[1] ** 2
        along = (from_a - to_b**2 + square) / (2 * square)
        aside = numpy.sign(cross(b - a, c - a)) * numpy.sqrt(from_a / square - along**2)
        return numpy.array([a1[0] + along * d1[0] - aside * d1[1], a1[1] + along * d1[1] + aside * d1[0]])

    def residuals(x):
        p = dict(points)
        for i, name in enumerate(data["moved"]):
            p[name] = p[name] + room * x[2 * i : 2 * i + 2]
        fixed = {name: p[name][:, None] + 0 * strokes for name in ("M", "R", "S2")}
        shock = numpy.hypot(*(p["S1"] - p["S2"])) - strokes
        s1 = crossing(p["R"], p["S2"], p["S1"], fixed["R"], fixed["S2"], shock)
        t = carried(p["R"], p["S1"], p["T"], fixed["R"], s1)
        h = crossing(p["M"], p["T"], p["H"], fixed["M"], t, numpy.hypot(*(p["H"] - p["T"])))
        axle = carried(p["H"], p["T"], p["A"], h, t)
        return (axle[1].imag / small - want) / 0.01 / len(at) ** 0.5

    def miss(x):
        return numpy.hypot.reduce(residuals(x))

    def search(solve):
        calls, best = 0, None
        for start in data["starts"]:
            x, n = solve(numpy.array(start))
            calls += n
            best = x if best is None or miss(x) < miss(best) else best
        return [miss(best), *best], calls

    def fitted(start):
        r = least_squares(residuals, start, bounds=(-1, 1))
        return r.x, r.nfev + r.njev * len(start)

    def minimised(start):
        r = minimize(lambda x: miss(x) ** 2, start, method="L-BFGS-B", bounds=[(-1, 1)] * len(start))
        return r.x, r.nfev

    return {"SciPy's least_squares": lambda: search(fitted), "SciPy's L-BFGS-B": lambda: search(minimised)}


works = {work.__name__: work for work in (lookups, splines, readings, chamber, roots, ride, pivots)}
json.dump({name: timed(solve) for name, solve in works[sys.argv[1]](json.load(sys.stdin)).items()}, sys.stdout)
