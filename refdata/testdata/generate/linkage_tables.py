"""Writes data/cases/linkage-tables.json: lever ratios from tables, and springs
seen through a curve.

The methods are those of curves.py. Rates and energies at the wheel are checked
against numerical differentiation and quadrature of the wheel force. See
casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from curves import AtWheel, curve, table, through
from laws import confirm, law

file = File("lever-ratio curves")
SCRIPT = "linkage_tables.py"


def mm(*xs):
    return [f"{x} mm" for x in xs]


# ---------------------------------------------------------------------- tables

FOUR_BAR = dict(stroke=mm(0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 62.5),
                travel=mm(0, 14.3, 28.1, 41.4, 54.4, 67.1, 79.4, 91.5, 103.4, 115.0, 126.5, 137.8, 149.1, 154.7))
SIX_BAR = dict(stroke=mm(0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55),
               travel=mm(0, 14.2, 28.2, 42.1, 55.8, 69.1, 82.3, 95.1, 107.5, 119.7, 131.6, 143.2))
UNEVEN = dict(stroke=mm(0, 3, 8, 12, 20, 27, 35, 41, 50, 57),
              travel=mm(0, 8.6, 23.2, 35.1, 59.4, 79.6, 101.3, 116.5, 138.2, 154.4))
COARSE = dict(stroke=mm(0, 15, 30, 45, 60), travel=mm(0, 44.0, 83.5, 119.6, 153.2))
TABLES = [(FOUR_BAR, "a four-bar linkage, travel rounded to 0.1 mm"), (SIX_BAR, "a six-bar linkage, travel rounded to 0.1 mm"),
          (UNEVEN, "points at uneven strokes, and a hump in the ratio"), (COARSE, "five points")]
EXACT = dict(stroke=mm(0, 10, 20, 30, 40, 50, 60), travel=mm(0, 29.075, 57.3, 84.675, 111.2, 136.875, 161.7))


def outputs(t, method, at):
    c = table(**t, method=method)
    for x in map(si, at[:2] if "lever_ratio" in t else at):
        if 0 < x < c.stroke and all(abs(x - k) > mpf("1e-9") for k in c.kinks):
            if "lever_ratio" not in t:
                close(c.ratio(x), mp.diff(c.travel_at, x), mpf("1e-20"), "lever ratio")
            else:  # at one precision, since Gauss's nodes are found anew for another
                h = mpf("1e-15")
                close(c.ratio(x), (c.travel_at(x + h) - c.travel_at(x - h)) / (2 * h), mpf("1e-18"), "lever ratio")
    out = {"travel": to([c.travel_at(si(x)) for x in at], "mm"), "lever_ratio": num([c.ratio(si(x)) for x in at])}
    if "lever_ratio" in t:
        return {**out, "stroke_full": to(c.stroke, "mm")}
    if method != "monotone":  # whose slope jumps at the points
        for x in map(si, at):
            if 0 < x < c.stroke and all(abs(x - k) > mpf("1e-9") for k in c.kinks):
                close(c.slope(x), mp.diff(c.ratio, x), mpf("1e-15"), "slope of the lever ratio")
        out["lever_ratio_slope"] = to([c.slope(si(x)) for x in at], "1/m")
    return {**out, "progression": num(1 - c.ratio(c.stroke) / c.ratio(mpf(0)))}


def between(t):
    """Points of the table, and quarters of the way between some of them."""
    s = [si(x) * 1000 for x in t["stroke"]]
    at = [s[0]]
    for i, (a, b) in enumerate(zip(s, s[1:])):
        at += [a + (b - a) * (1 + i % 3) / 4, b]
    return [f"{mp.nstr(x, 12).removesuffix('.0')} mm" for x in at]


def add(t, method, at, second, note, tolerance):
    expect = outputs(t, method, at)
    limits = {"*": tolerance, **{o: x for o, x in (("lever_ratio_slope", "1e-8 1/m"), ("progression", "1e-10")) if o in expect}}
    g.add("linkage.table", {**t, "method": method, "at": at}, expect, limits, second, note)


g = file.group(mpmath_source(SCRIPT, "invented tables, monotone and smooth"), "computed", 1)
SCIPY = {"monotone": "agrees to 1e-13 with scipy 1.10.1, PchipInterpolator", "smooth": "agrees to 1e-12 with scipy 1.10.1, CubicSpline with not-a-knot ends"}
for method in ("monotone", "smooth"):
    for t, note in TABLES:
        add(t, method, between(t), SCIPY[method], note, 1e-12 if method == "monotone" else 1e-11)
STRAIGHT = dict(stroke=mm(0, 20, 60), travel=mm(0, 52, 156))
DERIVED = "lever ratio by numerical differentiation of the travel at 50 digits"
add(dict(stroke=mm(0, 60), travel=mm(0, 156)), "monotone", mm(0, 15, 60), "exact: a straight line", "two points, one ratio", 1e-12)
add(STRAIGHT, "monotone", mm(0, 10, 20, 35, 60), "exact: a straight line", "three points on a line", 1e-12)
add(EXACT, "smooth", mm(0, 3, 17, 33, 51, 60), "exact: a spline gives back a parabola, w = 2.95 s − 0.00425 s² with both in mm", "a parabola", 1e-11)
add(EXACT, "monotone", mm(0, 3, 17, 33, 51, 60), DERIVED, "the same parabola, which this method only comes near", 1e-12)
add(dict(stroke=["0 in", "0.5 in", "1 in", "1.5 in", "2 in", "2.25 in"], travel=["0 in", "1.44 in", "2.76 in", "4.0 in", "5.19 in", "5.77 in"]),
    "smooth", ["0 in", "0.3 in", "1.1 in", "2.25 in"], DERIVED, "inches", 1e-11)
add(dict(stroke=mm(0, 10, 20, 30, 40), travel=mm(0, 15, 45, 60, 90)), "monotone", mm(0, 5, 10, 15, 25, 35, 40), DERIVED,
    "a ratio that jumps: the curve stays between the points where a spline would swing", 1e-12)

g = file.group(mpmath_source(SCRIPT, "invented readings, a quartic by least squares"), "computed", 101)
LEAST = "QR decomposition and normal equations at 50 digits"
for t, note in [(FOUR_BAR, "thirteen readings besides zero"), (SIX_BAR, "eleven readings besides zero"), (UNEVEN, "nine readings besides zero"),
                (EXACT, "six readings on a parabola, which comes back exactly"),
                (dict(stroke=mm(0, 8, 16, 24, 32, 40, 48), travel=mm(0, 22.9, 45.1, 67.2, 88.0, 108.9, 129.0)), "as few readings as are taken, rough")]:
    add(t, "measured", between(t)[::2] if t is not EXACT else mm(0, 13, 29, 60), LEAST, note, 1e-10)

BACK = dict(stroke=mm(0.4, 5, 10, 10, 20, 30, 29, 40, 50, 62.5), travel=mm(1.3, 14.4, 28.0, 28.2, 54.4, 79.5, 76.9, 103.3, 126.6, 154.6))
add(dict(stroke=mm(0, 15, 30, 45, 60), travel=mm(0, 44.0, 83.5, 119.6, 153.2)), "measured", mm(0, 20, 40, 60), LEAST, "five readings, a cubic", 1e-10)
add(dict(stroke=mm(0, 12, 24, 36, 48, 60), travel=mm(0, 35.4, 67.9, 98.4, 126.6, 153.3)), "measured", mm(0, 20, 40, 60), LEAST, "six readings, a cubic", 1e-10)
add(BACK, "measured", mm(0, 10, 31, 62.5), LEAST, "a first reading next to 0, one made twice, and one on the way back", 1e-10)

# -------------------------------------------------------------- tables of ratio

OVER_STROKE = dict(stroke=mm(0, 5, 12, 20, 28, 37, 45, 52, 60), lever_ratio=[2.95, 2.88, 2.79, 2.67, 2.585, 2.49, 2.43, 2.38, 2.31])
OVER_TRAVEL = dict(travel=mm(0, 10, 25, 45, 70, 95, 120, 140, 155), lever_ratio=[2.92, 2.86, 2.77, 2.64, 2.52, 2.41, 2.34, 2.31, 2.315])
STEEP = dict(travel=mm(0, 20, 60, 100, 160), lever_ratio=[3.8, 2.1, 1.5, 2.2, 2.9])
RATIO_AT = mm(0, 3, 17, 33.5, 51, 58)
BY_PARTS = "travel or stroke by numerical quadrature in each piece, the ratio as the travel's numerical derivative, at 50 digits"
g = file.group(mpmath_source(SCRIPT, "invented ratios, w = ∫ LR ds over strokes and s = ∫ dw/LR over travels"), "computed", 201)
for method in ("monotone", "smooth", "measured"):
    for t, note in [(OVER_STROKE, "a ratio over the stroke, at uneven steps"), (OVER_TRAVEL, "a ratio over the travel, at uneven steps"),
                    (STEEP, "a ratio over the travel that falls and rises steeply, five points")]:
        add(t, method, RATIO_AT if t is not STEEP else mm(0, 9, 40, 70), BY_PARTS, note, 1e-10)
add(dict(stroke=mm(0, 60), lever_ratio=[3, 2.4]), "monotone", mm(0, 15, 30, 60), "exact: w = 3 s − 0.005 s² with both in mm", "a ratio that falls evenly over the stroke", 1e-12)
add(dict(travel=mm(0, 150), lever_ratio=[3, 2.4]), "monotone", mm(0, 15, 30, 56), "exact: w = 750 (1 − exp(−s/250)) with both in mm", "a ratio that falls evenly over the travel", 1e-12)
NEXT = dict(travel=mm(0.6, 25, 50, 50, 75, 100, 98, 130, 155), lever_ratio=[2.93, 2.75, 2.63, 2.61, 2.5, 2.4, 2.42, 2.32, 2.33])
add(NEXT, "measured", RATIO_AT, BY_PARTS, "ratios read off a drawing, the first next to 0, one twice and one on the way back", 1e-10)

# ---------------------------------------------------------------- at the wheel

g = file.group(mpmath_source(SCRIPT, "invented bikes; F = F_s/LR, k = k_s/LR² − F_s LR′/LR³, E = E_s"), "computed", 1)
BOTH = "rate by numerical differentiation and energy by numerical quadrature of the wheel force, at 50 digits"


def wheel(curve_spec, law_spec, at, note="", tolerance=1e-11):
    l = AtWheel(curve(curve_spec), law(law_spec))
    xs = [si(x) for x in at]
    assert all(x <= l.travel for x in xs), note
    confirm(l, xs, mpf("1e-15"))
    g.add("linkage.wheel", {"curve": curve_spec, "law": law_spec, "at": at},
          {"force": to([l.force(x) for x in xs], "N"), "rate": to([l.rate(x) for x in xs], "N/mm"), "energy": to([l.energy(x) for x in xs], "J")},
          tolerance, BOTH, note)


def linear(rate, travel, preload=None):
    return {"linear": {"rate": rate, "travel": travel, **({"preload": preload} if preload else {})}}


SHOCK = {"air": {"bore": "40 mm", "shaft": "12.7 mm", "travel": "62.5 mm", "positive_volume": "105 cm3", "negative_volume": "45 cm3",
                 "port_travel": "3 mm", "fill": "14 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}
AIR_FORK = {"air": {"bore": "34 mm", "shaft": "10 mm", "travel": "160 mm", "positive_volume": "190 cm3", "negative_volume": "60 cm3",
                    "port_travel": "8 mm", "fill": "5.5 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}
wheel({"constant": 2.6, "travel": "150 mm"}, linear("450 lbf/in", "60 mm"), mm(0, 45, 150), "one ratio: the wheel rate is the spring's over its square")
wheel({"constant": 1, "travel": "100 mm"}, linear("20 N/mm", "100 mm", "4 mm"), mm(0, 25, 100), "1:1")
wheel({"fork": {"head_angle": "64 deg", "travel": "170 mm"}}, linear("6.1 N/mm", "170 mm", "8 mm"), mm(0, 30, 140), "a coil fork")
wheel({"fork": {"head_angle": "65.5 deg", "travel": "160 mm"}}, AIR_FORK, mm(5, 30, 80, 145), "an air fork")
wheel({"fork": {"head_angle": "90 deg", "travel": "160 mm"}}, AIR_FORK, mm(5, 40, 160), "upright: the fork's own force")
wheel({"table": {**EXACT, "method": "smooth"}}, linear("80 N/mm", "60 mm", "1 mm"), mm(10, 48.5, 101, 161.7), "a progressive parabola")
wheel({"table": {**FOUR_BAR, "method": "monotone"}}, linear("90 N/mm", "62.5 mm"), mm(7, 47, 101, 154.7), "a table, monotone; not at its points, where the rate jumps")
wheel({"table": {**FOUR_BAR, "method": "smooth"}}, SHOCK, mm(7, 47, 101, 154.7), "a table, smooth, with an air shock", 1e-10)
wheel({"table": {**FOUR_BAR, "method": "measured"}}, SHOCK, mm(7, 47, 101, 154), "readings, with an air shock", 1e-10)
wheel({"table": {**UNEVEN, "method": "smooth"}}, {"groups": [{"rate": "150 N/mm", "gap": "18 mm"}, {"rate": "120 N/mm", "gap": "45 mm"}]},
      mm(20, 60, 110, 150), "a progressive coil behind a hump", 1e-10)
wheel({"constant": 2.6, "travel": "150 mm"}, linear("80 N/mm", "50 mm"), mm(20, 100, 130), "a spring shorter than the stroke ends the wheel's travel at 130 mm")
wheel({"table": dict(stroke=mm(0, 10, 20, 30, 40, 50), travel=mm(0, 24.2, 49.0, 74.4, 100.4, 127.0), method="smooth")}, linear("110 N/mm", "50 mm", "2 mm"),
      mm(5, 40, 90, 127), "regressive: the ratio rises, which takes from the wheel rate")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
GOOD = {**COARSE, "method": "monotone", "at": mm(10, 20)}
g.refuse_each("linkage.table", GOOD, [
    ({"travel": mm(0, 44, 40, 119.6, 153.2)}, ["travel"], "falls"), ({"travel": mm(0, 44, 44, 119.6, 153.2)}, ["travel"], "stands still"),
    ({"stroke": mm(0, 15, 15, 45, 60)}, ["stroke"], "stands still"), ({"stroke": mm(0, 15, 10, 45, 60)}, ["stroke"], "falls"),
    ({"stroke": mm(0, 15, 30, 45, "NaN")}, ["stroke"], "not a number"), ({"travel": mm(0, 44, "83,5", 119.6, 153.2)}, ["travel"], "the decimal sign is a point"),
    ({"travel": ["0 mm", "44", "83.5 mm", "119.6 mm", "153.2 mm"]}, ["travel"], "missing unit"), ({"travel": mm(0, 44, 83.5, 119.6)}, ["travel"], "one value short"),
    ({"stroke": None}, ["stroke"], "missing"), ({"travel": None}, ["travel"], "missing"), ({"stroke": mm(0), "travel": mm(0)}, ["stroke", "travel"], "one point is no curve"),
    ({"method": "cubist"}, ["method"], "no such method"), ({"at": ["10"]}, ["at"], "missing unit"),
    ({"method": "measured", "stroke": mm(0, 15, 30, 45), "travel": mm(0, 44, 83.5, 119.6)}, ["stroke", "travel"], "too few readings to fit"),
    ({"stroke": mm(0, 10, 20, 30, 40), "travel": mm(0, 10, 45, 50, 90)}, ["travel"], "a curve that cannot but stand still at one end: no lever ratio there"),
])
SWINGS = [2.92, 2.86, 0.05, 0.05, 2.52, 2.41, 2.34, 2.31, 2.315]
assert through(OVER_TRAVEL["travel"], SWINGS, "smooth").travel_at(mpf("0.035")) < 0
GOOD = {**OVER_TRAVEL, "method": "monotone", "at": mm(10, 20)}
g.refuse_each("linkage.table", GOOD, [
    ({"lever_ratio": [2.92, 2.86, 2.77, 0, 2.52, 2.41, 2.34, 2.31, 2.315]}, ["lever_ratio"], "a ratio of 0"),
    ({"lever_ratio": [2.92, 2.86, 2.77, 2.64, -2.52, 2.41, 2.34, 2.31, 2.315]}, ["lever_ratio"], "a negative ratio"),
    ({"lever_ratio": [2.92, 2.86, 2.77]}, ["lever_ratio"], "fewer ratios than travels"),
    ({"lever_ratio": SWINGS, "method": "smooth"}, ["lever_ratio"], "a spline below 0 between ratios that are not"),
    ({"travel": None}, ["stroke"], "ratios, and neither stroke nor travel"), ({"stroke": mm(0, 5, 12, 20, 28, 37, 45, 52, 60)}, ["lever_ratio"], "stroke, travel and ratio"),
    ({"travel": mm(0, 10, 25, 25, 70, 95, 120, 140, 155)}, ["travel"], "stands still"), ({"travel": mm(1, 10, 25, 45, 70, 95, 120, 140, 155)}, ["travel"], "does not begin at full extension"),
])
CURVED = {"curve": {"constant": 2.6, "travel": "150 mm"}, "law": linear("80 N/mm", "60 mm"), "at": mm(10)}
g.refuse_each("linkage.wheel", CURVED, [
    ({"curve": {"constant": 0, "travel": "150 mm"}}, ["constant"], "zero"), ({"curve": {"constant": -2.6, "travel": "150 mm"}}, ["constant"], "negative"),
    ({"curve": {"constant": 2.6, "travel": "0 mm"}}, ["travel"], "zero"), ({"curve": {"constant": 2.6, "travel": "150"}}, ["travel"], "missing unit"),
    ({"curve": {"fork": {"head_angle": "0 deg", "travel": "170 mm"}}}, ["head_angle"], "level: such a fork does not carry"),
    ({"curve": {"fork": {"head_angle": "26 deg", "travel": "170 mm"}}}, ["head_angle"], "an angle from the vertical: this one is from the horizontal"),
    ({"curve": {"fork": {"head_angle": "100 deg", "travel": "170 mm"}}}, ["head_angle"], "raked backwards"),
    ({"curve": {"fork": {"head_angle": "64", "travel": "170 mm"}}}, ["head_angle"], "missing unit"),
    ({"curve": {"fork": {"head_angle": "64 deg", "travel": "-170 mm"}}}, ["travel"], "negative"),
    ({"curve": {"table": {**COARSE, "travel": mm(0, 44, 40, 119.6, 153.2), "method": "smooth"}}}, ["travel"], "falls"),
    ({"law": linear("0 N/mm", "60 mm")}, ["rate"], "zero"), ({"at": ["10 N"]}, ["at"], "the unit of another quantity"),
    ({"curve": {"constant": 0, "travel": "150 mm"}, "law": linear("0 N/mm", "60 mm")}, ["constant", "rate"], "bad in the curve and in the law, both named"),
])

file.write()
