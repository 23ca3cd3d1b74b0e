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

// LoadTolerance returns how far a spring's load at a given length may be off its nominal one by
// EN 15800, for cold-coiled springs:
//
//	A = (a_F·k_F + 0.015·F)·Q,  Q = 0.63, 1, 1.6
//	a_F = 65.92·d^3.3/D^1.6·(−0.84(C/10)³ + 3.781(C/10)² − 4.244(C/10) + 2.274)
//	k_F = 1/(3n²) + 8/(5n) + 0.803
//
// with d and D in mm and F in N, as transcribed in an open-source program; the standard's own text
// was not opened. It reports false outside the standard's scope (wire 0.07 to 16 mm, D up to 200 mm, free
// length up to 630 mm, 2 active coils or more, index 4 to 20), for a load that is not more than 0 and
// at most 1e15 N, and for an unknown grade.
func (s *Spring) LoadTolerance(load units.Force, grade Grade) (units.Force, bool) {
	fixed, quality, ok := s.fixedTolerance(grade)
	return known(units.Force((fixed+0.015*float64(load))*quality), ok && load > 0 && load <= maxLoad)
}

// FreeLengthTolerance returns how far a spring's free length may be off its nominal one by EN 15800:
// a_F·k_F·Q/k, the travel that the fixed part of [Spring.LoadTolerance] makes at the rate k. Source
// and scope are the same. A set of springs may differ by that much in preload with their
// collars set alike.
func (s *Spring) FreeLengthTolerance(grade Grade) (units.Length, bool) {
	fixed, quality, ok := s.fixedTolerance(grade)
	return known(units.Length(fixed*quality/float64(s.Rate())), ok)
}

// fixedTolerance returns a_F·k_F in N and Q. It reports false outside the standard's scope.
func (s *Spring) fixedTolerance(grade Grade) (fixed, quality float64, ok bool) {
	quality, ok = map[Grade]float64{Grade1: 0.63, Grade2: 1, Grade3: 1.6}[grade]
	d, mean, w := s.d*1e3, s.mean*1e3, s.Index()/10
	ok = ok && within(d, 0.07, 16) && within(mean, 0, 200) && within(s.free, 0, 0.63) && within(s.n, 2, maxCoils) && within(w, 0.4, 2)
	fixed = 65.92 * math.Pow(d, 3.3) / math.Pow(mean, 1.6) * (((-0.84*w+3.781)*w-4.244)*w + 2.274)
	return fixed * (1/(3*s.n*s.n) + 8/(5*s.n) + 0.803), quality, ok
}

// within reports whether v is from lo to hi, rounding forgiven: a spring of 1.5 mm on 18 mm has an
// index of 12.
func within(v, lo, hi float64) bool {
	const rounding = 1e-12
	return v >= lo*(1-rounding) && v <= hi*(1+rounding)
}
