#!/usr/bin/env python3
"""Answers the reference cases, as the protocol of the description says.

    stranger.py [DATASET]

DATASET is the folder of the dataset, with description/ and materials.json; where
it is left out, the one of this repository.
"""

import json
import pathlib
import sys

import chambers
import coils
import curves
import drivetrains
import gases
import laws
import linkages
import pump
import quantities
import settling
import standing
from reading import DATA, Dataset, Reader, loads

PROGRAM = "stranger in Python 1"
MODULES = (quantities, coils, laws, chambers, pump, gases, curves, linkages, drivetrains, settling, standing)


def plain(value):
    """An answer in JSON: plain numbers are in SI."""
    if isinstance(value, dict):
        return {name: plain(v) for name, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    return value if isinstance(value, (str, bool, int)) else float(value)


class Stranger:
    def __init__(self, folder):
        dataset = Dataset(folder)
        DATA["dataset"] = dataset
        rules, self.computations = {}, {}
        for module in MODULES:
            rules |= module.RULES
            self.computations |= module.COMPUTATIONS
        self.reader = Reader(dataset, rules)

    def answer(self, case):
        compute = self.computations.get(case["computes"])
        if compute is None:
            return {"skip": "not attempted"}
        given, faults = self.reader.read(case["computes"], case["given"])
        if faults.found:
            return {"error": faults.names()}
        return {"answer": plain(compute(given))}


def main():
    here = pathlib.Path(__file__).resolve().parent
    folder = sys.argv[1] if len(sys.argv) > 1 else here.parents[2] / "refdata" / "data"
    stranger = Stranger(folder)
    for line in sys.stdin:
        message = loads(line)
        if "hello" in message:
            reply = {"hello": "wheelrate/protocol/1", "program": PROGRAM, "form": "text"}
            reply["computes"] = sorted(stranger.computations)
        else:
            reply = {"id": message["id"], **stranger.answer(message)}
        print(json.dumps(reply, ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main()
