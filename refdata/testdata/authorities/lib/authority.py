"""What the scripts of this directory share.

Each script is one authority: a program from the Debian archive that knows
nothing of this library, and whose answers the check cases are held against.
Run one in the directory of package refdata:

    /usr/bin/python3 testdata/authorities/gnu_units.py

It prints its authority with package and version, and how many values of how
many cases agree. Its exit status is 1 where one does not, where the package is
missing, where a case of the computations it speaks on was left out, and where
data/authorities.json names another version or other computations: what stands
there beside the numbers is what was run. Nothing is ever skipped.
"""
import json
import math
import pathlib
import subprocess
import sys

DATA = pathlib.Path("data")

# Sizes in SI, exact where a float can be. The (g) and (a) of pressures are cut off before.
_IN, _LB, _G0 = 0.0254, 0.45359237, 9.80665
_LBF = _LB * _G0
SIZES = {
    "mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": _IN, "ft": 12 * _IN,
    "g": 1e-3, "kg": 1.0, "lb": _LB, "N": 1.0, "kN": 1e3, "lbf": _LBF, "kgf": _G0,
    "N/mm": 1e3, "N/m": 1.0, "lbf/in": _LBF / _IN, "kgf/mm": _G0 * 1e3,
    "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "GPa": 1e9, "bar": 1e5, "psi": _LBF / _IN**2, "kpsi": 1e3 * _LBF / _IN**2, "Mpsi": 1e6 * _LBF / _IN**2, "psia": _LBF / _IN**2, "psig": _LBF / _IN**2, "atm": 101325.0,
    "mm2": 1e-6, "cm2": 1e-4, "m2": 1.0, "mm3": 1e-9, "cm3": 1e-6, "cc": 1e-6, "ml": 1e-6, "l": 1e-3, "m3": 1.0, "in3": _IN**3,
    "kg/m3": 1.0, "g/cm3": 1e3, "oz": _LB / 16, "J": 1.0, "kJ": 1e3, "s": 1.0, "ms": 1e-3, "1/m": 1.0, "Hz": 1.0, "deg": math.pi / 180, "rad": 1.0,
}


def split(text):
    """The number and the unit of a quantity."""
    number, _, unit = text.strip().partition(" ")
    return float(number), unit


def plain(unit):
    """A unit in ASCII, without what tells gauge from absolute."""
    for a, b in (("²", "2"), ("³", "3"), ("·", " "), ("(g)", ""), ("(a)", "")):
        unit = unit.replace(a, b)
    return unit


def si(text):
    """The SI value of a quantity, or of a number."""
    if isinstance(text, (int, float)):
        return float(text)
    number, unit = split(text)
    if unit in ("", "K"):
        return number
    if unit in ("°C", "degC"):
        return number + 273.15
    if unit in ("°F", "degF"):
        return (number + 459.67) / 1.8
    return number * SIZES[plain(unit)]


class Authority:
    """The bookkeeping of one script."""

    def __init__(self, script):
        self.script = pathlib.Path(script).name
        with open(DATA / "authorities.json", encoding="utf-8") as f:
            entries = [a for a in json.load(f)["authorities"] if a["script"] == self.script]
        if len(entries) != 1:
            sys.exit(f"{self.script}: data/authorities.json has {len(entries)} entries for it, want 1")
        self.entry = entries[0]
        self.faults, self.handed, self.seen, self.values, self.worst = [], {}, {}, 0, 0.0

    def need(self, found, how=""):
        """Ends the program where what it stands on is missing."""
        if not found:
            package = self.entry["package"]
            sys.exit(f"{self.script}: {self.entry['name']} is missing: apt-get install {package}{how and f' ({how})'}")

    def cases(self, *computes):
        """The cases of these computations that expect outputs."""
        for path in sorted((DATA / "cases").glob("*.json")):
            with open(path, encoding="utf-8") as f:
                for group in json.load(f)["groups"]:
                    for c in group["cases"]:
                        if c["computes"] in computes and "expect" in c:
                            self.handed.setdefault(c["computes"], set()).add(c["id"])
                            yield c

    def compare(self, case, output, expected, got, allowed):
        """Holds one SI value against another; allowed is absolute."""
        self.seen.setdefault(case["computes"], set()).add(case["id"])
        self.values += 1
        off = abs(got - expected)
        if not off <= allowed:
            self.faults.append(f"{case['id']}: {output}: {expected!r} in the case, {got!r} from {self.entry['name']}, off by {off:.3g}, more than {allowed:.3g}")
        elif allowed > 0:
            self.worst = max(self.worst, off / allowed)

    def finish(self, version):
        """Says what came of it, and ends the program."""
        name, package = self.entry["name"], self.entry["package"]
        installed = subprocess.run(["dpkg-query", "-W", "-f", "${Version}", package], capture_output=True, text=True).stdout or "not from a Debian package"
        if version != self.entry["version"]:
            self.faults.append(f"data/authorities.json says version {self.entry['version']}, this is {version}")
        if sorted(self.seen) != sorted(self.entry["confirms"]):
            self.faults.append(f"data/authorities.json says it confirms {self.entry['confirms']}, this confirms {sorted(self.seen)}")
        for computes, ids in self.handed.items():
            self.faults += [f"{missed}: nothing of it was compared" for missed in sorted(ids - self.seen.get(computes, set()))]
        if self.faults:
            print(f"{name} {version} (package {package} {installed}): {len(self.faults)} disagreements")
            print("\n".join("  " + f for f in self.faults))
            sys.exit(1)
        cases = sum(len(ids) for ids in self.seen.values())
        print(f"{name} {version} (package {package} {installed}): {self.values} values of {cases} cases agree, "
              f"the worst with {self.worst:.2g} of what is allowed")
