"""Writes data/cases/spring-laws.json: force, rate and energy over travel.

The laws are those of laws.py. Rates and energies are checked there against
numerical differentiation and quadrature of the force. Rates are not asked for
at kinks, where float64 may fall on either side. See casefile.py for how to run
it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, si, to
from laws import confirm, invert, law

file = File("force–travel laws")
SCRIPT = "spring_laws.py"
RECOMPUTED = "recomputed from the stated inputs at 50 digits; agrees within the tolerance"
BOTH = "rate by numerical differentiation and energy by numerical quadrature of the force, at 50 digits"
SEPARATE = BOTH + "; agrees to 15 digits with a separate program (mpmath 1.3.0, 50 digits)"
SEPARATE_FORCE = "agrees to 15 digits with a separate program (mpmath 1.3.0, 50 digits)"


def outputs(spec, at, unit="mm"):
    l = law(spec)
    xs = [si(x) for x in at]
    confirm(l, xs)
    return {"force": to([l.force(x) for x in xs], "N"), "rate": to([l.rate(x) for x in xs], "N/mm"),
            "energy": to([l.energy(x) for x in xs], "J")}


def mm(*xs):
    return [f"{x} mm" for x in xs]


# ------------------------------------------------------------------- published

def example(title, where, url):
    return file.group({"title": title, "where": f"{where}; seen in the printed output of the FOSSEE textbook companion; the book was not opened", "url": url}, "published")


def published(group, spec, given, expect, tolerance, note=""):
    l = law(spec)
    have = {"travel": [invert(l, si(f)) for f in given.get("load", [])],
            "force": [l.force(si(x)) for x in given.get("at", [])],
            "energy": [l.energy(si(x)) for x in given.get("at", [])]}
    for name, values in expect.items():
        for h, e in zip(have[name], values, strict=True):
            assert abs(h - si(e)) <= si(tolerance[name]), (name, h, e)
    group.add("spring.law", {"law": spec, **given}, expect, tolerance, RECOMPUTED, note)


def coil(d, mean, n, free, shear=81370):
    return {"coil": {"wire_diameter": f"{d} mm", "mean_diameter": f"{mean} mm", "active_coils": n, "ends": "squared_ground",
                     "free_length": f"{free} mm", "shear_modulus": f"{shear} MPa"}}


BHANDARI = "V. B. Bhandari, Design of Machine Elements (Springs chapter)"
BHANDARI_URL = "https://github.com/FOSSEE/Scilab-TBC-Uploads/tree/b1f5c3f8d6671b4331cef1dcebdf63b7a43a3a2b/764/CH10"
FOSSEE = "https://github.com/FOSSEE/Python-Textbook-Companions/tree/d34b2ae7e5e6051f7c87531ebc73b154b082d05b/"
SIX = {"travel": "0.0000005 mm"}
ASSUMED = "the free length and the ends are assumed; they only bound the travel"

g = example(BHANDARI, "Example 10.1, result10_1.txt", BHANDARI_URL)
published(g, coil(7, 42, 8, 109.337611), {"load": ["1250 N"]}, {"travel": ["30.337611 mm"]}, SIX,
          "The free length 109.337611 mm is printed, made of the solid length 70 mm, nine gaps of 1 mm and this deflection.")
g = example(BHANDARI, "Example 10.2, result10_2.txt", BHANDARI_URL)
published(g, coil(11, 55, 5, 99.551543), {"load": ["3500 N"]}, {"travel": ["19.551543 mm"]}, SIX,
          "The free length 99.551543 mm is printed, made of the solid length 77 mm, six gaps of 0.5 mm and this deflection.")
g = example(BHANDARI, "Example 10.18, result10_18.txt", BHANDARI_URL)
published(g, {"parallel": [{"law": coil(10, 80, 8, 190)}, {"law": coil(8, 64, 12, 190)}]}, {"load": ["2000 N"]},
          {"travel": ["52.526569 mm"]}, SIX, "concentric springs of equal free length; " + ASSUMED)
published(g, coil(10, 80, 8, 190), {"load": ["1304.347826 N"]}, {"travel": ["52.526569 mm"]}, SIX, "the outer one with its printed share; " + ASSUMED)
published(g, coil(8, 64, 12, 190), {"load": ["695.652174 N"]}, {"travel": ["52.526569 mm"]}, SIX, "the inner one with its printed share; " + ASSUMED)
g = example(BHANDARI, "Example 10.19, result10_19.txt", BHANDARI_URL)
published(g, {"parallel": [{"law": coil(6, 36, 10, 140)}, {"law": coil(5, 30, 8, 125), "starts_at": "15 mm"}]}, {"load": ["1000 N"]},
          {"travel": ["24.988839 mm"]}, SIX, "the inner spring is 15 mm shorter: a kink in the force; " + ASSUMED)
published(g, coil(5, 30, 8, 125), {"load": ["293.978529 N"]}, {"travel": ["9.988839 mm"]}, SIX, "the inner one with its printed share; " + ASSUMED)
g = example("S. S. Bhavikatti, Strength of Materials",
            "Example 6.6.22, p. 254 (chapter_06 notebook output)", FOSSEE + "Strength_Of_Materials_by_S_S_Bhavikatti")
published(g, coil(12, 150, 10, 300, 80000), {"load": ["450 N"]}, {"travel": ["73.24 mm"]}, {"travel": "0.005 mm"}, ASSUMED)
published(g, coil(12, 150, 10, 300, 80000), {"at": ["73.2421875 mm"]}, {"energy": ["16.47949 J"]}, {"energy": "0.000005 J"},
          "16479.49 N·mm are printed for 450 N, at the unrounded deflection; " + ASSUMED)
g = example("B. K. Sarkar, Strength of Materials",
            "Problem 8.8, p. 212 (Chapter08 notebook output)", FOSSEE + "Strength_Of_Materials_by_B_K_Sarkar")
published(g, coil(3, 30, 10, 80, 80000), {"at": ["20 mm"]}, {"force": ["60.0 N"]}, {"force": "0.05 N"}, ASSUMED)
published(g, {"parallel": [{"law": coil(3, 30, 10, 80, 80000)},
                           {"law": {"linear": {"rate": "4000.0 N/m", "travel": "40 mm"}}, "starts_at": "10 mm"}]},
          {"at": ["20 mm"]}, {"force": ["100 N"]}, {"force": "0.0005 N"},
          "The inner spring starts 10 mm later; 4000.0 N/m are printed for it from the total of 100 N, and the tolerance is half a unit of the last digit of that rate. " + ASSUMED)

# -------------------------------------------------------------------- computed

g = file.group(mpmath_source(SCRIPT, "invented springs: coil groups, linear pitch, two springs on end, a helper"), "computed", 101)


def groups(*pairs):
    return {"groups": [{"rate": f"{k} N/mm", "gap": f"{x} mm"} for k, x in pairs]}


def coil_groups(d, mean, shear, turns):
    """Groups of (active coils, pitch) of one wire."""
    one = mpf(shear) * mpf(d)**4 / (8 * mpf(mean)**3)
    return {"groups": [{"rate": to(one / mpf(n) * 1000, "N/mm", 17), "gap": to(mpf(n) * (mpf(p) - mpf(d)) / 1000, "mm", 17)} for n, p in turns]}


def computed(spec, at, second=SEPARATE, note="", tolerance=1e-12):
    g.add("spring.law", {"law": spec, "at": at}, outputs(spec, at), tolerance, second, note)


def loaded(spec, loads, second=SEPARATE_FORCE, note="", tolerance=1e-12):
    l = law(spec)
    xs = [invert(l, si(f)) for f in loads]
    for x, f in zip(xs, loads):
        close(l.force(x), si(f), mpf("1e-30"), "force")
    g.add("spring.law", {"law": spec, "load": loads}, {"travel": to(xs, "mm")}, tolerance, second, note)


def kinked(spec, at, note):
    l = law(spec)
    confirm(l, [x for x in map(si, at) if x < l.travel - mpf("1e-9")])
    o = {"force": to([l.force(si(x)) for x in at], "N"), "energy": to([l.energy(si(x)) for x in at], "J")}
    g.add("spring.law", {"law": spec, "at": at}, o, 1e-12, SEPARATE_FORCE, note)


P1 = groups((60, 12), (90, 20), (140, 25))
computed(P1, mm(0, 10, 25, 30, 40, 50, 56, 57), note="three groups, closing at 720, 1800 and 3500 N")
loaded(P1, ["100 N", "720 N", "1800 N", "3500 N"], note="at the three closures, the last one solid")
P2 = coil_groups(6, 32, 79500, [(2, "8.5"), (3, 10), (7, 12)])
computed(P2, mm(0, 10, 25, 40, 55, 58, 59), note="a 6 mm wire on 32 mm, G = 79500 MPa, groups of 2, 3 and 7 coils at pitches of 8.5, 10 and 12 mm")
loaded(P2, ["982.589721679688 N", "1572.1435546875 N"], note="a group closes at G d⁴ (p − d)/(8 D³), however many coils it has; the first to 15 digits")
P3 = coil_groups(10, 46, 79500, [(1, p) for p in ("12.0", "12.5", "13.25", "14.25", "15.5")])
computed(P3, mm(0, 8, 11, 13.5, 15, 17, 17.5), note="five coils, each with a pitch of its own")
P4 = coil_groups("11.2", "48.2", 42060, [(2, 15), (3, 21)])
computed(P4, mm(0, 10, 17, 20, 30, 37), note="titanium, two pitches")
loaded(P3, ["2041.89611243528 N", "2552.37014054409 N", "3318.08118270732 N", "4339.02923892496 N", "5615 N"],
       note="at the first four closures, to 15 digits, and nearly solid", tolerance=1e-11)
loaded(P4, ["2807.33250317681 N", "7239 N"], note="at the first closure, to 15 digits, and nearly solid", tolerance=1e-11)
computed(groups((140, 25), (60, 12), (90, 20)), mm(10, 30, 50), note="the groups of the first case in another order: the same law", second=BOTH)
computed(groups((75, 30)), mm(0, 15, 30), note="one group: a straight line", second=BOTH)

P5 = {"linear_pitch": {"wire_diameter": "6 mm", "mean_diameter": "30.5 mm", "active_coils": 18, "shear_modulus": "79500 MPa",
                       "first_gap": "4 mm", "last_gap": "9 mm"}}
computed(P5, mm(0, 50, 80, 95, 110, 116), note="first contact at 72 mm, solid at 117 mm")
kinked(P5, mm(72, 117), "first contact, and solid: there the rate is without bound and not asked for")
loaded(P5, ["1815.69382459325 N", "2027.30227132663 N", "3190.16197800356 N"], note="first contact, to 15 digits; 80 mm; 110 mm", tolerance=1e-11)
computed({"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "shear_modulus": "79500 MPa",
                           "first_gap": "0 mm", "last_gap": "16 mm"}}, mm(5, 15, 25, 38), second=BOTH,
         note="a first coil that touches at once: stiffening from the start")
computed({"linear_pitch": {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "shear_modulus": "79500 MPa",
                           "first_gap": "12 mm", "last_gap": "6 mm"}}, mm(0, 20, 35, 44), second=BOTH,
         note="the wider gaps first: the same as turned round")

D1 = {"series": [{"linear": {"rate": "52.5 N/mm", "travel": "22 mm"}}, {"linear": {"rate": "87.5 N/mm", "travel": "60 mm"}}]}
computed(D1, mm(0, 10, 20, 36, 50), note="two springs on end; the soft one stops after 22 mm of its own, at 1155 N")
kinked(D1, mm(35.2), "at the crossover")
loaded(D1, ["328.125 N", "1155 N", "2450 N"], note="before, at and after the crossover")
D2 = {"series": [{"linear": {"rate": "70 N/mm", "travel": "15.8571428571428571 mm", "preload": "2.14285714285714286 mm"}},
                 {"linear": {"rate": "105 N/mm", "travel": "60 mm", "preload": "1.42857142857142857 mm"}}]}
computed(D2, mm(5, 20, 30, 45), note="both preloaded by 150 N; the soft one stops at 18 mm of compression in all, at 1260 N")
loaded(D2, ["360 N", "1260 N", "3210 N"], note="before, at and after the crossover")
D3 = {"series": [{"linear": {"rate": "61.25 N/mm", "travel": "9.5 mm"}}, {"linear": {"rate": "61.25 N/mm", "travel": "60 mm"}}]}
computed(D3, mm(10, 19.5, 40), note="equal springs: the rate doubles at the crossover")
kinked(D3, mm(19), "at the crossover")
loaded(D3, ["306.25 N", "581.875 N", "1868.125 N"], note="before, at and after the crossover")
D4 = {"parallel": [{"law": {"linear": {"rate": "95 N/mm", "travel": "60 mm"}}},
                   {"law": {"linear": {"rate": "40 N/mm", "travel": "60 mm"}}, "starts_at": "12.5 mm"}]}
computed(D4, mm(0, 10, 20, 30), note="a helper that starts after 12.5 mm")
kinked(D4, mm(12.5), "at the start of the helper")
loaded(D4, ["950 N", "1187.5 N", "3550 N"], note="before, at and after the start of the helper")

g = file.group(mpmath_source(SCRIPT, "invented springs: lines, coils, air, and stacks of them"), "computed", 201)
computed({"linear": {"rate": "450 lbf/in", "travel": "2.5 in"}}, ["0 in", "0.75 in", "2.5 in"], BOTH, "a shock coil in customary units")
computed({"linear": {"rate": "6.1 N/mm", "travel": "170 mm", "preload": "12 mm"}}, mm(0, 34, 85, 170), BOTH, "a fork coil with preload")
loaded({"linear": {"rate": "6.1 N/mm", "travel": "170 mm", "preload": "12 mm"}}, ["73.2 N", "250 N", "1110.2 N"], "exact",
       "at full extension, in between, and at full travel")
COIL = {"coil": {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "ends": "squared_ground",
                 "free_length": "140 mm", "shear_modulus": "79500 MPa", "preload": "3 mm"}}
computed(COIL, mm(0, 20, 45, 67), BOTH, "a coil with preload: 67 mm of travel are left until it is solid")
loaded(COIL, ["1000 N", "5000 N"], "put back into the force, at 50 digits")
FORK = {"air": {"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}
computed(FORK, mm(0, 40, 100, 160), BOTH, "an air fork, one chamber", 1e-11)
loaded(FORK, ["600 N", "900 N", "1500 N"], "put back into the force, at 50 digits", "", 1e-11)
# bore, travel, volume, fill, exponent, force
for bore, travel, volume, fill, n, force in [(40, 200, 330, 3, 1, 400), (38, 57.5, 90, 15, 1.3, 2000), (50, 75, 220, 8, 1, 2000)]:
    loaded({"air": {"bore": f"{bore} mm", "travel": f"{travel} mm", "positive_volume": f"{volume} cm3", "fill": f"{fill} bar",
                    "ambient": "101325 Pa(a)", "exponent": n}}, [f"{force} N"],
           "agrees to 14 digits with a separate program (mpmath, 40 digits)", "one chamber, inverted", 1e-11)
DUAL = {"air": {"bore": "40 mm", "shaft": "12.7 mm", "travel": "65 mm", "positive_volume": "105 cm3", "negative_volume": "45 cm3",
                "port_travel": "3 mm", "fill": "14 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}
computed(DUAL, mm(5, 20, 40, 65), BOTH, "an air shock with a negative chamber", 1e-11)
MIXED = {"parallel": [{"law": FORK}, {"law": {"linear": {"rate": "2.5 N/mm", "travel": "60 mm"}}, "starts_at": "100 mm"}]}
computed(MIXED, mm(20, 90, 120, 155), BOTH, "an air fork with a coil that helps over the last 60 mm", 1e-11)
ENDED = {"series": [{"air": {"bore": "36 mm", "travel": "160 mm", "positive_volume": "230 cm3", "fill": "5 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}},
                    {"linear": {"rate": "30 N/mm", "travel": "20 mm", "preload": "17 mm"}}]}
l = law(ENDED)
xs = mm(10, 60, 120, 175)
close_to = [si(x) for x in xs]
confirm(l, close_to[1:2], mpf("1e-20"))
g.add("spring.law", {"law": ENDED, "at": xs},
      {"force": to([l.force(x) for x in close_to], "N"), "rate": to([l.rate(x) for x in close_to], "N/mm"),
       "energy": to([l.energy(x) for x in close_to], "J")}, 1e-10,
      BOTH + ", at the second travel", "an air fork on end with a preloaded coil: the split of the travel is an equation to solve, hence the wider tolerance")
NESTED = {"parallel": [{"law": {"series": [{"linear": {"rate": "40 N/mm", "travel": "20 mm"}}, {"linear": {"rate": "80 N/mm", "travel": "60 mm"}}]}},
                       {"law": groups((10, 30), (20, 60)), "starts_at": "5 mm"}]}
computed(NESTED, mm(2, 12, 25, 40, 70), BOTH, "stacks inside stacks")
l = law(NESTED)
loads = [to(l.force(si(x)), "N") for x in ("25 mm", "70 mm")]
g.add("spring.law", {"law": NESTED, "load": loads}, {"travel": ["25 mm", "70 mm"]}, 1e-12, "the forces of the case before, to 15 digits")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")


def line(**changes):
    return {"law": {"linear": {k: v for k, v in {"rate": "80 N/mm", "travel": "60 mm", **changes}.items() if v is not None}}, "at": ["10 mm"]}


def air(**changes):
    return {"law": {"air": {k: v for k, v in {**FORK["air"], **changes}.items() if v is not None}}, "at": ["10 mm"]}


def pitch(**changes):
    return {"law": {"linear_pitch": {k: v for k, v in {**P5["linear_pitch"], **changes}.items() if v is not None}}, "at": ["10 mm"]}


for given, fields, note in [
    (line(rate="0 N/mm"), ["rate"], "zero"), (line(rate="-80 N/mm"), ["rate"], "negative"), (line(rate=None), ["rate"], "missing"),
    (line(rate="80"), ["rate"], "missing unit"), (line(rate="NaN N/mm"), ["rate"], "not a number"), (line(rate="80 N"), ["rate"], "a force is no rate"),
    (line(travel="0 mm"), ["travel"], "zero"), (line(travel="-60 mm"), ["travel"], "negative"), (line(travel="60"), ["travel"], "missing unit"),
    (line(preload="-3 mm"), ["preload"], "negative"), (line(preload="3 N"), ["preload"], "preload is a length"),
    (line(rate="0 N/mm", travel="-60 mm", preload="-1 mm"), ["rate", "travel", "preload"], "three bad fields, all named"),
    ({"law": {"groups": [{"rate": "60 N/mm", "gap": "0 mm"}]}, "at": ["1 mm"]}, ["gap"], "zero"),
    ({"law": {"groups": [{"rate": "60 N/mm", "gap": "12 mm"}, {"rate": "-90 N/mm", "gap": "20 mm"}]}, "at": ["1 mm"]}, ["rate"], "negative, in the second group"),
    (pitch(wire_diameter="31 mm"), ["wire_diameter"], "wire thicker than the mean diameter"),
    (pitch(first_gap="-1 mm"), ["first_gap"], "negative"), (pitch(last_gap="9"), ["last_gap"], "missing unit"),
    (pitch(active_coils=0), ["active_coils"], "zero"), (pitch(shear_modulus="0 MPa"), ["shear_modulus"], "zero"),
    ({"law": {"coil": {**COIL["coil"], "free_length": "60 mm"}}, "at": ["1 mm"]}, ["free_length"], "shorter than the solid spring"),
    ({"law": {"coil": {**COIL["coil"], "wire_diameter": "50 mm"}}, "at": ["1 mm"]}, ["wire_diameter"], "wire thicker than the mean diameter"),
    (air(positive_volume="100 cm3"), ["positive_volume"], "smaller than the 163 cm³ swept"),
    (air(exponent=-1), ["exponent"], "negative"),
    ({"law": {"series": [line()["law"], line(rate="0 N/mm")["law"]]}, "at": ["10 mm"]}, ["rate"], "in a member of a stack"),
    ({"law": {"parallel": [{"law": line()["law"]}, {"law": line()["law"], "starts_at": "-5 mm"}]}, "at": ["10 mm"]}, ["starts_at"], "negative"),
    ({"law": {"parallel": [{"law": line()["law"]}, {"law": line()["law"], "starts_at": "60 mm"}]}, "at": ["10 mm"]}, ["starts_at"],
     "where the other spring is solid already"),
    ({"law": line()["law"], "load": ["4801 N"]}, ["bottomed_out"], "a load beyond full travel"),
    ({"law": line(preload="3 mm")["law"], "load": ["400 N", "239 N"]}, ["topped_out"], "a load less than the preload, the second of the list"),
    ({"law": {"rubber": {"rate": "80 N/mm"}}, "at": ["10 mm"]}, ["rubber"], "no such law"),
    ({"law": line()["law"], "at": ["10"]}, ["at"], "missing unit"),
    ({"law": line()["law"], "at": ["10 mm", "NaN mm"]}, ["at"], "not a number, the second of the list"),
]:
    g.refuse("spring.law", given, fields, note)


# ------------------------------------------------------------- with a preload

g = file.group(mpmath_source(SCRIPT, "invented springs of every kind, preloaded"), "computed")


def preloaded(spec, preload, at, note):
    l, p = law(spec), si(preload)
    xs = [si(x) for x in at]
    confirm(l, [p + x for x in xs])
    energies = []
    for x in xs:
        ends = [p] + sorted(k for k in l.kinks if p < k < p + x) + [p + x]
        energies.append(mp.quad(l.force, ends) if x > 0 else mpf(0))
        close(energies[-1] + 1, l.energy(p + x) - l.energy(p) + 1, mpf("1e-20"), note)
    g.add("spring.preloaded", {"law": spec, "preload": preload, "at": at},
          {"force": to([l.force(p + x) for x in xs], "N"), "rate": to([l.rate(p + x) for x in xs], "N/mm"), "energy": to(energies, "J"), "travel": to(l.travel - p, "mm")},
          1e-10, BOTH, note)


preloaded(P5, "5 mm", mm(0, 20, 90, 105), "a pitch that widens evenly")
preloaded(P5, "80 mm", mm(10, 20), "preloaded beyond the first contact")
preloaded(P1, "10 mm", mm(0, 10, 25, 40), "three groups")
preloaded(FORK, "4 mm", mm(1, 80, 150), "an air fork held compressed")
preloaded(MIXED, "10 mm", mm(20, 80, 120), "an air fork with a coil that helps")
preloaded(D1, "6 mm", mm(0, 10, 40), "two springs on end")
preloaded(D4, "3 mm", mm(2, 20), "a helper")
preloaded({"linear": {"rate": "450 lbf/in", "travel": "2.5 in"}}, "0.1 in", ["0.5 in", "2 in"], "a line, in inches")
preloaded({"coil": {"wire_diameter": "10 mm", "mean_diameter": "46 mm", "active_coils": 5, "ends": "squared_ground", "free_length": "150 mm", "shear_modulus": "79500 MPa", "preload": "3 mm"}}, "2 mm", mm(0, 30, 74),
          "a coil that is put in with a preload, and preloaded further: solid at the end")

# -------------------------------------------- a stack at the end of its travel

g = file.group(mpmath_source(SCRIPT, "invented stacks of air and coil"), "computed")


def ended(coil, last, note):
    """The rate at full travel is that of the member that moves last."""
    spec = {"series": [FORK, {"linear": coil}]}
    l = law(spec)
    top = max(l.members, key=lambda m: m.force(m.travel))
    assert l.members.index(top) == last, note
    near = l.travel - mpf("1e-9")
    close(l.force(near), top.force(top.travel - mpf("1e-9")), mpf("1e-20"), note)
    g.add("spring.law", {"law": spec, "at": [to(l.travel, "mm")]}, {"force": [to(top.force(top.travel), "N")], "rate": [to(top.rate(top.travel), "N/mm")]}, 1e-9,
          "the force just before full travel is that of this member alone", note)


ended({"rate": "200 N/mm", "travel": "30 mm"}, 1, "the coil is solid last")
ended({"rate": "30 N/mm", "travel": "20 mm"}, 0, "the air fork is at its end last")

g = file.group(RULES, "definition")
g.refuse_each("spring.preloaded", {"law": D1, "preload": "6 mm", "at": ["10 mm"]}, [
    ({"preload": "82 mm"}, ["preload"], "the whole travel"), ({"preload": "-1 mm"}, ["preload"], "negative"), ({"at": ["10"]}, ["at"], "missing unit"),
    ({"law": {"linear": {"rate": "0 N/mm", "travel": "60 mm"}}, "preload": "-1 mm"}, ["rate", "preload"], "no rate, and negative"), ({"preload": "3 N"}, ["preload"], "a force is no length"),
])
file.write()
