"""Writes data/cases/linkage-axle.json: the way of the axle over the stroke, the turn of
the body that carries the wheel, and the extremes of a lever ratio.

Axle and turn are those of mechanisms.py, or follow from the head angle of a fork. The
extremes are where the slope of the ratio changes its sign, found by bisection, or at an
end. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from curves import curve
from laws import bisect
from mechanisms import Mechanism, named, slotted
from statics import turned

file = File("the way of the axle, and the extremes of the lever ratio")
SCRIPT = "linkage_axle.py"


def tenths(full, n=5):
    return [to(full * k / n, "mm") for k in range(n + 1)]


class Fork:
    def __init__(self, spec):
        self.angle, self.stroke = si(spec["head_angle"]), si(spec["travel"])

    def way(self, s):
        c, w = mp.cos(self.angle), mp.sin(self.angle)
        return (-s * c, s * w), (-c, w), (mpf(0), mpf(0))


class Straight:
    """Only the travel is known."""

    def __init__(self, spec):
        self.of = curve(spec)
        self.stroke = self.of.stroke

    def way(self, s):
        return (mpf(0), self.of.travel_at(s)), (mpf(0), self.of.ratio(s)), (mpf(0), self.of.slope(s))


class Bars:
    def __init__(self, spec):
        self.of = Mechanism(spec)
        self.stroke = self.of.stroke

    def way(self, s):
        (x, y), v, a, _ = self.of.wheel(s)
        x0, y0 = self.of.points[self.of.axle]
        return (x - x0, y - y0), v, a


def axle(spec, note, tolerance=1e-12):
    of = Fork(spec["fork"]) if "fork" in spec else Bars(spec["mechanism"]) if "mechanism" in spec else Straight(spec)
    at = tenths(of.stroke)
    ways = [of.way(si(s)) for s in at]
    h = mpf("1e-15")
    for s, (_, v, a) in zip(at[1:-1], ways[1:-1]):
        for axis in 0, 1:
            close(mp.diff(lambda x: of.way(x)[0][axis], si(s), h=h) + 1, v[axis] + 1, mpf("1e-15"), "rate")  # noqa: B023
            close(mp.diff(lambda x: of.way(x)[1][axis], si(s), h=h) + 1, a[axis] + 1, mpf("1e-12"), "slope")  # noqa: B023
    pick = lambda k, axis: [w[k][axis] for w in ways]  # noqa: E731
    g.add("linkage.axle", {"curve": spec, "at": at}, {
        "forward": to(pick(0, 0), "mm"), "up": to(pick(0, 1), "mm"), "forward_rate": num(pick(1, 0)), "up_rate": num(pick(1, 1)),
        "forward_slope": to(pick(2, 0), "1/m"), "up_slope": to(pick(2, 1), "1/m")}, tolerance, "rates by differences of places, slopes by differences of rates", note)


def carrier(given, note):
    m = Mechanism(given)
    at = tenths(m.stroke)
    turn, turning = [turned(m, si(s), m.carrier) for s in at], [m.turning(si(s), m.carrier) for s in at]
    for s, rate in zip(at[1:-1], turning[1:-1]):
        close(mp.diff(lambda x: turned(m, x, m.carrier), si(s), h=mpf("1e-15")) + 1, rate + 1, mpf("1e-15"), "rate of turn")
    assert m.holds() and max(abs(v) for v in turn) < mp.pi
    g.add("linkage.carrier", {"mechanism": given, "at": at}, {"carrier_turn": to(turn, "deg"), "carrier_turning": num(turning)},
          {"carrier_turn": "1e-9 deg", "carrier_turning": 1e-10}, "the rate of turn by differences", note)


def extremes(spec, note, places="1e-6 mm"):
    of = Mechanism(spec["mechanism"]) if "mechanism" in spec else curve(spec)
    ends = [mpf(0), *getattr(of, "kinks", []), of.stroke]
    grid = [a + (b - a) * k / 24 for a, b in zip(ends, ends[1:]) for k in range(24)] + [of.stroke]
    inside = [(a + (b - a) * mpf("1e-12"), b - (b - a) * mpf("1e-12")) for a, b in zip(grid, grid[1:])]
    turns = [mpf(0), of.stroke] + ends[1:-1]
    for a, b in inside:
        left, right = of.slope(a), of.slope(b)
        if left * right < 0:
            turns.append(bisect(lambda s: of.slope(s) * mp.sign(right), a, b, 110))  # noqa: B023
    values = [(of.ratio(s), s) for s in turns]
    least, most = min(values), max(values, key=lambda v: (v[0], -v[1]))
    dense = [of.ratio(of.stroke * k / 200) for k in range(201)]
    assert least[0] <= min(dense) and most[0] >= max(dense)
    start, end = of.ratio(mpf(0)), of.ratio(of.stroke)
    g.add("linkage.progression", {"curve": spec}, {
        "value": num((start - end) / start), "start": num(start), "end": num(end), "min": num(least[0]), "max": num(most[0]), "min_at": to(least[1], "mm"), "max_at": to(most[1], "mm")},
        {"*": 1e-9, "value": "1e-9", "min_at": places, "max_at": places}, "no ratio of 201 along the stroke is beyond them", note)


def table(method, **lists):
    return {"table": {**{name: [f"{x} mm" for x in xs] if name != "lever_ratio" else list(xs) for name, xs in lists.items()}, "method": method}}


S = (0, 10, 20, 30, 40, 50)
RISING = table("smooth", stroke=S, travel=(0, 29, 57.2, 85.9, 115.6, 146.7))
HUMP = table("smooth", stroke=S, travel=(0, 27.6, 57, 86.9, 115.6, 142.4))
g = file.group(mpmath_source(SCRIPT, "invented geometries"), "computed", 1)
axle({"fork": {"head_angle": "64 deg", "travel": "170 mm"}}, "a fork: along its stanchions")
axle({"constant": 2.6, "travel": "150 mm"}, "a constant ratio: only the travel is known")
axle(HUMP, "a table, likewise", 1e-9)
axle({"fork": {"head_angle": "70 deg", "travel": "4 in"}}, "a short fork")
for name, note in (("a1", "a single pivot: an arc"), ("c1", "a four-bar"), ("d2", "two short links"), ("f1", "a six-bar")):
    axle({"mechanism": named(name)}, f"{name}: {note}", 1e-7)
    carrier(named(name), f"{name}: {note}")
carrier(named("c3"), "c3: a body that turns one way and back, over its instant centre at infinity")
carrier(named("b1"), "b1: a swingarm with a rocker")
carrier(named("e1"), "e1: a shock between moving bodies")
carrier(slotted("s3"), "s3: two pins of the body slide in the frame")
extremes({"constant": 2.6, "travel": "150 mm"}, "a constant ratio is its own least and greatest")
extremes({"fork": {"head_angle": "64 deg", "travel": "170 mm"}}, "a fork")
extremes(RISING, "a ratio that falls and then rises: the least is inside")
extremes(HUMP, "a ratio that rises and then falls: the greatest is inside")
extremes(table("monotone", stroke=S, travel=(0, 29, 57.2, 85.9, 115.6, 146.7)), "the first of them, as a monotone cubic")
for name in ("a1", "c1", "d2"):
    extremes({"mechanism": named(name)}, f"{name}: a mechanism", "1e-3 mm")
extremes(table("smooth", stroke=S, lever_ratio=(2.9, 2.76, 2.7, 2.74, 2.9, 3.1)), "a table of ratios")

g = file.group(RULES, "definition", 1)
g.refuse_each("linkage.axle", {"curve": {"constant": 2.6, "travel": "150 mm"}, "at": ["10 mm"]}, [
    ({"curve": None}, ["curve"], "missing"), ({"curve": {"constant": -2.6, "travel": "150 mm"}}, ["constant"], "negative"), ({"at": ["10"]}, ["at"], "missing unit"),
    ({"curve": {"fork": {"head_angle": "190 deg", "travel": "-1 mm"}}}, ["head_angle", "travel"], "no fork lies so, and negative"), ({"at": ["5 N"]}, ["at"], "a force is no stroke"),
])
g.refuse_each("linkage.carrier", {"mechanism": named("a1"), "at": ["10 mm"]}, [
    ({"mechanism": {**named("a1"), "stroke": "0 mm"}}, ["stroke"], "zero"), ({"mechanism": {**named("a1"), "axle": "B"}, "at": ["10"]}, ["axle", "at"], "no such point, and a missing unit"),
    ({"mechanism": None}, ["points", "bodies", "stroke"], "missing"), ({"mechanism": {**named("c1"), "carrier": "rocker"}}, ["carrier"], "the axle is no point of it"), ({"curve": {"constant": 2}}, ["curve"], "no such field"),
])
g.refuse_each("linkage.progression", {"curve": {"constant": 2.6, "travel": "150 mm"}}, [
    ({"curve": {"fork": {"head_angle": "0 deg", "travel": "0 mm"}}}, ["head_angle", "travel"], "lying, and without travel"), ({"curve": None}, ["curve"], "missing"), ({"at": ["10 mm"]}, ["at"], "no such field"),
    ({"curve": {"constant": 0, "travel": "150"}}, ["constant", "travel"], "zero, and a missing unit"), ({"curve": {"constant": 2.6, "travel": "150 mm", "fork": {"head_angle": "64 deg", "travel": "170 mm"}}}, ["curve"], "two kinds at once"),
])
file.write()
