"""Writes data/cases/air-change.json: a sealed air spring at another temperature and under
another ambient.

Each chamber keeps its amount of gas, pV/T, at full extension; the spring that these
amounts make at the new temperature is compressed anew. The forces are confirmed by
those before the change, whose absolute pressures grow by T₂/T₁. See casefile.py for how
to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, si, to
from laws import air

file = File("air springs in other weather")
SCRIPT = "air_change.py"


def change(spec, before, after, ambient, at, note):
    t1, t2, pa = si(before), si(after), si(ambient)
    old, new = air(spec), air(spec)
    amounts = [old.p0 * old.vp / t1, old.pn0 * old.vn / t1 if old.vn is not None else None, old.p2 * old.v2 / t1 if old.v2 is not None else None]
    new.pa, new.p0 = pa, amounts[0] * t2 / old.vp
    if old.vn is not None:
        new.pn0 = amounts[1] * t2 / old.vn
    if old.v2 is not None:
        new.p2 = amounts[2] * t2 / old.v2
    xs = [si(x) for x in at]
    for x in xs:
        pushed = (old.force(x) + old.shaft * old.pa) * t2 / t1 - old.shaft * pa
        close(new.force(x) + 1, pushed + 1, mpf("1e-40"), "force")
        close(new.rate(x), mp.diff(new.force, x, h=mpf("1e-20")), mpf("1e-15"), "rate")
    first = [new.vp * (new.p0 / new.positive(x)) ** (1 / new.n) for x in xs]
    expect = {"fill": to(new.p0 - pa, "bar"), "force": to([new.force(x) for x in xs], "N"), "rate": to([new.rate(x) for x in xs], "N/mm"), "positive_volume": to([new.vp - new.ap * x for x in xs], "cm3")}
    if old.v2 is not None:
        second = [new.v2 if x < new.opening() else new.v2 * (new.p2 / new.positive(x)) ** (1 / new.n) for x in xs]
        for x, a, b in zip(xs, first, second):
            close(a + b, new.vp + new.v2 - new.ap * x, mpf("1e-40"), "volumes")
        expect["second_volume"] = to(second, "cm3")
    g.add("airspring.change", {**spec, "from": before, "to": after, "to_ambient": ambient, "at": at}, expect, 1e-11, "the forces before the change with absolute pressures in proportion to the temperature", note)


def chamber(bore, travel, volume, fill, n, **more):
    return {"bore": f"{bore} mm", "travel": f"{travel} mm", "positive_volume": f"{volume} cm3", "fill": f"{fill} bar", "ambient": "101325 Pa(a)", "exponent": n, **more}


g = file.group(mpmath_source(SCRIPT, "invented springs"), "computed", 1)
FORK = chamber(34, 160, 190, 5, 1)
SHOCK = chamber(46, 60, 150, 12, 1.3)
TWO = chamber(36, 170, 250, 5, 1, shaft="10 mm", negative_volume="60 cm3", port_travel="5 mm")
STAGED = chamber(36, 160, 200, 4.5, 1.2, second_volume="70 cm3", second_fill="9 bar")
change(FORK, "293.15 K", "263.15 K", "101325 Pa(a)", ["10 mm", "60 mm", "120 mm"], "pumped up indoors, ridden in the cold")
change(FORK, "20 °C", "20 °C", "79.5 kPa(a)", ["10 mm", "60 mm", "120 mm"], "at altitude, at the same temperature")
change(SHOCK, "20 °C", "80 °C", "101325 Pa(a)", ["5 mm", "30 mm", "50 mm"], "hot on a long descent, fast")
change(SHOCK, "68 °F", "104 °F", "14 psia", ["0.2 in", "1 in", "2 in"], "in pounds and inches")
change(TWO, "15 °C", "35 °C", "90 kPa(a)", ["3 mm", "50 mm", "140 mm"], "a negative chamber, whose pull grows too")
change({**TWO, "exponent": 1.3}, "290 K", "270 K", "101325 Pa(a)", ["3 mm", "50 mm", "140 mm"], "the same in a fast stroke, colder")
change(STAGED, "20 °C", "50 °C", "101325 Pa(a)", ["20 mm", "90 mm", "140 mm"], "a second chamber, before and past its opening")
change(STAGED, "20 °C", "0 °C", "85 kPa(a)", ["20 mm", "90 mm", "140 mm"], "the same in the cold of a mountain")
g = file.group(RULES, "definition", 1)
g.refuse_each("airspring.change", {**FORK, "from": "293.15 K", "to": "263.15 K", "to_ambient": "101325 Pa(a)", "at": ["10 mm"]}, [
    ({"from": None}, ["from"], "missing"), ({"to": "500 K"}, ["to"], "hotter than is ridden"), ({"to_ambient": "10 Pa(a)"}, ["to_ambient"], "next to vacuum"),
    ({"to_ambient": "9 bar(a)"}, ["to_ambient"], "more around than inside"), ({"fill": "-1 bar", "from": "20"}, ["fill", "from"], "below 0, and a missing unit"), ({"altitude": "1000 m"}, ["altitude"], "no such field"),
])
file.write()
