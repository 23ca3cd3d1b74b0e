package unitstest

import "flag"

var long = flag.Bool("long", false, "run heavy sweeps in full")

// Long reports whether heavy sweeps are wanted in full. They are if the test
// program was given -long:
//
//	go test ./linkage -args -long
//
// Without it a test runs in a fraction of a second, on a thinner sweep or on none.
// Long may be called from tests alone: before them, while variables of the package
// are set, no flag has been read.
func Long() bool { return *long }
