"""Writes data/cases/worked-motion.json: masses on springs that were read in books, or
seen in the companions that work them.

Rate k = P/w of a load P at a deflection w. Frequency 1/(2π)·√(k/m) of a mass m; as a
case has the load P = m·g₀ for a mass, a book's mass m is given as m·g₀, to 17 digits.
A drop from a height h is deepest where P·(h + w) is the energy of the spring. See
worked.py, and casefile.py for how to run it.
"""
from mpmath import mp, mpf

from worked import COLLEGE, UNIVERSITY, book, companion, holds
from casefile import File, G0, num, si, to
from laws import confirm, invert, law

file = File("masses on springs in books")


def linear(rate, travel="100 m"):
    return {"linear": {"rate": rate, "travel": travel}}


def direct(travel="100 m"):
    """A wheel that goes as far as its spring."""
    return {"constant": 1, "travel": travel}


def weight(mass, unit="N"):
    """The load in a case that stands for a mass."""
    return to(si(mass) * G0, unit, 17)


def hertz(value, digits=9):
    return to(mpf(value), "Hz", digits)


def settles(group, spring, load, expect, tolerance=None, note="", curve=None, friction=None):
    """Where a load rests, and the frequency there; the spring is linear behind one ratio."""
    curve = curve or direct()
    ratio, travel = si(curve["constant"]), si(curve["travel"])
    k, p = spring_rate(spring) / ratio**2, si(load)
    at = p / k
    got = {"travel": at, "stroke": at / ratio, "sag": at / travel, "wheel_rate": k, "frequency": mp.sqrt(k * G0 / p) / (2 * mp.pi)}
    given = {"curve": curve, "law": spring, "load": load}
    if friction:
        given["friction"] = friction
        for name, sign in (("travel_low", -1), ("travel_high", 1)):
            got[name] = at + sign * si(friction) / ratio / k
    holds(group, "sag.settle", given, expect, got, tolerance, note)


def spring_rate(spec):
    if "series" in spec:
        return 1 / sum(1 / spring_rate(s) for s in spec["series"])
    if "parallel" in spec:
        return sum(spring_rate(s["law"]) for s in spec["parallel"])
    return si(spec["linear"]["rate"])


def rate(group, load, deflection, travel, printed, note="", tolerance=None):
    """The rate that a load and its deflection give, the deflection as sag of a travel."""
    sag = si(deflection) / si(travel)
    holds(group, "sag.rate", {"curve": direct(travel), "load": load, "sag": num(sag)}, {"rate": printed}, {"rate": si(load) / si(deflection)}, tolerance, note)


def lands(group, spring, load, height, expect, tolerance=None, note="", travel="100 m"):
    """An undamped drop on a linear spring: the positive root of k·w²/2 = P·(h + w), or the energy left at full travel."""
    k, p, h, full = si(spring), si(load), si(height), si(travel)
    deepest = (p + mp.sqrt(p * p + 2 * k * p * h)) / k
    got = {"travel": min(deepest, full), "energy_left": max(p * (h + full) - k * full**2 / 2, mpf(0))}
    holds(group, "sag.landing", {"curve": direct(travel), "law": linear(spring, travel), "load": load, "drop_height": height}, expect, got, tolerance, note)


def forces(group, spec, given, expect, tolerance=None, note=""):
    """A law at travels or under loads."""
    l = law(spec)
    xs = [si(x) for x in given.get("at", [])]
    if xs:
        confirm(l, xs)
    got = {"force": [l.force(x) for x in xs], "rate": [l.rate(x) for x in xs], "energy": [l.energy(x) for x in xs],
           "travel": [invert(l, si(f)) for f in given.get("load", [])]}
    holds(group, "spring.law", {"law": spec, **given}, expect, got, tolerance, note)


MASS = "The mass is given as its weight by g₀, which the frequency doesn't depend on. "

# ------------------------------------------------------------- read in the books

g = book(file, COLLEGE, "module m42240, Hooke's Law, worked example 1")
rate(g, "784 N", "1.20 cm", "10 cm", "6.53e4 N/m", "80.0 kg, g 9.80 m/s², that settle a car by 1.20 cm; the travel is invented")
g = book(file, UNIVERSITY, "volume 1, module m58366, Forced Oscillations, exercise fs-id1167131482475 and its printed solution")
settles(g, linear("1.30e5 N/m"), "9800 N", {"travel": "7.54 cm"}, note="1000 kg, g 9.80 m/s², on a truck")
forces(g, {"parallel": [{"law": linear("3.25e4 N/m", "1 m")}] * 4}, {"load": ["9800 N"]}, {"travel": ["7.54 cm"]}, note="the same as four springs, of the printed 3.25e4 N/m each")
g = book(file, UNIVERSITY, "volume 1, module m58362, Energy in Simple Harmonic Motion, exercise fs-id1167128974985 and its printed solution")
rate(g, "784 N", "12.0 cm", "20 cm", "6.53e3 N/m", "a pogo stick under 80.0 kg, g 9.80 m/s²; the travel is invented")
g = book(file, UNIVERSITY, "volume 1, module m58366, exercise fs-id1167131621754 and its printed solution")
rate(g, "78.4 N", "0.250 m", "1 m", "314 N/m", "8.0 kg in a baby bouncer, g 9.80 m/s²; the travel is invented")
settles(g, linear("314 N/m"), weight("8.0 kg"), {"frequency": "1.00 Hz"}, note=MASS + "Printed is the period, 1.00 s.")
g = book(file, COLLEGE, "module m42242, Simple Harmonic Motion, worked example 1")
settles(g, linear("6.53e4 N/m"), weight("900 kg"), {"frequency": "1.356 Hz"},
        note=MASS + "Printed are 1.3656, 1.36 and, for the period, 1.356 Hz: the first has two digits exchanged.")
g = book(file, COLLEGE, "module m42242, problem eip-800 and its printed solution")
k = mpf("0.5") * (2 * mp.pi / mpf("1.5")) ** 2
settles(g, linear(to(k, "N/m", 17)), weight("0.889 kg"), {"frequency": "0.5 Hz"}, {"frequency": 2.9e-4},
        MASS + "A spring that swings 0.500 kg in 1.50 s wants 0.389 kg more for 2.00 s; the tolerance is half a unit of that digit.")
g = book(file, UNIVERSITY, "volume 1, module m58362, exercise fs-id1167128914764 and its printed solution")
settles(g, linear("1.40e4 N/m"), weight("90.0 kg"), {"frequency": "1.99 Hz"}, note=MASS + "A climber on a rope.")
lands(g, "1.40e4 N/m", "882 N", "2.00 m", {"travel": "56.9 cm"}, note="a climber of 90.0 kg falls free by 2.00 m into a rope; g 9.80 m/s²")
lands(g, "1.40e4 N/m", "882 N", "4.00 m", {"travel": "77.6 cm"},
      note="77.6 cm are printed for a rope twice as long, after 2.00 m: that has half the rate, and 84.7 cm. 77.6 cm are right for the first rope after 4.00 m, given here.")
g = book(file, COLLEGE, "module m42244, Energy and the Simple Harmonic Oscillator, problem eip-863 and its printed solution")
for swing, spring, digit in (("50.2 cm", "1.40e4 N/m", mpf("50.2")), ("71.0 cm", "7.00e3 N/m", mpf("71"))):
    forces(g, linear(spring), {"at": [swing]}, {"energy": ["1764 J"]}, {"energy": float(mp.nstr(mpf("0.1") / digit, 3))},
           "A climber of 90.0 kg stretches a rope after 2.00 m, weight left out during the stretch as the book says: the energy is m·g·h, and the tolerance half a unit of the printed stretch.")
settles(g, linear("7.00e3 N/m"), weight("90.0 kg"), {"frequency": "1.40 Hz"}, note=MASS + "The same climber on a rope twice as long.")
g = book(file, UNIVERSITY, "volume 1, module m58312, Potential Energy of a System, worked example 4")
lands(g, "6.0 N/m", "1.2 N", "0 m", {"travel": "0.40 m"}, {"travel": 1e-8}, "Let go on a spring, exact as printed: twice the sag.")
g = book(file, UNIVERSITY, "volume 1, module m58366, exercise fs-id1167130203838 and its printed solution")
forces(g, linear("5.00e4 N/m"), {"at": ["7.50 cm"]}, {"energy": ["141 J"]}, note="what a damper takes of one bounce")
g = book(file, UNIVERSITY, "volume 1, module m58366, exercise fs-id1167131096562 and its printed solution")
settles(g, linear("150 N/m"), "1.5 N", {"travel_low": "5.10 mm", "travel_high": "14.90 mm"}, None,
        "A block of 0.750 kg, held by a static friction of 0.100 of its weight, g 9.80 m/s², within 4.9 mm of where it would rest. The load is invented: it puts that at 10 mm. "
        "4.90e-3 m are printed.", friction="0.735 N")
g = book(file, COLLEGE, "module m42240, problem fs-id1908117 and its printed solution")
forces(g, linear("889 N/m"), {"at": ["0.150 m"]}, {"energy": ["10.0 J"], "force": ["133 N"]}, {"energy": "0.0057 J", "force": "0.5 N"},
       "The energy is that of 0.0500 kg at 20.0 m/s, from which the printed rate is found; its tolerance is half a unit of that rate.")
g = book(file, UNIVERSITY, "volume 1, module m58719, Work, worked example 5")
forces(g, linear("0.3 N/mm"), {"at": ["6 cm", "12 cm"]}, {"energy": ["0.54 J", "2.16 J"]}, {"energy": 1e-12},
       "3 N/cm, exact as printed: 0.54 J to 6 cm, and 1.62 J more to 12 cm.")
g = book(file, COLLEGE, "module m42240, worked example 2")
forces(g, linear("50.0 N/m"), {"at": ["0.150 m"]}, {"energy": ["0.563 J"]}, note="a toy gun; 0.5625 J is exact")
g = book(file, UNIVERSITY, "volume 1, module m58719, exercise fs-id1165039434039 and its printed solution")
knee, second = mpf(204) * mpf("4.88"), 1 / (1 / mpf(111) - 1 / mpf(204))
cord = {"series": [linear("204 N/m", "30 m"), {"linear": {"rate": to(second, "N/m", 17), "travel": "30 m", "preload": to(knee / second, "m", 17)}}]}
forces(g, cord, {"at": ["16.7 m"]}, {"energy": ["22.0 kJ"], "force": ["2.31 kN"]}, {"energy": "0.05 kJ", "force": "0.005 kN"},
       "A cord of 204 N/m that from 4.88 m on has 111 N/m: a second spring, preloaded, gives way there. The force is printed as 2.32 kN, and its own data give 2.31 kN, which is expected.")

# ------------------------------------------------------------ seen in companions

TAYAL = companion("A. K. Tayal, Engineering Mechanics", "notebook Chapter16")
g = book(file, TAYAL, "example 16.6")
lands(g, "500 N/m", "49.05 N", "10 cm", {"travel": "26.910763 cm"}, note="5 kg, g 9.81 m/s²")
g = book(file, TAYAL, "example 16.10")
lands(g, "1500 N/m", "16.03 N", "0.5 m", {"travel": "0.114614 m"},
      note="5 kg down a slope of 30° with a friction of 0.2: what is left of the weight along it, 16.03 N as the companion rounds it, is the load.")
g = book(file, companion("R. K. Bansal, Engineering Mechanics", "notebook chapter_18"), "example 18.25, p. 697")
lands(g, "10 N/mm", "98.1 N", "2 cm", {"travel": "3.19 cm"}, note="10 kg, g 9.81 m/s², on 100 N/cm; the companion prints the unit m for an equation in cm")
SARKAR = companion("B. K. Sarkar, Strength of Materials", "notebook Chapter08")
g = book(file, SARKAR, "problem 8.5, p. 210")
lands(g, "2073.6 N/m", "150 N", "0.05 m", {"travel": "18.39 cm"}, {"travel": "0.01 cm"}, "Printed cut, not rounded: the tolerance is a unit of the last digit.")
MCLEAN = companion("W. G. McLean, Engineering Mechanics (Schaum series)", "notebook chapter17_6")
g = book(file, MCLEAN, "problem 17.38, p. 412")
lands(g, "20 lbf/in", "8 lbf", "6 ft", {"travel": "8 in"}, {"travel": 1e-8}, "exact as printed: the weight of 8 lbf is what the problem asks for")
g = book(file, MCLEAN, "problem 17.36, p. 412")
down = mpf(7) * mpf("9.8") * (mpf("0.5") - mpf("0.25") * mp.sqrt(3) / 2)
lands(g, "2800 N/m", to(down, "N", 17), "330 mm", {"travel": "75 mm"}, {"travel": "0.06 mm"},
      "7 kg down a slope of 30° with a friction of 0.25, g 9.8 m/s²: what is left of the weight is the load. 330 mm are printed for a compression of 75 mm, and the tolerance is half a unit of these.")
g = book(file, MCLEAN, "problem 17.37, p. 412")
lands(g, "10000 N/m", "49 N", "2 m", {"energy_left": "52.9 J"}, {"energy_left": 1e-8},
      "5 kg fall by 2 m, and have 4.6 m/s left when the spring is compressed by 0.1 m, where this travel ends: exact as printed.", travel="0.1 m")
G_BEVAN = 12 * mpf("32.2") * si("1 in")
g = book(file, companion("T. Bevan, The Theory of Machines", "notebook ch15"), "chapter 15, example 4, p. 552")
settles(g, linear("100 lbf/in"), to(si("50 lbf") / G_BEVAN * G0, "lbf", 17), {"frequency": "4.424 Hz"}, note=MASS + "The book's is 50 lbf over 32.2 ft/s².")
KHURMI = companion("R. S. Khurmi, J. K. Gupta, Theory of Machines", "notebook ch4")
g = book(file, KHURMI, "example 4.4, p. 82")
settles(g, linear("1.8 N/mm", "1 m"), to((mpf("2.5") + mpf(1) / 3) * G0, "N", 17), {"frequency": "2.01 Hz"}, curve={"constant": 2, "travel": "1 m"},
        note="An arm of 1 kg and 0.6 m with 2.5 kg at its end and the spring at half its length: a lever ratio of 2, and a third of the arm's mass at its end. " + MASS.strip())
g = book(file, KHURMI, "example 4.3, p. 79")
settles(g, linear(to(mpf("1.5") * G0 / si("0.25 mm"), "N/m", 17)), weight("60 kg"), {"frequency": "4.98 Hz"}, note="60 kg on a spring that 1.5 kg extend by 0.25 mm. " + MASS.strip())
BANSAL = companion("R. K. Bansal, Engineering Mechanics", "notebook chapter_16")
g = book(file, BANSAL, "example 16.15, p. 629")
settles(g, {"series": [linear("4000 N/m"), linear("6000 N/m")]}, weight("50 kg"), {"frequency": hertz(1 / mpf("0.9069"))}, {"frequency": 5.6e-5},
        MASS + "Springs on end: the period is printed, 0.9069 s, and the tolerance is half a unit of that.")
settles(g, {"parallel": [{"law": linear("4000 N/m")}, {"law": linear("6000 N/m")}]}, weight("50 kg"), {"frequency": hertz(mp.sqrt(mpf("8") / mpf("0.04")) / (2 * mp.pi))}, {"frequency": 3.2e-3},
        MASS + "Side by side: printed is the greatest acceleration, 8.0 m/s² for a swing of 0.04 m, and the tolerance is half a unit of that.")
g = book(file, BANSAL, "example 16.17, p. 632")
LOADED = "A wagon of 24 t empty and 56 t loaded, then 8 cm down. "
settles(g, linear("700 kgf/mm"), "56000 kgf", {"frequency": hertz(1 / mpf("0.57"))}, {"frequency": 8.8e-3}, LOADED + "Loaded, the period is printed, 0.57 s, and the tolerance is half a unit of that.")
speed = mpf("1.55") / mp.sqrt(mpf("0.1") ** 2 - mpf("0.04") ** 2)
settles(g, linear("700 kgf/mm"), "24000 kgf", {"frequency": hertz(speed / (2 * mp.pi))}, {"frequency": 3.3e-3},
        LOADED + "Empty, 1.55 m/s are printed at 4 cm of a swing of 10 cm, and the tolerance is half a unit of that.")
g = book(file, BANSAL, "example 16.12, p. 626")
for load, printed in (("45.45 N", "12 Hz"), ("65.45 N", "10 Hz")):
    settles(g, linear("26.34 N/mm"), to(si(load) / mpf("9.81") * G0, "N", 17), {"frequency": printed}, {"frequency": 1.6e-4},
            MASS + "Weight and rate are printed, 45.45 N by 9.81 m/s² and 26.34 N/mm, of two frequencies with and without 20 N more; the tolerance is half a unit of both.")

g = book(file, COLLEGE, "module m42244, Energy and the Simple Harmonic Oscillator, worked example 1", 801)
settles(g, linear("6.53e4 N/m"), weight("900 kg"), {"frequency": hertz(mpf("8.52") / (2 * mp.pi))}, {"frequency": 6e-4},
        MASS + "0.852 m/s are printed as the greatest speed of a swing of 0.100 m, and the tolerance is half a unit of that.")

file.write()
