"""Writes data/cases/spring-choice.json: the coil of a wanted rate, and which spring of
a shelf was measured.

The coil is found by a search in the formula of the rate and put back into it. The
probabilities come from Bayes' rule with the density of a normal distribution, and the
chance of a surprise from its integral. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from laws import bisect

file = File("a coil for a rate, and the spring of a shelf")
SCRIPT = "spring_choice.py"
ENDS = {"plain": (0, 1), "plain_ground": (1, 0), "squared": (2, 1), "squared_ground": (2, 0)}


def rate(d, diameter, n, shear):
    return shear * d**4 / (8 * diameter**3 * n)


def design(given, note, unit="mm"):
    d, shear, k = si(given["wire_diameter"]), si(given["shear_modulus"]), si(given["rate"])
    dead, over = ENDS[given.get("ends", "squared_ground")]
    diameter = n = None
    for name, more in (("mean_diameter", 0), ("outer_diameter", -1), ("inner_diameter", 1)):
        if name in given:
            diameter = si(given[name]) + more * d
    if diameter is None:
        n = si(given["active_coils"]) if "active_coils" in given else si(given["total_coils"]) - dead
        diameter = bisect(lambda x: k - rate(d, x, n, shear), d, 1000 * d)
    else:
        n = bisect(lambda x: k - rate(d, diameter, x, shear), mpf("1e-3"), mpf(1000))
    close(rate(d, diameter, n, shear), k, mpf("1e-40"), "the rate")
    g.add("spring.design", given, {"active_coils": num(n), "mean_diameter": to(diameter, unit), "outer_diameter": to(diameter + d, unit), "inner_diameter": to(diameter - d, unit),
                                   "total_coils": num(n + dead), "solid_length": to((n + dead + over) * d, unit)}, 1e-12, "the rate of what was found", note)


def identify(measured, uncertainty, shelf, note):
    k, u = si(measured), si(uncertainty or "0 N/mm")
    rows = []
    for i, s in enumerate(shelf):
        r, t = si(s["rate"]), si(s.get("tolerance", 0))
        variance = u**2 + mp.quad(lambda x: (x - r) ** 2 / (2 * t * r), [r - t * r, r + t * r]) if t else u**2
        sigma = mp.sqrt(variance)
        rows.append((mp.npdf(k, r, sigma), i, abs(k - r) / sigma))
    total = sum(r[0] for r in rows)
    rows.sort(key=lambda r: -r[0])
    surprise = [2 * (mpf(1) - mp.ncdf(r[2])) for r in rows]
    given = {"rate": measured, **({"uncertainty": uncertainty} if uncertainty else {}), "shelf": shelf}
    for r, s in zip(rows, surprise):
        close(mp.quad(lambda x: mp.npdf(x), [r[2], r[2] + 5, r[2] + 40]) * 2, s, mpf("1e-20"), "the tail of the normal distribution")
    g.add("spring.identify", given, {"index": [r[1] for r in rows], "probability": num([r[0] / total for r in rows]), "distance": num([r[2] for r in rows]), "surprise": num(surprise)},
          1e-10, "the tail of the normal distribution by quadrature", note)


g = file.group(mpmath_source(SCRIPT, "invented springs"), "computed", 1)
WIRE = {"wire_diameter": "5.5 mm", "shear_modulus": "79.3 GPa"}
design({**WIRE, "mean_diameter": "37 mm", "rate": "80 N/mm"}, "the coils for a diameter")
design({**WIRE, "outer_diameter": "44 mm", "ends": "squared", "rate": "450 lbf/in"}, "over the wire, ends not ground")
design({**WIRE, "inner_diameter": "32.5 mm", "ends": "plain_ground", "rate": "70 N/mm"}, "inside the wire")
design({**WIRE, "active_coils": 6.25, "rate": "400 lbf/in"}, "the diameter for the coils")
design({**WIRE, "total_coils": 8.5, "ends": "plain", "rate": "60 N/mm"}, "from total coils, all of them active")
design({**WIRE, "total_coils": 8.5, "rate": "60 N/mm"}, "from total coils, two of them dead")
design({"wire_diameter": "0.207 in", "shear_modulus": "11.5 Mpsi", "mean_diameter": "1.45 in", "rate": "350 lbf/in"}, "in inches", "in")
design({"wire_diameter": "4 mm", "shear_modulus": "42 GPa", "active_coils": 9, "rate": "8 N/mm"}, "a light wire, for a fork")
SHELF = [{"rate": f"{r} lbf/in", "tolerance": 0.05} for r in (400, 425, 450, 475, 500)]
identify("447 lbf/in", "6 lbf/in", SHELF, "steps of 25 lbf/in within 5 %")
identify("436 lbf/in", "2 lbf/in", SHELF, "between two labels")
identify("447 lbf/in", "30 lbf/in", SHELF, "a poor measurement: several are likely")
identify("80 N/mm", None, SHELF[1:4], "a measurement without an error")
identify("61 N/mm", "1.5 N/mm", [{"rate": "55 N/mm"}, {"rate": "60 N/mm"}, {"rate": "65 N/mm"}], "labels taken as exact")
identify("530 lbf/in", "5 lbf/in", SHELF, "none fits: the likeliest is a surprise")
identify("9.2 N/mm", "0.2 N/mm", [{"rate": "8 N/mm", "tolerance": 0.1}, {"rate": "9 N/mm", "tolerance": 0.02}, {"rate": "10 N/mm", "tolerance": 0.07}], "labels of three tolerances")
identify("450 lbf/in", "9 lbf/in", SHELF[2:3], "a shelf of one")
g = file.group(RULES, "definition", 1)
GOOD = {**WIRE, "mean_diameter": "37 mm", "rate": "80 N/mm"}
g.refuse_each("spring.design", GOOD, [
    ({"rate": "0 N/mm"}, ["rate"], "zero"), ({"rate": None}, ["rate"], "missing"), ({"wire_diameter": "-5 mm"}, ["wire_diameter"], "negative"), ({"shear_modulus": None}, ["shear_modulus"], "missing"),
    ({"active_coils": 6}, ["active_coils"], "coils and a diameter: nothing is sought"), ({"mean_diameter": "5 mm"}, ["wire_diameter"], "a wire thicker than its coil"),
    ({"rate": "1e15 N/mm"}, ["rate"], "no coil has it"), ({"free_length": "100 mm"}, ["free_length"], "no such field: it depends on the coils"),
])
g.refuse_each("spring.identify", {"rate": "447 lbf/in", "uncertainty": "6 lbf/in", "shelf": SHELF}, [
    ({"rate": "-447 lbf/in"}, ["rate"], "negative"), ({"uncertainty": "-1 lbf/in"}, ["uncertainty"], "negative"), ({"shelf": []}, ["shelf"], "no spring"),
    ({"shelf": [{"rate": "450 lbf/in", "tolerance": 1}]}, ["shelf[0].tolerance"], "all of the rate"), ({"shelf": [{"rate": "0 lbf/in"}]}, ["shelf[0].rate"], "zero"),
    ({"uncertainty": None, "shelf": [{"rate": "450 lbf/in"}, {"rate": "500 lbf/in"}]}, ["uncertainty"], "measurement and labels without an error"),
    ({"shelf": [{"rate": "450"}]}, ["shelf[0].rate"], "missing unit"),
])
file.write()
