package linkage_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// The mechanisms of the tests. All are invented; none is a bike's.
//
//	a1 single pivot            b1 single pivot, link and rocker
//	a2 high single pivot       c1, c2 four-bar, axle on the coupler
//	c3 nearly parallel links, the carrier stops turning inside the stroke
//	d1 two short links         d2 the same, shock on the rear triangle
//	e1 c with floating shock   e2 d with floating shock
//	f1 six-bar drive           f2 six-bar guidance
//	x1 as f1, but its wheel stops inside the stroke
//
// Coordinates are in mm.
var invented = map[string]mechanism{
	"a1": {
		points: map[string][2]float64{"P": {12, 72}, "AX": {-438, 28}, "S1": {-92, 238}, "S2": {112, 292}},
		bodies: map[string]string{"frame": "P S2", "SW": "P AX S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 57.5,
	},
	"a2": {
		points: map[string][2]float64{"P": {-22, 186}, "AX": {-436, 22}, "S1": {-70, 338}, "S2": {128, 282}},
		bodies: map[string]string{"frame": "P S2", "SW": "P AX S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 62.5,
	},
	"b1": {
		points: map[string][2]float64{"P": {14, 58}, "AX": {-436, 27}, "L": {-383, 86}, "T": {-121, 340}, "R": {-28, 320}, "S1": {13, 357}, "S2": {11, 118}},
		bodies: map[string]string{"frame": "P R S2", "SW": "P AX L", "LK": "L T", "RK": "T R S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 57.5,
	},
	"c1": {
		points: map[string][2]float64{"M": {14, 53}, "H": {-390, 32}, "AX": {-437, 30}, "T": {-144, 387}, "R": {-20, 302}, "S1": {52, 330}, "S2": {36, 113}},
		bodies: map[string]string{"frame": "M R S2", "CS": "M H", "SS": "H AX T", "RK": "T R S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 62.5,
	},
	"c2": {
		points: map[string][2]float64{"M": {4, 45}, "H": {-398, 16}, "AX": {-433, 32}, "T": {-167, 382}, "R": {-31, 273}, "S1": {-72, 349}, "S2": {121, 386}},
		bodies: map[string]string{"frame": "M R S2", "CS": "M H", "SS": "H AX T", "RK": "T R S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 55,
	},
	"c3": {
		points: map[string][2]float64{"M": {4, 45}, "H": {-398, 16}, "AX": {-433, 32}, "T": {-139, 272}, "R": {-30, 306}, "S1": {15, 322}, "S2": {36, 112}},
		bodies: map[string]string{"frame": "M R S2", "CS": "M H", "SS": "H AX T", "RK": "T R S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 40,
	},
	"d1": {
		points: map[string][2]float64{"M1": {-7, 93}, "M2": {-86, 55}, "U1": {-21, 284}, "U2": {-149, 377}, "AX": {-435, 26}, "S1": {68, 306}, "S2": {33, 83}},
		bodies: map[string]string{"frame": "M1 U1 S2", "LL": "M1 M2", "RT": "M2 U2 AX", "UL": "U1 U2 S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 60,
	},
	"d2": {
		points: map[string][2]float64{"M1": {-2, 75}, "M2": {-64, 42}, "U1": {-26, 228}, "U2": {-115, 328}, "AX": {-437, 24}, "S1": {-42, 275}, "S2": {159, 348}},
		bodies: map[string]string{"frame": "M1 U1 S2", "LL": "M1 M2", "RT": "M2 U2 AX S1", "UL": "U1 U2"},
		shock:  [2]string{"S1", "S2"}, stroke: 52.5,
	},
	"e1": {
		points: map[string][2]float64{"M": {2, 52}, "H": {-392, -4}, "AX": {-437, 30}, "T": {-172, 368}, "R": {-36, 315}, "S1": {42, 370}, "S2": {22, 150}},
		bodies: map[string]string{"frame": "M R", "CS": "M H S2", "SS": "H AX T", "RK": "T R S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 60,
	},
	"e2": {
		points: map[string][2]float64{"M1": {2, 53}, "M2": {-49, 15}, "U1": {-42, 284}, "U2": {-153, 353}, "AX": {-435, 26}, "S1": {70, 299}, "S2": {33, 92}},
		bodies: map[string]string{"frame": "M1 U1", "LL": "M1 M2 S2", "RT": "M2 U2 AX", "UL": "U1 U2 S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 55,
	},
	"f1": {
		points: map[string][2]float64{"M": {6, 44}, "H": {-396, 14}, "AX": {-436, 30}, "T": {-97, 360}, "R": {-16, 294}, "K": {-177, 242}, "Q": {-105, 276}, "R2": {-32, 169}, "S1": {-10, 259}, "S2": {175, 162}},
		bodies: map[string]string{"frame": "M R R2 S2", "CS": "M H", "SS": "H AX T K", "RK": "T R", "LK": "K Q", "RK2": "Q R2 S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 55,
	},
	"f2": {
		points: map[string][2]float64{"M0": {20, 75}, "M": {-18, 53}, "H": {-396, 16}, "AX": {-436, 28}, "T": {-127, 357}, "R": {-32, 323}, "K": {-32, 28}, "Q": {-52, 332}, "S1": {14, 358}, "S2": {42, 112}},
		bodies: map[string]string{"frame": "M0 R S2", "LK": "M0 M", "CS": "M H K", "SS": "H AX T", "TL": "K Q", "RK": "T R Q S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 57.5,
	},
	"x1": {
		points: map[string][2]float64{"M": {6, 44}, "H": {-396, 14}, "AX": {-436, 30}, "T": {-96, 352}, "R": {-30, 338}, "K": {-143, 304}, "Q": {-109, 211}, "R2": {-6, 178}, "S1": {-8, 228}, "S2": {154, 140}},
		bodies: map[string]string{"frame": "M R R2 S2", "CS": "M H", "SS": "H AX T K", "RK": "T R", "LK": "K Q", "RK2": "Q R2 S1"},
		shock:  [2]string{"S1", "S2"}, stroke: 55,
	},
}

// mechanism is a linkage.Mechanism in mm, its axle AX, the points of a body as
// words.
type mechanism struct {
	points map[string][2]float64
	bodies map[string]string
	shock  [2]string
	stroke float64
}

// spec returns a mechanism of the tests by its name.
func spec(name string) linkage.Mechanism {
	m, ok := invented[name]
	if !ok {
		panic("no mechanism " + name)
	}
	s := linkage.Mechanism{
		Points: map[string]linkage.Point{}, Bodies: map[string][]string{},
		Axle: "AX", Shock: m.shock, Stroke: units.Length(m.stroke) * units.Millimetre,
	}
	for name, p := range m.points {
		s.Points[name] = at(p[0], p[1])
	}
	for name, points := range m.bodies {
		s.Bodies[name] = strings.Fields(points)
	}
	return s
}

// at returns a point given in mm.
func at(x, y float64) linkage.Point {
	return linkage.Point{units.Length(x) * units.Millimetre, units.Length(y) * units.Millimetre}
}

// movable returns the names of those that move over their whole stroke, in order.
func movable() []string {
	var names []string
	for name := range invented {
		if name != "x1" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// solved returns the motion of a mechanism of the tests.
func solved(name string) *linkage.Kinematics {
	k, err := linkage.NewMechanism(spec(name))
	if err != nil {
		panic(fmt.Sprintf("%s: %v", name, err))
	}
	return k
}
