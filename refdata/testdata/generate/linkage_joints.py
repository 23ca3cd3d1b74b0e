"""Writes data/cases/linkage-joints.json: forces in a pivot and at the shock of a
suspension at rest under a wheel load, and how far the pivot turns.

statics.py draws all bodies free and solves for all forces at once. They are
confirmed by virtual work, shock force = wheel force × lever ratio, and by the
whole bike's rear end drawn free: what the frame takes balances the wheel. See
mechanisms.py for the solver of the motion and casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from mechanisms import Mechanism, mechanism, named, slotted
from statics import forces, turned

file = File("forces in the pivots of suspension linkages")
SCRIPT = "linkage_joints.py"
UNIT = {"shock_force": "N", "joint_force": "N", "joint_angle": "deg", "joint_turn": "deg"}
TOLERANCE = {"shock_force": 1e-10, "joint_force": 1e-10, "joint_angle": "1e-8 deg", "joint_turn": "1e-8 deg"}


def mm(*xs):
    return [f"{x} mm" for x in xs]


def tenths(given, n):
    return [to(si(given["stroke"]) * k / n, "mm") for k in range(n + 1)]


def solve(given, force, joint, at):
    m = Mechanism(given)
    first, second = sorted(b for b, of in given["bodies"].items() if joint in of)
    out = {"shock_force": [], "joint_force": [], "joint_angle": [], "joint_turn": []}
    for s in map(si, at):
        shock, on = forces(m, s, (mpf(0), force))
        close(shock, force * m.ratio(s), mpf("1e-30"), "virtual work")
        frame = [f for (body, _), f in on.items() if body == "frame"]
        for total, wheel in zip(map(sum, zip(*frame)), (mpf(0), force)):
            assert abs(total - wheel) < mpf("1e-30") * force, "the rear end drawn free"
        x, y = on[first, joint]
        out["shock_force"].append(shock)
        out["joint_force"].append(mp.hypot(x, y))
        out["joint_angle"].append(mp.atan2(y, x))
        out["joint_turn"].append(turned(m, s, second) - turned(m, s, first))
    assert m.holds()
    return out


SECOND = "the shock's force by virtual work, and the sum of forces on the frame"


def add(given, force, joint, at, note):
    out = solve(given, si(force), joint, at)
    expect = {output: to(values, UNIT[output]) for output, values in out.items()}
    tolerance = dict(TOLERANCE)
    if max(out["joint_force"]) < mpf("1e-40") * si(force):  # at none of the strokes is there a force, or a direction
        del expect["joint_angle"], tolerance["joint_angle"]
        tolerance["joint_force"] = to(si(force) * mpf("1e-9"), "N")
    g.add("linkage.joints", {"mechanism": given, "wheel_force": force, "joint": joint, "at": at}, expect, tolerance, SECOND, note)
    return out


TRIANGLE = mechanism("P 0 0, A -400 0, S1 0 150, S2 200 0", "frame: P S2; swingarm: P A S1", 50)
g = file.group({"title": "closed form, worked by hand", "where": "150 and 200 mm from the pivot to the eyes, at a right angle at first, the axle 400 mm behind: "
                "lever ratio L/75 mm; at full extension the shock pushes along (−0.8, 0.6), the frame takes the rest"}, "computed", 1)
expect = {"shock_force": ["1000 N"], "joint_force": [to(mp.sqrt(800**2 + 900**2), "N")], "joint_angle": [to(mp.atan2(900, -800), "deg")], "joint_turn": ["0 deg"]}
got = solve(TRIANGLE, mpf(300), "P", ["0 mm"])
for output, values in expect.items():
    assert abs(got[output][0] - si(values[0])) < mpf("1e-11"), output
g.add("linkage.joints", {"mechanism": TRIANGLE, "wheel_force": "300 N", "joint": "P", "at": ["0 mm"]}, expect, TOLERANCE,
      "the general solver", "at full extension; the force is that on the frame, whose name comes first")

g = file.group(mpmath_source(SCRIPT, "invented geometries; all bodies drawn free, three equations each"), "computed", 101)
for name, joint, note in (
        ("a1", "P", "the main pivot of a single pivot, on the frame"),
        ("b1", "L", "the end of a link that drives a rocker, on the link"),
        ("c1", "H", "the chainstay is a link: the force along it goes through 180°"), ("c1", "M", "the other end of that link, on the chainstay"),
        ("c1", "T", "rocker and seatstay"), ("c2", "H", "chainstay and seatstay"), ("c3", "R", "the rocker's pivot, on the frame"),
        ("d2", "U2", "a short link and the rear triangle that the shock pushes"), ("e1", "M", "the pivot of a chainstay that carries the shock"),
        ("e2", "M2", "short link with an eye of the shock"), ("f1", "Q", "drive link and second rocker"), ("f1", "R2", "second rocker, on the frame"),
        ("f2", "K", "a tie between chainstay and rocker")):
    given = named(name)
    out = add(given, "1800 N", joint, tenths(given, 5), f"{name}: {note}")
    if (name, joint) == ("c1", "H"):
        signs = {mp.sign(a) for a in out["joint_angle"]}
        assert len(signs) == 2 and min(abs(a) for a in out["joint_angle"]) > 2, out["joint_angle"]
three = named("f4")
add(three, "950 N", "Q", tenths(three, 3), "f4: beside a pivot of three bodies, one of two")
shared = {**named("c1"), "axle": "H", "carrier": "seatstay"}
add(shared, "1200 N", "H", tenths(shared, 4), "the axle is the joint, and the seatstay carries the wheel: the force on the chainstay is that of the seatstay")
other = {**shared, "carrier": "chainstay"}
add(other, "1200 N", "H", tenths(other, 4), "likewise with the wheel on the chainstay: the force on it at the joint is without the wheel's")
capitals = {**named("c1"), "bodies": {"Rocker" if b == "rocker" else b: of for b, of in named("c1")["bodies"].items()}}
add(capitals, "1800 N", "R", tenths(capitals, 2), "in byte order a capital letter comes before a small one: the force is that on the Rocker, not on the frame")
eye = mechanism("M 14 53, R -20 302, S2 -300 250, H -390 32, A -437 30, T -144 387", "frame: M R S2; chainstay: M H; seatstay: H A T; rocker: T R", 40, shock=("H", "S2"))
add(eye, "1000 N", "H", tenths(eye, 4), "an eye of the shock on the joint: the force on the chainstay is all that acts on it there, as a link it takes force along itself alone")
turn = mechanism("O 0 0, C 600 0, S2 150 -520, A 150 260, B 528 353, axle -200 -60", "frame: O C S2; crank: O A axle; coupler: A B; rocker: C B", 60, axle="axle", shock=("A", "S2"))
add(turn, "2.5 kN", "A", tenths(turn, 4), "crank and coupler; the eye of the shock is on their pivot, and the crank's force there takes it up")
add(slotted("s1"), "1800 N", "L", tenths(slotted("s1"), 4), "s1: swingarm and link, whose pin slides in the frame")
add(slotted("s2"), "1800 N", "R", tenths(slotted("s2"), 4), "s2: the rocker's pivot, whose pin slides in the swingarm")
lined = {**slotted("s2"), "bodies": {**slotted("s2")["bodies"], "rocker": ["R", "S1", "N"]}, "slots": [{"point": "N", "on": "swingarm", "along": ["P", "F"]}],
         "points": {**slotted("s2")["points"], "F": mm(-212, 228), "N": mm(-100, 150)}}
add(lined, "1800 N", "P", tenths(lined, 4), "s2 with a slot whose line begins at the main pivot: its share of the pin's force is a part of that at the joint")

g = file.group(RULES, "definition")
GOOD = {"mechanism": named("c1"), "wheel_force": "1800 N", "joint": "T", "at": mm(10, 20)}
g.refuse_each("linkage.joints", GOOD, [
    ({"wheel_force": "0 N"}, ["wheel_force"], "zero"), ({"wheel_force": "-1800 N"}, ["wheel_force"], "down"), ({"wheel_force": "NaN N"}, ["wheel_force"], "not a number"),
    ({"wheel_force": "1800"}, ["wheel_force"], "missing unit"), ({"wheel_force": None}, ["wheel_force"], "missing"),
    ({"joint": "S1"}, ["joint"], "an eye of the shock, of one body"), ({"joint": "A"}, ["joint"], "the axle, of one body"), ({"joint": "W"}, ["joint"], "no such point"),
    ({"joint": None}, ["joint"], "missing"), ({"mechanism": named("f4"), "joint": "T"}, ["joint"], "three bodies"),
    ({"joint": "W", "wheel_force": "0 N"}, ["joint", "wheel_force"], "two bad, both named"),
    ({"mechanism": {**named("c1"), "axle": "H"}}, ["carrier"], "the axle is a point of two bodies, and which of them carries the wheel isn't said"),
    ({"mechanism": {**named("c1"), "axle": "W"}, "joint": "W"}, ["axle"], "no such axle, in the mechanism"), ({"at": ["10"]}, ["at"], "missing unit")])

file.write()
