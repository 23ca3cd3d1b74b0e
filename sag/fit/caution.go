package fit

// Caution is a warning of a danger in the work that an answer asks for. The code is stable, so that
// a program can show the caution in its own language. It should show them all.
type Caution struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// Cautions returns the cautions for work on ends with an air spring, a coil spring, or both. They
// are common practice in workshops, with no source.
func Cautions(air, coil bool) []Caution {
	list := []Caution{{"marking_wins", "The marking on the part and the maker's manual win over every number here."}}
	if air {
		list = append(list, Caution{"air_pressure", "Air under pressure: let all of it out before opening a chamber, never fill above the marking on the part, and use a pump made for it with a gauge you trust. Wear eye protection."})
	}
	if coil {
		list = append(list, Caution{"compressed_spring", "A compressed spring stores enough energy to injure. Back the collar off fully before removing a spring, use a spring compressor made for it, and keep face and fingers out of its line."})
	}
	return append(list,
		Caution{"crown_and_axle", "After work on the fork, tighten crown, stem and axle to the maker's torque and check them before the bike is ridden: a loose crown can cost the rider the steering."},
		Caution{"measure_first", "These are predictions. Measure sag on the bike before it is ridden, then ride gently at first and look at how much travel was used."},
		Caution{"local_rules", "Where local rules or a licence govern this work, they come first; if in doubt leave it to someone qualified."})
}
