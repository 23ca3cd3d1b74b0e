"""Writes data/cases/sag-stance.json: what the springs of a bike carry at its rest.

The rest, and with it the loads of both wheels on the ground, are those of sag.whole,
where sag.py found them as the least of the energy. What the springs do not carry is
weighed here, and the springs' part is held against the weight of all that they carry.
Where sag.json changes, this is run after it. See casefile.py for how.
"""
import json
import pathlib

from mpmath import mp

from casefile import File, G0, RULES, close, mpmath_source, si, to

file = File("loads on the springs of a bike at rest")
rests = [c for group in json.loads(pathlib.Path("data/cases/sag.json").read_text())["groups"] for c in group["cases"]
         if c["computes"] == "sag.whole" and "front_wheel_load" in c.get("expect", {})]

g = file.group(mpmath_source("sag_stance.py", "loads of the wheels from sag.json, less the weight of what the springs do not carry"), "computed", 1)
for c in rests:
    given, loads, weight = c["given"], {}, G0 * mp.cos(si(c["given"].get("slope", "0 deg")))
    for end in ("front", "rear"):
        loads[end] = si(c["expect"][end + "_wheel_load"]) - si(given.get("unsprung_" + end, "0 kg")) * weight
    sprung = si(given["rider_mass"]) + si(given["bike_mass"]) - si(given.get("unsprung_front", "0 kg")) - si(given.get("unsprung_rear", "0 kg"))
    close(loads["front"] + loads["rear"], sprung * weight, 1e-12, "the weight of what the springs carry")
    g.add("sag.stance", given, {end + "_load": to(f, "N") for end, f in loads.items()}, 1e-9, "both together are the weight of what the springs carry", f"the rest of {c['id']}")

g = file.group(RULES, "definition", 1)
g.refuse_each("sag.stance", rests[0]["given"], [
    ({"wheelbase": None}, ["wheelbase"], "missing"), ({"slope": "70 deg", "rider_mass": "-80 kg"}, ["slope", "rider_mass"], "steeper than is ridden, and negative"),
    ({"mass_centre_height": "1050"}, ["mass_centre_height"], "missing unit"), ({"driving": -1}, ["driving"], "negative"), ({"grade": 0.1}, ["grade"], "no such field"),
])
file.write()
