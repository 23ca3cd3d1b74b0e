"""Writes data/cases/linkage-tolerance.json: what the tolerances of all holes make of
travel and lever ratio.

What a hole does comes from virtual work: the forces of statics.py on it under a unit
force up at the axle, and their change along the stroke by numerical differentiation.
The worst case is confirmed by taking every hole its way in the direction of its own
force, and adding up the work. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from mechanisms import Mechanism, named
from statics import hole_work

file = File("tolerances of the holes of suspension linkages")
SCRIPT = "linkage_tolerance.py"


def spreads(given, every, holes, at, note, unit="mm"):
    m = Mechanism(given)
    of = {(b, p): si(every) for b, points in given["bodies"].items() for p in points}
    for h in holes:
        of[h["body"], h["point"]] = si(h["within"])
    out = {k: [] for k in ("travel_worst", "travel_root_sum_square", "lever_ratio_worst", "lever_ratio_root_sum_square", "worst_effect", "worst_towards")}
    start = {h: hole_work(m, *h, mpf(0)) for h in of}
    for s in map(si, at):
        travel, ratio = {}, {}
        for h in of:
            travel[h] = [a - b for a, b in zip(hole_work(m, *h, s), start[h])]
            ratio[h] = [mp.diff(lambda t: hole_work(m, *h, t)[axis], s, h=mpf("1e-15")) for axis in (0, 1)]  # noqa: B023
        for name, by in (("travel", travel), ("lever_ratio", ratio)):
            effects = {h: of[h] * mp.hypot(*by[h]) for h in of}
            out[name + "_worst"].append(sum(effects.values()))
            out[name + "_root_sum_square"].append(mp.sqrt(sum(e**2 for e in effects.values())))
            # each hole off by its radius along its own derivative
            moved = sum(of[h] / mp.hypot(*by[h]) * (by[h][0] ** 2 + by[h][1] ** 2) for h in of if mp.hypot(*by[h]) > 0)
            close(moved + 1, out[name + "_worst"][-1] + 1, mpf("1e-40"), "the worst case")
        first, second = sorted(effects, key=effects.get)[-1:-3:-1]
        assert effects[first] > effects[second] * mpf("1.001"), (note, "two holes with the same effect")
        out["worst_effect"].append(effects[first])
        out["worst_towards"].append(mp.atan2(ratio[first][1], ratio[first][0]))
    expect = {k: to(v, unit) if k.startswith("travel") else to(v, "deg") if k == "worst_towards" else num(v) for k, v in out.items()}
    assert m.holds()
    g.add("linkage.tolerance", {"mechanism": given, **({"every": every} if every != "0 mm" else {}), **({"holes": holes} if holes else {}), "at": at}, expect,
          {"*": 1e-8, "travel_worst": "1e-9 mm", "travel_root_sum_square": "1e-9 mm"}, "every hole moved along its own derivative, and the work added up", note)


def shares(given, *of):
    return [to(si(given["stroke"]) * mpf(str(x)), "mm") for x in of]


g = file.group(mpmath_source(SCRIPT, "invented geometries"), "computed", 1)
for name, every, holes, note in (
        ("a1", "0.1 mm", [], "a swingarm, all holes alike"),
        ("a2", "0.05 mm", [], "a swingarm of other proportions"),
        ("a1", "0.1 mm", [{"body": "frame", "point": "S2", "within": "0.5 mm"}], "one hole worse than the others"),
        ("a1", "0 mm", [{"body": "swingarm", "point": "S1", "within": "0.2 mm"}, {"body": "frame", "point": "P", "within": "0.1 mm"}], "two holes alone"),
        ("b1", "0.1 mm", [], "a link that drives a rocker"),
        ("c1", "0.1 mm", [], "four bars"),
        ("c3", "0.02 mm", [{"body": "rocker", "point": "T", "within": "0.2 mm"}], "four bars, the links nearly parallel"),
        ("d2", "0.004 in", [], "the shock on the rear triangle"),
        ("f2", "0.1 mm", [{"body": "tie", "point": "K", "within": "0 mm"}], "six bars, one hole taken as exact")):
    spreads(named(name), every, holes, shares(named(name), 0.25, 0.8), f"{name}: {note}")
g = file.group(RULES, "definition", 1)
GOOD = {"mechanism": named("c1"), "every": "0.1 mm", "holes": [{"body": "rocker", "point": "T", "within": "0.2 mm"}], "at": ["10 mm"]}
g.refuse_each("linkage.tolerance", GOOD, [
    ({"every": "-0.1 mm"}, ["every"], "negative"), ({"every": "101 mm"}, ["every"], "no tolerance, a shift"), ({"holes": [{"body": "mast", "point": "T"}]}, ["holes[0].point"], "no such body"),
    ({"holes": [{"body": "rocker", "point": "H", "within": "0.1 mm"}]}, ["holes[0].point"], "a point of other bodies"), ({"holes": GOOD["holes"] * 2}, ["holes[1].point"], "the same hole twice"),
    ({"holes": [{**GOOD["holes"][0], "within": "NaN mm"}], "every": "0.1"}, ["holes[0].within", "every"], "not a number, and a missing unit"),
    ({"mechanism": {**named("c1"), "stroke": "0 mm"}, "every": "-1 mm"}, ["stroke"], "the stroke, in the mechanism"), ({"at": ["ten mm"]}, ["at"], "no number"),
])
file.write()
