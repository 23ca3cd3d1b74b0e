package evaluate

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
)

// counts is how many cases each file has. A case that is added or lost
// without a word here is a failure.
var counts = map[string]int{
	"units.json":              81,
	"coils.json":              200,
	"spring-laws.json":        83,
	"spring-measure.json":     41,
	"air-gas.json":            153,
	"air-heat.json":           85,
	"air-laws.json":           132,
	"air-pump.json":           52,
	"air-weather.json":        55,
	"linkage-tables.json":     59,
	"linkage-mechanisms.json": 43,
	"linkage-drivetrain.json": 40,
	"linkage-refusals.json":   94,
	"linkage-wheels.json":     15,
	"sag.json":                166,
	"limits.json":             68,
	"certified.json":          2,
}

func TestEmbeddedCases(t *testing.T) {
	got := map[string]int{}
	require.NoError(t, refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		got[c.File]++
		t.Run(c.ID, func(t *testing.T) {
			if o := Run(c); !o.Pass() {
				t.Error(o.Failure())
			}
		})
		return nil
	}))
	if diff := cmp.Diff(counts, got); diff != "" {
		t.Errorf("cases in each file (-asserted +found):\n%s", diff)
	}
}

// Every computation has eight cases that were computed independently, and
// refusals; all together there are enough of these.
func TestEveryComputationIsCovered(t *testing.T) {
	computed, refused, total := map[string]int{}, map[string]int{}, 0
	require.NoError(t, refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		switch {
		case c.Error != nil:
			refused[c.Computes]++
			total++
		case c.Standing == refdata.Computed:
			computed[c.Computes]++
		}
		return nil
	}))
	for _, name := range Computations() {
		if computed[name] < 8 || refused[name] < 5 {
			t.Errorf("%s: %d computed cases, want 8; %d refusals, want 5", name, computed[name], refused[name])
		}
	}
	if total < 400 {
		t.Errorf("%d refusals, want 400", total)
	}
}
