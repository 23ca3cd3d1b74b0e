package setup

import (
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Template is a job without its rider, checked and prepared once for the sheets of many riders. It is
// immutable, and safe for use by several goroutines at the same time.
type Template struct {
	units.Opaque[Template]
	job      Job
	ends     []endJob // those of the job, with their options
	cautions []fit.Caution
}

// NewTemplate returns the template of a job. The rider's mass is ignored; readings of scales under
// the wheels, which include the rider, are refused. The error names every bad field, as that of
// [NewSheet] does. What the job points to, such as its shelf, must not be changed while the template
// is in use.
func NewTemplate(job Job) (*Template, error) {
	c := units.Checker{Package: "sag"}
	job = job.Filled()
	masses := c.Child("masses")
	job.Masses.CheckBike(&masses)
	b := job.prepare(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// Sheet returns the sheet of a rider with a mass in kg, dressed and packed to ride: that of [NewSheet]
// without Riders, Pump, warnings of implausible values and what was taken for granted, since these take
// the answers for other riders or values. The mass must be finite and more than 0, and leave every
// spring a load to carry.
func (b *Template) Sheet(rider units.Mass) (*Sheet, error) {
	masses := b.job.Masses
	masses.RiderMass = rider
	loads, err := masses.Loads()
	if err != nil {
		return nil, units.At("masses", err)
	}
	return b.answer(masses, loads)
}
