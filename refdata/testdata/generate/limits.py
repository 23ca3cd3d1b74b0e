"""Writes data/cases/limits.json: what the models do not cover, and several
faults at once.

Every case is refused. Which fields an error names follows from the rules of
the format: a field outside its range names itself, of two that contradict each
other the one the format says, and a value that can't be read hides no other
fault. See casefile.py for how to run it.
"""
import copy

from casefile import RULES, File

file = File("limits of the models")
g = file.group(RULES, "definition", 501)

CHAMBER = {"bore": "34 mm", "shaft": "10 mm", "travel": "160 mm", "positive_volume": "190 cm3", "negative_volume": "60 cm3",
           "port_travel": "8 mm", "ambient": "101325 Pa(a)", "exponent": 1}
LINE = {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}
CURVE = {"constant": 2.5, "travel": "150 mm"}
TABLE = {"table": {"stroke": ["0 mm", "20 mm", "40 mm", "60 mm"], "travel": ["0 mm", "56 mm", "108 mm", "156 mm"], "method": "smooth"}}


def changed(given, *changes):
    """A copy of given with the values at these paths changed; None takes one out."""
    given = copy.deepcopy(given)
    for path, value in changes:
        *outer, last = path.split(".")
        at = given
        for name in outer:
            at = at[name]
        if value is None:
            del at[last]
        else:
            at[last] = value
    return given


def each(computes, good, rows):
    for changes, fields, note in rows:
        g.refuse(computes, changed(good, *changes), fields, note)


# ---------------------------------------------- one fault where none stood yet

each("airspring.fill", {**CHAMBER, "force": "400 N", "at": "40 mm"}, [
    ([("shaft", "-10 mm")], ["shaft"], "negative"), ([("shaft", "34 mm")], ["shaft"], "as thick as the bore: no area is left"),
    ([("travel", "0 mm")], ["travel"], "zero"), ([("negative_volume", "-60 cm3")], ["negative_volume"], "negative"),
    ([("port_travel", "200 mm")], ["port_travel"], "beyond the travel"), ([("ambient", "0 kPa(a)")], ["ambient"], "a vacuum around the spring"),
    ([("oil_volume", "-1 ml")], ["oil_volume"], "negative"), ([("spacers", -1), ("spacer_volume", "5 cm3")], ["spacers"], "negative"),
    ([("spacer_volume", "-5 cm3"), ("spacers", 1)], ["spacer_volume"], "negative"),
    ([("spacers", 40), ("spacer_volume", "5 cm3")], ["spacers"], "they fill the chamber, which suffices without them"),
    ([("exponent", 0)], ["exponent"], "zero"), ([("exponent", 9)], ["exponent"], "no gas compresses so"),
])
each("airspring.hold", {"volume": "210 cm3", "to_volume": "120 cm3", "fill": "5.5 bar", "ambient": "101325 Pa(a)", "heat_ratio": 1.4, "time_constant": "1.5 s", "after": ["1 s"]}, [
    ([("ambient", "0 kPa(a)")], ["ambient"], "a vacuum"), ([("fill", "-1.1 bar")], ["fill"], "below vacuum"),
    ([("fill", "5.5 bar(a)")], ["fill"], "a fill is read on a gauge"), ([("heat_ratio", 0.9)], ["heat_ratio"], "less than 1: no gas has it"),
])
each("airspring.hose", {"chamber_volume": "190 cm3", "hose_volume": "4 cm3", "reading": "5.5 bar"}, [
    ([("reading", "5.5")], ["reading"], "missing unit"), ([("reading", "-2 bar")], ["reading"], "below vacuum"),
    ([("chamber_volume", "0 cm3")], ["chamber_volume"], "zero"),
])
each("spring.caliper", {"wire_diameter": "10 mm", "inner_diameter": "36 mm", "active_coils": 5, "shear_modulus": "79500 MPa", "wire_uncertainty": "0.02 mm",
                        "diameter_uncertainty": "0.02 mm", "coil_uncertainty": 0.1, "modulus_uncertainty": "800 MPa"}, [
    ([("inner_diameter", "-36 mm")], ["inner_diameter"], "negative"),
    ([("inner_diameter", "36")], ["inner_diameter"], "missing unit"),
])
each("spring.law", {"law": {"coil": {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "ends": "squared_ground", "free_length": "140 mm",
                                     "shear_modulus": "79500 MPa"}}, "at": ["1 mm"]}, [
    ([("law.coil.ends", "pointed")], ["ends"], "no such ends"), ([("law.coil.mean_diameter", "0 mm")], ["mean_diameter"], "zero"),
])
each("spring.law", {"law": {"air": {**CHAMBER, "fill": "5 bar"}}, "at": ["1 mm"]}, [
    ([("law.air.fill", "-2 bar")], ["fill"], "below vacuum"), ([("law.air.ambient", None)], ["ambient"], "missing"),
    ([("law.air.shaft", "40 mm")], ["shaft"], "thicker than the bore"),
])
each("sag.settle", {"curve": TABLE, "law": LINE, "load": "500 N"}, [
    ([("curve.table.stroke", ["0 mm", "20 mm", "20 mm", "60 mm"])], ["stroke"], "stands still"),
    ([("curve.table.travel", ["0 mm", "56 mm", "50 mm", "156 mm"])], ["travel"], "falls"),
    ([("curve.table.method", "cubist")], ["method"], "no such method"),
    ([("law", {"parallel": [{"law": LINE, "starts_at": "0 mm"}, {"law": LINE, "starts_at": "-1 mm"}]})], ["starts_at"], "negative, in the second of two"),
    ([("law", {"groups": [{"rate": "60 N/mm", "gap": "40 mm"}, {"rate": "90 N/mm", "gap": "-20 mm"}]})], ["gap"], "negative, in the second of two"),
])
for computes, given in (("sag.rate", {"load": "500 N", "sag": 0.3}), ("sag.bands", {"rates": ["400 lbf/in", "450 lbf/in"], "rear_share": 0.6, "end": "rear",
                        "bike_mass": "15 kg", "unsprung": "4.2 kg", "sag": 0.3}), ("sag.correct", {"rate": "450 lbf/in", "measured_stroke": "18 mm", "sag": 0.3}),
                        ("sag.reserve", {"law": LINE, "load": "500 N"}), ("sag.fill", {"airspring": {**CHAMBER, "travel": "60 mm"}, "load": "300 N", "sag": 0.3})):
    each(computes, {"curve": CURVE, **given}, [
        ([("curve.constant", 0)], ["constant"], "zero"),
        ([("curve", {"fork": {"head_angle": "100 deg", "travel": "60 mm"}})], ["head_angle"], "raked backwards"),
        ([("curve", changed(TABLE, ("table.stroke", ["0 mm", "20 mm", "10 mm", "60 mm"])))], ["stroke"], "falls"),
    ])
WHOLE = {"front": {"curve": {"fork": {"head_angle": "64 deg", "travel": "170 mm"}}, "law": {"linear": {"rate": "8 N/mm", "travel": "170 mm", "preload": "10 mm"}}},
         "rear": {"curve": {"constant": 2.6, "travel": "150 mm"}, "law": {"linear": {"rate": "450 lbf/in", "travel": "57.7 mm"}}},
         "rider_mass": "80 kg", "bike_mass": "15 kg", "unsprung_front": "3.5 kg", "unsprung_rear": "4.2 kg", "rear_share": 0.6,
         "wheelbase": "1220 mm", "mass_centre_height": "1050 mm", "wheel_radius": "360 mm"}
each("sag.whole", WHOLE, [
    ([("bike_mass", "0 kg")], ["bike_mass"], "zero"), ([("unsprung_front", "-1 kg")], ["unsprung_front"], "negative"),
    ([("unsprung_rear", "4.2")], ["unsprung_rear"], "missing unit"), ([("rear_share", 1.5)], ["rear_share"], "more than all"),
    ([("front.law.linear.preload", "-1 mm")], ["preload"], "negative"), ([("rear.curve.travel", "0 mm")], ["travel"], "zero"),
])

# ------------------------- a value that can't be read, and others out of range

each("spring.coil", {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "ends": "squared_ground", "free_length": "140 mm",
                     "shear_modulus": "79500 MPa", "load": "500 N"}, [
    ([("wire_diameter", "10 furlong"), ("active_coils", -5)], ["wire_diameter", "active_coils"], "an unknown unit hides no negative count"),
    ([("wire_diameter", "10"), ("shear_modulus", "0 MPa"), ("load", "-1 N")], ["wire_diameter", "shear_modulus", "load"], "a missing unit and two ranges"),
    ([("active_coils", "five"), ("free_length", "-1 mm")], ["active_coils", "free_length"], "a text for a number, and a range"),
    ([("shear_modulus", "79500"), ("active_coils", None)], ["shear_modulus", "active_coils"], "a missing unit, and a missing field"),
])
each("airspring.law", {**CHAMBER, "fill": "5 bar", "at": ["0 mm"]}, [
    ([("bore", "34"), ("fill", "-2 bar")], ["bore", "fill"], "without a bore nobody knows what is swept, but the fill is below vacuum all the same"),
    ([("ambient", "1 bar"), ("exponent", -1)], ["ambient", "exponent"], "a gauge pressure for an absolute one, and a range"),
])
each("sag.settle", {"curve": CURVE, "law": LINE, "load": "500 N"}, [
    ([("curve.travel", "150"), ("law.linear.rate", "0 N/mm"), ("load", "-1 N")], ["travel", "rate", "load"], "one in the curve, one in the law, one beside them"),
    ([("load", "50 kg"), ("curve.constant", -1)], ["load", "constant"], "a mass for a force, and a range"),
])
each("sag.loads", {"rider_mass": "80 kg", "bike_mass": "15 kg", "unsprung_front": "3.5 kg", "unsprung_rear": "4.2 kg", "rear_share": 0.6}, [
    ([("rider_mass", "80"), ("bike_mass", "0 kg"), ("rear_share", 2)], ["rider_mass", "bike_mass", "rear_share"], "a missing unit and two ranges"),
])
each("sag.whole", WHOLE, [
    ([("front.curve.fork.head_angle", "64"), ("rear.law.linear.rate", "0 N/mm"), ("rider_mass", "-80 kg")], ["head_angle", "rate", "rider_mass"],
     "one at the front, one at the rear, one of the bike as a whole"),
])
each("sag.rate", {"curve": CURVE, "load": "500 N", "sag": 0.3}, [
    ([("curve.constant", 0), ("load", "0 N"), ("sag", 30), ("preload", "-1 mm")], ["constant", "load", "sag", "preload"], "bad throughout, all named"),
])
each("sag.fill", {"curve": CURVE, "airspring": {**CHAMBER, "travel": "60 mm"}, "load": "300 N", "sag": 0.3}, [
    ([("curve.travel", "0 mm"), ("airspring.bore", "0 mm"), ("load", "-1 N")], ["travel", "bore", "load"], "in the curve, in the spring and beside them"),
])
each("sag.bands", {"curve": CURVE, "rates": ["400 lbf/in", "450 lbf/in"], "rear_share": 0.6, "end": "rear", "bike_mass": "15 kg", "unsprung": "4.2 kg", "sag": 0.3}, [
    ([("curve.constant", -1), ("rates", ["450 lbf/in", "400 lbf/in"]), ("rear_share", 1), ("bike_mass", "0 kg")], ["constant", "rates", "rear_share", "bike_mass"], "bad throughout, all named"),
])
each("sag.correct", {"curve": CURVE, "rate": "450 lbf/in", "measured_stroke": "18 mm", "sag": 0.3}, [
    ([("curve.constant", 0), ("rate", "0 lbf/in"), ("measured_stroke", "-1 mm"), ("sag", 1)], ["constant", "rate", "measured_stroke", "sag"], "bad throughout, all named"),
    ([("measured_stroke", "-1 mm"), ("sag", 1)], ["measured_stroke", "sag"], "both named"),
])
each("airspring.fill", {**CHAMBER, "force": "400 N", "at": "40 mm"}, [
    ([("fill", "5 bar"), ("bore", "0 mm"), ("force", "400")], ["fill", "bore", "force"], "a fill beside the force that it is sought for, a range, a missing unit"),
])

file.write()
