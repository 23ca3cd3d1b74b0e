"""The pump: a change of fill, cycle by cycle; a spring known by its gauge and its ring."""

from mpmath import matrix, mp, mpf

from bracket import root
from chambers import ENOUGH, GREATEST_FILL, circle

MOST_CYCLES = 1000


class TooManyCycles(Exception):
    pass


class PullsTooFar(Exception):
    """The travel given for letting out is not beyond where the spring stands anyway."""


class TopUp:
    """A spring with a negative chamber between pump and cycling.

    p is the pressure of the positive chamber at full extension, q that of the
    negative one.
    """

    def __init__(self, given):
        self.area, self.shaft = circle(given.bore), circle(given.shaft)
        self.ring = self.area - self.shaft
        self.room, self.negative_room = given.positive_volume, given.negative_volume
        self.port = given.port_travel or mpf(0)
        self.room_at_port = self.room - self.area * self.port
        self.negative_room_at_port = self.negative_room + self.ring * self.port
        self.ambient, self.fill, self.within = given.ambient, given.fill, given.within
        self.old_fill, self.pull_in = given.old_fill or mpf(0), given.pull_in
        self.lowered = self.fill < self.old_fill

    def shared(self, p):
        """The negative chamber's pressure after cycling, by that of the positive one."""
        return p * self.room / self.room_at_port * self.negative_room_at_port / self.negative_room

    def positive_at(self, p, x):
        return p * self.room / (self.room - self.area * x)

    def negative_at(self, q, x):
        return q * self.negative_room / (self.negative_room + self.ring * x)

    def balance(self, p, q, x):
        return self.area * self.positive_at(p, x) - self.ring * self.negative_at(q, x) - self.shaft * self.ambient

    def stands(self, p, q):
        """Where the spring stands without a load."""
        if not self.lowered or self.port == 0 or self.balance(p, q, mpf(0)) >= 0:
            return mpf(0)
        return root(lambda x: self.balance(p, q, x), 0, self.port)

    def run(self):
        p = self.old_fill + self.ambient
        q = self.ambient if self.old_fill == 0 and not self.lowered else self.shared(p)
        if self.lowered:
            wanted = self.fill + self.ambient
            least = self.stands(wanted, self.shared(wanted))
            if self.pull_in is None:
                self.pull_in = least + (self.port - least) * 3 / 4
            elif self.pull_in <= least:
                raise PullsTooFar
        self.readings, self.negative, self.gauge, self.places = [], [], [], []
        reading, self.held = self.old_fill, False
        while not self.readings or abs(self.fill - reading) > self.within:
            if len(self.readings) == MOST_CYCLES:
                raise TooManyCycles
            if reading != self.fill:
                p = self.fill + self.ambient
                self.held = False
                if self.lowered:
                    least = self.least_pressure(q)
                    self.held = least > p
                    p = max(p, least)
                self.note(p, q)
            both = (p * self.room + q * self.negative_room) / (self.room_at_port + self.negative_room_at_port)
            p, q = both * self.room_at_port / self.room, both * self.negative_room_at_port / self.negative_room
            self.note(p, q)
            reading = p - self.ambient
            self.readings.append(reading)
            self.negative.append(q)

    def least_pressure(self, q):
        """To which the positive chamber may be let out: the spring is then pulled in by pull_in."""
        holds = self.ring * self.negative_at(q, self.pull_in) + self.shaft * self.ambient
        return holds / self.area * (self.room - self.area * self.pull_in) / self.room

    def note(self, p, q):
        x = self.stands(p, q)
        self.places.append(x)
        self.gauge.append(self.positive_at(p, x) - self.ambient)


def check_topup(given):
    if given.good("bore", "shaft") and given.shaft >= given.bore:
        given.refuse("shaft")
    if given.good("bore", "positive_volume") and given.right("port_travel"):
        if circle(given.bore) * (given.port_travel or 0) / given.positive_volume > ENOUGH:
            given.refuse("positive_volume")
    if given.good("pull_in") and given.right("port_travel") and given.pull_in >= (given.port_travel or 0):
        given.refuse("pull_in")
    if not given.all_clean():
        return
    topup = TopUp(given)
    try:
        topup.run()
    except PullsTooFar:
        given.refuse("pull_in")
    except TooManyCycles:
        let_out = "pull_in" if given.pull_in is not None else "fill"
        given.refuse(let_out if topup.held else "within")
    else:
        given.set("answer", topup)


def topup(given):
    t = given.answer
    answer = {
        "cycles": len(t.readings),
        "reading": t.readings,
        "negative_pressure": t.negative,
        "gauge": t.gauge,
        "stands": t.places,
    }
    if t.lowered:
        answer["pull_in"] = t.pull_in
    return answer


class NoSuchSpring(Exception):
    pass


class SealedSpring:
    """Φ(s) = a/(h − s) − b/(k + s), b = 0 without a negative chamber: (F + A·p_a)/(fill + p_a)."""

    def __init__(self, parameters):
        self.a, self.h, self.b, self.k = (*parameters, mpf(0), mpf(1))[:4]

    def valid(self, deepest):
        return self.a > 0 and self.h > deepest and self.b >= 0 and self.k > 0

    def phi(self, s):
        return self.a / (self.h - s) - self.b / (self.k + s)

    def slope(self, s):
        return self.a / (self.h - s) ** 2 + self.b / (self.k + s) ** 2

    def stroke(self, phi):
        """The only stroke between −k and h with that Φ."""
        if not self.b:
            return self.h - self.a / phi
        # phi·s² + p·s + q = 0
        p = self.a + self.b - phi * (self.h - self.k)
        q = self.a * self.k - self.b * self.h - phi * self.h * self.k
        return (-p + mp.sqrt(p**2 - 4 * phi * q)) / (2 * phi)


def solved(rows, right):
    """Least squares of a linear system, by its normal equations."""
    A, y = matrix(rows), matrix(right)
    return list(mp.lu_solve(A.T * A, A.T * y))


def first_guess(strokes, phis, negative):
    """The spring through as many readings as it has parameters, near more."""
    try:
        if not negative:
            # 1/Φ = h/a − s/a
            constant, slope = solved([[1, s] for s in strokes], [1 / p for p in phis])
            return [-1 / slope, -constant / slope]
        # Φ·hk + Φs·(h − k) − (ak − bh) − (a + b)·s = Φs²
        scale = max(strokes)
        t = [s / scale for s in strokes]
        rows = [[p, p * s, -1, -s] for s, p in zip(t, phis)]
        hk, difference, r, total = solved(rows, [p * s**2 for s, p in zip(t, phis)])
        root_ = mp.sqrt(difference**2 + 4 * hk)
        if not isinstance(root_, mpf):
            raise NoSuchSpring
        h = (difference + root_) / 2
        k = h - difference
        a = (r + total * h) / (h + k)
        return [a * scale, h * scale, (total - a) * scale, k * scale]
    except ZeroDivisionError:
        raise NoSuchSpring from None


def calibrated(readings, ambient, outside, negative, ring_error, gauge_error):
    """The spring that readings of (fill, stroke, force) tell of."""
    strokes = [s for _, s, _ in readings]
    pressures = [g + ambient for g, _, _ in readings]
    phis = [(f + outside * ambient) / p for (_, _, f), p in zip(readings, pressures)]
    needed = 4 if negative else 2
    parameters = first_guess(strokes, phis, negative)
    deepest = max(strokes)

    def residuals(parameters):
        spring = SealedSpring(parameters)
        out = []
        for s, phi, p in zip(strokes, phis, pressures):
            there = spring.stroke(phi)
            spread = phi * gauge_error / p / spring.slope(there)
            out.append((s - there) / mp.sqrt(ring_error**2 + spread**2))
        return out

    def allowed(parameters):
        return all(isinstance(p, mpf) for p in parameters) and SealedSpring(parameters).valid(deepest)

    if not allowed(parameters):
        raise NoSuchSpring
    if len(readings) > needed:
        parameters = least(residuals, parameters, allowed)
    return SealedSpring(parameters)


def least(residuals, parameters, allowed):
    """The parameters of the least sum of squares, by Gauss and Newton with damping."""
    damping = mpf("1e-3")
    now = residuals(parameters)
    total = sum(r**2 for r in now)
    for _ in range(400):
        columns = []
        for i, p in enumerate(parameters):
            step = abs(p) * mpf("1e-20")
            moved = parameters[:i] + [p + step] + parameters[i + 1 :]
            columns.append([(b - a) / step * abs(p) for a, b in zip(now, residuals(moved))])
        J = matrix(columns).T
        normal, gradient = J.T * J, J.T * matrix(now)
        for i in range(len(parameters)):
            normal[i, i] *= 1 + damping
        change = mp.lu_solve(normal, -gradient)
        moved = [p + abs(p) * c for p, c in zip(parameters, change)]
        if allowed(moved) and sum(r**2 for r in residuals(moved)) < total:
            parameters, now, damping = moved, residuals(moved), damping / 100
            total = sum(r**2 for r in now)
        else:
            damping = max(damping, mpf("1e-12")) * 10
        if max(abs(c) for c in change) < mpf("1e-16"):
            return parameters
    raise NoSuchSpring


def check_reading(given):
    if given.good("stroke", "stroke_back") and given.stroke_back < given.stroke:
        given.refuse("stroke_back")


def stroke_of(reading):
    return reading.stroke if reading.stroke_back is None else (reading.stroke + reading.stroke_back) / 2


def too_few_strokes(given):
    """Names readings at too few different strokes; looked at where every stroke is good."""
    if given.readings is None or not given.right("negative_chamber") or given.negative_chamber is None:
        return
    if all(r is not None and r.good("stroke") and r.right("stroke_back") for r in given.readings):
        if len({stroke_of(r) for r in given.readings}) < (4 if given.negative_chamber else 2):
            given.refuse("readings")


def spring_of(given, force_of):
    """The spring that readings tell of; None, with the readings named, where there is none."""
    readings = [(r.fill, stroke_of(r), force_of(r)) for r in given.readings]
    ring = given.ring_error or mpf("0.001")
    outside = circle(given.outside_diameter)
    try:
        return calibrated(readings, given.ambient, outside, given.negative_chamber, ring, given.gauge_error or mpf(0))
    except NoSuchSpring:
        given.refuse("readings")
        return None


def fill_by(given, spring, force, at, names):
    """The fill for a force at a stroke; names are the fields to blame, of force and stroke."""
    if at >= spring.h or spring.phi(at) <= 0:
        given.refuse(names[1])
        return
    fill = (force + circle(given.outside_diameter) * given.ambient) / spring.phi(at) - given.ambient
    if not 0 < fill <= GREATEST_FILL:
        given.refuse(names[0])
    given.set("answer", fill)


def check_calibrate(given):
    too_few_strokes(given)
    known = given.good("readings", "ambient", "outside_diameter") and given.right("ring_error", "gauge_error")
    if known and given.negative_chamber is not None:
        spring = spring_of(given, lambda r: r.force or mpf(0))
        if given.all_clean():
            fill_by(given, spring, given.force, given.at or mpf(0), ("force", "at"))


def calibrate(given):
    return {"fill": given.answer}


RULES = {
    "airspring.topup": check_topup,
    "gauge_reading": check_reading,
    "load_reading": check_reading,
    "airspring.calibrate": check_calibrate,
}
COMPUTATIONS = {"airspring.topup": topup, "airspring.calibrate": calibrate}
