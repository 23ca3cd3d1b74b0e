package coil_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// evenly is the spring of the check values: computed with mpmath 1.3.0 at 50
// digits, printed to 15.
var evenly = coil.LinearPitch{
	WireDiameter: mm(6), MeanDiameter: mm(30.5), ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	FirstGap: mm(4), LastGap: mm(9),
}

func pitchOf(t *testing.T, spec coil.LinearPitch) coil.LinearPitchSpring {
	t.Helper()
	law, err := coil.NewLinearPitch(spec)
	require.NoError(t, err)
	return law
}

func TestLinearPitch(t *testing.T) {
	law := pitchOf(t, evenly)
	agree(t, "force at first contact", law.Force(mm(72)), 1815.69382459325, 1e-12)
	agree(t, "travel", law.Travel(), mm(117), 1e-14)
	agree(t, "force when solid", law.Force(law.Travel()), 4085.31110533481, 1e-12)
	agree(t, "initial rate", law.Rate(0), perMM(25.2179697860173), 1e-12)
	for _, p := range []stackPoint{
		{50, 1260.89848930087, 25.2179697860173, 31522.4622325217},
		{72, 1815.69382459325, 25.2179697860173, 65364.9776853569},
		{80, 2027.30227132663, 27.8109301892997, 80723.1660113236},
		{95, 2498.38131466706, 36.0665861515398, 114513.584948938},
		{110, 3190.16197800356, 63.9392233808032, 156695.643860045},
		{116, 3746.97653715838, 169.167284088212, 177255.704276626},
	} {
		agree(t, fmt.Sprintf("force at %v mm", p.at), law.Force(mm(p.at)), units.Force(p.force), 1e-12)
		agree(t, fmt.Sprintf("rate at %v mm", p.at), law.Rate(mm(p.at)), perMM(p.rate), 1e-12)
		agree(t, fmt.Sprintf("energy at %v mm", p.at), law.Energy(mm(p.at)), units.Energy(p.energy*1e-3), 1e-12)
	}
	keeps(t, law)
}

// The limit of ever more groups whose gaps step from 4 to 9 mm a turn: the
// difference falls with the square of the number of groups.
func TestLinearPitchIsTheLimitOfGroups(t *testing.T) {
	law := pitchOf(t, evenly)
	distance := func(n int) float64 {
		ratio := float64(evenly.WireDiameter / evenly.MeanDiameter)
		turn := units.Stiffness(float64(evenly.ShearModulus) * float64(evenly.WireDiameter) * math.Pow(ratio, 3) / 8)
		var spec spring.Groups
		for i := range n {
			gap := 4 + 5*(float64(i)+0.5)/float64(n)
			spec.Groups = append(spec.Groups, spring.Group{Rate: turn * units.Stiffness(n) / 18, Gap: mm(gap * 18 / float64(n))})
		}
		stack, err := spring.NewGroups(spec)
		require.NoError(t, err)
		most := 0.0
		for x := 1.0; x < 110; x++ {
			most = max(most, math.Abs(float64(stack.Force(mm(x))/law.Force(mm(x)))-1))
		}
		return most
	}
	coarse, fine := distance(50), distance(100)
	if !(fine < 1e-4 && fine < coarse/3) {
		t.Errorf("100 groups differ by %g, 50 by %g", fine, coarse)
	}
}

// At solid the rate would be infinite; it stops at 1000 times the first one,
// from a millionth of the closing travel, 45 mm here, before.
func TestLinearPitchRateStops(t *testing.T) {
	law := pitchOf(t, evenly)
	agree(t, "rate when solid", law.Rate(law.Travel()), 1000*law.Rate(0), 1e-12)
	agree(t, "rate just before", law.Rate(law.Travel()-mm(46e-6)), 1000*law.Rate(0), 0.02)
	if law.Rate(law.Travel()-mm(46e-6)) >= law.Rate(law.Travel()) {
		t.Error("the rate stopped too early")
	}
}

// Either way up, a spring is the same; with equal gaps it is linear, and with
// a gap of 0 its first coil closes at once.
func TestLinearPitchEnds(t *testing.T) {
	law := pitchOf(t, evenly)
	turned := evenly
	turned.FirstGap, turned.LastGap = turned.LastGap, turned.FirstGap
	same := pitchOf(t, turned)
	if law != same {
		t.Error("turning the spring over changes it")
	}
	flat := evenly
	flat.LastGap = flat.FirstGap
	linear := pitchOf(t, flat)
	agree(t, "travel", linear.Travel(), mm(72), 1e-15)
	agree(t, "rate when solid", linear.Rate(mm(72)), perMM(25.2179697860173), 1e-12)
	agree(t, "energy when solid", linear.Energy(mm(72)), 65.3649776853569, 1e-12)
	keeps(t, linear)
	closed := evenly
	closed.FirstGap = 0
	all := pitchOf(t, closed)
	agree(t, "initial rate", all.Rate(0), perMM(25.2179697860173), 1e-12)
	keeps(t, all)
}

func TestHalfACoilOfEvenPitch(t *testing.T) {
	// The rate of one coil is G·d⁴/(8·D³); half a coil has twice that.
	const perTurn = 79500e6 * 1e-8 / (8 * 46e-3 * 46e-3 * 46e-3)
	s, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 0.5, ShearModulus: 79500e6, FirstGap: 4e-3, LastGap: 8e-3})
	if err != nil {
		t.Fatal(err)
	}
	close12(t, "travel", float64(s.Travel()), 3e-3)
	close12(t, "rate", float64(s.Rate(1e-3)), 2*perTurn)
	close12(t, "force", float64(s.Force(1e-3)), 2*perTurn*1e-3)
	close12(t, "energy", float64(s.Energy(1e-3)), perTurn*1e-6)
}

// A spring of one pitch is straight up to full travel, whatever n·g/n rounds
// to: its rate at the end is what it is at the start.
func TestOnePitchIsStraightToTheEnd(t *testing.T) {
	rounded := 0
	for i := range 200 {
		coils, gap := 3+0.1*float64(i), 1e-3+1e-5*float64(i)
		s, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: coils, ShearModulus: 79500e6,
			FirstGap: units.Length(gap), LastGap: units.Length(gap)})
		require.NoError(t, err)
		full := s.Travel()
		if float64(full)/coils > gap {
			rounded++
		}
		if s.Rate(full) != s.Rate(0) {
			t.Errorf("%v coils, gap %v: %v at full travel, %v before", coils, gap, s.Rate(full), s.Rate(0))
		}
		close12(t, "force at full travel", float64(s.Force(full)), float64(s.Rate(0))*coils*gap)
		close12(t, "energy at full travel", float64(s.Energy(full)), float64(s.Rate(0))*coils*gap*coils*gap/2)
	}
	if rounded == 0 {
		t.Error("no travel of the table is rounded up")
	}
}

// Refused is a spring whose rate, a thousand times the first one where it
// stops growing, is too large for float64, or too small to be of full
// precision. With D = 2·d the rate of one coil is G·d/64.
func TestPitchThatFloat64CannotTell(t *testing.T) {
	pitch := func(perTurn, coils, gap float64) error {
		_, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 1, MeanDiameter: 2, ActiveCoils: coils, ShearModulus: units.Stress(64 * perTurn),
			FirstGap: units.Length(gap), LastGap: units.Length(gap)})
		return err
	}
	refused := []string{"active_coils"}
	for _, row := range []struct {
		name                string
		perTurn, coils, gap float64
		want                []string
	}{
		{"rates of 1.5e308", 1.5e305, 1, 1e-150, nil},
		{"rates of 2e308", 2e305, 1, 1e-150, refused},
		{"rates of 2e308 of a coil that is a hundredth", 2e303, 0.01, 1e-150, refused},
		{"rates of 1.5e308 of ten coils", 1.5e306, 10, 1e-150, nil},
		{"rates of 1e-306", 1e-309, 1, 1, refused},          // whose energy is below full precision
		{"an energy of 2^-1022", 0x1p-901, 1, 0x1p-60, nil}, // 2^-901·2^-120/2
		{"an energy of less", 0x1p-901, 1, 0x1p-60 * (1 - 0x1p-52), refused},
		{"an energy beyond all", 1e300, 1, 1e10, refused},
		{"a force beyond all", 1e305, 1e10, 1e4, refused},
		{"no travel", 1e300, 1, 5e-324, refused},
	} {
		if diff := cmp.Diff(row.want, fieldsOf(pitch(row.perTurn, row.coils, row.gap))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
	}
}

func TestLinearPitchRefused(t *testing.T) {
	for _, v := range bad {
		_, err := coil.NewLinearPitch(coil.LinearPitch{
			WireDiameter: units.Length(v), MeanDiameter: units.Length(v), ActiveCoils: v, ShearModulus: units.Stress(v),
			FirstGap: -1, LastGap: units.Length(math.NaN()),
		})
		refuses(t, err, "mean_diameter", "wire_diameter", "active_coils", "shear_modulus", "first_gap", "last_gap")
	}
	spec := evenly
	spec.FirstGap, spec.LastGap, spec.WireDiameter = 0, 0, mm(31)
	_, err := coil.NewLinearPitch(spec)
	refuses(t, err, "wire_diameter", "last_gap")
	spec = evenly
	spec.ActiveCoils = 1e300
	spec.FirstGap = 1e300
	_, err = coil.NewLinearPitch(spec)
	refuses(t, err, "active_coils")
}

func TestLinearPitchZeroValue(t *testing.T) {
	var s coil.LinearPitchSpring
	if s.Force(1) != 0 || s.Rate(1) != 0 || s.Energy(1) != 0 || s.Travel() != 0 {
		t.Error("the zero value is not a spring of no travel and no force")
	}
}

func FuzzNewLinearPitch(f *testing.F) {
	f.Add(0.006, 0.0305, 18.0, 79.5e9, 0.004, 0.009)
	f.Add(0.006, 0.0305, 18.0, 79.5e9, 0.0, 5e-324)
	f.Add(1e-300, 1.0, 1e300, 1e300, 1e-300, 1e300)
	f.Add(0.006, 0.0305, 18.0, 79.5e9, 0.004, 0.004000000000000001)
	f.Fuzz(func(t *testing.T, d, mean, n, shear, g0, g1 float64) {
		law, err := coil.NewLinearPitch(coil.LinearPitch{
			WireDiameter: units.Length(d), MeanDiameter: units.Length(mean), ActiveCoils: n, ShearModulus: units.Stress(shear),
			FirstGap: units.Length(g0), LastGap: units.Length(g1),
		})
		if err != nil {
			named(t, "refused", err)
			return
		}
		finiteLaw(t, law)
	})
}

// Held to 25 ns and no allocation.
func BenchmarkLinearPitchForce(b *testing.B) {
	law, err := coil.NewLinearPitch(evenly)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	x := units.Length(0)
	for b.Loop() {
		if x += mm(3.7); x > law.Travel() {
			x = 0
		}
		sink += float64(spring.Law(law).Force(x))
	}
}

// A fork spring whose coils close one after another.
func ExampleNewLinearPitch() {
	law, err := coil.NewLinearPitch(coil.LinearPitch{
		WireDiameter: 6 * units.Millimetre,
		MeanDiameter: 30.5 * units.Millimetre,
		ActiveCoils:  18,
		ShearModulus: 79500 * units.Megapascal,
		FirstGap:     4 * units.Millimetre,
		LastGap:      9 * units.Millimetre,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	// The first coil closes at 18 · 4 mm.
	fmt.Printf("%.2f, %.2f up to 72 mm, %.2f at 110 mm, solid at %.0f\n",
		law.Rate(0), law.Rate(72*units.Millimetre), law.Rate(110*units.Millimetre), law.Travel())
	// Output:
	// 25.22 N/mm, 25.22 N/mm up to 72 mm, 63.94 N/mm at 110 mm, solid at 117 mm
}
