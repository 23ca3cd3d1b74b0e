"""GNU units on every units.convert case: sudo apt-get install units.

The program reads the value and the unit wanted in its own notation and prints
17 digits. A printed factor must agree to half a unit in its last digit, all
others to 1e-15, which is what two roundings of a float64 leave.
"""
import re
import shutil
import subprocess
import sys

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, plain, split

a = Authority(__file__)
program = shutil.which("units")
a.need(program)


def units(*args):
    run = subprocess.run([program, "--terse", "-o", "%.17g", "--", *args], capture_output=True, text=True, stdin=subprocess.DEVNULL)
    if run.returncode or not re.fullmatch(r"-?[0-9.]+(e[+-]?[0-9]+)?", run.stdout.strip()):
        sys.exit(f"gnu_units.py: units {args} answers {run.stdout.strip() or run.stderr.strip()!r}")
    return float(run.stdout)


TEMPERATURES = {"K": "tempK", "°C": "tempC", "degC": "tempC", "°F": "tempF", "degF": "tempF"}


def expression(number, unit):
    """A quantity as GNU units reads it; a temperature is a function of a number."""
    if unit in TEMPERATURES:
        return f"{TEMPERATURES[unit]}({number})"
    return f"{number} {symbol(unit)}"


def symbol(unit):
    unit = plain(unit).replace(".", " ").replace("°", "degree").replace("psia", "psi").replace("psig", "psi")
    unit = {"rad": "radian"}.get(unit, unit)  # rad is a dose there
    return re.sub(r"(in|m)([23])$", r"\1^\2", unit)


for case in a.cases("units.convert"):
    number, unit = case["given"]["value"].strip().split(" ", 1)
    want, goal = split(case["expect"]["value"])
    got = units(expression(number, unit), TEMPERATURES.get(goal) or symbol(goal))
    tolerance = case["tolerance"]["value"]
    allowed = max(split(tolerance)[0] if isinstance(tolerance, str) else 0, 1e-15 * abs(want))
    a.compare(case, "value", want, got, allowed * (1 + 1e-9))

banner = subprocess.run([program, "--version"], capture_output=True, text=True).stdout
a.finish(re.search(r"GNU Units version (\S+)", banner).group(1))
