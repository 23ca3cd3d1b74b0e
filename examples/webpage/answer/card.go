package answer

import (
	"bytes"

	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Card is the card for the workshop of a job. Either Faults or HTML is there.
type Card struct {
	Faults []*units.FieldError `json:"faults,omitempty"`
	HTML   string              `json:"html,omitempty"` // of [card.HTML], for a page with the style [card.CSS]
}

// WorkCard reads a job and returns its card.
func WorkCard(job []byte) *Card {
	read, err := setup.ReadJob(bytes.NewReader(job))
	if err != nil {
		return &Card{Faults: units.Faults(err)}
	}
	sheet, err := setup.NewSheet(read)
	if err != nil {
		return &Card{Faults: units.Faults(err)}
	}
	return &Card{HTML: card.HTML(sheet)}
}
