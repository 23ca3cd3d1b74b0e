// Package answer turns the text of a job into everything that the page shows:
// the sheet as data, its numbers as text in both systems of units, the curves
// as points and as pictures; or what is wrong with the job, field by field.
//
// It knows nothing of browsers, so that it is tested like any other package.
package answer

import (
	"bytes"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Options say how the answer is to be drawn.
type Options struct {
	// Width of a picture in pixels; kept within 240 and 1000. At 0 the curves are left out, which take
	// most of the work: where nobody looks at them.
	Width int
	// Customary draws the pictures and the table of points in inches and
	// pounds-force instead of millimetres and newtons.
	Customary bool
}

// Answer is what the page shows. Either Faults or everything else is there.
type Answer struct {
	// Faults are all that is wrong with the job.
	Faults []*units.FieldError `json:"faults,omitempty"`
	// Unreadable tells that the text is no job, or has values in it that
	// could not be read, so that not even the known part of it is sure.
	Unreadable bool `json:"unreadable,omitempty"`

	Sheet *setup.Sheet `json:"-"`     // the library's, most of which no page needs
	Plain Plain        `json:"sheet"` // what is shown of it as it is
	// Said is the answer in a sentence or two, to be read out.
	Said  string `json:"said,omitempty"`
	Loads []Row  `json:"loads,omitempty"`
	Both  []Row  `json:"both,omitempty"`
	// Standing is the sag in every stance that the sheet knows.
	Standing *Table `json:"standing,omitempty"`
	// Riders is what riders of other masses would set.
	Riders *Table `json:"riders,omitempty"`
	// Sure is how well the answers are known, and Says what to know about that,
	// where the job states how well its inputs are.
	Sure  *Table   `json:"sure,omitempty"`
	Says  []string `json:"says,omitempty"`
	Front *End     `json:"front,omitempty"`
	Rear  *End     `json:"rear,omitempty"`
	// Further is what the sheet has beside all this.
	Further []Section `json:"further,omitempty"`
}

// Plain is what is shown of a sheet as it is.
type Plain struct {
	Note     string           `json:"note,omitempty"`
	LeftOut  []setup.Omission `json:"left_out"`
	Warnings []units.Warning  `json:"warnings"`
	Cautions []fit.Caution    `json:"cautions"`
}

// End is one end of the bike as the page shows it.
type End struct {
	Kind    string   `json:"kind"`            // "air spring" or "coil spring"
	Brief   string   `json:"brief"`           // what to set, in the fewest words
	Set     string   `json:"set"`             // the same in a sentence
	Step    bool     `json:"step"`            // its gauge and ring are to be read again then
	Next    string   `json:"next"`            // what to do next, always one thing
	Taken   []Taken  `json:"taken,omitempty"` // for granted, where that counts at this end
	Bar     *Bar     `json:"bar,omitempty"`   // where the end rests, if that can be told
	Fit     []Row    `json:"fit"`
	Choices *Table   `json:"choices,omitempty"` // the shelf, or the counts of spacers
	Others  []string `json:"others,omitempty"`  // about these, in sentences
	Expect  []Row    `json:"expect"`
	Full    []Row    `json:"full"`
	Measure []Row    `json:"measure"`
	// The curves, some of their points for those who don't see them, and their pictures, where they are
	// wanted. A spring that its readings don't tell has none.
	Curves Curves    `json:"-"`
	Points *Table    `json:"points,omitempty"`
	Drawn  []Picture `json:"drawn,omitempty"`
}

// Bar is the sag on a scale of the wheel's travel, each a fraction of it.
type Bar struct {
	Sag    float64 `json:"sag"`
	Low    float64 `json:"low"` // with High the band that friction allows
	High   float64 `json:"high"`
	Target float64 `json:"target"`
}

// Row is one line of a sheet: a label, the value in both systems of units, and
// what belongs to both. Key tells it from the others of its list.
type Row struct {
	Key       string `json:"key"`
	Label     string `json:"label"`
	Part      bool   `json:"part,omitempty"` // of the row before it
	Metric    string `json:"metric"`
	Customary string `json:"customary,omitempty"`
	Note      string `json:"note,omitempty"`
}

// Table is a table of text; the first column names the row.
type Table struct {
	Caption string     `json:"caption"`
	Head    []string   `json:"head"`
	Rows    [][]string `json:"rows"`
}

// Picture is a drawing with the words below it.
type Picture struct {
	Title   string `json:"title"`
	SVG     string `json:"svg,omitempty"` // left out where words say it all
	Caption string `json:"caption"`
}

// Work reads a job and works it out.
func Work(job []byte, o Options) *Answer {
	read, err := setup.ReadJob(bytes.NewReader(job))
	if err != nil {
		return &Answer{Unreadable: true, Faults: units.Faults(err)}
	}
	sheet, err := setup.NewSheet(read)
	if err != nil {
		return &Answer{Faults: units.Faults(err)}
	}
	a := newAnswer(sheet, o)
	a.Front.waves(read.Front)
	a.Rear.waves(read.Rear)
	return a
}
