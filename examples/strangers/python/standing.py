"""The whole bike at rest: both ends settle together, on level ground or a slope."""

from mpmath import mp, mpf

from bracket import root
from curves import Fork, OfMechanism
from reading import MISSING
from settling import GRAVITY, scales, share_of


class Axle:
    """An axle's move in the frame's axes by the stroke of its end, and its derivative."""

    def __init__(self, end):
        self.end, self.curve = end, end.curve
        if isinstance(self.curve, OfMechanism):
            self.start = self.curve.motion(mpf(0)).axle.place

    def move(self, s):
        if isinstance(self.curve, Fork):
            return -s * mp.cos(self.curve.head_angle), s * mp.sin(self.curve.head_angle)
        if isinstance(self.curve, OfMechanism):
            x, y = self.curve.motion(s).axle.place
            return x - self.start[0], y - self.start[1]
        return mpf(0), self.curve.travel(s)

    def per_stroke(self, s):
        if isinstance(self.curve, Fork):
            return -mp.cos(self.curve.head_angle), mp.sin(self.curve.head_angle)
        if isinstance(self.curve, OfMechanism):
            return self.curve.motion(s).axle.velocity
        return mpf(0), self.curve.ratio(s)


class NoRest(Exception):
    """The bike stands nowhere, or only on one wheel."""


class Bike:
    def __init__(self, given):
        self.front, self.rear = Axle(given.front.end_model), Axle(given.rear.end_model)
        self.L, self.H = given.wheelbase, given.mass_centre_height
        self.R_f = given.front_wheel_radius or given.wheel_radius
        self.R_r = given.rear_wheel_radius or given.wheel_radius
        self.m_f, self.m_r = given.unsprung_front or mpf(0), given.unsprung_rear or mpf(0)
        self.M = given.rider_mass + given.bike_mass
        self.m_s = self.M - self.m_f - self.m_r
        self.c = (((1 - share_of(given)) * self.M - self.m_f) * self.L / self.m_s, self.H)
        weight = self.M * GRAVITY
        self.T_f = -(given.front_braking or mpf(0)) * weight
        self.T_r = ((given.driving or mpf(0)) - (given.rear_braking or mpf(0))) * weight
        self.tau = -(self.T_f + self.T_r) / weight
        self.cosine = mp.cos(given.slope or mpf(0))
        self.settle()

    def stand(self, s_f, s_r):
        """Sets the ground below the wheels, and the wheels' loads, for two strokes."""
        x, y = self.front.move(s_f)
        a_f = (self.L + x, self.R_f + y)
        x, y = self.rear.move(s_r)
        self.a_r = (x, self.R_r + y)
        d = (a_f[0] - self.a_r[0], a_f[1] - self.a_r[1])
        k, square = self.R_f - self.R_r, d[0] ** 2 + d[1] ** 2
        if square <= k * k:
            raise NoRest
        D = self.D = mp.sqrt(square - k * k)
        self.t = ((D * d[0] + k * d[1]) / square, (D * d[1] - k * d[0]) / square)
        self.n = (-self.t[1], self.t[0])
        arm = (self.c[0] - self.a_r[0], self.c[1] - self.a_r[1])
        along = arm[0] * self.t[0] + arm[1] * self.t[1]
        height = self.R_r + arm[0] * self.n[0] + arm[1] * self.n[1]
        moment = self.cosine * (self.m_s * along + self.m_f * D)
        moment += self.tau * (self.m_s * height + self.m_f * self.R_f + self.m_r * self.R_r)
        self.N_f = GRAVITY * moment / D
        self.N_r = self.M * GRAVITY * self.cosine - self.N_f

    def excess(self, axle, s, N, T, m):
        """Force of a spring less what presses on it."""
        x, y = axle.per_stroke(s)
        across, along = N - m * GRAVITY * self.cosine, T + m * GRAVITY * self.tau
        pressed = (across * self.n[0] + along * self.t[0]) * x + (across * self.n[1] + along * self.t[1]) * y
        return axle.end.law.force(s) - pressed

    def front_excess(self, s_f, s_r):
        self.stand(s_f, s_r)
        return self.excess(self.front, s_f, self.N_f, self.T_f, self.m_f)

    def rear_excess(self, s_f, s_r):
        self.stand(s_f, s_r)
        return self.excess(self.rear, s_r, self.N_r, self.T_r, self.m_r)

    def settle(self):
        """Each end rests where its excess is 0, or at a stop: the rear for each front stroke."""
        rear_at = lambda s_f: between(lambda s_r: self.rear_excess(s_f, s_r), self.rear.end.stroke)
        self.s_f = between(lambda s_f: self.front_excess(s_f, rear_at(s_f)), self.front.end.stroke)
        self.s_r = rear_at(self.s_f)
        self.stand(self.s_f, self.s_r)
        if not (self.N_f > 0 and self.N_r > 0):
            raise NoRest


def between(f, high):
    """Where f comes up through 0 between 0 and high, or the stop that holds."""
    if f(mpf(0)) >= 0:
        return mpf(0)
    if f(high) <= 0:
        return high
    return root(f, 0, high)


def check_whole(given):
    if scales(given) or not given.right("front_scale", "rear_scale"):
        given.hide("rear_scale")
        given.hide("front_scale")
        given.refuse("front_scale")
    own = ("front_wheel_radius", "rear_wheel_radius")
    if given.wheel_radius is None and any(given.is_missing(name) for name in own):
        for name in own:
            given.take_back_missing(name)
        given.refuse("wheel_radius", MISSING)
    if not given.all_clean():
        return
    try:
        given.set("answer", Bike(given))
    except NoRest:
        forces = {name: getattr(given, name) or mpf(0) for name in ("front_braking", "rear_braking", "driving")}
        greatest = max(forces, key=forces.get)
        given.refuse(greatest if forces[greatest] > 0 else "mass_centre_height")


def whole(given):
    bike = given.answer
    front, rear = given.front.end_model, given.rear.end_model
    w_f, w_r = front.curve.travel(bike.s_f), rear.curve.travel(bike.s_r)
    pitch = -mp.atan2(bike.t[1], bike.t[0])
    answer = {
        "front_sag": w_f / front.curve.travel_full,
        "rear_sag": w_r / rear.curve.travel_full,
        "pitch": pitch,
        "rear_share": bike.N_r / (bike.N_f + bike.N_r),
        "wheelbase": bike.D,
        "front_wheel_load": bike.N_f,
        "rear_wheel_load": bike.N_r,
        "front_travel": w_f,
        "rear_travel": w_r,
    }
    if isinstance(front.curve, Fork):
        psi = answer["head_angle"] = front.curve.head_angle - pitch
        if given.fork_offset is not None:
            answer["trail"] = (bike.R_f * mp.cos(psi) - given.fork_offset) / mp.sin(psi)
    if given.bottom_bracket_height is not None and given.chainstay_length is not None:
        H_b, R_r = given.bottom_bracket_height, bike.R_r
        ahead = mp.sqrt(given.chainstay_length**2 - (H_b - R_r) ** 2)
        arm = (ahead - bike.a_r[0], H_b - bike.a_r[1])
        answer["bottom_bracket_height"] = R_r + arm[0] * bike.n[0] + arm[1] * bike.n[1]
    return answer


RULES = {"sag.whole": check_whole}
COMPUTATIONS = {"sag.whole": whole}
