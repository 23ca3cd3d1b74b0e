package strictjson_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// chamber and job are invented for these examples.
type chamber struct {
	Bore units.Length        `json:"bore"`
	Fill units.GaugePressure `json:"fill"`
}

type job struct {
	Rider units.Mass `json:"rider"`
	Front struct {
		Air *chamber `json:"air,omitempty"`
		Sag float64  `json:"sag"`
	} `json:"front"`
}

// Every fault is found in one go; a program prints them a line each.
func ExampleDecode() {
	const text = `{
	"rider": 82,
	"front": {
		"air": {"bore": "36 mm", "fill": "72", "shaft": "10 mm"},
		"sag": "20 %"
	},
	"sag": 0.3
}`
	var j job
	err := strictjson.Decode("job", strings.NewReader(text), 64<<10, &j)
	for _, fault := range units.Fields(err) {
		fmt.Println(fault)
	}
	// Output:
	// job: rider 82: want a unit, in quotes: "82 kg" or "82 lb"?
	// job: front.air.fill "72": want a unit: 72 bar or 72 psi?
	// job: front.air.shaft: want one of bore, fill
	// job: sag: want one of rider, front
}

func ExampleUnmarshal() {
	var j job
	text := []byte(`{"rider": "82 kg", "front": {"air": {"bore": "36 mm", "fill": "72 psi"}, "sag": 0.2}}`)
	if err := strictjson.Unmarshal("job", text, &j); err != nil {
		fmt.Println(err)
	}
	fmt.Printf("%v, %.1f in %v\n", j.Rider, j.Front.Air.Fill, j.Front.Air.Bore)

	// encoding/json writes what strictjson reads.
	written, err := json.Marshal(j.Front.Air)
	fmt.Println(string(written), err)
	// Output:
	// 82 kg, 496.4 kPa(g) in 36 mm
	// {"bore":"36 mm","fill":"496.42252510812204 kPa(g)"} <nil>
}

// Text that is no JSON is reported with line and column.
func ExampleUnmarshal_syntax() {
	var j job
	fmt.Println(strictjson.Unmarshal("job", []byte("{\n  \"rider\": \"82 kg\",\n}"), &j))
	// Output:
	// job: want a name in double quotes, not '}' (line 3, column 1)
}

// A text that a program wrote has no typos: a field that is not known is one of a newer version.
func ExampleSalvage_written() {
	var c chamber
	s, err := strictjson.Salvage("record", []byte(`{"bore": "36 mm", "valve": "short"}`), strictjson.Rules{Written: true}, &c)
	if err != nil {
		fmt.Println(err)
		return
	}
	err = s.Join(nil)
	fmt.Println(errors.Is(err, units.ErrNewer), c.Bore)
	fmt.Println(err)
	// Output:
	// true 36 mm
	// record: valve: want one of bore, fill, or a later version of this program
}

// A value that can't be read does not hide one that is out of range.
func ExampleSalvage() {
	newChamber := func(c chamber) error { // a constructor, in short
		check := units.Checker{Package: "air"}
		units.Positive(&check, "bore", c.Bore)
		units.Positive(&check, "fill", c.Fill)
		return check.Err()
	}
	var c chamber
	s, err := strictjson.Salvage("job", []byte(`{"bore": "36", "fill": "-70 kPa"}`), strictjson.Rules{}, &c)
	if err != nil {
		fmt.Println(err) // no JSON
		return
	}
	fmt.Println(s.Join(newChamber(c)))
	// Output:
	// job: bore "36": want a unit: 36 mm or 36 in?
	// air: fill -70 kPa(g): want a finite value, more than 0
}
