package gas_test

import (
	"math"
	"math/cmplx"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// An independent computation (mpmath, 40 digits): bore in mm, volume in cm³,
// fill in bar, γ, ωτ; isothermal, storage and loss rate in N/m, loss factor, and
// the energy of a cycle of 1 mm amplitude in J.
var vibrationRows = []struct{ bore, volume, fill, gamma, w, iso, storage, loss, factor, energy float64 }{
	{35, 150, 5.5, 1.4, 0.1, 4019.374095776407, 4035.2924090270067, 159.18313250599633, 0.03944773175542406, 0.0005000885596562486},
	{35, 150, 5.5, 1.4, 1, 4019.374095776407, 4823.248914931689, 803.8748191552814, 0.16666666666666666, 0.0025254472262640558},
	{35, 150, 5.5, 1.4, 10, 4019.374095776407, 5611.205420836371, 159.18313250599633, 0.028368794326241134, 0.0005000885596562486},
	{40, 80, 16, 1.4, 0.3, 33582.809415366704, 34691.96642358065, 3697.190027379821, 0.10657193605683837, 0.011615065028941891},
	{40, 80, 16, 1.4, 1, 33582.809415366704, 40299.37129844005, 6716.561883073341, 0.16666666666666666, 0.021100701469244438},
	{40, 80, 16, 1.4, 30, 33582.809415366704, 47001.02405413698, 447.27382129234235, 0.00951625693893735, 0.0014051521511150569},
	{35, 150, 5.5, 1.4, 0.8451542547285166, 4019.374095776407, 4689.269778405808, 792.6312609579034, 0.16903085094570333, 0.0024901245464309637},
}

func vibration(bore, volume, fill, gamma, w float64) gas.Vibration {
	return gas.Vibration{Area: units.Area(math.Pi / 4 * bore * bore * 1e-6), Volume: units.Volume(volume) * cm3,
		Fill: units.BarGauge(fill), Ambient: units.StandardAtmosphere, HeatRatio: gamma, OmegaTau: w}
}

func vibrate(t *testing.T, v gas.Vibration) gas.Response {
	t.Helper()
	r, err := gas.Vibrate(v)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestVibrate(t *testing.T) {
	for _, r := range vibrationRows {
		got := vibrate(t, vibration(r.bore, r.volume, r.fill, r.gamma, r.w))
		unitstest.Near(t, "isothermal", got.IsothermalRate, units.Stiffness(r.iso), close12)
		unitstest.Near(t, "storage", got.StorageRate, units.Stiffness(r.storage), close12)
		unitstest.Near(t, "loss", got.LossRate, units.Stiffness(r.loss), close12)
		unitstest.Near(t, "factor", got.LossFactor, r.factor, close12)
		unitstest.Near(t, "energy", got.EnergyPerCycle(1*mm), units.Energy(r.energy), close12)
		k := complex(r.iso, 0) * complex(1, r.gamma*r.w) / complex(1, r.w)
		unitstest.Near(t, "modulus", math.Hypot(float64(got.StorageRate), float64(got.LossRate)), cmplx.Abs(k), close12)
	}
}

// Slow is isothermal, fast adiabatic, as measured on air springs too: stiffness
// rises by 1.4 (Pelz and Buttenbender, ISMA 2004, abstract). At both ends nothing
// is lost, and the loss is greatest at w = 1.
func TestVibrateSlowAndFast(t *testing.T) {
	slow, fast := vibrate(t, vibration(35, 150, 5.5, 1.4, 0)), vibrate(t, vibration(35, 150, 5.5, 1.4, 1e12))
	unitstest.Near(t, "slow", slow.StorageRate, slow.IsothermalRate, unitstest.Exact)
	unitstest.Near(t, "fast", fast.StorageRate, 1.4*slow.IsothermalRate, close12)
	if slow.LossRate != 0 || !(fast.LossRate < 1e-6) {
		t.Errorf("lost %v and %v", slow.LossRate, fast.LossRate)
	}
	most := vibrate(t, vibration(35, 150, 5.5, 1.4, 1))
	unitstest.Near(t, "most", most.LossRate, 0.2*slow.IsothermalRate, close12)
	for _, w := range []float64{0.9, 0.99, 1.01, 1.1} {
		if r := vibrate(t, vibration(35, 150, 5.5, 1.4, w)); !(r.LossRate < most.LossRate) {
			t.Errorf("w %v loses more", w)
		}
	}
	if cold := vibrate(t, vibration(35, 150, 5.5, 1, 1)); cold.LossRate != 0 || cold.StorageRate != cold.IsothermalRate {
		t.Error("a gas that doesn't warm loses")
	}
}

// An independent computation (mpmath, 40 digits): volumes in cm³, fill in bar, γ,
// τ in s; adiabatic and isothermal pressure, and those after 0.1, 0.5, 1 and 3 τ,
// in Pa absolute.
var holdRows = []struct {
	volume, to, fill, gamma, tau, adiabatic, isothermal float64
	after                                               [4]float64
}{
	{210, 120, 5.5, 1.4, 1.5, 1425775.0686943836, 1139818.75, [4]float64{1398562.7270784942, 1313260.0246267007, 1245016.2007207328, 1154055.67678906}},
	{100, 45, 15, 1.4, 0.6, 4897584.802943597, 3558500, [4]float64{4770154.035626676, 4370695.988940542, 4051121.768988061, 3625169.1066345205}},
}

func TestHold(t *testing.T) {
	for _, r := range holdRows {
		h, err := gas.Hold(gas.VolumeStep{Volume: units.Volume(r.volume) * cm3, ToVolume: units.Volume(r.to) * cm3, Fill: units.BarGauge(r.fill),
			Ambient: units.StandardAtmosphere, HeatRatio: r.gamma, TimeConstant: units.Time(r.tau)})
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "adiabatic", h.Pressure(0), units.AbsolutePressure(r.adiabatic), close12)
		unitstest.Near(t, "isothermal", h.Isothermal, units.AbsolutePressure(r.isothermal), close12)
		for i, times := range []float64{0.1, 0.5, 1, 3} {
			unitstest.Near(t, "pressure", h.Pressure(units.Time(times*r.tau)), units.AbsolutePressure(r.after[i]), close12)
		}
	}
}

// A time before the step counts as 0, and so does one that is no number: the pressure is
// that of the step itself, after the deepest strokes too.
func TestPressureBeforeTheStep(t *testing.T) {
	for _, to := range []units.Volume{1e-9, 1e-7, 3e-4, 0.07, 1} {
		for _, gamma := range []float64{1, 1.3, 1.4, 2} {
			h, err := gas.Hold(gas.VolumeStep{Volume: 1e-4, ToVolume: to, Fill: 7e5, Ambient: units.StandardAtmosphere, HeatRatio: gamma, TimeConstant: 0.3})
			wantFields(t, "hold", err)
			for _, before := range []float64{-5, nan} {
				unitstest.Near(t, "before the step", h.Pressure(units.Time(before)), h.Pressure(0), unitstest.Exact)
			}
			unitstest.Near(t, "at the end", h.Pressure(units.Time(inf)), h.Isothermal, unitstest.Exact)
		}
	}
	var zero gas.Relaxation
	for _, after := range []float64{-1, 0, 1e-300, 1, inf, nan} {
		unitstest.Near(t, "pressure of the zero value", zero.Pressure(units.Time(after)), 0, unitstest.Exact)
	}
}

// A loss rate below 0 gives energy back. The energy of a stroke that is not finite is 0.
func TestEnergyPerCycleIsFinite(t *testing.T) {
	for _, rate := range []units.Stiffness{-1, 1} {
		r := gas.Response{LossRate: rate}
		unitstest.Near(t, "energy", float64(r.EnergyPerCycle(0.1)), float64(rate)*math.Pi*0.01, close12)
		for _, v := range []float64{nan, inf} {
			unitstest.Near(t, "energy", r.EnergyPerCycle(units.Length(v)), 0, unitstest.Exact)
		}
	}
}
