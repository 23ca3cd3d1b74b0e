package gas_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rampRows are the exact solution (mpmath quadrature, confirmed with an
// adaptive Runge-Kutta method at 1e-13): a linear ramp of the volume in cm³ in a
// time in s, then held. Pressures in Pa absolute half way, at the end, and 1 and
// 5 τ after it.
var rampRows = []struct {
	volume, to, ramp, fill, gamma, tau float64
	pressure                           [4]float64
}{
	{210, 120, 0.05, 5.5, 1.4, 1.5, [4]float64{912229.4814855681, 1421322.5077355958, 1243378.195083432, 1141715.507399666}},
	{210, 120, 1.0, 5.5, 1.4, 1.5, [4]float64{900636.8649287, 1352410.5717803487, 1218026.9105941737, 1141251.182427595}},
	{100, 45, 0.03, 15, 1.4, 0.6, [4]float64{2508284.281400517, 4867237.124627442, 4039957.482048264, 3567318.201381475}},
	{100, 45, 5.0, 15, 1.4, 0.6, [4]float64{2284292.0305444635, 3752066.593050825, 3629709.1700809975, 3559804.24144477}},
}

func history(tau float64, points ...float64) gas.VolumeHistory {
	h := gas.VolumeHistory{Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere, HeatRatio: 1.4, TimeConstant: units.Time(tau)}
	for i := 0; i < len(points); i += 2 {
		h.Time, h.Volume = append(h.Time, units.Time(points[i])), append(h.Volume, units.Volume(points[i+1])*cm3)
	}
	return h
}

func follow(t testing.TB, h gas.VolumeHistory) gas.PressureHistory {
	t.Helper()
	out, err := gas.Follow(h)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestFollowRamps(t *testing.T) {
	for _, r := range rampRows {
		h := history(r.tau, 0, r.volume, r.ramp/2, (r.volume+r.to)/2, r.ramp, r.to, r.ramp+r.tau, r.to, r.ramp+5*r.tau, r.to)
		h.Fill, h.HeatRatio = units.BarGauge(r.fill), r.gamma
		out := follow(t, h)
		for i, want := range r.pressure {
			unitstest.Near(t, "pressure", out.Pressure[i+1], units.AbsolutePressure(want), close12)
		}
	}
}

// The energy that the gas has gained is the work done on it less the heat that
// it gave to the walls, where the heat is followed by quite another way: the
// temperature over time, summed finely. Heat flows at m·c_v·(T − T_w)/τ, with
// m·c_v·T_w = p·V/(γ − 1) of the settled gas.
func TestFollowEnergy(t *testing.T) {
	shape := []float64{0, 210, 0.05, 120, 0.2, 130, 0.4, 200, 1.0, 200, 1.3, 90, 3, 150}
	for _, tau := range []float64{0.01, 0.1, 1, 10} {
		fine := history(tau)
		const cuts = 400
		for i := 0; i+3 < len(shape); i += 2 {
			for j := range cuts {
				u := float64(j) / cuts
				fine.Time = append(fine.Time, units.Time(shape[i]+u*(shape[i+2]-shape[i])))
				fine.Volume = append(fine.Volume, units.Volume(shape[i+1]+u*(shape[i+3]-shape[i+1]))*cm3)
			}
		}
		fine.Time, fine.Volume = append(fine.Time, 3), append(fine.Volume, 150*cm3)
		out, coarse := follow(t, fine), follow(t, history(tau, shape...))
		last := len(fine.Time) - 1
		// The points on a straight line change nothing.
		unitstest.Near(t, "pressure", out.Pressure[last], coarse.Pressure[len(coarse.Pressure)-1], close12)
		unitstest.Near(t, "work", out.Work[last], coarse.Work[len(coarse.Work)-1], unitstest.Rel(1e-11))
		stored := 651325 * 210e-6 / 0.4 // m·c_v·T_w
		heat := 0.0
		for i := 1; i <= last; i++ {
			heat += ((out.Warming[i]+out.Warming[i-1])/2 - 1) * float64(fine.Time[i]-fine.Time[i-1]) * stored / tau
		}
		gain := stored * (out.Warming[last] - 1)
		unitstest.Near(t, "energy", gain, float64(out.Work[last])-heat, unitstest.Abs(2e-3*float64(out.Work[last])))
		// The gas law: p·V over T is kept.
		for i := range out.Pressure {
			unitstest.Near(t, "gas", float64(out.Pressure[i])*float64(fine.Volume[i])/out.Warming[i], 651325*210e-6, close12)
		}
	}
}

func TestFollowSlowAndFast(t *testing.T) {
	for _, c := range []struct {
		name     string
		tau      float64
		exponent float64
		near     float64
	}{{"slow", 1e-6, 1, 1e-5}, {"fast", 1e6, 1.4, 1e-5}} {
		h := history(c.tau, 0, 210, 0.5, 60, 1, 140)
		out := follow(t, h)
		for i, v := range h.Volume {
			end := changed(t, 651325, 210e-6, float64(v), c.exponent)
			unitstest.Near(t, c.name+" pressure", out.Pressure[i], end.Pressure, unitstest.Rel(c.near))
			unitstest.Near(t, c.name+" work", out.Work[i], end.Work, unitstest.Rel(c.near), unitstest.Abs(1e-12*units.Joule))
		}
	}
	// A step of a picosecond is too fast to lose heat: the pressure is that of Hold.
	out := follow(t, history(1.5, 0, 210, 1e-12, 120, 1.5, 120))
	unitstest.Near(t, "at once", out.Pressure[1], units.AbsolutePressure(holdRows[0].adiabatic), unitstest.Rel(1e-9))
	unitstest.Near(t, "held", out.Pressure[2], units.AbsolutePressure(holdRows[0].after[2]), unitstest.Rel(1e-9))
}

// Ramps of up to a hundredfold change of volume: pressure at the end, and work. With a γ of
// 1.4 both are the exact integral in mpmath, in 50 and 22 digits. With 2 the ramp V₀ + s·t
// has the closed form V·T/T_w = V₀ + s·(t − τ + τ·e^(−t/τ)), and the work is that of
// mpmath's quadrature in 50 digits. Volumes are in cm³, τ is 1 s.
func TestFollowDeepRamps(t *testing.T) {
	for _, r := range []struct{ gamma, ambient, fill, volume, to, ramp, pressure, work float64 }{
		{1.4, 101325, 500000, 100, 1, 10, 143139905.31466632, 394.015383318866},
		{1.4, 101325, 500000, 100, 1, 0.5, 333317139.26588702, 720.287935901332},
		{1.4, 101325, 9898675, 1, 100, 10, 95750.905390355826, -35.5640273351098},
		{2, 1e5, 5e5, 89, 10, 0.1, 45485286.827350094465, 408.96590692852223301},
		{2, 1e5, 5e5, 10, 89, 0.1, 10469.557062296222295, -5.4902032190454567562},
		{2, 1e5, 5e5, 29, 10, 1, 3829790.5674872116848, 28.682688549686454088},
		{2, 1e5, 5e5, 10, 29, 1, 121210.76848221691399, -4.4768215455047506418},
	} {
		h := history(1, 0, r.volume, r.ramp, r.to)
		h.HeatRatio, h.Ambient, h.Fill = r.gamma, units.AbsolutePressure(r.ambient), units.GaugePressure(r.fill)
		out := follow(t, h)
		unitstest.Near(t, "pressure", float64(out.Pressure[1]), r.pressure, unitstest.Rel(1e-13))
		unitstest.Near(t, "work", float64(out.Work[1]), r.work, unitstest.Rel(1e-13))
	}
}

// At the extremes of what is permitted the results are finite.
func TestFollowAtTheLimits(t *testing.T) {
	for _, tau := range []float64{1e-6, 1, 1e6} {
		for _, gamma := range []float64{1, 1.4, 2} {
			h := gas.VolumeHistory{Time: []units.Time{-1e6, 0, 1e-9, 1e6}, Volume: []units.Volume{1, 1e-9, 1, 1e-9}, Fill: 1e8, Ambient: 1e6, HeatRatio: gamma, TimeConstant: units.Time(tau)}
			out := follow(t, h)
			for i := range h.Time {
				if !finite(float64(out.Pressure[i]), out.Warming[i], float64(out.Work[i])) || !(out.Pressure[i] > 0) || !(out.Warming[i] > 0) {
					t.Errorf("τ %v, γ %v: %v %v %v", tau, gamma, out.Pressure[i], out.Warming[i], out.Work[i])
				}
			}
		}
	}
}

// Exact periodic solutions (Fourier filtering of V^(γ−1) in mpmath, confirmed
// with an adaptive Runge-Kutta method): mean volume and amplitude in cm³, ωτ, fill
// in bar; pressures at 0, 90, 180 and 270° in Pa absolute, energy lost in J, and
// what the formula for small amplitudes gives.
var oscillationRows = []struct {
	mean, amplitude, w, fill float64
	pressure                 [4]float64
	lost, small              float64
}{
	{170, 60, 0.2, 7, [4]float64{822321.9125248212, 1248488.718850345, 778654.283205187, 589865.4522272613}, 4.51491173263504, 4.1008019182335875},
	{170, 60, 1, 7, [4]float64{853651.8461988119, 1354464.027117281, 739105.8846073826, 557617.9155476575}, 11.574423483021503, 10.662084987407328},
	{170, 60, 5, 7, [4]float64{817249.3292878007, 1454321.7876404668, 773134.1877606511, 523627.5668326193}, 4.4338664556358625, 4.1008019182335875},
	{75, 30, 0.5, 20, [4]float64{2227041.481512948, 3668369.303676328, 1954715.675579284, 1463893.211699475}, 14.227793073361058, 12.674893790984779},
	{75, 30, 1, 20, [4]float64{2255355.566625534, 3893051.110497836, 1913654.6773618555, 1403353.112315691}, 17.636960370098574, 15.843617238730973},
	{75, 30, 20, 20, [4]float64{2097331.787120062, 4251293.782486424, 2063184.7404586207, 1299305.1513153182}, 1.7495948459502868, 1.5804106971302716},
}

func oscillation(mean, amplitude, w, fill float64) gas.Oscillation {
	return gas.Oscillation{MeanVolume: units.Volume(mean) * cm3, Amplitude: units.Volume(amplitude) * cm3,
		Fill: units.BarGauge(fill), Ambient: units.StandardAtmosphere, HeatRatio: 1.4, OmegaTau: w}
}

func oscillate(t *testing.T, mean, amplitude, w, fill float64) gas.PressureLoop {
	t.Helper()
	out, err := gas.Oscillate(oscillation(mean, amplitude, w, fill))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestOscillate(t *testing.T) {
	for _, r := range oscillationRows {
		out := oscillate(t, r.mean, r.amplitude, r.w, r.fill)
		for i, want := range r.pressure {
			unitstest.Near(t, "pressure", out.Pressure[18*i], units.AbsolutePressure(want), close12)
		}
		unitstest.Near(t, "lost", out.Lost, units.Energy(r.lost), unitstest.Rel(1e-11))
		// With an area of 1 m² the stroke is the volume.
		small := vibrate(t, gas.Vibration{Area: 1, Volume: units.Volume(r.mean) * cm3, Fill: units.BarGauge(r.fill), Ambient: units.StandardAtmosphere, HeatRatio: 1.4, OmegaTau: r.w})
		unitstest.Near(t, "small", small.EnergyPerCycle(units.Length(r.amplitude*1e-6)), units.Energy(r.small), close12)
		tiny := oscillate(t, r.mean, 1e-3, r.w, r.fill)
		unitstest.Near(t, "tiny", tiny.Lost, small.EnergyPerCycle(1e-9), unitstest.Rel(1e-8))
	}
	// The greatest loss, and where: 0.993 and 0.991 to the digits given.
	for _, r := range []struct{ mean, amplitude, fill, w, most float64 }{{170, 60, 7, 0.993, 11.57469}, {75, 30, 20, 0.991, 17.63766}} {
		most := oscillate(t, r.mean, r.amplitude, r.w, r.fill).Lost
		unitstest.Near(t, "most", most, units.Energy(r.most), unitstest.Abs(5e-6*units.Joule))
		for _, off := range []float64{-0.0015, 0.0015} {
			if near := oscillate(t, r.mean, r.amplitude, r.w+off, r.fill).Lost; !(near < most) {
				t.Errorf("at %v more is lost", r.w+off)
			}
		}
	}
	// Limits: hardly anything is lost by the slowest and the fastest strokes, in
	// proportion to ωτ and to its inverse.
	for _, w := range []float64{1e-6, 1e6} {
		out := oscillate(t, 170, 60, w, 7)
		if !(out.Lost > 0 && out.Lost < 1e-4) {
			t.Errorf("ωτ %v: lost %v", w, out.Lost)
		}
		more := oscillate(t, 170, 60, math.Sqrt(w), 7)
		unitstest.Near(t, "in proportion", float64(out.Lost/more.Lost), math.Pow(w, math.Copysign(0.5, -math.Log(w))), unitstest.Rel(1e-2))
	}
}

// Budget: 30 µs a point of a logged stroke, its time between two points short
// against τ.
func BenchmarkFollow(b *testing.B) {
	h := history(1)
	for i := range 100 {
		h.Time, h.Volume = append(h.Time, units.Time(i)*0.005), append(h.Volume, units.Volume(170+60*math.Sin(float64(i)*0.3))*cm3)
	}
	b.ReportAllocs()
	for b.Loop() {
		follow(b, h)
	}
}
