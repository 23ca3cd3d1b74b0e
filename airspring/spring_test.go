package airspring_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func TestOneChamberAsComputed(t *testing.T) {
	for _, r := range oneRows {
		law := make1(t, one(r.bore, r.travel, r.volume, r.fill, r.n))
		x := units.Length(r.x) * mm
		unitstest.Near(t, "pressure", law.PositivePressure(x), units.AbsolutePressure(r.p), close12)
		unitstest.Near(t, "force", law.Force(x), units.Force(r.f), close12)
		unitstest.Near(t, "rate", law.Rate(x), units.Stiffness(r.k), close12)
		unitstest.Near(t, "energy", law.Energy(x), units.Energy(r.e), close12)
		if got := law.NegativePressure(x); got != airspring.SeaLevel {
			t.Errorf("pressure behind the piston %v", got)
		}
		if law.RestTravel() != 0 {
			t.Errorf("rests at %v", law.RestTravel())
		}
	}
}

func TestTwoChambersAsComputed(t *testing.T) {
	for _, r := range twoRows {
		s := r.spec()
		law := make1(t, s)
		unitstest.Near(t, "negative pressure at 0", law.NegativePressure(0), units.AbsolutePressure(r.pn0), close12)
		unitstest.Near(t, "force at 0", law.Force(0), units.Force(r.f0), unitstest.Abs(1e-9*units.Newton))
		unitstest.Near(t, "energy", law.Energy(law.Travel()), units.Energy(r.e), close12)
		if r.f0 < 0 {
			unitstest.Near(t, "rest", law.RestTravel(), units.Length(r.restN)*mm, close12)
		} else if law.RestTravel() != 0 {
			t.Errorf("rests at %v", law.RestTravel())
		}
		for _, a := range r.at {
			x := units.Length(a.x) * mm
			unitstest.Near(t, "positive pressure", law.PositivePressure(x), units.AbsolutePressure(a.pp), close12)
			unitstest.Near(t, "negative pressure", law.NegativePressure(x), units.AbsolutePressure(a.pn), close12)
			unitstest.Near(t, "force", law.Force(x), units.Force(a.f), close12)
			unitstest.Near(t, "rate", law.Rate(x), units.Stiffness(a.k), close12)
		}
		// Slow: both pressures meet at the port, and the force there is that on
		// the shaft alone.
		s.Exponent = 1
		law = make1(t, s)
		port := s.PortTravel
		unitstest.Near(t, "pressure at the port", law.PositivePressure(port), units.AbsolutePressure(r.pt), close12)
		unitstest.Near(t, "pressure at the port", law.NegativePressure(port), units.AbsolutePressure(r.pt), close12)
		unitstest.Near(t, "force at the port", law.Force(port), units.Force(r.fport), unitstest.Rel(1e-11))
		if r.f0 < 0 {
			unitstest.Near(t, "slow rest", law.RestTravel(), units.Length(r.rest)*mm, close12)
		}
	}
}

func TestSpacersAsComputed(t *testing.T) {
	for _, r := range spacedRows {
		s := one(r.bore, r.travel, r.volume, r.fill, r.n)
		s.OilVolume, s.SpacerVolume, s.Spacers = units.Volume(r.oil)*cm3, units.Volume(r.spacer)*cm3, r.spacers
		law := make1(t, s)
		full := law.Travel()
		unitstest.Near(t, "ratio", law.CompressionRatio(), r.ratio, close12)
		unitstest.Near(t, "pressure ratio", float64(law.PositivePressure(full)/law.PositivePressure(0)), r.pressureRatio, close12)
		for x, want := range map[units.Length]float64{0: r.f0, full * 3 / 10: r.f30, full: r.f100} {
			unitstest.Near(t, fmt.Sprint("force at ", x), law.Force(x), units.Force(want), close12)
		}
		for x, want := range map[units.Length]float64{full * 3 / 10: r.k30, full: r.k100} {
			unitstest.Near(t, fmt.Sprint("rate at ", x), law.Rate(x), units.Stiffness(want), close12)
		}
		checkLaw(t, s)
	}
}

// A piston without a shaft, were it possible, would rest where the port is:
// towards that limit RestTravel goes to the port. A port at full extension
// leaves the spring fully extended.
func TestRestTravelNearsThePort(t *testing.T) {
	r := twoRows[0]
	before := units.Length(0)
	for _, shaft := range []float64{10, 5, 1, 0.1, 0.001} {
		r.shaft, r.n = shaft, 1
		rest := make1(t, r.spec()).RestTravel()
		if !(rest > before && rest < units.Length(r.port)*mm) {
			t.Errorf("shaft %v mm: rests at %v after %v", shaft, rest, before)
		}
		before = rest
	}
	unitstest.Near(t, "rest", before, units.Length(r.port)*mm, unitstest.Rel(1e-6))
	r.port = 0
	if rest := make1(t, r.spec()).RestTravel(); rest != 0 {
		t.Errorf("rests at %v", rest)
	}
}

func TestSpringIsPrintedWithUnits(t *testing.T) {
	law := make1(t, one(36, 160, 230, 5.5, 1.3))
	if got, want := fmt.Sprint(law), "air spring: bore 36 mm, travel 160 mm, filled to 550 kPa(g)"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

func TestZeroSpring(t *testing.T) {
	var s airspring.Spring
	for _, x := range []units.Length{0, 1, -1, units.Length(math.NaN()), units.Length(math.Inf(1))} {
		if s.Force(x) != 0 || s.Rate(x) != 0 || s.Energy(x) != 0 || s.PositivePressure(x) != 0 || s.NegativePressure(x) != 0 {
			t.Errorf("at %v: %v %v %v %v %v", float64(x), s.Force(x), s.Rate(x), s.Energy(x), s.PositivePressure(x), s.NegativePressure(x))
		}
	}
	if s.Travel() != 0 || s.RestTravel() != 0 || s.CompressionRatio() != 1 || s.OpeningTravel() != 0 || s.Spec() != (airspring.Spec{}) {
		t.Error("the zero spring is something")
	}
}

func TestAnswersAllocateNothing(t *testing.T) {
	law := make1(t, twoRows[0].spec())
	var sum float64
	if n := testing.AllocsPerRun(100, func() {
		sum += float64(law.Force(0.05)) + float64(law.Rate(0.05)) + float64(law.Energy(0.05)) + float64(law.RestTravel()) + law.CompressionRatio()
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// However little a spring pushes at full extension, it rests there.
func TestRestsWhereItPushes(t *testing.T) {
	for _, force := range []units.Force{1e-3, 0.5, 0.999, 2} {
		s := one(36, 160, 230, 0, 1.3)
		s.Fill = units.GaugePressure(float64(force) / (math.Pi / 4 * 0.036 * 0.036))
		if x := make1(t, s).RestTravel(); x != 0 {
			t.Errorf("pushing with %v it rests at %v", force, x)
		}
	}
}

// A second chamber filled to next to nothing takes so much gas from the first
// that, over a fast stroke, the slowly filled negative chamber pulls all the way
// of a short travel: the spring rests at its end.
func TestRestOfASpringThatPullsAllTheWay(t *testing.T) {
	law, err := airspring.New(airspring.Spec{
		Bore: 0.042, Shaft: 0.012, Travel: 0.0003, PositiveVolume: 58e-6, NegativeVolume: 20e-6,
		SecondVolume: 30e-6, SecondFill: 50, Fill: 20e5, Ambient: 90e3, Exponent: 1.45,
	})
	if err != nil {
		t.Fatal(err)
	}
	if force := law.Force(law.Travel()); !(force < 0) {
		t.Fatalf("the force at full travel, %v, does not pull", force)
	}
	if got := law.RestTravel(); got != law.Travel() {
		t.Errorf("rests at %v of %v", got, law.Travel())
	}
}
