"""Answers the dataset's cases by the C library, over the protocol of the dataset's
description, and measures what a call costs:

    python3 partner.py DIRECTORY

DIRECTORY has the built library and wheelrate.py. A line {"question": {…}, "calls": n} is replied to by the seconds that so many calls took.
"""

import glob
import json
import platform
import sys
import time

sys.path.insert(0, sys.argv[1])
import wheelrate


def seconds(library, question, calls):
    """The processor time of so many calls."""
    began = time.process_time()
    for _ in range(calls):
        json.loads(library.ask(json.dumps(question).encode()))
    return time.process_time() - began


def name(fault):
    """What good inputs come to is named by its code, a bad field by its path."""
    code = fault["code"]
    return code if code in ("topped_out", "bottomed_out", "locks") else fault["field"]


def answer(library, message):
    if "hello" in message:
        return {"hello": "wheelrate/protocol/1", "program": f"C library in Python {platform.python_version()}"}
    if "calls" in message:
        return {"seconds": seconds(library, message["question"], message["calls"])}
    reply = library.compute(message["computes"], message["given"])
    if "faults" in reply:
        return {"id": message["id"], "error": [name(fault) for fault in reply["faults"]]}
    return {"id": message["id"], "answer": reply["answer"]}


with wheelrate.Library(glob.glob(sys.argv[1] + "/libwheelrate.*")[0]) as library:
    for line in sys.stdin.buffer:
        print(json.dumps(answer(library, json.loads(line))), flush=True)
