package unitstest

import (
	"flag"
	"fmt"
	"runtime"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// Refusal returns what is wrong with a reader's error for an invalid input, or "". The error must
// not be nil, must name a field and a class for each fault, and must be valid UTF-8 of at most most
// bytes. No fault may quote more than about 1 kB of the input.
func Refusal(err error, most int) string {
	if err == nil {
		return "no error"
	}
	fields := units.Fields(err)
	switch text := err.Error(); {
	case len(fields) == 0:
		return "an error that names no field"
	case len(text) > most:
		return fmt.Sprintf("an error of %d bytes", len(text))
	case !utf8.ValidString(text):
		return "an error that is not UTF-8"
	}
	for _, f := range fields {
		value := fmt.Sprint(f.Value)
		switch {
		case f.Class == nil || f.Want.String() == "":
			return fmt.Sprintf("a fault without its class or what is wanted: %v", f)
		case len(f.Field) > 1100 || len(value) > 70 || len(f.Want.String()) > 1100:
			return fmt.Sprintf("a fault that repeats a long input: %d bytes of field, %d of value, %d of what is wanted", len(f.Field), len(value), len(f.Want.String()))
		}
	}
	return ""
}

// Allocated returns the bytes allocated during a call, including those of other goroutines.
func Allocated(call func()) int {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return int(after.TotalAlloc - before.TotalAlloc)
}

var long = flag.Bool("long", false, "run heavy sweeps in full")

// Long reports whether the test program was given the flag -long, which asks for heavy sweeps in
// full:
//
//	go test ./linkage -args -long
//
// Without it a test should take a fraction of a second, with a thinner sweep or none. Call Long in
// tests, not in the initialisation of variables: flags are not parsed then.
func Long() bool { return *long }
