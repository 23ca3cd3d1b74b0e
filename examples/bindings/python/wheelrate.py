"""Suspension set-up maths: the library in Go, called by ctypes.

    with wheelrate.Library("libwheelrate.so") as library:
        reply = library.compute("sag.loads", {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "rear_share": 0.58})
        for fault in reply.get("faults", []):
            print(fault["field"], "want", fault["want"])

What is asked and replied is dicts of JSON; README.md has their forms. A quantity
is a text with its unit. Bad input raises nothing: the reply then has "faults", one
for every bad field. Calls may come from several threads, and run at once.
"""

import ctypes
import json
import os


class Library:
    """The C library. Leaving its context ends the use of it, but doesn't unload it: no Go library can be."""

    def __init__(self, path):
        self._c = ctypes.CDLL(os.path.abspath(path))
        self._c.wheelrate_ask.argtypes = [ctypes.c_char_p, ctypes.c_size_t]
        self._c.wheelrate_ask.restype = ctypes.c_void_p  # not c_char_p, of which the address is lost
        self._c.wheelrate_free.argtypes = [ctypes.c_void_p]
        self._c.wheelrate_free.restype = None

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self._c = None

    def ask(self, question):
        """Returns the reply to a question; both are JSON in UTF-8, as bytes."""
        if self._c is None:
            raise ValueError("the library is closed")
        reply = self._c.wheelrate_ask(question, len(question))
        if not reply:
            raise MemoryError("no memory for the reply")
        try:
            return ctypes.string_at(reply)
        finally:
            self._c.wheelrate_free(reply)

    def _reply(self, **question):
        # A NaN or an infinity is a mistake in Python: JSON has neither.
        return json.loads(self.ask(json.dumps(question, allow_nan=False).encode()))

    def compute(self, computation, given):
        """Answers a computation of the dataset: {"answer": …} or {"faults": […]}."""
        return self._reply(computation=computation, given=given)

    def sheet(self, job):
        """Works a set-up job out: {"sheet": …} or {"faults": […]}."""
        return self._reply(job=job)

    def convert(self, quantities, unit):
        """Returns the numbers of quantities in a unit: {"numbers": […]} or {"faults": […]}."""
        return self._reply(convert=quantities, unit=unit)

    def version(self):
        """Says what answers, and lists the computations."""
        return self._reply(version=True)["version"]
