// Package certainty computes the uncertainty of the answers for a bike from the uncertainties of
// its inputs.
//
// A [Setup] is a bike with the springs, preload and fill chosen for it. An [Uncertainty] states how
// well its inputs are known. [Propagate] returns the standard uncertainty of each answer to first
// order, with the share of each input, and the other springs of the shelf that may be the right
// ones. [Simulate] draws the inputs at random and returns the spread of the answers.
//
//	rider ± 2 kg  ──┐                            ┌─ stroke 16.0 ± 0.6 mm
//	rate ± 2 %    ──┤   held: spring, preload,   ├─ wheel rate, reserve, …
//	preload       ──┼─▶ fill, spacers, damping  ─┼─ travel used by a drop
//	± 0.2 mm        │   sag.End, sag.Bike        ├─ both ends settled together
//	all others    ──┘   twice for each input     └─ 62 N/mm instead: 20 %
//	exact
//
//	budget, err := certainty.Propagate(sheet.Setup(), certainty.Uncertainty{
//		RiderMass: 2 * units.Kilogram,
//		Rear:      certainty.EndUncertainty{SpringRate: 0.02, Preload: 0.2 * units.Millimetre},
//	})
//	if err != nil {
//		return err // names every bad field, such as rear.preload
//	}
//	stroke := budget.Rear.Stroke
//	fmt.Println(stroke.Value, "±", stroke.Uncertainty, "mostly by", stroke.Dominant)
//	fmt.Println("taken as exact:", budget.Exact)
//
// Not modelled: errors that depend on each other, and errors of the models themselves.
package certainty
