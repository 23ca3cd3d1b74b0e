package setup_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// What the invented bikes of TestJobsHaveTheLeastEnergy share, in m and kg.
const (
	wheelbase, radiusFront, radiusRear      = 1.26, 0.37, 0.35
	bikeMass, unsprungFront, unsprungRear   = 17.0, 2.4, 3.2
	forkBore, forkVolume, forkSpacer        = 0.036, 270e-6, 8e-6
	shockBore, shockVolume, ratio, ratioEnd = 0.045, 200e-6, 2.9, 2.42
)

// fitted is what a sheet recommends for one end: its energy over the stroke and the travel of its wheel, worked
// out from the job's sizes and the sheet's numbers alone.
type fitted struct {
	end               *setup.EndSheet
	bore, volume, one float64 // of the chamber, and of one spacer
	travel            func(stroke float64) float64
}

// stored is that of a linear spring from its preload on, or of a gas that keeps its temperature.
func (f fitted) stored(s float64) float64 {
	if coil := f.end.Spring(); coil != nil {
		k, p := float64(coil.Rate), float64(coil.Preload)
		return k * ((s+p)*(s+p) - p*p) / 2
	}
	fill, area := f.end.Fill(), math.Pi/4*f.bore*f.bore
	volume, ambient := f.volume-f.one*float64(fill.Spacers), float64(units.StandardAtmosphere)
	return -(float64(fill.Fill)+ambient)*volume*math.Log(1-area*s/volume) - ambient*area*s
}

// alone is the stroke at which the end by itself has the least energy under a load.
func (f fitted) alone(load units.Force) float64 {
	s, _ := least(func(s, _ float64) float64 { return f.stored(s) - float64(load)*f.travel(s) }, 0.01, 0)
	return s
}

// least returns where a function of two lengths is least, from a start on: the place around with less of it,
// in ever shorter steps.
func least(f func(x, y float64) float64, x, y float64) (float64, float64) {
	best := f(x, y)
	for step := 0.01; step > 1e-9; step /= 2 {
		for moved := true; moved; {
			moved = false
			for i := range 9 {
				u, v := x+step*float64(i%3-1), y+step*float64(i/3-1)
				if e := f(u, v); e < best-1e-13 {
					x, y, best, moved = u, v, e, true
				}
			}
		}
	}
	return x, y
}

// together are both strokes and the pitch with the least energy. The frame is turned by the pitch, and stands
// on both wheels: the stroke of the fork follows from where the axles are.
func together(m sag.Masses, head float64, front, rear fitted) (sf, sr, pitch float64) {
	total := float64(m.RiderMass) + bikeMass
	sprung := total - unsprungFront - unsprungRear
	centre := complex(((1-m.RearShare)*total-unsprungFront)*wheelbase/sprung, float64(m.MassCentreHeight))
	along := cmplx.Rect(1, math.Pi-head) // of the axle into the fork
	place := func(sr, pitch float64) (sf, height float64) {
		turn, axle := cmplx.Rect(1, pitch), complex(0, radiusRear+rear.travel(sr))
		// The front axle is R_f − R_r above the rear one.
		sf = (radiusFront - radiusRear - imag((complex(wheelbase, radiusFront)-axle)*turn)) / imag(along*turn)
		return sf, radiusRear + imag((centre-axle)*turn)
	}
	sr, rise := least(func(sr, rise float64) float64 {
		sf, height := place(sr, rise/wheelbase)
		return front.stored(sf) + rear.stored(sr) + sprung*g0*height
	}, 0.01, 0)
	pitch = rise / wheelbase
	sf, _ = place(sr, pitch)
	return sf, sr, pitch
}

// Whole jobs, from masses and shelves to a bike that stands, against a search for the least energy.
func TestJobsHaveTheLeastEnergy(t *testing.T) {
	coilFork := &fit.Shelf{Collar: fit.Collar{PreloadMax: 0.02}}
	coilShock := &fit.Shelf{Collar: fit.Collar{PreloadMin: 0.0005, PreloadMax: 0.006, ThreadPitch: 0.00125}}
	for i := range 12 {
		coilFork.Springs = append(coilFork.Springs, fit.ShelfSpring{Rate: 4e3 + 1e3*units.Stiffness(i), SolidTravel: 0.3})
		coilShock.Springs = append(coilShock.Springs, fit.ShelfSpring{Rate: 40e3 + 6e3*units.Stiffness(i), SolidTravel: 0.2})
	}
	chamber := func(bore, volume, spacer float64, most int, full float64) *fit.Chamber {
		return &fit.Chamber{
			Spec: airspring.Spec{Bore: units.Length(bore), PositiveVolume: units.Volume(volume), SpacerVolume: units.Volume(spacer),
				Ambient: units.StandardAtmosphere, Exponent: 1.3},
			MaxFill: units.BarGauge(25), MaxSpacers: most, FullTravelRatio: full, NegativeChamber: fit.None,
		}
	}
	for i, test := range []struct {
		rider                     units.Mass
		share, height, head       float64
		coilInFront, coilInRear   bool
		frontSag, rearSag, spread float64
	}{
		{82, 0.58, 1.12, 63.5, false, true, 0.2, 0.29, 7},
		{60, 0.55, 1.05, 62, true, true, 0.25, 0.3, 0},
		{105, 0.62, 1.2, 65, false, false, 0.18, 0.28, 6},
		{45, 0.5, 0.95, 66, true, false, 0.22, 0.25, 0},
		{74, 0.65, 1.15, 64, false, true, 0.15, 0.33, 9},
		{91, 0.48, 1.3, 61, true, true, 0.3, 0.2, 0},
		{68, 0.6, 0.8, 70, false, false, 0.25, 0.25, 5},
		{120, 0.57, 1.1, 63, false, true, 0.2, 0.3, 8},
		{55, 0.68, 1.25, 67, true, false, 0.1, 0.35, 0},
		{80, 0.52, 1, 90, false, true, 0.2, 0.28, 7},
	} {
		j := plainJob(t)
		j.Masses = sag.Masses{
			RiderMass: test.rider, BikeMass: bikeMass, UnsprungFront: new(units.Mass(unsprungFront)), UnsprungRear: new(units.Mass(unsprungRear)), RearShare: test.share,
			BikeRearShare: 0.5, Wheelbase: wheelbase, MassCentreHeight: units.Length(test.height), FrontWheelRadius: radiusFront, RearWheelRadius: radiusRear,
		}
		j.Front.Curve, j.Front.Sag, j.Front.Coil = linkage.Spec{Fork: &linkage.Fork{HeadAngle: units.Angle(test.head) * units.Degree, Travel: 0.17}}, test.frontSag, coilFork
		j.Rear.Curve, j.Rear.Sag, j.Rear.Coil = bend(ratio, (ratioEnd-ratio)/120, 60), test.rearSag, coilShock
		if !test.coilInFront {
			j.Front.Coil, j.Front.Air = nil, chamber(forkBore, forkVolume, forkSpacer, 5, test.spread)
		}
		if !test.coilInRear {
			j.Rear.Coil, j.Rear.Air = nil, chamber(shockBore, shockVolume, 0, 0, 0)
		}
		s := sheet(t, j)
		head := test.head * math.Pi / 180
		front := fitted{s.Front, forkBore, forkVolume, forkSpacer, func(s float64) float64 { return s * math.Sin(head) }}
		rear := fitted{s.Rear, shockBore, shockVolume, 0, func(s float64) float64 { return ratio*s + (ratioEnd-ratio)/0.12*s*s }}
		total := float64(test.rider) + bikeMass
		for _, one := range []struct {
			fitted
			what                  string
			at                    sag.Rest
			free                  *setup.EndRest
			share, unsprung, with float64
		}{
			{front, "front", s.Front.Rest, s.Free.Front, 1 - test.share, unsprungFront, 0.17},
			{rear, "rear", s.Rear.Rest, s.Free.Rear, test.share, unsprungRear, 0.06},
		} {
			load := units.Force((one.share*total - one.unsprung) * g0)
			off(t, fmt.Sprintf("job %d, %s alone", i, one.what), float64(one.at.Stroke), one.alone(load), 1e-6*one.with)
			if free := units.Force((0.5*bikeMass - one.unsprung) * g0); one.free.Finding == "" {
				off(t, fmt.Sprintf("job %d, %s with nobody on it", i, one.what), float64(one.free.Rest.Stroke), one.alone(free), 1e-6*one.with)
			}
		}
		sf, sr, pitch := together(j.Masses, head, front, rear)
		off(t, fmt.Sprintf("job %d, front", i), float64(s.Coupled.FrontStroke), sf, 1e-6*0.17)
		off(t, fmt.Sprintf("job %d, rear", i), float64(s.Coupled.RearStroke), sr, 1e-6*0.06)
		off(t, fmt.Sprintf("job %d, pitch", i), float64(s.Coupled.Pitch), pitch, 1e-6)
	}
}

// off checks that got is within by of want.
func off(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}
