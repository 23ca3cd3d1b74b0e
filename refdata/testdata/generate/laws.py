"""Force–travel laws at 50 digits, as the case format describes them.

law(spec) makes one from the "law" of a case. A law has travel, force(x),
rate(x), energy(x) in SI, and kinks, the travels at which its rate jumps.
confirm(law) checks each against numerical differentiation and quadrature.
"""
from mpmath import mp, mpf

from casefile import close, si


class Linear:
    """F = k (x + preload)."""

    def __init__(self, rate, travel, preload=mpf(0)):
        self.k, self.travel, self.preload, self.kinks = rate, travel, preload, []

    def force(self, x):
        return self.k * (x + self.preload)

    def rate(self, x):
        return self.k

    def at(self, force):
        return force / self.k - self.preload

    def energy(self, x):
        return self.k * x * (x / 2 + self.preload)


class Groups:
    """Coil groups in series: each carries F and is compressed by min(F/k, gap)."""

    def __init__(self, groups):
        self.groups = sorted(groups, key=lambda g: g[0] * g[1])
        self.travel = sum(g for _, g in groups)
        self.kinks = [self._travel(k * g) for k, g in self.groups][:-1]

    def _travel(self, force):
        return sum(min(force / k, g) for k, g in self.groups)

    at = _travel

    def force(self, x):
        # Between two closures the travel is linear in the force.
        low = mpf(0)
        for k, g in self.groups[:-1]:
            if x <= self._travel(k * g):
                break
            low = k * g
        return low + (x - self._travel(low)) * self.rate(x, low)

    def rate(self, x, low=None):
        """The right-hand rate, the left-hand one at full travel."""
        if low is None:
            low = mpf(0)
            for k, g in self.groups[:-1]:
                if x >= self._travel(k * g):
                    low = k * g
        return 1 / sum(1 / k for k, g in self.groups if k * g > low)

    def energy(self, x):
        f = self.force(x)
        return sum(k * min(f / k, g) ** 2 / 2 for k, g in self.groups)


class LinearPitch:
    """A coil whose gap per turn varies linearly from g0 to g1 along n coils.

    With u = F/K, K the rate of one coil, the coils whose gap is less than u
    are closed: the travel is n u up to u = g0 and n (u - (u-g0)²/(2(g1-g0)))
    from there to u = g1, where all are closed.
    """

    def __init__(self, d, diameter, n, shear, first, last):
        self.n, self.one = n, shear * d**4 / (8 * diameter**3)
        self.g0, self.g1 = min(first, last), max(first, last)
        self.travel, self.kinks = n * (self.g0 + self.g1) / 2, [n * self.g0]

    def _u(self, x):
        if x <= self.n * self.g0:
            return x / self.n
        h = self.g1 - self.g0
        return self.g0 + h - mp.sqrt(h * h - 2 * h * (x / self.n - self.g0))

    def force(self, x):
        return self.one * self._u(x)

    def at(self, force):
        u = force / self.one
        x = self.n * u
        return x if u <= self.g0 else x - self.n * (u - self.g0) ** 2 / (2 * (self.g1 - self.g0))

    def rate(self, x):
        u = self._u(x)
        open_part = (self.g1 - u) / (self.g1 - self.g0) if u > self.g0 else mpf(1)
        return self.one / (self.n * open_part)

    def energy(self, x):
        u = self._u(x)
        e = self.force(x) * x - self.n * self.one * u * u / 2
        if u > self.g0:
            e += self.n * self.one * (u - self.g0) ** 3 / (6 * (self.g1 - self.g0))
        return e


class Series:
    """Laws on end: one force for all, travels add. A member stands still until
    the force reaches the one it has at full extension."""

    def __init__(self, *members):
        self.members = members
        self.travel = sum(m.travel for m in members)
        self.kinks = []
        for m in members:
            for x in [mpf(0), m.travel] + list(m.kinks):
                at = self._travel(m.force(x))
                if 0 < at < self.travel:
                    self.kinks.append(at)

    def _part(self, m, force):
        if force <= m.force(mpf(0)):
            return mpf(0)
        if force >= m.force(m.travel):
            return m.travel
        return invert(m, force)

    def _travel(self, force):
        return sum(self._part(m, force) for m in self.members)

    def force(self, x):
        low = min(m.force(mpf(0)) for m in self.members)
        high = max(m.force(m.travel) for m in self.members)
        return bisect(lambda f: self._travel(f) - x, low, high)

    def rate(self, x):
        f = self.force(x)
        moving = [m for m in self.members if m.force(mpf(0)) < f < m.force(m.travel)]
        return 1 / sum(1 / m.rate(invert(m, f)) for m in moving)

    def energy(self, x):
        f = self.force(x)
        return sum(m.energy(self._part(m, f)) for m in self.members)


class Parallel:
    """Laws side by side: forces add, each from the travel at which it starts."""

    def __init__(self, *members):
        self.members = members
        self.travel = min(start + m.travel for m, start in members)
        self.kinks = [k for m, start in members for k in [start] + [start + k for k in m.kinks] if 0 < k < self.travel]

    def _sum(self, method, x):
        return sum(getattr(m, method)(x - start) for m, start in self.members if x >= start)

    def force(self, x):
        return self._sum("force", x)

    def rate(self, x):
        return self._sum("rate", x)

    def energy(self, x):
        return self._sum("energy", x)


class Air:
    """An air spring: positive chamber, and where given a negative chamber
    equalised at a port, or a second chamber behind a free piston.

    The fill is the gauge reading of the positive chamber at full extension
    after slow (isothermal) equalisation at the port; from full extension on
    each chamber follows p V^n = const.
    """

    def __init__(self, bore, travel, positive_volume, fill, ambient, exponent, shaft=mpf(0),
                 negative_volume=None, port_travel=mpf(0), oil_volume=mpf(0), spacer_volume=mpf(0),
                 spacers=0, second_volume=None, second_fill=None):
        self.travel, self.n, self.pa = travel, exponent, ambient
        self.ap, self.shaft = mp.pi * bore**2 / 4, mp.pi * shaft**2 / 4
        self.an = self.ap - self.shaft if negative_volume is not None else mpf(0)
        if negative_volume is None:
            self.shaft = self.ap  # the ambient acts on the whole bore
        self.vp, self.vn = positive_volume - oil_volume - spacers * spacer_volume, negative_volume
        self.port = port_travel
        self.p0 = fill + ambient
        self.v2 = second_volume
        self.p2 = second_fill + ambient if second_volume is not None else None
        self.kinks = [k for k in [self.opening()] if k is not None and 0 < k < travel]
        if self.vn is None and self.v2 is None:
            self.at = lambda f: self.vp / self.ap * (1 - (self.p0 / (f / self.ap + self.pa)) ** (1 / self.n))
        if self.vn is not None:
            slow = Air(bore, travel, positive_volume, fill, ambient, mpf(1), oil_volume=oil_volume, spacer_volume=spacer_volume,
                       spacers=spacers, second_volume=second_volume, second_fill=second_fill)
            self.pn0 = slow.positive(port_travel) * (self.vn + self.an * port_travel) / self.vn

    def opening(self):
        """The travel at which the second chamber's piston begins to move."""
        if self.v2 is None:
            return None
        if self.p2 <= self.p0:
            return mpf(0)
        return self.vp / self.ap * (1 - (self.p0 / self.p2) ** (1 / self.n))

    def _second(self, x):
        return self.v2 is not None and x >= self.opening()

    def positive(self, x):
        v = self.vp - self.ap * x
        if self._second(x):
            m = 1 / self.n
            return ((self.vp * self.p0**m + self.v2 * self.p2**m) / (self.v2 + v)) ** self.n
        return self.p0 * (self.vp / v) ** self.n

    def negative(self, x):
        return self.pn0 * (self.vn / (self.vn + self.an * x)) ** self.n

    def force(self, x):
        f = self.ap * self.positive(x) - self.shaft * self.pa
        return f if self.vn is None else f - self.an * self.negative(x)

    def rate(self, x):
        v = self.vp - self.ap * x + (self.v2 if self._second(x) else 0)
        k = self.n * self.ap**2 * self.positive(x) / v
        if self.vn is not None:
            k += self.n * self.an**2 * self.negative(x) / (self.vn + self.an * x)
        return k

    def energy(self, x):
        w = -self.shaft * self.pa * x
        opening = self.opening()
        first = x if opening is None else min(x, opening)
        w += self._work(self.p0, self.vp, self.vp - self.ap * first)
        if x > first:
            at = max(first, mpf(0))
            whole = self.vp - self.ap * at + self.v2
            w += self._work(self.positive(at), whole, whole - self.ap * (x - at))
        if self.vn is not None:
            w += self._work(self.pn0, self.vn, self.vn + self.an * x)
        return w

    def _work(self, p, v, to):
        """Work on a gas from v to a smaller volume."""
        if self.n == 1:
            return p * v * mp.log(v / to)
        return p * v / (self.n - 1) * ((v / to) ** (self.n - 1) - 1)

    def rest(self):
        """Where the unloaded spring comes to rest: the zero of the force, or 0
        with the top-out stop carrying the rest."""
        if self.force(mpf(0)) >= 0:
            return mpf(0)
        return invert(self, mpf(0))


def bisect(f, low, high, steps=None):
    """The root of a rising f between low and high, to all digits, or after a
    number of steps."""
    for _ in range(steps or int(mp.prec) + 20):
        middle = (low + high) / 2
        if f(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def invert(law, force):
    """The travel at which a law has a force."""
    if hasattr(law, "at"):
        return law.at(force)
    return bisect(lambda x: law.force(x) - force, mpf(0), law.travel)


def air(spec):
    """An air spring from the text of a case."""
    values = {k: (v if k == "spacers" else si(v)) for k, v in spec.items()}
    return Air(**values)


def coil_rate(spec):
    """G d⁴/(8 D³ n) of a coil with a mean diameter and active coils given."""
    return si(spec["shear_modulus"]) * si(spec["wire_diameter"]) ** 4 / (8 * si(spec["mean_diameter"]) ** 3 * si(spec["active_coils"]))


SOLID_TURNS = {"plain": lambda n: n + 1, "plain_ground": lambda n: n + 1,
               "squared": lambda n: n + 3, "squared_ground": lambda n: n + 2}


def law(spec):
    """A law from the "law" of a case."""
    (kind, s), = spec.items()
    if kind == "linear":
        return Linear(si(s["rate"]), si(s["travel"]), si(s.get("preload", "0 mm")))
    if kind == "groups":
        return Groups([(si(g["rate"]), si(g["gap"])) for g in s])
    if kind == "linear_pitch":
        return LinearPitch(si(s["wire_diameter"]), si(s["mean_diameter"]), si(s["active_coils"]),
                           si(s["shear_modulus"]), si(s["first_gap"]), si(s["last_gap"]))
    if kind == "series":
        return Series(*[law(m) for m in s])
    if kind == "parallel":
        return Parallel(*[(law(m["law"]), si(m.get("starts_at", "0 mm"))) for m in s])
    if kind == "coil":
        preload = si(s.get("preload", "0 mm"))
        solid = SOLID_TURNS[s["ends"]](si(s["active_coils"])) * si(s["wire_diameter"])
        return Linear(coil_rate(s), si(s["free_length"]) - solid - preload, preload)
    if kind == "air":
        return air(s)
    raise ValueError(kind)


def confirm(law, xs, relative=mpf("1e-20")):
    """Checks rate and energy at travels xs by differentiating and integrating
    the force numerically, between the kinks."""
    for x in xs:
        inner = 0 < x < law.travel and all(abs(x - k) > mpf("1e-9") for k in law.kinks)
        if inner:
            close(law.rate(x), mp.diff(law.force, x), relative, f"rate at {x}")
        if x > 0:
            ends = [mpf(0)] + sorted({k for k in law.kinks if 0 < k < x}) + [x]
            close(law.energy(x), mp.quad(law.force, ends), relative, f"energy at {x}")
