"""Writes data/cases/air-pump.json: topping up past a port, and the pump's hose.

Pumping and cycling (slow, ideal gas): before each cycle the positive chamber is
set to the fill at full extension; at the port both chambers have the pressure
(p₁ V_p + p_n V_n)/(V_p + V_n at the port); back at full extension the positive
chamber reads less, the negative one keeps the rest. Before, the negative
chamber holds what the port gave it at the old fill; an old fill of 0 stands for
a spring just assembled, with ambient air in it.

Letting air out, the spring stands where the forces on its piston balance, or at
full extension, and no more is let out before a cycle than brings it to the stroke
pull_in, by default three quarters of the way from where it stands at the last fill
to the port. The gauge is then read where it stands. See casefile.py for how to run
it.
"""
from mpmath import mp, mpf, findroot, sqrt

from casefile import File, RULES, close, mpmath_source, num, si, to

file = File("filling an air spring")
SCRIPT = "air_pump.py"
AMBIENT = "101325 Pa(a)"


def topup(given):
    """Cycles until the reading is within the limit, the reading before each
    top-up and the negative pressure after each cycle."""
    ap = mp.pi * si(given["bore"]) ** 2 / 4
    an = ap - mp.pi * si(given["shaft"]) ** 2 / 4
    vp, vn, x = si(given["positive_volume"]), si(given["negative_volume"]), si(given["port_travel"])
    vpt, vnt = vp - ap * x, vn + an * x
    pa = si(given["ambient"])
    p1, within = si(given["fill"]) + pa, si(given["within"])
    old = si(given["old_fill"])
    pn = (old + pa) * vp / vpt * vnt / vn if old > 0 else pa
    first, beta, limit = pn, vnt / (vpt + vnt), p1 * vp * vnt / (vn * vpt)
    readings, negatives = [], []
    while True:
        at_port = (p1 * vp + pn * vn) / (vpt + vnt)
        reading = at_port * vpt / vp
        pn = at_port * vnt / vn
        readings.append(reading - pa)
        negatives.append(pn)
        # the same in closed form
        k = len(readings)
        close(pn, limit + (first - limit) * beta**k, mpf("1e-40"), "negative pressure")
        if abs(p1 - reading) <= within:
            break
    c = vpt * vn / ((vpt + vnt) * vp) * (limit - first)
    if abs(c) > within:
        close(len(readings), mp.ceil(1 + mp.log(within / abs(c)) / mp.log(beta)), 0, "cycles")
    return readings, negatives


def case(given, second, note="", unit="bar"):
    readings, negatives = topup(given)
    g.add("airspring.topup", given, {"cycles": len(readings), "reading": to(readings, unit), "negative_pressure": to(negatives, "Pa(a)")},
          {"*": 1e-12, "cycles": 0}, second, note)




def letting(given):
    """The plan of letting air out: the stroke, the readings and negative
    pressures after each cycle, and after each step the gauge and the travel
    where the spring stands. Amounts of gas are products of pressure and volume."""
    ap, shaft = mp.pi * si(given["bore"]) ** 2 / 4, mp.pi * si(given["shaft"]) ** 2 / 4
    an = ap - shaft
    vp, vn, port = si(given["positive_volume"]), si(given["negative_volume"]), si(given["port_travel"])
    pa, fill, within = si(given["ambient"]), si(given["fill"]), si(given["within"])
    vpt, vnt = vp - ap * port, vn + an * port

    def stand(p, n):
        """Where amounts p and n hold the piston, and the gauge there."""
        if ap * p / vp - an * n / vn >= shaft * pa:
            return mpf(0), p / vp - pa
        # (ap p)(vn + an x) - (an n)(vp - ap x) = shaft pa (vp - ap x)(vn + an x), in powers of x
        a2, a1 = shaft * pa * ap * an, ap * an * (p + n) - shaft * pa * (vp * an - ap * vn)
        a0 = ap * p * vn - an * n * vp - shaft * pa * vp * vn
        x = (-a1 + sqrt(a1**2 - 4 * a2 * a0)) / (2 * a2)
        balance = lambda x: ap * p / (vp - ap * x) - an * n / (vn + an * x) - shaft * pa
        close(x, findroot(balance, (mpf(0), port), solver="anderson", tol=mpf("1e-80")), mpf("1e-30"), "where the spring stands")
        return x, p / (vp - ap * x) - pa

    def cycled(g):
        at_port = (g + pa) * vp / vpt
        return at_port * vpt, at_port * vnt

    rest, _ = stand(*cycled(fill))
    pull = si(given["pull_in"]) if "pull_in" in given else rest + mpf(3) / 4 * (port - rest)
    p, n = cycled(si(given["old_fill"]))
    readings, negatives, gauges, travels = [], [], [], []
    while not readings or readings[-1] - fill > within:
        least = (vp - ap * pull) / ap * (an * n / (vn + an * pull) + shaft * pa)
        p = max(least, (fill + pa) * vp)
        at_port = (p + n) / (vpt + vnt)
        for amounts in [(p, n), (at_port * vpt, at_port * vnt)]:
            x, gauge = (pull, p / (vp - ap * pull) - pa) if amounts == (least, n) else stand(*amounts)
            assert x <= pull
            gauges.append(gauge)
            travels.append(x)
        p, n = at_port * vpt, at_port * vnt
        readings.append(p / vp - pa)
        negatives.append(n / vn)
    return pull, readings, negatives, gauges, travels


def lowered(given, note, unit="psi"):
    pull, readings, negatives, gauges, travels = letting(given)
    g.add("airspring.topup", given, {
        "cycles": len(readings), "reading": to(readings, unit), "negative_pressure": to(negatives, "Pa(a)"),
        "pull_in": to(pull, "mm"), "gauge": to(gauges, unit), "stands": to(travels, "mm")},
        {"*": 1e-11, "cycles": 0}, "where it stands, by the quadratic equation and by a root finder", note)


CLOSED = "step by step, and by the closed form of the recursion"
SEPARATE = CLOSED + "; the first four cycles agree to 14 digits with a separate program (mpmath, 40 digits)"

g = file.group(mpmath_source(SCRIPT, "invented springs"), "computed", 1)


def spring(bore, shaft, positive, negative, port, old, new, within):
    return {"bore": f"{bore} mm", "shaft": f"{shaft} mm", "positive_volume": f"{positive} cm3", "negative_volume": f"{negative} cm3",
            "port_travel": f"{port} mm", "old_fill": old, "fill": new, "ambient": AMBIENT, "within": within}


case(spring(34, 10, 190, 60, 8, "5.5 bar", "6.5 bar", "0.01 bar"), SEPARATE, "raised")
lowered(spring(34, 10, 190, 60, 8, "5.5 bar", "4.5 bar", "0.01 bar"), "lowered in steps that pull the spring in short of its port", "bar")
case(spring(46, 14, 135, 70, 2, "15 bar", "18 bar", "0.05 bar"), SEPARATE, "a shock")
case(spring(36, 10, 230, 85, 5, "3 bar", "5 bar", "0.01 bar"), CLOSED)
case(spring(40, 12.7, 105, 45, 3, "200 psi", "215 psi", "1 psi"), CLOSED, "a shock in psi", "psi")
case(spring(38, 12, 280, 110, 12, "55 psi", "78 psi", "0.5 psi"), CLOSED, "a long fork", "psi")
case(spring(32, 9, 140, 40, 5, "7 bar", "7 bar", "0.01 bar"), CLOSED, "nothing changed: one cycle tells")
case(spring(36, 10, 62, 30, 0, "12 bar", "20 bar", "0.001 bar"), CLOSED, "a port at full extension, and a fine limit")
case(spring(36, 10, 62, 120, 4, "12 bar", "20 bar", "0.1 bar"), CLOSED, "a negative chamber larger than the positive one takes many cycles")
case(spring(34, 10, 190, 60, 8, "0.2 bar", "5.5 bar", "0.01 bar"), CLOSED, "from nearly nothing")
case(spring(34, 10, 190, 60, 8, "0 bar", "5.5 bar", "0.01 bar"), SEPARATE, "just assembled: ambient air in both chambers at full extension")
case(spring(36, 10, 230, 85, 5, "0 bar", "5 bar", "0.01 bar"), SEPARATE, "a fork just assembled")
case(spring(40, 12.7, 105, 45, 3, "0 bar", "14 bar", "0.05 bar"), SEPARATE, "a shock just assembled")
lowered(spring(34, 10, 220, 50, 8, "120 psi", "40 psi", "0.5 psi"), "let down to a third: set at once, it would be pulled in by 10 cm")
lowered({**spring(34, 10, 220, 50, 8, "120 psi", "40 psi", "0.5 psi"), "pull_in": "7.5 mm"}, "the same with a longer stroke takes fewer rounds")
lowered(spring(36, 10, 220, 50, 8, "74 psi", "72 psi", "0.55 psi"), "a couple of psi less: one round")
lowered({**spring(46, 14, 135, 70, 2, "18 bar", "9 bar", "0.05 bar"), "pull_in": "1.5 mm"}, "a shock", "bar")
lowered(spring(36, 10, 62, 30, 0, "8 bar", "7 bar", "0.01 bar"), "a port at full extension: not pulled in at all", "bar")
lowered(spring(35, 10, 210, 40, 2, "80 psi", "5 psi", "0.5 psi"), "a port so near that the spring is not pulled in after a cycle")

g = file.group({"title": "a fact of the trade"}, "common practice", 101)
given = spring(36, 10, 220, 50, 8, "64.5 psi", "72 psi", "2 psi")
readings, _ = topup(given)
assert len(readings) == 1 and abs(readings[0] - si("70.5 psi")) <= si("0.5 psi")
g.add("airspring.topup", given, {"cycles": 1, "reading": ["70.5 psi"]}, {"cycles": 0, "reading": "0.5 psi"}, "the model gives 70.4 psi",
      "A fork raised from 64.5 to 72 psi and cycled past its port reads 1 to 2 psi low, and wants topping up again. The chambers are invented, of an ordinary size.")

for old, within, rounds, note in (("64.5 psi", "1 psi", 2, "A couple of rounds at the pump suffice"), ("70 psi", "0.5 psi", 1, "A change of a couple of psi needs hardly any")):
    given = spring(36, 10, 220, 50, 8, old, "72 psi", within)
    assert len(topup(given)[0]) == rounds
    g.add("airspring.topup", given, {"cycles": rounds}, {"cycles": 0}, "the recursion and its closed form",
          f"{note}: {rounds} with these chambers, which are invented, of an ordinary size, to within what a gauge of a pump shows.")

# ------------------------------------------------------------------------ hose

g = file.group(mpmath_source(SCRIPT, "gauge pressure times V/(V + V_h): the ambient pressure in the hose cancels"), "computed", 1)


def hose(chamber, volume, fill, unit="bar", second="exact"):
    v, h = si(chamber), si(volume)
    g.add("airspring.hose", {"chamber_volume": chamber, "hose_volume": volume, "fill": fill},
          {"reading": to(si(fill) * v / (v + h), unit)}, 1e-12, second)


SEPARATE = "agrees to 15 digits with a separate program (mpmath, 40 digits)"
for v, h, p in [(190, 4, 5.5), (120, 6, 8), (250, 3, 3), (105, 4, 14), (60, 5, 20), (150, 8, 18)]:
    hose(f"{v} cm3", f"{h} cm3", f"{p} bar", second=SEPARATE)
hose("11.5 in3", "0.3 in3", "82 psi", "psi")
hose("60 cm3", "0 cm3", "20 bar")
for v, h, p in [(190, 4, 5.5), (60, 5, 20), (105, 4, 14)]:
    g.add("airspring.hose", {"chamber_volume": f"{v} cm3", "hose_volume": f"{h} cm3", "reading": f"{p} bar"},
          {"fill": to(si(f"{p} bar") * (v + h) / v, "bar")}, 1e-12, SEPARATE, "what was in the chamber before the pump was screwed on")

# ----------------------------------------------------------------------- carry

g = file.group(mpmath_source(SCRIPT, "by how much less a reading is off than the one before"), "computed", 1)


def carry(given, note):
    readings, _ = topup(given)
    fill = si(given["fill"])
    share = (fill - readings[0]) / (fill - si(given["old_fill"]))
    close((fill - readings[1]) / (fill - readings[0]), share, mpf("1e-30"), "the second cycle")
    g.add("airspring.carry", given, {"carry": num(share)}, 1e-12, "what the second cycle leaves of the first", note)


carry(spring(34, 10, 190, 60, 8, "5.5 bar", "6.5 bar", "0.01 bar"), "a fork")
carry(spring(46, 14, 135, 70, 2, "15 bar", "18 bar", "0.05 bar"), "a shock")
carry(spring(36, 10, 62, 120, 4, "12 bar", "20 bar", "0.1 bar"), "a negative chamber larger than the positive one")
carry(spring(36, 10, 62, 30, 0, "12 bar", "20 bar", "0.001 bar"), "a port at full extension")
carry(spring(38, 12, 280, 110, 12, "55 psi", "78 psi", "0.5 psi"), "a long fork")
carry(spring(40, 12.7, 105, 45, 3, "200 psi", "215 psi", "1 psi"), "a shock in psi")
carry(spring(32, 9, 140, 40, 5, "2 bar", "7 bar", "0.01 bar"), "a small fork")
carry(spring(36, 10, 220, 50, 8, "64.5 psi", "72 psi", "0.2 psi"), "chambers of an ordinary size")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
GOOD = spring(34, 10, 190, 60, 8, "5.5 bar", "6.5 bar", "0.01 bar")
g.refuse_each("airspring.topup", GOOD, [
    ({"bore": "0 mm"}, ["bore"], "zero"), ({"bore": None}, ["bore"], "missing"), ({"bore": "34"}, ["bore"], "missing unit"),
    ({"shaft": "34 mm"}, ["shaft"], "as thick as the bore"), ({"shaft": "-10 mm"}, ["shaft"], "negative"),
    ({"positive_volume": "0 cm3"}, ["positive_volume"], "zero"), ({"positive_volume": "-190 cm3"}, ["positive_volume"], "negative"),
    ({"negative_volume": "0 cm3"}, ["negative_volume"], "zero: nothing to top up"), ({"negative_volume": None}, ["negative_volume"], "missing"),
    ({"port_travel": "-8 mm"}, ["port_travel"], "negative"), ({"port_travel": "250 mm"}, ["positive_volume"], "the chamber is swept away before the port"),
    ({"fill": "6.5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"fill": "NaN bar"}, ["fill"], "not a number"),
    ({"old_fill": "-2 bar"}, ["old_fill"], "below vacuum"), ({"ambient": "0 Pa(a)"}, ["ambient"], "a vacuum around the spring"),
    ({"ambient": None}, ["ambient"], "missing"), ({"within": "0 bar"}, ["within"], "zero: never reached"), ({"within": "-0.01 bar"}, ["within"], "negative"),
    ({"within": None}, ["within"], "missing"),
    ({"pull_in": "-1 mm"}, ["pull_in"], "negative"), ({"pull_in": "8 mm"}, ["pull_in"], "no less than the port travel"),
    ({"fill": "4.5 bar", "pull_in": "3 mm"}, ["pull_in"], "less than where the spring stands after a cycle"),
    ({"fill": "2 bar", "shaft": "0.1 mm"}, ["fill"], "a shaft so thin that more than 1000 cycles are needed"),
])
g.refuse_each("airspring.carry", GOOD, [
    ({"shaft": "34 mm", "within": None}, ["shaft", "within"], "as thick as the bore, and missing"), ({"port_travel": "250 mm"}, ["positive_volume"], "the chamber is swept away before the port"),
    ({"fill": "6.5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"ambient": None}, ["ambient"], "missing"), ({"negative_volume": "-60 cm3"}, ["negative_volume"], "negative"),
])
HOSE = {"chamber_volume": "190 cm3", "hose_volume": "4 cm3", "fill": "5.5 bar"}
g.refuse_each("airspring.hose", HOSE, [
    ({"chamber_volume": "0 cm3"}, ["chamber_volume"], "zero"), ({"chamber_volume": None}, ["chamber_volume"], "missing"),
    ({"chamber_volume": "190"}, ["chamber_volume"], "missing unit"), ({"hose_volume": "-4 cm3"}, ["hose_volume"], "negative"),
    ({"hose_volume": "4 cm"}, ["hose_volume"], "the unit of another quantity"), ({"fill": "NaN bar"}, ["fill"], "not a number"),
    ({"fill": "5.5"}, ["fill"], "missing unit"), ({"chamber_volume": "-190 cm3", "hose_volume": "-4 cm3"}, ["chamber_volume", "hose_volume"], "two bad fields, both named"),
])

file.write()
