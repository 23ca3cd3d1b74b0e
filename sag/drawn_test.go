package sag_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// drawnEnd is an end of a bike with a spring in it.
type drawnEnd struct {
	says  string
	curve *linkage.Curve
	law   spring.Law
	wheel *linkage.WheelLaw
	spec  *airspring.Spec // of an air spring
}

type lot struct{ *rand.Rand }

func (r lot) between(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// made is for what was drawn to be good.
func made[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func drawCurve(r lot) (string, *linkage.Curve) {
	switch r.IntN(4) {
	case 0:
		s := linkage.ConstantRatio{Ratio: r.between(1, 3.5), Travel: units.Length(r.between(80, 220) * milli)}
		return fmt.Sprintf("%#v", s), made(linkage.NewConstant(s))
	case 1:
		s := linkage.Fork{HeadAngle: units.Angle(r.between(60, 75)) * units.Degree, Travel: units.Length(r.between(80, 220) * milli)}
		return fmt.Sprintf("%#v", s), made(linkage.NewFork(s))
	}
	// w = a·s + b·s², the ratio rising or falling by up to 30 %, smooth or with
	// the jumps in slope of a monotone table.
	t := linkage.Table{Method: []linkage.Method{linkage.Smooth, linkage.Monotone}[r.IntN(2)]}
	stroke, start := r.between(40, 75)*milli, r.between(2, 3.5)
	bend := r.between(-0.15, 0.15) * start / stroke
	for i := range 12 {
		s := stroke * float64(i) / 11
		t.Stroke, t.Travel = append(t.Stroke, units.Length(s)), append(t.Travel, units.Length(start*s+bend*s*s))
	}
	return fmt.Sprintf("%#v", t), made(linkage.NewTable(t))
}

// kindsOfSpring draws a spring of every kind for a stroke.
var kindsOfSpring = []struct {
	name string
	draw func(r lot, stroke float64) (string, spring.Law)
}{
	{"coil", func(r lot, stroke float64) (string, spring.Law) {
		s := spring.Linear{Rate: units.Stiffness(r.between(10e3, 120e3)), Travel: units.Length(stroke * r.between(0.9, 1.2)), Preload: units.Length(r.between(0, 4) * milli)}
		return fmt.Sprintf("%#v", s), made(spring.NewLinear(s))
	}},
	{"groups", func(r lot, stroke float64) (string, spring.Law) {
		s := spring.Groups{Groups: []spring.Group{
			{Rate: units.Stiffness(r.between(20e3, 80e3)), Gap: units.Length(stroke * r.between(0.2, 0.5))},
			{Rate: units.Stiffness(r.between(90e3, 200e3)), Gap: units.Length(stroke * r.between(0.5, 0.9))},
		}}
		return fmt.Sprintf("%#v", s), made(spring.NewGroups(s))
	}},
	{"even pitch", func(r lot, stroke float64) (string, spring.Law) {
		s := coil.LinearPitch{WireDiameter: 0.012, MeanDiameter: units.Length(r.between(60, 80) * milli), ActiveCoils: 6, ShearModulus: 79e9,
			FirstGap: units.Length(stroke / 6 * r.between(0.3, 0.9)), LastGap: units.Length(stroke / 6 * r.between(1.2, 2))}
		return fmt.Sprintf("%#v", s), made(coil.NewLinearPitch(s))
	}},
	{"coils on end", func(r lot, stroke float64) (string, spring.Law) {
		a := made(spring.NewLinear(spring.Linear{Rate: units.Stiffness(r.between(20e3, 90e3)), Travel: units.Length(stroke * 0.4)}))
		b := made(spring.NewLinear(spring.Linear{Rate: units.Stiffness(r.between(90e3, 200e3)), Travel: units.Length(stroke * r.between(0.6, 1))}))
		return fmt.Sprintf("%#v on %#v", a, b), made(spring.NewSeries(a, b))
	}},
	{"air", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
	{"air with a negative chamber", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		s.Shaft, s.NegativeVolume = s.Bore*units.Length(r.between(0.2, 0.5)), s.PositiveVolume*units.Volume(r.between(0.05, 0.4))
		s.PortTravel = units.Length(stroke * r.between(0, 0.05))
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
	{"air in two stages", func(r lot, stroke float64) (string, spring.Law) {
		s := drawAir(r, stroke)
		s.SecondVolume, s.SecondFill = s.PositiveVolume*units.Volume(r.between(0.1, 0.4)), s.Fill*units.GaugePressure(r.between(1.2, 2.5))
		return fmt.Sprintf("%#v", s), made(airspring.New(s))
	}},
}

func drawAir(r lot, stroke float64) airspring.Spec {
	bore := r.between(28, 45) * milli
	swept := math.Pi / 4 * bore * bore * stroke
	return airspring.Spec{Bore: units.Length(bore), Travel: units.Length(stroke), PositiveVolume: units.Volume(swept * r.between(1.3, 2.5)),
		Fill: units.BarGauge(r.between(3, 15)), Ambient: airspring.SeaLevel, Exponent: []float64{1, r.between(1, 1.5)}[r.IntN(2)]}
}

// eachEnd runs a check on ends with a spring of every kind whose wheel force
// rises throughout: where the ratio rises so steeply that it doesn't, several
// travels carry one load.
func eachEnd(t *testing.T, seed uint64, of int, check func(t *testing.T, r lot, e *drawnEnd)) {
	t.Helper()
	for _, kind := range kindsOfSpring {
		t.Run(kind.name, func(t *testing.T) {
			seen := 0
			for i := range of {
				r := lot{rand.New(rand.NewPCG(seed, uint64(i)))}
				e := &drawnEnd{}
				e.says, e.curve = drawCurve(r)
				says, law := kind.draw(r, float64(e.curve.Stroke()))
				e.says, e.law = e.says+" with "+says, law
				if a, ok := law.(*airspring.Spring); ok {
					spec := a.Spec()
					e.spec = &spec
				}
				e.wheel = made(linkage.AtWheel(e.curve, e.law))
				if least, _ := e.wheel.MinRate(); !(least > 0) {
					continue
				}
				seen++
				if check(t, r, e); t.Failed() {
					t.Fatalf("seed %d, %d: %s", seed, i, e.says)
				}
			}
			if seen < of/2 {
				t.Errorf("%d of %d wheel forces rise: the test looks at too little", seen, of)
			}
		})
	}
}

// load draws a load that the end carries.
func (e *drawnEnd) load(r lot) units.Force {
	low, high := max(float64(e.wheel.Force(0)), 0), float64(e.wheel.Force(e.wheel.Travel()))
	return units.Force(low + (high-low)*r.between(0.02, 0.95))
}
