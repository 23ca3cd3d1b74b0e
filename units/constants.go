package units

// StandardGravity is the conventional acceleration of free fall in m/s²,
// exactly 9.80665 (3rd CGPM, 1901; NIST SP 811, appendix B).
const StandardGravity = 9.80665

// The exact definitions every customary unit is derived from, as untyped
// constant expressions: they are rounded once, where they are used.
// Inch and pound: international yard and pound agreement of 1959, exact
// (NIST SP 811, appendix B).
const (
	inch  = 0.0254                  // m
	foot  = 12 * inch               // m
	pound = 0.45359237              // kg
	ounce = pound / 16              // kg
	lbf   = pound * StandardGravity // N
	kgf   = StandardGravity         // N
	psi   = lbf / (inch * inch)     // Pa
	atm   = 101325                  // Pa, exact
	bar   = 1e5                     // Pa, exact
)
