package evaluate

import (
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Result is what a computation gives: the outputs by the names of the case
// format. Each value is a quantity of package units, a float64, an int, a
// string, or a slice of one of these.
type Result map[string]any

// computation reads what is given, strictly, and computes all it can from it.
// Outputs that an optional input would be needed for are left out.
type computation func(given *input) (Result, error)

// input is what a case gives, and what was found wrong with its text.
type input struct {
	json  []byte
	found *strictjson.Salvaged // nil until it is decoded, and where it is no JSON
}

// tables holds the computations of one package each, by name.
var tables = []map[string]computation{
	unitsComputations,
	springComputations,
	springsetComputations,
	airspringComputations,
	linkageComputations,
	sagComputations,
}

// Compute computes what a case asks for from what it gives. Only c.Computes
// and c.Given are looked at. The error lists every bad field as a
// [*units.FieldError]; a computation that is not known is one in "computes".
func Compute(c refdata.Case) (Result, error) {
	compute := find(c.Computes)
	if compute == nil {
		bad := units.Checker{Package: "evaluate"}
		bad.Fail("computes", c.Computes, "one of the known computations", units.ErrUnknown)
		return nil, bad.Err()
	}
	if len(c.Given) > refdata.CaseLimit {
		return nil, &units.FieldError{Package: "evaluate", Field: "given", Value: len(c.Given),
			Want: "at most 1 MiB of JSON", Class: units.ErrRange}
	}
	in := &input{json: c.Given}
	result, err := compute(in)
	if in.found != nil {
		err = in.found.Join(err)
	}
	if err != nil {
		return nil, err
	}
	return result, nil
}

// Computations lists the names that Evaluate knows, in alphabetical order.
func Computations() []string {
	var names []string
	for _, table := range tables {
		for name := range table {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

func find(computes string) computation {
	for _, table := range tables {
		if compute := table[computes]; compute != nil {
			return compute
		}
	}
	return nil
}

// mostValues is how many values a list of a case may give.
const mostValues = 1000

// decode reads given into a T, strictly. What is wrong with its text is kept
// for Compute to report, and the computation goes on with what could be read,
// so that its own checks find what else is bad. The error says that it can't.
func decode[T any](given *input) (v T, err error) {
	given.found, err = strictjson.Salvage("evaluate", given.json, mostValues, &v)
	return v, err
}

// besides adds to what c holds the fields that err names. Where a part could
// not be made, a constructor that needs it says so of the part as a whole, by
// one of the names given: that is left out. Where c holds nothing it is err.
func besides(c *units.Checker, err error, parts ...string) error {
	if c.OK() {
		return err
	}
	for _, f := range units.Fields(err) {
		missing := slices.ContainsFunc(parts, func(part string) bool { return f.Field == part || strings.HasPrefix(f.Field, part+".") })
		if !missing {
			c.Add("", f)
		}
	}
	return c.Err()
}
