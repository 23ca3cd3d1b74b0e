package airspring

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/units"
)

// ErrUndetermined is the class of the errors of [Fit] where the readings can't
// tell the unknowns apart.
var ErrUndetermined = errors.New("airspring: the readings can't tell the unknowns apart")

// Readings are forces measured at known travels of an air spring, in any order.
type Readings struct {
	// Spec is what is known. Those of Fill, PositiveVolume and Exponent that are 0
	// are sought; the others hold. It has no second chamber.
	Spec   Spec           `json:"spec"`
	Travel []units.Length `json:"travel"` // from 0 to the travel
	Force  []units.Force  `json:"force"`  // as many, finite
}

// Fitted is the spring that fits [Readings] best. The errors are one standard
// deviation; 0 for what was given.
type Fitted struct {
	Spec              Spec
	FillError         units.GaugePressure
	VolumeError       units.Volume
	ExponentError     float64
	ResidualDeviation units.Force // √(Σr²/(N − k)) of N readings and k unknowns
	Points            int
}

// Fit returns the fill, volume and exponent with which the force of [New] comes
// nearest to readings, by least squares: travels are taken as exact, errors of
// the force as equal and independent. The force is linear in the absolute fill,
// which is solved for on a grid of volumes and exponents; from the best of them
// the steps of Gauss and Newton lead to the end. Standard errors come from the
// linearisation there, s²·(JᵀJ)⁻¹.
//
// Over a short travel a larger chamber with a larger exponent answers the same:
// F goes with n/V alone. Where the unknowns can't be told apart, their columns
// being alike to a part in 10⁵ or an error above 25 %, Fit refuses: the error
// names each unknown that is not determined and is of the class
// [ErrUndetermined]. So it does where the best exponent is outside 1 to 2 by more
// than its error times 3; nearer, the limit is taken as if it had been given.
// Readings all made slowly are better fitted with an exponent of 1 given.
//
// There must be more readings at different travels than unknowns. Friction
// shifts loading and unloading apart: give the mean of the two. The error names
// every bad field and reading, such as force[3].
func Fit(r Readings) (Fitted, error) {
	c := units.Checker{Package: "airspring"}
	f := r.check(&c)
	if err := c.Err(); err != nil {
		return Fitted{}, err
	}
	f.search()
	f.polish()
	if f.free[exponent] && !(f.at[exponent] >= 1 && f.at[exponent] <= 2) {
		deviations, _ := f.judge(&c)
		if err := c.Err(); err != nil {
			return Fitted{}, err
		}
		limit := math.Min(math.Max(f.at[exponent], 1), 2)
		if !(math.Abs(f.at[exponent]-limit) <= math.Max(3*deviations[exponent], 1e-9)) {
			c.Fail("exponent", f.at[exponent], "readings that an exponent from 1 to 2 explains", ErrUndetermined)
			return Fitted{}, c.Err()
		}
		f.at[exponent], f.hold = limit, true
		f.search()
		f.polish()
	}
	return f.result(&c)
}

// The unknowns, in the order they are kept.
const (
	fill   = iota // absolute, Pa
	volume        // of the chamber beside oil and spacers, m³
	exponent
	unknowns
)

var unknownNames = [unknowns]string{"fill", "positive_volume", "exponent"}

type fitting struct {
	given  Spec
	spec   Spec // the same, oil and spacers taken out of the volume
	filled float64
	swept  float64
	x, f   []float64
	free   [unknowns]bool
	hold   bool // the exponent is kept at a limit of its range
	at     [unknowns]float64
}

func (r *Readings) check(c *units.Checker) *fitting {
	spec := r.Spec
	f := &fitting{given: spec, free: [unknowns]bool{spec.Fill == 0, spec.PositiveVolume == 0, spec.Exponent == 0}}
	// Stand-ins for what is sought, so that the rest can be checked.
	if f.free[volume] {
		spec.PositiveVolume = mostVolume
	}
	if f.free[exponent] {
		spec.Exponent = 1
	}
	own := units.Checker{Package: c.Package}
	spec.check(&own)
	if !f.free[fill] {
		checkFill(&own, "fill", spec.Fill)
	}
	if spec.SecondVolume != 0 {
		own.Fail("second_volume", spec.SecondVolume, "no second chamber", nil)
	}
	c.Add("spec", own.Err())
	k := len(f.sought())
	if k == 0 {
		c.Fail("spec", nil, "a fill, positive_volume or exponent left out, to be found", units.ErrMissing)
	}
	different := map[units.Length]bool{}
	for i, x := range r.Travel {
		if !(x >= 0) || !own.Bad("travel") && !(x <= spec.Travel) {
			c.Fail(fmt.Sprintf("travel[%d]", i), x, "from 0 to the spring's travel", nil)
			continue
		}
		different[x] = true
	}
	if len(different) <= k {
		c.Fail("travel", len(different), fmt.Sprintf("readings at %d different travels or more", k+1), nil)
	}
	if len(r.Force) != len(r.Travel) {
		c.Fail("force", len(r.Force), fmt.Sprintf("as many readings as travel, %d", len(r.Travel)), units.ErrConflict)
	}
	for i, force := range r.Force {
		units.Between(c, fmt.Sprintf("force[%d]", i), force, -1e9, 1e9)
	}
	if !c.OK() {
		return f
	}
	f.swept = spec.sweep(spec.Travel)
	f.filled = float64(spec.OilVolume) + float64(spec.Spacers)*float64(spec.SpacerVolume)
	f.at = [unknowns]float64{float64(spec.Fill) + float64(spec.Ambient), float64(spec.PositiveVolume) - f.filled, spec.Exponent}
	spec.OilVolume, spec.SpacerVolume, spec.Spacers = 0, 0, 0
	f.spec = spec
	for i := range r.Travel {
		f.x, f.f = append(f.x, float64(r.Travel[i])), append(f.f, float64(r.Force[i]))
	}
	return f
}

// sought lists the unknowns.
func (f *fitting) sought() []int {
	var list []int
	for i, free := range f.free {
		if free && !(i == exponent && f.hold) {
			list = append(list, i)
		}
	}
	return list
}

// forces are those at all travels with given unknowns.
func (f *fitting) forces(at [unknowns]float64) []float64 {
	spec := f.spec
	spec.PositiveVolume, spec.Exponent = units.Volume(at[volume]), at[exponent]
	s := newSpring(&spec, at[fill])
	list := make([]float64, len(f.x))
	for i, x := range f.x {
		list[i] = float64(s.Force(units.Length(x)))
	}
	return list
}

// outside is the ambient's force, which is all of the force without fill.
func (f *fitting) outside() float64 {
	s := newSpring(&f.spec, 1)
	return s.outside
}

// project sets the best fill for a volume and an exponent, where it is sought,
// and returns the sum of squares.
func (f *fitting) project(at *[unknowns]float64) float64 {
	if f.free[fill] {
		outside, top, bottom := f.outside(), 0.0, 0.0
		at[fill] = 1e5
		for i, force := range f.forces(*at) {
			gas := (force + outside) / at[fill]
			top += gas * (f.f[i] + outside)
			bottom += gas * gas
		}
		at[fill] = math.Max(top/bottom, float64(f.spec.Ambient)*1e-3)
	}
	return f.squares(*at)
}

// search finds the valley: it tries volumes by the share of them that is swept,
// and exponents, each with its best fill.
func (f *fitting) search() {
	volumes, exponents := []float64{f.at[volume]}, []float64{f.at[exponent]}
	if f.free[volume] {
		volumes = volumes[:0]
		for i := range 48 { // shares from 0.001 to 0.999, closer together at the ends
			volumes = append(volumes, f.swept*(1+math.Exp(7-14*float64(i)/47)))
		}
	}
	if f.free[exponent] && !f.hold {
		exponents = []float64{0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.7, 2, 2.5}
	}
	best, found := math.Inf(1), f.at
	for _, v := range volumes {
		for _, n := range exponents {
			at := f.at
			at[volume], at[exponent] = v, n
			if sum := f.project(&at); sum < best {
				best, found = sum, at
			}
		}
	}
	f.at = found
}

// jacobian is the derivative of the forces by the logarithms of the unknowns, by
// central differences, and the residuals. The scaling makes its columns alike
// in size.
func (f *fitting) jacobian() (*mat.Dense, *mat.VecDense, []int) {
	which := f.sought()
	j := mat.NewDense(len(f.x), len(which), nil)
	for column, i := range which {
		step := 1e-5
		if i == volume { // not below what is swept
			step = math.Min(step, 0.1*(1-f.swept/f.at[volume]))
		}
		up, down := f.at, f.at
		up[i] *= 1 + step
		down[i] *= 1 - step
		high, low := f.forces(up), f.forces(down)
		for row := range f.x {
			j.Set(row, column, (high[row]-low[row])/(2*step))
		}
	}
	r := mat.NewVecDense(len(f.x), nil)
	for row, force := range f.forces(f.at) {
		r.SetVec(row, f.f[row]-force)
	}
	return j, r, which
}

// polish takes Gauss-Newton steps, shortened where need be, for as long as they
// help.
func (f *fitting) polish() {
	if len(f.sought()) == 0 { // an exponent alone, held at a limit
		return
	}
	for range 100 {
		j, r, which := f.jacobian()
		var step mat.VecDense
		if err := step.SolveVec(j, r); err != nil {
			return
		}
		before := f.squares(f.at)
		moved := false
		for part := 1.0; part > 1e-6 && !moved; part /= 2 {
			next := f.at
			for row, i := range which {
				next[i] *= 1 + part*step.AtVec(row)
			}
			if f.sensible(next) && f.squares(next) < before {
				f.at, moved = next, true
			}
		}
		if !moved || mat.Norm(&step, math.Inf(1)) < 1e-14 {
			return
		}
	}
}

// sensible tells whether a spring can be made of unknowns at all.
func (f *fitting) sensible(at [unknowns]float64) bool {
	return at[fill] > 0 && at[volume] > 0 && f.swept/at[volume] <= mostSwept && at[exponent] > 0.1 && at[exponent] < 10
}

func (f *fitting) squares(at [unknowns]float64) float64 {
	sum := 0.0
	for i, force := range f.forces(at) {
		sum += (force - f.f[i]) * (force - f.f[i])
	}
	return sum
}

// deviations are the standard errors of the unknowns and the deviation of the
// residuals. It fails where the columns of the Jacobian are too much alike.
func (f *fitting) deviations() ([unknowns]float64, float64, bool) {
	var out [unknowns]float64
	if len(f.sought()) == 0 {
		return out, math.Sqrt(f.squares(f.at) / float64(len(f.x))), true
	}
	j, r, which := f.jacobian()
	s := mat.Norm(r, 2) / math.Sqrt(float64(len(f.x)-len(which)))
	scale := make([]float64, len(which))
	for column := range which {
		scale[column] = mat.Norm(j.ColView(column), 2)
		if !(scale[column] > 0) {
			return out, s, false
		}
		for row := range f.x {
			j.Set(row, column, j.At(row, column)/scale[column])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(j, mat.SVDThin) {
		return out, s, false
	}
	values := svd.Values(nil)
	if !(values[len(values)-1] > alike*values[0]) {
		return out, s, false
	}
	var v mat.Dense
	svd.VTo(&v)
	for column, i := range which {
		sum := 0.0
		for k, value := range values {
			sum += v.At(column, k) * v.At(column, k) / (value * value)
		}
		out[i] = s * math.Sqrt(sum) / scale[column] * f.at[i]
	}
	return out, s, true
}

// alike is the ratio of singular values below which unknowns are not told apart,
// and vague the relative error above which one isn't known.
const (
	alike = 1e-5
	vague = 0.25
)

// judge returns the standard errors and the deviation of the residuals, and
// records each unknown that the readings don't determine.
func (f *fitting) judge(c *units.Checker) ([unknowns]float64, float64) {
	deviations, s, ok := f.deviations()
	sizes := f.at
	sizes[fill] -= float64(f.spec.Ambient)
	for _, i := range f.sought() {
		if !ok || !(deviations[i] <= vague*math.Abs(sizes[i])) {
			c.Fail(unknownNames[i], nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return deviations, s
}

func (f *fitting) result(c *units.Checker) (Fitted, error) {
	deviations, s := f.judge(c)
	spec := f.given
	if f.free[fill] {
		spec.Fill = units.GaugePressure(f.at[fill] - float64(spec.Ambient))
	}
	if f.free[volume] {
		spec.PositiveVolume = units.Volume(f.at[volume] + f.filled)
	}
	if f.free[exponent] {
		spec.Exponent = f.at[exponent]
	}
	if c.OK() {
		if _, err := New(spec); err != nil {
			c.Add("", err)
		}
	}
	if err := c.Err(); err != nil {
		return Fitted{}, err
	}
	return Fitted{
		Spec: spec, FillError: units.GaugePressure(deviations[fill]), VolumeError: units.Volume(deviations[volume]),
		ExponentError: deviations[exponent], ResidualDeviation: units.Force(s), Points: len(f.x),
	}, nil
}
