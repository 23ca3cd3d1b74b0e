"""Writes data/cases/linkage-drivetrain.json: chain and brake on a suspension.

Quasi-static, in the plane: unsprung mass and wheel inertia neglected, all drive
or brake force at the rear wheel, the tight run of the chain straight and tangent
to pitch circles r = 12.7 mm/(2 sin(π/N)), rigid tyres, the mass centre fixed to
the frame. With the chainring held on the body that carries it, the frame mostly,
the chain turns the wheel as the suspension moves; with the brake held it turns with the body that carries the
caliper. U is the rate of the tyre's contact point then, t and n are along and
up from the ground, and

    anti-squat, anti-rise = −(U·t / U·n) × wheelbase / height of the mass centre

as a fraction. Ground "level": horizontal below the rear wheel, whatever the
front does. Ground "front": the front axle stays where it was at full extension,
and the ground is the common tangent below both wheels. The kickback is the
chainring's way back on its body from full extension, with a wheel that does not turn or one that
rolls. Confirmed by the textbook construction of two lines where it applies, by
numerical differentiation of the chain's length, by an identity between
anti-squat and kickback, and by the digits of another program. See casefile.py
for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, close, mpmath_source, num, si, to
from mechanisms import Mechanism, named

file = File("chain and brake on a suspension")
SCRIPT = "linkage_drivetrain.py"
PITCH = mpf("0.0127")


def mm(*xs):
    return [f"{x} mm" for x in xs]


def radius(teeth):
    return PITCH / (2 * mp.sin(mp.pi / teeth))


def run(a, ra, b, rb):
    """The run from pulley a to b, both turning clockwise: its unit vector, its
    length and its normal."""
    dx, dy, k = b[0] - a[0], b[1] - a[1], ra - rb
    d2 = dx * dx + dy * dy
    l = mp.sqrt(d2 - k * k)
    u = ((l * dx + k * dy) / d2, (l * dy - k * dx) / d2)
    n = (-u[1], u[0])
    # both ends of the run are on their circles, and it is tangent there
    close(a[0] + ra * n[0] + l * u[0], b[0] + rb * n[0], mpf("1e-35"), "tangent run")
    return u, l, n


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1]


class Drive:
    def __init__(self, given):
        self.m = Mechanism(given["mechanism"])
        d = given["drivetrain"]
        self.chainring, self.sprocket = radius(d["chainring"]), radius(d["sprocket"])
        self.idler = d.get("idler")
        self.ring_on = d.get("chainring_on", "frame")
        self.m.points["chainring"] = tuple(si(v) for v in d.get("chainring_at", mm(0, 0)))
        if self.idler:
            self.m.points["idler"] = tuple(si(v) for v in self.idler["at"])
        self.wheel, self.front_x = si(given["wheel_radius"]), si(given["front_axle_x"])
        self.front_wheel = si(given.get("front_wheel_radius", given["wheel_radius"]))
        self.mass = tuple(si(v) for v in given["mass_centre"])
        self.ground = given["ground"]
        self.caliper = given.get("brake_on", self.m.carrier)
        self.axle = self.m.points[self.m.axle]

    def chain(self, s):
        """The length of chain that is paid out, and its rate with the chainring held on its body."""
        (a, v, _, _), r, c = self.m.wheel(s), self.sprocket, self.chainring
        ring, (rate, _) = self.m.point(s, self.ring_on, "chainring"), self.m.rate(s, self.ring_on, "chainring")
        turned = mpf(0) if self.ring_on == "frame" else self.m.at(s).q[self.m.first[self.ring_on] + 2]
        turning = self.m.turning(s, self.ring_on)
        if not self.idler:
            u, l, _ = run(a, r, ring, c)
            return l + (c - r) * mp.atan2(u[1], u[0]) - c * turned, dot(rate, u) - dot(v, u) - c * turning
        b, e = self.m.point(s, self.idler["on"], "idler"), radius(self.idler["teeth"])
        (w, _) = self.m.rate(s, self.idler["on"], "idler")
        u1, l1, _ = run(a, r, b, e)
        u2, l2, _ = run(b, e, ring, c)
        between = dot(w, (u1[0] - u2[0], u1[1] - u2[1])) + dot(rate, u2)
        return l1 + (e - r) * mp.atan2(u1[1], u1[0]) + l2 + (c - e) * mp.atan2(u2[1], u2[0]) - c * turned, -dot(v, u1) + between - c * turning

    def stance(self, s):
        """Along and up the ground, wheelbase, height of the mass centre above it, rear contact."""
        (x, y), _, _, _ = self.m.wheel(s)
        if self.ground == "front":
            # the tangent below both is that over the tops of circles with radii of the other sign
            front = (self.front_x, self.axle[1] - self.wheel + self.front_wheel)
            t, base, _ = run((x, y), -self.wheel, front, -self.front_wheel)
        else:
            base, t = self.front_x - x, (mpf(1), mpf(0))
        n = (-t[1], t[0])
        contact = (x - self.wheel * n[0], y - self.wheel * n[1])
        mass = (self.mass[0], self.mass[1] + self.axle[1] - self.wheel)
        return t, n, base, dot((mass[0] - contact[0], mass[1] - contact[1]), n), contact

    def anti(self, s, turning):
        """The measure for a wheel that turns at a rate against the frame, per stroke."""
        _, v, _, _ = self.m.wheel(s)
        t, n, base, height, _ = self.stance(s)
        contact = (v[0] + self.wheel * turning * t[0], v[1] + self.wheel * turning * t[1])
        return -dot(contact, t) / dot(contact, n) * base / height

    def squat(self, s):
        return self.anti(s, -self.chain(s)[1] / self.sprocket)

    def rise(self, s):
        return self.anti(s, self.m.turning(s, self.caliper))

    def growth(self, s):
        return self.chain(s)[0] - self.chain(mpf(0))[0]

    def fixed(self, s):
        return self.growth(s) / self.chainring

    def rolling(self, s):
        return self.fixed(s) - (self.m.wheel(s)[0][0] - self.axle[0]) * self.sprocket / (self.wheel * self.chainring)

    def by_lines(self, s):
        """Squat and rise from the instant centre and the point where the chain
        line and the line from axle to instant centre cross; for a chain that
        no idler on a moving body guides, and a caliper on the axle's body."""
        a, centre = self.m.wheel(s)[0], self.m.instant_centre(s)
        t, n, base, height, contact = self.stance(s)
        to_, r = (self.m.points["idler"], radius(self.idler["teeth"])) if self.idler else (self.m.points["chainring"], self.chainring)
        u, _, normal = run(a, self.sprocket, to_, r)
        p = (a[0] + self.sprocket * normal[0], a[1] + self.sprocket * normal[1])
        w = (centre[0] - a[0], centre[1] - a[1])
        # p + k u on the line a + j w
        k = ((p[0] - a[0]) * w[1] - (p[1] - a[1]) * w[0]) / (w[0] * u[1] - w[1] * u[0])
        pole = (p[0] + k * u[0], p[1] + k * u[1])
        slope = lambda q: dot((q[0] - contact[0], q[1] - contact[1]), n) / dot((q[0] - contact[0], q[1] - contact[1]), t)
        return slope(pole) * base / height, slope(centre) * base / height

    def check(self, s):
        h = mpf("1e-15")
        if 0 < s < self.m.stroke:
            close(mp.diff(lambda x: self.chain(x)[0], s, h=h), self.chain(s)[1], mpf("1e-15"), "rate of the chain")
            if self.ground == "level":
                per_travel = mp.diff(self.rolling, s, h=h) / self.m.ratio(s)
                _, _, base, height, _ = self.stance(s)
                close(per_travel * self.wheel * self.chainring / self.sprocket * base / height, self.squat(s), mpf("1e-15"), "kickback identity")
        if self.ring_on == "frame" and not (self.idler and self.idler["on"] != "frame") and abs(self.m.turning(s, self.m.carrier)) > mpf("1e-12"):
            squat, rise = self.by_lines(s)
            close(squat, self.squat(s), mpf("1e-25"), "anti-squat by lines")
            if self.caliper == self.m.carrier:
                close(rise, self.rise(s), mpf("1e-25"), "anti-rise by lines")


def given(name, chainring, sprocket, ground, idler=None, brake_on=None, at=None, **other):
    mechanism = named(name)
    stroke = si(mechanism["stroke"])
    ring = {k: other.pop(k) for k in ("chainring_at", "chainring_on") if k in other}
    out = {"mechanism": mechanism, "drivetrain": {"chainring": chainring, "sprocket": sprocket, **({"idler": idler} if idler else {}), **ring},
           "wheel_radius": "370 mm", "front_axle_x": "780 mm", "mass_centre": mm(60, 1120), "ground": ground,
           **({"brake_on": brake_on} if brake_on else {}), **other}
    out["at"] = at or [to(stroke * k / 10, "mm") for k in range(11)]
    return out


TOLERANCE = {"anti_squat": 1e-11, "anti_rise": 1e-11, "chain_growth": "1e-9 mm", "kickback_wheel_fixed": "1e-9 deg", "kickback_wheel_rolling": "1e-9 deg"}
TWICE = "rate of the chain by numerical differentiation, anti-squat against the kickback or by the construction of two lines"


def add(spec, note, digits=None):
    """Adds a case; digits are those of the other program at the last pose."""
    drive = Drive(spec)
    xs = [si(s) for s in spec["at"]]
    for s in xs:
        drive.check(s)
    out = {"anti_squat": num([drive.squat(s) for s in xs]), "anti_rise": num([drive.rise(s) for s in xs]), "chain_growth": to([drive.growth(s) for s in xs], "mm"),
           "kickback_wheel_fixed": to([drive.fixed(s) for s in xs], "deg"), "kickback_wheel_rolling": to([drive.rolling(s) for s in xs], "deg")}
    if spec["ground"] == "front":  # rolling is defined on the level
        del out["kickback_wheel_rolling"]
    for output, last in (digits or {}).items():
        a, b = si(out[output][-1]), si(last)
        assert abs(a - b) <= mpf("1e-14") * max(1, abs(b)), (note, output, a, b)
    g.add("linkage.drivetrain", spec, out, {k: v for k, v in TOLERANCE.items() if k in out}, TWICE + ("; last pose by a separate program" if digits else ""), note)


# At full stroke, by a program written separately, mpmath at 40 digits: anti-squat
# and anti-rise on both grounds, chain growth in mm, kickback fixed and rolling in degrees.
DIGITS = {
    ("a1", 50, None): ("0.8305520123725202", "0.7750162906593705", "0.9113809323365698", "0.8590891222885667", "32.470005042867314", "28.716617991115434", "27.01575825622474"),
    ("a1", 21, None): ("0.9536770015124749", "0.7750162906593705", "1.0273140353135044", "0.8590891222885667", "15.129361206928985", "13.380474861503588", "12.663913921172492"),
    ("a1", 10, None): ("1.167020723356199", "0.7750162906593705", "1.22819608084105", "0.8590891222885667", "8.498281320670229", "7.515918089465391", "7.170312933942154"),
    ("c1", 50, None): ("0.563801812641334", "0.6842737083512488", "0.6708650497281448", "0.7822116423866107", "31.37118088725412", "27.744812982939568", "23.11048528202708"),
    ("c1", 21, None): ("0.42785727103068105", "0.6842737083512488", "0.5452178071935734", "0.7822116423866107", "11.063888471916298", "9.784952553129314", "7.832540989114187"),
    ("c1", 10, None): ("0.1637547708352905", "0.6842737083512488", "0.3011201001221439", "0.7822116423866107", "3.326889310436754", "2.9423158173338297", "2.000646429221449"),
    ("d1", 24, None): ("1.36718889296437", "0.7365455829754678", "1.4277564636628601", "0.83777672091805", "31.85036160531894", "30.03985555845687", "30.20483547284628"),
    ("a2", 24, None): ("3.2922040268869006", "1.036000686309233", "3.286414615391149", "1.1654362098098425", "70.00388887924692", "61.91175308361785", "65.45850086230425"),
    ("a2", 24, "frame"): ("0.053425928803164345", "1.036000686309233", "0.24175180377307204", "1.1654362098098425", "2.9924048867772166", "2.646496293883545", "6.193244072569943"),
    ("a2", 24, "swingarm"): ("0.49014327934787466", "1.036000686309233", "0.6522946184162127", "1.1654362098098425", "13.096237238752058", "11.582370911546153", "15.129118690232552"),
    ("c3", 21, None): ("0.4242577446835193", "0.22811990872382382", "0.5042332228544866", "0.31744833447527543", "8.607541240257808", "7.6125480520537625", "6.929739736140085"),
}
IDLER_ON_FRAME = {"teeth": 16, "at": mm(-18, 196), "on": "frame"}
IDLER_ON_SWINGARM = {"teeth": 16, "at": mm(-48, 200), "on": "swingarm"}
RINGS = [("a1", 32, 50, None), ("a1", 32, 21, None), ("a1", 32, 10, None), ("c1", 32, 50, None), ("c1", 32, 21, None), ("c1", 32, 10, None), ("d1", 30, 24, None),
         ("a2", 32, 24, None), ("a2", 32, 24, IDLER_ON_FRAME), ("a2", 32, 24, IDLER_ON_SWINGARM), ("c3", 32, 21, None)]

g = file.group(mpmath_source(SCRIPT, "invented bikes, eleven poses each, on both grounds"), "computed", 1)
for name, chainring, sprocket, idler in RINGS:
    key = (name, sprocket, idler and idler["on"])
    squat, rise, squat_front, rise_front, growth, fixed, rolling = DIGITS[key]
    chain = {"chain_growth": f"{growth} mm", "kickback_wheel_fixed": f"{fixed} deg"}
    note = f"{name}, {chainring} × {sprocket}" + (f", idler on the {idler['on']}" if idler else "")
    add(given(name, chainring, sprocket, "level", idler), note + ", level", {"anti_squat": squat, "anti_rise": rise, **chain, "kickback_wheel_rolling": f"{rolling} deg"})
    add(given(name, chainring, sprocket, "front", idler), note + ", front axle in place", {"anti_squat": squat_front, "anti_rise": rise_front, **chain})

g = file.group(mpmath_source(SCRIPT, "a floating caliper, other idlers, other bikes"), "computed", 101)
FLOAT = {  # anti-rise at full stroke, by the other program
    ("chainstay", "level"): "0.6848528741555528", ("chainstay", "front"): "0.7827469385111843", ("rocker", "level"): "2.4613869476777035", ("rocker", "front"): "2.424715089362457"}
for body in ("chainstay", "rocker"):
    for ground in ("level", "front"):
        add(given("c1", 32, 21, ground, brake_on=body), f"c1, caliper on the {body}", {"anti_rise": FLOAT[body, ground]})
add(given("c1", 32, 21, "level", brake_on="seatstay"), "c1, caliper on the axle's own body, named: as without a name")
add(given("a1", 32, 21, "level", brake_on="frame"), "a caliper on the frame does not turn: no chain, only the axle's path counts")
add(given("d1", 32, 32, "level"), "chainring and sprocket of one size: the run is parallel to the line of centres")
add(given("a2", 32, 24, "front", {"teeth": 14, "at": mm(-30, 190), "on": "frame"}, brake_on="frame"), "idler on the frame, caliper on the frame")
add(given("d1", 30, 21, "level", {"teeth": 16, "at": mm(-78, 110), "on": "lower"}), "idler on a link")
add(given("d1", 30, 21, "front", {"teeth": 16, "at": mm(-78, 110), "on": "lower"}, brake_on="upper"), "idler on one link, caliper on the other")
add(given("c2", 34, 17, "level", {"teeth": 12, "at": mm(-20, 150), "on": "rocker"}), "idler on the rocker")
add(given("d2", 32, 24, "level", {"teeth": 16, "at": mm(-60, 170), "on": "rear"}), "idler on the axle's own body: only the run from it to the chainring changes")
add(given("f2", 30, 18, "front"), "six-bar")
add(given("e1", 30, 18, "level", wheel_radius="0.345 m", front_axle_x="75 cm", mass_centre=["2 in", "1.05 m"]), "other units, another wheel")
add(given("b1", 36, 28, "level", mass_centre=mm(-150, 1300)), "the mass centre further back: on level ground only its height counts")
add(given("b1", 36, 28, "front", mass_centre=mm(-150, 1300)), "the same with the front axle in place, where that tilts the ground below it")
IC = to(mpf("14.46784191624455376402535") / 1000, "mm", 17)
add(given("c3", 32, 21, "level", at=[IC]), "no instant centre at this pose: the measures are as smooth as ever")
add(given("c3", 32, 21, "front", at=[IC]), "the same with the front axle in place")
for carrier in ("seatstay", "chainstay"):
    spec = given("c1", 32, 21, "level")
    spec["mechanism"].update(axle="H", carrier=carrier)
    add(spec, f"the axle is a pivot of two bodies, and the {carrier} carries wheel and caliper")

g = file.group(mpmath_source(SCRIPT, "a chainring off the bottom bracket or on a moving body, a front wheel of another size"), "computed", 201)
for ground in ("level", "front"):
    add(given("c1", 20, 14, ground, chainring_at=mm(25, 110), front_wheel_radius="300 mm"), "chainring off the bottom bracket, a smaller front wheel")
add(given("a2", 20, 14, "level", chainring_at=mm(-40, 150), chainring_on="swingarm"), "chainring on the wheel's own body: anti-squat is the anti-rise of its brake")
add(given("d1", 20, 14, "front", chainring_at=mm(-30, 95), chainring_on="lower", front_wheel_radius="0.42 m"), "chainring on a link, a larger front wheel")
add(given("a2", 20, 24, "front", {"teeth": 14, "at": mm(-18, 196), "on": "frame"}, chainring_at=mm(-60, 60), chainring_on="swingarm"), "chainring on the swingarm, idler on the frame")

file.write()
