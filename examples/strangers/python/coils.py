"""Coil springs: the helical spring of round wire, wire, and what was measured on a spring."""

from mpmath import mp, mpf

from reading import DATA


def simple(name):
    """A name by its letters and digits alone."""
    return "".join(c for c in name.lower() if c.isalnum())


def material_named(name):
    for material in DATA["dataset"].load("materials.json")["materials"]:
        if simple(name) in map(simple, [material["name"], *material.get("aliases", [])]):
            return material
    return None


def quantity(kind, text):
    return DATA["dataset"].kinds[kind].read(text)


def row_of(rows, wire, from_included):
    """The first row that a wire is in; a bound that a row lacks does not bind."""
    for row in rows:
        low = quantity("length", row["wire_from"]) if "wire_from" in row else None
        high = quantity("length", row["wire_to"]) if "wire_to" in row else None
        if low is not None and (wire < low or wire == low and not from_included):
            continue
        if high is None or wire <= high:
            return row
    return None


# By the description's table of ends: dead coils, over, ground, wires.
ENDS = {"plain": (0, 1, 0, 1), "plain_ground": (1, 0, 1, 0), "squared": (2, 1, 0, 3), "squared_ground": (2, 0, 0, 2)}


def mean_diameter(given):
    """D of whichever diameter is given; None where none is."""
    if given.good("mean_diameter"):
        return given.mean_diameter
    if given.good("wire_diameter", "outer_diameter"):
        return given.outer_diameter - given.wire_diameter
    if given.good("wire_diameter", "inner_diameter"):
        return given.inner_diameter + given.wire_diameter
    return None


def wire_of(given):
    """Shear modulus, elastic modulus and density of the wire; None what is not known."""
    G, E, density = given.shear_modulus, given.elastic_modulus, given.density
    if given.material:
        material = material_named(given.material)
        row = row_of(material["moduli"]["rows"], given.wire_diameter, from_included=False)
        G = quantity("stress", row["shear_modulus"]["value"])
        if E is None and "elastic_modulus" in row:
            E = quantity("stress", row["elastic_modulus"]["value"])
        if density is None and "density" in material:
            density = quantity("density", material["density"]["value"])
    return G, E, density


class Coil:
    """A helical spring by its dimensions."""

    def __init__(self, given):
        self.wire, self.mean = given.wire_diameter, mean_diameter(given)
        self.G, self.E, self.density = wire_of(given)
        self.dead, over, self.ground, self.wires = ENDS[given.ends or "squared_ground"]
        if given.active_coils is not None:
            self.active = given.active_coils
            self.total = self.active + self.dead
        else:
            self.total = given.total_coils
            self.active = self.total - self.dead
        self.solid_length = (self.total + over) * self.wire
        self.free_length = given.free_length
        self.rate = self.G * self.wire**4 / (8 * self.mean**3 * self.active)
        self.index = self.mean / self.wire
        if self.free_length is not None:
            self.pitch = (self.free_length - self.wires * self.wire) / (self.active + self.ground)
            self.climb = mp.atan(self.pitch / (mp.pi * self.mean))

    def wahl(self):
        c = self.index
        return (4 * c - 1) / (4 * c - 4) + mpf("0.615") / c

    def bergstrasser(self):
        return (4 * self.index + 2) / (4 * self.index - 3)

    def torsion(self, force):
        """Stress of a straight bar that is twisted as the wire is."""
        return 8 * force * self.mean / (mp.pi * self.wire**3)

    def compliances(self):
        """Of the thin helical rod: way by force, way by couple, turn by couple."""
        sine, cosine = mp.sin(self.climb), mp.cos(self.climb)
        length, radius = mp.pi * self.mean * self.active / cosine, self.mean / 2
        twist = self.G * mp.pi * self.wire**4 / 32
        bend = self.E * mp.pi * self.wire**4 / 64
        return (
            length * radius**2 * (cosine**2 / twist + sine**2 / bend),
            length * radius * sine * cosine * (1 / twist - 1 / bend),
            length * (sine**2 / twist + cosine**2 / bend),
        )

    def load_deviations(self):
        """Part of a load's tolerance that no load changes, for the three grades; empty out of scope."""
        d, D, c, n = self.wire * 1000, self.mean * 1000, self.index, self.active
        slack = mpf("1e-12")
        within = lambda low, x, high: low * (1 - slack) <= x <= high * (1 + slack)
        scope = within(mpf("0.07"), d, 16) and D <= 200 * (1 + slack) and n >= 2 * (1 - slack) and within(4, c, 20)
        if self.free_length is not None:
            scope = scope and self.free_length <= mpf("0.63") * (1 + slack)
        if not scope:
            return []
        t = c / 10
        cubic = mpf("-0.84") * t**3 + mpf("3.781") * t**2 - mpf("4.244") * t + mpf("2.274")
        a = mpf("65.92") * d ** mpf("3.3") / D ** mpf("1.6") * cubic
        k = 1 / (3 * n**2) + 8 / (5 * n) + mpf("0.803")
        return [a * k * q for q in GRADES]


GRADES = (mpf("0.63"), mpf(1), mpf("1.6"))


def check_coil(given):
    mean = mean_diameter(given)
    if mean is not None and given.good("wire_diameter") and mean <= given.wire_diameter:
        given.refuse("wire_diameter")
    if given.good("total_coils") and given.right("ends"):
        if given.total_coils - ENDS[given.ends or "squared_ground"][0] < mpf("0.001"):
            given.refuse("total_coils")
    if given.good("material"):
        material = material_named(given.material)
        if material is None or "moduli" not in material:
            given.refuse("material")
        elif given.good("wire_diameter") and row_of(material["moduli"]["rows"], given.wire_diameter, False) is None:
            given.refuse("wire_diameter")
    if given.good("elastic_modulus") and given.right("wire_diameter", "material", "shear_modulus"):
        if given.shear_modulus is not None or given.material is not None:
            if given.elastic_modulus <= wire_of(given)[0]:
                given.refuse("elastic_modulus")
    if given.clean() and given.free_length is not None and given.free_length <= Coil(given).solid_length:
        given.refuse("free_length")


def check_coil_installed(given):
    if given.clean() and given.preload:
        if given.preload >= given.free_length - Coil(given).solid_length:
            given.refuse("preload")


def coil(given):
    c = Coil(given)
    d, D, L = c.wire, c.mean, c.free_length
    answer = {
        "mean_diameter": D,
        "index": c.index,
        "rate": c.rate,
        "wahl": c.wahl(),
        "bergstrasser": c.bergstrasser(),
        "active_coils": c.active,
        "total_coils": c.total,
        "solid_length": c.solid_length,
        "wire_length": mp.pi * D * c.total,
    }
    if L is not None:
        travel = L - c.solid_length
        force = c.rate * travel
        answer |= {
            "pitch": c.pitch,
            "helix_angle": c.climb,
            "solid_travel": travel,
            "solid_force": force,
            "solid_stress": c.bergstrasser() * c.torsion(force),
            "outer_diameter_solid": mp.sqrt(D**2 + (c.pitch**2 - d**2) / mp.pi**2) + d,
        }
        if c.E is not None:
            way, cross, turn = c.compliances()
            answer |= {"rate_ends_free": 1 / way, "rate_ends_held": 1 / (way - cross**2 / turn)}
    if given.load is not None:
        plain = c.torsion(given.load)
        answer |= {
            "travel": given.load / c.rate,
            "stress": c.bergstrasser() * plain,
            "stress_wahl": c.wahl() * plain,
            "stress_uncorrected": plain,
        }
    for grade, (q, deviation) in enumerate(zip(GRADES, c.load_deviations()), 1):
        answer[f"free_length_tolerance_{grade}"] = deviation / c.rate
        if given.load is not None and given.load <= mpf("1e15"):
            answer[f"load_tolerance_{grade}"] = deviation + mpf("0.015") * given.load * q
    if c.density is not None:
        answer["mass"] = c.density * mp.pi * d**2 / 4 * mp.pi * D * c.total
        answer["surge_frequency"] = d / (2 * mp.sqrt(2) * mp.pi * c.active * D**2) * mp.sqrt(c.G / c.density)
    if given.end_fixity is not None and c.E is not None:
        c1, c2 = c.E / (2 * (c.E - c.G)), 2 * mp.pi**2 * (c.E - c.G) / (2 * c.G + c.E)
        answer["stable_slenderness"] = mp.sqrt(c2) / given.end_fixity
        if L is not None and c2 <= (given.end_fixity * L / D) ** 2:
            answer["buckling_travel"] = L * c1 * (1 - mp.sqrt(1 - c2 / (given.end_fixity * L / D) ** 2))
    return answer


def check_strength(given):
    if not given.good("material"):
        return
    material = material_named(given.material)
    if material is None or "strength" not in material:
        given.refuse("material")
        given.hide("wire_diameter")
    elif given.good("wire_diameter") and row_of(material["strength"]["rows"], given.wire_diameter, True) is None:
        given.refuse("wire_diameter")


def strength(given):
    table = material_named(given.material)["strength"]
    row = row_of(table["rows"], given.wire_diameter, from_included=True)
    d = given.wire_diameter * 1000
    at_1_mm = quantity("stress", row["at_1_mm"]["value"])
    if table["form"] == "power":
        exponent = row["exponent"]
        exponent = exponent["value"] if isinstance(exponent, dict) else exponent
        return {"tensile_strength": at_1_mm / d ** mpf(str(exponent))}
    value = at_1_mm - quantity("stress", row["per_decade"]["value"]) * mp.log10(d)
    return {"tensile_strength": min(value, quantity("stress", row["cap"]["value"])) if "cap" in row else value}


def warm_modulus(given):
    loss = (given.coefficient or 0) * (given.temperature - mpf("293.15"))
    return given.shear_modulus * (1 - loss)


def check_warm(given):
    if given.good("shear_modulus", "temperature") and given.right("coefficient") and warm_modulus(given) <= 0:
        given.refuse("temperature")


def warm(given):
    return {"shear_modulus": warm_modulus(given)}


def check_caliper(given):
    mean = mean_diameter_of_caliper(given)
    if mean is not None and mean <= given.wire_diameter:
        given.refuse("wire_diameter")


def mean_diameter_of_caliper(given):
    if given.good("wire_diameter", "outer_diameter"):
        return given.outer_diameter - given.wire_diameter
    if given.good("wire_diameter", "inner_diameter"):
        return given.inner_diameter + given.wire_diameter
    return None


def caliper(given):
    d, D, n, G = given.wire_diameter, mean_diameter_of_caliper(given), given.active_coils, given.shear_modulus
    rate = G * d**4 / (8 * D**3 * n)
    u = lambda name: getattr(given, name + "_uncertainty") or mpf(0)
    outer = given.outer_diameter is not None
    by_wire = (4 / d + (3 if outer else -3) / D) * u("wire")
    by_diameter = -3 / D * u("diameter")
    by_coils, by_modulus = u("coil") / n, u("modulus") / G
    variance = by_wire**2 + by_diameter**2 + 2 * (given.correlation or 0) * by_wire * by_diameter
    relative = mp.sqrt(max(mpf(0), variance + by_coils**2 + by_modulus**2))
    shares = {
        "wire_diameter": by_wire**2,
        "outer_diameter" if outer else "inner_diameter": by_diameter**2,
        "active_coils": by_coils**2,
        "shear_modulus": by_modulus**2,
    }
    largest = max(shares, key=shares.get)
    return {
        "mean_diameter": D,
        "rate": rate,
        "relative_uncertainty": relative,
        "rate_uncertainty": rate * relative,
        "dominant": largest if shares[largest] > 0 else "",
    }


def check_readings(given):
    travel, force = given.travel, given.force
    if given.right("travel") and travel is not None and len(travel) < 3:
        given.refuse("travel")
    if travel is not None and force is not None and len(travel) != len(force):
        given.refuse("force")
    if given.all_clean():
        if len(set(travel)) == 1:
            given.refuse("travel")
        elif line_through(travel, force)[0] <= 0:
            given.refuse("force")


def line_through(xs, ys):
    """Slope, value at 0 and Σ(x − x̄)² of the line of least squares."""
    x_mean, y_mean = sum(xs) / len(xs), sum(ys) / len(ys)
    spread = sum((x - x_mean) ** 2 for x in xs)
    slope = sum((x - x_mean) * (y - y_mean) for x, y in zip(xs, ys)) / spread
    return slope, y_mean - slope * x_mean, spread


def readings(given):
    xs, ys = given.travel, given.force
    n = len(xs)
    slope, at_zero, spread = line_through(xs, ys)
    squares = sum((y - at_zero - slope * x) ** 2 for x, y in zip(xs, ys))
    s = mp.sqrt(squares / (n - 2))
    return {
        "rate": slope,
        "force_at_zero": at_zero,
        "rate_standard_error": s / mp.sqrt(spread),
        "force_at_zero_standard_error": s * mp.sqrt(mpf(1) / n + (sum(xs) / n) ** 2 / spread),
        "residual_deviation": s,
        "residual_rms": mp.sqrt(squares / n),
    }


RULES = {
    "coil": check_coil,
    "coil_installed": check_coil_installed,
    "spring.strength": check_strength,
    "spring.warm": check_warm,
    "spring.caliper": check_caliper,
    "spring.readings": check_readings,
}
COMPUTATIONS = {
    "spring.coil": coil,
    "spring.strength": strength,
    "spring.warm": warm,
    "spring.caliper": caliper,
    "spring.readings": readings,
}
