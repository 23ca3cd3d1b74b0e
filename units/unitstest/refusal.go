package unitstest

import (
	"flag"
	"fmt"
	"runtime"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// Refusal says what is wrong with an error that refuses an input, "" for nothing: that there is
// none, that it names no field or no sentinel of package units, or that its text has more than most
// bytes or is not UTF-8.
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
		case f.Class == nil || f.Want == "":
			return fmt.Sprintf("a fault without its class or what is wanted: %v", f)
		case len(f.Field) > 1100 || len(value) > 70 || len(f.Want) > 1100:
			return fmt.Sprintf("a fault that repeats a long input: %d bytes of field, %d of value, %d of what is wanted", len(f.Field), len(value), len(f.Want))
		}
	}
	return ""
}

// Allocated returns how many bytes a call allocates in all, with what else runs meanwhile.
func Allocated(call func()) int {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return int(after.TotalAlloc - before.TotalAlloc)
}

var long = flag.Bool("long", false, "run heavy sweeps in full")

// Long reports whether heavy sweeps are wanted in full. They are if the test program was given -long:
//
//	go test ./linkage -args -long
//
// Without it a test runs in a fraction of a second, on a thinner sweep or on none. Long is for
// tests alone: while variables of a package are set, no flag has been read.
func Long() bool { return *long }
