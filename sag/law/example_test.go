package law_test

import (
	"fmt"

	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// A soft spring of 200 N/mm stops after 5 mm, at 1000 N; then the main spring goes on alone.
func ExampleKinds_Build() {
	var spec law.Spec
	text := `{"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "65 mm"}}`
	if err := strictjson.Unmarshal("law", []byte(text), &spec); err != nil {
		fmt.Println(err)
		return
	}
	c := units.Checker{Package: "law"}
	made := spec.Build(&c)
	if !c.OK() {
		fmt.Println(c.Err())
		return
	}
	fmt.Println(spring.Describe(made))
	// Output: 62.069 N/mm to 90 N/mm over 70 mm
}

func ExampleKinds_Springs() {
	one := law.Spec{Linear: &spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre}}
	stack := law.Spec{Series: []law.Spec{one, one}}
	fmt.Println(one.Springs(), stack.Springs(), stack.Gas())
	// Output: 1 2 false
}
