package drivetrain_test

import "example.com/wheelrate/linkage/internal/linkagetest"

// The helpers of all linkage packages, by short names.
var (
	mm        = linkagetest.MM
	at        = linkagetest.At
	spec      = linkagetest.Spec
	movable   = linkagetest.Movable
	solved    = linkagetest.Solved
	allFinite = linkagetest.AllFinite
	above     = linkagetest.Above
	below     = linkagetest.Below
	strokesOf = linkagetest.Strokes
	badFields = linkagetest.BadFields
	refuses   = linkagetest.Refuses
	named     = linkagetest.Named
)

type arm = linkagetest.Arm
