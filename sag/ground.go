package sag

import (
	"math"

	"example.com/wheelrate/units"
)

// Ground is the slope below a bike and the forces of brakes and drive along it. The zero value is level
// ground on which the wheels roll freely.
//
// The forces on the bike, in a side view that moves with it:
//
//	                        W_s·τ
//	                 c ●───→          t → along the ground, n ↑ from it
//	                   │ W_s·cos γ
//	    w_r·τ          ↓                    w_f·τ
//	 a_r ○──→                           a_f ○──→
//	     │ w_r·cos γ                        │ w_f·cos γ
//	     ↓                                  ↓
//	     ↑ N_r                              ↑ N_f
//	─────┴──→ T_r ──────────────────────────┴──→ T_f ──────
//	     ├──────────────── D ───────────────┤
//
// W_s is the sprung weight and w_f, w_r the unsprung ones, W all of them together, γ the slope. The
// wheels push the bike forward with
//
//	T_f = −FrontBraking·W,  T_r = (Driving − RearBraking)·W
//
// and by Newton's law it gains the speed a/g₀ = (T_f + T_r)/W − sin γ; see [Ground.Acceleration]. In the
// view that moves with it, weight and inertia together pull along the ground with τ = −(T_f + T_r)/W of
// each weight, whatever the slope: a bike that rolls freely down a slope presses its wheels as on level
// ground, by cos γ less, and one that stands or keeps its speed is pulled by τ = −sin γ. Moments about
// the points where the wheels touch the ground give N_f and N_r.
type Ground struct {
	// Slope is the angle of the ground from the horizontal, −60° to 60°, positive where the bike climbs
	// and negative where it descends.
	Slope units.Angle `json:"slope,omitempty"`
	// FrontBraking and RearBraking are the braking forces of the ground on the wheels, and Driving the
	// driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a
	// slope or keep its speed, a bike takes braking less driving of −sin γ.
	FrontBraking float64 `json:"front_braking,omitempty"`
	RearBraking  float64 `json:"rear_braking,omitempty"`
	Driving      float64 `json:"driving,omitempty"`
}

// Acceleration returns the gain of speed along the ground over g₀, less than 0 if speed is lost.
func (g Ground) Acceleration() float64 {
	return g.Driving - g.FrontBraking - g.RearBraking - math.Sin(float64(g.Slope))
}

// Check records what is wrong with the ground.
func (g Ground) Check(c *units.Checker) {
	const steepest, most = 60 * units.Degree, 5
	units.Between(c, "slope", g.Slope, -steepest, steepest)
	units.Between(c, "front_braking", g.FrontBraking, 0, most)
	units.Between(c, "rear_braking", g.RearBraking, 0, most)
	units.Between(c, "driving", g.Driving, 0, most)
}
