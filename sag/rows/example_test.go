package rows_test

import (
	"fmt"
	"log"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/rows"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// A job of an app's own, and everything that its sheet says. By hand:
// (0.42·98.783 − 2.4) kg·g₀·sin 64° = 344.5 N on 10.508 N/mm, and
// (0.58·98.783 − 3.2) kg·g₀·2.5 = 1326.2 N on 78.807 N/mm.
func Example() {
	job := setup.Job{
		Schema: setup.JobSchema,
		Masses: sag.Masses{
			RiderMass: 82 * units.Kilogram, BikeMass: 37 * units.Pound, RearShare: 0.58,
			UnsprungFront: new(2.4 * units.Kilogram), UnsprungRear: new(3.2 * units.Kilogram),
		},
		Front: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}},
			Sag:   0.20,
			Coil:  &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 50 * units.PoundForcePerInch}, {Rate: 60 * units.PoundForcePerInch}}},
		}},
		Rear: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}},
			Sag:   0.28,
			Coil:  &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 400 * units.PoundForcePerInch}, {Rate: 450 * units.PoundForcePerInch}}},
		}},
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err) // names every bad field, such as rear.coil.shelf[0].rate
	}
	for _, row := range rows.Pick(rows.Of(sheet), rows.Set) {
		fmt.Println(row)
	}
	// Output:
	// front: spring 60 lbf/in (10.51 N/mm), preload 0.0 mm (0.00 in), sag 20.5 % = 32.8 mm (1.29 in) along the stanchion
	// rear: spring 450 lbf/in (78.81 N/mm), preload 0.0 mm (0.00 in), sag 28.0 % = 16.8 mm (0.66 in) at the shock
}

// The README's second program is the body of the Example, so that it compiles, runs
// and prints what it should.
func TestReadmeSheetIsTheExample(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	blocks := strings.Split(string(readme), "```go\n")
	if len(blocks) < 3 {
		t.Fatalf("the README has %d programs", len(blocks)-1)
	}
	code, _, _ := strings.Cut(blocks[2], "```")
	example, err := os.ReadFile("example_test.go")
	require.NoError(t, err)
	indented := regexp.MustCompile(`(?m)^(.)`).ReplaceAllString(code, "\t$1")
	if !strings.Contains(string(example), indented) {
		t.Errorf("this is not in example_test.go as it stands in the README:\n%s", code)
	}
}

// A table with front and rear side by side, as a page lays it out.
func ExamplePairs() {
	all := []rows.Row{
		{Section: rows.Expect, End: sag.Front, Key: "shock_sag", Label: "sag along the stanchion", Dual: (32 * units.Millimetre).Both()},
		{Section: rows.Expect, End: sag.Rear, Key: "shock_sag", Label: "sag at the shock", Dual: (17 * units.Millimetre).Both()},
	}
	for _, p := range rows.Pairs(rows.Pick(all, rows.Expect)) {
		fmt.Println(p.Label, "|", p.Front.Cell(), "|", p.Rear.Cell())
	}
	fmt.Println(rows.Expect.Title())
	// Output:
	// sag along the stanchion / at the shock | 32.0 mm (1.26 in) | 17.0 mm (0.67 in)
	// Expect
}

func ExampleFindings() {
	fmt.Println(rows.Findings([]sag.Finding{sag.TooSoft, sag.GoesSolid}))
	fmt.Println(rows.Ranked(&fit.CoilCandidate{AtRest: fit.AtRest{Findings: []sag.Finding{sag.OnTarget}}, Reason: fit.RankedFartherRate}))
	// Output:
	// too soft, goes solid
	// on target; farther from the exact rate
}
