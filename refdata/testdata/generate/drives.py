"""Chain and brake on a suspension, at 50 digits.

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
rolls.
"""
from mpmath import mp, mpf

from casefile import close, si, to
from mechanisms import Mechanism, named

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
