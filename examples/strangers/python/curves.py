"""Curves: how far the wheel goes for a stroke of the spring.

Every curve has its full stroke and full travel, the places travel(s), ratio(s)
and slope(s), and stroke_at(w), the stroke of a travel. A stroke outside counts
as the nearer end.
"""

from mpmath import mp, mpf

from bracket import root
from interpolants import measured, monotone, smooth

CLOSE = mpf(10) ** -30
LEAST_RATIO, GREATEST_RATIO = mpf("0.001"), mpf(1000)
LEAST_LENGTH, GREATEST_LENGTH = mpf("1e-6"), mpf(1000)


class Curve:
    stroke = travel_full = None

    def inside(self, s):
        return min(max(mpf(s), mpf(0)), self.stroke)

    def stroke_at(self, w):
        if w <= 0:
            return mpf(0)
        if w >= self.travel_full:
            return self.stroke
        return root(lambda s: self.travel(s) - w, 0, self.stroke)


class Constant(Curve):
    def __init__(self, ratio, travel):
        self.constant, self.travel_full, self.stroke = ratio, travel, travel / ratio

    def travel(self, s):
        return self.constant * self.inside(s)

    def ratio(self, s):
        return self.constant

    def slope(self, s):
        return mpf(0)

    def stroke_at(self, w):
        return self.inside(w / self.constant)


class Fork(Constant):
    def __init__(self, head_angle, travel):
        self.head_angle = head_angle
        super().__init__(mp.sin(head_angle), travel * mp.sin(head_angle))
        self.stroke = travel


class OfTravels(Curve):
    """Travels at strokes."""

    def __init__(self, pieces):
        self.pieces, self.stroke = pieces, pieces.knots[-1]
        self.travel_full = pieces.value(self.stroke)
        self.ratios = pieces.extremes(1)

    def travel(self, s):
        return self.pieces.value(self.inside(s))

    def ratio(self, s):
        return self.pieces.value(self.inside(s), 1)

    def slope(self, s):
        return self.pieces.value(self.inside(s), 2)


class OfRatios(Curve):
    """Lever ratios at strokes."""

    def __init__(self, pieces):
        self.pieces, self.stroke = pieces, pieces.knots[-1]
        self.travel_full = pieces.integral(self.stroke)
        self.ratios = pieces.extremes()

    def travel(self, s):
        return self.pieces.integral(self.inside(s))

    def ratio(self, s):
        return self.pieces.value(self.inside(s))

    def slope(self, s):
        return self.pieces.value(self.inside(s), 1)


class OfRatiosAtTravels(Curve):
    """Lever ratios at travels: s(w) = ∫ dw/LR."""

    def __init__(self, pieces):
        self.pieces, self.travel_full = pieces, pieces.knots[-1]
        self.ratios = pieces.extremes()
        self.strokes = [mpf(0)]
        if self.ratios[0] > 0:
            for a, b in zip(pieces.knots, pieces.knots[1:]):
                self.strokes.append(self.strokes[-1] + self.quad(a, b))
        self.stroke = self.strokes[-1]

    def quad(self, a, b):
        return mp.quad(lambda w: 1 / self.pieces.value(w), [a, b])

    def stroke_at(self, w):
        w = min(max(w, mpf(0)), self.travel_full)
        i = self.pieces.piece(w)
        return self.strokes[i] + self.quad(self.pieces.knots[i], w)

    def travel(self, s):
        s = self.inside(s)
        i = max(j for j, at in enumerate(self.strokes[:-1]) if at <= s)
        low, high = self.pieces.knots[i], self.pieces.knots[i + 1]
        if s == self.strokes[i]:
            return low
        if s >= self.strokes[i + 1]:
            return high
        # Newton's method: ds/dw = 1/LR.
        w = low + (high - low) * (s - self.strokes[i]) / (self.strokes[i + 1] - self.strokes[i])
        for _ in range(30):
            step = (self.strokes[i] + self.quad(low, w) - s) * self.pieces.value(w)
            w = min(max(w - step, low), high)
            if abs(step) < mpf("1e-30"):
                break
        return w

    def ratio(self, s):
        return self.pieces.value(self.travel(s))

    def slope(self, s):
        w = self.travel(s)
        return self.pieces.value(w, 1) * self.pieces.value(w)


NEEDED = {"monotone": 2, "smooth": 4, "measured": 5}
NEEDED_OF_DEGREE = {4: 7, 5: 8}


def table_of(given):
    """The curve of a table whose columns are good."""
    method = given.method or "monotone"
    ratios = given.lever_ratio is not None
    x = given.stroke if given.stroke is not None else given.travel
    y = given.lever_ratio if ratios else given.travel
    if method == "measured":
        degree = degree_of(given, len(x))
        pieces = measured(x, y, range(degree) if ratios else range(1, degree + 1))
    else:
        pieces = (monotone if method == "monotone" else smooth)(x, y)
    if not ratios:
        return OfTravels(pieces)
    return OfRatios(pieces) if given.stroke is not None else OfRatiosAtTravels(pieces)


def degree_of(given, values):
    return given.degree or (3 if values < 7 else 4)


def check_table(given):
    method = given.method or "monotone"
    ratios = given.lever_ratio is not None
    if given.good("degree") and given.right("method") and method != "measured":
        given.refuse("degree")
    if ratios and given.stroke is not None and given.travel is not None:
        given.refuse("lever_ratio")
        return
    if ratios and given.stroke is None and given.travel is None and given.right("stroke", "travel"):
        given.refuse("stroke")
    columns = [name for name in ("stroke", "travel", "lever_ratio") if getattr(given, name) is not None]
    if not given.right("method", "degree"):
        return
    long_enough = True
    for name in columns:
        needed = NEEDED[method]
        if method == "measured":
            needed = max(needed, NEEDED_OF_DEGREE.get(given.degree, 0))
        if len(getattr(given, name)) < needed:
            given.refuse(name)
            long_enough = False
    if long_enough and len(columns) == 2 and len(getattr(given, columns[0])) != len(getattr(given, columns[1])):
        given.refuse(columns[1])
    if long_enough:
        for name in columns:
            if name != "lever_ratio" and given.right(name):
                check_places(given, name, method, name == columns[0])
    if not given.clean():
        return
    if method == "measured":
        places = getattr(given, columns[0])
        counted = [x for x in places if ratios or x != 0]
        coefficients = degree_of(given, len(places))
        if len(set(counted)) < coefficients or len(counted) <= coefficients:
            given.refuse(columns[0])
            return
    curve = table_of(given)
    low, high = curve.ratios
    ends = [curve.stroke, curve.travel_full] if ratios else []
    if low < LEAST_RATIO * (1 - CLOSE) or high > GREATEST_RATIO * (1 + CLOSE):
        given.refuse(columns[1])
    elif any(not LEAST_LENGTH <= end <= GREATEST_LENGTH for end in ends):
        given.refuse(columns[1])
    else:
        given.set("model", curve)


def check_places(given, name, method, first):
    """A column of strokes or travels, named by its first bad element."""
    values = getattr(given, name)
    last = len(values) - 1
    if method != "measured":
        apart = mpf("1e-9") * values[last] if first else 0
        for i, value in enumerate(values):
            if i == 0 and value != 0 or i > 0 and not steps(values[i - 1], value, apart):
                given.refuse(f"{name}[{i}]")
                return
        if not LEAST_LENGTH <= values[last] <= GREATEST_LENGTH:
            given.refuse(f"{name}[{last}]")
        return
    for i, value in enumerate(values):
        if value > GREATEST_LENGTH or value < (0 if first else -GREATEST_LENGTH):
            given.refuse(f"{name}[{i}]")
            return
    if first and (max(values) < LEAST_LENGTH or min(values) > max(values) / 10):
        given.refuse(name)


def steps(before, after, apart):
    return after > before and after - before >= apart * (1 - CLOSE)


def check_curve(given):
    if not given.clean():
        return
    if given.constant is not None:
        given.set("model", Constant(given.constant, given.travel))
    elif given.fork:
        given.set("model", Fork(given.fork.head_angle, given.fork.travel))
    else:
        given.set("model", given.table.model if given.table else OfMechanism(given.mechanism.model))


class OfMechanism(Curve):
    """The travel of a mechanism's axle."""

    def __init__(self, mechanism):
        self.mechanism, self.stroke = mechanism, mechanism.stroke
        self.start = mechanism.motion(mpf(0)).axle.place[1]
        self.travel_full = self.travel(self.stroke)

    def motion(self, s):
        return self.mechanism.motion(self.inside(s))

    def travel(self, s):
        return self.motion(s).axle.place[1] - self.start

    def ratio(self, s):
        return self.motion(s).axle.velocity[1]

    def slope(self, s):
        return self.motion(s).axle.acceleration[1]


def linkage_table(given):
    curve = given.model
    places = [curve.inside(s) for s in given.at or []]
    start, end = curve.ratio(mpf(0)), curve.ratio(curve.stroke)
    return {
        "travel": [curve.travel(s) for s in places],
        "lever_ratio": [curve.ratio(s) for s in places],
        "lever_ratio_slope": [curve.slope(s) for s in places],
        "stroke_full": curve.stroke,
        "progression": (start - end) / start,
    }


class End:
    """A spring behind a curve."""

    def __init__(self, curve, law):
        self.curve, self.law = curve, law
        self.stroke = min(curve.stroke, law.travel)
        self.travel = curve.travel_full if self.stroke == curve.stroke else curve.travel(self.stroke)

    def stroke_at(self, w):
        return self.stroke if w >= self.travel else min(self.curve.stroke_at(w), self.stroke)

    def force_at_stroke(self, s):
        return self.law.force(s) / self.curve.ratio(s)

    def rate_at_stroke(self, s):
        ratio = self.curve.ratio(s)
        spring = self.law.rate(s, self.law.side(s))
        return spring / ratio**2 - self.law.force(s) * self.curve.slope(s) / ratio**3


def check_end(given):
    if given.good("curve", "law"):
        given.set("end_model", End(given.curve.model, given.law.law))


def wheel(given):
    end = given.end_model
    strokes = [end.stroke_at(w) for w in given.at or []]
    return {
        "force": [end.force_at_stroke(s) for s in strokes],
        "rate": [end.rate_at_stroke(s) for s in strokes],
        "energy": [end.law.energy(s) for s in strokes],
    }


RULES = {"table": check_table, "curve": check_curve, "end": check_end}
COMPUTATIONS = {"linkage.table": linkage_table, "linkage.wheel": wheel}
