package mechanism

// solver computes the motion of the bodies at a stroke. There are two: closedForm
// for mechanisms that are made of dyads, newton for all. It is started at full
// extension and stepped to full stroke; from then on it never changes.
type solver interface {
	// start solves full extension, and reports whether that is no dead point.
	start(m *motion) bool
	// step solves the stroke to, which follows the last one kept. It reports whether
	// there is a solution on the branch that the mechanism is on.
	step(to float64, m *motion) bool
	// keep keeps the stroke s, which was solved last, as a node for later ones.
	keep(s float64, m *motion)

	// place returns a pin as a point of the bodies whose motion is solved for.
	place(p pin) place
}

// newSolver returns the solver for a layout.
func newSolver(l *layout) solver {
	if c := newClosedForm(l); c != nil {
		return c
	}
	return newNewton(l)
}
