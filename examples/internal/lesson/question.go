package lesson

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// Question asks for one of several choices or for a number. The answer is worked
// out at the positions of the lesson's sliders.
type Question struct {
	Ask     string
	Choices []string // of a number there are none
	Unit    string   // of a number
	right   int      // among the choices
	number  float64
	within  float64 // how far an answer may be from the number
	why     string
}

// choose adds a question with choices. Explain adds why the right one is right.
func (c *Content) choose(ask string, choices []string, right int) {
	c.Questions = append(c.Questions, Question{Ask: ask, Choices: choices, right: right})
}

// estimate adds a question for a number.
func (c *Content) estimate(ask string, number, within float64, unit string) {
	c.Questions = append(c.Questions, Question{Ask: ask, Unit: unit, number: number, within: within})
}

// explain says why the answer of the last question is what it is.
func (c *Content) explain(format string, args ...any) {
	c.Questions[len(c.Questions)-1].why = fmt.Sprintf(format, numbers(args)...)
}

// Answer returns the right choice or the number, and why it is right.
func (q Question) Answer() string {
	if q.Choices != nil {
		return q.Choices[q.right] + ". " + q.why
	}
	return q.why
}

// Verdict says whether an answer is right.
type Verdict struct {
	Right bool   `json:"right"`
	Says  string `json:"says"`
}

// Judge returns what to say to an answer: the index of a choice, counted from 0,
// or a number, with a point or a comma and perhaps its unit.
func (q Question) Judge(answer string) Verdict {
	answer = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(answer), q.Unit))
	v, err := strconv.ParseFloat(strings.Replace(strings.ReplaceAll(answer, "−", "-"), ",", ".", 1), 64)
	switch {
	case q.Choices != nil && answer == strconv.Itoa(q.right):
		return Verdict{true, "Right. " + q.why}
	case q.Choices != nil:
		return Verdict{Says: "No. Move the sliders, look at the curve, and choose again."}
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return Verdict{Says: "Enter a number."}
	case math.Abs(v-q.number) <= q.within:
		return Verdict{true, "Right. " + q.why}
	}
	return Verdict{Says: fmt.Sprintf("Not %s: the answer is %s.", units.Clip(answer), either(v > q.number, "smaller", "larger"))}
}
