package answer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

// typical is what may be taken for granted of a field whose value a person does not know. Both values
// are common practice, without a source; other only shows what the field counts for.
type typical struct {
	path  string // END stands for the end
	text  string // as it is entered
	other string // another value, as JSON; empty if no other is tried
	with  string // the same in words
}

var typicals = []typical{
	{"masses.bike_mass", "16 kg", `"20 kg"`, "20 kg"},
	{"masses.rear_share", "60 %", `0.5`, "50 %"},
	{"masses.unsprung_END", "2.5 kg", `"4 kg"`, "4 kg"},
	{"ambient", "101.3 kPa(a)", `"79.5 kPa(a)"`, "79.5 kPa(a), as at 2000 m,"},
	{"front.curve.fork.head_angle", "64 deg", `"68 deg"`, "68°"},
	{"rear.curve.constant", "2.6", `3`, "3"},
	{"front.sag", "20 %", `0.25`, "25 %"},
	{"rear.sag", "30 %", `0.25`, "25 %"},
	{"END.gauge.outside_diameter", "10 mm", `"14 mm"`, "14 mm"},
	{"END.gauge.negative_chamber", "", `"none"`, "no negative chamber"},
	{"front.coil.shelf", strings.Join([]string{"6 N/mm", "7 N/mm", "8 N/mm", "9 N/mm", "10 N/mm", "11 N/mm", "12 N/mm"}, "\n"), "", ""},
	{"rear.coil.shelf", strings.Join([]string{"300 lbf/in", "350 lbf/in", "400 lbf/in", "450 lbf/in", "500 lbf/in", "550 lbf/in", "600 lbf/in"}, "\n"), "", ""},
}

// typicalOf returns what may be taken for a path of the job, if anything.
func typicalOf(path string) *typical {
	i := slices.IndexFunc(typicals, func(t typical) bool {
		return slices.ContainsFunc([]string{"front", "rear"}, func(end string) bool { return strings.ReplaceAll(t.path, "END", end) == path })
	})
	if i < 0 {
		return nil
	}
	return &typicals[i]
}

// Typical returns what may be taken for granted for a path of a job such as masses.bike_mass, as it is
// entered; "" where nothing may.
func Typical(path string) string {
	if t := typicalOf(path); t != nil {
		return t.text
	}
	return ""
}

// Taken is a field of the job for which a value was taken for granted, and what another value changes.
type Taken struct {
	Field   string        `json:"field"`
	Effects []TakenEffect `json:"effects"` // of each end at which it changes the answer
	Tried   bool          `json:"tried"`   // another value was tried
}

// TakenEffect is what another value changes at one end.
type TakenEffect struct {
	End  string `json:"end"`
	Text string `json:"text"` // such as "with 20 kg the exact fill is 0.12 bar (1.7 psi) higher"
}

// WorkTaken returns what another value than the one taken changes, for each of these paths of a job.
// It works the job out once more for each of them. Of a job with faults it returns the paths alone.
func WorkTaken(job []byte, paths []string) []Taken {
	list := make([]Taken, len(paths))
	was := sheetOf(job)
	for i, path := range paths {
		list[i] = Taken{Field: path, Effects: []TakenEffect{}}
		if t := typicalOf(path); t != nil && t.other != "" && was != nil {
			if other := sheetOf(with(job, path, t.other)); other != nil {
				list[i].Tried = true
				list[i].Effects = append(list[i].Effects, changes(was, other, t.with)...)
			}
		}
	}
	return list
}

// sheetOf returns the sheet of a job, nil if it has faults.
func sheetOf(job []byte) *setup.Sheet {
	read, err := setup.ReadJob(bytes.NewReader(job))
	if err != nil {
		return nil
	}
	s, err := setup.NewSheet(read)
	if err != nil {
		return nil
	}
	return s
}

// with returns a job with another value at a path, whose parts the job has.
func with(job []byte, path, value string) []byte {
	var whole map[string]any
	if json.Unmarshal(job, &whole) != nil {
		return nil
	}
	names := strings.Split(path, ".")
	at := whole
	for _, name := range names[:len(names)-1] {
		inner, ok := at[name].(map[string]any)
		if !ok {
			return nil
		}
		at = inner
	}
	at[names[len(names)-1]] = json.RawMessage(value)
	text, _ := json.Marshal(whole) // what was read can be written
	return text
}

// changes returns what differs between the answers of two sheets, end by end.
func changes(was, now *setup.Sheet, with string) (list []TakenEffect) {
	for _, pair := range [][2]*setup.EndSheet{{was.Front, now.Front}, {was.Rear, now.Rear}} {
		a, b := pair[0], pair[1]
		if a == nil || b == nil {
			continue
		}
		f := setup.Effect{With: with}
		switch {
		case a.Coil != nil && b.Coil != nil:
			f.Rate = b.Coil.IdealRate - a.Coil.IdealRate
		case a.Fill() != nil && b.Fill() != nil:
			f.Fill = b.Fill().FillWanted - a.Fill().FillWanted
		case a.Gauge != nil && b.Gauge != nil:
			f.Fill = b.Gauge.Fill - a.Gauge.Fill
		}
		if small := (setup.Effect{With: with}); f == small || max(f.Fill, -f.Fill) < 50 && max(f.Rate, -f.Rate) < 5 {
			continue // less than 50 Pa and 5 N/m: not seen in the digits shown
		}
		end := sag.Front
		if a == was.Rear {
			end = sag.Rear
		}
		list = append(list, TakenEffect{string(end), typeset(fmt.Sprintf("with %s %s", with, f))})
	}
	return list
}

// takenAt returns what the sheet says was taken for granted that counts at an end, in the order of the sheet.
func takenAt(s *setup.Sheet, axle sag.Axle) (list []Taken) {
	for _, o := range s.LeftOut {
		for _, f := range o.Effects {
			if f.End == axle && o.Field != "" && f.String() != (setup.Effect{}).String() {
				list = append(list, Taken{o.Field, []TakenEffect{{string(axle), typeset(fmt.Sprintf("with %s %s", strings.TrimSuffix(f.With, ","), f))}}, true})
			}
		}
	}
	return list
}

// next says what to do next at an end of a sheet, always one thing.
func next(s *setup.Sheet, e setup.SheetEnd) string {
	ring := e.Measure[0]
	stands := ring.Expected.Both().String()
	if ring.Low != ring.High {
		stands = ring.Low.Both().Through(ring.High.Both()).String()
	}
	const sit = ", sit down slowly, read the ring"
	switch g := e.Gauge; {
	case e.Spring() != nil:
		return "Fit it" + sit + ": " + stands + " is right."
	case g != nil && g.Fill == 0:
		return "No fill is so low that it sags as wanted: choose less sag, or read gauge and ring again."
	case g != nil && g.AtMarking && slices.ContainsFunc(s.LeftOut, func(o setup.Omission) bool { return o.Field == string(e.Axle)+".gauge.max_fill" }):
		return "Read the highest fill marked on the part and enter it below: without it no fill above those read is offered."
	case g != nil && g.AtMarking:
		return "Set it, cycle, set it again: it is the most that the marking permits, and sags more than wanted. Read the ring and write it down here."
	case g != nil && !g.Answer:
		return "Set it, cycle, set it again" + sit + " and write it down here: " + ring.Expected.Both().String() + " is wanted."
	}
	return "Set it, cycle, set it again" + sit + ": " + stands + " is right."
}
