package drivetrain_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// FuzzNewDrive: anti-squat, anti-rise, chain growth and kickback are numbers at
// any stroke, chain growth and kickback 0 at full extension, or a field is named.
func FuzzNewDrive(f *testing.F) {
	f.Add(uint8(0), 32, 50, 0, 0.370, 0.780, 0.060, 1.120, false, "", -0.018, 0.196, "frame")
	f.Add(uint8(1), 32, 24, 16, 0.370, 0.780, 0.060, 1.120, true, "SW", -0.048, 0.200, "SW")
	f.Add(uint8(9), 120, 120, 3, 1e-6, -1e3, math.NaN(), math.Inf(1), true, "frame", 0.0, 0.0, "nothing")
	names := movable()
	moving := map[string]*mechanism.Mechanism{}
	for _, name := range names {
		moving[name] = solved(name)
	}
	f.Fuzz(func(t *testing.T, which uint8, chainring, sprocket, idler int, radius, front, massX, massY float64, level bool, brake string, x, y float64, on string) {
		k := moving[names[int(which)%len(names)]]
		s := drivetrain.Spec{
			Drivetrain:  drivetrain.Pulleys{Chainring: chainring, Sprocket: sprocket},
			WheelRadius: units.Length(radius), FrontAxleX: units.Length(front), MassCentre: mechanism.Point{units.Length(massX), units.Length(massY)},
			Ground: drivetrain.GroundFront, BrakeOn: brake,
		}
		if level {
			s.Ground = drivetrain.GroundLevel
		}
		if idler != 0 {
			s.Drivetrain.Idler = &drivetrain.Idler{Teeth: idler, At: mechanism.Point{units.Length(x), units.Length(y)}, On: on}
		}
		d, err := drivetrain.New(k, s)
		if (d == nil) == (err == nil) {
			t.Fatalf("drive %v, error %v", d, err)
		}
		if err != nil {
			named(t, "drive", err)
			return
		}
		for _, stroke := range strokesOf(k.Stroke()) {
			p := d.At(stroke)
			allFinite(t, "drive", p.AntiSquat, p.AntiRise, float64(p.ChainGrowth), float64(p.KickbackWheelFixed), float64(p.KickbackWheelRolling))
			if p.AntiSquat != d.AntiSquat(stroke) || p.AntiRise != d.AntiRise(stroke) || p.ChainGrowth != d.ChainGrowth(stroke) ||
				p.KickbackWheelFixed != d.KickbackWheelFixed(stroke) || p.KickbackWheelRolling != d.KickbackWheelRolling(stroke) {
				t.Fatalf("one by one they differ from %+v at %v", p, float64(stroke))
			}
			if !(stroke > 0) && (math.Abs(float64(p.ChainGrowth)) > 1e-12 || math.Abs(float64(p.KickbackWheelRolling)) > 1e-9) {
				t.Fatalf("at full extension %+v", p)
			}
		}
	})
}

// Budget: 300 ns for anti-squat, anti-rise, chain growth and both kickbacks at
// one pose in closed form, no allocation.
func BenchmarkDrive(b *testing.B) {
	d, err := drivetrain.New(solved("c1"), drive(32, 21, nil))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	at, i, sum := places(d.Mechanism().Stroke()), 0, 0.0
	for b.Loop() {
		p := d.At(at[i&1023])
		sum += p.AntiSquat
		i++
	}
	_ = sum
}

// places are strokes or travels in no order, so that no branch can be guessed.
func places(whole units.Length) []units.Length {
	rng := rand.New(rand.NewPCG(15, 16))
	list := make([]units.Length, 1024)
	for i := range list {
		list[i] = whole * units.Length(rng.Float64())
	}
	return list
}

// At a third of the travel, 32 teeth in front and 21 behind: most of the load
// transfer is cancelled by the chain under acceleration.
func ExampleNew() {
	d, err := drivetrain.New(solved("a1"), drivetrain.Spec{
		Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 21},
		WheelRadius: 370 * units.Millimetre,
		FrontAxleX:  780 * units.Millimetre,
		MassCentre:  mechanism.Point{0, 1120 * units.Millimetre},
		Ground:      drivetrain.GroundLevel,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	p := d.At(d.Mechanism().Stroke())
	fmt.Printf("anti-squat %.1f %%, anti-rise %.1f %%\n", 100*p.AntiSquat, 100*p.AntiRise)
	fmt.Printf("chain growth %.2f, kickback %.2f, or %.2f rolling\n", p.ChainGrowth, p.KickbackWheelFixed, p.KickbackWheelRolling)
	// Output:
	// anti-squat 95.4 %, anti-rise 77.5 %
	// chain growth 15.13 mm, kickback 13.38°, or 12.66° rolling
}
