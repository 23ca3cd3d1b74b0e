package answer

import (
	"fmt"
	"math"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Readings at the digits that a workshop can read, metric and customary.

func length(l units.Length) (string, string) {
	return fmt.Sprintf("%.1f mm", l.Millimetres()), fmt.Sprintf("%.2f in", l.Inches())
}

func force(f units.Force) (string, string) {
	return fmt.Sprintf("%.0f N", f.Newtons()), fmt.Sprintf("%.1f lbf", f.PoundsForce())
}

func rate(k units.Stiffness) (string, string) {
	return fmt.Sprintf("%.2f N/mm", k.NewtonsPerMillimetre()), fmt.Sprintf("%.0f lbf/in", k.PoundsForcePerInch())
}

func mass(m units.Mass) (string, string) {
	return fmt.Sprintf("%.1f kg", m.Kilograms()), fmt.Sprintf("%.1f lb", m.Pounds())
}

func fill(p units.GaugePressure) (string, string) {
	return fmt.Sprintf("%.2f bar", p.Bar()), fmt.Sprintf("%.1f psi", p.PSI())
}

func energy(e units.Energy) (string, string) {
	return fmt.Sprintf("%.0f J", e.Joules()), fmt.Sprintf("%.0f ft·lbf", e.FootPoundsForce())
}

func percent(x float64) string { return fmt.Sprintf("%.1f %%", 100*x) }

// signed prints a number with its sign, the minus as wide as a digit.
func signed(format string, v float64) string {
	return strings.Replace(fmt.Sprintf(format, v), "-", "−", 1)
}

// row joins a label with a reading.
func row(key, label, metric, customary, note string) Row {
	return Row{key, label, metric, customary, note}
}

func lengthRow(key, label string, l units.Length, note string) Row {
	m, c := length(l)
	return row(key, label, m, c, note)
}

func forceRow(key, label string, f units.Force, note string) Row {
	m, c := force(f)
	return row(key, label, m, c, note)
}

func rateRow(key, label string, k units.Stiffness, note string) Row {
	m, c := rate(k)
	return row(key, label, m, c, note)
}

// bandRow is a row for everything from one length to another.
func bandRow(key, label string, lo, hi units.Length, note string) Row {
	return row(key, label,
		fmt.Sprintf("%.1f–%.1f mm", lo.Millimetres(), hi.Millimetres()),
		fmt.Sprintf("%.2f–%.2f in", lo.Inches(), hi.Inches()), note)
}

func turns(n float64) string {
	n = math.Round(n*100) / 100
	if n == 1 {
		return "1 turn"
	}
	return fmt.Sprintf("%g turns", n)
}

func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// where says along what the stroke of an end is read.
func where(e *setup.EndSheet) string {
	if e.LeverRatio.Max <= 1 {
		return "along the stanchion"
	}
	return "at the shock"
}

var foundWords = map[sag.Finding]string{
	sag.OnTarget: "on target", sag.TooSoft: "too soft", sag.TooHard: "too hard",
	sag.PreloadAtMax: "wants more preload than there is", sag.PreloadAtMin: "wants less preload than there is",
	sag.GoesSolid: "goes solid", sag.SolidUnknown: "solid travel not stated",
	sag.HeldAtTop: "does not sag", sag.Collapses: "goes to full travel",
	sag.FillAtMax: "stopped at the marking", sag.FillImpossible: "no fill does it",
	sag.NearestEnd: "nearest end force",
}

// found turns findings into words; one without any stays as it is.
func found(list []sag.Finding) string {
	parts := make([]string, len(list))
	for i, f := range list {
		parts[i] = string(f)
		if text, ok := foundWords[f]; ok {
			parts[i] = text
		}
	}
	return strings.Join(parts, ", ")
}

// said is the answer in a few words, for those who listen to it.
func said(a *Answer, s *setup.Sheet) string {
	text := "Front: " + a.Front.Short + ". Rear: " + a.Rear.Short + "."
	if n := len(s.Warnings); n > 0 {
		text += " " + count(n, "warning") + "."
	}
	return text
}
