"""Writes data/cases/linkage-mechanisms.json: bikes' suspension linkages, from
pivots to axle path, lever ratio and instant centre.

The solver is mechanisms.py. Its rates are checked against numerical
differentiation, its instant centres against the crossing of the two links that
carry the axle's body, and twelve end poses and path lengths against the digits
of another program. Published four-bars become mechanisms here: a shock turns
the crank, and what a book prints as an angle shows as the place of an axle. See
casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, close, digits, mpmath_source, num, si, to
from mechanisms import MECHANISMS, SLOTTED, Mechanism, gauss, mechanism, named, slotted

file = File("suspension linkages from their pivots")
SCRIPT = "linkage_mechanisms.py"
NODES, MORE_NODES = gauss(8), gauss(11)
POSITIONS = {o: "1e-9 mm" for o in ("axle_x", "axle_y", "travel", "path_length", "axle_growth")}
TOLERANCE = {**POSITIONS, "lever_ratio": 1e-11, "lever_ratio_slope": "1e-8 1/m", "progression": 1e-10,
             "instant_centre_x": "1e-7 mm", "instant_centre_y": "1e-7 mm"}
WITHOUT_CENTRE = {k: t for k, t in TOLERANCE.items() if not k.startswith("instant_centre")}

# Axle x and y, lever ratio, path length and axle growth at full stroke, in mm:
# a program with the same definitions, written separately, mpmath at 40 digits.
DIGITS = {
    "a1": ("-430.9637762669530461996748", "162.6592130746829569573793", "2.265246365723914233244817", "135.3476910031749699302252", "21.74440100023487813287179"),
    "a2": ("-466.5003651021332967336587", "212.672559383572466535959", "2.934395507315269735706733", "194.6424201565349684172204", "76.13645002089865683531989"),
    "b1": ("-422.7663448705101342649391", "170.6772381115840348965068", "2.251826307073739911629757", "144.9077378318847803412327", "19.08375504829464608029624"),
    "c1": ("-417.8284211290516036607456", "184.6879400104234400952491", "2.251469770147608859543226", "156.6571846595100977061318", "18.79771430529657794173095"),
    "c2": ("-416.8940592154327899133045", "167.4368517765312655514191", "2.299959438646052976540818", "136.9942717960270286998344", "15.08050691111013218635832"),
    "c3": ("-426.2952079758440324747703", "138.1461422081509811537441", "3.821122480531523543158995", "106.7278374057950053721023", "13.93963803219202792787682"),
    "d1": ("-436.330372529443139675969", "179.0219709675166337292087", "2.29834958792002128382684", "154.2399251741059802348403", "35.85177632354924296137364"),
    "d2": ("-437.4148008698989369642068", "147.7093755079544724094833", "2.2135846767834267675732", "124.3093015294816806926751", "24.02291418471935577691273"),
    "e1": ("-424.6884988737845133588115", "174.4765697796559188519129", "2.202931121229287220236734", "145.8022670140356355660153", "21.1036810666817084546094"),
    "e2": ("-431.7230677321742219580501", "166.7167435189516700388964", "2.293893758384609733818317", "142.1241412209389161409578", "27.01875443456803292441481"),
    "f1": ("-417.8377275871666454622217", "173.2430868128199926940352", "2.297967104633711023037638", "145.1219313087701811974528", "15.29811912535430783486956"),
    "f2": ("-425.8458616516637700691499", "171.2940476416659730037502", "2.287851667993288394682676", "144.6345750952953868155748", "22.10766890263839438651942"),
}
# The two links, as pairs of points, whose crossing is the instant centre.
LINKS = {"c1": ("M H", "R T"), "c2": ("M H", "R T"), "c3": ("M H", "R T"), "d1": ("M1 M2", "U1 U2"), "d2": ("M1 M2", "U1 U2"),
         "e1": ("M H", "R T"), "e2": ("M1 M2", "U1 U2"), "f1": ("M H", "R T"), "f3": ("M H", "R T"), "f4": ("M H", "R T")}
FIXED = ("a1", "a2", "b1")  # the carrier turns about P


def mm(*xs):
    return [f"{x} mm" for x in xs]


def tenths(given, n=10):
    return [to(si(given["stroke"]) * k / n, given["stroke"].split(" ")[1]) for k in range(n + 1)]


def outputs(m, at, without=(), unit="mm"):
    """Everything there is at these strokes, in the order of the format."""
    xs = [si(s) for s in at]
    wheel = [m.wheel(s) for s in xs]
    out = {"axle_x": to([w[0][0] for w in wheel], unit), "axle_y": to([w[0][1] for w in wheel], unit), "travel": to([m.travel_at(s) for s in xs], unit),
           "lever_ratio": num([w[1][1] for w in wheel]), "lever_ratio_slope": to([w[2][1] for w in wheel], "1/m"),
           "path_length": to(lengths(m, xs), unit), "axle_growth": to([m.growth(s) for s in xs], unit)}
    if "instant_centre" not in without:
        centres = [m.instant_centre(s) for s in xs]
        out["instant_centre_x"], out["instant_centre_y"] = to([c[0] for c in centres], unit), to([c[1] for c in centres], unit)
    out["progression"] = num(m.progression)
    return {k: v for k, v in out.items() if k not in without}


def lengths(m, xs, nodes=NODES, n=10):
    """The path from 0 to each stroke, in pieces of at most an nth of the stroke."""
    out, total, last = [], mpf(0), mpf(0)
    for s in xs:
        pieces = max(1, int(mp.ceil((s - last) / m.stroke * n - mpf("1e-9"))))
        for i in range(pieces):
            total += m.path(last + (s - last) * i / pieces, last + (s - last) * (i + 1) / pieces, nodes)
        out.append(total)
        last = s
    return out


def crossing(m, s, links):
    (a, b), (c, d) = [[m.point(s, next(n for n, of in m.bodies.items() if p in of), p) for p in link.split()] for link in links]
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / (ux * vy - uy * vx)
    return a[0] + t * ux, a[1] + t * uy


def check(name, m):
    """Confirms a mechanism's outputs in other ways."""
    for k in (0, 3, 10):
        s = m.stroke * k / 10
        if 0 < s < m.stroke:
            close(m.ratio(s), mp.diff(m.travel_at, s, h=mpf("1e-15")), mpf("1e-15"), "lever ratio")
            close(m.slope(s), mp.diff(m.ratio, s, h=mpf("1e-15")), mpf("1e-12"), "its slope")
        if name in LINKS:
            for a, b in zip(m.instant_centre(s), crossing(m, s, LINKS[name])):
                close(a, b, mpf("1e-30"), "instant centre")
        if name in FIXED:
            for a, b in zip(m.instant_centre(s), m.points["P"]):
                close(a, b, mpf("1e-30"), "instant centre")
    if name not in DIGITS:
        close(lengths(m, [m.stroke])[0], lengths(m, [m.stroke], MORE_NODES, 8)[0], mpf("1e-16"), "path length")
    else:
        (x, y), v, _, _ = m.wheel(m.stroke)
        got = (x * 1000, y * 1000, v[1], lengths(m, [m.stroke])[0] * 1000, m.growth(m.stroke) * 1000)
        for a, b, close_to in zip(got, DIGITS[name], ("1e-23", "1e-23", "1e-23", "1e-17", "1e-22")):
            close(a, mpf(b), mpf(close_to), "digits of the other program")
    assert m.holds() and all(m.ratio(p.s) > 0 for p in m.poses.values()), "locks"


# --------------------------------------------------------------- twelve and two

g = file.group(mpmath_source(SCRIPT, "invented geometries, eleven poses each; Newton's method on three coordinates a body, rates by implicit differentiation"), "computed", 1)
TWICE = "end pose and path length to 17 digits or more by a separate program; rates by numerical differentiation"
ONCE = "rates by numerical differentiation, path length by a second quadrature"
CROSS = "; instant centre by the crossing of the links"
solved = {}
for name, (title, *_) in MECHANISMS.items():
    given = named(name)
    m = solved[name] = Mechanism(given)
    at = tenths(given)
    tolerance = dict(TOLERANCE)
    if name == "c3":  # up to 16 m away
        tolerance["instant_centre_x"] = tolerance["instant_centre_y"] = "1e-5 mm"
    g.add("linkage.mechanism", {"mechanism": given, "at": at}, outputs(m, at), tolerance,
          (TWICE if name in DIGITS else ONCE) + (CROSS if name in LINKS else ""), title)
    check(name, m)

# ------------------------------------------------- the instant centre at infinity

g = file.group(mpmath_source(SCRIPT, "the pose at which the carrier does not turn, and poses beside it"), "computed", 101)
c3 = solved["c3"]
still = mp.findroot(lambda s: c3.turning(s, c3.carrier), (mpf("0.0144"), mpf("0.0145")), solver="anderson", tol=mpf("1e-40"))
close(still * 1000, mpf("14.46784191624455376402535"), mpf("1e-24"), "the pose without rotation")
at = [to(still, "mm", 17)]
g.add("linkage.mechanism", {"mechanism": named("c3"), "at": at}, outputs(c3, at, ("instant_centre",)), WITHOUT_CENTRE,
      "the stroke to 25 digits by a separate program", "the carrier does not turn: there is no instant centre, all else is as ever")
for off, tolerance in (("1", 1e-8), ("0.01", 1e-7), ("0.0001", 1e-5)):
    at = [to(still + sign * mpf(off) / 1000, "mm", 17) for sign in (-1, 1)]
    out = outputs(c3, at)
    for s, *centre in zip(map(si, at), out["instant_centre_x"], out["instant_centre_y"]):
        for a, b in zip(centre, crossing(c3, s, LINKS["c3"])):
            close(si(a), b, mpf("1e-13"), "instant centre")
    assert out["instant_centre_x"][0].startswith("-") and not out["instant_centre_x"][1].startswith("-")
    g.add("linkage.mechanism", {"mechanism": named("c3"), "at": at}, out, {**TOLERANCE, "instant_centre_x": tolerance, "instant_centre_y": tolerance},
          ONCE + CROSS, f"{off} mm to either side of it: the instant centre changes sides, far away")

# ------------------------------------------------------ the same in other words

g = file.group(mpmath_source(SCRIPT, "the same mechanisms, written otherwise"), "computed", 201)


def again(name, change, note, unit="mm", times=mpf(1)):
    """A mechanism changed so that some outputs stay as they were, which is checked."""
    given = change(named(name))
    m, old = Mechanism(given), solved[name]
    at = tenths(given, 5)
    for s in map(si, at):
        was = s / times
        close(m.travel_at(s), times * old.travel_at(was), mpf("1e-15"), note)
        close(m.ratio(s), old.ratio(was), mpf("1e-15"), note)
        close(m.slope(s) * times, old.slope(was), mpf("1e-15"), note)
    out = outputs(m, at, ("path_length",), unit)
    out["path_length"] = to([times * l for l in lengths(old, [si(s) / times for s in at])], unit)
    g.add("linkage.mechanism", {"mechanism": given, "at": at}, out, TOLERANCE, "travel, lever ratio and slope as before the change, to 15 digits", note)


def points(given, to_text):
    return {**given, "points": {n: to_text(n, si(x), si(y)) for n, (x, y) in given["points"].items()}}


def renamed(given):
    names = {n: f"{n.lower()}_of-bike {i}" for i, n in enumerate(given["points"])}
    bodies = list(given["bodies"].items())[::-1]
    return {"points": {names[n]: p for n, p in list(given["points"].items())[::-1]},
            "bodies": {b if b == "frame" else b.upper(): [names[p] for p in of[::-1]] for b, of in bodies},
            "axle": names["A"], "shock": [names[p] for p in given["shock"]], "stroke": given["stroke"]}


def with_marks(given):
    """Points that no other body has and that bear nothing."""
    return {**given, "points": {"BB": mm(0, 0), **given["points"], "bridge": mm(-250, 150), "bottle": mm(90, 250)},
            "bodies": {b: of + {"frame": ["BB", "bottle"], "seatstay": ["bridge"]}.get(b, []) for b, of in given["bodies"].items()}}


for name in ("c1", "f2"):
    again(name, renamed, "other names, bodies and points in the opposite order")
again("c1", with_marks, "points that do nothing")
for name in ("b1", "e1", "d2"):
    again(name, lambda given: {**given, "shock": given["shock"][::-1]}, "the eyes of the shock named the other way round")
again("d1", lambda given: points(given, lambda n, x, y: mm(digits(x * 1000 + 35), digits(y * 1000 - 20))),
      "the bottom bracket elsewhere: only what is measured from it differs")
again("f1", lambda given: points(given, lambda n, x, y: mm(digits(-x * 1000), digits(y * 1000))), "mirrored, as from the other side")
again("c2", lambda given: points({**given, "stroke": "110 mm"}, lambda n, x, y: mm(digits(2000 * x), digits(2000 * y))),
      "twice as large: the same lever ratio, half its slope", times=mpf(2))
again("a1", lambda given: points({**given, "stroke": "0.0575 m"}, lambda n, x, y: [f"{digits(x * 100)} cm", f"{digits(y)} m"]), "in centimetres and metres", unit="cm")
again("a2", lambda given: points({**given, "stroke": to(mpf("0.0625"), "in", 18)}, lambda n, x, y: to([x, y], "in", 18)), "in inches", unit="in")

# ---------------------------------------------------------------- worked by hand

g = file.group({"title": "closed form, worked by hand", "where": "law of cosines: with 150 and 200 mm from the pivot to the eyes, at a right angle at first, "
                "L² = 62500 mm² − 60000 mm² sin θ after a turn by θ, and sin θ = 0.375 at L = 200 mm"}, "computed", 301)
BY_HAND = "the general solver at 50 digits agrees to 30 digits"
TRIANGLE = mechanism("P 0 0, A -400 0, S1 0 150, S2 200 0", "frame: P S2; swingarm: P A S1", 50)
at = mm(0, 10, 20, 30, 40, 50)
angle = [mp.asin((mpf("0.0625") - (mpf("0.25") - si(s)) ** 2) / mpf("0.06")) for s in at]
out = {"axle_x": to([-mpf("0.4") * mp.cos(t) for t in angle], "mm"), "axle_y": mm(0, 32.666666666666667, 64, 94, 122.66666666666667, 150),
       "travel": mm(0, 32.666666666666667, 64, 94, 122.66666666666667, 150), "lever_ratio": num([mpf(250 - int(s.split()[0])) / 75 for s in at]),
       "lever_ratio_slope": to([-mpf(1000) / 75] * 6, "1/m"), "path_length": to([mpf("0.4") * t for t in angle], "mm"), "axle_growth": mm(*[0] * 6),
       "instant_centre_x": mm(*[0] * 6), "instant_centre_y": mm(*[0] * 6), "progression": 0.2}


def by_hand(given, out, note):
    m = Mechanism(given)
    for output, got in outputs(m, at, [o for o in ("axle_x",) if o not in out] + ["instant_centre"]).items():
        if output not in out:
            continue
        for a, b in zip(*(v if isinstance(v, list) else [v] for v in (got, out[output]))):
            assert abs(si(a) - si(b)) < mpf("1e-13"), (output, a, b)
    g.add("linkage.mechanism", {"mechanism": given, "at": at}, out, {k: t for k, t in TOLERANCE.items() if k in out}, BY_HAND, note)


by_hand(TRIANGLE, out, "the axle on a circle about the bottom bracket: no growth, and dw/ds = L/75 mm")
PARALLEL = mechanism("P 0 0, U 0 100, L -400 0, V -400 100, A -430 20, S1 0 150, S2 200 0", "frame: P U S2; lower: P L S1; upper: U V; rear: L V A", 50)
shift = {k: v for k, v in out.items() if not k.startswith("instant") and k != "axle_growth"}
shift["axle_x"] = to([si(x) - mpf("0.03") for x in out["axle_x"]], "mm")
shift["axle_y"] = to([si(y) + mpf("0.02") for y in out["axle_y"]], "mm")
shift["axle_growth"] = to([mp.hypot(si(x), si(y)) - mp.hypot(mpf("0.43"), mpf("0.02")) for x, y in zip(shift["axle_x"], shift["axle_y"])], "mm")
by_hand(PARALLEL, shift, "two parallel links of one length: the axle's body never turns, so there is no instant centre at any pose")
CONCENTRIC = {**mechanism("P 0 0, U -20 250, L -400 0, V -150 350, S1 0 150, S2 200 0", "frame: P U S2; chainstay: P L S1; seatstay: L V; rocker: U V", 50, axle="L"),
              "carrier": "seatstay"}
by_hand(CONCENTRIC, {k: v for k, v in out.items() if not k.startswith("instant")}, "the axle is itself a pivot, of two bodies: where it goes is the same for both")

# --------------------------------------------------------------------- published


def circles(a, r, b, q, side):
    """The point r from a and q from b, on the left of a→b for side 1."""
    x, y = b[0] - a[0], b[1] - a[1]
    d2 = x * x + y * y
    k = (d2 + r * r - q * q) / (2 * d2)
    h = side * mp.sqrt(r * r / d2 - k * k)
    return a[0] + k * x - h * y, a[1] + k * y + h * x


def polar(r, angle, origin=(0, 0)):
    return origin[0] + r * mp.cos(angle), origin[1] + r * mp.sin(angle)


class FourBar:
    """Crank O–A, coupler A–B, rocker C–B, as a book draws it, turned by `turned`
    degrees. The shock pulls the crank from `before` degrees short of the
    printed angle to `after` past it, its line at right angles to the crank at
    the printed angle: there 1 of stroke is 1/a of crank angle. The axle is a
    point of the coupler or the rocker, `arm` from A or C, `offset` degrees from
    the link's own direction. All lengths in `unit`, the book's
    times scale."""

    def __init__(self, a, b, c, pivot, angle, side, scale, unit, on, arm, offset, way=1, turned=0, before=15, after=10, eye=3):
        deg = mp.pi / 180
        self.a, self.b, self.c = (mpf(str(v)) * scale for v in (a, b, c))
        self.side, self.on = side, on
        self.turned, self.arm, self.offset, self.angle, self.unit = turned * deg, mpf(arm), offset * deg, angle, unit
        px, py = (mpf(str(v)) * scale for v in pivot)
        self.pivot = polar(mp.hypot(px, py), mp.atan2(py, px) + self.turned)
        self.way = way
        start, end = angle - way * before * deg, angle + way * after * deg
        at, tangent = polar(self.a, angle + self.turned), polar(way * self.a * eye, angle + self.turned + mp.pi / 2)
        s2 = (at[0] + tangent[0], at[1] + tangent[1])
        length = lambda t: mp.hypot(*(p - q for p, q in zip(polar(self.a, t + self.turned), s2)))
        coupler, rocker, first, second = self.links(start)
        self.printed = self.links(angle)
        self.axle = self.place(coupler, rocker, first)
        text = lambda p: [f"{digits(v, 20)} {unit}" for v in p]
        self.given = {"mechanism": {
            "points": {"O": text((mpf(0), mpf(0))), "C": text(self.pivot), "S2": text(s2), "A": text(first), "B": text(second), "axle": text(self.axle)},
            "bodies": {"frame": ["O", "C", "S2"], "crank": ["O", "A"], "coupler": ["A", "B"], "rocker": ["C", "B"]},
            "axle": "axle", "shock": ["A", "S2"], "stroke": f"{digits(mp.floor((length(start) - length(end)) * 10) / 10)} {unit}"},
            "at": [f"{digits(length(start) - length(angle), 20)} {unit}"]}
        if on == "pin":
            self.given["mechanism"].update(axle="B", carrier="coupler")
            del self.given["mechanism"]["points"]["axle"]
        else:
            self.given["mechanism"]["bodies"][on].append("axle")
        m = self.solved = Mechanism(self.given["mechanism"])
        for k in range(41):
            assert m.ratio(m.stroke * k / 40) > mpf("0.02"), (k, m.ratio(m.stroke * k / 40))
        assert m.holds()

    def links(self, theta):
        """Angles of coupler and rocker, and A and B, as turned."""
        a = polar(self.a, theta + self.turned)
        b = circles(a, self.b, self.pivot, self.c, self.side)
        return mp.atan2(b[1] - a[1], b[0] - a[0]), mp.atan2(b[1] - self.pivot[1], b[0] - self.pivot[0]), a, b

    def place(self, coupler, rocker, a):
        if self.on == "rocker":
            return polar(self.arm, rocker + self.offset, self.pivot)
        return polar(self.arm, coupler + self.offset, a)

    def add(self, printed, half, rate, rate_half, note, second):
        """The printed angle of the link, and its rate over the crank's (None
        for each that is not printed), with what half a unit of their last digit
        is. Without a printed angle nothing is said of places, and the rate is
        that of the link where the equations have it."""
        u, out, tolerance = self.unit, {}, {}
        if printed is None:
            link, half = self.printed[self.on == "rocker"], mpf(0)
        else:
            link = mpf(printed) + self.turned
            x, y = self.place(link, link, self.printed[2])
            out = {"axle_x": [f"{digits(x)} {u}"], "axle_y": [f"{digits(y)} {u}"]}
            reach = f"{digits(self.arm * half * mpf('1.0000001'), 3)} {u}"
            tolerance = {"axle_x": reach, "axle_y": reach}
        if rate is not None:
            # v = v_A + ω × r, per unit of stroke v_A is the crank's unit tangent; the crank turns by way/a.
            across = self.arm * mp.cos(link + self.offset)
            own = mp.sin(self.angle + self.turned + self.way * mp.pi / 2) if self.on == "coupler" else mpf(0)
            out["lever_ratio"] = num([own + self.way * rate / self.a * across])
            tolerance["lever_ratio"] = digits(abs(across) / self.a * rate_half + self.arm * half * abs(rate) / self.a, 3)
        self.finish(out, tolerance, note, second)

    def finish(self, out, tolerance, note, second):
        s = si(self.given["at"][0])
        (x, y), v, a, _ = self.solved.wheel(s)
        got = {"axle_x": x, "axle_y": y, "travel": self.solved.travel_at(s), "lever_ratio": v[1], "lever_ratio_slope": a[1]}
        if "instant_centre_x" in out:
            got["instant_centre_x"], got["instant_centre_y"] = self.solved.instant_centre(s)
        for name, (value,) in out.items():
            assert abs(got[name] - si(value)) <= si(tolerance[name]), (note, name, to(got[name], "mm"), value, tolerance[name])
        g.add("linkage.mechanism", self.given, out, tolerance, second, note)


EXACT = "four-bar equations at 50 digits: inside half a unit of the printed digit"
HOW = "; a shock turns the crank, at right angles to it in the printed pose; the axle stands for the printed angle of its body, the lever ratio for its rate"
g = file.group({"title": "MATLAB files on a four-bar mechanism, course material in a public repository", "where": "read in skorbiz/matlab-workspace, rob2/Ch4_Matlab, "
                "Kinem_AE/Kinem.m and Kinem_DE/Kinem.m: crank 1, coupler 3, rocker 2.2, rocker pivot (2, 0.5), crank at 90° turning at 2π rad/s",
                "url": "https://github.com/skorbiz/matlab-workspace"}, "published", 401)
COURSE = dict(a=1, b=3, c="2.2", pivot=(2, "0.5"), angle=mp.pi / 2, side=1, scale=100, unit="mm", arm=500)
FOUR = dict(half=mpf("0.00005"), rate_half=mpf("0.00005") / (2 * mp.pi))
FourBar(**COURSE, on="coupler", offset=0).add(
    "0.5782", rate=mpf("0.7099") / (2 * mp.pi), note="coupler at 0.5782 rad turning at 0.7099 rad/s; lengths times 100 mm" + HOW, second=EXACT, **FOUR)
FourBar(**COURSE, on="rocker", offset=-90).add(
    "1.3357", rate=mpf("3.4807") / (2 * mp.pi), note="rocker at 1.3357 rad turning at 3.4807 rad/s; lengths times 100 mm" + HOW, second=EXACT, **FOUR)

g = file.group(mpmath_source(SCRIPT, "a slider-crank of an exercise, crank 10, rod 20, at 45°, to the digits that it was asked for"), "computed", 421)
SLIDER = "; the slide is the end of a very long rocker; turned upright"
WORKSHEET = dict(a=10, b=20, c=10000, pivot=("25.8", -10000), angle=mp.pi / 4, side=1, scale=10, unit="mm", arm=200, way=-1, turned=90)
DEG = mp.pi / 180
FourBar(**{**WORKSHEET, "turned": 60}, on="coupler", offset=0).add(
    (mpf("159.295") - 180) * DEG, half=mpf("0.0005") * DEG, rate=mpf("-0.378"), rate_half=mpf("0.0005"), second=EXACT,
    note="rod at 159.295° to the line from the slider, turning at 0.378 of the crank's rate; lengths times 10 mm" + SLIDER.replace("upright", "by 60°"))
pin = FourBar(**WORKSHEET, on="pin", offset=0)
pin.finish({"lever_ratio": num([mpf("0.9744")])}, {"lever_ratio": "0.00005"}, "slider speed 9.744 with a crank of 10 at 1 rad/s" + SLIDER, EXACT)

g = file.group(mpmath_source(SCRIPT, "a slider-crank of an engine, where the piston does not accelerate, to the digits that it was asked for"), "computed", 431)
time = mpf("0.002100653404")  # s
pin = FourBar("1.6535", "6.024", 3000, pivot=("6.2", -3000), angle=200 * mp.pi * time, side=1, scale=1, unit="in", arm=1, offset=0, on="pin", way=-1, turned=90)
pin.finish({"axle_y": ["6.218 in"], "lever_ratio": num([1078 / (mpf("1.6535") * 200 * mp.pi)], 7), "lever_ratio_slope": ["0 1/m"]},
           {"axle_y": "0.0005 in", "lever_ratio": digits(mpf("0.5") / (mpf("1.6535") * 200 * mp.pi), 3), "lever_ratio_slope": "0.01 1/m"},
           "piston at 6.218 in, 1078 in/s, not accelerating, at 0.002100653404 s after the dead centre" + SLIDER, EXACT)

g = file.group({"title": "Norton, Design of Machinery, examples 4-1 and 6-7", "where": "crank 40, coupler 120, rocker 80, ground 100, crank at 40° turning at 25 rad/s"},
               "from memory", 451)
NORTON = dict(a=40, b=120, c=80, pivot=(100, 0), angle=40 * DEG, scale=1, unit="mm", arm=500)
UNIT = dict(half=mpf("0.01") * DEG, rate_half=mpf("0.0005") / 25)
LAST = "; a whole unit of the angle's last digit is allowed, as the book's own steps are rounded"
for side, offset, way, on, printed, rate, name in (
        (1, 180, 1, "coupler", "20.30", "-4.121", "open: coupler at 20.30° turning at −4.121 rad/s"),
        (1, 90, -1, "rocker", "57.33", "6.998", "open: rocker at 57.33° turning at 6.998 rad/s"),
        (-1, 180, 1, "coupler", "-60.98", None, "crossed: coupler at −60.98°"), (-1, 90, -1, "rocker", "-98.01", None, "crossed: rocker at −98.01°")):
    FourBar(**NORTON, side=side, on=on, offset=offset, way=way).add(
        mpf(printed) * DEG, rate=rate and mpf(rate) / 25, note=name + HOW + LAST, second=EXACT, **UNIT)

g = file.group(mpmath_source(SCRIPT, "four-bars of theory-of-machines texts, crank at 60°"), "computed", 461)
bar = FourBar(300, 360, 360, (600, 0), 60 * DEG, 1, 1, "mm", "coupler", 200, 180)
coupler, rocker, a, b = bar.printed
along = (bar.pivot[0] * mp.sin(rocker) - bar.pivot[1] * mp.cos(rocker)) / mp.sin(rocker - 60 * DEG)  # where crank and rocker cross
x, y = polar(along, 60 * DEG)
close(along - 300, "498.397431775084", mpf("1e-14"), "from the crank's end")
bar.finish({"instant_centre_x": [f"{digits(x)} mm"], "instant_centre_y": [f"{digits(y)} mm"]}, {"instant_centre_x": "1e-7 mm", "instant_centre_y": "1e-7 mm"},
           "instant centre of the coupler, 498.397 mm beyond the crank's end", "the crossing of crank and rocker, and of another program to 15 digits")
bar = FourBar(40, 150, 80, (150, 0), 60 * DEG, 1, 1, "mm", "rocker", 500, -90)
coupler, rocker, _, _ = bar.printed
turns = mpf(40) * mp.sin(coupler - 60 * DEG) / (80 * mp.sin(coupler - rocker))
close(turns * 4 * mp.pi, "4.78457094751874", mpf("1e-14"), "rate of the rocker")
bar.add(None, half=None, rate=turns, rate_half=mpf("1e-11"), second="the loop closed by sines of the links' angles, and another program to 15 digits",
        note="rocker turning at 4.78457 rad/s with the crank at 120 rpm; the axle stands for the rocker's rate alone")

# ------------------------------------------------------------------------- slots

g = file.group(mpmath_source(SCRIPT, "invented geometries with pins in slots; Newton's method on three coordinates a body, rates by implicit differentiation"), "computed", 501)


def normals(m, s):
    """The crossing of the lines through the pins of two slots of the frame, square to these."""
    out = []
    for p, own, _, a, b in m.slots:
        (ax, ay), (bx, by) = m.points[a], m.points[b]
        x, y = m.point(s, own, p)
        out.append((bx - ax, by - ay, x * (bx - ax) + y * (by - ay)))
    (a, b, e), (c, d, f) = out
    return (e * d - f * b) / (a * d - b * c), (a * f - c * e) / (a * d - b * c)


for name, (title, *_) in SLOTTED.items():
    given = slotted(name)
    m = Mechanism(given)
    at = tenths(given, 5)
    out = outputs(m, at)
    for s in map(si, at):
        for a, b in zip(m.instant_centre(s), normals(m, s) if name == "s3" else m.points["P"]):
            close(a, b, mpf("1e-30"), "instant centre")
    check(name, m)
    g.add("linkage.mechanism", {"mechanism": given, "at": at}, out, TOLERANCE,
          ONCE + "; instant centre " + ("where the lines square to both slots cross" if name == "s3" else "at the main pivot"), f"{name}: {title}")

file.write()
