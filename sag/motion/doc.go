// Package motion computes how the masses of a bike move on their springs, dampers and tyres.
//
//	front axle ○───────── c ─────────○ rear axle      the body heaves and pitches about c
//	           ≷          ↕          ≷                spring and damper behind a lever ratio
//	           ○                     ○                unsprung mass
//	           ≷                     ≷                tyre
//	     ──────┴─────────────────────┴──────          ground, as a function of time
//
// [TwoEnds] has the equations of motion of a bike that heaves and pitches on what is at each [Corner].
// A [Solver] follows their solution, or that of any other ordinary differential equation, with steps
// as long as a tolerance permits, states between the steps, and the times at which something happens.
//
// The answers serve to compare settings. They promise no safety: what is not modelled decides whether
// a rider stays up.
//
// Not modelled: the rider as anything but a mass that is fast to the bike, friction, dampers that
// depend on travel, heat or cavitation, tyres that damp, bottom out or touch the ground elsewhere than
// below the axle, fore-and-aft motion, chain and brake, large pitch, flex.
package motion
