// Package expected puts the library's own answer for a job into words, outside the browser
// and in this program's own way.
package expected

import (
	"bytes"
	"fmt"

	"example.com/wheelrate/ci/browsertest/devtools"
	"example.com/wheelrate/sag/setup"
)

// Of returns what the page should show of a job, by what shows it: the metric reading
// and the customary one, or a count.
func Of(job []byte) map[string]string {
	read, err := setup.ReadJob(bytes.NewReader(job))
	devtools.Must(err)
	s, err := setup.NewSheet(read)
	devtools.Must(err)
	w := map[string]string{
		"loads.share": fmt.Sprintf("%.1f %%|", s.Loads.RearShare*100),
		"riders":      fmt.Sprint(len(s.Riders)),
		"left-out":    fmt.Sprint(len(s.LeftOut)),
		"warnings":    fmt.Sprint(len(s.Warnings)),
		"cautions":    fmt.Sprint(len(s.Cautions)),
	}
	if s.Front != nil {
		w["loads.front_spring"] = fmt.Sprintf("%.0f N|%.1f lbf", s.Loads.Front.Newtons(), s.Loads.Front.PoundsForce())
	}
	if s.Rear != nil {
		w["loads.rear_wheel"] = fmt.Sprintf("%.0f N|%.1f lbf", s.Loads.RearWheel.Newtons(), s.Loads.RearWheel.PoundsForce())
	}
	if s.FrequencyRatio > 0 {
		w["both.frequency_ratio"] = fmt.Sprintf("%.2f|", s.FrequencyRatio)
	}
	for _, e := range s.Ends() {
		name := string(e.Axle)
		w[name+".measure.wheel"] = fmt.Sprintf("%.1f mm|%.2f in", e.Measure[1].Expected.Millimetres(), e.Measure[1].Expected.Inches())
		if e.Pump != nil {
			w[name+".pump"] = fmt.Sprint(len(e.Pump.Steps))
		}
		if e.Gauge != nil {
			w[name+".fit.fill"] = fmt.Sprintf("%.2f bar|%.1f psi", e.Gauge.Fill.Bar(), e.Gauge.Fill.PSI())
		}
		if e.State == nil { // its readings don't tell the spring
			w[name+".expect.sag"], w[name+".choices"] = "nothing", "0"
			if r := e.Settled(); r != nil {
				w[name+".expect.sag"] = fmt.Sprintf("%.1f mm|%.2f in", r.Travel.Millimetres(), r.Travel.Inches())
			}
			continue
		}
		w[name+".expect.sag"] = fmt.Sprintf("%.1f mm|%.2f in", e.Rest.Travel.Millimetres(), e.Rest.Travel.Inches())
		w[name+".expect.shock_sag"] = fmt.Sprintf("%.1f mm|%.2f in", e.Rest.Stroke.Millimetres(), e.Rest.Stroke.Inches())
		w[name+".expect.wheel_rate"] = fmt.Sprintf("%.2f N/mm|%.0f lbf/in", e.Rest.WheelRate.NewtonsPerMillimetre(), e.Rest.WheelRate.PoundsForcePerInch())
		w[name+".expect.lever_ratio"] = fmt.Sprintf("%.3f|", e.Rest.LeverRatio)
		w[name+".full.full_force"] = fmt.Sprintf("%.0f N|%.1f lbf", e.Reserve.FullForce.Newtons(), e.Reserve.FullForce.PoundsForce())
		if e.Coil != nil {
			best := e.Coil.Candidates[0]
			w[name+".fit.rate"] = fmt.Sprintf("%.2f N/mm|%.0f lbf/in", best.Rate.NewtonsPerMillimetre(), best.Rate.PoundsForcePerInch())
			w[name+".fit.preload"] = fmt.Sprintf("%.1f mm|%.2f in", best.Preload.Millimetres(), best.Preload.Inches())
			w[name+".choices"] = fmt.Sprint(len(e.Coil.Candidates))
			continue
		}
		if e.Air == nil {
			continue
		}
		best := e.Air.Options[0]
		w[name+".fit.fill"] = fmt.Sprintf("%.2f bar|%.1f psi", best.Fill.Bar(), best.Fill.PSI())
		w[name+".fit.spacers"] = fmt.Sprintf("%d|", best.Spacers)
		w[name+".choices"] = fmt.Sprint(len(e.Air.Options))
	}
	return w
}
