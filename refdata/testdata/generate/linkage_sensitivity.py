"""Writes data/cases/linkage-sensitivity.json: what a hole bored off its place does
to travel and lever ratio.

The mechanism is assembled anew with the hole off by a little in one body, to both
sides, and solved at 50 digits; the derivatives are central differences, whose error
is below the twentieth digit. They are confirmed by virtual work: the forces of
statics.py under a unit force at the axle, and their differences along the stroke.
See mechanisms.py for the solver and casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from mechanisms import Mechanism, eliminate, mechanism, named, slotted
from statics import hole_work

file = File("holes off their places in suspension linkages")
SCRIPT = "linkage_sensitivity.py"
STEP = mpf("1e-12")  # m
TOLERANCE = {"lever_ratio_per_x": 1e-9, "lever_ratio_per_y": 1e-9, "travel_per_x": 1e-10, "travel_per_y": 1e-10}


def mm(*xs):
    return [f"{x} mm" for x in xs]


def tenths(given, n):
    return [to(si(given["stroke"]) * k / n, "mm") for k in range(n + 1)]


class Bored(Mechanism):
    """A mechanism with a hole off its place in one body. The shock is as long as drawn."""

    def __init__(self, drawn, body, point, dx, dy):
        self.__dict__.update(drawn.__dict__)
        self.nominal, self.bored, self.off = drawn, (body, point), (dx, dy)

    def drawn(self, body, p):
        x, y = self.points[p]
        return (x + self.off[0], y + self.off[1]) if (body, p) == self.bored else (x, y)

    def at(self, s):
        q = self.nominal.at(s).q
        for _ in range(6):
            rest, rows = self._equations(q, s)
            (change,), _ = eliminate(rows, [[-r for r in rest]])
            q = [a + b for a, b in zip(q, change)]
            if max(abs(c) for c in change) < mpf("1e-26"):
                break  # the error is the square of this
        return self._rates(s, q)


def central(m, body, point, axis, s):
    """d(height of the axle)/dx and dLR/dx for x or y of the hole."""
    out = []
    for sign in (1, -1):
        bored = Bored(m, body, point, *(sign * STEP if i == axis else mpf(0) for i in (0, 1)))
        (_, y), v, _, _ = bored.wheel(s)
        out.append((y, v[1]))
    return [(a - b) / (2 * STEP) for a, b in zip(*out)]


def solve(given, body, point, at):
    m = Mechanism(given)
    xs = [si(s) for s in at]
    lists = {k: [] for k in TOLERANCE}
    for axis, name in ((0, "x"), (1, "y")):
        start = central(m, body, point, axis, mpf(0))[0]
        for s in xs:
            height, ratio = central(m, body, point, axis, s)
            lists[f"lever_ratio_per_{name}"].append(ratio)
            lists[f"travel_per_{name}"].append(height - start)
            force = hole_work(m, body, point, s)[axis]
            assert abs(height - force) < mpf("1e-17") * (1 + abs(force)), ("virtual work", height, force)
            if 0 < s < m.stroke:
                rate = mp.diff(lambda t: hole_work(m, body, point, t)[axis], s, h=mpf("1e-15"))
                assert abs(ratio - rate) < mpf("1e-13") * (1 + abs(rate)), ("its change by the stroke", ratio, rate)
    assert m.holds()
    return lists


def texts(lists):
    return {k: to(v, "1/m") if k.startswith("lever") else num([x if abs(x) > mpf("1e-18") else mpf(0) for x in v]) for k, v in lists.items()}


def add(given, body, point, at, note, tolerance=TOLERANCE):
    g.add("linkage.sensitivity", {"mechanism": given, "body": body, "point": point, "at": at}, texts(solve(given, body, point, at)), tolerance,
          "virtual work: the forces of all bodies drawn free under a unit force at the axle, and their change by the stroke", note)


# The axle's height is 400 mm × cos(γ + η) with γ between pivot–eye and pivot–S2 by the
# law of cosines, cos γ = (a² + d² − L²)/(2ad), a = 150 mm, d the distance of S2 and η its angle.
TRIANGLE = mechanism("P 0 0, A -400 0, S1 0 150, S2 200 0", "frame: P S2; swingarm: P A S1", 50)
g = file.group({"title": "closed form, worked by hand", "where": "law of cosines, with 150 and d = 200 mm from the pivot to the eyes, at a right angle at first, and the axle 400 mm from it: "
                "by d, dw = 400/(2·150·d²)·(L² − L₀²) and dLR = −400·L/(150·d²); by the direction of d, dw = −400/d·(sin γ − 1) with cos γ = (62500 mm² − L²)/60000 mm²"}, "computed", 1)
at = mm(0, 10, 25, 40, 50)
long = [mpf(250) - si(s) * 1000 for s in at]
cos = [(62500 - l * l) / 60000 for l in long]
sin = [mp.sqrt(1 - c * c) for c in cos]
hand = {"lever_ratio_per_x": [-l / 15 for l in long], "lever_ratio_per_y": [2 * c / s * (l / 30000) * 1000 for c, s, l in zip(cos, sin, long)],
        "travel_per_x": [(l * l - 62500) / 30000 for l in long], "travel_per_y": [-2 * (s - 1) for s in sin]}
for output, values in solve(TRIANGLE, "frame", "S2", at).items():
    for a, b in zip(values, hand[output]):
        assert abs(a - b) < mpf("1e-15") * (1 + abs(b)), (output, a, b)
g.add("linkage.sensitivity", {"mechanism": TRIANGLE, "body": "frame", "point": "S2", "at": at}, texts(hand), TOLERANCE,
      "the mechanism assembled anew at 50 digits", "the frame's eye of the shock, which stays as long as it is")

g = file.group(mpmath_source(SCRIPT, "invented geometries, assembled anew with one hole off its place to both sides"), "computed", 101)
for name, body, point, note in (
        ("a1", "swingarm", "P", "the swingarm's hole of the main pivot; the frame's stays"), ("a1", "frame", "P", "the frame's hole of the same pivot"),
        ("a1", "swingarm", "A", "the axle itself: it turns with the swingarm"), ("a2", "swingarm", "S1", "the swingarm's eye of the shock"),
        ("b1", "link", "T", "a link that drives the rocker"), ("c1", "seatstay", "H", "four-bar: the seatstay's hole"), ("c1", "chainstay", "H", "the chainstay's hole of the same pivot"),
        ("c3", "rocker", "R", "four-bar of nearly parallel links"), ("d2", "rear", "S1", "the eye of a shock on the rear triangle"), ("e1", "chainstay", "S2", "an eye of the shock on the chainstay"),
        ("e2", "lower", "M2", "shock between two short links"), ("f1", "second", "Q", "six-bar: the second rocker"), ("f2", "tie", "K", "six-bar: the tie link"),
        ("f4", "seatstay", "T", "three bodies on one pivot: the two others stay on the bolt"),
        ("f4", "link", "T", "the same pivot, another of the three")):
    given = named(name)
    add(given, body, point, tenths(given, 5), f"{name}: {note}")
shared = {**named("c1"), "axle": "H", "carrier": "seatstay"}
for body in ("seatstay", "chainstay"):
    add(shared, body, "H", tenths(shared, 4), f"the axle is a pivot, and the seatstay carries the wheel: the hole of the {body}")
eye = mechanism("M 14 53, R -20 302, S2 -300 250, H -390 32, A -437 30, T -144 387", "frame: M R S2; chainstay: M H; seatstay: H A T; rocker: T R", 40, shock=("H", "S2"))
for body in ("seatstay", "chainstay"):
    add(eye, body, "H", tenths(eye, 4), f"an eye of the shock on a pivot of two bodies: the hole of the {body}")
marked = {**named("c1"), "points": {**named("c1")["points"], "bridge": mm(-250, 150)}, "bodies": {**named("c1")["bodies"], "seatstay": ["H", "A", "T", "bridge"]}}
add(marked, "seatstay", "bridge", tenths(marked, 2), "a point that bears nothing: 0")
for name, body, point, note in (
        ("s1", "link", "N", "the pin on the link"), ("s1", "frame", "G", "the end of a slot in the frame"), ("s2", "swingarm", "F", "an end of the slot in the swingarm"),
        ("s2", "swingarm", "G", "its other end"), ("s2", "rocker", "N", "the pin on the rocker"), ("s3", "frame", "F2", "the slot of a body without a pivot"), ("s3", "carrier", "N1", "a pin of that body")):
    add(slotted(name), body, point, tenths(slotted(name), 4), f"{name}: {note}",
        {**TOLERANCE, "lever_ratio_per_x": "1e-9 1/m", "lever_ratio_per_y": "1e-9 1/m"})

g = file.group(RULES, "definition")
GOOD = {"mechanism": named("c1"), "body": "rocker", "point": "T", "at": mm(10, 20)}
g.refuse_each("linkage.sensitivity", GOOD, [
    ({"body": "mast"}, ["body"], "no such body"), ({"body": None}, ["body"], "missing"), ({"point": "W"}, ["point"], "no such point"), ({"point": None}, ["point"], "missing"),
    ({"point": "H"}, ["point"], "a point of other bodies"), ({"body": "frame"}, ["point"], "a point of moving bodies alone"),
    ({"mechanism": {**named("c1"), "axle": "H"}}, ["carrier"], "the axle is a point of two bodies, and which of them carries the wheel isn't said"),
    ({"mechanism": {**named("c1"), "stroke": "0 mm"}, "body": "mast"}, ["stroke"], "the stroke, in the mechanism"), ({"at": ["ten mm"]}, ["at"], "no number"), ({"hole": 3}, ["hole"], "no such field")])

file.write()
