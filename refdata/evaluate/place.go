package evaluate

import (
	"slices"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// placed are the criteria of a coil spring in its place.
type placed []coil.Criterion

func place(c *units.Checker, in struct {
	coilGiven
	Place coil.Place `json:"place"`
}) placed {
	own := c.Child("place")
	in.Place.Check(&own)
	s := in.build(c)
	return run(c, func() (placed, error) { return coil.CheckPlace(s, in.Place) })
}

func (p placed) codes() []string {
	return over(p, func(k coil.Criterion) string { return k.Code })
}

func (p placed) verdicts() []string {
	return over(p, func(k coil.Criterion) string {
		if k.Passed {
			return "passes"
		}
		return "fails"
	})
}

// limit returns the outputs of what a criterion finds and of its limit, to the digits that it shows.
func limit[Q units.Dimensional](found, most, code string) (list []output[placed]) {
	shown := func(name string, text func(coil.Criterion) string) {
		if name != "" {
			list = append(list, offer(name, func(p placed) (q Q, known bool) {
				i := slices.IndexFunc(p, func(k coil.Criterion) bool { return k.Code == code })
				if i < 0 {
					return q, false
				}
				q, err := units.Parse[Q](text(p[i]))
				return q, err == nil
			}))
		}
	}
	shown(found, func(k coil.Criterion) string { return k.Value })
	shown(most, func(k coil.Criterion) string { return k.Limit })
	return list
}

func preloaded(c *units.Checker, in struct {
	Law     lawSpec        `json:"law"`
	Preload units.Length   `json:"preload"`
	At      []units.Length `json:"at"`
}) along[spring.Law] {
	own := c.Child("law")
	law := in.Law.Build(&own)
	units.NonNegative(c, "preload", in.Preload)
	return along[spring.Law]{run(c, func() (spring.Law, error) { return spring.NewPreloaded(law, in.Preload) }), in.At}
}
