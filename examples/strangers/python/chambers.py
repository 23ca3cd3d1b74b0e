"""Air springs: chambers, the law of force, the fill that is sought, pump and hose."""

from mpmath import mp, mpf

from bracket import root

ENOUGH = 1 - mpf("1e-9")  # greatest share of a chamber that may be swept
GREATEST_FILL = mpf("1e8")


def circle(diameter):
    return mp.pi * diameter**2 / 4


def room_at_full_extension(given, spacers=True):
    """V_p0: what oil and spacers leave of the positive chamber."""
    taken = given.oil_volume or mpf(0)
    if spacers:
        taken += (given.spacers or 0) * (given.spacer_volume or mpf(0))
    return given.positive_volume - taken


class AirSpring:
    """An air spring with a fill, by its chambers."""

    def __init__(self, given, fill=None):
        self.travel, self.n, self.ambient = given.travel, given.exponent, given.ambient
        self.area = circle(given.bore)
        self.room = room_at_full_extension(given)
        self.filled = (given.fill if fill is None else fill) + self.ambient
        self.second_room = given.second_volume
        if self.second_room:
            self.second_filled = given.second_fill + self.ambient
        self.negative_room = given.negative_volume
        self.outside = self.area  # on which the ambient presses
        if self.negative_room:
            self.outside = circle(given.shaft)
            self.ring = self.area - self.outside
            port = given.port_travel or mpf(0)
            shared = self.slow_pressure(port)
            self.negative_filled = shared * (self.negative_room + self.ring * port) / self.negative_room

    def slow_pressure(self, x):
        """Of the positive side at x, at the temperature of its surroundings."""
        left = self.room - self.area * x
        alone = self.filled * self.room / left
        if not self.second_room or alone < self.second_filled:
            return alone
        return (self.room * self.filled + self.second_room * self.second_filled) / (left + self.second_room)

    def opening(self):
        """Travel at which the second chamber opens."""
        if self.second_filled <= self.filled:
            return mpf(0)
        return self.room / self.area * (1 - (self.filled / self.second_filled) ** (1 / self.n))

    def is_open(self, x, side=1):
        if not self.second_room:
            return False
        opening = self.opening()
        return x > opening or (x == opening and (side > 0 or opening == 0))

    def mixed(self):
        """p^(1/n)·V of both positive chambers."""
        return self.room * self.filled ** (1 / self.n) + self.second_room * self.second_filled ** (1 / self.n)

    def positive(self, x, side=1):
        """Pressure and volume of what is behind the piston."""
        left = self.room - self.area * x
        if self.is_open(x, side):
            left += self.second_room
            return (self.mixed() / left) ** self.n, left
        return self.filled * (self.room / left) ** self.n, left

    def negative(self, x):
        volume = self.negative_room + self.ring * x
        return self.negative_filled * (self.negative_room / volume) ** self.n, volume

    def force(self, x):
        force = self.area * self.positive(x)[0] - self.outside * self.ambient
        if self.negative_room:
            force -= self.ring * self.negative(x)[0]
        return force

    def rate(self, x, side=1):
        pressure, volume = self.positive(x, side)
        rate = self.n * self.area**2 * pressure / volume
        if self.negative_room:
            pressure, volume = self.negative(x)
            rate += self.n * self.ring**2 * pressure / volume
        return rate

    def work(self, pressure, volume, to):
        """Done on a gas that goes from a volume to another."""
        if self.n == 1:
            return pressure * volume * mp.log(volume / to)
        return pressure * volume / (self.n - 1) * ((volume / to) ** (self.n - 1) - 1)

    def energy(self, x):
        alone = min(x, self.opening()) if self.second_room else x
        energy = self.work(self.filled, self.room, self.room - self.area * alone)
        if alone < x:
            both = self.room + self.second_room
            volume = both - self.area * alone
            energy += self.work((self.mixed() / volume) ** self.n, volume, both - self.area * x)
        if self.negative_room:
            energy += self.work(self.negative_filled, self.negative_room, self.negative(x)[1])
        return energy - self.outside * self.ambient * x

    def rest(self):
        if self.force(mpf(0)) >= 0:
            return mpf(0)
        if self.force(self.travel) < 0:
            return self.travel
        return root(self.force, 0, self.travel)


def check_airspring(given):
    if given.good("bore", "shaft") and given.negative_volume and given.shaft >= given.bore:
        given.refuse("shaft")
    if given.good("port_travel", "travel") and given.port_travel >= given.travel:
        given.refuse("port_travel")
    if given.good("bore", "travel", "positive_volume") and given.right("oil_volume", "spacer_volume", "spacers"):
        swept = circle(given.bore) * given.travel
        if not enough(swept, room_at_full_extension(given, spacers=False)):
            given.refuse("positive_volume")
        elif not enough(swept, room_at_full_extension(given)):
            given.refuse("spacers")


def enough(swept, room):
    return room > 0 and swept / room <= ENOUGH


def airspring_law(given):
    spring = AirSpring(given)
    places = [min(max(x, mpf(0)), spring.travel) for x in given.at or []]
    at_end = lambda x: -1 if x == spring.travel else 1
    answer = {
        "force": [spring.force(x) for x in places],
        "rate": [spring.rate(x, at_end(x)) for x in places],
        "energy": [spring.energy(x) for x in places],
        "positive_pressure": [spring.positive(x)[0] for x in places],
        "rest_travel": spring.rest(),
        "compression_ratio": spring.room / (spring.room - spring.area * spring.travel),
    }
    if spring.negative_room:
        answer["negative_pressure"] = [spring.negative(x)[0] for x in places]
    if spring.second_room:
        answer["opening_travel"] = spring.opening()
    return answer


class NoFill(Exception):
    """No fill carries the force; where is the name of what is to blame: at or force."""

    def __init__(self, where):
        self.where = where


def fill_for(given, force, at):
    """The fill with which a spring carries a force at a travel."""
    at_nothing = AirSpring(given, mpf(0))
    more = AirSpring(given, GREATEST_FILL)
    low, high = at_nothing.force(at) - force, more.force(at) - force
    if given.second_volume:
        if high <= low:
            raise NoFill("at")
        if low >= 0 or high < 0:
            raise NoFill("force")
        return root(lambda fill: AirSpring(given, fill).force(at) - force, 0, GREATEST_FILL)
    # Without a second chamber the force is linear in the fill.
    slope = (high - low) / GREATEST_FILL
    if slope <= mpf("1e-30") * more.area:
        raise NoFill("at")
    fill = -low / slope
    if not 0 < fill <= GREATEST_FILL:
        raise NoFill("force")
    return fill


def check_fill(given):
    if given.right("fill") and given.fill:
        given.refuse("fill")
    if given.good("at", "travel") and given.at > given.travel:
        given.refuse("at")
    if given.all_clean():
        try:
            given.set("answer", fill_for(given, given.force, given.at or mpf(0)))
        except NoFill as none:
            given.refuse(none.where)


def airspring_fill(given):
    return {"fill": given.answer}


def hose(given):
    both, alone = given.chamber_volume + (given.hose_volume or 0), given.chamber_volume
    if given.fill is not None:
        return {"reading": given.fill * alone / both}
    return {"fill": given.reading * both / alone}


RULES = {"airspring": check_airspring, "airspring.fill": check_fill}
COMPUTATIONS = {"airspring.law": airspring_law, "airspring.fill": airspring_fill, "airspring.hose": hose}
