"""Writes data/cases/linkage-drawing.json: what a point that is drawn elsewhere does to
a suspension with chain and brake.

The bike is drawn anew with the point off by a little to both sides, and solved at 50
digits by the programs of the other cases; the derivatives are central differences,
whose error is below the twentieth digit. A second step confirms them. See
mechanisms.py for the solver and casefile.py for how to run it.
"""
import copy

from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from drives import Drive, given, mm
from mechanisms import Mechanism, eliminate, slotted

file = File("points of suspension linkages drawn elsewhere")
SCRIPT = "linkage_drawing.py"
STEP = mpf("1e-12")  # m
SLOPES = ("lever_ratio", "anti_squat", "anti_rise", "kickback_wheel_rolling")


class Redrawn(Mechanism):
    """A mechanism with a point drawn elsewhere, solved from the poses of the one before."""

    def __init__(self, before, point, off):
        self.__dict__.update(before.__dict__)
        self.before, self.poses = before, {}
        x, y = before.points[point]
        self.points = {**before.points, point: (x + off[0], y + off[1])}
        (ax, ay), (bx, by) = (self.points[p] for p, _ in self.eyes)
        self.length = mp.hypot(ax - bx, ay - by)

    def at(self, s):
        if s not in self.poses:
            q = self.before.at(s).q
            for _ in range(6):
                rest, rows = self._equations(q, s)
                (change,), _ = eliminate(rows, [[-r for r in rest]])
                q = [a + b for a, b in zip(q, change)]
                if max(abs(c) for c in change) < mpf("1e-26"):
                    break  # the error is the square of this
            self.poses[s] = self._rates(s, q)
        return self.poses[s]


def redrawn(drive, point, off):
    new = copy.copy(drive)
    new.m = Redrawn(drive.m, point, off)
    new.axle = new.m.points[new.m.axle]
    return new


def values(drive, s):
    return {"lever_ratio": drive.m.ratio(s), "travel": drive.m.travel_at(s), "anti_squat": drive.squat(s), "anti_rise": drive.rise(s),
            "chain_growth": drive.growth(s), "kickback_wheel_rolling": drive.rolling(s)}


def central(drive, point, axis, strokes, step):
    """The derivatives of all values by x or y of the point, at each stroke."""
    more, less = (redrawn(drive, point, [sign * step if i == axis else mpf(0) for i in (0, 1)]) for sign in (1, -1))
    return [{k: (v - values(less, s)[k]) / (2 * step) for k, v in values(more, s).items()} for s in strokes]


def add(spec, point, note):
    drive, strokes = Drive(spec), [si(s) for s in spec["at"]]
    expect = {}
    for axis, name in enumerate("xy"):
        for output in values(drive, strokes[0]):
            expect[f"{output}_per_{name}"] = []
        for one, two in zip(*(central(drive, point, axis, strokes, step) for step in (STEP, 3 * STEP))):
            for output, value in one.items():
                assert abs(value - two[output]) < mpf("1e-16") * (1 + abs(value)), (note, output)
                expect[f"{output}_per_{name}"].append(value if abs(value) > mpf("1e-18") else mpf(0))
    slope = {k: k.rsplit("_per_", 1)[0] in SLOPES for k in expect}
    expect = {k: to(v, "1/m") if slope[k] else num(v) for k, v in expect.items()}
    g.add("linkage.drawing", {**spec, "point": point}, {**expect, "shock_length": to(drive.m.length, "mm")},
          {**{k: "1e-8 1/m" if slope[k] else "1e-9" for k in expect}, "shock_length": "1e-9 mm"}, "a second step of the central difference", note)


g = file.group(mpmath_source(SCRIPT, "invented geometries, drawn anew with one point off its place to both sides"), "computed", 1)
AT = mm(0, 15, 35, 50)
IDLER_ON_LINK = {"teeth": 16, "at": mm(-10, 190), "on": "upper"}
for spec, point, note in (
        (given("a1", 32, 21, "level", at=AT), "S2", "an eye of the shock: its length follows"),
        (given("a1", 32, 21, "front", at=AT), "A", "the axle, and with it the height of all that counts from it"),
        (given("a2", 32, 24, "level", {"teeth": 16, "at": mm(-48, 200), "on": "swingarm"}, at=AT), "P", "the main pivot, with an idler on the swingarm"),
        (given("a2", 32, 24, "front", {"teeth": 16, "at": mm(-18, 196), "on": "frame"}, at=AT), "S2", "the frame's eye, with an idler on the frame"),
        (given("d2", 32, 24, "level", {"teeth": 16, "at": mm(-60, 170), "on": "rear"}, at=AT), "U2", "a short link, with an idler on the body that carries the wheel"),
        (given("c1", 32, 21, "front", brake_on="chainstay", at=AT), "S1", "the eye on the rocker, and a floating caliper"),
        (given("c1", 32, 21, "level", brake_on="rocker", at=AT), "H", "a pivot of chainstay and seatstay"),
        (given("d1", 20, 14, "front", IDLER_ON_LINK, brake_on="lower", chainring_at=mm(-30, 95), chainring_on="lower", front_wheel_radius="0.42 m", at=AT), "S1",
         "chainring and caliper on one link, the idler on the other"),
        (given("a2", 20, 24, "front", {"teeth": 14, "at": mm(-18, 196), "on": "frame"}, chainring_at=mm(-60, 60), chainring_on="swingarm", at=AT), "S1",
         "chainring on the swingarm, idler on the frame"),
        ({**given("a1", 32, 21, "front", at=AT), "mechanism": slotted("s2")}, "S1", "a pin of the rocker slides in the swingarm")):
    add(spec, point, note)

g = file.group(RULES, "definition")
g.refuse_each("linkage.drawing", {**given("a1", 32, 21, "level", at=AT), "point": "P"}, [
    ({"point": "W"}, ["point"], "no such point"), ({"point": None}, ["point"], "missing"), ({"ground": "moon"}, ["ground"], "no such ground"),
    ({"wheel_radius": "0 mm"}, ["wheel_radius"], "zero"), ({"at": ["15"]}, ["at"], "missing unit"), ({"at": mm(*[15] * 101), "point": "W"}, ["at", "point"], "too many strokes, and no such point"), ({"hole": "P"}, ["hole"], "no such field")])

file.write()
