"""Writes data/cases/sag-geometry.json: how a bike lies at a pair of strokes, and the
preload that brings an end to its target.

The ground is the line below both wheels that touches the two circles, found by a
search for its angle. Lengths along it come from the feet of plumb lines and from where
the steering axis crosses it, all as points of the plane. See casefile.py for how to
run it.
"""
from mpmath import mp, mpc, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from curves import curve
from laws import bisect
from mechanisms import Mechanism, named

file = File("geometry of a bike at its strokes, and preload for a target")
SCRIPT = "sag_geometry.py"


def dot(a, b):
    return a.real * b.real + a.imag * b.imag


class Wheel:
    """The path of an axle behind a curve: how far it has moved, x + i·y, and the travel."""

    def __init__(self, spec):
        self.fork = si(spec["fork"]["head_angle"]) if "fork" in spec else None
        self.bars = Mechanism(spec["mechanism"]) if "mechanism" in spec else None
        self.curve = self.bars or curve(spec)
        self.stroke = self.curve.stroke
        self.full = self.move(self.stroke).imag

    def move(self, s):
        if self.fork is not None:
            return s * mpc(-mp.cos(self.fork), mp.sin(self.fork))
        if self.bars:
            (x, y), (x0, y0) = self.bars.wheel(s)[0], self.bars.wheel(mpf(0))[0]
            return mpc(x - x0, y - y0)
        return mpc(0, self.curve.travel_at(s))


def lie(given, note):
    radii = [si(given.get(f"{end}_wheel_radius", given.get("wheel_radius"))) for end in ("front", "rear")]
    front, rear = Wheel(given["front"]), Wheel(given["rear"])
    s = [si(given.get("front_stroke", "0 mm")), si(given.get("rear_stroke", "0 mm"))]
    moves = [front.move(s[0]), rear.move(s[1])]
    axle = [mpc(si(given["wheelbase"]), radii[0]) + moves[0], mpc(0, radii[1]) + moves[1]]

    def feet(angle):  # of both wheels, below the axles at right angles to a ground of this angle
        down = -mpc(0, 1) * mp.expj(angle)
        return [a + r * down for a, r in zip(axle, radii)]

    def off(angle):  # of the front foot from a ground through the rear one
        f, r = feet(angle)
        return dot(f - r, mpc(0, 1) * mp.expj(angle))

    angle = bisect(off, mpf(-1) / 2, mpf(1) / 2) if off(mpf(-1) / 2) < 0 else bisect(lambda a: -off(a), mpf(-1) / 2, mpf(1) / 2)
    foot, t = feet(angle), mp.expj(angle)
    base = abs(foot[0] - foot[1])
    close(base**2, abs(axle[0] - axle[1])**2 - (radii[0] - radii[1])**2, mpf("1e-40"), "the tangent of two circles")
    expect = {"front_travel": to(moves[0].imag, "mm"), "rear_travel": to(moves[1].imag, "mm"), "front_sag": num(moves[0].imag / front.full),
              "rear_sag": num(moves[1].imag / rear.full), "pitch": to(-angle if abs(angle) > mpf("1e-40") else mpf(0), "deg"), "wheelbase": to(base, "mm")}
    if front.fork is not None:
        up = mpc(-mp.cos(front.fork), mp.sin(front.fork))  # along the steering axis
        expect["head_angle"] = to(mp.arg(up / -t) * -1, "deg")
        if "fork_offset" in given:
            on = axle[0] + si(given["fork_offset"]) * mpc(0, 1) * up  # square to the axis, behind the axle
            normal = mpc(0, 1) * t
            meets = on - up * dot(on - foot[0], normal) / dot(up, normal)
            expect["trail"] = to(dot(meets - foot[0], t), "mm")
    if "bottom_bracket_height" in given and "chainstay_length" in given:
        above, stay = si(given["bottom_bracket_height"]), si(given["chainstay_length"])
        bracket = mpc(mp.sqrt(stay**2 - (above - radii[1])**2), above)
        expect["bottom_bracket_height"] = to(dot(bracket - foot[1], mpc(0, 1) * t), "mm")
    g.add("sag.geometry", given, expect, 1e-9 if front.bars or rear.bars else 1e-12,
          "the wheelbase again by Pythagoras in the triangle of axles and radii", note)


def fork(angle, travel):
    return {"fork": {"head_angle": f"{angle} deg", "travel": f"{travel} mm"}}


def ratio(r, travel):
    return {"constant": r, "travel": f"{travel} mm"}


TABLE = {"table": {"stroke": ["0 mm", "15 mm", "30 mm", "45 mm", "60 mm"], "travel": ["0 mm", "45 mm", "86 mm", "123 mm", "156 mm"], "method": "monotone"}}
g = file.group(mpmath_source(SCRIPT, "invented bikes"), "computed", 1)
TRAIL = {"front": fork(64, 170), "rear": ratio(2.6, 150), "wheelbase": "1240 mm", "wheel_radius": "368 mm"}
DRAWN = {"fork_offset": "44 mm", "bottom_bracket_height": "345 mm", "chainstay_length": "436 mm"}
lie({**TRAIL, **DRAWN}, "at full extension: what was drawn")
lie({**TRAIL, **DRAWN, "front_stroke": "34 mm", "rear_stroke": "17 mm"}, "at a usual sag")
lie({**TRAIL, **DRAWN, "front_stroke": "170 mm", "rear_stroke": "57.6 mm"}, "both ends near the end of their travel")
lie({**TRAIL, **DRAWN, "front_stroke": "150 mm"}, "the front deep, the rear at full extension: braking hard")
lie({**TRAIL, **DRAWN, "rear_stroke": "50 mm"}, "the rear deep, the front at full extension")
lie({**TRAIL, "front_stroke": "40 mm", "rear_stroke": "20 mm"}, "without offset and bottom bracket: neither trail nor height")
lie({**TRAIL, **DRAWN, "fork_offset": "0 mm", "front_stroke": "40 mm"}, "the axle on the steering axis")
lie({**TRAIL, **DRAWN, "fork_offset": "-30 mm", "front_stroke": "40 mm"}, "the axle behind the steering axis")
lie({"front": fork(63, 180), "rear": TABLE, "wheelbase": "1262 mm", "front_wheel_radius": "372 mm", "rear_wheel_radius": "349 mm", **DRAWN, "front_stroke": "45 mm", "rear_stroke": "22 mm"},
    "two sizes of wheel, the larger in front; the rear a table")
lie({"front": fork(70, 100), "rear": ratio(2.2, 110), "wheelbase": "1120 mm", "front_wheel_radius": "330 mm", "rear_wheel_radius": "371 mm", "bottom_bracket_height": "300 mm", "chainstay_length": "430 mm",
     "front_stroke": "25 mm", "rear_stroke": "16 mm"}, "the larger wheel behind; the bottom bracket below the rear axle")
lie({"front": ratio(1, 120), "rear": ratio(2.4, 120), "wheelbase": "1180 mm", "wheel_radius": "14.5 in", "front_stroke": "1.2 in", "rear_stroke": "0.6 in"}, "no fork: neither head angle nor trail; in inches")
for name, note in (("a1", "an axle on an arc"), ("c1", "four bars"), ("d2", "four bars, the shock on the rear triangle")):
    bars = {"mechanism": named(name)}
    deep = to(si(named(name)["stroke"]) * 2 / 5, "mm")
    lie({"front": fork(64.5, 160), "rear": bars, "wheelbase": "1235 mm", "wheel_radius": "366 mm", **DRAWN, "front_stroke": "36 mm", "rear_stroke": deep}, f"{name}: {note}")


def preload(spec, load, sag, rate, note, unit="mm"):
    c = curve(spec)
    s = c.stroke_at(si(sag) * c.travel)
    most = si("1 m")
    by = bisect(lambda x: si(rate) * (s + x) - si(load) * c.ratio(s), -most, most)
    close(si(rate) * (s + by), si(load) * c.ratio(s), mpf("1e-40"), "the forces on the spring")
    g.add("sag.preload", {"curve": spec, "load": load, "sag": sag, "rate": rate}, {"preload": to(by, unit)}, 1e-11,
          "a search for the preload at which the spring's force balances the load", note)


preload(ratio(2.6, 150), "520 N", 0.3, "450 lbf/in", "a shelf spring close to the target")
preload(ratio(2.6, 150), "520 N", 0.25, "450 lbf/in", "less sag, more preload")
preload(ratio(2.6, 150), "480 N", 0.3, "500 lbf/in", "a spring that is too hard: less than 0")
preload(ratio(3, 165), "150 lbf", 0.28, "475 lbf/in", "in pounds and inches", "in")
preload(fork(64, 170), "310 N", 0.2, "6 N/mm", "a fork, along the stanchion")
preload(fork(90, 120), "400 N", 0.25, "9 N/mm", "an upright fork: the load itself")
preload(TABLE, "560 N", 0.3, "75 N/mm", "a falling ratio")
preload({"table": {**TABLE["table"], "method": "smooth"}}, "560 N", 0.3, "75 N/mm", "the same as a spline")
preload({"table": {"stroke": ["0 in", "0.7 in", "1.5 in", "2.2 in"], "travel": ["0 in", "1.9 in", "3.9 in", "5.5 in"], "method": "monotone"}}, "140 lbf", 0.33, "480 lbf/in", "a table in inches", "in")

g = file.group(RULES, "definition", 1)
GOOD = {**TRAIL, **DRAWN, "front_stroke": "30 mm", "rear_stroke": "15 mm"}
g.refuse_each("sag.geometry", GOOD, [
    ({"wheelbase": None}, ["wheelbase"], "missing"), ({"wheelbase": "-1240 mm"}, ["wheelbase"], "negative"), ({"wheel_radius": None}, ["wheel_radius"], "missing"),
    ({"wheel_radius": None, "rear_wheel_radius": "360 mm"}, ["wheel_radius"], "that of the front is missing"), ({"front_wheel_radius": "11 m"}, ["front_wheel_radius"], "larger than any wheel"),
    ({"front_stroke": "171 mm"}, ["front_stroke"], "beyond the stroke of the fork"), ({"rear_stroke": "-1 mm", "front_stroke": "NaN mm"}, ["front_stroke", "rear_stroke"], "not a number, and negative"),
    ({"fork_offset": "44"}, ["fork_offset"], "missing unit"), ({"fork_offset": "1.5 m"}, ["fork_offset"], "longer than any fork has"),
    ({"chainstay_length": "20 mm"}, ["chainstay_length"], "shorter than the bottom bracket is below the axle"), ({"bottom_bracket_height": "-345 mm"}, ["bottom_bracket_height"], "negative"),
    ({"front": fork(0, 170), "rear": ratio(-2.6, 150)}, ["head_angle", "constant"], "both curves"), ({"slope": "5 deg"}, ["slope"], "no such field: the slope does not matter"),
    ({"wheelbase": "50 mm", "front_stroke": "160 mm"}, ["wheelbase"], "wheels that can't both stand on the ground"),
])
g.refuse_each("sag.preload", {"curve": ratio(2.6, 150), "load": "520 N", "sag": 0.3, "rate": "450 lbf/in"}, [
    ({"rate": "0 N/mm"}, ["rate"], "zero"), ({"rate": None}, ["rate"], "missing"), ({"load": "-520 N"}, ["load"], "negative"), ({"sag": 1}, ["sag"], "all of the travel"),
    ({"preload": "1 mm"}, ["preload"], "it is what is sought"), ({"curve": ratio(0, 150), "rate": "-1 N/mm", "sag": 30}, ["constant", "rate", "sag"], "bad in three places, all named"),
])
file.write()
