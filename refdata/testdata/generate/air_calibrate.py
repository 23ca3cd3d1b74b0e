"""Writes data/cases/air-calibrate.json: a spring known by its gauge and its ring.

The readings of a case come from chambers that the case does not tell: a fill and a
force are chosen, and the stroke is where the forces on the piston balance, with
both chambers sealed. The fill expected is that of the same chambers, again by the
balance of forces. No curve is fitted, and nothing is solved for but strokes and
fills.

Where readings err, the chambers are sought whose strokes are nearest to those read,
by Gauss and Newton with differences of the strokes as derivatives: the unknowns are
bore, volumes and port, not the coefficients of a curve. See casefile.py for how to
run it.
"""
from mpmath import mpf

from casefile import File, RULES, close, mpmath_source, si, to
from chambers import area, double, nearest, single
from curves import curve
from laws import bisect

file = File("air springs known by gauge and ring")
SCRIPT = "air_calibrate.py"
AMBIENT = "101325 Pa(a)"


def spring(outside, negative, readings, **more):
    return {"ambient": AMBIENT, "negative_chamber": negative, "outside_diameter": outside, "readings": readings, **more}


EXACT = "strokes and fill from the same chambers, by the balance of forces alone"


def exact(g, chambers, outside, pairs, force, at, note, unit="bar", ambient=AMBIENT):
    """A case whose readings, pairs of fill and force, are exact."""
    pa = si(ambient)
    readings = []
    for fill, load in pairs:
        readings.append({"fill": fill, "stroke": to(chambers.stroke(si(fill), si(load), pa, mpf("0.03")), "mm"), "force": load})
    given = {**spring(outside, chambers.n is not None, readings), "ambient": ambient, "force": force, "at": at}
    g.add("airspring.calibrate", given, {"fill": to(chambers.fill(si(force), si(at), pa), unit)}, 1e-9, EXACT, note)


def erring(g, start, outside, rows, force, at, note, ring=None, gauge=None, unit="bar"):
    """A case of readings with errors, rows of fill, stroke and force. Start is where
    the search for its chambers starts, the invented spring."""
    readings = [{"fill": f, "stroke": s, "force": load} for f, s, load in rows]
    pa = si(AMBIENT)
    found = nearest(start, readings, si(ring or "1 mm"), si(gauge) if gauge else 0, pa)
    more = {k: v for k, v in [("ring_error", ring), ("gauge_error", gauge)] if v}
    given = {**spring(outside, start.n is not None, readings, **more), "force": force, "at": at}
    g.add("airspring.calibrate", given, {"fill": to(found.fill(si(force), si(at), pa), unit)}, 1e-8,
          "the chambers nearest to the readings, found by their own unknowns", note)


def wheel(g, curve_spec, chambers, outside, pairs, load, sag, note, unit="psi"):
    """A case behind a curve: pairs of fill and load at the wheel. The stroke is where
    load times lever ratio balances the spring."""
    c, pa = curve(curve_spec), si(AMBIENT)
    readings = []
    for fill, weight in pairs:
        w, p = si(weight), si(fill)
        s = bisect(lambda s: chambers.force(p, s, pa) - w * c.ratio(s), mpf(0), c.stroke)
        close(chambers.force(p, s, pa) + 1, w * c.ratio(s) + 1, mpf("1e-36"), "balance at the wheel")
        readings.append({"fill": fill, "stroke": to(s, "mm"), "load": weight})
    s = c.stroke_at(sag * c.travel)
    fill = chambers.fill(si(load) * c.ratio(s), s, pa)
    g.add("sag.calibrate", {"curve": curve_spec, **spring(outside, chambers.n is not None, readings), "load": load, "sag": float(sag)},
          {"fill": to(fill, unit)}, 1e-9, EXACT + ", with the lever ratio at each stroke", note)


g = file.group(mpmath_source(SCRIPT, "invented springs"), "computed", 1)
ONE = single(34, 290)
exact(g, ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "550 N", "30 mm", "two readings of one rider")
exact(g, ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "700 N", "30 mm", "the same spring under another rider")
exact(g, ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "550 N", "90 mm", "far beyond the readings: a straight line goes on")
exact(g, ONE, "34 mm", [("70 psi", "120 lbf"), ("60 psi", "130 lbf")], "125 lbf", "1.25 in", "readings of two riders, in inches", "psi")
exact(g, ONE, "34 mm", [("5 bar", "560 N"), ("4.6 bar", "520 N"), ("4.4 bar", "640 N"), ("6 bar", "760 N")], "600 N", "35 mm", "more readings than needed, all exact")
exact(g, single(46, 190), "46 mm", [("11 bar", "2400 N"), ("9 bar", "2300 N")], "2500 N", "22 mm", "a shock of a wide bore", ambient="84.5 kPa(a)")
TWO = double(34, 10, 250, 70, 6)
PAIRS = [("4 bar", "500 N"), ("5 bar", "500 N"), ("6 bar", "500 N"), ("8 bar", "500 N")]
exact(g, TWO, "10 mm", PAIRS, "500 N", "35 mm", "four readings of one rider")
exact(g, TWO, "10 mm", PAIRS, "750 N", "35 mm", "another rider")
exact(g, TWO, "10 mm", PAIRS, "500 N", "70 mm", "beyond the readings")
exact(g, TWO, "10 mm", [("5 bar", "0 N"), ("5 bar", "300 N"), ("5 bar", "500 N"), ("5 bar", "900 N")], "650 N", "40 mm", "one fill under four forces, the first without a load")
exact(g, TWO, "10 mm", [("80 psi", "0 lbf"), ("70 psi", "110 lbf"), ("80 psi", "125 lbf"), ("95 psi", "105 lbf"), ("65 psi", "140 lbf")], "118 lbf", "1.3 in", "five readings, the first without a load", "psi")
exact(g, double(40, 12, 330, 150, 0), "12 mm", PAIRS, "600 N", "40 mm", "a port at full extension")
exact(g, double(30, 11, 130, 25, 5), "11 mm", PAIRS, "450 N", "33 mm", "small chambers")
exact(g, double(50, 14, 170, 90, 3), "14 mm", [("9 bar", "1500 N"), ("11 bar", "1600 N"), ("13 bar", "1500 N"), ("16 bar", "1400 N")], "1700 N", "15 mm", "a shock")

erring(g, ONE, "34 mm", [("4 bar", "81 mm", "520 N"), ("4.5 bar", "60 mm", "520 N"), ("4.8 bar", "43 mm", "520 N")], "520 N", "50 mm", "three readings to the millimetre")
erring(g, ONE, "34 mm", [("4 bar", "81 mm", "520 N"), ("4.5 bar", "60 mm", "520 N"), ("4.8 bar", "43 mm", "520 N"), ("6 bar", "58 mm", "690 N")], "600 N", "50 mm",
       "four readings with the errors of ring and gauge", "1 mm", "0.1 bar")
ROWS = [("4 bar", "92 mm", "450 N"), ("5 bar", "75.5 mm", "450 N"), ("6 bar", "64.5 mm", "450 N"), ("7 bar", "55.5 mm", "450 N"), ("9 bar", "43 mm", "450 N"), ("6 bar", "3 mm", "0 N")]
DEEP = double(34, 10, 250, 70, 8)
erring(g, DEEP, "10 mm", ROWS, "450 N", "50 mm", "six readings to half a millimetre, one without a load")
erring(g, DEEP, "10 mm", ROWS, "600 N", "60 mm", "the same with the errors of ring and gauge", "0.5 mm", "0.05 bar")

SHOCK = {"table": {"stroke": ["0 mm", "10 mm", "20 mm", "30 mm", "40 mm", "50 mm"], "travel": ["0 mm", "31 mm", "60 mm", "87 mm", "112 mm", "135 mm"], "method": "monotone"}}
wheel(g, {"constant": 2.5, "travel": "140 mm"}, single(44, 150), "44 mm", [("150 psi", "800 N"), ("170 psi", "800 N")], "820 N", mpf("0.28"), "a constant lever ratio")
wheel(g, SHOCK, double(46, 12, 150, 60, 3), "12 mm", [("120 psi", "480 N"), ("140 psi", "500 N"), ("170 psi", "520 N"), ("200 psi", "500 N")], "560 N", mpf("0.3"), "a table of travels")
FORK = {"fork": {"head_angle": "64 deg", "travel": "170 mm"}}
LOADS = [("60 psi", "70 lbf"), ("70 psi", "75 lbf"), ("80 psi", "80 lbf"), ("95 psi", "85 lbf"), ("70 psi", "90 lbf")]
wheel(g, FORK, ONE, "34 mm", [("55 psi", "110 lbf"), ("60 psi", "110 lbf")], "120 lbf", mpf("0.2"), "a fork without a negative chamber")
wheel(g, FORK, DEEP, "10 mm", LOADS[:4], "78 lbf", mpf("0.22"), "a fork, four readings")
wheel(g, FORK, DEEP, "10 mm", LOADS, "100 lbf", mpf("0.3"), "five readings, and a heavier rider", "bar")
wheel(g, FORK, DEEP, "10 mm", [("75 psi", "0 N"), *LOADS[1:4]], "400 N", mpf("0.18"), "the wheel off the ground for one reading")
wheel(g, {**SHOCK, "table": {**SHOCK["table"], "method": "smooth"}}, double(46, 12, 150, 60, 3), "12 mm",
      [("120 psi", "480 N"), ("140 psi", "500 N"), ("170 psi", "520 N"), ("200 psi", "500 N")], "600 N", mpf("0.25"), "the same table as a spline")
wheel(g, SHOCK, single(44, 120), "44 mm", [("150 psi", "720 N"), ("165 psi", "720 N"), ("180 psi", "760 N")], "700 N", mpf("0.2"), "a shock without a negative chamber", "bar")

BAD = spring("34 mm", False, [{"fill": "5 bar", "stroke": "30 mm", "force": "550 N"}, {"fill": "4.2 bar", "stroke": "55 mm", "force": "550 N"}], force="550 N", at="40 mm")


def changed(i, **fields):
    return [{**r, **fields} if k == i else r for k, r in enumerate(BAD["readings"])]


four = [{"fill": f"{f} bar", "stroke": f"{s} mm", "force": "600 N"} for f, s in [(5, 50), (6, 40), (7, 33), (8, 28)]]
g = file.group(RULES, "definition", 1)
g.refuse_each("airspring.calibrate", BAD, [
    ({"readings": []}, ["readings"], "no reading"),
    ({"readings": BAD["readings"][:1]}, ["readings"], "one reading"),
    ({"readings": changed(1, stroke="30 mm")}, ["readings"], "two readings at one stroke"),
    ({"readings": four[:3], "negative_chamber": True, "outside_diameter": "10 mm"}, ["readings"], "three readings of a spring with a negative chamber"),
    ({"readings": four[:3] + four[:1], "negative_chamber": True, "outside_diameter": "10 mm"}, ["readings"], "four readings at three strokes"),
    ({"readings": changed(1, fill="6 bar")}, ["readings"], "more fill and more stroke under the same force"),
    ({"readings": changed(1, fill="0 bar")}, ["readings[1].fill"], "no fill"),
    ({"readings": changed(0, stroke="0 mm")}, ["readings[0].stroke"], "at full extension the stop carries a part"),
    ({"readings": changed(0, stroke="-3 mm")}, ["readings[0].stroke"], "negative"),
    ({"readings": changed(1, force="-5 N")}, ["readings[1].force"], "a pull"),
    ({"readings": changed(1, force="550")}, ["readings[1].force"], "missing unit"),
    ({"readings": changed(1, fill=None)}, ["readings[1].fill"], "no quantity"),
    ({"readings": changed(0, load="5 N")}, ["readings[0].load"], "unknown field"),
    ({"ambient": None, "negative_chamber": None, "outside_diameter": None}, ["ambient", "negative_chamber", "outside_diameter"], "left out, and none has a default"),
    ({"outside_diameter": "-34 mm"}, ["outside_diameter"], "negative"),
    ({"negative_chamber": "yes"}, ["negative_chamber"], "true or false is wanted"),
    ({"at": "-1 mm", "force": "NaN N"}, ["at", "force"], "negative, and not a number"),
    ({"at": "500 mm"}, ["at"], "beyond the end of the chamber"),
    ({"force": "10 N"}, ["force"], "carried without any fill"),
    ({"force": "1e8 N"}, ["force"], "more than a fill of 1000 bar carries"),
])
W = {"curve": {"constant": 2.5, "travel": "140 mm"}, **spring("44 mm", False, [
    {"fill": "150 psi", "stroke": "20 mm", "load": "800 N"}, {"fill": "170 psi", "stroke": "10 mm", "load": "800 N"}]), "load": "820 N", "sag": 0.28}
w0, w1 = W["readings"]
g.refuse_each("sag.calibrate", W, [
    ({"readings": [w0]}, ["readings"], "one reading"),
    ({"readings": [{**w0, "stroke": "57 mm"}, w1]}, ["readings[0].stroke"], "beyond the stroke of the curve"),
    ({"readings": [w0, {**w1, "load": "-600 N"}]}, ["readings[1].load"], "negative"),
    ({"readings": [{**w0, "fill": "-2 psi"}, {**w1, "stroke": "0 mm"}], "negative_chamber": None}, ["readings[0].fill", "readings[1].stroke", "negative_chamber"], "several faults"),
    ({"load": "1 N"}, ["load"], "carried without any fill"),
    ({"curve": {"constant": -2.5, "travel": "140 mm"}, "sag": 28, "load": "0 N"}, ["constant", "sag", "load"], "bad in three places, all named"),
])
file.write()
