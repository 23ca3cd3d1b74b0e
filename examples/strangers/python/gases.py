"""Gases: places and weather, polytropic changes, heat through the walls, real gases."""

from mpmath import mp, mpf

from bracket import root
from reading import DATA


# The standard atmosphere up to 11 km.
SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE = mpf(101325), mpf("288.15")
LAPSE = mpf("0.0065")
GRAVITY, MOLAR_MASS, GAS_CONSTANT = mpf("9.80665"), mpf("0.0289644"), mpf("8.31432")


def atmosphere(altitude):
    """Pressure and temperature at a geopotential altitude."""
    temperature = SEA_LEVEL_TEMPERATURE - LAPSE * altitude
    exponent = GRAVITY * MOLAR_MASS / (GAS_CONSTANT * LAPSE)
    return SEA_LEVEL_PRESSURE * (temperature / SEA_LEVEL_TEMPERATURE) ** exponent, temperature


def airspring_atmosphere(given):
    pressure, temperature = atmosphere(given.altitude)
    return {"pressure": pressure, "temperature": temperature}


def ambient_at(conditions):
    return atmosphere(conditions.altitude or mpf(0))[0]


def check_conditions(given):
    if given.good("from") and given.right("fill") and (given.fill or mpf(0)) + ambient_at(getattr(given, "from")) <= 0:
        given.refuse("fill")


def conditions(given):
    before, after = getattr(given, "from"), given.to
    pressure = ((given.fill or mpf(0)) + ambient_at(before)) * after.temperature / before.temperature
    return {"fill": pressure - ambient_at(after)}


def polytropic(given):
    p, v, w, n = given.pressure, given.volume, given.to_volume, given.exponent
    if n == 1:
        work = p * v * mp.log(v / w)
    else:
        work = p * v / (n - 1) * ((v / w) ** (n - 1) - 1)
    return {"pressure": p * (v / w) ** n, "work": work}


# Heat. With y = p·V^γ the balance of energy is linear: y' + y/τ = (p₀V₀/τ)·V^(γ−1).


def check_heat(given):
    if given.amplitude is None:
        return
    if given.right("omega_tau", "amplitude") and not mpf("1e-6") <= (given.omega_tau or 0) <= mpf("1e6"):
        given.refuse("omega_tau")
    if given.all_clean() and given.area * given.amplitude >= mpf("0.99") * given.volume:
        given.refuse("amplitude")


def heat(given):
    gamma, w = given.heat_ratio, given.omega_tau or mpf(0)
    slow = given.area**2 * (given.fill + given.ambient) / given.volume
    loss = slow * (gamma - 1) * w / (1 + w**2)
    answer = {
        "isothermal_rate": slow,
        "storage_rate": slow * (1 + gamma * w**2) / (1 + w**2),
        "loss_rate": loss,
        "loss_factor": (gamma - 1) * w / (1 + gamma * w**2),
    }
    if given.amplitude is not None:
        answer["energy_small"] = mp.pi * given.amplitude**2 * loss
        answer["energy_lost"], answer["pressure"] = cycle(given)
    return answer


def cycle(given):
    """Energy lost in a stroke, and pressures at its quarters, by a Fourier series.

    A harmonic c·e^(ikφ) of p₀V₀·V^(γ−1) answers with y = c·e^(ikφ)/(1 + ikw). The
    harmonics of V^γ fall as r^k, r = (1 − √(1 − a²))/a with a = A·X/V.
    """
    gamma, w, mean = given.heat_ratio, given.omega_tau, given.volume
    share = given.area * given.amplitude / mean
    r = (1 - mp.sqrt(1 - share**2)) / share
    n = 4 * int(mp.ceil(mpf(28) * mp.log(10) / -mp.log(r) / 4) + 4)
    turn = [mp.expjpi(mpf(2) * j / n) for j in range(n)]
    volume = [mean * (1 - share * z.imag) for z in turn]
    drive = [(given.fill + given.ambient) * mean * v ** (gamma - 1) for v in volume]
    y = [mp.mpc(0)] * n
    for k in range(n // 2):
        c = sum(drive[j] * turn[-j * k % n] for j in range(n)) / n
        c = c / (1 + 1j * k * w) * (2 if k else 1)
        y = [y[j] + c * turn[j * k % n] for j in range(n)]
    pressure = [y[j].real / volume[j] ** gamma for j in range(n)]
    # −∮ p dV with dV = −A·X·cos φ dφ: what the piston puts in.
    work = sum(pressure[j] * given.area * given.amplitude * turn[j].real for j in range(n)) * 2 * mp.pi / n
    return abs(work), [pressure[q * n // 4] for q in range(4)]


def check_hold(given):
    for i, t in enumerate(given.after or []):
        if t is not None and given.ramp is not None and t > mpf("1e6"):
            given.refuse(f"after[{i}]")


def hold(given):
    p, v1, v2 = given.fill + given.ambient, given.volume, given.to_volume
    gamma, tau = given.heat_ratio, given.time_constant
    if given.ramp is None:
        fast, slow = p * (v1 / v2) ** gamma, p * v1 / v2
        return {"pressure": [slow + (fast - slow) * mp.exp(-t / tau) for t in given.after or []]}
    return {"pressure": [after_ramp(p, v1, v2, gamma, tau, given.ramp, t) for t in given.after or []]}


def after_ramp(p, v1, v2, gamma, tau, ramp, t):
    """Pressure at t, while the volume changes evenly over the ramp or after it."""
    end = min(t, ramp)
    volume = lambda s: v1 + (v2 - v1) * min(s / ramp, mpf(1))
    # What is older than 100 time constants has decayed to e^-100.
    marks = sorted({max(mpf(0), end - tau * k) for k in (0, 1, 2, 5, 10, 20, 40, 70, 100)})
    integral = mpf(0)
    if len(marks) > 1:
        integral = mp.quad(lambda s: mp.exp((s - end) / tau) * volume(s) ** (gamma - 1), marks)
    y = p * v1**gamma * mp.exp(-end / tau) + p * v1 / tau * integral
    rest = mp.exp(-(t - end) / tau)
    y = y * rest + p * v1 * volume(end) ** (gamma - 1) * (1 - rest)
    return y / volume(end) ** gamma


class RealGas:
    """A gas by its Helmholtz energy, α⁰(δ, τ) + αʳ(δ, τ) over R·T.

    residual(δ, τ) gives αʳ and its derivatives, ideal(δ, τ) those of α⁰, each as
    (value, by δ, by δ twice, by τ, by τ twice, by δ and τ).
    """

    R = mpf("8.31451")

    def __init__(self, name):
        self.powers, self.bells, self.ideal_powers, self.ideal_logs = [], [], [], []
        for table in DATA["dataset"].forms["airspring.gas"]["tables"]:
            gas, _, title = table["title"].partition(": ")
            if gas != name:
                continue
            if title == "constants":
                values = {symbol: mpf(str(value)) for symbol, value, _ in table["rows"]}
                self.T_r, self.rho_r, self.R, self.L = (values[symbol] for symbol in ("T_r", "ρ_r", "R", "L"))
                continue
            rows = [[mpf(str(x)) for x in row] for row in table["rows"]]
            columns = "".join(table["columns"])
            tables = {"ndtc": "powers", "ndtφβγ": "bells", "ni": "ideal_powers", "ncθ": "ideal_logs"}
            setattr(self, tables[columns], rows)

    def residual(self, delta, tau):
        total = [mpf(0)] * 6
        terms = []
        for n, d, t, c in self.powers:
            power = delta**c if c else mpf(0)
            value = n * delta**d * tau**t * mp.exp(-power)
            terms.append((value, (d - c * power) / delta, (-d - c * (c - 1) * power) / delta**2, t / tau, -t / tau**2))
        for n, d, t, phi, beta, gamma in self.bells:
            value = n * delta**d * tau**t * mp.exp(-phi * (delta - 1) ** 2 - beta * (tau - gamma) ** 2)
            by_delta, by_tau = d / delta - 2 * phi * (delta - 1), t / tau - 2 * beta * (tau - gamma)
            terms.append((value, by_delta, -d / delta**2 - 2 * phi, by_tau, -t / tau**2 - 2 * beta))
        for value, ld, ldd, lt, ltt in terms:  # derivatives of the logarithm of the term
            parts = (1, ld, ld**2 + ldd, lt, lt**2 + ltt, ld * lt)
            total = [sum_ + value * part for sum_, part in zip(total, parts)]
        return total

    def ideal(self, delta, tau):
        value, by_tau, twice = mp.log(delta) + self.L * mp.log(tau), self.L / tau, -self.L / tau**2
        for n, i in self.ideal_powers:
            value += n * tau**i
            by_tau += n * i * tau ** (i - 1)
            twice += n * i * (i - 1) * tau ** (i - 2)
        for n, c, theta in self.ideal_logs:
            e = c * mp.exp(-theta * tau)
            value += n * mp.log(1 + e)
            by_tau -= n * theta * e / (1 + e)
            twice += n * theta**2 * e / (1 + e) ** 2
        return value, by_tau, twice

    def pressure(self, rho, T):
        delta = rho / self.rho_r
        return rho * self.R * T * (1 + delta * self.residual(delta, self.T_r / T)[1])

    def density(self, p, T):
        ideal = p / (self.R * T)
        return root(lambda rho: self.pressure(rho, T) - p, ideal / 2, ideal * 2)

    def entropy(self, rho, T):
        """Over R."""
        delta, tau = rho / self.rho_r, self.T_r / T
        a, r = self.ideal(delta, tau), self.residual(delta, tau)
        return tau * (a[1] + r[3]) - a[0] - r[0]

    def fast_exponent(self, rho, T):
        """−(∂ln p/∂ln v) at constant entropy."""
        delta, tau = rho / self.rho_r, self.T_r / T
        r, a = self.residual(delta, tau), self.ideal(delta, tau)
        heat = -(tau**2) * (a[2] + r[4])
        s = 1 + 2 * delta * r[1] + delta**2 * r[2]
        x = 1 + delta * r[1] - delta * tau * r[5]
        return (s + x**2 / heat) / (1 + delta * r[1])

    def fast_temperature(self, rho, T, ratio):
        """After a change of volume at constant entropy."""
        wanted, guess = self.entropy(rho, T), T * ratio ** mpf("0.4")
        return root(lambda t: self.entropy(rho * ratio, t) - wanted, guess * mpf("0.6"), guess * mpf("1.6"))


def check_gas(given):
    if given.good("gas"):
        names = {t["title"].partition(": ")[0] for t in DATA["dataset"].forms["airspring.gas"]["tables"]}
        if given.gas not in names:
            given.refuse("gas")


def gas(given):
    gas, p, T, ratio = RealGas(given.gas), given.pressure, given.temperature, given.ratio
    rho = gas.density(p, T)
    if ratio is None:
        return {"compressibility": p / (rho * gas.R * T), "effective_exponent": gas.fast_exponent(rho, T)}
    after = gas.fast_temperature(rho, T, ratio)
    fast = gas.pressure(rho * ratio, after)
    if abs(mp.log(ratio)) > mpf("1e-6"):
        exponent = mp.log(fast / p) / mp.log(ratio)
    else:
        exponent = gas.fast_exponent(rho, T)
    return {
        "effective_exponent": exponent,
        "slow_pressure": gas.pressure(rho * ratio, T),
        "fast_pressure": fast,
        "fast_temperature": after,
    }


RULES = {
    "airspring.conditions": check_conditions,
    "airspring.heat": check_heat,
    "airspring.hold": check_hold,
    "airspring.gas": check_gas,
}
COMPUTATIONS = {
    "airspring.atmosphere": airspring_atmosphere,
    "airspring.conditions": conditions,
    "airspring.polytropic": polytropic,
    "airspring.heat": heat,
    "airspring.hold": hold,
    "airspring.gas": gas,
}
