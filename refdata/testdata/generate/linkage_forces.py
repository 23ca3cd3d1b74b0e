"""Writes data/cases/linkage-forces.json: forces in a pivot, along a link and at the shock
while the chain drives the wheel or the brake holds it.

The wheel is drawn free: the ground pushes it at its contact point, the chain pulls at
the tangent point of its sprocket, or the caliper's body turns it, and the axle takes
the rest. Chainring and idler are pulled where the chain leaves them. What all that
does to the bodies goes to statics.py. The shock's force is confirmed by virtual work,
from how fast the contact point moves. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, si, to
from drives import Drive, dot, given, mm, radius, run
from statics import forces_under

file = File("forces in the pivots under drive and brake")
SCRIPT = "linkage_forces.py"


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def less(a, b):
    return a[0] - b[0], a[1] - b[1]


def loads(d, s, up, forward):
    """Body, place and force of all that acts on the mechanism."""
    axle = d.m.wheel(s)[0]
    t, n, _, _, contact = d.stance(s)
    ground = (up * n[0] + forward * t[0], up * n[1] + forward * t[1])
    turning = cross(less(contact, axle), ground)  # by the ground, about the axle
    if forward <= 0:  # a couple on the caliper's body, a metre apart
        return [(d.m.carrier, axle, ground), (d.caliper, (mpf(0), mpf(0)), (-turning, mpf(0))), (d.caliper, (mpf(0), mpf(-1)), (turning, mpf(0)))]
    ring = d.m.point(s, d.ring_on, "chainring")
    pulleys = [(axle, d.sprocket, None), (ring, d.chainring, d.ring_on)]
    if d.idler:
        pulleys.insert(1, (d.m.point(s, d.idler["on"], "idler"), radius(d.idler["teeth"]), d.idler["on"]))
    tension, out, on_wheel = None, [], ground
    for (a, ra, from_), (b, rb, on) in zip(pulleys, pulleys[1:]):
        u, _, normal = run(a, ra, b, rb)
        leaves, arrives = [(p[0] + r * normal[0], p[1] + r * normal[1]) for p, r in ((a, ra), (b, rb))]
        if tension is None:  # the wheel has no inertia
            tension = -turning / cross(less(leaves, axle), u)
            on_wheel = (ground[0] + tension * u[0], ground[1] + tension * u[1])
        else:
            out.append((from_, leaves, (tension * u[0], tension * u[1])))
        out.append((on, arrives, (-tension * u[0], -tension * u[1])))
    return [(d.m.carrier, axle, on_wheel), *out]


def work(d, s, up, forward):
    """The work of the ground's force per stroke, by the rate of the contact point."""
    t, n, _, _, _ = d.stance(s)
    v, turning = d.m.wheel(s)[1], -d.chain(s)[1] / d.sprocket if forward > 0 else d.m.turning(s, d.caliper)
    moves = (v[0] + d.wheel * turning * t[0], v[1] + d.wheel * turning * t[1])
    return up * dot(moves, n) + forward * dot(moves, t)


def add(spec, up, forward, joint, link, note):
    d = Drive(spec)
    first = min(b for b, of in spec["mechanism"]["bodies"].items() if joint in of)
    p, q = spec["mechanism"]["bodies"][link]
    out = {"shock_force": [], "joint_force": [], "joint_angle": [], "link_tension": []}
    for s in map(si, spec["at"]):
        shock, on = forces_under(d.m, s, loads(d, s, si(up), si(forward)))
        close(shock, work(d, s, si(up), si(forward)), mpf("1e-30"), "virtual work")
        x, y = on[first, joint]
        way = less(d.m.point(s, link, p), d.m.point(s, link, q))
        close(mp.hypot(*on[link, p]) ** 2, (dot(on[link, p], way) / mp.hypot(*way)) ** 2, mpf("1e-30"), "a link is pulled along itself")
        out["shock_force"].append(shock)
        out["joint_force"].append(mp.hypot(x, y))
        out["joint_angle"].append(mp.atan2(y, x))
        out["link_tension"].append(dot(on[link, p], way) / mp.hypot(*way))
    assert d.m.holds()
    unit = {"joint_angle": "deg"}
    g.add("linkage.forces", {**spec, "up": up, "forward": forward, "joint": joint, "link": link},
          {name: to(values, unit.get(name, "N")) for name, values in out.items()}, {"*": 1e-10, "joint_angle": "1e-8 deg"},
          "the shock's force by virtual work, and every link pulled along itself", note)


FIVE = mm(0, 12, 25, 37, 50)
g = file.group(mpmath_source(SCRIPT, "invented geometries; wheel and pulleys drawn free"), "computed", 1)
add(given("b1", 32, 21, "level", at=FIVE), "900 N", "350 N", "P", "link", "driven: the main pivot of a single pivot, and the link that drives its rocker")
add(given("b1", 32, 21, "level", at=FIVE), "400 N", "-300 N", "P", "link", "the rear brake, its caliper on the swingarm")
add(given("c1", 34, 16, "front", at=FIVE), "1200 N", "500 N", "T", "chainstay", "driven: rocker and seatstay of a four-bar, the chainstay is a link")
add(given("c1", 34, 16, "front", brake_on="seatstay", at=FIVE), "1200 N", "-600 N", "H", "chainstay", "braked: the chainstay at its rear end")
add(given("d2", 32, 21, "level", brake_on="upper", at=FIVE), "700 N", "-250 N", "M2", "lower", "braked, a floating caliper on the upper link")
add(given("b1", 32, 21, "front", {"teeth": 15, "at": mm(14, 260), "on": "frame"}, at=FIVE), "900 N", "450 N", "P", "link", "driven over an idler on the frame")
add(given("c1", 32, 21, "level", {"teeth": 16, "at": mm(-20, 330), "on": "rocker"}, at=FIVE), "900 N", "450 N", "R", "chainstay", "driven over an idler on the rocker")
add(given("f1", 32, 21, "level", chainring_at=mm(-60, 40), chainring_on="chainstay", at=FIVE), "900 N", "450 N", "M", "link", "the chainring on the chainstay, which takes its torque")
add(given("f1", 36, 18, "front", at=FIVE), "950 N", "0 N", "Q", "chainstay", "neither driven nor braked")

g = file.group(RULES, "definition", 1)
GOOD = {**given("b1", 32, 21, "level", at=FIVE), "up": "900 N", "forward": "350 N", "joint": "P", "link": "link"}
g.refuse_each("linkage.forces", GOOD, [
    ({"up": None}, ["up"], "missing"), ({"up": "-900 N", "forward": "2000 kN"}, ["up", "forward"], "less than nothing, and more than any tyre holds"),
    ({"joint": "A"}, ["joint"], "a point of one body"), ({"joint": None, "link": None}, ["joint", "link"], "missing"), ({"joint": None, "wheel_radius": "0 mm"}, ["wheel_radius"], "the drive's own faults hide those of the joint"),
    ({"link": "swingarm"}, ["link"], "the wheel loads it too"), ({"link": "chain"}, ["link"], "no body"), ({"link": None}, ["link"], "missing"),
])
file.write()
