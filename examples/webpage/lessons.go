package main

import (
	"html/template"

	"example.com/wheelrate/examples/internal/lesson"
)

// taught is a lesson as its page has it before a slider is moved.
type taught struct {
	lesson.Lesson
	Number                    int
	Sliders                   []slider
	Text, Now, Drawing, Curve template.HTML
	Questions                 []lesson.Asked
	Before, After             *lesson.Lesson
}

// slider is a slider at its start.
type slider struct {
	lesson.Slider
	At string // with its unit
}

// lessons returns all of them.
func lessons() (list []taught, err error) {
	all := lesson.All()
	for i, l := range all {
		r, err := l.Reply(nil, nil)
		if err != nil {
			return nil, err
		}
		t := taught{
			Lesson: l, Number: i + 1, Text: template.HTML(r.Text), Now: template.HTML(r.Now),
			Drawing: template.HTML(r.Drawing), Curve: template.HTML(r.Curve), Questions: r.Questions,
		}
		for _, s := range l.Sliders {
			t.Sliders = append(t.Sliders, slider{s, r.Sliders[s.Name]})
		}
		if i > 0 {
			t.Before = &all[i-1]
		}
		if i < len(all)-1 {
			t.After = &all[i+1]
		}
		list = append(list, t)
	}
	return list, nil
}
