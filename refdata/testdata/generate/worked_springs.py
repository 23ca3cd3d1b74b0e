"""Writes data/cases/worked-springs.json: coil springs, wires and their moduli that were
read in books, or seen in the companions that work them.

Rate k = G d⁴/(8 D³ n), stress 8 F D/(π d³); of a thin rod along a helix with ends free
to turn 1/k = 64 R³ n/(d⁴ cos α)·(cos²α/G + 2 sin²α/E). Buckling begins at the free
length over the mean diameter √(2π²(E − G)/(2G + E))/ν. See worked.py, and casefile.py
for how to run it.
"""
from mpmath import mp, mpf

from worked import book, companion, holds
from casefile import File, G0, close, num, si, to
from laws import law

file = File("springs in books")
PSI = si("1 psi")


def coil(group, given, expect, tolerance=None, note=""):
    d, mean, n = si(given["wire_diameter"]), si(given["mean_diameter"]), si(given["active_coils"])
    shear = si(given["shear_modulus"])
    k = shear * d**4 / (8 * mean**3 * n)
    got = {"rate": k, "mean_diameter": mean, "index": mean / d}
    if "load" in given:
        f = si(given["load"])
        got.update(travel=f / k, stress_uncorrected=8 * f * mean / (mp.pi * d**3))
    if "free_length" in given:
        a = mp.atan((si(given["free_length"]) - d) / n / (mp.pi * mean))  # plain ends
        got["rate_ends_free"] = d**4 * mp.cos(a) / (8 * mean**3 * n) / (mp.cos(a) ** 2 / shear + 2 * mp.sin(a) ** 2 / si(given["elastic_modulus"]))
    holds(group, "spring.coil", given, expect, got, tolerance, note)


def spring(d, mean, n, shear, load=None, **more):
    given = {"wire_diameter": d, "mean_diameter": mean, "active_coils": n, "ends": "plain", "shear_modulus": shear}
    return {**given, **({"load": load} if load else {}), **more}


# ------------------------------------------------------------- read in the books

HANDBOOK = dict(title="Machinery's Handbook, 31st edition (2020)", read="read in an online copy", url="https://online.flippingbook.com/view/954192180/348")
g = book(file, HANDBOOK, "Spring Design, pp. 318-319, Fig. 14 example, step 2")
full = PSI * 100000 * mp.pi * si("0.0915 in") ** 3 / (8 * si("0.721 in"))
coil(g, spring("0.0915 in", "0.721 in", 1, "11.2 Mpsi", to(full, "lbf", 17)), {"travel": "0.1594 in", "stress_uncorrected": "100000 psi"},
     {"travel": "0.00005 in", "stress_uncorrected": 1e-12},
     "The deflection of a coil at 100 000 psi; the load that gives exactly this stress has 17 digits. The modulus is not printed on the pages seen; 11.2 Mpsi, of the Handbook's table 20, reproduces the digits.")
SOLUTIONS = dict(title="Budynas and Nisbett, Shigley's Mechanical Engineering Design, publisher's chapter 10 solutions, 10th edition", read="read in an online copy",
                 url="https://www.scribd.com/document/352840655/Chap10-10e")
g = book(file, SOLUTIONS, "problem 10-3")
shear, elastic = si("79.3 GPa"), si("207 GPa")
slender = mp.sqrt(2 * mp.pi**2 * (elastic - shear) / (2 * shear + elastic)) / mpf("0.5")
given = {**spring("2.5 mm", "28.5 mm", 13, "79.3 GPa"), "ends": "plain_ground", "elastic_modulus": "207 GPa", "end_fixity": 0.5}
holds(g, "spring.coil", given, {"stable_slenderness": num(mpf("149.9") / mpf("28.5"), 6)}, {"stable_slenderness": slender}, {"stable_slenderness": "0.01"},
      "149.9 mm are printed as the longest spring that can't buckle, by the rounded constant 2.63 of steel, half a unit of which is the tolerance. "
      "That constant is of the moduli given here; with those of the wire itself, 81.0 and 196.5 GPa, it would be 2.52.")
TABLE = dict(title="Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th edition (2010)", read="read in an online copy",
             url="https://digilib.universitaspertamina.ac.id/ebook/Shigley's%20Mechanical%20Engineering%20Design/files/basic-html/page552.html")


def modulus(group, material, wire, printed, note=""):
    """The shear modulus of a table, as the rate of a coil of eight wires' mean diameter: k = G·d/4096 of one coil."""
    d = si(wire)
    number, unit = printed.split()
    half = si(f"{mpf(10) ** -len(number.partition('.')[2]) / 2} {unit}")
    k = lambda shear: shear * d / 4096  # noqa: E731
    given = {"wire_diameter": wire, "mean_diameter": to(8 * d, wire.split()[1]), "active_coils": 1, "ends": "plain", "material": material}
    expect = to(k(si(printed)), "N/mm")
    holds(group, "spring.coil", given, {"rate": expect}, {"rate": k(si(printed))}, {"rate": to(k(half), "N/mm", 6)},
          f"Printed is a shear modulus of {printed}; the rate is that of one coil with it, and the tolerance half a unit of its last digit." + (" " + note if note else ""),
          "the rate by k = G·d/4096, which the coil's dimensions make of its formula")


g = book(file, TABLE, "table 10-5, p. 526")
for wire, printed in (("0.5 mm", "82.7 GPa"), ("1.2 mm", "81.7 GPa"), ("2 mm", "81.0 GPa"), ("5 mm", "80.0 GPa")):
    modulus(g, "ASTM A228", wire, printed)
modulus(g, "ASTM A229", "5 mm", "77.2 GPa", "The row is headed A239 in print, a misprint.")
modulus(g, "ASTM A230", "4 mm", "77.2 GPa")
modulus(g, "ASTM A232", "4 mm", "77.2 GPa")
g = book(file, {**HANDBOOK, "url": "https://online.flippingbook.com/view/954192180/385"}, "table 20, p. 346")
for material, wire, printed in (("ASTM A227", "0.2 in", "11.4 Mpsi"), ("ASTM A232, Machinery's Handbook", "0.2 in", "11.2 Mpsi"), ("ASTM A401", "0.2 in", "11.2 Mpsi"),
                                ("ASTM A313 302", "0.2 in", "10.0 Mpsi"), ("17-7 PH", "0.2 in", "10.5 Mpsi")):
    modulus(g, material, wire, printed)

# ------------------------------------------------------------ seen in companions

g = book(file, {**SOLUTIONS, "title": "Budynas and Nisbett, Shigley's Mechanical Engineering Design", "read": "seen in the publisher's chapter 10 solutions, problems 10-3 and 10-6; the table was not opened"}, "table 10-4")
for material, printed in (("ASTM A228", "2211 MPa"), ("ASTM A229", "1855 MPa")):
    holds(g, "spring.strength", {"material": material, "wire_diameter": "1 mm"}, {"tensile_strength": printed}, {"tensile_strength": si(printed)},
          note="printed as the constant A, in MPa·mmᵐ: the strength of a wire of 1 mm", second="by definition: dᵐ of 1 mm is 1 mmᵐ")
JUNNARKAR = companion("S. B. Junnarkar, Mechanics of Structures", "notebook Chapter12")
WIRE = spring("0.375 in", "4 in", 12, "12 Mpsi", "50 lbf")
g = book(file, JUNNARKAR, "chapter 12, example 13, p. 469", 801)
coil(g, WIRE, {"travel": "1.295 in"}, note="The stress of 16 psi printed there is a slip of the companion, d*83 for d**3; by its data it is 9657 psi.")
given = {"coil": {k: v for k, v in WIRE.items() if k != "load"} | {"free_length": "8 in"}}
deflection = si("50 lbf") / law(given).rate(mpf(0))
holds(g, "spring.law", {"law": given, "at": [to(deflection, "in", 17)]}, {"energy": [to(mpf("32.363") * si("1 lbf") * si("1 in"), "J")]}, {"energy": [si("50 lbf") * deflection / 2]},
      {"energy": to(mpf("0.0005") * si("1 lbf") * si("1 in"), "J", 6)}, "Printed are 32.363 in·lbf, and the tolerance is half a unit of that; the deflection has 17 digits, and the free length is assumed.")
g = book(file, JUNNARKAR, "chapter 12, example 18, p. 476")
rise = to(12 * mp.pi * si("4 in") * mp.tan(mp.pi / 12) + si("0.375 in"), "in", 17)
limit = si("50 lbf") / si("1.322 in") * mpf("0.0005") / mpf("1.322")
coil(g, {**WIRE, "free_length": rise, "elastic_modulus": "30 Mpsi"}, {"rate_ends_free": to(si("50 lbf") / si("1.322 in"), "lbf/in", 8)}, {"rate_ends_free": to(limit, "lbf/in", 4)},
     "The same at a helix of 15°, ends free to turn: 1.322 in are printed for 50 lbf, and the tolerance is half a unit of that. The free length makes the angle for plain ends.")
g = book(file, companion("I. J. Levinson, Statics and Strength of Materials", "notebook ch10"), "example 10.9, p. 238")
coil(g, spring("1 in", "4 in", 10, "12 Mpsi", "1200 lbf"), {"travel": "0.512 in"}, {"travel": 1e-12}, "exact as printed; the stress there has a factor of 1.33 that no formula of this format gives")
g = book(file, companion("S. M. A. Kazimi, Solid Mechanics", "notebook Chapter6"), "chapter 6, example 14, p. 206")
coil(g, spring("10 mm", "100 mm", 18.5, to(mpf("8e5") * G0 / mpf("1e-4"), "MPa"), "60 kgf"), {"travel": "11.1 cm"}, {"travel": 1e-12}, "exact as printed: of 20 turns three quarters at either end are dead; G is 8e5 kgf/cm²")
SARKAR = companion("B. K. Sarkar, Strength of Materials", "notebook Chapter08")
g = book(file, SARKAR, "problem 8.1, p. 206")
q = mp.pi * si("126 MPa") / (16 * si("45 N"))  # R = q d³, and the coils of n = L/d touch
d = (si("42 GPa") / (64 * si("1 N/mm") * si("4.5 cm") * q**3)) ** (mpf(1) / 4)
coil(g, spring(to(d, "mm", 17), to(2 * q * d**3, "mm", 17), float(num(si("4.5 cm") / d, 17)), "42 GPa", "45 N"), {"rate": "1 N/mm", "stress_uncorrected": "126 MPa", "mean_diameter": "31.5 mm"},
     {"rate": 1e-12, "stress_uncorrected": 1e-12, "mean_diameter": "0.05 mm"},
     "The example finds wire and diameter, printed as 0.306 and 3.15 cm, for 1 kN/m, 126 MPa under 45 N and 4.5 cm when solid; they have 17 digits here.")
g = book(file, SARKAR, "problem 8.3, p. 208")
coil(g, spring("2 cm", "20 cm", 20, "80 GPa", "400 N"), {"rate": "10 N/mm", "travel": "40 mm", "stress_uncorrected": "25464791 Pa"}, {"rate": 1e-12, "travel": 1e-12, "stress_uncorrected": "0.5 Pa"},
     "exact as printed, with 2 mm of gap for each of 20 turns; the stress is printed to whole pascals")
g = book(file, SARKAR, "problem 8.5, p. 210")
coil(g, spring("6 mm", "5 cm", 50, "80 GPa"), {"rate": "2073.6 N/m"}, {"rate": 1e-12}, "exact as printed")
g = book(file, SARKAR, "problem 8.6, p. 209")
force = mp.pi * si("8 mm") ** 3 * si("600 MPa") / (8 * si("5 cm"))
coil(g, spring("8 mm", "5 cm", 18.36, "80 GPa", to(force, "N", 17)), {"travel": "13.52 cm", "stress_uncorrected": "600 MPa"}, {"travel": "0.005 cm", "stress_uncorrected": 1e-12},
     "A buffer: 18.36 turns and 13.52 cm are printed for a stress of 600 MPa; the load that gives exactly this stress has 17 digits.")

# ------------------------------------------------------ read in the books, more

def elasticity(group, material, wire, elastic, shear):
    """Both moduli of a table, as the slenderness below which a spring never buckles."""
    c2 = lambda e, g: mp.sqrt(2 * mp.pi**2 * (e - g) / (2 * g + e)) / mpf("0.5")  # noqa: E731
    e, g = si(elastic), si(shear)
    off = [si(f"{mpf(10) ** -len(text.split()[0].partition('.')[2]) / 2} {text.split()[1]}") for text in (elastic, shear)]
    limit = abs(c2(e + off[0], g - off[1]) - c2(e, g))
    given = {"wire_diameter": wire, "mean_diameter": to(8 * si(wire), wire.split()[1]), "active_coils": 5, "ends": "plain", "material": material, "end_fixity": 0.5}
    close(mp.polyroots([1, 0, -2 * (e - g) / (2 * g + e)])[-1] * mp.pi, c2(e, g) / 2, mpf("1e-30"), "slenderness")
    holds(group, "spring.coil", given, {"stable_slenderness": num(c2(e, g))}, {"stable_slenderness": c2(e, g)}, {"stable_slenderness": str(num(limit, 3))},
          f"Printed are moduli of {elastic} and {shear}, which the slenderness below which a spring never buckles depends on alone. The tolerance is half a unit of the last digit of both.",
          "the slenderness by a root finder")


g = book(file, HANDBOOK, "Spring Design, pp. 318-319, Fig. 14 example, steps 3 to 5", 901)
coil(g, spring("0.0915 in", "0.721 in", 9.1, "11.2 Mpsi", "36 lbf"), {"travel": "1.25 in"}, note="9.1 coils are printed for 36 lbf at 1.25 in.")
g = book(file, TABLE, "table 10-5, p. 526, both moduli", 901)
for row in [("ASTM A228", "0.5 mm", "203.4 GPa", "82.7 GPa"), ("ASTM A228", "1.2 mm", "200 GPa", "81.7 GPa"), ("ASTM A228", "2 mm", "196.5 GPa", "81.0 GPa"),
          ("ASTM A228", "5 mm", "193 GPa", "80.0 GPa"), ("ASTM A229", "5 mm", "196.5 GPa", "77.2 GPa"), ("ASTM A230", "4 mm", "203.4 GPa", "77.2 GPa"),
          ("ASTM A232", "4 mm", "203.4 GPa", "77.2 GPa")]:
    elasticity(g, *row)
g = book(file, {**HANDBOOK, "url": "https://online.flippingbook.com/view/954192180/385"}, "table 20, p. 346, both moduli", 901)
for row in [("ASTM A227", "0.2 in", "28.5 Mpsi", "11.4 Mpsi"), ("ASTM A232, Machinery's Handbook", "0.2 in", "28.5 Mpsi", "11.2 Mpsi"), ("ASTM A401", "0.2 in", "29.5 Mpsi", "11.2 Mpsi"),
            ("ASTM A313 302", "0.2 in", "28.0 Mpsi", "10.0 Mpsi"), ("17-7 PH", "0.2 in", "29.5 Mpsi", "10.5 Mpsi")]:
    elasticity(g, *row)

file.write()
