"""Planar mechanisms: places, velocities and accelerations by the stroke of the shock.

The pose of a moving body is (u, v, θ): it carries the point that is drawn at p to
(u, v) + R(θ)·p. Poses are followed from full extension in floats, in short steps,
and those that are asked for are polished to the 40 digits of the rest.
"""

import math

from mpmath import mp, mpf

FRAME = "frame"
MOST_BODIES, MOST_SLOTS, MOST_POINTS = 12, 36, 1000
STEPS = 100


class Locks(Exception):
    """A dead point, or a lever ratio out of range."""


def eliminated(matrix, right):
    """Solution of a linear system, and its determinant, by elimination with pivoting."""
    rows = [list(row) + [r] for row, r in zip(matrix, right)]
    n, determinant = len(rows), 1
    for i in range(n):
        pivot = max(range(i, n), key=lambda j: abs(rows[j][i]))
        if rows[pivot][i] == 0:
            return None, 0
        if pivot != i:
            rows[i], rows[pivot] = rows[pivot], rows[i]
            determinant = -determinant
        determinant *= rows[i][i]
        for j in range(i + 1, n):
            if rows[j][i]:
                factor = rows[j][i] / rows[i][i]
                for k in range(i, n + 1):
                    rows[j][k] -= factor * rows[i][k]
    x = [0] * n
    for i in range(n - 1, -1, -1):
        x[i] = (rows[i][n] - sum(rows[i][k] * x[k] for k in range(i + 1, n))) / rows[i][i]
    return x, determinant


class Moving:
    """A point with its velocity and acceleration by the stroke."""

    def __init__(self, place, velocity=(0, 0), acceleration=(0, 0)):
        self.place, self.velocity, self.acceleration = place, velocity, acceleration


def cross(a, b):
    return a[0] * b[1] - a[1] * b[0]


def dot(a, b):
    return a[0] * b[0] + a[1] * b[1]


def minus(a, b):
    return (a[0] - b[0], a[1] - b[1])


class Pair:
    """Two points of two bodies that are one place: two equations."""

    def __init__(self, name, first, second):
        self.name, self.first, self.second = name, first, second

    def equations(self, m):
        a, b = m.at(self.first, self.name), m.at(self.second, self.name)
        d = minus(a.place, b.place)
        bend = minus(a.acceleration, b.acceleration)
        for axis in (0, 1):
            yield d[axis], self.row(m, axis), -bend[axis]

    def row(self, m, axis):
        row = m.zeros()
        m.add(row, self.first, self.name, (1 - axis, axis))
        m.add(row, self.second, self.name, (axis - 1, -axis))
        return row


class Slide:
    """A pin of a body on a line through two points of another: one equation."""

    def __init__(self, pin, body, on, ends):
        self.pin, self.body, self.on, self.ends = pin, body, on, ends

    def equations(self, m):
        p = m.at(self.body, self.pin)
        a, b = (m.at(self.on, end) for end in self.ends)
        line, d = minus(b.place, a.place), minus(p.place, a.place)
        # The cross product (b − a) × (p − a), and its change with each of the three.
        row = m.zeros()
        m.add(row, self.body, self.pin, (-line[1], line[0]))
        m.add(row, self.on, self.ends[1], (d[1], -d[0]))
        m.add(row, self.on, self.ends[0], (line[1] - d[1], d[0] - line[0]))
        bend = cross(minus(b.acceleration, a.acceleration), d) + cross(line, minus(p.acceleration, a.acceleration))
        bend += 2 * cross(minus(b.velocity, a.velocity), minus(p.velocity, a.velocity))
        yield cross(line, d), row, -bend


class Shock:
    """Two eyes whose distance is the length at the stroke: half the squares' difference."""

    def __init__(self, eyes, bodies, length):
        self.eyes, self.bodies, self.length = eyes, bodies, length

    def equations(self, m):
        a, b = (m.at(body, eye) for body, eye in zip(self.bodies, self.eyes))
        d, v = minus(a.place, b.place), minus(a.velocity, b.velocity)
        row = m.zeros()
        m.add(row, self.bodies[0], self.eyes[0], d)
        m.add(row, self.bodies[1], self.eyes[1], (-d[0], -d[1]))
        length = m.number(self.length) - m.stroke
        bend = dot(d, minus(a.acceleration, b.acceleration)) + dot(v, v)
        yield (dot(d, d) - length**2) / 2, row, 1 - bend


class State:
    """The mechanism at a stroke, in floats or in numbers of many digits."""

    def __init__(self, mechanism, stroke, pose):
        self.mechanism, self.stroke, self.pose = mechanism, stroke, list(pose)
        self.number = float if isinstance(stroke, float) else mpf
        self.velocity = self.acceleration = [0] * len(self.pose)
        self.turn_bodies()

    def turn_bodies(self):
        cos, sin = (math.cos, math.sin) if self.number is float else (mp.cos, mp.sin)
        self.turns = [(cos(t), sin(t)) for t in self.pose[2::3]]

    def zeros(self):
        return [0] * len(self.pose)

    def arm(self, body, point):
        """The point from the body's origin, in the axes of the frame."""
        x, y = (self.number(c) for c in self.mechanism.places[body][point])
        c, s = self.turns[self.mechanism.moving[body]]
        return c * x - s * y, s * x + c * y

    def at(self, body, point):
        """A point of a body. Acceleration is complete once both derivatives are known."""
        if body not in self.mechanism.moving:
            x, y = self.mechanism.places[body][point]
            return Moving((self.number(x), self.number(y)))
        i = 3 * self.mechanism.moving[body]
        x, y = self.arm(body, point)
        u, v, _ = self.pose[i : i + 3]
        vx, vy, w = self.velocity[i : i + 3]
        ax, ay, e = self.acceleration[i : i + 3]
        return Moving((u + x, v + y), (vx - w * y, vy + w * x), (ax - e * y - w * w * x, ay + e * x - w * w * y))

    def add(self, row, body, point, direction):
        """Adds to a row the derivatives of a point's place along a direction."""
        if body in self.mechanism.moving:
            i = 3 * self.mechanism.moving[body]
            x, y = self.arm(body, point)
            row[i] += direction[0]
            row[i + 1] += direction[1]
            row[i + 2] += direction[1] * x - direction[0] * y

    def equations(self):
        return [equation for joint in self.mechanism.joints for equation in joint.equations(self)]

    def newton(self, most, enough):
        """Improves the pose; reports whether it converged."""
        for _ in range(most):
            equations = self.equations()
            step, _ = eliminated([row for _, row, _ in equations], [-value for value, _, _ in equations])
            if step is None:
                return False
            self.pose = [p + d for p, d in zip(self.pose, step)]
            self.turn_bodies()
            if max(abs(d) for d in step) < enough:
                return True
        return False

    def differentiate(self):
        """Sets the derivatives by the stroke; returns the determinant."""
        zero = [0] * len(self.pose)
        self.velocity, self.acceleration = zero, zero
        matrix = [row for _, row, _ in self.equations()]
        # Only the shock, which is the last, knows the stroke: d·d′ = −length.
        length = self.number(self.mechanism.shock.length) - self.stroke
        velocity, determinant = eliminated(matrix, [0] * (len(zero) - 1) + [-length])
        if velocity is None:
            raise Locks
        self.velocity = velocity
        self.acceleration, _ = eliminated(matrix, [bend for _, _, bend in self.equations()])
        return determinant

    @property
    def axle(self):
        return self.at(self.mechanism.carrier, self.mechanism.axle)

    def of_body(self, body):
        """Turn of a body, and its derivative by the stroke."""
        if body not in self.mechanism.moving:
            return mpf(0), mpf(0)
        i = 3 * self.mechanism.moving[body] + 2
        return self.pose[i], self.velocity[i]


class Mechanism:
    """Bodies with their points; a hole may be off its place in one body alone."""

    def __init__(self, given, off=None):
        self.stroke, self.axle = given.stroke, given.axle
        bodies = dict(given.bodies)
        self.places = {body: {p: tuple(given.points[p]) for p in points} for body, points in bodies.items()}
        self.bodies = bodies
        self.moving = {body: i for i, body in enumerate(sorted(b for b in bodies if b != FRAME))}
        owners = lambda point: [body for body in sorted(bodies) if point in bodies[body]]
        self.carrier = given.carrier or owners(self.axle)[0]
        self.joints = []
        for point in sorted({p for points in bodies.values() for p in points}):
            first, *others = owners(point)
            self.joints += [Pair(point, first, other) for other in others]
        for slot in given.slots or []:
            # A pin that several bodies share is on the line with any of them.
            body = next(b for b in owners(slot.point) if b != slot.on)
            self.joints.append(Slide(slot.point, body, slot.on, slot.along))
        eyes = given.shock
        a, b = (given.points[eye] for eye in eyes)
        self.shock = Shock(eyes, [owners(eye)[0] for eye in eyes], mp.hypot(a[0] - b[0], a[1] - b[1]))
        self.joints.append(self.shock)
        if off:
            body, point, dx, dy = off
            x, y = self.places[body][point]
            self.places[body][point] = (x + dx, y + dy)
        self.known = {}

    def follow(self):
        """Follows the motion over the whole stroke, in floats."""
        full = float(self.stroke)
        state = State(self, 0.0, [0.0] * (3 * len(self.moving)))
        if not state.newton(20, 1e-13):
            raise Locks
        sign = state.differentiate()
        self.track = [state]
        step = full / STEPS
        while self.track[-1].stroke < full:
            before = self.track[-1]
            s = min(before.stroke + step, full)
            h = s - before.stroke
            guess = [p + h * v + h * h / 2 * a for p, v, a in zip(before.pose, before.velocity, before.acceleration)]
            state = State(self, s, guess)
            near = state.newton(12, 1e-13) and max(abs(p - g) for p, g in zip(state.pose, guess)) < 0.05
            if near and state.differentiate() * sign > 0 and abs(state.axle.velocity[1]) < 1e4:
                self.track.append(state)
                step = min(step * 2, full / STEPS)
            elif step < full * 1e-9:
                raise Locks
            else:
                step /= 4

    def motion(self, s):
        """The mechanism at a stroke, to all digits."""
        if s not in self.known:
            nearest = min(self.track, key=lambda state: abs(state.stroke - float(s)))
            h = float(s) - nearest.stroke
            pose = [
                mpf(p + h * v + h * h / 2 * a)
                for p, v, a in zip(nearest.pose, nearest.velocity, nearest.acceleration)
            ]
            state = State(self, mpf(s), pose)
            if not state.newton(20, mpf(10) ** -25):
                raise Locks
            state.newton(1, 0)
            state.differentiate()
            self.known[s] = state
        return self.known[s]

    def rough_motion(self, s):
        """The mechanism at a stroke, in floats."""
        nearest = self.track[min(len(self.track) - 1, round(s / float(self.stroke) * (len(self.track) - 1)))]
        h = s - nearest.stroke
        guess = [p + h * v + h * h / 2 * a for p, v, a in zip(nearest.pose, nearest.velocity, nearest.acceleration)]
        state = State(self, s, guess)
        state.newton(6, 1e-14)
        state.differentiate()
        return state
