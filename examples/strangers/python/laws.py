"""Spring laws: a force that resists compression over a travel from full extension.

Every law has its travel, force(x), rate(x, side) and energy(x); position(F) is
the travel at which it carries F. side is +1 for the value of the way on and -1
for that of the way back: they differ where coils close or a spring begins.
"""

from mpmath import mp, mpf

import coils
from bracket import root
from chambers import AirSpring

CLOSE = mpf(10) ** -30  # relative; smaller differences are rounding


def same(a, b):
    return abs(a - b) <= CLOSE * max(abs(a), abs(b))


class Law:
    """What is common to all laws."""

    travel = None

    def inside(self, x):
        """The nearest travel that the law has."""
        return min(max(mpf(x), mpf(0)), self.travel)

    def side(self, x):
        """The side from which a rate is taken: at full travel there is no way on."""
        return -1 if same(x, self.travel) else 1

    def position(self, force):
        """The least travel at which the force is reached, 0 or the full travel beyond them."""
        if force <= self.force(0):
            return mpf(0)
        if force >= self.force(self.travel):
            return self.travel
        return root(lambda x: self.force(x) - force, 0, self.travel)


class Linear(Law):
    def __init__(self, rate, travel, preload=0):
        self.k, self.travel, self.preload = rate, mpf(travel), mpf(preload)

    def force(self, x):
        return self.k * (x + self.preload)

    def rate(self, x, side=1):
        return self.k

    def energy(self, x):
        return self.k * ((x + self.preload) ** 2 - self.preload**2) / 2

    def position(self, force):
        return self.inside(force / self.k - self.preload)


class LinearPitch(Law):
    """Coils of which the gap grows evenly: they close one after the other.

    u = F/k1 is the compression of a single open coil.
    """

    def __init__(self, wire, mean, coils_, modulus, gaps):
        self.k1 = modulus * wire**4 / (8 * mean**3)
        self.n = coils_
        self.g, self.h = min(gaps), abs(gaps[1] - gaps[0])
        self.travel = self.n * (gaps[0] + gaps[1]) / 2

    def compression(self, x):
        beyond = x / self.n - self.g
        if beyond <= 0 or self.h == 0:
            return x / self.n
        return self.g + self.h * (1 - mp.sqrt(max(mpf(0), 1 - 2 * beyond / self.h)))

    def force(self, x):
        return self.k1 * self.compression(x)

    def rate(self, x, side=1):
        u = self.compression(x)
        share = 1 if u <= self.g or self.h == 0 else 1 - (u - self.g) / self.h
        return self.k1 / self.n / max(share, mpf("0.001"))

    def energy(self, x):
        u = self.compression(x)
        v = u - self.g if self.h and u > self.g else 0
        # dx = n·(1 − v/h)·du; ∫ k₁·u dx over the open part and, past it, over v.
        start = u - v
        energy = start**2 / 2
        if v:
            energy += start * (v - v**2 / (2 * self.h)) + v**2 / 2 - v**3 / (3 * self.h)
        return self.n * self.k1 * energy

    def position(self, force):
        u = min(max(force / self.k1, mpf(0)), self.g + self.h)
        v = u - self.g if self.h and u > self.g else 0
        return self.n * (u - (v**2 / (2 * self.h) if v else 0))


class Series(Law):
    """Springs on end share the force; each moves between its forces at its two ends."""

    def __init__(self, springs):
        self.springs = springs
        self.travel = sum(s.travel for s in springs)
        self.starts = [s.force(mpf(0)) for s in springs]
        self.stops = [s.force(s.travel) for s in springs]
        self.corners = sorted(set(self.starts + self.stops))
        self.places = [self.position(f) for f in self.corners]

    def position(self, force):
        return sum((s.position(force) for s in self.springs), mpf(0))

    def force(self, x):
        if x >= self.places[-1] or same(x, self.travel):
            # The force with which the whole has arrived at its full travel.
            return next(f for f, p in zip(self.corners, self.places) if same(p, self.travel))
        # The last corner at x or before: after a jump, the force past it.
        i = max(j for j, p in enumerate(self.places) if p <= x or same(p, x) or j == 0)
        if same(self.places[i], x) or x <= self.places[0]:
            return self.corners[i]
        return root(lambda f: self.position(f) - x, self.corners[i], self.corners[i + 1])

    def moving(self, force, side):
        for s, start, stop in zip(self.springs, self.starts, self.stops):
            begun = start < force or (same(start, force) and side > 0)
            ended = stop < force or (same(stop, force) and side > 0)
            if begun and not ended:
                yield s

    def rate(self, x, side=1):
        force = self.force(x)
        moving = list(self.moving(force, side))
        return 1 / sum(1 / s.rate(s.position(force), side) for s in moving)

    def energy(self, x):
        force = self.force(x)
        return sum(s.energy(s.position(force)) for s in self.springs)


class Preloaded(Law):
    """A law from some travel of its own on."""

    def __init__(self, law, preload):
        self.law, self.preload = law, preload
        self.travel = law.travel - preload

    def force(self, x):
        return self.law.force(x + self.preload)

    def rate(self, x, side=1):
        return self.law.rate(x + self.preload, side)

    def energy(self, x):
        return self.law.energy(x + self.preload) - self.law.energy(self.preload)

    def position(self, force):
        return self.inside(self.law.position(force) - self.preload)


class Parallel(Law):
    """Springs side by side share the travel, each from where it begins."""

    def __init__(self, members):
        self.members = members  # (law, starts_at)
        self.travel = min(start + law.travel for law, start in members)

    def begun(self, x, side=1):
        for law, start in self.members:
            if x > start and not same(x, start) or side > 0 and same(x, start):
                yield law, min(max(x - start, mpf(0)), law.travel)

    def force(self, x):
        return sum((law.force(own) for law, own in self.begun(x)), mpf(0))

    def rate(self, x, side=1):
        return sum((law.rate(own, side) for law, own in self.begun(x, side)), mpf(0))

    def energy(self, x):
        return sum((law.energy(own) for law, own in self.begun(x)), mpf(0))


class Air(Law):
    """An air spring as a law."""

    def __init__(self, spring):
        self.spring, self.travel = spring, spring.travel

    def force(self, x):
        return self.spring.force(x)

    def rate(self, x, side=1):
        return self.spring.rate(x, side)

    def energy(self, x):
        return self.spring.energy(x)


def law_of(given):
    """The law that the form law gives."""
    if given.linear:
        return Linear(given.linear.rate, given.linear.travel, given.linear.preload or 0)
    if given.dual_rate:
        d = given.dual_rate
        pair = Series([Linear(d.soft_rate, d.soft_travel), Linear(d.main_rate, d.main_travel)])
        return Preloaded(pair, d.preload or mpf(0))
    if given.series:
        return Series([member.law for member in given.series])
    if given.parallel:
        return Parallel([(m.law.law, m.starts_at or mpf(0)) for m in given.parallel])
    if given.groups:
        return Series([Linear(g.rate, g.gap) for g in given.groups])
    if given.linear_pitch:
        p = given.linear_pitch
        gaps = (p.first_gap or mpf(0), p.last_gap or mpf(0))
        return LinearPitch(p.wire_diameter, p.mean_diameter, p.active_coils, p.shear_modulus, gaps)
    if given.coil:
        coil = coils.Coil(given.coil)
        preload = given.coil.preload or mpf(0)
        return Linear(coil.rate, coil.free_length - coil.solid_length - preload, preload)
    return Air(AirSpring(given.air))


def check_dual_rate(given):
    if given.good("soft_rate", "main_rate", "soft_travel", "main_travel"):
        if given.main_rate * given.main_travel <= given.soft_rate * given.soft_travel:
            given.refuse("main_travel")
    if given.good("soft_travel", "main_travel", "preload") and given.preload >= given.soft_travel + given.main_travel:
        given.refuse("preload")


def check_linear_pitch(given):
    if given.good("wire_diameter", "mean_diameter") and given.wire_diameter >= given.mean_diameter:
        given.refuse("wire_diameter")
    if given.right("first_gap", "last_gap") and not given.first_gap and not given.last_gap:
        given.refuse("last_gap")


def check_law(given):
    if not given.clean():
        return
    law = law_of(given)
    for member in given.parallel or []:
        if member.starts_at and member.starts_at >= law.travel:
            member.refuse("starts_at")
    if given.clean():
        given.set("law", law)


def check_spring_law(given):
    if given.at == [] and not given.load or given.load == [] and not given.at:
        given.refuse("at")
    if given.good("law", "load") and given.right("at"):
        law = given.law.law
        for i, load in enumerate(given.load):
            if load < law.force(mpf(0)) and not same(load, law.force(mpf(0))):
                given.refuse_as("topped_out")
            elif load > law.force(law.travel) and not same(load, law.force(law.travel)):
                given.refuse_as("bottomed_out")
            elif abs(law.force(law.position(load)) - load) > mpf("1e-20") * abs(load):
                given.refuse(f"load[{i}]")


def spring_law(given):
    law = given.law.law
    answer = {}
    if given.at:
        places = [law.inside(x) for x in given.at]
        answer["force"] = [law.force(x) for x in places]
        answer["rate"] = [law.rate(x, law.side(x)) for x in places]
        answer["energy"] = [law.energy(x) for x in places]
    if given.load:
        answer["travel"] = [law.position(load) for load in given.load]
    return answer


RULES = {
    "dual_rate": check_dual_rate,
    "linear_pitch": check_linear_pitch,
    "law": check_law,
    "spring.law": check_spring_law,
}
COMPUTATIONS = {"spring.law": spring_law}
