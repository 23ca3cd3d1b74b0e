package pivots_test

import (
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/internal/linkagetest"
)

// The helpers of all linkage packages, by short names.
var (
	mm        = linkagetest.MM
	at        = linkagetest.At
	spec      = linkagetest.Spec
	movable   = linkagetest.Movable
	solved    = linkagetest.Solved
	allFinite = linkagetest.AllFinite
	above     = linkagetest.Above
	badFields = linkagetest.BadFields
	named     = linkagetest.Named
)

func drive(chainring, sprocket int, idler *drivetrain.Idler) drivetrain.Spec {
	return drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket, Idler: idler},
		WheelRadius: mm(370), FrontAxleX: mm(780), MassCentre: at(60, 1120), Ground: drivetrain.GroundLevel,
	}
}
