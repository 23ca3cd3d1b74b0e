package unitstest

import (
	"flag"
	"testing"
)

func TestLongIsTheFlag(t *testing.T) {
	was := flag.Lookup("long").Value.String()
	defer flag.Set("long", was)
	for _, value := range []string{"true", "false"} {
		if err := flag.Set("long", value); err != nil {
			t.Fatal(err)
		}
		if got := Long(); got != (value == "true") {
			t.Errorf("-long=%s: %v", value, got)
		}
	}
}
