"""Writes data/cases/linkage-wheels.json: springs behind linkages given by their
pivots, seen at the wheel.

The linkage is that of mechanisms.py; the stroke at a travel is found by root
finding. Rates and energies at the wheel are checked against numerical
differentiation and quadrature of the wheel force. See casefile.py for how to
run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, si, to
from curves import AtWheel
from laws import law
from mechanisms import Mechanism, gauss, mechanism, named

file = File("springs behind linkages")
SCRIPT = "linkage_wheels.py"
NODES = gauss(8)


def mm(*xs):
    return [f"{x} mm" for x in xs]


def linear(rate, travel, preload=None):
    return {"linear": {"rate": rate, "travel": travel, **({"preload": preload} if preload else {})}}


class Linkage:
    """A mechanism as a curve."""

    def __init__(self, given):
        self.m = Mechanism(given)
        self.stroke, self.kinks = self.m.stroke, []
        self.travel = self.m.travel_at(self.stroke)
        self.travel_at, self.ratio, self.slope = self.m.travel_at, self.m.ratio, self.m.slope

    def stroke_at(self, w):
        if w <= 0 or w >= self.travel:
            return mpf(0) if w <= 0 else self.stroke
        s, low, high = self.stroke * w / self.travel, mpf(0), self.stroke
        while True:  # Newton's method, kept inside the bracket
            rest = self.travel_at(s) - w
            low, high = (s, high) if rest < 0 else (low, s)
            step = rest / self.ratio(s)
            s = s - step if low <= s - step <= high else (low + high) / 2
            if abs(step) < mpf("1e-26"):
                return s  # the error is the square of this


def wheel(given, law_spec, at, note):
    l = AtWheel(Linkage(given), law(law_spec))
    xs = [si(x) for x in at]
    assert all(x <= l.travel for x in xs), note
    for x in xs:
        if mpf("1e-6") < x < l.travel - mpf("1e-6") and all(abs(x - k) > mpf("1e-6") for k in l.kinks):
            close(mp.diff(l.force, x, h=mpf("1e-15")), l.rate(x), mpf("1e-14"), "rate")
    if not l.kinks:
        sixth = xs[-1] / 6
        quad = sum(w * l.force(sixth * (2 * i + 1 + t)) for i in range(3) for t, w in NODES) * sixth
        close(quad, l.energy(xs[-1]), mpf("1e-9"), "energy")
    g.add("linkage.wheel", {"curve": {"mechanism": given}, "law": law_spec, "at": at},
          {"force": to([l.force(x) for x in xs], "N"), "rate": to([l.rate(x) for x in xs], "N/mm"), "energy": to([l.energy(x) for x in xs], "J")},
          {"force": FORCE, "rate": RATE, "energy": FORCE}, "rate by numerical differentiation" + ("" if l.kinks else ", energy by quadrature") + " of the wheel force", note)


# A curve may be compiled from the mechanism, to 1e-7 in the lever ratio and
# 1e-5 of its slope: so the accuracy that the library states, not what a solver has.
FORCE, RATE = 1e-7, 1e-6
SHOCK = {"air": {"bore": "40 mm", "shaft": "12.7 mm", "travel": "62.5 mm", "positive_volume": "105 cm3", "negative_volume": "45 cm3",
                 "port_travel": "3 mm", "fill": "14 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}
SHORT = {"air": {"bore": "38 mm", "travel": "40 mm", "positive_volume": "70 cm3", "fill": "11 bar", "ambient": "101325 Pa(a)", "exponent": 1}}

g = file.group(mpmath_source(SCRIPT, "invented bikes; F = F_s/LR, k = k_s/LR² − F_s LR′/LR³, E = E_s"), "computed", 101)
wheel(named("a1"), linear("80 N/mm", "57.5 mm", "2 mm"), mm(0, 20, 40, 80, 134), "single pivot, coil")
wheel(named("b1"), linear("450 lbf/in", "57.5 mm"), mm(10, 43, 100, 143), "single pivot with a rocker, coil")
wheel(named("c1"), SHOCK, mm(7, 47, 101, 154), "four-bar, air")
wheel(named("c1"), linear("90 N/mm", "62.5 mm", "1 mm"), mm(0, 46.4, 100, 154.6), "four-bar, coil")
wheel(named("c3"), SHORT, mm(0, 30, 60, 106), "regressive four-bar, air: the ratio rises, which takes from the wheel rate")
wheel(named("d2"), linear("100 N/mm", "52.5 mm"), mm(5, 37, 90, 123), "two short links, coil")
wheel(named("e2"), {"groups": [{"rate": "150 N/mm", "gap": "20 mm"}, {"rate": "130 N/mm", "gap": "50 mm"}]}, mm(20, 60, 110, 140), "floating shock, progressive coil")
wheel(named("f2"), linear("85 N/mm", "50 mm"), mm(20, 80, 120), "six-bar, and a spring shorter than the stroke, which ends the wheel's travel")
TRIANGLE = mechanism("P 0 0, A -400 0, S1 0 150, S2 200 0", "frame: P S2; swingarm: P A S1", 50)
wheel(TRIANGLE, linear("75 N/mm", "50 mm"), mm(0, "32.666666666666667", 64, 94, 150), "by hand: dw/ds = (250 mm − s)/75 mm, so F = 5625 N · s/(250 mm − s): 1406.25 N at 50 mm of stroke")

g = file.group(RULES, "definition", 101)
GOOD = {"curve": {"mechanism": named("c1")}, "law": linear("80 N/mm", "62.5 mm"), "at": mm(10)}


def curved(**change):
    return {"curve": {"mechanism": {**named("c1"), **change}}}


g.refuse_each("linkage.wheel", GOOD, [
    (curved(axle="M"), ["axle"], "on the frame"), (curved(stroke="0 mm"), ["stroke"], "zero"), (curved(stroke="98 mm"), ["locks"], "two links in line at 97.7 mm"),
    (curved(shock=["S1", "R"]), ["shock"], "both ends on the rocker"),
    ({"curve": {"mechanism": named("c1"), "constant": 2.6, "travel": "150 mm"}}, ["curve"], "two curves in one"),
    ({**curved(axle="AX"), "law": linear("0 N/mm", "62.5 mm")}, ["axle", "rate"], "bad in the curve and in the law, both named"),
])

file.write()
