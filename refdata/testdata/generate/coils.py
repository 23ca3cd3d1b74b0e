"""Writes data/cases/coils.json: coil springs, wire strength, warm wire.

Formulas, with d the wire, D the mean diameter, C = D/d, n the active and N the
total coils, p the pitch, α = atan(p/(πD)) the helix angle:

    rate            k = G d⁴/(8 D³ n)
    Wahl            (4C−1)/(4C−4) + 0.615/C
    Bergsträsser    (4C+2)/(4C−3)
    stress          factor · 8 F D/(π d³)
    ends free       1/k = c₁₁ = L R² (cos²α/GJ + sin²α/EI), L = πDn/cos α
    ends held       1/k = c₁₁ − c₁₂²/c₂₂, c₁₂ = L R sin α cos α (1/GJ − 1/EI),
                    c₂₂ = L (sin²α/GJ + cos²α/EI)
    surge           ½ √(k/m), m the mass of the active wire
    buckling        L₀ C₁ (1 − √(1 − C₂/λ²)), λ = νL₀/D,
                    C₁ = E/(2(E−G)), C₂ = 2π²(E−G)/(2G+E)
    solid diameter  √(D² + (p²−d²)/π²) + d
    load tolerance  (a_F k_F + 0.015 F) Q of EN 15800

See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, digits, mpmath_source, num, si, to
from laws import SOLID_TURNS

file = File("coil springs")
SCRIPT = "coils.py"
OCTAVE = "GNU Octave 7.3.0, testdata/authorities/octave_springs.py"


# ---------------------------------------------------------------- the formulas

def total_coils(ends, n):
    return n + {"plain": 0, "plain_ground": 1, "squared": 2, "squared_ground": 2}[ends]


def pitch(ends, free, d, n):
    return {"plain": (free - d) / n, "plain_ground": free / (n + 1),
            "squared": (free - 3 * d) / n, "squared_ground": (free - 2 * d) / n}[ends]


def wahl(c):
    return (4 * c - 1) / (4 * c - 4) + mpf("0.615") / c


def bergstrasser(c):
    return (4 * c + 2) / (4 * c - 3)


def thin_rod(d, diameter, n, p, shear, elastic):
    """The rates of a thin rod along a helix: ends free to turn, and held."""
    a, r = mp.atan(p / (mp.pi * diameter)), diameter / 2
    length = mp.pi * diameter * n / mp.cos(a)
    gj, ei = shear * mp.pi * d**4 / 32, elastic * mp.pi * d**4 / 64
    c11 = length * r**2 * (mp.cos(a) ** 2 / gj + mp.sin(a) ** 2 / ei)
    c12 = length * r * mp.sin(a) * mp.cos(a) * (1 / gj - 1 / ei)
    c22 = length * (mp.sin(a) ** 2 / gj + mp.cos(a) ** 2 / ei)
    for have, want in zip((c11, c12, c22), by_vectors(r, a, length, gj, ei)):
        close(have, want, mpf("1e-40"), "thin rod")
    return 1 / c11, 1 / (c11 - c12**2 / c22)


def by_vectors(r, a, length, gj, ei):
    """c₁₁, c₁₂, c₂₂ again: the moments of a unit force and of a unit couple
    along the axis, as vectors, split along and across the wire and integrated
    over one turn."""
    def at(t):
        tangent = mp.matrix([-mp.sin(t) * mp.cos(a), mp.cos(t) * mp.cos(a), mp.sin(a)])
        force = mp.matrix([r * mp.sin(t), -r * mp.cos(t), 0])  # position × unit force
        couple = mp.matrix([0, 0, 1])
        def energy(m, n):
            along = (m.T * tangent)[0] * (n.T * tangent)[0]
            return along / gj + ((m.T * n)[0] - along) / ei
        return energy(force, force), -energy(force, couple), energy(couple, couple)
    return [mp.quad(lambda t: at(t)[i], [0, 2 * mp.pi]) / (2 * mp.pi) * length for i in range(3)]


def buckling(free, diameter, shear, elastic, fixity):
    """Travel at which the spring buckles, None where it never does, and the
    free length over the mean diameter below which that is so."""
    c1 = elastic / (2 * (elastic - shear))
    c2 = 2 * mp.pi**2 * (elastic - shear) / (2 * shear + elastic)
    inside = 1 - c2 * (diameter / (fixity * free)) ** 2
    return free * c1 * (1 - mp.sqrt(inside)) if inside >= 0 else None, mp.sqrt(c2) / fixity


def load_tolerance(d, diameter, n, load, quality):
    """EN 15800, with d and D in mm, in N."""
    w = diameter / d / 10
    a = mpf("65.92") * d ** mpf("3.3") / diameter ** mpf("1.6") * (
        mpf("-0.84") * w**3 + mpf("3.781") * w**2 - mpf("4.244") * w + mpf("2.274"))
    k = 1 / (3 * n**2) + 8 / (5 * n) + mpf("0.803")
    return (a * k + mpf("0.015") * load) * quality


def coil(given):
    """Every output of spring.coil, as text."""
    d, ends = si(given["wire_diameter"]), given["ends"]
    diameter = (si(given["mean_diameter"]) if "mean_diameter" in given else
                si(given["outer_diameter"]) - d if "outer_diameter" in given else si(given["inner_diameter"]) + d)
    n = si(given["active_coils"]) if "active_coils" in given else si(given["total_coils"]) - total_coils(ends, 0)
    shear, c, turns = si(given["shear_modulus"]), diameter / d, total_coils(ends, n)
    k = shear * d**4 / (8 * diameter**3 * n)
    solid = SOLID_TURNS[ends](n) * d
    out = {"mean_diameter": to(diameter, "mm"), "index": num(c), "rate": to(k, "N/mm"), "wahl": num(wahl(c)),
           "bergstrasser": num(bergstrasser(c)), "active_coils": num(n), "total_coils": num(turns),
           "solid_length": to(solid, "mm"), "wire_length": to(mp.pi * diameter * turns, "mm")}
    stress = lambda factor, f: to(factor * 8 * f * diameter / (mp.pi * d**3), "MPa")  # noqa: E731
    if "density" in given:
        per_metre = si(given["density"]) * mp.pi * d**2 / 4
        out["mass"] = to(per_metre * mp.pi * diameter * turns, "kg")
        out["surge_frequency"] = to(mp.sqrt(k / (per_metre * mp.pi * diameter * n)) / 2, "Hz")
    if "free_length" in given:
        free = si(given["free_length"])
        p = pitch(ends, free, d, n)
        out["pitch"] = to(p, "mm")
        out["helix_angle"] = to(mp.atan(p / (mp.pi * diameter)), "deg")
        out["solid_travel"] = to(free - solid, "mm")
        out["solid_force"] = to(k * (free - solid), "N")
        out["solid_stress"] = stress(bergstrasser(c), k * (free - solid))
        out["outer_diameter_solid"] = to(mp.sqrt(diameter**2 + (p**2 - d**2) / mp.pi**2) + d, "mm")
        if "elastic_modulus" in given:
            elastic = si(given["elastic_modulus"])
            free_ends, held = thin_rod(d, diameter, n, p, shear, elastic)
            out["rate_ends_free"], out["rate_ends_held"] = to(free_ends, "N/mm"), to(held, "N/mm")
            if "end_fixity" in given:
                travel, limit = buckling(free, diameter, shear, elastic, si(given["end_fixity"]))
                out["stable_slenderness"] = num(limit)
                if travel is not None:
                    out["buckling_travel"] = to(travel, "mm")
    for i, quality in enumerate(["0.63", "1", "1.6"], 1):
        out[f"free_length_tolerance_{i}"] = to(load_tolerance(d * 1000, diameter * 1000, n, 0, mpf(quality)) / k, "mm")
    if "load" in given:
        f = si(given["load"])
        out["travel"] = to(f / k, "mm")
        out["stress"], out["stress_wahl"] = stress(bergstrasser(c), f), stress(wahl(c), f)
        out["stress_uncorrected"] = stress(1, f)
        for i, quality in enumerate(["0.63", "1", "1.6"], 1):
            out[f"load_tolerance_{i}"] = to(load_tolerance(d * 1000, diameter * 1000, n, f, mpf(quality)), "N")
    return out


def pick(outputs, *names):
    return {k: outputs[k] for k in names if k in outputs}


# Tensile strengths: constants and range of the wire in mm, as in materials.json.
POWER = {"ASTM A228": ("2211", "0.145"), "ASTM A229": ("1855", "0.187"), "ASTM A227": ("1783", "0.190"),
         "ASTM A228, 1987 constants": ("2060", "0.163"), "ASTM A229, 1987 constants": ("1610", "0.193"),
         "ASTM A227, third fit": ("1753.3", "0.1822"), "ASTM A401": ("1974", "0.108")}
LOGARITHM = {"EN 10270-1 SM": (1971, 740, 2370), "EN 10270-1 SH": (2220, 820, 2660), "EN 10270-1 DH": (2218, 817, 2800),
             "EN 10270-2 FDC": (1834, 488, 1900), "EN 10270-2 FDSiCr": (2103, 435, 2100),
             "EN 10270-2 VDSiCr": (2125, 466, 2080)}


def strength(material, wire):
    """A dᵐ or min(R₀ − s log₁₀ d, cap) with d in mm, in Pa."""
    d = si(wire) * 1000
    if material in POWER:
        a, m = POWER[material]
        return mpf(a) / d ** mpf(m) * 10**6
    at_1, slope, cap = LOGARITHM[material]
    return min(at_1 - slope * mp.log10(d), mpf(cap)) * 10**6


# ---------------------------------------------------------- published examples

def example(title, where, url="", edition="", year=0, first=None):
    source = {"title": title}
    if edition:
        source["edition"] = edition
    if year:
        source["year"] = year
    source["where"] = where + ("; " + COMPANION if "FOSSEE" in url else "; read in an online copy")
    if url:
        source["url"] = url
    return file.group(source, "published", first)


RECOMPUTED = "recomputed from the stated inputs at 50 digits; agrees within the tolerance"
COMPANION = "seen in the printed output of the FOSSEE textbook companion; the book was not opened"
PRINTED_BY_PROGRAM = "the figures are the companion program's own printed output, not the book's rounding"
FOSSEE = "https://github.com/FOSSEE/Python-Textbook-Companions/tree/d34b2ae7e5e6051f7c87531ebc73b154b082d05b/"
def published_strength(group, material, wire, printed, tolerance, note=""):
    assert abs(strength(material, wire) - si(printed)) <= si(tolerance), material
    group.add("spring.strength", {"material": material, "wire_diameter": wire}, {"tensile_strength": printed},
              tolerance, RECOMPUTED, note)


BHANDARI = "V. B. Bhandari, Design of Machine Elements (Springs chapter)"
BHANDARI_URL = "https://github.com/FOSSEE/Scilab-TBC-Uploads/tree/b1f5c3f8d6671b4331cef1dcebdf63b7a43a3a2b/764/CH10"
SADHU = "Sadhu Singh, Machine Design-I"
SADHU_URL = FOSSEE + "Machine_Design-I_by_Dr._Sadhu_Singh"
JINDAL = "U. C. Jindal, Machine Design (2010)"
JINDAL_URL = FOSSEE + "Machine_Design_by_U.C._Jindal"
SARKAR = "B. K. Sarkar, Strength of Materials"
SARKAR_URL = FOSSEE + "Strength_Of_Materials_by_B_K_Sarkar"
SHIGLEY = "Budynas and Nisbett, Shigley's Mechanical Engineering Design, publisher's chapter 10 solutions"
SHIGLEY_EDITION = "10th edition, the same in the 11th"
SHIGLEY_URL = "https://www.scribd.com/document/352840655/Chap10-10e"


def published(group, given, expect, tolerance, note="", second=RECOMPUTED):
    """A published coil. Every printed value is checked here against the
    formulas: one that does not hold within its tolerance stops the program."""
    have = coil(given)
    for name, text in expect.items():
        limit = tolerance.get(name, tolerance.get("*"))
        deviation = abs(si(have[name]) - si(text))
        allowed = si(limit) if isinstance(limit, str) else mpf(str(limit)) * abs(si(text))
        assert deviation <= allowed, (given, name, have[name], text, limit)
    group.add("spring.coil", given, expect, tolerance, second, note)


g = example(BHANDARI, "Example 10.1, result10_1.txt", BHANDARI_URL)
published(g, {"wire_diameter": "7 mm", "mean_diameter": "42 mm", "active_coils": 8, "ends": "squared_ground",
              "shear_modulus": "81370 MPa"},
          {"index": 6, "total_coils": 10}, {"*": 1e-12},
          "whole numbers, so exact")
g = example(BHANDARI, "Example 10.2, result10_2.txt", BHANDARI_URL)
published(g, {"wire_diameter": "11 mm", "mean_diameter": "55 mm", "active_coils": 5, "ends": "squared_ground",
              "shear_modulus": "81370 MPa"},
          {"rate": "179.014 N/mm", "total_coils": 7}, {"rate": "0.0000005 N/mm", "total_coils": 1e-12},
          "printed as 179.014000; " + PRINTED_BY_PROGRAM)
g = example(BHANDARI, "Example 10.4, result10_4.txt", BHANDARI_URL)
published(g, {"wire_diameter": "4 mm", "mean_diameter": "24 mm", "active_coils": 6.278549, "ends": "squared_ground",
              "shear_modulus": "81370 MPa"},
          {"rate": "30 N/mm"}, {"rate": "0.0000024 N/mm"},
          "The example finds 6.278549 coils for 30 N/mm; the tolerance is half a unit of the last digit of that count, carried over to the rate.")
published(g, {"wire_diameter": "4 mm", "mean_diameter": "24 mm", "active_coils": 7, "ends": "squared_ground",
              "free_length": "48.821433 mm", "shear_modulus": "81370 MPa"},
          {"total_coils": 9, "solid_length": "36 mm", "solid_force": "345 N"}, {"*": 1e-12, "solid_force": "0.000014 N"},
          "The free length 48.821433 mm is printed, made of the solid length and 1.15 times the deflection under 300 N; so it is solid under 345 N, within half a unit of the last digit of the free length.")
g = example(BHANDARI, "Example 10.5, result10_5.txt", BHANDARI_URL)
published(g, {"wire_diameter": "7 mm", "mean_diameter": "42 mm", "active_coils": 21.974923, "ends": "plain",
              "shear_modulus": "81370 MPa"},
          {"rate": "15 N/mm"}, {"rate": "0.00000035 N/mm"},
          "The example, an extension spring, finds 21.974923 coils for 1500 N at 100 mm; the tolerance is half a unit of the last digit of that count.")
published(g, {"wire_diameter": "7 mm", "mean_diameter": "42 mm", "active_coils": 22, "ends": "plain",
              "shear_modulus": "81370 MPa"},
          {"rate": "14.982902 N/mm"}, {"rate": "0.0000005 N/mm"}, "An extension spring; the rate is the same. " + PRINTED_BY_PROGRAM)
g = example(BHANDARI, "Example 10.18, result10_18.txt", BHANDARI_URL)
published(g, {"wire_diameter": "10 mm", "mean_diameter": "80 mm", "active_coils": 8, "ends": "squared_ground",
              "shear_modulus": "81370 MPa", "load": "1304.347826 N"},
          {"stress_wahl": "314.616701 MPa", "travel": "52.526569 mm"}, {"stress_wahl": "0.0000005 MPa", "travel": "0.0000005 mm"},
          "the outer of two concentric springs, with its printed share of 2000 N; the ends are not stated")
published(g, {"wire_diameter": "8 mm", "mean_diameter": "64 mm", "active_coils": 12, "ends": "squared_ground",
              "shear_modulus": "81370 MPa", "load": "695.652174 N"},
          {"stress_wahl": "262.180584 MPa", "travel": "52.526569 mm"}, {"stress_wahl": "0.0000005 MPa", "travel": "0.0000005 mm"},
          "the inner of two concentric springs, with its printed share of 2000 N; the ends are not stated")
g = example(BHANDARI, "Example 10.19, result10_19.txt", BHANDARI_URL)
published(g, {"wire_diameter": "6 mm", "mean_diameter": "36 mm", "active_coils": 10, "ends": "squared_ground",
              "shear_modulus": "81370 MPa", "load": "706.021471 N"},
          {"stress_wahl": "375.305136 MPa", "travel": "24.988839 mm"}, {"stress_wahl": "0.0000005 MPa", "travel": "0.0000005 mm"},
          "the longer, outer of two concentric springs, with its printed share of 1000 N; the ends are not stated")
published(g, {"wire_diameter": "5 mm", "mean_diameter": "30 mm", "active_coils": 8, "ends": "squared_ground",
              "shear_modulus": "81370 MPa", "load": "293.978529 N"},
          {"stress_wahl": "225.032219 MPa", "travel": "9.988839 mm"}, {"stress_wahl": "0.0000005 MPa", "travel": "0.0000005 mm"},
          "the shorter, inner of two concentric springs, with its printed share of 1000 N; the ends are not stated")

g = example(SADHU, "Example 8.1, p. 227 (chapter8 notebook output)", SADHU_URL)
published(g, {"wire_diameter": "4.25 mm", "mean_diameter": "34 mm", "active_coils": 13.9453125, "ends": "squared_ground",
              "shear_modulus": "84000 MPa"},
          {"wahl": 1.184}, {"wahl": "0.0005"},
          "The surge frequency printed in this example is wrong: see the computed group.")
g = example(SADHU, "Example 8.3, p. 229 (chapter8 notebook output)", SADHU_URL)
published(g, {"wire_diameter": "3 mm", "mean_diameter": "18 mm", "active_coils": 15, "ends": "squared_ground",
              "shear_modulus": "84000 MPa", "load": "40 N"},
          {"wahl": 1.2525, "stress_wahl": "85.05 MPa", "rate": "9.72 N/mm"},
          {"wahl": "0.00005", "stress_wahl": "0.005 MPa", "rate": "0.005 N/mm"}, "the ends are not stated")
published(g, {"wire_diameter": "3 mm", "mean_diameter": "18 mm", "active_coils": 15, "ends": "squared_ground",
              "shear_modulus": "84000 MPa", "load": "305.7 N"},
          {"stress_wahl": "650 MPa"}, {"stress_wahl": "0.11 MPa"},
          "305.7 N is printed as the load at a yield stress of 650 MPa; the tolerance is half a unit of its last digit, carried over to the stress")
g = example(SADHU, "Example 8.8, p. 234 (chapter8 notebook output)", SADHU_URL)
published(g, {"wire_diameter": "4 mm", "mean_diameter": "19.3573489376634 mm", "active_coils": 30, "ends": "squared_ground",
              "shear_modulus": "85000 MPa", "load": "1000 N"},
          {"mean_diameter": "19.36 mm", "index": 4.84, "wahl": 1.322, "stress_wahl": "1018.54 MPa", "rate": "12.5 N/mm"},
          {"mean_diameter": "0.005 mm", "index": "0.005", "wahl": "0.0005", "stress_wahl": "0.005 MPa", "rate": 1e-12},
          "The example finds the diameter for 12.5 N/mm and works on with the unrounded one, which is given here to 15 digits.")
g = example(SADHU, "Example 8.12, p. 236 (chapter8 notebook output)", SADHU_URL)
published(g, {"wire_diameter": "6 mm", "outer_diameter": "75 mm", "active_coils": 1, "ends": "squared_ground",
              "shear_modulus": "84000 MPa", "load": "382.5 N"},
          {"index": 11.5, "stress_wahl": "350 MPa", "travel": "9.234 mm"},
          {"index": "0.05", "stress_wahl": "0.046 MPa", "travel": "0.0018 mm"},
          "The companion says that the book's last answer is wrong; the values here are the companion's. 382.5 N is printed as the load at 350 MPa and 9.234 mm as its deflection per coil; the tolerances of stress and travel contain half a unit of the last digit of the load")
published(g, {"wire_diameter": "6 mm", "outer_diameter": "75 mm", "active_coils": 1, "ends": "squared_ground",
              "shear_modulus": "84000 MPa", "load": "412.3 N"},
          {"travel": "9.954 mm"}, {"travel": "0.0018 mm"},
          "412.3 N is printed as the load by the direct-shear factor, which this format does not offer, and 9.954 mm as its deflection per coil; the tolerance contains half a unit of the last digit of the load")

g = example(JINDAL, "Example 8-4, p. 226 (Ch8_2 notebook output)", JINDAL_URL)
published(g, {"wire_diameter": "2.337 mm", "mean_diameter": "22.2 mm", "active_coils": 9.20131086194335, "ends": "squared_ground",
              "free_length": "83.68 mm", "shear_modulus": "81000 MPa"},
          {"rate": "3 N/mm", "solid_length": "26.18 mm", "solid_travel": "57.5 mm"},
          {"rate": 1e-12, "solid_length": "0.005 mm", "solid_travel": "0.005 mm"},
          "The example keeps the coil count for 3 N/mm unrounded; it is given here to 15 digits. The free length 83.68 mm is printed, made of the solid length and 1.15 times 50 mm.")
g = example(JINDAL, "Example 8-6, p. 228 (Ch8_2 notebook output)", JINDAL_URL)
published(g, {"wire_diameter": "1.219 mm", "outer_diameter": "12.5 mm", "active_coils": 11.5, "ends": "squared_ground",
              "shear_modulus": "80700 MPa", "load": "41.0905085002219 N"},
          {"travel": "30.457 mm"}, {"travel": "0.0005 mm"},
          "The example keeps the load at yield unrounded, 41.1 N printed; it is given here to 15 digits. The ends are not stated.")
published_strength(g, "ASTM A227", "1.219 mm", "1717.25 MPa", "0.125 MPa", "686.9 MPa is printed as 0.40 of the tensile strength; the tolerance is half a unit of its last digit over 0.40")
g = example(JINDAL, "Example 8-7, p. 228 (Ch8_2 notebook output)", JINDAL_URL)
published(g, {"wire_diameter": "1.016 mm", "outer_diameter": "12.6 mm", "active_coils": 14, "ends": "squared_ground",
              "shear_modulus": "81000 MPa", "load": "33.8099508745601 N"},
          {"rate": "0.496 N/mm", "travel": "68.2 mm"}, {"rate": "0.0005 N/mm", "travel": "0.05 mm"},
          "The example keeps the load at yield unrounded, 33.8 N printed; it is given here to 15 digits. The ends are not stated. The companion says that a figure of the book is wrong; those here are its own, without a solid length that matches no end type.")
published_strength(g, "ASTM A228", "1.016 mm", "2206 MPa", "0.12 MPa", "992.7 MPa is printed as 0.45 of the tensile strength; the tolerance is half a unit of its last digit over 0.45")

g = example("T. H. Wentzell, Machine Design (Cengage 2007)",
            "Example 8.2, p. 163 (Chapter8 notebook output)", FOSSEE + "Machine_Design_by_T._H._Wentzell,_P._E")
published(g, {"wire_diameter": "0.105 in", "mean_diameter": "0.62 in", "total_coils": 12.79, "ends": "squared_ground",
              "shear_modulus": "11.85 Mpsi"},
          {"rate": "70.0 lbf/in"}, {"rate": "0.033 lbf/in"},
          "The companion says that a figure of the book is wrong, which goes on with a rounded count of coils; those here are its own. 12.79 total coils are printed for 70.0 lbf/in; the tolerance is half a unit of the last digit of the count, carried over to the rate")

g = example(SHIGLEY, "Problem 10-3", SHIGLEY_URL, SHIGLEY_EDITION)
published(g, {"wire_diameter": "2.5 mm", "outer_diameter": "31 mm", "total_coils": 14, "ends": "plain_ground",
              "shear_modulus": "81000 MPa", "load": "167.9 N"},
          {"active_coils": 13, "mean_diameter": "28.5 mm", "index": 11.4, "rate": "1.314 N/mm", "solid_length": "35 mm",
           "bergstrasser": 1.117, "stress": "871.2 MPa"},
          {"active_coils": 1e-12, "mean_diameter": "0.05 mm", "index": "0.05", "rate": "0.0005 N/mm", "solid_length": "0.5 mm",
           "bergstrasser": "0.0005", "stress": "0.31 MPa"},
          "167.9 N is printed as the load at the yield stress 871.2 MPa; the tolerance of the stress is half a unit of the last digit of both; the solid length is printed to whole millimetres")
published(g, {"wire_diameter": "2.5 mm", "outer_diameter": "31 mm", "total_coils": 14, "ends": "plain_ground",
              "free_length": "162.8 mm", "shear_modulus": "81000 MPa"},
          {"solid_force": "167.9 N"}, {"solid_force": 7.5e-4},
          "162.8 mm is printed as the free length to which the spring may be wound and still be solid at yield, 167.9 N. The solution rounds on its way: 162.72 mm is exact, so the relative tolerance is the difference of 0.08 mm over the solid travel, and half a unit of the last digit.")
published_strength(g, "ASTM A228", "2.5 mm", "1936 MPa", "0.5 MPa")
g = example(SHIGLEY, "Problem 10-4", SHIGLEY_URL, SHIGLEY_EDITION)
published(g, {"wire_diameter": "2.5 mm", "mean_diameter": "28.5 mm", "active_coils": 13, "ends": "plain_ground",
              "shear_modulus": "81000 MPa", "load": "130 N"},
          {"stress": "674 MPa"}, {"stress": 1.2e-3},
          "674.69 is exact: the solution works with the factor 1.117 and cuts the last digit")
published(g, {"wire_diameter": "2.5 mm", "mean_diameter": "28.5 mm", "active_coils": 13, "ends": "plain_ground",
              "shear_modulus": "81000 MPa", "load": "167.9 N"},
          {"stress": "870.5 MPa"}, {"stress": 1.2e-3},
          "the solution scales its own cut 674 MPa by 167.9/130; 871.39 is exact")
g = example(SHIGLEY, "Problem 10-5", SHIGLEY_URL, SHIGLEY_EDITION)
published(g, {"wire_diameter": "0.2 in", "mean_diameter": "2 in", "total_coils": 12, "ends": "squared",
              "free_length": "5 in", "shear_modulus": "11.2 Mpsi"},
          {"bergstrasser": 1.135, "solid_length": "2.6 in", "solid_force": "67.2 lbf", "solid_stress": "48560 psi"},
          {"bergstrasser": "0.0005", "solid_length": "0.05 in", "solid_force": "0.05 lbf", "solid_stress": "5 psi"},
          "The modulus is that of oil-tempered wire in the book's table; it reproduces 67.2 lbf. The solid length is printed to a tenth of an inch.")
g = example(SHIGLEY, "Problem 10-6", SHIGLEY_URL, SHIGLEY_EDITION)
published(g, {"wire_diameter": "4 mm", "mean_diameter": "40 mm", "active_coils": 11.6, "ends": "plain",
              "free_length": "80 mm", "shear_modulus": "77200 MPa"},
          {"index": 10, "solid_length": "50.4 mm", "solid_travel": "29.6 mm", "solid_force": "98.66 N",
           "bergstrasser": 1.135, "solid_stress": "178.2 MPa"},
          {"index": 1e-12, "solid_length": "0.05 mm", "solid_travel": "0.05 mm", "solid_force": 3.3e-3,
           "bergstrasser": "0.0005", "solid_stress": 3.6e-3},
          "The solution rounds the coil count to 11.6 but keeps the rate 50/15 N/mm of the unrounded 11.58, so force and stress are 0.2 % high.")
published_strength(g, "ASTM A229", "4 mm", "1431 MPa", "0.5 MPa")

g = example("R. L. Mott, Machine Elements in Mechanical Design", "Section 19-6, p. 751, steps 11 to 13",
            "https://fliphtml5.com/eraqv/nlwf/Machine_Elements_in_Mechanical_Design_%284th_Edition%29_%28PDFDrive_%29/767", "4th edition")
published(g, {"wire_diameter": "0.0625 in", "mean_diameter": "0.6 in", "active_coils": 12.3624448423032, "ends": "squared_ground",
              "free_length": "2.75 in", "shear_modulus": "11.2 Mpsi", "load": "12.0 lbf"},
          {"index": 9.6, "active_coils": 12.36, "rate": "8.0 lbf/in", "solid_length": "0.898 in", "solid_force": "14.8 lbf",
           "stress_wahl": "86450 psi"},
          {"index": 1e-12, "active_coils": "0.005", "rate": 1e-12, "solid_length": "0.0005 in", "solid_force": "0.05 lbf",
           "stress_wahl": 1.3e-4},
          "The coil count for 8.0 lbf/in is given to 15 digits. The stress is 86 459 psi exactly; the book's Wahl factor is read to three digits.")
published(g, {"wire_diameter": "0.0625 in", "mean_diameter": "0.6 in", "active_coils": 12.3624448423032, "ends": "squared_ground",
              "shear_modulus": "11.2 Mpsi", "load": "14.8187775788484 lbf"},
          {"stress_wahl": "106750 psi"}, {"stress_wahl": 1.8e-4},
          "The book scales its own 86 450 psi to the load when solid, which is given here to 15 digits.")

g = example("Machinery's Handbook", "Spring Design, pp. 318-319, Fig. 14 example, steps 2 to 5",
            "https://online.flippingbook.com/view/954192180/348", "31st edition", 2020)
published(g, {"wire_diameter": "0.0915 in", "outer_diameter": "0.8125 in", "active_coils": 1, "ends": "squared_ground",
              "shear_modulus": "11.2 Mpsi", "load": "36 lbf"},
          {"travel": "0.1375 in", "stress_uncorrected": "86300 psi"}, {"travel": "0.00005 in", "stress_uncorrected": "50 psi"},
          "Printed are 0.1375 in of deflection a coil, and the load as 0.863 of the one for 100 000 psi. The modulus is not printed on the pages seen; 11.2 Mpsi reproduces 0.1594 in a coil for 100 000 psi.")

g = example("S. S. Bhavikatti, Strength of Materials",
            "Example 6.6.22, p. 254 (chapter_06 notebook output)", FOSSEE + "Strength_Of_Materials_by_S_S_Bhavikatti")
published(g, {"wire_diameter": "12 mm", "mean_diameter": "150 mm", "active_coils": 10, "ends": "squared_ground",
              "shear_modulus": "80000 MPa", "load": "450 N"},
          {"stress_uncorrected": "99.47 MPa", "travel": "73.24 mm", "rate": "6.14 N/mm"},
          {"stress_uncorrected": "0.005 MPa", "travel": "0.005 mm", "rate": "0.005 N/mm"}, "the ends are not stated")

g = example(SARKAR, "Problem 8.16, p. 217 (Chapter08 notebook output)", SARKAR_URL)
published(g, {"wire_diameter": "5.58695413693056 mm", "mean_diameter": "44.6956330954445 mm", "active_coils": 10, "ends": "plain",
              "free_length": to(10 * mpf("0.4545") * mp.pi * si("44.6956330954445 mm") + si("5.58695413693056 mm"), "mm"), "shear_modulus": "80000 MPa", "elastic_modulus": "200000 MPa"},
          {"rate_ends_free": "10.28722 N/mm"}, {"rate_ends_free": 1.1e-4},
          "Open-coiled, tan α = 0.4545, D = 8 d: 185.17 N are printed for 18 mm. The wire, 5.587 mm printed, is given to 15 digits, and the free length makes the helix angle for plain ends; the example's own rounding of the wire costs 1e-4 in the load.")
g = example(SARKAR, "Problem 8.18, p. 218 (Chapter08 notebook output)", SARKAR_URL)
OPEN = {"wire_diameter": "20 mm", "mean_diameter": "120 mm", "active_coils": 10, "ends": "plain",
        "free_length": to(10 * mp.pi * mpf("0.120") / mp.sqrt(3) + mpf("0.020"), "mm"),
        "shear_modulus": "80000 MPa", "elastic_modulus": "200000 MPa"}
published(g, OPEN, {"rate_ends_free": "84409.6 N/m"}, {"rate_ends_free": "3.6 N/m"},
          "Printed is the compliance 1.1847e-5 m/N of the spring with ends free, to half a unit of its last digit; the free length makes the helix angle of 30° for plain ends. The load printed for ends held is wrong: see the computed group.")

g = file.group(mpmath_source(SCRIPT, "A/dᵐ with older constants of the wire tables"), "computed")
for material, wire, note in (("ASTM A229, 1987 constants", "10 mm", "the older constants 1610 MPa and 0.193; the current ones give 1206 MPa"), ("ASTM A228, 1987 constants", "7.25 mm", "the older constants 2060 MPa and 0.163")):
    g.add("spring.strength", {"material": material, "wire_diameter": wire}, {"tensile_strength": to(strength(material, wire), "MPa")}, 1e-12, OCTAVE, note)

# -------------------------------------------------- computed: wrong in print

SEPARATE = "agrees to 15 digits with a separate program (mpmath 1.3.0, 50 digits)"
NAMES = ["mean_diameter", "index", "rate", "rate_ends_free", "rate_ends_held", "wahl", "bergstrasser", "active_coils",
         "total_coils", "pitch", "helix_angle", "solid_length", "solid_travel", "solid_force", "travel", "stress",
         "stress_wahl", "stress_uncorrected", "solid_stress", "wire_length", "mass", "surge_frequency",
         "outer_diameter_solid", "buckling_travel", "stable_slenderness"]

g = file.group(mpmath_source(SCRIPT, "examples of textbooks whose printed value is wrong"), "computed", 101)


def computed(group, given, names, note="", second=SEPARATE, tolerance=1e-12):
    group.add("spring.coil", given, pick(coil(given), *names), tolerance, second, note)


computed(g, {"wire_diameter": "4.25 mm", "mean_diameter": "34 mm", "active_coils": 13.9453125, "ends": "squared_ground",
             "shear_modulus": "84000 MPa", "density": "7800 kg/m3"}, ["surge_frequency"],
         "Sadhu Singh, Machine Design-I, Example 8.1, p. 227, as worked in a textbook companion, prints 3.079 Hz, too small by √1000: the density went in in kg/mm³ beside newtons and millimetres.")
computed(g, {"wire_diameter": "5 mm", "mean_diameter": "30 mm", "active_coils": 15, "ends": "squared_ground",
             "shear_modulus": "84000 MPa", "load": "300 N"}, ["wahl", "rate", "travel"],
         "U. C. Jindal, Machine Design, Example 8-1, p. 224, as worked in a textbook companion, prints 1.1025, 16.0 N/mm and 18.0 mm: the companion divided integers. The ends are not stated.")
computed(g, {"wire_diameter": "3 mm", "mean_diameter": "21 mm", "active_coils": 10, "ends": "squared_ground",
             "shear_modulus": "80000 MPa", "load": "40 N"}, ["stress_wahl"],
         "U. C. Jindal, Machine Design, Example 8-13, p. 233, as worked in a textbook companion, prints 86.2 MPa for an integer division in the Wahl factor. Coil count, modulus and ends are assumed; the stress does not depend on them.")
computed(g, OPEN, ["rate_ends_held"],
         "B. K. Sarkar, Strength of Materials, Problem 8.18, p. 218, as worked in a textbook companion, prints 460.52 N at 5 mm, 92.1 N/mm: the coupling of twist and bending is written with 1/G + 2/E in the deflection and 1/G − 2/E in the rotation, which breaks reciprocity.")
computed(g, OPEN, ["rate", "rate_ends_free"],
         "The helix is at 30°, with G = 80 and E = 200 GPa, as in B. K. Sarkar, Strength of Materials, Problem 8.20, p. 219, whose companion prints 6.02 % as the error of the close-coiled formula; it is 8.84 %.")

# ---------------------------------------------------------- computed: a range

g = file.group(mpmath_source(SCRIPT, "invented springs from index 4 to 12, steel and titanium"), "computed", 201)
# wire, mean diameter, active coils, ends, free length, load, G in MPa, E in MPa, density
RANGE = [
    (3, 12, 3, "squared_ground", 21, 600, 81500, 206000, 7850),
    ("3.2", "25.6", 25, "squared_ground", 220, 200, 81500, 206000, 7850),
    ("3.5", 42, 6, "squared", 110, 150, 81500, 206000, 7850),
    (4, 24, 20, "plain_ground", 200, 600, 80000, 206000, 7850),
    ("4.5", "22.5", 25, "squared_ground", 220, 900, 79500, 206000, 7850),
    (5, "25.4", 24, "squared_ground", 240, 1100, 79500, 206000, 7850),
    ("5.25", "25.25", 22, "squared", 235, 1300, 79500, 206000, 7850),
    (6, "30.5", 18, "squared_ground", 215, 1500, 79500, 206000, 7850),
    ("7.5", "43.5", "6.5", "squared_ground", 125, 2200, 79500, 206000, 7850),
    ("8.5", 45, "5.25", "squared_ground", 115, 3500, 79500, 206000, 7850),
    ("9.4", "46.6", "5.5", "squared_ground", 120, 4200, 79500, 206000, 7850),
    (10, 46, 5, "squared_ground", 115, 5500, 79500, 206000, 7850),
    ("10.8", "48.2", "6.25", "squared_ground", 142, 6000, 79500, 206000, 7850),
    ("11.5", "48.5", "7.75", "squared_ground", 165, 6500, 79500, 206000, 7850),
    (12, 50, 8, "plain", 175, 8000, "79289.7", 206000, 7850),
    ("12.7", "53.3", "5.75", "squared_ground", 150, 9000, 77200, 196500, "7861.1"),
    (14, 56, "9.5", "squared_ground", 220, 9000, 78500, 206000, 7850),
    ("9.8", "46.8", "4.25", "squared_ground", 115, 3500, 42060, 114000, 4840),
    ("11.2", "48.2", 5, "squared_ground", 135, 5000, 41400, 103400, 4820),
    (13, 52, "6.5", "squared_ground", 175, 6500, 42060, 114000, 4840),
    (14, 168, 3, "plain", 200, 2000, 79500, 206000, 7850),
    (5, 20, 10, "squared_ground", 190, 800, 79500, 206000, 7850),
]


def ranged(row, **more):
    d, mean, n, ends, free, load, shear, elastic, density = row
    return {"wire_diameter": f"{d} mm", "mean_diameter": f"{mean} mm", "active_coils": float(n) if "." in str(n) else int(n),
            "ends": ends, "free_length": f"{free} mm", "shear_modulus": f"{shear} MPa", "elastic_modulus": f"{elastic} MPa",
            "density": f"{density} kg/m3", "load": f"{load} N", **more}


for row in RANGE:
    note = {RANGE[20]: "index 12 and few coils", RANGE[21]: "a helix of 16°, on purpose far beyond a real spring; solid stress beyond any wire; wire_length and mass are those of close coils, without the 4 % that the helix adds to the active ones"}.get(row, "")
    computed(g, ranged(row, end_fixity=0.5), NAMES, note)

g = file.group(mpmath_source(SCRIPT, "buckling"), "computed", 301)
for row in RANGE:
    given = ranged(row, end_fixity=1)
    del given["load"], given["density"]
    computed(g, given, ["buckling_travel", "stable_slenderness"])
# wire, mean diameter, active coils, free length, G, E, fixity
for d, mean, n, free, shear, elastic, fixity, note in [
    ("4.5", "22.5", 25, 220, 79500, 206000, 0.5, "seated flat at both ends, slender"),
    (5, "25.4", 24, 240, 79500, 206000, 0.5, "seated flat at both ends, slender"),
    ("11.5", "48.5", "7.75", 165, 79500, 206000, 1, "pivoted at both ends"),
    (13, 52, "6.5", 175, 42060, 114000, 1, "titanium, pivoted at both ends"),
    (4, 20, 12, 140, 81500, 206000, 0.7, "one end seated flat, one pivoted"),
    ("3.5", 19, 10, 100, 79300, 207000, 0.5, "buckles only beyond the travel to solid"),
    (10, 46, 5, 120, 79500, 206000, 2, "one end clamped, one free"),
    (10, 46, 5, 120, 79500, 206000, 0.707, "stable: shorter than the limit"),
    (10, 46, 5, 120, 42060, 114000, 0.7, "titanium, stable"),
    (10, 46, 5, 120, 79500, 206000, 0.7, "stable"),
    (10, 46, 5, 120, 79300, 207000, 0.7, "stable"),
    (10, 46, 5, 120, 79300, 207000, 0.707, "stable"),
    (10, 46, 5, 120, 42060, 114000, 0.707, "titanium, stable"),
    (10, 46, 5, 120, 79300, 207000, 2, "one end clamped, one free"),
    (10, 46, 5, 120, 42060, 114000, 2, "titanium, one end clamped, one free"),
    (10, 46, 5, 121, 79300, 207000, 1, "just longer than the 2.6258 mean diameters that are stable"),
]:
    given = {"wire_diameter": f"{d} mm", "mean_diameter": f"{mean} mm", "active_coils": float(n) if "." in str(n) else int(n),
             "ends": "squared_ground", "free_length": f"{free} mm", "shear_modulus": f"{shear} MPa",
             "elastic_modulus": f"{elastic} MPa", "end_fixity": fixity}
    computed(g, given, ["buckling_travel", "stable_slenderness"], note,
             "agrees to 15 digits with a separate program (mpmath 1.3.0, 50 digits), in which two published forms gave the same to 40 digits")

g = file.group(mpmath_source(SCRIPT, "tolerances by EN 15800, whose formula was taken from an open-source program; the standard's own text was not opened"),
               "computed", 401)
for row in [RANGE[7], RANGE[9], RANGE[11], RANGE[13]]:
    given = ranged(row)
    for name in ("elastic_modulus", "density", "free_length"):
        del given[name]
    computed(g, given, ["load_tolerance_1", "load_tolerance_2", "load_tolerance_3"])
for row in [RANGE[8], RANGE[10], RANGE[12]]:
    given = ranged(row)
    for name in ("elastic_modulus", "density", "load"):
        given.pop(name, None)
    computed(g, given, ["free_length_tolerance_1", "free_length_tolerance_2", "free_length_tolerance_3"], "",
             "computed once more by another program (GNU Octave, doubles)")

g = file.group(mpmath_source(SCRIPT, "invented springs, given in other ways"), "computed", 501)
BASE = {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "ends": "squared_ground", "shear_modulus": "79500 MPa"}


def other(changes, names, note=""):
    given = {k: v for k, v in {**BASE, **changes}.items() if v is not None}
    group = given.pop("material", None)
    known = dict(given)
    if group:
        shear, elastic, density = MODULI[group]
        known.update(shear_modulus=shear, elastic_modulus=elastic, density=density)
        order = ["wire_diameter", "mean_diameter", "active_coils", "ends", "material", "free_length", "load"]
        given = {k: {**given, "material": group}[k] for k in order if k in given or k == "material"}
    g.add("spring.coil", given, pick(coil(known), *names), 1e-12, OCTAVE, note)


# name: G, E, density at the wire diameters used here, as in materials.json
MODULI = {"EN 10270-2 FDSiCr": ("79500 MPa", "206000 MPa", "7850 kg/m3"),
          "ASTM A228": ("80.0 GPa", "193.0 GPa", "7850 kg/m3"),
          "Ti-3Al-8V-6Cr-4Mo-4Zr": ("41.4 GPa", "103.4 GPa", "4820 kg/m3")}
other({"mean_diameter": None, "outer_diameter": "56 mm"}, ["mean_diameter", "index", "rate", "wahl"], "outer diameter over a 10 mm wire")
other({"mean_diameter": None, "inner_diameter": "36 mm"}, ["mean_diameter", "index", "rate", "wahl"], "inner diameter inside a 10 mm wire")
other({"active_coils": None, "total_coils": 7}, ["active_coils", "rate", "solid_length", "wire_length"], "two dead coils")
other({"active_coils": None, "total_coils": 7, "ends": "plain"}, ["active_coils", "rate", "solid_length", "wire_length"], "no dead coil")
other({"active_coils": None, "total_coils": 7, "ends": "plain_ground"}, ["active_coils", "rate", "solid_length", "wire_length"], "one dead coil")
other({"active_coils": None, "total_coils": 7, "ends": "squared"}, ["active_coils", "rate", "solid_length", "wire_length"], "two dead coils, not ground")
other({"shear_modulus": None, "material": "EN 10270-2 FDSiCr", "load": "5500 N"}, ["rate", "stress", "mass", "surge_frequency"], "moduli and density by name")
other({"wire_diameter": "5 mm", "mean_diameter": "25 mm", "active_coils": 22.5, "shear_modulus": None, "material": "ASTM A228", "free_length": "230 mm"},
      ["rate", "rate_ends_free", "rate_ends_held", "solid_force", "mass"], "a fork spring, moduli by name and wire diameter")
other({"wire_diameter": "11.2 mm", "mean_diameter": "48.2 mm", "shear_modulus": None, "material": "Ti-3Al-8V-6Cr-4Mo-4Zr", "free_length": "135 mm"},
      ["rate", "rate_ends_free", "solid_force", "mass", "surge_frequency"], "titanium by name; its moduli are from memory")
other({"wire_diameter": "0.39 in", "mean_diameter": "1.84 in", "active_coils": 5.5, "shear_modulus": "11.5 Mpsi", "free_length": "4.9 in", "load": "1200 lbf"},
      ["rate", "solid_length", "solid_force", "travel", "stress", "pitch", "outer_diameter_solid"], "customary units")
other({"wire_diameter": "1 mm", "mean_diameter": "1.2 m", "active_coils": 0.5, "ends": "plain"}, ["rate", "index", "bergstrasser"],
      "an index of 1200: silly, but not refused")
other({"wire_diameter": "10 mm", "mean_diameter": "10.01 mm", "active_coils": 1, "ends": "plain"}, ["rate", "index", "wahl"],
      "a mean diameter just more than the wire: the Wahl factor grows without bound at index 1")

g = file.group({"title": "independent computation: the torsion of a circular ring sector (Göhner's problem, as in Timoshenko and Goodier), solved by a Galerkin method with polynomials at 40 digits",
                "where": "the greatest stress at the inner fibre over 8FD/(πd³), zero pitch; converged to 1e-9"}, "computed", 601)
def ring_sector(index, orders=30):
    """The greatest stress of a ring sector under a force along its axis, over 2PR/(πa³), for a wire of radius a = 1
    about a ring of radius R. The stress function φ, 0 on the rim, has φ_xx + φ_zz − 3φ_x/(R + x) + 2 = 0, x outward
    from the wire's centre; times 1 + x/R it is solved power by power of 1/R, each a sum of rⁿ cos mθ.
    The stress along the axis is −φ_x/(1 + x/R)², and the force its integral."""
    def times_x(p):
        out = {}
        for (n, m), v in p.items():
            for k in (m + 1, abs(m - 1)):
                out[n + 1, k] = out.get((n + 1, k), mpf(0)) + v / 2
        return out

    def by_x(p):
        out = {}
        for (n, m), v in p.items():
            for k, f in ((m + 1, n - m), (abs(m - 1), n + m)):
                if f:
                    out[n - 1, k] = out.get((n - 1, k), mpf(0)) + v * f / 2
        return out

    def plus(p, q, factor):
        return {k: p.get(k, mpf(0)) + factor * q.get(k, mpf(0)) for k in {**p, **q}}

    bent, phi, slopes, total = {}, {}, {}, mpf(0)
    for order in range(orders):
        right = plus(plus({(0, 0): mpf(-2) if order == 0 else mpf(0)}, by_x(phi), 3), times_x(bent), -1)
        if order == 1:
            right = plus(right, {(1, 1): mpf(1)}, mpf(-2))
        bent, phi = right, {}
        for (n, m), v in right.items():
            share = v / ((n + 2) ** 2 - m * m)
            phi[n + 2, m] = phi.get((n + 2, m), mpf(0)) + share
            phi[m, m] = phi.get((m, m), mpf(0)) - share
        slopes = plus(slopes, by_x(phi), index ** -order)
    top = -sum(v * (-1) ** m for (n, m), v in slopes.items()) / (1 - 1 / index) ** 2
    weighted = slopes
    for k in range(orders):  # 1/(1 + x/R)² as a series, and the integral over the disc
        total -= sum(2 * mp.pi * v / (n + 2) for (n, m), v in weighted.items() if m == 0) * (k + 1) * (-1 / index) ** k
        weighted = times_x(weighted)
    return top / total * mp.pi / (2 * index)


# index, exact stress factor, relative error of Bergsträsser's and of Wahl's, rounded up
for index, exact, b, w in [(3, 1.55491773, 5e-4, 0.0165), (4, 1.38275591, 1.4e-3, 0.0155), (5, 1.29252143, 1.3e-3, 0.0142),
                           (6, 1.23683469, 1.1e-3, 0.0130), (8, 1.17161605, 7e-4, 0.0109), (10, 1.13459575, 5e-4, 0.0093),
                           (12, 1.1107245, 4e-4, 0.0081)]:
    close(ring_sector(mpf(index)), mpf(str(exact)), mpf("4e-9"), "ring sector")
    close(bergstrasser(mpf(index)), exact, b, "Bergsträsser")
    close(wahl(mpf(index)), exact, w, "Wahl")
    g.add("spring.coil", {"wire_diameter": "10 mm", "mean_diameter": f"{10 * index} mm", "active_coils": 5, "ends": "squared_ground",
                          "shear_modulus": "79500 MPa"},
          {"bergstrasser": exact}, {"bergstrasser": b}, "the ring sector's stress function as a series in the curvature, exact in each power, agrees to 9 digits",
          f"How well the textbook factor fits the exact one: the tolerance is its error, rounded up, within 0.14 % from index 3 to 12. Wahl's is {digits(100 * (wahl(mpf(index)) / mpf(str(exact)) - 1), 2)} % high.")

# ------------------------------------------------- computed: strength and warmth

g = file.group(mpmath_source(SCRIPT, "A/dᵐ with the constants of the wire tables, or a fit of EN 10270 with a cap, taken from an open-source program; the standard's own text was not opened"),
               "computed", 101)
for material, wire, second, note in [
    ("EN 10270-1 SH", "6 mm", SEPARATE, ""), ("EN 10270-2 FDSiCr", "10 mm", SEPARATE, ""),
    ("EN 10270-2 VDSiCr", "8.5 mm", SEPARATE, ""), ("EN 10270-1 SM", "3.5 mm", SEPARATE, ""),
    ("EN 10270-2 FDSiCr", "1 mm", "exact: the cap", "thin wire: the fit would give 2103 MPa, the cap is 2100 MPa"),
    ("EN 10270-1 DH", "0.05 mm", "exact: the cap", "thinnest wire of the range, capped"),
    ("EN 10270-2 FDC", "17 mm", OCTAVE, "thickest wire of the range"),
    ("ASTM A228", "0.1 mm", OCTAVE, "thinnest wire of the range"),
    ("ASTM A228", "6.5 mm", OCTAVE, "thickest wire of the range"),
    ("ASTM A229", "12.7 mm", OCTAVE, "thickest wire of the range"),
    ("ASTM A227", "5 mm", OCTAVE, ""), ("ASTM A227, third fit", "5 mm", OCTAVE, "an independent fit for the same wire"),
]:
    g.add("spring.strength", {"material": material, "wire_diameter": wire}, {"tensile_strength": to(strength(material, wire), "MPa")},
          1e-12, second, note)
g = file.group({"title": "Budynas and Nisbett, Shigley's Mechanical Engineering Design", "where": "Table 10-4, row chrome-silicon A401"},
               "from memory", 201)
g.add("spring.strength", {"material": "ASTM A401", "wire_diameter": "8 mm"}, {"tensile_strength": to(strength("ASTM A401", "8 mm"), "MPa")},
      1e-12, OCTAVE, "the constants 1974 MPa and 0.108 are from memory; their use is exact")

g = file.group(mpmath_source(SCRIPT, "G(T) = G₂₀ (1 − r (T − 20 °C)), r as EN 13906-1 gives it in an open-source program; the standard's own text was not opened"),
               "computed", 1)
for shear, r, temperature, second, note in [
    ("81500 MPa", 0.00025, "-10 °C", SEPARATE, "cold"), ("79500 MPa", 0.00025, "60 °C", SEPARATE, "warm"),
    ("70000 MPa", 0.0004, "80 °C", SEPARATE, "stainless"), ("79500 MPa", 0.00025, "20 °C", "exact", "no change at 20 °C"),
    ("79500 MPa", 0.00025, "293.15 K", "exact", "the same in kelvin"), ("11.5 Mpsi", 0.00025, "104 °F", OCTAVE, "40 °C"),
    ("79500 MPa", 0, "80 °C", "exact", "a material that does not soften"),
    ("79500 MPa", 0.00025, "-40 °F", OCTAVE, "-40 °C"), ("41.4 GPa", 0.0006, "50 °C", OCTAVE, "titanium, its coefficient assumed"),
]:
    value = si(shear) * (1 - mpf(str(r)) * (si(temperature) - mpf("293.15")))
    g.add("spring.warm", {"shear_modulus": shear, "coefficient": r, "temperature": temperature},
          {"shear_modulus": to(value, shear.split()[1])}, 1e-12, second, note)

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
FULL = {**BASE, "free_length": "115 mm", "elastic_modulus": "206000 MPa", "density": "7850 kg/m3", "load": "3000 N", "end_fixity": 0.5}
g.refuse_each("spring.coil", BASE, [
    ({"wire_diameter": "50 mm"}, ["wire_diameter"], "wire thicker than the mean diameter"),
    ({"wire_diameter": "46 mm"}, ["wire_diameter"], "wire as thick as the mean diameter: no hole in the coil"),
    ({"mean_diameter": None, "inner_diameter": "-2 mm"}, ["inner_diameter"], "negative"),
    ({"mean_diameter": None, "outer_diameter": "20 mm"}, ["wire_diameter"], "outer diameter of twice the wire: the mean diameter is the wire's"),
    ({"wire_diameter": "0 mm"}, ["wire_diameter"], "zero"),
    ({"wire_diameter": "-10 mm"}, ["wire_diameter"], "negative"),
    ({"wire_diameter": None}, ["wire_diameter"], "missing"),
    ({"wire_diameter": "10"}, ["wire_diameter"], "missing unit"),
    ({"wire_diameter": 10}, ["wire_diameter"], "a bare number"),
    ({"wire_diameter": "ten mm"}, ["wire_diameter"], "no number"),
    ({"wire_diameter": "NaN mm"}, ["wire_diameter"], "not a number"),
    ({"wire_diameter": "Inf mm"}, ["wire_diameter"], "not finite"),
    ({"wire_diameter": "10 N"}, ["wire_diameter"], "the unit of another quantity"),
    ({"mean_diameter": "-46 mm"}, ["mean_diameter"], "negative"),
    ({"active_coils": 0}, ["active_coils"], "zero, and no total either"),
    ({"active_coils": -5}, ["active_coils"], "negative"),
    ({"active_coils": "5 coils"}, ["active_coils"], "a number without a unit is wanted"),
    ({"active_coils": None, "total_coils": 2}, ["total_coils"], "two dead coils leave none active"),
    ({"ends": "curly"}, ["ends"], "no such ends"),
    ({"shear_modulus": None}, ["shear_modulus"], "neither a modulus nor a material"),
    ({"shear_modulus": "0 MPa"}, ["shear_modulus"], "zero"),
    ({"shear_modulus": "79500 N/mm"}, ["shear_modulus"], "the unit of another quantity"),
    ({"shear_modulus": None, "material": "cheese"}, ["material"], "no such material"),
    ({"free_length": "70 mm"}, ["free_length"], "as long as the solid spring"),
    ({"free_length": "60 mm"}, ["free_length"], "shorter than the solid spring"),
    ({"free_length": "-115 mm"}, ["free_length"], "negative"),
    ({"outer_diameter": "56 mm"}, ["outer_diameter"], "two diameters, if in agreement"),
    ({"total_coils": 7}, ["total_coils"], "two coil counts, if in agreement"),
    ({"wire": "10 mm"}, ["wire"], "no such field"),
    ({"wire_diameter": "0 mm", "active_coils": -5}, ["wire_diameter", "active_coils"], "two bad fields, both named"),
    ({"wire_diameter": "10", "shear_modulus": "79500"}, ["wire_diameter", "shear_modulus"], "two missing units, both named"),
])
g.refuse_each("spring.coil", FULL, [
    ({"elastic_modulus": "-206000 MPa"}, ["elastic_modulus"], "negative"),
    ({"elastic_modulus": "79500 MPa"}, ["elastic_modulus"], "no more than the shear modulus"),
    ({"density": "-7850 kg/m3"}, ["density"], "negative"),
    ({"density": "7.85"}, ["density"], "missing unit"),
    ({"load": "-3000 N"}, ["load"], "negative: these springs push"),
    ({"load": "300 kg"}, ["load"], "a mass is no force"),
    ({"end_fixity": -0.5}, ["end_fixity"], "negative"),
])
STRONG = {"material": "ASTM A228", "wire_diameter": "2.5 mm"}
g.refuse_each("spring.strength", STRONG, [
    ({"material": "cheese"}, ["material"], "no such material"),
    ({"material": None}, ["material"], "missing"),
    ({"material": 228}, ["material"], "a name is wanted"),
    ({"wire_diameter": "0 mm"}, ["wire_diameter"], "zero"),
    ({"wire_diameter": "-2.5 mm"}, ["wire_diameter"], "negative"),
    ({"wire_diameter": "2.5"}, ["wire_diameter"], "missing unit"),
    ({"wire_diameter": "10 mm"}, ["wire_diameter"], "music wire is not made so thick: the fit does not cover it"),
    ({"wire_diameter": "0.05 mm"}, ["wire_diameter"], "below the range of the fit"),
])
WARM = {"shear_modulus": "79500 MPa", "coefficient": 0.00025, "temperature": "60 °C"}
g.refuse_each("spring.warm", WARM, [
    ({"shear_modulus": "0 MPa"}, ["shear_modulus"], "zero"),
    ({"shear_modulus": "79500"}, ["shear_modulus"], "missing unit"),
    ({"coefficient": "much"}, ["coefficient"], "no number"),
    ({"temperature": "60"}, ["temperature"], "missing unit"),
    ({"temperature": "-300 °C"}, ["temperature"], "below absolute zero"),
    ({"temperature": "NaN °C"}, ["temperature"], "not a number"),
])


# -------------------------------------------------------------------- in place

g = file.group(mpmath_source("coils.py", "invented springs and places"), "computed")
SHARES = {"cold_drawn": ("0.45", "0.60"), "tempered": ("0.50", "0.65"), "stainless": ("0.35", "0.55")}


def placed(given, place, fails, note):
    """Each criterion by its own arithmetic: the gaps one by one, forces by the rate, stresses by torque and section modulus."""
    d, D, n, shear, free = (si(given[k]) for k in ("wire_diameter", "mean_diameter", "active_coils", "shear_modulus", "free_length"))
    over = {"plain": 1, "plain_ground": 0, "squared": 1, "squared_ground": 0}[given["ends"]]
    solid = free - (total_coils(given["ends"], n) + over) * d
    full = si(place["stroke"]) + si(place.get("preload", "0 mm"))
    gap = n * (mpf("0.00225") * D**2 / d + mpf("0.15") * d)
    expect = {"full_travel": to(full, "mm"), "solid_travel": to(solid, "mm"), "gap_left": to(solid - full, "mm"), "least_gap": to(gap, "mm"), "least_solid_travel": to(full * 23 / 20, "mm")}
    verdicts = {"goes_solid": full < solid, "little_reserve_en": solid - full >= gap, "little_reserve": solid >= full * 23 / 20}
    if "body" in place:
        verdicts["rubs_inside"] = D - d > si(place["body"])
    if "tube" in place:
        m = solid / n + d + over * d * 3 / (2 * n)
        wide = D + d + ((m - d) * (m + d / 5)) / (10 * D)  # m² − 0.8·m·d − 0.2·d² by its factors
        expect["outer_diameter_solid"] = to(wide, "mm")
        verdicts["rubs_outside"] = wide < si(place["tube"])
    if "elastic_modulus" in given:
        e, lam = si(given["elastic_modulus"]), mpf(str(place.get("end_fixity", "0.5"))) * free / D
        part = 2 * mp.pi**2 * (e - shear) / (2 * shear + e) / lam**2
        verdicts["bows"] = part > 1 or free * e / (2 * (e - shear)) * (1 - mp.sqrt(1 - part)) > full
    if "tensile_strength" in place:
        k, rm, section = shear * d**4 / (8 * D**3 * n), si(place["tensile_strength"]), mp.pi * d**3 / 16
        if "wire" in place:
            low, high = (mpf(x) for x in SHARES[place["wire"]])
            s = bergstrasser(D / d) * k * min(full, solid) * D / 2 / section
            expect |= {"stress": to(s, "MPa"), "stress_unset_limit": to(low * rm, "MPa"), "stress_preset_limit": to(high * rm, "MPa")}
            verdicts |= {"stress_unset": s <= low * rm, "stress_preset": s <= high * rm}
        s = k * solid * D / 2 / section
        expect |= {"stress_solid": to(s, "MPa"), "stress_solid_limit": to(mpf("0.56") * rm, "MPa")}
        verdicts["stress_when_solid_en"] = s <= mpf("0.56") * rm
    assert [name for name, good in verdicts.items() if not good] == fails, (note, verdicts)
    expect |= {"criteria": list(verdicts), "verdicts": ["passes" if v else "fails" for v in verdicts.values()]}
    tolerance = {name: 5e-6 for name in expect if name not in ("criteria", "verdicts")}
    g.add("spring.place", {**given, "place": place}, expect, tolerance, "stresses by torque over section modulus, lengths by the gaps of the coils, at 50 digits", note)


SHOCK = {"wire_diameter": "11 mm", "mean_diameter": "48 mm", "active_coils": 5.5, "ends": "squared_ground", "free_length": "160 mm", "shear_modulus": "79500 MPa"}
SLIM = {"wire_diameter": "4.5 mm", "mean_diameter": "26 mm", "active_coils": 24, "ends": "plain", "free_length": "330 mm", "shear_modulus": "79500 MPa", "elastic_modulus": "206 GPa"}
placed(SHOCK, {"stroke": "57 mm"}, [], "a shock coil, and nothing else known")
placed(SHOCK, {"stroke": "65 mm", "preload": "2 mm", "body": "36 mm", "tube": "62 mm", "tensile_strength": "1450 MPa", "wire": "tempered"}, ["little_reserve_en", "stress_unset", "stress_preset", "stress_when_solid_en"], "all that can be judged without E")
placed(SHOCK, {"stroke": "75 mm", "preload": "3 mm", "body": "37.5 mm", "tensile_strength": "1100 MPa", "wire": "cold_drawn"}, ["goes_solid", "little_reserve_en", "little_reserve", "rubs_inside", "stress_unset", "stress_preset", "stress_when_solid_en"], "a long stroke, and a weak wire")
placed(SHOCK, {"stroke": "90 mm", "tube": "59.1 mm", "tensile_strength": "1600 MPa", "wire": "stainless"}, ["goes_solid", "little_reserve_en", "little_reserve", "rubs_outside", "stress_unset", "stress_preset", "stress_when_solid_en"], "solid before the stroke is used")
placed({**SHOCK, "ends": "squared", "free_length": "170 mm"}, {"stroke": "50 mm", "preload": "1 mm", "tube": "70 mm", "tensile_strength": "1900 MPa"}, ["stress_when_solid_en"], "a tube, and a wire of no known kind")
placed(SLIM, {"stroke": "130 mm", "preload": "15 mm", "tube": "32 mm", "tensile_strength": "1700 MPa", "wire": "tempered"}, ["bows", "stress_unset", "stress_preset", "stress_when_solid_en"], "a slender fork spring")
placed(SLIM, {"stroke": "100 mm", "end_fixity": 0.707, "body": "20 mm"}, ["bows"], "one seat that tilts")
placed({**SLIM, "free_length": "210 mm", "active_coils": 14, "ends": "plain_ground"}, {"stroke": "0.1 m", "end_fixity": 0.3, "tensile_strength": "250 kpsi", "wire": "cold_drawn"}, ["stress_unset", "stress_preset", "stress_when_solid_en"], "guided well, and a strength in kpsi")
g = file.group(RULES, "definition")
g.refuse_each("spring.place", {**SHOCK, "place": {"stroke": "57 mm", "body": "36 mm"}}, [
    ({"free_length": None}, ["free_length"], "no free length"), ({"place": {"body": "36 mm"}}, ["stroke"], "no stroke"), ({"place": {"stroke": "57 mm", "wire": "music"}}, ["wire"], "no such kind"),
    ({"place": {"stroke": "57 mm", "preload": "-1 mm", "tube": "-3 mm"}}, ["preload", "tube"], "both negative"), ({"place": {"stroke": "57 mm", "end_fixity": 0.001}, "active_coils": 0}, ["end_fixity", "active_coils"], "out of range, and no coils"),
])
file.write()
