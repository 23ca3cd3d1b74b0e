"""What the generators of check cases share: quantities, cases, the file format.

Every generator writes one file of data/cases. It holds the published values as
literals, with their printed digits, and computes the others with mpmath at 50
digits, from the text of the inputs that stands in the case itself. It knows
nothing of the Go code. The command

    .ci/generate coils

runs coils.py and writes data/cases/coils.json, in canonical form. The sources of
the cases name the versions below, so that others would change them.
"""
import json
import sys

import mpmath
from mpmath import mp, mpf

PYTHON, MPMATH = (3, 11), "1.2.1"  # as Debian 12 has them
if sys.version_info[:2] != PYTHON or mpmath.__version__ != MPMATH:
    sys.exit(f"this is Python {sys.version.split()[0]} with mpmath {mpmath.__version__}, and the cases are made with "
             f"Python {PYTHON[0]}.{PYTHON[1]} and mpmath {MPMATH}, as Debian 12 has them")

mp.dps = 50

INCH, POUND, G0 = mpf("0.0254"), mpf("0.45359237"), mpf("9.80665")
LBF = POUND * G0
PSI = LBF / INCH**2
ATM = mpf(101325)

# Factors to SI. The symbol of a gauge pressure and of a stress may be the same;
# the number is too.
UNITS = {
    "mm": mpf("1e-3"), "cm": mpf("1e-2"), "m": mpf(1), "in": INCH, "ft": 12 * INCH,
    "g": mpf("1e-3"), "kg": mpf(1), "lb": POUND,
    "N": mpf(1), "kN": mpf(1000), "lbf": LBF, "kgf": G0,
    "N/mm": mpf(1000), "N/m": mpf(1), "lbf/in": LBF / INCH, "kgf/mm": G0 * 1000,
    "Pa": mpf(1), "kPa": mpf(1000), "MPa": mpf("1e6"), "GPa": mpf("1e9"), "bar": mpf("1e5"),
    "psi": PSI, "kpsi": 1000 * PSI, "Mpsi": 1000000 * PSI,
    "Pa(g)": mpf(1), "kPa(g)": mpf(1000), "bar(g)": mpf("1e5"), "psig": PSI, "MPa(g)": mpf("1e6"),
    "Pa(a)": mpf(1), "kPa(a)": mpf(1000), "bar(a)": mpf("1e5"), "psia": PSI, "atm(a)": ATM,
    "mm2": mpf("1e-6"), "cm2": mpf("1e-4"), "m2": mpf(1),
    "in2": INCH**2, "in3": INCH**3, "mm3": mpf("1e-9"), "cm3": mpf("1e-6"), "ml": mpf("1e-6"), "l": mpf("1e-3"), "m3": mpf(1),
    "N·m": mpf(1), "J": mpf(1), "kJ": mpf(1000), "Hz": mpf(1), "kg/m3": mpf(1),
    "deg": mp.pi / 180, "rad": mpf(1), "s": mpf(1), "ms": mpf("1e-3"), "1/m": mpf(1),
    "N·s/m": mpf(1), "N·s/mm": mpf(1000), "lbf·s/in": LBF / INCH,
}
OFFSETS = {"K": (mpf(1), mpf(0)), "°C": (mpf(1), mpf("273.15")), "°F": (mpf(5) / 9, mpf("459.67"))}


def si(text):
    """The SI value of a quantity's text, or of a number or its text."""
    if isinstance(text, (int, float)):
        return mpf(str(text))
    if isinstance(text, mpf):
        return text
    if " " not in text:
        return mpf(text)
    number, unit = text.split(" ", 1)
    if unit in OFFSETS:
        size, zero = OFFSETS[unit]
        return (mpf(number) + zero) * size if unit == "°F" else mpf(number) + zero
    return mpf(number) * UNITS[unit]


class Number(str):
    """A JSON number by its text."""


def digits(x, n=15):
    """x rounded to n significant digits, without an exponent. What is left of
    a cancellation at 50 digits is 0."""
    if abs(x) < mpf("1e-40"):
        return "0"
    text = mpmath.nstr(mpf(x), n, min_fixed=-mp.inf, max_fixed=mp.inf)
    return text.rstrip("0").rstrip(".") if "." in text else text


def to(x, unit, n=15):
    """The text of an SI value in a unit; a list gives a list."""
    if isinstance(x, (list, tuple)):
        return [to(v, unit, n) for v in x]
    if unit in OFFSETS:
        size, zero = OFFSETS[unit]
        x = x / size - zero if unit == "°F" else x - zero
        return f"{digits(x, n)} {unit}"
    return f"{digits(x / UNITS[unit], n)} {unit}"


def num(x, n=15):
    """x as a JSON number of n digits; a list gives a list."""
    if isinstance(x, (list, tuple)):
        return [num(v, n) for v in x]
    return Number(digits(x, n))


def close(a, b, relative, what=""):
    """Stops the program where two values that should agree don't."""
    a, b = mpf(a), mpf(b)
    if not abs(a - b) <= relative * max(abs(a), abs(b)):
        sys.exit(f"{what}: {a} and {b} differ by more than {relative}")


def mpmath_source(script, where=None):
    """The source of what a generator computes."""
    source = {"title": f"independent computation with mpmath {mpmath.__version__}, {mp.dps} digits",
              "where": f"testdata/generate/{script}"}
    if where:
        source["where"] += "; " + where
    return source


# Why an input is refused is a rule of the format, not a fact of a source.
RULES = {"title": "Rules of this format: every quantity has a unit and is finite, each field has its range, "
                  "and an error names exactly the fields that are bad"}

# The first part of the ids of a computation's cases, where it is not the last part
# of the computation's name.
PREFIXES = {"airspring.law": "air", "linkage.drivetrain": "drive", "sag.settle": "sag", "sag.fill": "sagfill",
            "sag.calibrate": "sagcalibrate"}


class File:
    """A file of cases. Ids count up from 1 for each computation; a group may
    set the count further, so that cases can be added at the end of the group
    before it without renaming others."""

    def __init__(self, subject):
        self.subject, self.groups, self.next = subject, [], {}

    def group(self, source, standing, first=None):
        g = Group(self, source, standing, first)
        self.groups.append(g)
        return g

    def id(self, computes, bad, first):
        prefix = PREFIXES.get(computes, computes.split(".")[-1]) + ("-bad" if bad else "")
        n = max(self.next.get(prefix, 1), first or 1)
        self.next[prefix] = n + 1
        return f"{prefix}-{n:04d}"

    def write(self):
        print(dump({"schema": "wheelrate/cases/1", "subject": self.subject, "groups": [
            {"source": g.source, "standing": g.standing, "cases": g.cases} for g in self.groups if g.cases]}, "\n"))


def zeros(expect, tolerance):
    """Absolute tolerances for outputs that are 0, alone, and are found by a search:
    one that stops near a root is not asked for the root itself."""
    found = {"0 mm": "1e-9 mm", "0": "1e-9"}
    return {name: found[str(value)] for name, value in expect.items()
            if str(value) in found and ("travel" in name or "pull_in" in name or name.endswith("sag"))
            and not isinstance(tolerance.get(name, tolerance.get("*", 0)), str)}


class Group:
    """Cases of one source and one standing."""

    def __init__(self, file, source, standing, first):
        self.file, self.source, self.standing, self.first = file, source, standing, first
        self.cases = []

    def add(self, computes, given, expect, tolerance, second, note=""):
        """Adds a case that expects outputs, confirmed a second way. One tolerance is for all of them."""
        assert second and "not confirmed" not in second, (computes, given)
        c = {"id": self.file.id(computes, False, self.first), "computes": computes, "given": given, "expect": expect}
        if tolerance is not None:
            c["tolerance"] = tolerance if isinstance(tolerance, dict) else {"*": tolerance}
            c["tolerance"] = {**c["tolerance"], **zeros(expect, c["tolerance"])}
        c["second"] = second
        if note:
            c["note"] = note
        self.cases.append(c)

    def refuse(self, computes, given, fields, note=""):
        """Adds a case that expects an error which names these fields."""
        c = {"id": self.file.id(computes, True, self.first), "computes": computes, "given": given, "error": fields}
        if note:
            c["note"] = note
        self.cases.append(c)

    def refuse_each(self, computes, good, changes):
        """Adds refusals of a good input with some fields changed. Each of
        changes is (changed fields, fields named, note); a field changed to
        None is left out."""
        for changed, fields, note in changes:
            given = {k: v for k, v in {**good, **changed}.items() if v is not None}
            self.refuse(computes, given, fields, note)


def dump(value, newline):
    """value as canonical JSON: two spaces a level, a list of scalars on one line."""
    deeper = newline + "  "
    if isinstance(value, Number):
        return str(value)
    if isinstance(value, dict):
        if not value:
            return "{}"
        return "{" + deeper + ("," + deeper).join(
            json.dumps(k, ensure_ascii=False) + ": " + dump(v, deeper) for k, v in value.items()) + newline + "}"
    if isinstance(value, list):
        if any(isinstance(v, (dict, list)) for v in value):
            return "[" + deeper + ("," + deeper).join(dump(v, deeper) for v in value) + newline + "]"
        return "[" + ", ".join(dump(v, deeper) for v in value) + "]"
    if isinstance(value, float):
        return repr(value)
    return json.dumps(value, ensure_ascii=False)
