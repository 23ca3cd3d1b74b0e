package pivots_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// The bounds in the doc comments of Search and Find, each taken at its very value and refused beyond.
func TestBoundsOfASearch(t *testing.T) {
	nan := math.NaN()
	values := func(n int) func(*pivots.Search) {
		return func(a *pivots.Search) {
			r := a.Targets.LeverRatio
			r.At, r.Value = nil, nil
			for i := range n {
				r.At, r.Value = append(r.At, float64(i)/float64(max(n-1, 1))), append(r.Value, 2.5)
			}
		}
	}
	moves := func(n int) func(*pivots.Search) {
		return func(a *pivots.Search) {
			a.Move = nil
			for i := range n {
				name := fmt.Sprint("mark", i)
				a.Mechanism.Points[name] = mechanism.Point{}
				a.Mechanism.Bodies["RT"] = append(a.Mechanism.Bodies["RT"], name)
				a.Move = append(a.Move, pivots.Movable{Point: name, X: pivots.Bounds{Max: 0.001}})
			}
		}
	}
	shock := func(s pivots.Shock) func(*pivots.Search) {
		return func(a *pivots.Search) { a.Shocks = []pivots.Shock{{Length: 0.217, Stroke: 0.05}, s} }
	}
	region := func(r pivots.Region) func(*pivots.Search) {
		return func(a *pivots.Search) { a.KeepOut = []pivots.Region{r} }
	}
	driven := func(set func(*drivetrain.Spec)) func(*pivots.Search) {
		return func(a *pivots.Search) {
			d := drive(32, 20, nil)
			set(&d)
			a.Drive = &d
		}
	}
	locks := func(a *pivots.Search) { a.Mechanism = spec("x1"); a.Mechanism.Stroke = mm(57.5) }
	both := func(f, g func(*pivots.Search)) func(*pivots.Search) {
		return func(a *pivots.Search) { f(a); g(a) }
	}
	for _, test := range []struct {
		what string
		set  func(*pivots.Search)
		want []string
	}{
		{"as it is", func(*pivots.Search) {}, nil},
		{"12 points", moves(12), nil},
		{"13 points", moves(13), []string{"move"}},
		{"no point", moves(0), []string{"move"}},
		{"no room", func(a *pivots.Search) { a.Move = []pivots.Movable{{Point: "S1"}} }, []string{"move"}},
		{"an unknown point, twice a point", func(a *pivots.Search) { a.Move = append(a.Move, around("XX", 1), a.Move[0]) }, []string{"move[2].point", "move[3].point"}},
		{"1 m of room", func(a *pivots.Search) { a.Move[0].X = pivots.Bounds{Min: -1, Max: 1} }, nil},
		{"more room", func(a *pivots.Search) { a.Move[0].X = pivots.Bounds{Min: -above(1), Max: above(1)} }, []string{"move[0].x.max", "move[0].x.min"}},
		{"room on the wrong sides", func(a *pivots.Search) { a.Move[1].Y = pivots.Bounds{Min: 1e-9, Max: -1e-9} }, []string{"move[1].y.max", "move[1].y.min"}},
		{"room of NaN", func(a *pivots.Search) { a.Move[1].Y.Max = units.Length(nan) }, []string{"move[1].y.max"}},
		{"1 value", values(1), nil},
		{"no value", values(0), []string{"targets.lever_ratio.at"}},
		{"200 values", values(200), nil},
		{"201 values", values(201), []string{"targets.lever_ratio.at"}},
		{"the same share twice", func(a *pivots.Search) { a.Targets.LeverRatio.At[2] = 0.1 }, []string{"targets.lever_ratio.at[2]"}},
		{"shares beyond", func(a *pivots.Search) { a.Targets.LeverRatio.At[0], a.Targets.LeverRatio.At[10] = -1e-9, 1+1e-9 }, []string{"targets.lever_ratio.at[0]", "targets.lever_ratio.at[10]"}},
		{"fewer values", func(a *pivots.Search) { a.Targets.LeverRatio.Value = a.Targets.LeverRatio.Value[1:] }, []string{"targets.lever_ratio.value"}},
		{"values that are none", func(a *pivots.Search) { a.Targets.LeverRatio.Value[3] = nan }, []string{"targets.lever_ratio.value[3]"}},
		{"within less than nothing", func(a *pivots.Search) { a.Targets.LeverRatio.Within = -1e-9 }, []string{"targets.lever_ratio.within"}},
		{"no target", func(a *pivots.Search) { a.Targets = pivots.Targets{} }, []string{"targets"}},
		{"progression at a share", func(a *pivots.Search) {
			a.Targets.Progression = &pivots.Target[float64]{At: []float64{0}, Value: []float64{0.2}}
		}, []string{"targets.progression.at"}},
		{"two progressions", func(a *pivots.Search) { a.Targets.Progression = &pivots.Target[float64]{Value: []float64{0.2, 0.3}} }, []string{"targets.progression.value"}},
		{"chain and brake without a drive", func(a *pivots.Search) {
			a.Targets.AntiRise = &pivots.Target[float64]{At: []float64{0}, Value: []float64{1}}
			a.Targets.ChainGrowth = &pivots.Target[units.Length]{At: []float64{1}, Value: []units.Length{0}}
		}, []string{"drive"}},
		{"a bad drive", driven(func(d *drivetrain.Spec) { d.Ground = "" }), []string{"drive.ground"}},
		{"a bad drive beside a mechanism that locks", both(locks, driven(func(d *drivetrain.Spec) { d.Ground = "" })), []string{"drive.ground", "mechanism.stroke"}},
		{"the shortest shock", shock(pivots.Shock{Length: above(1e-6), Stroke: 1e-6}), nil},
		{"a shorter one", shock(pivots.Shock{Length: 9e-7, Stroke: 9e-7}), []string{"shocks[1].length", "shocks[1].stroke"}},
		{"a shock of 1 km", shock(pivots.Shock{Length: 1e3, Stroke: 0.05}), nil},
		{"a longer one", shock(pivots.Shock{Length: above(1e3), Stroke: 0.05}), []string{"shocks[1].length"}},
		{"a shock as long as its stroke", shock(pivots.Shock{Length: 0.05, Stroke: 0.05}), []string{"shocks[1].stroke"}},
		{"any shock, and one", func(a *pivots.Search) { shock(pivots.Shock{Length: 0.217, Stroke: 0.05})(a); a.AnyShock = true }, []string{"shocks"}},
		{"20 sizes", func(a *pivots.Search) {
			for range 20 {
				a.Shocks = append(a.Shocks, pivots.Shock{Length: 0.217, Stroke: 0.05})
			}
			a.Targets.LeverRatio.At, a.Targets.LeverRatio.Value = a.Targets.LeverRatio.At[:1], a.Targets.LeverRatio.Value[:1]
		}, nil},
		{"21 sizes", func(a *pivots.Search) { a.Shocks = make([]pivots.Shock, 21) }, []string{"shocks", "shocks[0].length", "shocks[0].stroke"}},
		{"20 places, the widest", region(pivots.Region{Line: append(make([]mechanism.Point, 19), mechanism.Point{-100, 100}), Radius: 1e-6}), nil},
		{"21 places", region(pivots.Region{Line: make([]mechanism.Point, 21), Radius: 1e-6}), []string{"keep_out[0].line"}},
		{"no place", region(pivots.Region{Radius: 1e-6}), []string{"keep_out[0].line"}},
		{"too far, too thin", region(pivots.Region{Line: []mechanism.Point{{above(100), 0}}, Radius: 9e-7}), []string{"keep_out[0].line[0][0]", "keep_out[0].radius"}},
		{"too thick", region(pivots.Region{Line: []mechanism.Point{{90, 0}}, Radius: above(10)}), []string{"keep_out[0].radius"}},
		{"21 regions", func(a *pivots.Search) { a.KeepOut = make([]pivots.Region, 21) }, []string{"keep_out", "keep_out[0].line"}},
		{"links and clearance of 1 m", func(a *pivots.Search) { a.LeastLink, a.ShockClearance = 1, 1 }, nil},
		{"links and clearance of more, or of less than nothing", func(a *pivots.Search) { a.LeastLink, a.ShockClearance = above(1), -1e-9 }, []string{"least_link", "shock_clearance"}},
		{"a mechanism that locks", locks, []string{"mechanism.stroke"}},
	} {
		ask := wanted("e2", map[string][2]float64{"S1": {0, 0}, "U2": {0, 0}}, 3)
		test.set(&ask)
		fit, err := pivots.Find(ask)
		got := badFields(err)
		if len(got) > len(test.want) && len(test.want) > 0 {
			got = got[:len(test.want)] // of a list that is too long, its first elements
		}
		if diff := cmp.Diff(test.want, got); diff != "" || (fit == nil) == (err == nil) {
			t.Errorf("%s: refused (-want +got)\n%s%v", test.what, diff, err)
		}
	}
	ask := wanted("a1", map[string][2]float64{"S1": {0, 0}}, 5)
	ask.Mechanism, ask.Mechanism.Stroke = spec("x1"), mm(57.5)
	if _, err := pivots.Find(ask); !errors.Is(err, mechanism.ErrLocks) || !strings.HasPrefix(err.Error(), "mechanism: ") {
		t.Errorf("a mechanism that locks: %v", err)
	}
	// A size that no mechanism within the bounds moves with.
	ask = wanted("e2", map[string][2]float64{"S1": {0, 0}}, 1)
	ask.Shocks = []pivots.Shock{{Length: 0.217, Stroke: 0.216}}
	if _, err := pivots.Find(ask); !errors.Is(err, mechanism.ErrLocks) || badFields(err)[0] != "move" {
		t.Errorf("a stroke that is too long: %v", err)
	}
}
