package coil_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// An invented spring of a long fork.
func ExampleSpring_Warnings() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 5 * units.Millimetre, MeanDiameter: 25 * units.Millimetre, ActiveCoils: 24, ShearModulus: 79500 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	for _, w := range s.Warnings() {
		fmt.Printf("%s: %s = %s, not %s\n", w.Code, w.Field, w.Value, w.Limit)
	}
	// Output: coils_unusual: active_coils = 24, not 3 to 15
}
