package setup

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// DampingSheet is the damper of one end.
type DampingSheet struct {
	Ratio float64       `json:"ratio"` // of critical damping about the sag, over a fast stroke
	Wheel units.Damping `json:"wheel"` // coefficient at the wheel
	Shock units.Damping `json:"shock"` // the same at the shock or along the stanchion, at the sag
}

// addDrop fills in Damping and Landing where the job asks for them.
func (e *EndSheet) addDrop(job *EndJob, end sag.End) error {
	damping, field, value := job.Damping, "damping", any(job.Damping)
	if job.DampingRatio > 0 {
		damping, field, value = sag.DampingFor(job.DampingRatio, e.FastWheelRate, e.Load), "damping_ratio", job.DampingRatio
	}
	if damping > 0 {
		c := units.Checker{Package: "sag"}
		if end.CheckDamping(&c, field, value, damping, e.Load); !c.OK() {
			return c.Err()
		}
		e.Damping = &DampingSheet{Ratio: sag.DampingRatio(damping, e.FastWheelRate, e.Load), Wheel: damping, Shock: sag.DampingAtShock(damping, e.Rest.LeverRatio)}
	}
	if job.DropHeight > 0 {
		l, err := end.Land(e.Load, sag.Drop{Height: job.DropHeight, Damping: damping})
		if err != nil {
			return err
		}
		e.Landing = &l
	}
	return nil
}
