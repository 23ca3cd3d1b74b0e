"""Writes data/cases/units.json: the exact factors in rational arithmetic.

Run by .ci/generate units. It needs the standard library alone. The script
testdata/authorities/gnu_units.py compares every value with GNU units. Definitions: inch 0.0254 m and
pound 0.45359237 kg (1959 agreement), standard gravity 9.80665 m/s2, bar
100 000 Pa, standard atmosphere 101 325 Pa, all exact.
"""
import json
from decimal import Decimal, getcontext
from fractions import Fraction as F

getcontext().prec = 60
PI = Decimal("3.14159265358979323846264338327950288419716939937510582097494")

inch, pound, g0 = F("0.0254"), F("0.45359237"), F("9.80665")
foot, ounce, lbf = 12 * inch, pound / 16, pound * g0
psi, bar, atm = lbf / inch**2, F(100000), F(101325)


def text(x, digits=17):
    """x rounded to so many significant digits, without an exponent."""
    d = x if isinstance(x, Decimal) else Decimal(x.numerator) / Decimal(x.denominator)
    d = d.normalize() if d == d.to_integral() else d
    r = Decimal(f"{d:.{digits - 1}e}")
    s = f"{r:f}"
    return s.rstrip("0").rstrip(".") if "." in s else s


def case(id, kind, value, want, tolerance, **more):
    return {"id": id, "computes": "units.convert", "given": {"kind": kind, "value": value},
            "expect": {"value": want}, "tolerance": {"value": tolerance}, **more}


SP811 = {
    "title": "NIST Special Publication 811, Guide for the Use of the International System of Units (SI)",
    "edition": "2008 edition",
    "year": 2008,
    "where": "Appendix B.8, factors by quantity, and its footnotes 22 and 23; seen in public unit definitions that cite it; the publication was not opened",
    "url": "https://www.nist.gov/physical-measurement-laboratory/nist-guide-si-appendix-b",
}
SEEN = ("The factor was seen quoted in public unit definitions that cite the publication; "
        "the exact value was confirmed with GNU units 2.22.")

# id, kind, value, printed digits in SI, unit, half a unit in the last printed digit, exact
PRINTED = [
    ("lbf-N", "force", "1 lbf", "4.448222", "N", "0.0000005", lbf, 1),
    ("lb-kg", "mass", "1 lb", "0.4535924", "kg", "0.00000005", pound, 1),
    ("psi-Pa", "gauge_pressure", "1 psi", "6894.757", "Pa(g)", "0.0005", psi, 1),
    ("lbfin-Nm", "torque", "1 lbf.in", "0.1129848", "N·m", "0.00000005", lbf * inch, 1),
    ("lbfft-Nm", "torque", "1 lbf.ft", "1.355818", "N·m", "0.0000005", lbf * foot, 1),
    ("psi-bar", "gauge_pressure", "1 psi", "0.06894757", "bar", "0.000000005", psi, bar),
    ("oz-kg", "mass", "1 oz", "0.02834952", "kg", "0.000000005", ounce, 1),
]
# printed in full, exact by definition
EXACT = [
    ("in-m", "length", "1 in", "0.0254", "m"),
    ("ft-m", "length", "1 ft", "0.3048", "m"),
    ("bar-Pa", "gauge_pressure", "1 bar", "100000", "Pa(g)"),
    ("bar-Pa-abs", "absolute_pressure", "1 bar(a)", "100000", "Pa(a)"),
    ("atm-Pa", "absolute_pressure", "1 atm(a)", "101325", "Pa(a)"),
    ("kgf-N", "force", "1 kgf", "9.80665", "N"),
]
FAHRENHEIT = [("68", F(68)), ("32", F(32)), ("-40", F(-40)), ("212", F(212)), ("14", F(14)), ("100", F(100))]

# further exact ones, not printed so: value, unit wanted, exact number
COMPUTED = [
    ("lbfperin-Nperm", "stiffness", "1 lbf/in", "N/m", lbf / inch),
    ("lbfperin-Npermm", "stiffness", "1 lbf/in", "N/mm", lbf / inch / 1000),
    ("Npermm-lbfperin", "stiffness", "1 N/mm", "lbf/in", 1000 * inch / lbf),
    ("450lbfperin", "stiffness", "450 lbf/in", "N/mm", 450 * lbf / inch / 1000),
    ("kgfpermm", "stiffness", "1 kgf/mm", "N/mm", g0),
    ("Nm-lbfin", "torque", "1 N m", "lbf in", 1 / (lbf * inch)),
    ("Nm-lbfft", "torque", "1 N.m", "lbf·ft", 1 / (lbf * foot)),
    ("in3-cm3", "volume", "1 in3", "cm3", inch**3 * 10**6),
    ("cm3-in3", "volume", "1 cc", "in³", F(1, 10**6) / inch**3),
    ("ml-l", "volume", "355 ml", "l", F(355, 1000)),
    ("mm3-m3", "volume", "12500 mm3", "m³", F(12500, 10**9)),
    ("in2-mm2", "area", "1 in2", "mm2", inch**2 * 10**6),
    ("cm2-m2", "area", "7.5 cm²", "m²", F("7.5") / 10**4),
    ("bar-psi", "gauge_pressure", "1 bar(g)", "psig", bar / psi),
    ("psi-MPa", "gauge_pressure", "350 psi", "MPa(g)", 350 * psi / 10**6),
    ("psi-below", "gauge_pressure", "-3 psi", "kPa(g)", -3 * psi / 1000),
    ("psia-kPa", "absolute_pressure", "14.7 psia", "kPa(a)", F("14.7") * psi / 1000),
    ("Mpsi-GPa", "stress", "11.5 Mpsi", "GPa", F("11.5") * psi * 10**6 / 10**9),
    ("kpsi-MPa", "stress", "201 kpsi", "MPa", 201 * psi * 1000 / 10**6),
    ("MPa-psi", "stress", "79500 MPa", "psi", 79500 * 10**6 / psi),
    ("ftlbf-J", "energy", "1 ft·lbf", "J", foot * lbf),
    ("kJ-J", "energy", "1.25 kJ", "J", F(1250)),
    ("gcm3", "density", "7.85 g/cm3", "kg/m³", F(7850)),
    ("lb-kg-185", "mass", "185 lb", "kg", 185 * pound),
    ("oz-g", "mass", "13 oz", "g", 13 * ounce * 1000),
    ("in-mm", "length", "2.5 in", "mm", F("2.5") * inch * 1000),
    ("cm-ft", "length", "91.44 cm", "ft", F("0.9144") / foot),
    ("kN-lbf", "force", "2.5 kN", "lbf", 2500 / lbf),
    ("Hz", "frequency", "2.5 Hz", "Hz", F("2.5")),
    ("zero", "length", "0 in", "mm", F(0)),
    ("exponent", "length", "1.5e2 mm", "m", F("0.15")),
    ("deg-rad", "angle", "64.5 deg", "rad", Decimal("64.5") * PI / 180),
    ("rad-deg", "angle", "1 rad", "°", 180 / PI),
]

# id, kind, value, the fields that must be named, why
REFUSED = [
    ("bare", "stiffness", "450", ["value"], "a number without a unit"),
    ("empty", "length", "", ["value"], "no number"),
    ("unit-only", "length", "mm", ["value"], "no number"),
    ("case", "length", "5 MM", ["value"], "unit symbols are case-sensitive"),
    ("yard", "length", "1 yd", ["value"], "the yard is not among the units"),
    ("mass-as-force", "force", "1 lb", ["value"], "lb is a mass, lbf a force"),
    ("kg-as-force", "force", "75 kg", ["value"], "kg is a mass"),
    ("gauge-as-absolute", "absolute_pressure", "72 psi", ["value"], "bare psi is gauge"),
    ("absolute-as-gauge", "gauge_pressure", "86.7 psia", ["value"], "psia is absolute"),
    ("bare-atm", "absolute_pressure", "1 atm", ["value"], "absolute pressure says (a)"),
    ("below-vacuum", "absolute_pressure", "-1 kPa(a)", ["value"], "below vacuum"),
    ("below-zero", "temperature", "-274 °C", ["value"], "below absolute zero"),
    ("torr", "absolute_pressure", "760 torr", ["value"], "the torr is not among the units"),
    ("kgfcm2", "gauge_pressure", "6 kgf/cm2", ["value"], "kgf/cm² is not among the units"),
    ("nan", "mass", "NaN kg", ["value"], "not a number"),
    ("infinite", "mass", "Inf kg", ["value"], "not finite"),
    ("overflow", "mass", "1e999 kg", ["value"], "larger than any float64"),
    ("comma", "length", "2,5 mm", ["value"], "the decimal sign is a point"),
    ("hex", "length", "0x10 mm", ["value"], "decimal numbers only"),
    ("two-units", "length", "5 mm cm", ["value"], "one unit"),
    ("other-kind", "length", "5 N", ["value"], "the unit of another quantity"),
    ("kind", "speed", "5 m/s", ["kind"], "speed is not among the kinds"),
    ("kind-case", "Length", "5 mm", ["kind"], "kinds are case-sensitive"),
]

printed = [case("unit-" + i, k, v, p + " " + u, half + " " + u, second=SEEN, note=f"exact: {text(x / per)} {u}")
           for i, k, v, p, u, half, x, per in PRINTED]
printed += [case("unit-" + i, k, v, w + " " + u, 1e-15, second=SEEN, note="printed in full, exact")
            for i, k, v, w, u in EXACT]
RELATION = "the relation is printed, and the number exact by it"
for t, f in FAHRENHEIT:
    celsius = (f - 32) / F("1.8")
    kelvin = (f + F("459.67")) / F("1.8")
    name = t.replace("-", "minus-")
    how = "the defining relations t/°C = (t/°F − 32)/1.8 and T/K = (t/°F + 459.67)/1.8, in rational arithmetic; GNU units 2.22"
    printed.append(case(f"unit-fahrenheit-{name}-C", "temperature", t + " °F", text(celsius) + " °C", "1e-12 K", second=how, note=RELATION))
    printed.append(case(f"unit-fahrenheit-{name}-K", "temperature", t + " degF", text(kelvin) + " K", 1e-15, second=how, note=RELATION))

computed = [case("unit-" + i, k, v, text(x) + " " + u, 1e-15, second="GNU units 2.22") for i, k, v, u, x in COMPUTED]

print(json.dumps({
    "schema": "wheelrate/cases/1",
    "subject": "units",
    "groups": [
        {"source": SP811, "standing": "published", "cases": printed},
        {"source": {"title": "Python 3 fractions, exact rational arithmetic on the definitions; angles with π to 60 digits",
                    "where": "testdata/generate/units.py"}, "standing": "computed", "cases": computed},
        {"source": {"title": "Rules of this format: no bare number, case-sensitive symbols, gauge and absolute pressure apart, mass and force apart"},
         "standing": "definition",
         "cases": [{"id": "unit-refused-" + i, "computes": "units.convert", "given": {"kind": k, "value": v},
                    "error": e, "note": why} for i, k, v, e, why in REFUSED]},
    ],
}, ensure_ascii=False, indent=2))
