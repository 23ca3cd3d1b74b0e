"""Writes data/cases/air-laws.json: air springs over travel, and fills.

The model is Air of laws.py: ideal gas, chambers that do not stretch, the fill
read at full extension after slow equalisation at the port, p Vⁿ constant from
there. A fill is found from a force by the same model and put back into it. See
casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from laws import air, bisect, confirm

file = File("air springs")
SCRIPT = "air_laws.py"
BOTH = "rate by numerical differentiation and energy by numerical quadrature of the force, at 50 digits"
SEPARATE = BOTH + "; agrees to 14 digits with a separate program (mpmath, 40 digits)"
AMBIENT = "101325 Pa(a)"


def spec(bore, travel, volume, fill, n, **more):
    s = {"bore": f"{bore} mm"}
    if "shaft" in more:
        s["shaft"] = more.pop("shaft")
    s.update(travel=f"{travel} mm", positive_volume=f"{volume} cm3")
    for name in ("negative_volume", "port_travel", "oil_volume", "spacer_volume", "spacers", "second_volume", "second_fill"):
        if name in more:
            s[name] = more.pop(name)
    if fill is not None:
        s["fill"] = f"{fill} bar"
    return {**s, "ambient": AMBIENT, "exponent": n, **more}


def outputs(s, at, names):
    a = air(s)
    xs = [si(x) for x in at]
    confirm(a, xs)
    if a.opening() != 0:
        close(a.positive(mpf(0)), a.p0, mpf("1e-45"), "fill")
    all_outputs = {
        "force": lambda: to([a.force(x) for x in xs], "N"), "rate": lambda: to([a.rate(x) for x in xs], "N/m"),
        "energy": lambda: to([a.energy(x) for x in xs], "J"),
        "positive_pressure": lambda: to([a.positive(x) for x in xs], "Pa(a)"),
        "negative_pressure": lambda: to([a.negative(x) for x in xs], "Pa(a)"),
        "opening_travel": lambda: to(a.opening(), "mm"), "rest_travel": lambda: to(a.rest(), "mm"),
        "compression_ratio": lambda: num(a.vp / (a.vp - a.ap * a.travel))}
    return {n: all_outputs[n]() for n in names}


def law(s, at, names, second=BOTH, note="", tolerance=1e-12):
    g.add("airspring.law", {**s, "at": at}, outputs(s, at, names), tolerance, second, note)


def percent(travel, *shares):
    return [f"{mp.nstr(mpf(str(travel)) * share / 100, 15).removesuffix('.0')} mm" for share in shares]


SINGLE = ["force", "rate", "energy", "positive_pressure", "compression_ratio"]

# --------------------------------------------------------------- one chamber

g = file.group(mpmath_source(SCRIPT, "invented springs of one chamber"), "computed", 1)
for bore, travel, volume, fill, n in [
    (32, 120, 160, 5, 1.3), (35, 150, 210, 6, 1.2), (40, 200, 330, 3, 1), (30, 100, 95, 8, 1.4),
    (38, 57.5, 90, 15, 1.3), (45, 65, 150, 20, 1.25), (35, 40, 55, 22, 1.4), (50, 75, 220, 8, 1),
]:
    law(spec(bore, travel, volume, fill, n), percent(travel, 0, 25, 50, 100), SINGLE, SEPARATE)
law(spec(35, 150, 210, 6, 1.0000001), percent(150, 50, 100), SINGLE, note="an exponent next to 1: the work must go over to the logarithm smoothly", tolerance=1e-11)
law(spec(36, 160, 163.5, 5, 1.3), percent(160, 50, 100), SINGLE, note="a chamber that ends 0.4 % above the swept volume: 250 times the fill", tolerance=1e-11)
law(spec(36, 160, 230, 5, 1), percent(160, 30, 100), SINGLE, note="slow: isothermal")
law({"bore": "1.5 in", "travel": "2.5 in", "positive_volume": "7.5 in3", "fill": "210 psi", "ambient": "12.2 psia", "exponent": 1.3},
    ["0.75 in", "2.5 in"], SINGLE, note="customary units, at altitude")

# ------------------------------------------------------- two chambers and a port

g = file.group(mpmath_source(SCRIPT, "invented springs with a negative chamber"), "computed", 101)
DUAL = ["force", "rate", "energy", "positive_pressure", "negative_pressure"]
FORK34 = dict(bore=34, travel=160, volume=190, fill=5.5, shaft="10 mm", negative_volume="60 cm3", port_travel="8 mm")
TWO = [
    (34, 160, 190, 5.5, 1.3, "10 mm", "60 cm3", "8 mm"), (36, 170, 230, 5, 1.2, "10 mm", "85 cm3", "0 mm"),
    (32, 120, 140, 7, 1, "9 mm", "40 cm3", "5 mm"), (38, 180, 280, 4.5, 1.35, "12 mm", "110 cm3", "12 mm"),
    (40, 65, 105, 14, 1.3, "12.7 mm", "45 cm3", "3 mm"), (46, 57.5, 135, 18, 1.25, "14 mm", "70 cm3", "0 mm"),
    (36, 45, 62, 20, 1.4, "10 mm", "30 cm3", "4 mm"),
]
for bore, travel, volume, fill, n, shaft, negative, port in TWO:
    law(spec(bore, travel, volume, fill, n, shaft=shaft, negative_volume=negative, port_travel=port),
        percent(travel, 0, 10, 30, 60, 100), DUAL + ["rest_travel"], SEPARATE, "the rest of the unloaded spring, with this exponent, is a root, hence its tolerance",
        {"*": 1e-12, "rest_travel": 1e-10})
for bore, travel, volume, fill, n, shaft, negative, port in TWO:
    s = spec(bore, travel, volume, fill, 1, shaft=shaft, negative_volume=negative, port_travel=port)
    a = air(s)
    xt = si(port)
    close(a.force(xt), a.shaft * (a.positive(xt) - a.pa), mpf("1e-40"), "force at the port")
    close(a.positive(xt), a.negative(xt), mpf("1e-45"), "pressures at the port")
    law(s, [port], ["force", "positive_pressure", "negative_pressure", "rest_travel"],
        "at the port both pressures are equal and the force is that on the shaft alone, as must be",
        "slow, at the port; the rest of the unloaded spring is a root, hence its tolerance", {"*": 1e-12, "rest_travel": 1e-10})
law(spec(36, 160, 230, 5, 1.3, shaft="10 mm"), percent(160, 25, 100), SINGLE, note="a shaft with nothing but ambient air around it changes nothing")

# ------------------------------------------------------------- spacers and oil

g = file.group(mpmath_source(SCRIPT, "invented springs with oil and volume spacers"), "computed", 201)
for bore, travel, volume, oil, each, count, fill, n in [
    (35, 150, 240, 10, 7.5, 0, 5.5, 1.3), (35, 150, 240, 10, 7.5, 2, 5.5, 1.3), (35, 150, 240, 10, 7.5, 4, 5.5, 1.3),
    (40, 200, 400, 25, 10, 3, 4, 1.2), (42, 60, 125, 0, 8, 0, 14, 1.3), (42, 60, 125, 0, 8, 3, 14, 1.3),
]:
    s = spec(bore, travel, volume, fill, n, oil_volume=f"{oil} cm3", spacer_volume=f"{each} cm3", spacers=count)
    law(s, percent(travel, 0, 30, 100), SINGLE, SEPARATE)
for bore, travel, fill, n, force, volume in [
    (36, 160, 5, 1.3, "3500 N", "218.819627077714"), (44, 60, 16, 1.3, "12000 N", None)]:
    s = spec(bore, travel, 1, fill, n)
    area, pa = mp.pi * si(f"{bore} mm") ** 2 / 4, si(AMBIENT)
    r = ((si(force) / area + pa) / (si(f"{fill} bar") + pa)) ** (1 / mpf(str(n)))
    v0 = area * si(f"{travel} mm") * r / (r - 1)
    if volume:
        close(v0, mpf(volume) / 10**6, mpf("1e-14"), "volume")
    s["positive_volume"] = to(v0, "cm3", 17)
    close(air(s).force(si(s["travel"])), si(force), mpf("1e-14"), "end force")
    g.add("airspring.law", {**s, "at": [s["travel"]]}, {"force": [force]}, 1e-11,
          "the volume that the closed form A L r/(r − 1) gives for this end force, put back into the force",
          "r is the ratio of end to start volume ratio, ((F/A + p_a)/p₀)^(1/n)")

# ---------------------------------------------------------------- a second stage

g = file.group(mpmath_source(SCRIPT, "invented springs with a second chamber behind a free piston"), "computed", 301)
STAGED = ["force", "rate", "energy", "positive_pressure", "opening_travel"]
STAGES = [
    (34, 160, 185, 45, 4.5, 8, 1.3), (36, 170, 230, 60, 4, 9, 1.2), (32, 120, 130, 30, 5, 10, 1), (38, 180, 270, 80, 3.5, 6.5, 1.4),
    (40, 65, 105, 20, 12, 24, 1.3),
]


def staged(row):
    bore, travel, volume, second, fill, second_fill, n = row
    return spec(bore, travel, volume, fill, n, second_volume=f"{second} cm3", second_fill=f"{second_fill} bar")


for row in STAGES:
    law(staged(row), percent(row[1], 10, 30, 60, 100), STAGED, SEPARATE + " in force and rate")
for row in STAGES:
    s = staged(row)
    x = to(air(s).opening(), "mm")
    law(s, [x], ["force", "positive_pressure"], "agrees to 14 digits with a separate program (mpmath, 40 digits)", "where the piston begins to move, to 15 digits")
law(spec(34, 160, 185, 5, 1.3, second_volume="45 cm3", second_fill="5 bar"), percent(160, 30, 60, 100), STAGED[:-1],
    SEPARATE + " in force and rate", "both chambers at one pressure: the piston is free from the start")
law(spec(34, 160, 185, 4.5, 1.3, second_volume="45 cm3", second_fill="80 bar"), percent(160, 30, 100), STAGED[:-1],
    note="a second chamber so hard that its piston never moves: as with one chamber")
law(spec(36, 170, 230, 4.5, 1.3, shaft="10 mm", negative_volume="85 cm3", port_travel="6 mm", second_volume="50 cm3", second_fill="9 bar"),
    percent(170, 10, 30, 70, 100), DUAL + ["opening_travel"], note="a negative chamber and a second stage")

# ----------------------------------------------------------------------- fills

g = file.group(mpmath_source(SCRIPT, "the fill for a force, put back into the force"), "computed", 1)


def fill(s, at, force, note="", unit="bar", tolerance=1e-12):
    probe = lambda f: air({**s, "fill": to(f, "Pa(g)", 45)}).force(si(at)) - si(force)  # noqa: E731
    found = bisect(probe, mpf(1), mpf("1e7"))
    one, two = probe(mpf(10) ** 5), probe(mpf(2) * 10**5)
    if "second_volume" not in s:  # linear in the fill
        close(found, 10**5 - one * 10**5 / (two - one), mpf("1e-40"), "fill")
        second = "by bisection of the force, and by its being linear in the fill"
    else:
        second = "by bisection of the force"
    g.add("airspring.fill", {**s, "force": force, "at": at}, {"fill": to(found, unit)}, tolerance, second, note)


fill(spec(36, 160, 230, None, 1), "40 mm", "520 N", "a fork of one chamber, slow")
fill(spec(36, 160, 230, None, 1.3), "40 mm", "520 N", "the same with the exponent of a fast stroke")
fill(spec(34, 160, 190, None, 1, shaft="10 mm", negative_volume="60 cm3", port_travel="8 mm"), "32 mm", "380 N", "a fork with a negative chamber")
fill(spec(38, 180, 280, None, 1, shaft="12 mm", negative_volume="110 cm3", port_travel="12 mm"), "45 mm", "560 N", "a long fork, heavy rider")
fill(spec(40, 65, 105, None, 1, shaft="12.7 mm", negative_volume="45 cm3", port_travel="3 mm"), "19.5 mm", "1900 N", "a shock", "psi")
fill(spec(46, 57.5, 135, None, 1, shaft="14 mm", negative_volume="70 cm3", port_travel="0 mm"), "17 mm", "3100 N", "a shock, heavy rider")
fill(spec(32, 100, 130, None, 1, shaft="9 mm", negative_volume="40 cm3", port_travel="5 mm"), "20 mm", "190 N", "a child's fork: little pressure")
fill(spec(42, 60, 125, None, 1, oil_volume="3 cm3", spacer_volume="8 cm3", spacers=2), "18 mm", "2400 N", "two spacers and a little oil")
fill(spec(36, 160, 230, None, 1), "0 mm", "508.938009881546 N", "at full extension the force is area times fill: 5 bar, to 15 digits")
fill(spec(34, 160, 185, None, 1, second_volume="45 cm3", second_fill="8 bar"), "40 mm", "560 N", "two stages, the piston still shut", tolerance=1e-11)
fill(spec(34, 160, 185, None, 1, second_volume="45 cm3", second_fill="8 bar"), "120 mm", "1250 N", "two stages, the piston open", tolerance=1e-11)
fill({"bore": "1.42 in", "travel": "6.3 in", "positive_volume": "14 in3", "ambient": "14.7 psia", "exponent": 1}, "1.5 in", "120 lbf", "customary units", "psi")

# ------------------------------------------------ rates beside the opening travel

g = file.group(mpmath_source(SCRIPT, "a billionth of a millimetre before and behind where the free piston begins to move"), "computed", 401)
for row, below, above in zip(STAGES, [
    "7620.071289908485", "9633.807907121121", "10035.940072060941", "7211.160354057179", "80842.46724555043",
], [
    "5623.590837317368", "6579.100191197049", "7054.382767130938", "5055.4690455994005", "61483.06782289651",
]):
    s = staged(row)
    x = air(s).opening()
    at = [to(x - mpf("1e-12"), "mm"), to(x + mpf("1e-12"), "mm")]
    rates = [air(s).rate(si(a)) for a in at]
    close(rates[0], below, mpf("1e-9"), "rate before")
    close(rates[1], above, mpf("1e-9"), "rate behind")
    g.add("airspring.law", {**s, "at": at}, {"rate": to(rates, "N/m")}, 1e-11, "by numerical differentiation of the force"
          "; agrees to 9 digits with the one-sided limits of a separate program (mpmath, 40 digits)", "the rate drops by V₁/(V₁ + V₂)")

# ------------------------------------------------------- colder and higher, two chambers

g = file.group(mpmath_source(SCRIPT, "F₂ = (A_p p_p − A_n p_n) T₂/T₁ − A_s p₂, from 20 °C at sea level to 0 °C at 2000 m"), "computed", 411)
PLACE = spec(34, 160, 190, 5.5, 1.3, shaft="10 mm", negative_volume="60 cm3", port_travel="8 mm")
a, x, warmer, ambient = air(PLACE), si("40 mm"), si("0 °C") / si("20 °C"), mpf("79495.2155105391")
force = (a.ap * a.positive(x) - a.an * a.negative(x)) * warmer - a.shaft * ambient
close(a.force(x), "419.17821064098456", mpf("1e-15"), "force before")
close(force, "391.75157804322663", mpf("1e-14"), "force after")
there = {**PLACE, "fill": to((si("5.5 bar") + a.pa) * warmer - ambient, "Pa(g)", 17), "ambient": "79495.2155105391 Pa(a)"}
close(air(there).force(x), force, mpf("1e-14"), "force of the moved spring")
for s, f in (PLACE, a.force(x)), (there, force):
    g.add("airspring.law", {**s, "at": ["40 mm"]}, {"force": [to(f, "N")]}, 1e-12, "agrees to 15 digits with a separate program (mpmath, 40 digits)",
          "before" if s is PLACE else "after, its gauge reading at full extension to 17 digits; only the shaft feels the ambient")

# -------------------------------------------------------------- a force turned round

g = file.group(mpmath_source(SCRIPT, "x = V₀/A (1 − (p₀/(F/A + p_a))^(1/n)); below 0 the top-out stop carries the rest"), "computed", 401)
for bore, travel, volume, fill_, n, force, other in [
    (32, 120, 160, 5, 1.3, "400 N", "-0.6746900087322689"),
    (35, 150, 210, 6, 1.2, "400 N", "-63.11278323828185"),
    (40, 200, 330, 3, 1, "400 N", "11.458245805460873"),
    (30, 100, 95, 8, 1.4, "400 N", "-32.20853944982133"),
    (38, 57.5, 90, 15, 1.3, "2000 N", "8.774694932458635"),
    (45, 65, 150, 20, 1.25, "2000 N", "-39.35623971817047"),
    (35, 40, 55, 22, 1.4, "2000 N", "-2.2532183895028197"),
    (50, 75, 220, 8, 1, "2000 N", "21.86958968435872"),
]:
    s = spec(bore, travel, volume, fill_, n)
    a = air(s)
    x = a.vp / a.ap * (1 - (a.p0 / (si(force) / a.ap + a.pa)) ** (1 / mpf(str(n))))
    close(x * 1000, other, mpf("1e-14"), "travel")
    close(a.force(x), si(force), mpf("1e-40"), "force")
    given = {"law": {"air": s}, "load": [force]}
    if x > 0:
        g.add("spring.law", given, {"travel": [to(x, "mm")]}, 1e-11, "put back into the force; agrees to 14 digits with a separate program (mpmath, 40 digits)")
    else:
        g.refuse("spring.law", given, ["topped_out"], f"the force at full extension is more: it would be at {mp.nstr(x * 1000, 6)} mm")

g = file.group(mpmath_source(SCRIPT, "the gas shared at the port is that of the slow spring of the positive chambers alone"), "computed", 401)
FREE = {"shaft": "10 mm", "negative_volume": "85 cm3", "port_travel": "6 mm", "second_volume": "50 cm3"}
law(spec(36, 170, 230, 4.5, 1.3, **FREE, second_fill="3 bar"), percent(170, 0, 10, 70), DUAL, note="a negative chamber, and a second stage that is open at the port")
law(spec(36, 170, 230, 4.5, 1.3, **FREE, second_fill="4.6 bar"), percent(170, 0, 10, 70), DUAL, note="the same where the second stage opens short of the port")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
ONE = spec(36, 160, 230, 5, 1.3)
NEGATIVE = spec(34, 160, 190, 5.5, 1.3, shaft="10 mm", negative_volume="60 cm3", port_travel="8 mm")
SPACED = spec(35, 150, 240, 5.5, 1.3, oil_volume="10 cm3", spacer_volume="7.5 cm3", spacers=2)
STAGE = spec(34, 160, 185, 4.5, 1.3, second_volume="45 cm3", second_fill="8 bar")
AT = {"at": ["40 mm"]}
g.refuse_each("airspring.law", {**ONE, **AT}, [
    ({"bore": "0 mm"}, ["bore"], "zero"), ({"bore": "-36 mm"}, ["bore"], "negative"), ({"bore": None}, ["bore"], "missing"),
    ({"bore": "36"}, ["bore"], "missing unit"), ({"bore": "NaN mm"}, ["bore"], "not a number"),
    ({"travel": "0 mm"}, ["travel"], "zero"), ({"travel": "-160 mm"}, ["travel"], "negative"), ({"travel": "160 N"}, ["travel"], "the unit of another quantity"),
    ({"positive_volume": "0 cm3"}, ["positive_volume"], "zero"), ({"positive_volume": None}, ["positive_volume"], "missing"),
    ({"positive_volume": "150 cm3"}, ["positive_volume"], "less than the 163 cm³ that are swept"),
    ({"fill": "0 bar"}, ["fill"], "no more than ambient"), ({"fill": "-1 bar"}, ["fill"], "a vacuum"), ({"fill": None}, ["fill"], "missing"),
    ({"fill": "5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"fill": "5"}, ["fill"], "missing unit"),
    ({"ambient": None}, ["ambient"], "missing"), ({"ambient": "0 Pa(a)"}, ["ambient"], "a vacuum around the spring"),
    ({"ambient": "1 bar"}, ["ambient"], "an ambient pressure is absolute and says so"), ({"ambient": "-1 bar(a)"}, ["ambient"], "below vacuum"),
    ({"exponent": 0}, ["exponent"], "zero"), ({"exponent": -1.3}, ["exponent"], "negative"), ({"exponent": None}, ["exponent"], "missing"),
    ({"exponent": 0.5}, ["exponent"], "below 1: gas does not cool as it is compressed"),
    ({"exponent": "1.3"}, ["exponent"], "a number is wanted, not a text"),
    ({"at": ["40"]}, ["at"], "missing unit"), ({"pressure": "5 bar"}, ["pressure"], "no such field"),
    ({"bore": "0 mm", "travel": "-1 mm", "fill": "0 bar"}, ["bore", "travel", "fill"], "three bad fields, all named"),
])
g.refuse_each("airspring.law", {**NEGATIVE, **AT}, [
    ({"shaft": "34 mm"}, ["shaft"], "as thick as the bore"), ({"shaft": "40 mm"}, ["shaft"], "thicker than the bore"),
    ({"shaft": "-10 mm"}, ["shaft"], "negative"), ({"negative_volume": "-60 cm3"}, ["negative_volume"], "negative"),
    ({"port_travel": "-8 mm"}, ["port_travel"], "negative"), ({"port_travel": "170 mm"}, ["port_travel"], "beyond full travel"),
    ({"port_travel": "8 bar"}, ["port_travel"], "the unit of another quantity"),
    ({"shaft": None}, ["shaft"], "a negative chamber around a shaft that is missing"), ({"negative_volume": None}, ["negative_volume"], "a port that leads nowhere"),
])
g.refuse_each("airspring.law", {**SPACED, **AT}, [
    ({"spacers": 12}, ["spacers"], "twelve spacers leave less than is swept; none would fit it"),
    ({"spacers": -1}, ["spacers"], "negative"), ({"spacers": 1.5}, ["spacers"], "half a spacer"),
    ({"spacer_volume": None}, ["spacer_volume"], "missing, with spacers fitted"), ({"spacer_volume": "-7.5 cm3"}, ["spacer_volume"], "negative"), ({"oil_volume": "-10 cm3"}, ["oil_volume"], "negative"),
])
g.refuse_each("airspring.law", {**STAGE, **AT}, [
    ({"second_volume": None}, ["second_volume"], "missing, with a fill for it"), ({"second_fill": None}, ["second_fill"], "missing, with a chamber for it"),
    ({"second_volume": "-45 cm3"}, ["second_volume"], "negative"), ({"second_fill": "8 bar(a)"}, ["second_fill"], "a fill is read on a gauge"),
])
del ONE["fill"]
g.refuse_each("airspring.fill", {**ONE, "force": "520 N", "at": "40 mm"}, [
    ({"force": None}, ["force"], "missing"), ({"force": "-5 N"}, ["force"], "less than a fill of nothing gives"), ({"at": "170 mm"}, ["at"], "beyond full travel"), ({"at": "-1 mm"}, ["at"], "negative"),
    ({"force": "520"}, ["force"], "missing unit"), ({"force": "NaN N"}, ["force"], "not a number"),
    ({"bore": "0 mm"}, ["bore"], "zero"), ({"at": "40"}, ["at"], "missing unit"),
    ({"positive_volume": "100 cm3"}, ["positive_volume"], "less than is swept"), ({"exponent": 0}, ["exponent"], "zero"),
])

file.write()
