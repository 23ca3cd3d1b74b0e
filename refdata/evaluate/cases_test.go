package evaluate_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

func TestEmbeddedCases(t *testing.T) {
	for _, c := range cases(t) {
		t.Run(c.ID, func(t *testing.T) {
			if j := evaluate.Run(c); !j.Pass() {
				t.Error(j.Failure())
			}
		})
	}
}

// Every computation has eight cases that were computed independently, and
// refusals; all together there are enough of these.
func TestEveryComputationIsCovered(t *testing.T) {
	computed, refused, total := map[string]int{}, map[string]int{}, 0
	for _, c := range cases(t) {
		switch {
		case c.Error != nil:
			refused[c.Computes]++
			total++
		case c.Standing == refdata.Computed:
			computed[c.Computes]++
		}
	}
	for _, name := range evaluate.Computations() {
		if computed[name] < 8 || refused[name] < 5 {
			t.Errorf("%s: %d computed cases, want 8; %d refusals, want 5", name, computed[name], refused[name])
		}
	}
	if total < 400 {
		t.Errorf("%d refusals, want 400", total)
	}
}

// file wraps groups into a case file, and group wraps cases into one.
func file(groups string) string {
	return `{"schema":"wheelrate/cases/1","subject":"test","groups":[` + groups + `]}`
}

func group(cases string) string { return `{"standing":"common practice","cases":[` + cases + `]}` }

func aCase(id string) string {
	return `{"id":"` + id + `","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`
}

// cases returns every embedded case.
func cases(t testing.TB) (list []refdata.Case) {
	t.Helper()
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		list = append(list, c)
	}
	return list
}

// A list without a value is an empty one in JSON, as the types of other languages have it, not null.
func TestAnswersHoldNoNull(t *testing.T) {
	for _, c := range cases(t) {
		result, err := evaluate.Compute(c)
		if err != nil {
			continue
		}
		text, err := json.Marshal(result)
		require.NoError(t, err, c.ID)
		require.NotContains(t, string(text), ":null", c.ID)
	}
}
