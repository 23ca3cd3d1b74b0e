"""Writes data/cases/air-chambers.json: the chambers of a spring known by its gauge and
its ring, and how sure they are.

The chambers are those of chambers.py, by their own unknowns: area, volumes and port.
The standard errors are those of these unknowns, carried on to each quantity by
derivatives in numbers, and confirmed by moving one reading at a time, after which the
chambers are sought anew. See casefile.py for how to run it.
"""
from mpmath import inverse, matrix, mp, mpf, sqrt

from casefile import File, RULES, close, mpmath_source, si, to
from chambers import Chambers, area, fit, nearest
from laws import bisect

file = File("chambers known by gauge and ring, and their errors")
SCRIPT = "air_chambers.py"
AMBIENT = "101325 Pa(a)"


def middle(r):
    return (si(r["stroke"]) + si(r.get("stroke_back", r["stroke"]))) / 2


def known(start, outside, readings, force, at, note, ring=None, gauge=None, confirm=True):
    pa, pull, s0 = si(AMBIENT), si(force), si(at)
    u_s, u_g = si(ring or "1 mm"), si(gauge) if gauge else mpf(0)
    double = start.n is not None
    found, of, x, r, j, scale = fit(start, readings, u_s, u_g, pa)
    fill = found.fill(pull, s0, pa)
    quantities = {"bore": lambda c: sqrt(4 * c.a / mp.pi), "positive_volume": lambda c: c.v,
                  "fill": lambda c: c.fill(pull, s0, pa), "stroke": lambda c: c.stroke(fill, pull, pa, s0)}
    if double:
        quantities.update(negative_volume=lambda c: c.n, port_travel=lambda c: c.port)
    spread = inverse(j.T * j)
    spare = len(readings) - len(x)
    birge = max(mpf(1), sqrt(sum(v**2 for v in r) / spare)) if spare else mpf(1)
    errors = {}
    for name, q in quantities.items():
        slope = matrix(len(x), 1)
        for k in range(len(x)):
            d = mpf("1e-15") * (x[k] if k < 3 else mpf("1e-3"))
            slope[k] = (q(of(x[:k] + [x[k] + d] + x[k + 1:])) - q(of(x[:k] + [x[k] - d] + x[k + 1:]))) / (2 * d) / scale[k]
        errors[name] = sqrt((slope.T * spread * slope)[0]) * birge
    if confirm and not u_g and not spare:  # as many readings as unknowns: each moves the answer by itself
        for name, q in quantities.items():
            total = mpf(0)
            for i in range(len(readings)):
                ways = []
                for sign in (1, -1):
                    moved = [dict(m) for m in readings]
                    moved[i] = {**moved[i], "stroke": to(middle(moved[i]) + sign * mpf("1e-9"), "m", 40)}
                    moved[i].pop("stroke_back", None)
                    ways.append(q(nearest(found, moved, u_s, u_g, pa)))
                total += ((ways[0] - ways[1]) / mpf("2e-9") * u_s) ** 2
            close(sqrt(total), errors[name], mpf("1e-9"), name)
    friction = [(found.force(si(m["fill"]), si(m["stroke_back"]), pa) - found.force(si(m["fill"]), si(m["stroke"]), pa)) / 2 for m in readings if "stroke_back" in m]
    gain = found.force(fill + 1, s0, pa) - found.force(fill, s0, pa)  # of the force by the fill, in which it is linear
    own = [found.stroke(si(m["fill"]), si(m["force"]), pa, middle(m)) for m in readings]
    leverage = j * spread * j.T
    residual_errors = []
    for i, m in enumerate(readings):
        d = mpf("1e-15") * si(m["fill"])
        way = (found.stroke(si(m["fill"]) + d, si(m["force"]), pa, own[i]) - found.stroke(si(m["fill"]) - d, si(m["force"]), pa, own[i])) / (2 * d)
        residual_errors.append(sqrt(u_s**2 + (u_g * way) ** 2) * sqrt(max(1 - leverage[i, i], mpf(0))))
    expect = {"bore": to(quantities["bore"](found), "mm"), "bore_error": to(errors["bore"], "mm"), "positive_volume": to(found.v, "cm3"), "positive_volume_error": to(errors["positive_volume"], "cm3"),
              "negative_volume": to(found.n if double else mpf(0), "cm3"), "negative_volume_error": to(errors.get("negative_volume", mpf(0)), "cm3"),
              "port_travel": to(found.port if double else mpf(0), "mm"), "port_travel_error": to(errors.get("port_travel", mpf(0)), "mm"),
              "fill_error": to(errors["fill"], "Pa(g)"), "stroke_error": to(errors["stroke"], "mm")}
    if friction:  # what was approached from one side tells of no friction
        friction = sum(friction) / len(friction)
        expect |= {"friction": to(friction, "N"), "friction_fill": to(friction / gain, "Pa(g)")}
    tolerance = {"*": 1e-6}
    if spare:
        expect["residual"] = to([middle(m) - o for m, o in zip(readings, own)], "mm")
        expect["residual_error"] = to(residual_errors, "mm")
        ratios = [abs((middle(m) - o) / e) for m, o, e in zip(readings, own, residual_errors)]
        expect["beyond"] = [i for i, v in enumerate(ratios) if v > 3 and v >= max(ratios) * (1 - mpf("1e-3"))]
        tolerance["residual"] = "1e-7 mm"
    given = {"ambient": AMBIENT, "negative_chamber": double, "outside_diameter": outside, **({"ring_error": ring} if ring else {}), **({"gauge_error": gauge} if gauge else {}),
             "readings": readings, "force": force, "at": at}
    g.add("airspring.chambers", given, expect, tolerance,
          "each reading moved by itself, and the chambers sought anew" if confirm and not u_g and not spare else "the sum of squares is least: Gauss and Newton's steps end", note)


def rows(*list_):
    return [{"fill": f"{f} bar", "stroke": f"{s} mm", **({"stroke_back": f"{back[0]} mm"} if back else {}), "force": f"{load} N"} for f, s, load, *back in list_]


ONE = Chambers(area("34 mm"), si("290 cm3"))
DEEP = Chambers(area("34 mm"), si("250 cm3"), area("10 mm"), si("70 cm3"), si("8 mm"))
g = file.group(mpmath_source(SCRIPT, "invented springs, and readings near to what they do"), "computed", 1)
known(ONE, "34 mm", rows((4, 81, 520), (4.8, 43, 520)), "520 N", "50 mm", "two readings determine a spring of one chamber")
known(ONE, "34 mm", rows((4, 81, 520), (4.8, 43, 520)), "520 N", "50 mm", "a ring that is read twice as well", "0.5 mm")
known(ONE, "34 mm", rows((4, 79, 520, 83), (4.8, 41, 520, 45)), "600 N", "40 mm", "both approaches: friction")
known(ONE, "34 mm", rows((4, 81, 520), (4.5, 60, 520), (4.8, 43, 520)), "520 N", "50 mm", "one reading more than needed")
known(ONE, "34 mm", rows((4, 81, 520), (4.5, 60, 520), (4.8, 43, 520), (6, 58, 690)), "600 N", "50 mm", "four readings, with the errors of ring and gauge", "1 mm", "0.1 bar")
known(ONE, "34 mm", rows((4, 81, 520), (4.5, 52, 520), (4.8, 43, 520), (6, 58, 690)), "600 N", "50 mm", "one reading is far off: all errors are as much larger", "0.5 mm")
MANY = [(f, mp.nstr(DEEP.stroke(si(f"{f} bar"), mpf(load), si(AMBIENT), mpf("0.03")) * 1000, 4), load)  # read to a hundredth
        for f, load in ((4, 450), (5, 450), (7, 450), (9, 450), (6, 0), (5, 900))]
known(DEEP, "10 mm", rows(*MANY), "450 N", "50 mm", "a negative chamber, six readings", "0.05 mm")
known(DEEP, "10 mm", rows(*MANY), "600 N", "60 mm", "the same with the error of the gauge", "0.05 mm", "0.002 bar")
EXACT = [{"fill": f"{f} bar", "stroke": to(DEEP.stroke(si(f"{f} bar"), mpf(load), si(AMBIENT), mpf("0.03")), "mm"), "force": f"{load} N"} for f, load in ((5, 0), (5, 300), (5, 500), (5, 900))]
known(DEEP, "10 mm", EXACT, "450 N", "35 mm", "four readings determine a spring with a negative chamber", "0.05 mm")

FAR = [{"fill": f"{f} bar", "stroke": to(bisect(lambda s: DEEP.force(si(f"{f} bar"), s, si(AMBIENT)) - load, mpf(0), mpf("0.25")) + si(off), "mm", 6), "force": f"{load} N"}
       for f, load, off in ((5, 0, "0.05 mm"), (7, 450, "-0.06 mm"), (6, 700, "0.08 mm"), (5, 900, "-0.05 mm"), (4.5, 1200, "0.3 mm"), (4, 1600, "-0.35 mm"))]
known(DEEP, "10 mm", FAR, "900 N", "90 mm", "a negative chamber, from no stroke to most of the chamber, with the error of the gauge above that of the ring", "0.02 mm", "0.02 bar")
STRAIGHT = [(f, 520, to(ONE.stroke(si(f"{f} bar"), mpf(520), si(AMBIENT), mpf("0.05")), "mm", 8)) for f in ("4", "4.2", "4.4", "4.6", "4.8", "5")]


def off(i, errors, note):
    """Readings of which one is so many of its standard errors off the spring nearest to all."""
    def reading(by):
        return [{"fill": f"{f} bar", "stroke": to(si(s) + (by if k == i else 0), "mm", 8), "force": f"{load} N"} for k, (f, load, s) in enumerate(STRAIGHT)]

    def ratio(by):
        moved = reading(by)
        found, _, _, _, j, _ = fit(ONE, moved, si("1 mm"), mpf(0), si(AMBIENT))
        own = found.stroke(si(moved[i]["fill"]), mpf(520), si(AMBIENT), middle(moved[i]))
        return (middle(moved[i]) - own) / (si("1 mm") * sqrt(1 - (j * inverse(j.T * j) * j.T)[i, i]))

    by = mpf("3e-3")
    for _ in range(6):
        by *= errors / ratio(by)
    close(ratio(by), errors, mpf("1e-4"), "standard errors")
    known(ONE, "34 mm", reading(by), "520 N", "50 mm", note)


off(2, mpf("2.985"), "one reading hardly within 3 of its standard errors")
off(2, mpf("3.01"), "one reading just beyond 3 of its standard errors")

g = file.group(RULES, "definition", 1)
GOOD = {"ambient": AMBIENT, "negative_chamber": False, "outside_diameter": "34 mm", "readings": rows((4, 81, 520), (4.8, 43, 520)), "force": "520 N", "at": "50 mm"}
g.refuse_each("airspring.chambers", GOOD, [
    ({"readings": GOOD["readings"][:1]}, ["readings"], "one reading"), ({"ambient": None}, ["ambient"], "missing"), ({"outside_diameter": "0 mm"}, ["outside_diameter"], "zero"),
    ({"readings": rows((4, 81, 520), (4.8, 43, 520, 40))}, ["readings[1].stroke_back"], "less than from full extension"), ({"ring_error": "-1 mm"}, ["ring_error"], "negative"),
    ({"force": "NaN N", "readings": []}, ["force", "readings"], "not a number, and no reading"), ({"force": "5 N"}, ["force"], "carried without any fill"),
    ({"ring_error": "200 mm"}, ["bore", "positive_volume"], "a ring that tells next to nothing of the chambers"),
])
file.write()
