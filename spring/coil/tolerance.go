package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// Grade is a grade of manufacture of EN 15800, 1 the finest.
type Grade int

// The three grades.
const (
	Grade1 Grade = 1
	Grade2 Grade = 2
	Grade3 Grade = 3
)

// quality is the standard's factor Q of a grade, and 0 of none.
func (g Grade) quality() float64 {
	switch g {
	case Grade1:
		return 0.63
	case Grade2:
		return 1
	case Grade3:
		return 1.6
	}
	return 0
}

// LoadTolerance returns how far a spring's load at a given length may be off
// its nominal one by EN 15800, for cold-coiled springs:
//
//	A = (a_F·k_F + 0.015·F)·Q,  Q = 0.63, 1, 1.6
//	a_F = 65.92·d^3.3/D^1.6·(−0.84(C/10)³ + 3.781(C/10)² − 4.244(C/10) + 2.274)
//	k_F = 1/(3n²) + 8/(5n) + 0.803
//
// with d and D in mm and F in N, as transcribed in an open-source program; the
// standard's own text was not opened. It is false outside the standard's
// scope (wire 0.07 to 16 mm, D up to 200 mm, free length up to 630 mm, 2
// active coils or more, index 4 to 20), for a load that is not finite and
// more than 0 or more than 1e15 N, and for an unknown grade.
func (s *Spring) LoadTolerance(load units.Force, grade Grade) (units.Force, bool) {
	fixed, ok := s.fixedTolerance(grade)
	if !ok || !(load > 0 && load <= maxLoad) {
		return 0, false
	}
	return units.Force((fixed + 0.015*float64(load)) * grade.quality()), true
}

// FreeLengthTolerance returns how far a spring's free length may be off its
// nominal one by EN 15800, for cold-coiled springs: a_F·k_F·Q/k, the travel
// that the fixed part of [Spring.LoadTolerance] makes at the rate k. Source
// and scope are the same; it is false outside of them. A set of springs may
// differ by that much in preload before anybody turns a collar.
func (s *Spring) FreeLengthTolerance(grade Grade) (units.Length, bool) {
	fixed, ok := s.fixedTolerance(grade)
	if !ok {
		return 0, false
	}
	return units.Length(fixed * grade.quality() / float64(s.Rate())), true
}

// fixedTolerance is a_F·k_F in N, within the standard's scope.
func (s *Spring) fixedTolerance(grade Grade) (float64, bool) {
	d, mean, c := s.d*1e3, s.mean*1e3, s.Index()
	scope := within(d, 0.07, 16) && within(mean, 0, 200) && within(s.free, 0, 0.63) && within(s.n, 2, maxCoils) && within(c, 4, 20)
	if !scope || grade.quality() == 0 {
		return 0, false
	}
	w := c / 10
	a := 65.92 * math.Pow(d, 3.3) / math.Pow(mean, 1.6) * (((-0.84*w+3.781)*w-4.244)*w + 2.274)
	return a * (1/(3*s.n*s.n) + 8/(5*s.n) + 0.803), true
}

// within reports whether v is from lo to hi, rounding forgiven: a spring of
// 1.5 mm on 18 mm has an index of 12.
func within(v, lo, hi float64) bool {
	const rounding = 1e-12
	return v >= lo*(1-rounding) && v <= hi*(1+rounding)
}
