"""Writes data/cases/linkage-refusals.json: mechanisms, chains and bikes that
must be refused, and mechanisms that lock inside their stroke.

That they lock is found by turning a body instead of compressing the shock,
which passes the dead point: there the shock, or the wheel, turns back. See
mechanisms.py for the solver and casefile.py for how to run it.
"""
from mpmath import mpf

from casefile import File, RULES, digits, mpmath_source, si, to
from mechanisms import Turned, mechanism, named

file = File("suspension linkages that must be refused")
SCRIPT = "linkage_refusals.py"


def mm(*xs):
    return [f"{x} mm" for x in xs]


# ---------------------------------------------------------------- what is wrong

GOOD = named("c1")
AT = mm(10, 20)
DELETE = object()


def changed(given, path, value):
    """A copy with the value at path, such as "points.A", replaced or left out."""
    head, _, rest = path.partition(".")
    key = int(head) if isinstance(given, list) else head
    out = list(given) if isinstance(given, list) else dict(given)
    if rest:
        out[key] = changed(out[key], rest, value)
    elif value is DELETE:
        del out[key]
    else:
        out[key] = value
    return out


def bodies(**more):
    """The good mechanism with bodies added or replaced; None takes one away."""
    return {**GOOD, "bodies": {b: of for b, of in {**GOOD["bodies"], **more}.items() if of is not None}}


EXTRA = {**GOOD["points"], "X": mm(-60, 200), "Y": mm(60, 180), "Z": mm(0, 150)}
g = file.group(RULES, "definition")
for given, fields, note in [
    ({**GOOD, "points": EXTRA, "bodies": {**GOOD["bodies"], "spare": ["H", "X"]}}, ["bodies"], "a body too many: it swings by itself"),
    (bodies(rocker=["T", "S1"]), ["bodies"], "a rocker without its pivot on the frame: free to move in two ways more"),
    (bodies(chainstay=None), ["bodies"], "a body too few: the seatstay is joined to the rocker alone"),
    ({**GOOD, "points": EXTRA, "bodies": {**GOOD["bodies"], "frame": ["M", "R", "S2", "Z"], "seatstay": ["H", "A", "T", "X"], "strut": ["X", "Z"]}},
     ["bodies"], "a strut too many: nothing moves"),
    (bodies(seatstay=["H", "A", "T", "R"]), ["bodies"], "one pivot too many"),
    ({**GOOD, "points": EXTRA, "bodies": {**GOOD["bodies"], "one": ["X", "Y"], "two": ["Y", "Z"]}}, ["bodies"], "in pieces: two bodies joined to each other alone"),
    ({**GOOD, "points": EXTRA, "bodies": {**GOOD["bodies"], "loose": ["X", "Y"]}}, ["bodies"], "in pieces: a body that nothing is joined to"),
    (changed(GOOD, "bodies.frame", DELETE), ["bodies"], "no frame"),
    ({**GOOD, "bodies": {"frame": list(GOOD["points"])}}, ["bodies"], "nothing but a frame"),
    ({**GOOD, "bodies": {}}, ["bodies"], "no body"),
    (changed(GOOD, "bodies", DELETE), ["bodies"], "missing"),
    (bodies(rocker=["T", "R", "S1", "W"]), ["bodies"], "a point that is not there"),
    (bodies(rocker=["T", "R", "S1", "T"]), ["bodies"], "a point twice in one body"),
    ({**GOOD, "axle": "AX"}, ["axle"], "no such point"), ({**GOOD, "axle": ""}, ["axle"], "no name"), (changed(GOOD, "axle", DELETE), ["axle"], "missing"),
    ({**GOOD, "axle": "M"}, ["axle"], "on the frame: it never moves"), ({**GOOD, "axle": "S2"}, ["axle"], "on the frame, at the shock"),
    ({**GOOD, "points": EXTRA, "axle": "X"}, ["axle"], "a point of no body"),
    ({**GOOD, "shock": ["S1", "S3"]}, ["shock"], "no such point"), ({**GOOD, "shock": ["", "S2"]}, ["shock"], "no name"), (changed(GOOD, "shock", DELETE), ["shock"], "missing"),
    ({**GOOD, "shock": ["S1", "T"]}, ["shock"], "both ends on the rocker: it never shortens"), ({**GOOD, "shock": ["M", "S2"]}, ["shock"], "both ends on the frame"),
    ({**GOOD, "shock": ["S1", "S1"]}, ["shock"], "one point for both ends"),
    (changed(GOOD, "points.S2", GOOD["points"]["S1"]), ["shock"], "both ends in one place: no length"),
    ({**GOOD, "stroke": "218 mm"}, ["stroke"], "longer than the shock, 217.6 mm from eye to eye"), ({**GOOD, "stroke": "0 mm"}, ["stroke"], "zero"),
    ({**GOOD, "stroke": "-62.5 mm"}, ["stroke"], "negative"), ({**GOOD, "stroke": "NaN mm"}, ["stroke"], "not a number"), ({**GOOD, "stroke": "Inf mm"}, ["stroke"], "infinite"),
    ({**GOOD, "stroke": "62.5"}, ["stroke"], "missing unit"), ({**GOOD, "stroke": "62.5 N"}, ["stroke"], "the unit of another quantity"), (changed(GOOD, "stroke", DELETE), ["stroke"], "missing"),
    (changed(GOOD, "points.A.0", "-437"), ["mechanism.points.A[0]"], "missing unit"), (changed(GOOD, "points.H.1", "32 kg"), ["mechanism.points.H[1]"], "the unit of another quantity"),
    (changed(GOOD, "points.T.0", "-144,5 mm"), ["mechanism.points.T[0]"], "the decimal sign is a point"), (changed(GOOD, "points.T.1", "NaN mm"), ["mechanism.points.T[1]"], "not a number"),
    (changed(GOOD, "points.R.0", "Inf mm"), ["mechanism.points.R[0]"], "infinite"), (changed(GOOD, "points", DELETE), ["points", "bodies"], "missing: and the bodies name points"),
    (changed(changed(GOOD, "points.A.0", "-437"), "points.H.1", ""), ["mechanism.points.A[0]", "mechanism.points.H[1]"], "two coordinates bad, both named"),
    ({**GOOD, "axle": "AX", "stroke": "0 mm"}, ["axle", "stroke"], "axle and stroke bad, both named"),
    ({**GOOD, "axle": "M", "shock": ["S1", "T"], "stroke": "-1 mm"}, ["axle", "shock", "stroke"], "three bad, all named"),
    ({**GOOD, "damper": "stiff"}, ["damper"], "no such field"),
]:
    g.refuse("linkage.mechanism", {"mechanism": given, "at": AT}, fields, note)
g.refuse("linkage.mechanism", {"mechanism": GOOD, "at": ["10"]}, ["at"], "missing unit")
for given, note in [({**GOOD, "axle": "H"}, "the axle is a point of two bodies, and which of them carries the wheel isn't said"),
                    ({**GOOD, "axle": "H", "carrier": "rocker"}, "the axle is a point of two bodies, and a third is said to carry the wheel"),
                    ({**GOOD, "carrier": "chainstay"}, "the axle is a point of one body, and another is said to carry the wheel"),
                    ({**GOOD, "carrier": "mast"}, "no such body")]:
    g.refuse("linkage.mechanism", {"mechanism": given, "at": AT}, ["carrier"], note)
PARALLEL = mechanism("P 0 0, U 0 100, W 0 200, L -400 0, V -400 100, X -400 200, A -430 20, S1 0 150, S2 200 0",
                     "frame: P U W S2; lower: P L S1; upper: U V; third: W X; rear: L V X A", 50)
g.refuse("linkage.mechanism", {"mechanism": PARALLEL, "at": AT}, ["bodies"], "three parallel links of one length: one is to spare, and they would share the force as they flex")
g.refuse("linkage.mechanism", {"mechanism": {**named("a1"), "shock": ["S1", "S3"], "points": {**named("a1")["points"], "S3": mm(-180, -60)}, "bodies": {"frame": ["P", "S3"], "swingarm": ["P", "A", "S1"]}},
                               "at": AT}, ["axle"], "a shock that gets longer as the wheel rises: the axle sinks as it is compressed")

IDLER = {"teeth": 16, "at": mm(-30, 190), "on": "frame"}
BIKE = {"mechanism": named("a2"), "drivetrain": {"chainring": 32, "sprocket": 24, "idler": IDLER}, "wheel_radius": "370 mm", "front_axle_x": "780 mm",
        "mass_centre": mm(60, 1120), "ground": "level", "at": AT}
for path, value, fields, note in [
    ("drivetrain.chainring", 0, ["chainring"], "zero"), ("drivetrain.chainring", -32, ["chainring"], "negative"), ("drivetrain.chainring", 32.5, ["chainring"], "half a tooth"),
    ("drivetrain.chainring", 2, ["chainring"], "two teeth are no wheel"), ("drivetrain.chainring", DELETE, ["chainring"], "missing"),
    ("drivetrain.chainring", "32 mm", ["chainring"], "teeth are a number"), ("drivetrain.sprocket", 0, ["sprocket"], "zero"), ("drivetrain.sprocket", DELETE, ["sprocket"], "missing"),
    ("drivetrain.idler.teeth", 0, ["drivetrain.idler.teeth"], "zero"), ("drivetrain.idler.on", "fork", ["drivetrain.idler.on"], "no such body"),
    ("drivetrain.idler.on", DELETE, ["drivetrain.idler.on"], "missing: on the frame must be said"), ("drivetrain.idler.at.0", "-30", ["drivetrain.idler.at"], "missing unit"),
    ("drivetrain.idler.at.1", "NaN mm", ["drivetrain.idler.at"], "not a number"), ("drivetrain", {}, ["chainring", "sprocket"], "empty"), ("drivetrain", DELETE, ["chainring", "sprocket"], "missing"),
    ("wheel_radius", "0 mm", ["wheel_radius"], "zero"), ("wheel_radius", "-370 mm", ["wheel_radius"], "negative"), ("wheel_radius", "370", ["wheel_radius"], "missing unit"),
    ("wheel_radius", DELETE, ["wheel_radius"], "missing"), ("front_axle_x", "NaN mm", ["front_axle_x"], "not a number"), ("front_axle_x", "-780 mm", ["front_axle_x"], "behind the rear wheel"),
    ("front_axle_x", "780 deg", ["front_axle_x"], "the unit of another quantity"), ("ground", "moon", ["ground"], "no such ground"), ("ground", "Level", ["ground"], "a capital letter"),
    ("ground", DELETE, ["ground"], "missing: there is no usual one"), ("mass_centre.1", "0 mm", ["mass_centre"], "on the ground: no load is transferred"),
    ("mass_centre.1", "-1120 mm", ["mass_centre"], "below the ground"), ("mass_centre.0", "60", ["mass_centre"], "missing unit"), ("mass_centre.1", "Inf mm", ["mass_centre"], "infinite"),
    ("brake_on", "fork", ["brake_on"], "no such body"), ("mechanism.axle", "AX", ["axle"], "no such point, in the mechanism"), ("mechanism.stroke", "206 mm", ["stroke"], "longer than the shock"),
    ("at", ["ten mm"], ["at"], "no number"), ("gear", 3, ["gear"], "no such field"),
]:
    g.refuse("linkage.drivetrain", changed(BIKE, path, value), fields, note)
g.refuse("linkage.drivetrain", {**BIKE, "wheel_radius": "0 mm", "ground": "moon", "mass_centre": mm(60, -5)}, ["wheel_radius", "ground", "mass_centre"], "three bad, all named")
g.refuse("linkage.drivetrain", {**BIKE, "drivetrain": {"chainring": 32, "sprocket": 24, "idler": {"teeth": 15, "at": mm(0, 95), "on": "frame"}}}, ["drivetrain"],
         "the pitch circles of chainring and idler, 64.8 and 30.5 mm, overlap by a third of a millimetre")

# ----------------------------------------------------------------------- locked

g = file.group(mpmath_source(SCRIPT, "invented geometries; the dead point found by turning a body instead of compressing the shock"), "computed", 101)


def locks(given, body, step, kind, what, start=0, wanted=None):
    """A mechanism that locks; found by turning the body in steps of so many radians."""
    m = Turned(given, body)
    at, found = m.dead_point(mpf(str(step)), mpf(str(start)))
    assert found == kind and at < si(given["stroke"]), (what, found, at)
    if wanted:
        assert abs(at * 1000 - mpf(wanted)) < mpf("0.01"), (what, at)
    g.refuse("linkage.mechanism", {"mechanism": given, "at": [to(si(given["stroke"]) / 2, "mm")]}, ["locks"],
             f"{what}, at {digits(at * 1000, 7)} mm: the {kind} {'could not be compressed further' if kind == 'shock' else 'comes down again'}")


# Drive link K–Q and second arm Q–R2 come in line. As tall as R2 stands here the
# two ways on lie 1 µm apart, so that poses solved one after another at coarse
# steps slip from one to the other and look smooth.
SIX = "M 6 44, R -30 338, R2 -6 {}, S2 154 140, H -396 14, A -436 30, T -96 352, K -143 304, Q -109 211, S1 -8 228"
OF = "frame: M R R2 S2; chainstay: M H; seatstay: H A T K; rocker: T R; link: K Q; second: Q R2 S1"
LINE = "drive link and second rocker in line"
locks(mechanism(SIX.format(178), OF, 55), "second", -0.0004, "wheel", LINE, -0.7)
locks(mechanism(SIX.format("178.003"), OF, 55), "chainstay", -0.004, "shock", LINE + ", the other way on")
locks(mechanism(SIX.format("177.999"), OF, 55), "second", -0.0004, "wheel", LINE, -0.7)
locks(mechanism(SIX.format(177), OF, 55), "second", -0.004, "wheel", LINE)
locks(mechanism(SIX.format("178.5"), OF, 55), "chainstay", -0.004, "shock", LINE)
locks(mechanism(SIX.format(178), OF, 37), "second", -0.0004, "wheel", LINE + ", close to the end of the stroke", -0.7)
TRIANGLE = mechanism("P 0 0, A -400 0, S1 0 150, S2 200 0", "frame: P S2; swingarm: P A S1", "200.5")
locks(TRIANGLE, "swingarm", -0.02, "shock", "the eyes of the shock in line with the pivot", 0, "200")
locks({**changed(TRIANGLE, "points.A", mm(-100, 390)), "stroke": "50 mm"}, "swingarm", -0.02, "wheel", "the axle straight above the pivot")
for name, stroke, body, kind in (("c1", 98, "rocker", "shock"), ("c2", "94.5", "rocker", "shock"), ("c3", "54.5", "rocker", "shock"),
                                 ("d2", "91.5", "rear", "shock"), ("e2", 82, "rear", "shock"), ("f4", 98, "rocker", "wheel")):
    locks({**named(name), "stroke": f"{stroke} mm"}, body, -0.02, kind, "two links, or the shock and its rocker, in line: the stroke is too long for the linkage")

file.write()
