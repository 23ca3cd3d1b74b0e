package rows_test

import (
	"fmt"

	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

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
