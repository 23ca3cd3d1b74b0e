"""Writes data/cases/air-step.json: what readings of gauge and ring say before and
beside a calibration: the next fill and its bounds, the law of the spring they give,
and a fill held to the marking on the part.

The readings come from chambers that the case does not tell, as in air_calibrate.py.
Bounds hold the fill that those chambers need. Energies are quadratures of the balance
of forces, and rates its numerical derivatives. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, si, to
from chambers import area, double, single
from laws import air

file = File("air springs stepwise")
SCRIPT = "air_step.py"
AMBIENT = "101325 Pa(a)"


def readings(chambers, pairs):
    return [{"fill": f, "stroke": to(chambers.stroke(si(f), si(load), si(AMBIENT), mpf("0.03")), "mm"), "force": load} for f, load in pairs]


def asked(chambers, outside, pairs, **more):
    return {"ambient": AMBIENT, "negative_chamber": chambers.n is not None, "outside_diameter": outside, "readings": readings(chambers, pairs), **more}


# ------------------------------------------------------------------- next fill

def step(chambers, outside, pairs, force, at, reason, y, note, most="12 bar", ring=None, gauge=None, marked=False):
    """y makes 1/Φ at the stroke of the points that are read, pairs of stroke and 1/Φ."""
    more = {k: v for k, v in [("ring_error", ring), ("gauge_error", gauge)] if v}
    given = asked(chambers, outside, pairs, force=force, at=at, max_fill=most, **more)
    pa, s = si(AMBIENT), si(at)
    pull = area(outside) * pa
    points, high, low = [], [], []
    for r in given["readings"]:
        p = (si(r["stroke"]), (si(r["fill"]) + pa) / (si(r["force"]) + pull))
        off = 2 * si(gauge or "0 bar") / (si(r["fill"]) + pa)
        points.append(p)
        high.append((p[0] + 2 * si(ring or "1 mm"), p[1] * (1 + off)))
        low.append((p[0] - 2 * si(ring or "1 mm"), p[1] * (1 - off)))
    most_y, least_y = [y for x, y in high if x <= s], [y for x, y in low if x >= s]

    def chords(ends, others, between, beyond):
        for i, (x0, y0) in enumerate(ends):
            for j, (x1, y1) in enumerate(ends):
                if i != j and x0 <= s <= x1 and x0 < x1:
                    between.append((y0 * (x1 - s) + y1 * (s - x0)) / (x1 - x0))
                elif i != j:
                    x1, y1 = others[j]
                    if x0 < x1 <= s or s <= x1 < x0:
                        beyond.append((y0 * (x1 - s) + y1 * (s - x0)) / (x1 - x0))

    chords(high, low, most_y, least_y)
    if chambers.n is None:
        chords(low, high, least_y, most_y)

    def fill(y):
        return (si(force) + pull) * y - pa

    need = chambers.fill(si(force), s, pa)
    wanted = fill(y(sorted(points), s, need))
    assert marked == (wanted > si(most)), note
    expect = {"fill": to(min(wanted, si(most)), "bar"), "reason": reason}
    if least_y and fill(max(least_y)) > 0:
        expect["low"] = to(fill(max(least_y)), "bar")
        assert fill(max(least_y)) <= need, note
    if most_y:
        expect["high"] = to(max(fill(min(most_y)), 0), "bar")
        assert fill(min(most_y)) >= need, note
    g.add("airspring.step", given, expect, 1e-9, "the bounds hold the fill of the chambers that the readings come from, by the balance of forces", note)


def line(i, j):
    return lambda p, s, need: (p[i][1] * (p[j][0] - s) + p[j][1] * (s - p[i][0])) / (p[j][0] - p[i][0])


g = file.group(mpmath_source(SCRIPT, "invented springs"), "computed", 1)
ONE, TWO = single(34, 290), double(34, 10, 250, 70, 6)
step(TWO, "10 mm", [("6 bar", "500 N")], "500 N", "75 mm", "one", lambda p, s, need: p[0][1] * p[0][0] / s, "one reading, and a deeper stroke wanted")
step(TWO, "10 mm", [("6 bar", "500 N")], "560 N", "52 mm", "one", lambda p, s, need: p[0][1] * p[0][0] / s, "one reading, a shallower stroke, another force")
step(ONE, "34 mm", [("5 bar", "550 N")], "550 N", "45 mm", "one", lambda p, s, need: 1 / area("34 mm") + (p[0][1] - 1 / area("34 mm")) * s / p[0][0], "one reading without a negative chamber: the line from full extension")
step(TWO, "10 mm", [("6 bar", "500 N")], "500 N", "120 mm", "one", lambda p, s, need: p[0][1] / mpf("1.5"), "a step is kept to 2/3 of the absolute fill")
step(TWO, "10 mm", [("6 bar", "500 N")], "500 N", "15 mm", "one", lambda p, s, need: p[0][1] * mpf("1.5"), "a step is kept to 3/2 of the absolute fill")
step(TWO, "10 mm", [("6 bar", "500 N")], "500 N", "20 mm", "one", lambda p, s, need: p[0][1] * mpf("1.5"), "no more than the marking", most="8 bar", marked=True)
step(TWO, "10 mm", [("5 bar", "500 N"), ("7 bar", "500 N")], "500 N", "70 mm", "between", line(0, 1), "between two readings: on their chord")
step(TWO, "10 mm", [("5 bar", "500 N"), ("7 bar", "500 N")], "600 N", "70 mm", "between", line(0, 1), "with errors of ring and gauge, under another force", ring="0.5 mm", gauge="0.1 bar")
step(TWO, "10 mm", [("5 bar", "500 N"), ("7 bar", "500 N")], "500 N", "95 mm", "beyond", line(0, 1), "deeper than two readings: on their chord", ring="0.5 mm", gauge="0.02 bar")
step(TWO, "10 mm", [("5 bar", "500 N"), ("7 bar", "500 N")], "500 N", "50 mm", "beyond", line(0, 1), "shallower than two readings", ring="0.5 mm")
step(TWO, "10 mm", [("6 bar", "500 N"), ("8 bar", "500 N")], "620 N", to(TWO.stroke(si("6 bar"), si("500 N"), si(AMBIENT), mpf("0.03")), "mm", 4), "same_stroke",
     lambda p, s, need: p[1][1], "a stroke that was read, under another force")
step(ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "550 N", "80 mm", "calibrated", lambda p, s, need: (need + si(AMBIENT)) / (550 + area("34 mm") * si(AMBIENT)),
     "two readings without a negative chamber, a gauge with an error", gauge="0.1 bar")
step(ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "550 N", "44 mm", "calibrated", lambda p, s, need: (need + si(AMBIENT)) / (550 + area("34 mm") * si(AMBIENT)),
     "the same between the readings")

# --------------------------------------------------------------- law of readings

def known(chambers, outside, pairs, fill, at, note):
    pa, p = si(AMBIENT), si(fill)
    given = asked(chambers, outside, pairs, fill=fill, at=at)
    force = lambda s: chambers.force(p, s, pa)
    xs = [si(x) for x in at]
    assert max(xs) <= max(si(r["stroke"]) for r in given["readings"]), note
    g.add("airspring.known", given, {"force": to([force(s) for s in xs], "N"), "rate": to([mp.diff(force, s, h=mpf("1e-20")) for s in xs], "N/mm"),
                                     "energy": to([mp.quad(force, [0, s]) for s in xs], "J"), "length": to(chambers.v / chambers.a, "mm")},
          1e-8, "force by the balance of forces, rate by numerical differentiation, energy by quadrature", note)


FOUR = [("4 bar", "500 N"), ("5 bar", "500 N"), ("6 bar", "500 N"), ("8 bar", "500 N")]
known(ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], "4.5 bar", ["1 mm", "20 mm", "45 mm", "55 mm"], "two readings without a negative chamber")
known(single(46, 190), "46 mm", [("11 bar", "2400 N"), ("9 bar", "2300 N"), ("7 bar", "2300 N")], "160 psi", ["5 mm", "0.8 in"], "a shock of a wide bore")
known(TWO, "10 mm", FOUR, "5.5 bar", ["5 mm", "30 mm", "60 mm", "75 mm"], "four readings with a negative chamber")
known(double(46, 12, 150, 60, 3), "12 mm", [("9 bar", "1500 N"), ("11 bar", "1500 N"), ("13 bar", "1400 N"), ("16 bar", "1400 N")], "12 bar", ["4 mm", "12 mm", "20 mm"], "a shock with a negative chamber")
known(ONE, "34 mm", [("70 psi", "120 lbf"), ("60 psi", "130 lbf")], "62 psi", ["0 in", "1 in", "1.8 in"], "in pounds and inches, from full extension")
known(double(30, 11, 130, 25, 5), "11 mm", FOUR, "6 bar", ["10 mm", "40 mm"], "small chambers")
known(double(40, 12, 330, 150, 0), "12 mm", FOUR, "5 bar", ["15 mm", "35 mm"], "a port at full extension")
known(TWO, "10 mm", [("5 bar", "0 N"), ("5 bar", "300 N"), ("5 bar", "500 N"), ("5 bar", "900 N")], "5 bar", ["50 mm", "100 mm"], "one fill under four forces")

# ------------------------------------------------------------------- to a marking

def marked(spec, force, at, most, outcome, note):
    """A fill for a force, no more than the marking, and the spring with it."""
    at_fill = lambda p, n: air({**spec, "fill": to(p, "Pa(g)", 40), "exponent": n})
    low, high = mpf(1), mpf("1e8")
    f = lambda p: at_fill(p, 1).force(si(at)) - si(force)
    expect = {"outcome": outcome}
    if outcome in ("met", "at_marking"):
        a, b = f(mpf(100000)), f(mpf(200000))
        need = 100000 - a * 100000 / (b - a)  # the force is linear in the fill
        close(at_fill(need, 1).force(si(at)), si(force), mpf("1e-30"), note)
        assert (need > si(most)) == (outcome == "at_marking"), note
        fill = min(need, si(most))
        expect["fill_wanted"] = to(need, "bar")
    else:
        fill = {"none": mpf(1000), "beyond": si(most)}[outcome]
        assert (f(low) > 0) if outcome == "none" else f(high) < 0, note
    slow, quick = at_fill(fill, 1), at_fill(fill, spec["exponent"])
    expect |= {"fill": to(fill, "bar"), "slow_full_force": to(slow.force(slow.travel), "N"), "fast_full_force": to(quick.force(quick.travel), "N")}
    given = {**spec, "force": force, "at": at, "max_fill": most}
    g.add("airspring.marked", given, expect, 1e-9, "the fill put back into the balance of forces, at 50 digits", note)


FORK = {"bore": "34 mm", "travel": "160 mm", "positive_volume": "230 cm3", "ambient": AMBIENT, "exponent": 1.3}
PAIR = {**FORK, "shaft": "10 mm", "negative_volume": "60 cm3", "port_travel": "5 mm"}
marked(FORK, "550 N", "35 mm", "10 bar", "met", "one chamber, and a marking that does not bind")
marked({**FORK, "spacers": 2, "spacer_volume": "8 cm3"}, "550 N", "35 mm", "4 bar", "at_marking", "two spacers: more would be needed than the marking permits")
marked(PAIR, "550 N", "35 mm", "12 bar", "met", "a negative chamber")
marked(PAIR, "550 N", "35 mm", "80 psi", "at_marking", "a negative chamber, and a marking in psi")
marked(FORK, "2 N", "120 mm", "8 bar", "none", "the ambient alone carries more: hardly any fill")
marked(FORK, "300 kN", "10 mm", "8 bar", "beyond", "more than any fill carries: that of the marking")
marked({**FORK, "oil_volume": "15 cm3"}, "120 lbf", "1.2 in", "70 psi", "at_marking", "with oil, in pounds and inches")
marked({**PAIR, "exponent": 1}, "500 N", "30 mm", "12 bar", "met", "n = 1: a fast stroke is a slow one")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition", 1)
S = asked(ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], force="550 N", at="45 mm", max_fill="10 bar")
g.refuse_each("airspring.step", S, [
    ({"readings": []}, ["readings"], "no reading"),
    ({"at": "0 mm"}, ["at"], "full extension, where a stop carries a part"),
    ({"max_fill": None}, ["max_fill"], "no marking"),
    ({"max_fill": "0 bar", "force": "-1 N", "ambient": None}, ["max_fill", "force", "ambient"], "several faults"),
    ({"force": "10 N"}, ["force"], "carried without any fill"),
])
K = asked(ONE, "34 mm", [("5 bar", "550 N"), ("4.2 bar", "550 N")], fill="4.5 bar", at=["20 mm"])
g.refuse_each("airspring.known", K, [
    ({"readings": K["readings"][:1]}, ["readings"], "one reading"),
    ({"fill": "0 bar"}, ["fill"], "no fill"),
    ({"fill": "1001 bar"}, ["fill"], "more than 1000 bar"),
    ({"at": ["20"]}, ["at"], "missing unit"),
    ({"fill": None, "outside_diameter": "-3 mm"}, ["fill", "outside_diameter"], "two faults"),
])
M = {**FORK, "force": "550 N", "at": "35 mm", "max_fill": "10 bar"}
g.refuse_each("airspring.marked", M, [
    ({"fill": "3 bar"}, ["fill"], "it is what is sought"),
    ({"at": "161 mm"}, ["at"], "beyond the travel"),
    ({"max_fill": "0 bar"}, ["max_fill"], "no marking"),
    ({"bore": None, "max_fill": None}, ["bore", "max_fill"], "two are missing"),
    ({"spacers": 40, "spacer_volume": "8 cm3"}, ["spacers"], "no chamber is left"),
    ({**PAIR, "at": "0.1 mm", "port_travel": "20 mm"}, ["at"], "so near to full extension that more fill pulls in harder"),
])
file.write()
