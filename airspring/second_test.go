package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func TestTwoStagesAsComputed(t *testing.T) {
	for _, r := range stagedRows {
		s := r.spec()
		law := make1(t, s)
		x := law.OpeningTravel()
		unitstest.Near(t, "opening", x, units.Length(r.opening)*mm, close12)
		unitstest.Near(t, "force there", law.Force(x), units.Force(r.force), close12)
		unitstest.Near(t, "rate above", law.Rate(x), units.Stiffness(r.above), close12)
		if r.opening > 0 {
			unitstest.Near(t, "rate below", law.Rate(x-1e-15), units.Stiffness(r.below), unitstest.Rel(1e-11))
			unitstest.Near(t, "force below", law.Force(x-1e-15), units.Force(r.force), close12)
		}
		for i, share := range []units.Length{0.3, 0.6, 1} {
			at := s.Travel * share
			unitstest.Near(t, "force", law.Force(at), units.Force(r.at[i].f), close12)
			unitstest.Near(t, "rate", law.Rate(at), units.Stiffness(r.at[i].k), close12)
			unitstest.Near(t, "second volume", law.SecondVolume(at), units.Volume(r.at[i].v2), close12)
			fill, err := airspring.FillFor(s, units.Force(r.at[i].f), at)
			if err != nil {
				t.Error(err)
			}
			unitstest.Near(t, "fill", fill, s.Fill, unitstest.Rel(1e-11))
		}
		checkLaw(t, s)
	}
}

// A piston that never moves leaves one chamber, as does one that is only just
// on its stop at full travel; a second chamber as soft as the first is one
// chamber of both volumes.
func TestSecondChamberThatNeverOpens(t *testing.T) {
	s := stagedRows[0].spec()
	s.SecondFill = units.BarGauge(900)
	never := make1(t, s)
	if !(never.OpeningTravel() > s.Travel) {
		t.Errorf("opens at %v", never.OpeningTravel())
	}
	bare := s
	bare.SecondVolume, bare.SecondFill = 0, 0
	alone := make1(t, bare)
	both := bare
	both.PositiveVolume += s.SecondVolume
	s.SecondFill = s.Fill
	level, joined := make1(t, s), make1(t, both)
	for i := range 11 {
		x := s.Travel * units.Length(i) / 10
		if never.Force(x) != alone.Force(x) || never.Rate(x) != alone.Rate(x) || never.Energy(x) != alone.Energy(x) {
			t.Errorf("at %v: the piston that never moves counts", x)
		}
		unitstest.Near(t, "force", level.Force(x), joined.Force(x), close12)
		unitstest.Near(t, "energy", level.Energy(x), joined.Energy(x), close12)
	}
	unitstest.Near(t, "limit", alone.OpeningTravel(), units.Length(185e-6/(math.Pi/4*0.034*0.034)), close12)
	if never.SecondVolume(s.Travel) != s.SecondVolume || alone.SecondVolume(0) != 0 {
		t.Error("second volume")
	}

	// Opening exactly at full travel: the rate there is the left-hand one.
	edge := stagedRows[0].spec()
	edge.Travel = make1(t, edge).OpeningTravel()
	at := make1(t, edge)
	unitstest.Near(t, "rate at the edge", at.Rate(edge.Travel), units.Stiffness(stagedRows[0].below), close12)
}
