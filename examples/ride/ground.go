package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/units"
)

// ground is what is ridden over: exactly one of step, bump, drop and points.
type ground struct {
	Speed    units.Speed `json:"speed,omitempty"` // of the ride; not for a drop
	Duration units.Time  `json:"duration"`        // of what is followed, from 0.01 to 20 s
	Step     *step       `json:"step,omitempty"`
	Bump     *bump       `json:"bump,omitempty"`
	Drop     *drop       `json:"drop,omitempty"`
	Points   []point     `json:"points,omitempty"` // of a profile, joined by straight lines, level beyond
}

// step is a step of the ground, below 0 down.
type step struct {
	Height units.Length `json:"height"` // from −2 to 2 m
	At     units.Length `json:"at"`     // ahead of the front axle when the ride begins, more than 0
}

// bump is half a sine.
type bump struct {
	Height units.Length `json:"height"` // from −2 to 2 m
	Length units.Length `json:"length"` // from 1 mm to 1 km
	At     units.Length `json:"at"`     // where it begins, as of a step
}

// drop is a fall onto both wheels at once, level.
type drop struct {
	Height units.Length `json:"height"` // from 0 to 10 m
}

// point is one of a profile.
type point struct {
	Along  units.Length `json:"along"`  // from the front axle when the ride begins, 0 or more
	Height units.Length `json:"height"` // from −10 to 10 m above it
}

// mostPoints is how many points a profile may have.
const mostPoints = 10_000

// check records what is wrong with the ground. Rigid says that a wheel has no tyre.
func (g ground) check(c *units.Checker, rigid bool) {
	units.Between(c, "duration", g.Duration, 0.01, 20)
	kinds := 0
	for _, given := range []bool{g.Step != nil, g.Bump != nil, g.Drop != nil, g.Points != nil} {
		if given {
			kinds++
		}
	}
	if kinds != 1 {
		c.Fail("", nil, "exactly one of step, bump, drop, points", units.ErrConflict)
		return
	}
	if g.Drop == nil {
		units.Between(c, "speed", g.Speed, 0.1, 100)
	} else if g.Speed != 0 {
		c.Fail("speed", g.Speed, "none: a drop has no speed along the ground", units.ErrConflict)
	}
	const high = 2 * units.Metre
	switch {
	case g.Step != nil:
		at := c.Child("step")
		units.Between(&at, "height", g.Step.Height, -high, high)
		units.Between(&at, "at", g.Step.At, 1e-6, 1e4)
	case g.Bump != nil:
		at := c.Child("bump")
		units.Between(&at, "height", g.Bump.Height, -high, high)
		units.Between(&at, "length", g.Bump.Length, units.Millimetre, 1e3)
		units.Between(&at, "at", g.Bump.At, 1e-6, 1e4)
	case g.Drop != nil:
		at := c.Child("drop")
		units.Between(&at, "height", g.Drop.Height, 0, 10)
	default:
		checkPoints(c, g.Points)
	}
	if rigid && (g.Drop != nil || g.Step != nil) {
		c.Fail("", nil, "a bump or points: a drop or a step needs the rate of both tyres, front.tyre and rear.tyre", units.ErrConflict)
	}
}

// checkPoints records what is wrong with the points of a profile.
func checkPoints(c *units.Checker, points []point) {
	if n := len(points); n < 2 || n > mostPoints {
		c.Fail("points", n, units.From(2, mostPoints).Count("points"), nil)
		return
	}
	for i, p := range points {
		at := c.Element("points", i)
		ok := units.Between(&at, "along", p.Along, 0, 1e4)
		if ok && i > 0 && !(p.Along-points[i-1].Along >= 1e-6) {
			at.Fail("along", p.Along, units.MoreThan(points[i-1].Along).With("where the point before is"), units.ErrConflict)
		}
		units.Between(&at, "height", p.Height, -10, 10)
	}
}

// piece is a part of the ground under a wheel, from a time on: h + r·τ + a·sin ωτ, with τ the time
// since then.
type piece struct{ from, height, rise, size, omega float64 }

// pieces returns the ground under the front wheel. The first piece begins before all time.
func (g ground) pieces() []piece {
	flat := piece{from: math.Inf(-1)}
	v := float64(g.Speed)
	switch {
	case g.Step != nil:
		return []piece{flat, {from: float64(g.Step.At) / v, height: float64(g.Step.Height)}}
	case g.Bump != nil:
		from, long := float64(g.Bump.At)/v, float64(g.Bump.Length)/v
		return []piece{flat, {from: from, size: float64(g.Bump.Height), omega: math.Pi / long}, {from: from + long}}
	case g.Drop != nil:
		return []piece{flat}
	}
	flat.height = float64(g.Points[0].Height)
	list := []piece{flat}
	for i, p := range g.Points {
		one := piece{from: float64(p.Along) / v, height: float64(p.Height)}
		if i+1 < len(g.Points) {
			next := g.Points[i+1]
			one.rise = float64(next.Height-p.Height) / float64(next.Along-p.Along) * v
		}
		list = append(list, one)
	}
	return list
}

// later returns pieces that begin later.
func later(list []piece, by float64) []piece {
	list = slices.Clone(list)
	for i := range list {
		list[i].from += by
	}
	return list
}

// under returns the ground of pieces. At the very time at which one begins the one before holds.
func under(list []piece) motion.Ground {
	return func(t float64) (units.Length, units.Speed) {
		i, _ := slices.BinarySearchFunc(list, t, func(p piece, t float64) int {
			if p.from < t {
				return -1
			}
			return 1
		})
		p := &list[max(i-1, 0)]
		if i <= 1 && p.omega == 0 {
			return units.Length(p.height), units.Speed(p.rise)
		}
		tau := t - p.from
		sin, cos := 0.0, 1.0
		if p.size != 0 {
			sin, cos = math.Sincos(p.omega * tau)
		}
		return units.Length(p.height + p.rise*tau + p.size*sin), units.Speed(p.rise + p.size*p.omega*cos)
	}
}

// readProfile reads the points of a profile from a CSV file.
func readProfile(path string) ([]point, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, program.Where(path, err)
	}
	defer f.Close()
	return parseProfile(io.LimitReader(f, program.Limit))
}

// parseProfile reads a line that names two columns with their units, and a line for each point.
func parseProfile(r io.Reader) ([]point, error) {
	refused := func(line int, value, want string) error {
		return &units.FieldError{Package: "ride", Field: fmt.Sprintf("profile line %d", line), Value: value, Want: units.Want{Text: want}, Class: units.ErrSyntax}
	}
	table := csv.NewReader(r)
	table.FieldsPerRecord, table.Comment, table.TrimLeadingSpace = 2, '#', true
	var scale [2]units.Length
	var points []point
	line := 1
	for {
		cells, err := table.Read()
		if len(cells) > 0 {
			line, _ = table.FieldPos(0)
		}
		switch {
		case errors.Is(err, io.EOF):
			if len(points) == 0 {
				return nil, refused(line, "", "a line of names with units, and points")
			}
			return points, nil
		case err != nil:
			return nil, fmt.Errorf("ride: profile: %w", err)
		case scale[0] == 0:
			for i, name := range cells {
				_, unit, _ := strings.Cut(name, "(")
				unit, _, _ = strings.Cut(unit, ")")
				if scale[i], err = units.Parse[units.Length]("1 " + unit); err != nil {
					return nil, refused(line, name, `a name with a unit of length, such as "along (m)"`)
				}
			}
			continue
		case len(points) == mostPoints:
			return nil, refused(line, "", fmt.Sprintf("at most %d points", mostPoints))
		}
		var values [2]units.Length
		for i, cell := range cells {
			v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
			if err != nil || !(math.Abs(v) <= 1e9) {
				return nil, refused(line, cell, "a number")
			}
			values[i] = units.Length(v) * scale[i]
		}
		points = append(points, point{values[0], values[1]})
	}
}
