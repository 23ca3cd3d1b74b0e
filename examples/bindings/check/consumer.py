"""A program of somebody who has the C library and wheelrate.py:

    python3 consumer.py DIRECTORY JOB
"""

import glob
import json
import sys
import threading

sys.path.insert(0, sys.argv[1])
import wheelrate


def refused(error, call):
    """Reports whether a call raises the error."""
    try:
        call()
    except error:
        return True
    return False


with wheelrate.Library(glob.glob(sys.argv[1] + "/libwheelrate.*")[0]) as library:
    given = {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "rear_share": 0.58, "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg"}
    reply = library.compute("sag.loads", given)
    # By hand: (0.58·98.8 − 3.2) kg · 9.80665 m/s² = 530.5790 N
    [rear] = library.convert([reply["answer"]["rear_load"]], "N")["numbers"]
    assert abs(rear - 530.579) < 1e-3, rear

    faults = library.compute("sag.loads", {**given, "rear_share": 2, "bike_mass": 16})["faults"]
    assert sorted(fault["field"] for fault in faults) == ["bike_mass", "rear_share"], faults
    assert library.compute("spring.leaf", {})["faults"][0]["code"] == "unknown"
    assert library.compute("spring.coil", None)["faults"]
    for question in b"", b"\xff\xfe", b"null", b"\0", b"[" * 100000, b" " * (1 << 24):
        assert json.loads(library.ask(question))["faults"], question[:10]
    assert refused(ValueError, lambda: library.compute("sag.loads", {**given, "rear_share": float("nan")}))

    with open(sys.argv[2], encoding="utf-8") as file:
        job = json.load(file)
    sheet = library.sheet({**job, "note": "Äther · 氷 · 🚲"})["sheet"]
    assert sheet["note"] == "Äther · 氷 · 🚲" and sheet["cautions"]

    same = []
    threads = [threading.Thread(target=lambda: same.extend(library.compute("sag.loads", given) == reply for _ in range(100))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(same) == 400 and all(same)
assert refused(ValueError, lambda: library.ask(b"{}"))
print(f"rear {rear} N")
