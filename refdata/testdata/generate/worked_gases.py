"""Writes data/cases/worked-gases.json: examples on gases that were read in books, or
seen in the companions that work them.

p Vⁿ is constant along a change, and the work on the gas is −∫p dV, by quadrature; a
sealed rigid chamber keeps p/T in absolute pressure. The atmosphere integrates
dp/dH = −p g₀M/(R*T), T = 288.15 K − 0.0065 K/m · H, numerically. See worked.py, and
casefile.py for how to run it.
"""
from mpmath import mp, mpf

from worked import COLLEGE, UNIVERSITY, book, companion, half, holds
from casefile import ATM, File, G0, digits, si, to

file = File("gases in books")
CHANGE = "airspring.polytropic"
BY_GAS = "Printed is the work done by the gas; here it is that done on it, with the other sign."
UNROUNDED = "The volume after is that of the data, to 17 digits."


def change(group, p, v, to_v, n, note, pressure=None, work=None, tolerance=None):
    """A change from a volume to another; volumes and pressures that are numbers get 17 digits."""
    v, to_v = (x if isinstance(x, str) else to(x, "m3", 17) for x in (v, to_v))
    p = p if isinstance(p, str) else to(p, "Pa(a)", 17)
    n = n if isinstance(n, (int, float)) else float(digits(n, 17))
    given = {"pressure": p, "volume": v, "to_volume": to_v, "exponent": n}
    along = lambda x: si(p) * (si(v) / x) ** si(n)  # noqa: E731
    got = {"pressure": along(si(to_v)), "work": -mp.quad(along, mp.linspace(si(v), si(to_v), 5))}
    expect = {name: text for name, text in (("pressure", pressure), ("work", work)) if text}
    holds(group, CHANGE, given, expect, got, tolerance, note)


# ------------------------------------------------------------- read in the books

g = book(file, UNIVERSITY, "volume 2, module m58401, Adiabatic Processes for an Ideal Gas, worked example")
change(g, "1.00e5 Pa(a)", "240 cm3", "40 cm3", 1.4, BY_GAS, "1.23e6 Pa(a)", "63 J")
g = book(file, UNIVERSITY, "volume 2, module m58397, First Law of Thermodynamics, worked example 4")
change(g, to(mpf("8.314") * 300, "Pa(a)"), "1 m3", "3 m3", 1, "One mole at 300 K that expands to three times its volume, R = 8.314 J/(mol K), is given as p·V. " + BY_GAS, None, "-2.74 kJ")
g = book(file, UNIVERSITY, "volume 2, module m58397, exercise fs-id1172098276456 and its printed solution")
change(g, "3.0e6 Pa(a)", "2 l", "6 l", 1.8, BY_GAS, None, "-4.39 kJ")
g = book(file, UNIVERSITY, "volume 2, module m58401, exercise fs-id1172098269845 and its printed solution")
change(g, 3 * ATM / mpf(2) ** mpf("1.2"), "2 l", "1.5 l", 1.2, "Oxygen that has 3.0 atm at 1 l; the pressure at 2 l follows, to 17 digits.", None, "78 J")
g = book(file, UNIVERSITY, "volume 2, module m58401, exercise fs-id1172098676120 and its printed solution")
change(g, "1 bar(a)", "2 l", "1 l", 1.4, "Printed is the temperature, 106 K of 80 K when the volume is halved: the pressure then grows by 2·106/80, "
       "and the tolerance is half a unit of the printed digit. The 7/5 follows from a gas of two atoms.", "2.65 bar(a)", None, {"pressure": "0.0125 bar(a)"})
g = book(file, UNIVERSITY, "volume 2, module m58401, exercise fs-id1172098407930 and its printed solution")
change(g, "2 atm(a)", "5 l", si("5 l") * mpf(2) ** mpf("0.6"), mpf(5) / 3, "Argon from 2 to 1 atm. " + UNROUNDED + " " + BY_GAS +
       " The book rounds on its way, to 3.63 l·atm: 368.0 J is exact, hence the tolerance.", None, "-367 J", {"work": 3e-3})
g = book(file, UNIVERSITY, "volume 2, module m58399, Thermodynamic Processes, exercise fs-id1172097209541 and its printed solution")
change(g, to(2 * mpf("8.314") * 298, "Pa(a)"), "1 m3", "2 m3", 1, "Two moles of helium at 298 K, R = 8.314 J/(mol K), given as p·V. The book speaks of the external agent, and prints the work done by the gas.",
       None, "-3435 J")
g = book(file, UNIVERSITY, "volume 2, module m58391, exercise fs-id1172098362491 and its printed solution")
change(g, "7.00e5 Pa(a)", si("2 l") - si("100 cm3") * mpf("1.013e5") / mpf("7e5"), "2.0 l", 1,
       "Of 2.0 l at 7.00e5 Pa, 100 cm³ are let out at 1.013e5 Pa, which the book doesn't print with the problem: what stays filled so much less, and expands.", "6.95e5 Pa(a)")
change(g, "7.00e5 Pa(a)", si("2 l") - si("100 cm3") * ATM / mpf("7e5"), "2.0 l", 1, "the same in atmospheres", "6.86 atm(a)")


def warmed(group, fill, before, after, printed, tolerance=None, note=""):
    """A sealed tyre or bulb at sea level."""
    got = (si(fill) + ATM) * si(after) / si(before) - ATM
    holds(group, "airspring.conditions", {"fill": fill, "from": {"temperature": before, "altitude": "0 m"}, "to": {"temperature": after, "altitude": "0 m"}},
          {"fill": printed}, {"fill": got}, tolerance, note)


g = book(file, COLLEGE, "module m42216, The Ideal Gas Law, problem fs-id2682279 and its printed solution")
warmed(g, "2.50e5 Pa(g)", "35.0 °C", "-40.0 °C", to(mpf("1.62") * ATM, "Pa(g)"), {"fill": to(mpf("0.005") * ATM, "Pa(g)")},
       "Printed are 1.62 atm, and the tolerance is half a unit of that. The standard atmosphere stands for the book's, which it doesn't print; without it the answer would be 1.87 atm.")
g = book(file, COLLEGE, "module m42216, The Ideal Gas Law, the solution to a bulb warmed from 20.0 to 60.0 °C")
warmed(g, "0 Pa(g)", "20.0 °C", "60.0 °C", to(mpf("0.136") * ATM, "Pa(g)"), {"fill": to(mpf("0.0005") * ATM, "Pa(g)")},
       "Printed are 0.136 atm, and the tolerance is half a unit of that. University Physics, module m58391, prints 0.137 for the same bulb, a unit too much.")
g = book(file, UNIVERSITY, "volume 2, module m58401, exercise fs-id1172096052198 and its printed solution")
pump = {"bore": "2.50 cm", "travel": "30.0 cm", "positive_volume": "200 cm3", "fill": "2.40e5 Pa(g)", "ambient": "1 atm(a)", "exponent": 1, "at": ["0 cm"]}
holds(g, "airspring.law", pump, {"force": ["117.8 N"]}, {"force": [si("2.40e5 Pa(g)") * mp.pi * si("2.50 cm") ** 2 / 4]},
      note="A bicycle pump whose mean gauge pressure is given; the volume is invented and has no effect at full extension.")

g = book(file, COLLEGE, "module m42195, Gauge Pressure, problem fs-id2408955 and its printed solution")
round_one = {"bore": to(mp.sqrt(4 * si("22.4 cm2") / mp.pi), "mm", 17), "travel": "100 mm", "positive_volume": "500 cm3", "ambient": "1 atm(a)", "exponent": 1, "force": "784 N"}
holds(g, "airspring.fill", round_one, {"fill": "3.50e5 Pa(g)"}, {"fill": si("784 N") / (mp.pi * si(round_one["bore"]) ** 2 / 4)}, {"fill": 2.3e-3},
      "A tyre at 3.50e5 Pa above the atmosphere that carries 80.0 kg, g 9.80 m/s², stands on 22.4 cm²; half a unit of that area is the tolerance. Here it is the area of a piston, whose chamber is invented.")

# ------------------------------------------------------------ seen in companions

JOEL = companion("Rayner Joel, Basic Engineering Thermodynamics", "notebooks Chapter1_1 and Chapter5_1")
g = book(file, JOEL, "example 1.3, p. 15")
change(g, "2070 kPa(a)", "0.014 m3", si("0.014 m3") * mpf(10) ** (1 / mpf("1.35")), 1.35, "To 207 kPa. " + UNROUNDED + " " + BY_GAS, None, "-37.2 kJ")
g = book(file, JOEL, "example 5.9, p. 117")
change(g, "300 kPa(a)", "1 m3", (mpf(298) / 453) ** mpf("2.5"), 1.4, "From 298 to 453 K: the volume after follows from T·V^(n−1), to 17 digits.", "1299 kPa(a)")
g = book(file, JOEL, "example 5.10, p. 118")
change(g, "1 bar(a)", "0.015 m3", "0.09 m3", 1.35, "Printed are 25.0 °C after, with 273 K for 0 °C, of 558 K before: the pressure falls by 298.0/558/6, and the tolerance is half a unit of the printed digit.",
       to(mpf("1e5") * 298 / 558 / 6, "bar(a)"), None, {"pressure": to(mpf("1e5") * mpf("0.05") / 558 / 6, "bar(a)")})
g = book(file, JOEL, "example 5.11, p. 119")
v = mpf("0.675") * 287 * 553 / mpf("1.4e6")
change(g, "1400 kPa(a)", v, 4 * v, 1.3, "0.675 kg of air at 553 K, R = 287 J/(kg K), to four times its volume, 0.0765 m³ printed", "231 kPa(a)")
g = book(file, JOEL, "example 5.12, p. 120")
change(g, "140 kPa(a)", "0.15 m3", si("0.15 m3") / mpf(10) ** (1 / mpf("1.25")), 1.25, "To 1400 kPa. " + UNROUNDED + " " + BY_GAS, None, "49.1 kJ")
g = book(file, JOEL, "example 5.13, p. 123")
gamma = mpf("1.046") / mpf("0.752")
change(g, "700 kPa(a)", "0.015 m3", si("0.015 m3") * mpf(5) ** (1 / gamma), gamma, "Adiabatic to 140 kPa, with the ratio of the printed heats, 1.046 and 0.752 kJ/(kg K). " + UNROUNDED + " " + BY_GAS, None, "-9.77 kJ")
POTTER = companion("M. C. Potter, Thermodynamics Demystified", "notebooks Chapter3_2 and Chapter4_2")
g = book(file, POTTER, "example 3.3, p. 47")
change(g, "200 kPa(a)", "2 m3", "4 m3", 1, BY_GAS, None, "-277 kJ")
g = book(file, POTTER, "example 4.9, p. 77")
change(g, "200 kPa(a)", "2 m3", "0.2 m3", 1.4, "The work is that of a specific heat of 0.717 kJ/(kg K), cut to 1510 kJ; 0.287/(1.4 − 1) = 0.7175 gives 1511.9 kJ, hence the tolerance.", None, "1510 kJ", {"work": 1.3e-3})
PATHAK = companion("G. K. Pathak, D. K. Chavan, Basic Mechanical Engineering", "notebooks bme1 and bme2")
g = book(file, PATHAK, "example 1.4, p. 36")
change(g, "100 kPa(a)", "0.056 m3", "0.007 m3", 1, "", "800 kPa(a)", "11.64 kJ")
g = book(file, PATHAK, "example 2.7, p. 94")
change(g, "500 kPa(a)", "0.22 m3", si("0.22 m3") * mpf(5) ** (1 / mpf("1.2")), 1.2, "To 100 kPa. " + UNROUNDED + " " + BY_GAS, None, "-129.4 kJ")
ESPOSITO = companion("A. Esposito, Fluid Power with Applications", "notebook Chapter_13_Pneumatics_Air_Preparation")
g = book(file, ESPOSITO, "example 13.1, p. 471")
cylinder = {"bore": "2 in", "travel": "5 in", "positive_volume": "20 in3", "fill": "20 psi", "ambient": "14.7 psia", "exponent": 1, "at": ["4 in"]}
left = si("20 in3") - mp.pi * si("2 in") ** 2 / 4 * si("4 in")
holds(g, "airspring.law", cylinder, {"positive_pressure": ["93.4 psia"]}, {"positive_pressure": [si("34.7 psia") * si("20 in3") / left]},
      note="A blocked cylinder of 2 in pushed in by 4 in: 78.7 psi are printed, above 14.7 psia. The travel of 5 in is invented and has no effect.")
g = book(file, ESPOSITO, "example 13.3, p. 473")
warmed(g, "20 psi", "60 °F", "160 °F", "26.7 psi", note="The companion's text has wrong zeros of the scales, whose errors cancel; 26.7 psi are right with 14.7 psia and 460 °F.")

# ------------------------------------------------------------------- atmosphere

LAPSE, T0 = mpf("0.0065"), mpf("288.15")


def atmosphere(h):
    steps = mp.quad(lambda x: G0 * mpf("0.0289644") / mpf("8.31432") / (T0 - LAPSE * x), [0, h / 2, h])
    return ATM * mp.exp(-steps), T0 - LAPSE * h


def level(group, altitude, pressure, temperature, tolerance=None, note=""):
    p, t = atmosphere(si(altitude))
    holds(group, "airspring.atmosphere", {"altitude": altitude}, {"pressure": pressure, "temperature": temperature}, {"pressure": p, "temperature": t}, tolerance, note)


USSA = dict(title="U.S. Standard Atmosphere, 1976", read="seen in the tests of the ussa1976 package, tests/test_core.py, commit 40d3c738; the report was not opened",
            url="https://github.com/rayference/ussa1976")
g = book(file, USSA, "table 1, by geopotential altitude")
for h, p, t in [(200, 98945, "286.850"), (1450, 85076, "278.725"), (5250, 52239, "254.025"), (11000, 22632, "216.650")]:
    level(g, f"{h} m", f"{p} Pa(a)", f"{t} K")
for h, p, t in [(6500, 44034, "245.900"), (9800, 27255, "224.450")]:
    level(g, f"{h} m", f"{p} Pa(a)", f"{t} K", {"pressure": "1 Pa(a)"}, "The pressure is printed cut, not rounded: the tolerance is a unit of its last digit.")
ICAO = dict(title="Manual of the ICAO Standard Atmosphere, Doc 7488/3", read="seen in the tests of the ambiance package, tests/table_data.py, commit 232032bb; the manual was not opened",
            url="https://github.com/airinnova/ambiance")
g = book(file, ICAO, "tables 1 to 3")
OTHER = ("That manual's gas constant is 287.05287 J/(kg K), which makes a unit of the last printed digit of the pressure at 11 km: "
         "so much is allowed.")
for z, p, t in [(1000, "89876.3", "281.651"), (2000, "79501.4", "275.154"), (11000, "22699.9", "216.774")]:
    level(g, to(mpf(6356766) * z / (6356766 + z), "m"), f"{p} Pa(a)", f"{t} K", {"pressure": "0.1 Pa(a)"} if z == 11000 else None,
          f"Printed for a geometric altitude of {z} m, which is this geopotential one with a radius of 6356766 m." + (f" {OTHER}" if z == 11000 else ""))
level(g, "11000 m", "22632.0 Pa(a)", "216.650 K", {"pressure": "0.1 Pa(a)"}, OTHER)

file.write()
