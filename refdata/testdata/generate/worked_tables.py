"""Writes data/cases/worked-tables.json: values that were read in tables of standards.

The Unicode CLDR is an open standard, and its test of units prints for each the factor
to SI, as a rational number, and what 1000 of the unit are, to seven digits. The table
of CODATA constants prints exact values in full. Every one is held against the
definitions of the units in casefile.py. See worked.py, and casefile.py for how to run it.
"""
from mpmath import mp, mpf

from worked import book, holds
from casefile import ATM, File, G0, INCH, LBF, POUND, PSI, si, to

file = File("tables of standards")


def convert(group, kind, value, printed, got, tolerance=None, note=""):
    holds(group, "units.convert", {"kind": kind, "value": value}, {"value": printed}, {"value": got},
          {"value": tolerance} if tolerance else None, note)


CLDR = dict(title="Unicode Common Locale Data Repository (CLDR), release 41, test data of units",
            read="read in the file that the Debian package unicode-cldr-core 41-0.1 ships",
            url="https://www.unicode.org/reports/tr35/tr35-general.html")
TEST = "common/testData/units/unitsTest.txt, "

# Rounded results of 1000 units: quantity of the file, kind and unit here, what is printed, and the value by definition.
ROUNDED = [
    ("force ; pound-force", [("force", "lbf")], "4448.222 N", LBF),
    ("pressure ; pound-force-per-square-inch", [("gauge_pressure", "psi"), ("absolute_pressure", "psia"), ("stress", "psi")], "6894757 Pa", PSI),
    ("energy ; pound-force-foot", [("energy", "ft·lbf"), ("torque", "lbf·ft")], "1355.818 J", LBF * 12 * INCH),
    ("mass ; ounce", [("mass", "oz")], "28.34952 kg", POUND / 16),
    ("mass ; pound", [("mass", "lb")], "453.5924 kg", POUND),
    ("volume ; cubic-inch", [("volume", "in3")], "0.01638706 m3", INCH**3),
]
# The symbol of a unit in SI, where it is not the printed one.
SYMBOL = {"gauge_pressure": "Pa(g)", "absolute_pressure": "Pa(a)", "torque": "N·m"}


def in_si(kind, printed):
    number, unit = printed.split(" ")
    return f"{number} {SYMBOL.get(kind, unit)}"


g = book(file, CLDR, TEST + "last column, what 1000 of a unit are, printed to seven digits", 801)
for row, uses, printed, one in ROUNDED:
    for kind, unit in uses:
        convert(g, kind, f"1000 {unit}", in_si(kind, printed), 1000 * one, note=f"{row}. Printed: {printed.split(' ')[0]}.")
SIGN = "The formula beside it subtracts the zero of the scale, with the wrong sign; the printed result adds it."
convert(g, "temperature", "1000 °F", "810.9278 K", (1000 + mpf("459.67")) / mpf("1.8"), note="temperature ; fahrenheit. " + SIGN)
convert(g, "temperature", "1000 °C", "1273.15 K", 1000 + mpf("273.15"), note="temperature ; celsius. " + SIGN)
TURNS = "Printed are {} revolutions, of 360° or 2π each, and the tolerance is half a unit of that."
convert(g, "angle", "1000 rad", to(mpf("159.1549") * 2 * mp.pi, "deg"), mpf(1000), to(mpf("0.00005") * 2 * mp.pi, "deg", 6),
        "angle ; radian. " + TURNS.format("159.1549"))
convert(g, "angle", "1000 deg", to(mpf("2.777778") * 2 * mp.pi, "rad"), 1000 * mp.pi / 180, to(mpf("0.0000005") * 2 * mp.pi, "rad", 6),
        "angle ; degree. " + TURNS.format("2.777778"))

# Factors that are printed in full: quantity of the file, kind, unit here, what is printed, and one unit by definition.
FULL = [
    ("area ; square-centimeter", "area", "cm²", "0.0001 m2", mpf("1e-4")),
    ("area ; square-inch", "area", "in²", "0.00064516 m2", INCH**2),
    ("duration ; millisecond", "time", "ms", "0.001 s", mpf("1e-3")),
    ("energy ; kilojoule", "energy", "kJ", "1000 J", mpf(1000)),
    ("energy ; pound-force-foot", "energy", "ft.lbf", "1.3558179483314004 J", LBF * 12 * INCH),
    ("energy ; pound-force-foot", "torque", "lbf ft", "1.3558179483314004 J", LBF * 12 * INCH),
    ("force ; pound-force", "force", "lbf", "4.4482216152605 N", LBF),
    ("length ; millimeter", "length", "mm", "0.001 m", mpf("1e-3")),
    ("length ; centimeter", "length", "cm", "0.01 m", mpf("1e-2")),
    ("length ; inch", "length", "in", "0.0254 m", INCH),
    ("length ; foot", "length", "ft", "0.3048 m", 12 * INCH),
    ("mass ; gram", "mass", "g", "0.001 kg", mpf("1e-3")),
    ("mass ; ounce", "mass", "oz", "0.028349523125 kg", POUND / 16),
    ("mass ; pound", "mass", "lb", "0.45359237 kg", POUND),
    ("pressure ; kilopascal", "absolute_pressure", "kPa(a)", "1000 Pa", mpf(1000)),
    ("pressure ; bar", "gauge_pressure", "bar(g)", "100000 Pa", mpf("1e5")),
    ("pressure ; atmosphere", "absolute_pressure", "atm(a)", "101325 Pa", ATM),
    ("pressure ; megapascal", "gauge_pressure", "MPa(g)", "1000000 Pa", mpf("1e6")),
    ("volume ; cubic-centimeter", "volume", "cm³", "0.000001 m3", mpf("1e-6")),
    ("volume ; milliliter", "volume", "ml", "0.000001 m3", mpf("1e-6")),
    ("volume ; liter", "volume", "l", "0.001 m3", mpf("1e-3")),
    ("volume ; cubic-inch", "volume", "in³", "0.000016387064 m3", INCH**3),
]
g = book(file, CLDR, TEST + "the column of factors, printed in full", 831)
for row, kind, unit, printed, one in FULL:
    many = printed.startswith(("4.448", "0.02834"))  # so many digits that half a unit is enough
    convert(g, kind, f"1 {unit}", in_si(kind, printed), one, None if many else 1e-15, f"{row}. Printed in full, exact.")
QUOTIENT = mpf("111205540.3815125") / 16129
for kind, unit in [("gauge_pressure", "psig"), ("absolute_pressure", "psia"), ("stress", "psi")]:
    assert abs(QUOTIENT - PSI) <= mpf("1e-40")
    convert(g, kind, f"1 {unit}", in_si(kind, to(QUOTIENT, "Pa", 17)), PSI, 1e-15,
            "pressure ; pound-force-per-square-inch. Printed as the exact quotient 111,205,540.3815125/16,129.")

CODATA = dict(title="CODATA internationally recommended 2018 values of the fundamental physical constants, NIST, complete listing",
              read="read in the table's text that SciPy 1.10.1 ships, scipy/constants/_codata.py",
              url="https://physics.nist.gov/cuu/Constants/Table/allascii.txt")
g = book(file, CODATA, "standard atmosphere, and standard acceleration of gravity", 871)
convert(g, "absolute_pressure", "2.5 atm(a)", to(mpf("2.5") * 101325, "Pa(a)"), mpf("2.5") * ATM, 1e-15, "101 325 Pa are printed, exact.")
convert(g, "force", "75 kgf", to(75 * mpf("9.80665"), "N"), 75 * G0, 1e-15,
        "The weight of 75 kg at the standard acceleration of gravity, printed as 9.806 65 m/s², exact.")
convert(g, "stiffness", "1 kgf/mm", to(mpf("9806.65"), "N/m"), 1000 * G0, 1e-15,
        "The weight of 1 kg at the standard acceleration of gravity, printed as 9.806 65 m/s², exact, per mm.")

# One mole at 273.15 K has the volume R·T/p, with R = N_A·k.
MOLE = mpf("6.02214076e23") * mpf("1.380649e-23") * mpf("273.15")
g = book(file, CODATA, "molar volume of ideal gas (273.15 K, 100 kPa), and the same at 101.325 kPa", 871)
SLACK = "A mole of ideal gas at one temperature: the volumes are printed cut after ten digits, and the tolerance is a unit of each."
for p1, v1, p2, v2 in [("101.325 kPa(a)", "22.41396954 l", "100 kPa(a)", "22.71095464 l"), ("100 kPa(a)", "22.71095464 l", "101.325 kPa(a)", "22.41396954 l")]:
    for p, v in [(p1, v1), (p2, v2)]:
        assert 0 <= MOLE / si(p) - si(v) < si("1e-8 l")
    unit = mpf("1e-8") * (1 / mpf("22.41396954") + 1 / mpf("22.71095464"))
    holds(g, "airspring.polytropic", {"pressure": p1, "volume": v1, "to_volume": v2, "exponent": 1}, {"pressure": p2},
          {"pressure": si(p1) * si(v1) / si(v2)}, {"pressure": to(unit * si(p2), "kPa(a)", 3)}, SLACK)

file.write()
