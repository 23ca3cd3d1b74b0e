package lesson

import (
	"fmt"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Request is what a page asks of a lesson.
type Request struct {
	Lesson  string   `json:"lesson"` // its name
	Values  Values   `json:"values"`
	Answers []string `json:"answers,omitempty"` // to its questions; "" before there is one, and Show to be told it
}

// Show stands for an answer in a request that gives up.
const Show = "?"

// Reply is a lesson as a page shows it: texts as HTML, pictures as SVG. Either Fault or
// everything else is there.
type Reply struct {
	Fault     string            `json:"fault,omitempty"`
	Sliders   map[string]string `json:"sliders,omitempty"` // their positions with units
	Text      string            `json:"text,omitempty"`
	Now       string            `json:"now,omitempty"`
	Said      string            `json:"said,omitempty"` // Now without HTML
	Drawing   string            `json:"drawing,omitempty"`
	Curve     string            `json:"curve,omitempty"`
	Questions []Asked           `json:"questions,omitempty"`
}

// Asked is a question, and the verdict on its answer if there is one.
type Asked struct {
	Ask     string   `json:"ask"`
	Choices []string `json:"choices,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	Verdict *Verdict `json:"verdict,omitempty"` // as HTML
}

// Answer reads a request and replies to it.
func Answer(text []byte) Reply {
	var r Request
	if err := strictjson.Unmarshal("lesson", text, &r); err != nil {
		return Reply{Fault: err.Error()}
	}
	l, known := Find(r.Lesson)
	if !known {
		return Reply{Fault: fmt.Sprintf("lesson: unknown name %q", units.Clip(r.Lesson))}
	}
	reply, err := l.Reply(r.Values, r.Answers)
	if err != nil {
		return Reply{Fault: err.Error()}
	}
	return reply
}

// Reply returns the lesson at positions of its sliders, with a verdict on each answer;
// both may be left out. The error is that of At.
func (l Lesson) Reply(positions Values, answers []string) (Reply, error) {
	c, err := l.At(positions)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{
		Sliders: map[string]string{}, Text: c.HTML(), Now: marked(c.Now), Said: Plain(c.Now),
		Drawing: c.Drawing.SVG(), Curve: c.Curve.SVG(),
	}
	for _, s := range l.Sliders {
		reply.Sliders[s.Name] = s.Text(c.Values[s.Name])
	}
	for i, q := range c.Questions {
		a := Asked{Ask: q.Ask, Choices: q.Choices, Unit: q.Unit}
		if i < len(answers) && answers[i] != "" {
			v := Verdict{Says: q.Answer()}
			if answers[i] != Show {
				v = q.Judge(answers[i])
			}
			v.Says = marked(v.Says)
			a.Verdict = &v
		}
		reply.Questions = append(reply.Questions, a)
	}
	return reply, nil
}
