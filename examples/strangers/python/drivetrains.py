"""Chain and brake of a suspension: anti-squat, anti-rise, chain growth, pedal kickback."""

from mpmath import mp, mpf

from linkages import hide_beside_mechanism, strokes_of
from mechanisms import FRAME, dot, minus

PITCH = mpf("0.0127")  # of a chain


def pitch_radius(teeth):
    return PITCH / (2 * mp.sin(mp.pi / teeth))


class Run:
    """The straight run of the chain from a pulley to another, on their upper side."""

    def __init__(self, a, b, r_a, r_b):
        d, k = minus(b, a), r_a - r_b
        square = dot(d, d)
        self.touch = square <= (r_a + r_b) ** 2
        self.length = (square - k * k) ** 0.5 if square > k * k else 0 * k
        length = self.length
        self.direction = ((length * d[0] + k * d[1]) / square, (length * d[1] - k * d[0]) / square)


class Chain:
    def __init__(self, given, mechanism):
        self.m = mechanism
        pulleys = given.drivetrain
        self.r_s, self.r_c = pitch_radius(pulleys.sprocket), pitch_radius(pulleys.chainring)
        self.ring_body = pulleys.chainring_on or FRAME
        self.place("chainring", self.ring_body, pulleys.chainring_at or (mpf(0), mpf(0)))
        self.idler_body = None
        if pulleys.idler:
            self.r_i, self.idler_body = pitch_radius(pulleys.idler.teeth), pulleys.idler.on
            self.place("idler", self.idler_body, pulleys.idler.at)

    def place(self, name, body, at):
        """An axis is a point of its body by a name that no point of a case has."""
        self.m.places[body]["axis of " + name] = tuple(at)

    def axes(self, state):
        """Axes of sprocket, idler (or None) and chainring."""
        idler = state.at(self.idler_body, "axis of idler") if self.idler_body else None
        return state.axle, idler, state.at(self.ring_body, "axis of chainring")

    def runs(self, state):
        sprocket, idler, ring = self.axes(state)
        if idler is None:
            return [Run(sprocket.place, ring.place, self.r_s, self.r_c)]
        return [
            Run(sprocket.place, idler.place, self.r_s, self.r_i),
            Run(idler.place, ring.place, self.r_i, self.r_c),
        ]

    def angles(self, state):
        """Direction angles of the runs, followed from full extension by their change."""
        followed = None
        for other in [o for o in self.m.track if o.stroke <= state.stroke] + [state]:
            now = [mp.atan2(run.direction[1], run.direction[0]) for run in self.runs(other)]
            if followed:
                now = [b + 2 * mp.pi * mp.nint((a - b) / (2 * mp.pi)) for a, b in zip(followed, now)]
            followed = now
        return followed

    def wrapped(self, state):
        """S, less what the turn of the chainring's body takes."""
        runs, angles = self.runs(state), self.angles(state)
        radii = [self.r_s] + ([self.r_i] if self.idler_body else []) + [self.r_c]
        total = sum(run.length for run in runs)
        total += sum((b - a) * angle for a, b, angle in zip(radii, radii[1:], angles))
        return total - self.r_c * state.of_body(self.ring_body)[0]

    def drive_turn(self, state):
        """ω_d: turn of the wheel per stroke with the chainring held on its body."""
        sprocket, idler, ring = self.axes(state)
        points = [sprocket] + ([idler] if idler else []) + [ring]
        pull = self.r_c * state.of_body(self.ring_body)[1]
        for run, a, b in zip(self.runs(state), points, points[1:]):
            pull += dot(minus(a.velocity, b.velocity), run.direction)
        return pull / self.r_s


class Ground:
    """The line below the wheels in the frame's axes, at a stroke."""

    def __init__(self, given, state, start):
        R = given.wheel_radius
        R_f = given.front_wheel_radius or R
        axle = state.axle.place
        front = ((given.front_axle_x or mpf(0)), start[1] - R + R_f)
        d = minus(front, axle)
        self.ahead, self.exists = d[0], True
        if given.ground == "level":
            self.t, self.b = (mpf(1), mpf(0)), d[0]
        else:
            k, square = R_f - R, dot(d, d)
            self.exists = square > k * k
            b = self.b = (square - k * k) ** 0.5 if self.exists else mpf(0)
            self.t = ((b * d[0] + k * d[1]) / square, (b * d[1] - k * d[0]) / square)
        self.n = (-self.t[1], self.t[0])
        centre = (given.mass_centre[0], start[1] - R + given.mass_centre[1])
        self.h = dot(minus(centre, axle), self.n) + R


def check_drivetrain(given):
    if hide_beside_mechanism(given):
        return
    bodies = given.mechanism.bodies
    if given.good("brake_on") and given.brake_on not in bodies:
        given.refuse("brake_on")
    pulleys = given.drivetrain
    if pulleys:
        if pulleys.good("chainring_on") and pulleys.chainring_on not in bodies:
            pulleys.refuse("chainring_on")
        if pulleys.idler and pulleys.idler.good("on") and pulleys.idler.on not in bodies:
            pulleys.idler.refuse("on")
    if given.mass_centre and given.right("mass_centre"):
        x, height = given.mass_centre
        if abs(x) > 10:
            given.refuse("mass_centre[0]")
        if not mpf("1e-6") <= height <= 10:
            given.refuse("mass_centre[1]")
    if given.all_clean():
        check_over_the_stroke(given)


def check_over_the_stroke(given):
    m = given.mechanism.model
    chain = Chain(given, m)
    start = m.track[0].axle.place
    for state in m.track:
        if any(run.touch for run in chain.runs(state)):
            given.refuse("drivetrain")
        ground = Ground(given, state, start)
        if not ground.ahead > given.wheel_radius:
            given.refuse("front_axle_x")
        elif not ground.exists:
            given.refuse("front_wheel_radius")
        elif not dot(state.axle.velocity, ground.n) > 0:
            given.refuse("front_axle_x")
        elif not ground.h > 0:
            given.refuse("mass_centre[1]")
        if not given.all_clean():
            return
    given.set("chain", chain)


def drivetrain(given):
    m, chain, R = given.mechanism.model, given.chain, given.wheel_radius
    start = m.motion(mpf(0))
    at_start = chain.wrapped(start)
    caliper = given.brake_on or m.carrier
    names = ("anti_squat", "anti_rise", "chain_growth", "kickback_wheel_fixed", "kickback_wheel_rolling")
    answer = {name: [] for name in names}
    for s in strokes_of(given, m):
        state = m.motion(s)
        ground = Ground(given, state, start.axle.place)

        def cancelled(turn):
            v, t, n = state.axle.velocity, ground.t, ground.n
            U = (v[0] + R * turn * t[0], v[1] + R * turn * t[1])
            return -dot(U, t) / dot(U, n) * ground.b / ground.h

        growth = chain.wrapped(state) - at_start
        rolled = (state.axle.place[0] - start.axle.place[0]) * chain.r_s / (R * chain.r_c)
        answer["anti_squat"].append(cancelled(chain.drive_turn(state)))
        answer["anti_rise"].append(cancelled(state.of_body(caliper)[1]))
        answer["chain_growth"].append(growth)
        answer["kickback_wheel_fixed"].append(growth / chain.r_c)
        answer["kickback_wheel_rolling"].append(growth / chain.r_c - rolled)
    return answer


RULES = {"linkage.drivetrain": check_drivetrain}
COMPUTATIONS = {"linkage.drivetrain": drivetrain}
