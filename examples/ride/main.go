// Ride lets up to six settings of one bike ride over the same ground, and shows
// side by side what travel, forces and acceleration do over time and over
// frequency.
//
//	go -C examples run ./ride                          the built-in demonstration
//	go -C examples run ./ride -example > my-ride.json  a job to change
//	go -C examples run ./ride -out /tmp/pictures -job "$PWD/my-ride.json"
//	go -C examples run ./ride -profile "$PWD/track.csv" -html > ride.html
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
	"os"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/units"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: ride [-job FILE] [-profile FILE] [-json | -html] [-out DIR] [-example]

Lets up to six settings of one bike ride over the same ground, and prints side by
side how far the wheels move, what the ground pushes, how hard the rider is
shaken, and how the bike answers over frequency. With no job it runs a
demonstration with invented numbers. It compares settings. It promises no safety.

  -job FILE      read the job from FILE; "-" reads standard input
  -profile FILE  ride over the profile in FILE, in place of the job's ground
  -json          print the answer as JSON
  -html          print it as one page of HTML with pictures
  -out DIR       also draw it: SVG and PNG files in DIR, which is created
  -example       print the demonstration's job, to copy and change

A profile is CSV: a first line that names two columns with their units, such as
"along (m),height (mm)", then a line for each point, in order along the ground.

A spring is one of linear, dual_rate, series, parallel, groups, linear_pitch, coil
and air. A damper is a damping, or compression and rebound as they were measured.

The exit status is 0 for an answer, 2 for a job or a call with a fault, 1 where
something can't be written.
`

// job is what is ridden, by whom, and over what.
type job struct {
	Note       string `json:"note,omitempty"`
	sag.Masses        // with the share of the level bike, unsprung masses and the wheelbase
	// Gyration is the radius of gyration of what the springs carry in pitch, 0 if unknown: then the ends
	// are taken not to feel each other.
	Gyration units.Length `json:"gyration,omitempty"`
	Front    side         `json:"front"`
	Rear     side         `json:"rear"`
	Ground   ground       `json:"ground"`
	Settings []setting    `json:"settings"` // 1 to 6
}

// side is what all settings have in common at one end.
type side struct {
	Curve linkage.Spec    `json:"curve"`
	Tyre  units.Stiffness `json:"tyre,omitempty"`  // vertical rate, 0 for a rigid wheel that stays on the ground
	Stops units.Stiffness `json:"stops,omitempty"` // rate of the stops at the wheel, 0 for usualStops
}

// usualStops is taken where a rate of the stops is not stated.
const usualStops = 100 * units.NewtonPerMillimetre

// setting is what is fitted and set.
type setting struct {
	Name  string `json:"name"`
	Front fitted `json:"front"`
	Rear  fitted `json:"rear"`
}

// fitted is a spring and a damper at one end.
type fitted struct {
	Spring law.Spec   `json:"spring"` // air with the exponent of a fast stroke
	Damper damperSpec `json:"damper"` // at the spring
}

func main() { os.Exit(newRide().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newRide() program.Main {
	var dir, profile string
	var asHTML bool
	return program.Main{
		Name: "ride", Usage: usage, Demo: demo, Job: func() any { return new(job) },
		Flags: func(f *flag.FlagSet) {
			f.StringVar(&dir, "out", "", "")
			f.StringVar(&profile, "profile", "", "")
			f.BoolVar(&asHTML, "html", false, "")
		},
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			if asJSON && asHTML {
				return errors.New("either -json or -html")
			}
			var j job
			var a *answer
			err := program.Work("ride", text, &j, func() error {
				if profile != "" {
					points, err := readProfile(profile)
					if err != nil {
						return err
					}
					j.Ground.Step, j.Ground.Bump, j.Ground.Drop, j.Ground.Points = nil, nil, nil, points
				}
				var err error
				a, err = solve(j)
				return err
			})
			if err != nil {
				return err
			}
			switch {
			case asJSON:
				err = program.Encode(out, a)
			case asHTML:
				err = writeHTML(out, j, a)
			default:
				print(out, j, a)
			}
			if err != nil || dir == "" {
				return err
			}
			return picture.Draw(out, dir, asJSON || asHTML, pictures(j, a)...)
		},
	}
}
