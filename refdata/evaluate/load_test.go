package evaluate

import (
	"errors"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
)

// FuzzLoad holds that no file makes the reader panic, that every refusal is a
// FileError, and that what was read can be judged.
func FuzzLoad(f *testing.F) {
	f.Add(file(group(aCase("a"))))
	f.Add(file(`{"source":{"title":"T","where":"W"},"standing":"published","cases":[{"id":"x","computes":"units.convert","given":{},"error":["kind"],"tolerance":{"*":"1 °C"}}]}`))
	f.Add(strings.Repeat(`{"groups":[`, 50))
	f.Add(file(group(`{"id":"x","computes":"units.convert","given":{},"expect":{"value":` + strings.Repeat("[", 2000) + strings.Repeat("]", 2000) + `}}`)))
	f.Fuzz(func(t *testing.T, text string) {
		err := refdata.EachFrom("f.json", strings.NewReader(text), func(c refdata.Case) error {
			if c.ID == "" || len(c.Expect) == 0 == (len(c.Error) == 0) {
				t.Errorf("case %+v is no case", c)
			}
			o := Run(c)
			if o.Pass() != (o.Failure() == "") {
				t.Errorf("%s: passed %v, failure %q", c.ID, o.Pass(), o.Failure())
			}
			return nil
		})
		var bad *refdata.FileError
		if err != nil && !errors.As(err, &bad) {
			t.Errorf("error %v is no FileError", err)
		}
	})
}
