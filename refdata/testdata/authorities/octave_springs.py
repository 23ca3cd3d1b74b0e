"""GNU Octave on coil springs, wire and loads: apt-get install octave.

It evaluates the closed forms once more, in doubles and in another language,
and where there is one by another formula: buckling as EN 13906-1 has it in an
open-source program (the standard's own text was not opened) where the cases
come from Haringx's, the thin rod with its ends held by solving for the couple,
the solid diameter from the length of wire in a turn. All agree to the case's
own tolerance, but not closer than 1e-12.
"""
import json
import math
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, "testdata/authorities/lib")
from authority import DATA, Authority, si

a = Authority(__file__)
program = shutil.which("octave-cli")
a.need(program)

COIL = r"""
function y = coil(d, D, n, ends, G, E, rho, L0, F, nu)
  % ends: 0 plain, 1 plain_ground, 2 squared, 3 squared_ground
  C = D / d;
  N = n + [0 1 2 2](ends + 1);
  solid = [N+1 N N+1 N](ends + 1) * d;
  dead = [1 0 3 2](ends + 1) * d;                     % of the free length, by no pitch
  turns = [n n+1 n n](ends + 1);
  k = G * d^4 / (8 * D^3 * n);
  shear = 8 * D / (pi * d^3);                         % stress of a unit force
  wahl = (4*C - 1) / (4*C - 4) + 0.615 / C;
  berg = (C + 0.5) / (C - 0.75);                      % the same, as EN 13906-1 has it
  p = (L0 - dead) / turns;
  alpha = atan2(p, pi * D);
  R = D / 2;
  L = hypot(pi * D, p) * n;                           % wire in the active coils
  GJ = G * pi * d^4 / 32;  EI = E * pi * d^4 / 64;
  t = [cos(alpha); sin(alpha)];                       % torsion and bending of a unit couple about the tangent's normal
  A = L * [R^2 * (t(1)^2/GJ + t(2)^2/EI), R * t(1)*t(2) * (1/GJ - 1/EI); ...
           R * t(1)*t(2) * (1/GJ - 1/EI), t(2)^2/GJ + t(1)^2/EI];
  held = A \ [1; 0];                                  % force and couple for a unit travel and no turn
  m = rho * pi/4 * d^2 * pi * D;                      % of a coil
  q = 1 - G/E;
  inside = 1 - q / (0.5 + G/E) * (pi * D / (nu * L0))^2;
  if inside >= 0
    buckles = L0 * 0.5 / q * (1 - sqrt(inside));
  else
    buckles = NaN;
  end
  w = C / 10;
  aF = 65.92 * (1000*d)^3.3 / (1000*D)^1.6 * polyval([-0.84 3.781 -4.244 2.274], w);
  kF = polyval([1/3 8/5 0.803], 1/n);
  wide = sqrt(D^2 + (p^2 - d^2) / pi^2);              % the same wire in a turn of pitch d
  grade = (aF * kF + 0.015 * F) * [0.63 1 1.6];
  y = struct("mean_diameter", D, "index", C, "rate", k, "rate_ends_free", 1/A(1,1), "rate_ends_held", held(1), ...
             "wahl", wahl, "bergstrasser", berg, "active_coils", n, "total_coils", N, "pitch", p, "helix_angle", alpha, ...
             "solid_length", solid, "solid_travel", L0 - solid, "solid_force", k * (L0 - solid), "travel", F / k, ...
             "stress", berg * shear * F, "stress_wahl", wahl * shear * F, "stress_uncorrected", shear * F, ...
             "solid_stress", berg * shear * k * (L0 - solid), "wire_length", pi * D * N, "mass", m * N, ...
             "surge_frequency", sqrt(k / (m * n)) / 2, "outer_diameter_solid", wide + d, "buckling_travel", buckles, ...
             "stable_slenderness", pi / nu * sqrt(2 * (E - G) / (2*G + E)), ...
             "load_tolerance_1", grade(1), "load_tolerance_2", grade(2), "load_tolerance_3", grade(3), ...
             "free_length_tolerance_1", 0.63 * aF*kF/k, "free_length_tolerance_2", aF*kF/k, "free_length_tolerance_3", 1.6 * aF*kF/k);
end
"""
ENDS = {"plain": 0, "plain_ground": 1, "squared": 2, "squared_ground": 3}
DEAD = (0, 1, 2, 2)


def octave(functions, calls):
    """What the calls come to: outputs by name."""
    show = 'y = {}; for [v, name] = y printf("%s %.17g ", name, v); end; printf("\\n");'
    with tempfile.NamedTemporaryFile("w", suffix=".m") as script:
        script.write("1;\n" + functions + "\n" + "\n".join(show.replace("{}", call) for call in calls) + "\n")
        script.flush()
        run = subprocess.run([program, "--norc", "--no-history", "--quiet", script.name], capture_output=True, text=True, stdin=subprocess.DEVNULL)
    rows = [line.split() for line in run.stdout.splitlines()]
    if run.returncode or len(rows) != len(calls):
        sys.exit(f"octave_springs.py: octave answers {len(rows)} of {len(calls)} calls: {run.stderr.strip()[-500:]}")
    return [dict(zip(row[::2], map(float, row[1::2]))) for row in rows]


def call(name, *numbers):
    return f"{name}({', '.join('NaN' if v is None else repr(float(v)) for v in numbers)})"


def allowed(case, output, want):
    tolerance = case.get("tolerance", {})
    t = tolerance.get(output, tolerance.get("*", 0))
    return max(si(t) if isinstance(t, str) else t * abs(want), 1e-12 * abs(want))


def compare(case, row):
    """Compares what a case expects as far as Octave has it."""
    for output in case["expect"].keys() & row.keys():
        want = si(case["expect"][output])
        a.compare(case, output, want, row[output], allowed(case, output, want) * (1 + 1e-9))


with open(DATA / "materials.json", encoding="utf-8") as f:
    MATERIALS = {m["name"]: m for m in json.load(f)["materials"]}


def material(given, wire):
    """The moduli and the density that a case has from its material's name."""
    m = MATERIALS[given["material"]]
    rows = [r for r in m["moduli"]["rows"] if si(r.get("wire_from", 0)) < wire <= si(r.get("wire_to", 1e9))]
    density = m.get("density", {}).get("value")
    return {"shear_modulus": rows[0]["shear_modulus"]["value"], "elastic_modulus": rows[0]["elastic_modulus"]["value"], **({"density": density} if density else {})}


def arguments(given):
    value = lambda name: si(given[name]) if name in given else None  # noqa: E731
    d, ends = value("wire_diameter"), ENDS[given.get("ends", "plain")]
    if "material" in given:
        given = {**material(given, d), **given}
    diameter = value("mean_diameter") or (value("outer_diameter") - d if "outer_diameter" in given else value("inner_diameter") + d)
    n = value("active_coils") or value("total_coils") - DEAD[ends]
    return d, diameter, n, ends, value("shear_modulus"), value("elastic_modulus"), value("density"), value("free_length"), value("load"), value("end_fixity")


cases = list(a.cases("spring.coil"))
for case, row in zip(cases, octave(COIL, [call("coil", *arguments(c["given"])) for c in cases])):
    compare(case, row)

STRENGTH = r"""
function y = strength(d, A, m, B, cap)
  % of the wire in mm: a power where there is m, a logarithm with a cap otherwise
  if isnan(m)
    y.tensile_strength = min(A - B * log(d) / log(10), cap);
  else
    y.tensile_strength = A * exp(-m * log(d));
  end
end
"""
cases = list(a.cases("spring.strength"))
calls = []
for c in cases:
    d = si(c["given"]["wire_diameter"])
    rows = [r for r in MATERIALS[c["given"]["material"]]["strength"]["rows"] if si(r.get("wire_from", 0)) <= d <= si(r.get("wire_to", 1e9))]
    value = lambda name: si(rows[0][name]["value"]) if name in rows[0] else None  # noqa: E731, B023
    calls.append(call("strength", d * 1000, value("at_1_mm"), rows[0].get("exponent"), value("per_decade"), value("cap")))
for case, row in zip(cases, octave(STRENGTH, calls)):
    compare(case, row)

WARM = "function y = warm(G, r, T)\n  y.shear_modulus = G - G * r * (T - 293.15);\nend\n"
cases = list(a.cases("spring.warm"))
for case, row in zip(cases, octave(WARM, [call("warm", *(si(c["given"][k]) for k in ("shear_modulus", "coefficient", "temperature"))) for c in cases])):
    compare(case, row)

LOADS = r"""
function y = loads(rider, bike, front, rear, share, base, behind, front_scale, rear_scale)
  % the two wheels carry the weight and balance its moment about the front axle
  g = 9.80665;
  if isnan(share)
    share = behind / base;
  end
  w = [1 1; 0 1] \ ((rider + bike) * g * [1; share]);
  if !isnan(front_scale)
    w = [front_scale; rear_scale] * g;
  end
  y = struct("front_load", w(1) - front*g, "rear_load", w(2) - rear*g, "rear_share", w(2) / sum(w), ...
             "front_wheel_load", w(1), "rear_wheel_load", w(2));
end
"""
cases = [c for c in a.cases("sag.loads")]
calls = []
for c in cases:
    given = c["given"]
    v = lambda name, default=None: si(given[name]) if name in given else default  # noqa: E731, B023
    calls.append(call("loads", v("rider_mass"), v("bike_mass"), v("unsprung_front", 0), v("unsprung_rear", 0), v("rear_share"), v("wheelbase"),
                      v("mass_centre_behind_front_axle"), v("front_scale"), v("rear_scale")))
for case, row in zip(cases, octave(LOADS, calls)):
    compare(case, row)

banner = subprocess.run([program, "--version"], capture_output=True, text=True).stdout
a.finish(re.search(r"version (\S+)", banner).group(1))
