package lesson_test

import (
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
)

func TestAnswerShowsALessonAtItsSliders(t *testing.T) {
	r := lesson.Answer([]byte(`{"lesson": "sag", "values": {"rider": 100}, "answers": ["79.7"]}`))
	c, err := found(t, "sag").At(lesson.Values{"rider": 100})
	if r.Fault != "" || err != nil {
		t.Fatal(r.Fault, err)
	}
	if r.Drawing != c.Drawing.SVG() || r.Curve != c.Curve.SVG() || r.Text != c.HTML() || r.Said != lesson.Plain(c.Now) {
		t.Error("another lesson, or at other positions")
	}
	for name, want := range map[string]string{"rider": "100 kg", "rate": "90 N/mm", "friction": "60 N"} {
		if r.Sliders[name] != want {
			t.Errorf("%s is at %q, want %q", name, r.Sliders[name], want)
		}
	}
	for _, want := range []string{`<span class="number">653</span> N stand`, `<span class="number">30.2</span> % of 150 mm`} {
		if !strings.Contains(r.Now, want) {
			t.Errorf("%q lacks %q", r.Now, want)
		}
	}
	// What is right for 80 kg is wrong for 100 kg, and nothing is said before an answer.
	if v := r.Questions[0].Verdict; v == nil || v.Right || v.Says != "Not 79.7: the answer is larger." {
		t.Errorf("%+v", v)
	}
	if r.Questions[1].Verdict != nil {
		t.Errorf("%+v to no answer", r.Questions[1].Verdict)
	}
}

func TestAnswerTellsWhoGivesUp(t *testing.T) {
	r := lesson.Answer([]byte(`{"lesson": "gas", "answers": ["?", "<b>"]}`))
	if v := r.Questions[0].Verdict; v == nil || v.Right || !strings.HasPrefix(v.Says, "The end of the stroke. ") {
		t.Errorf("%+v", v)
	}
	if v := r.Questions[1].Verdict; v == nil || v.Right || strings.Contains(v.Says, "<b>") {
		t.Errorf("%+v", v)
	}
	if v := found(t, "wire"); v.Name != "wire" {
		t.Error(v.Name)
	}
	r = lesson.Answer([]byte(`{"lesson": "wire", "answers": ["<b>5"]}`))
	if v := r.Questions[0].Verdict; v.Says != "Enter a number." {
		t.Errorf("%+v", v)
	}
}

func TestAnswerNamesWhatIsWrong(t *testing.T) {
	for request, want := range map[string]string{
		`{"lesson": "wire", "values": {"wire": 99}}`: "wire",
		`{"lesson": "wire", "value": {}}`:            "value",
		`{"lesson": "colour"}`:                       `"colour"`,
		`{`:                                          "line 1",
	} {
		if r := lesson.Answer([]byte(request)); !strings.Contains(r.Fault, want) || r.Text != "" {
			t.Errorf("%s: %q, want %q in it", request, r.Fault, want)
		}
	}
}

// Markup stands around what is said, and never within it.
func TestHTMLHasTablesFormulasAndCautions(t *testing.T) {
	c, _ := view(t, "wire", nil)
	html := c.HTML()
	for _, want := range []string{
		`<p class="formula"><span>M = F·D/2</span> </p>`,
		`<tr><th scope="col">wire</th><th scope="col">rate</th><th scope="col">times</th></tr>`,
		`<tr><th scope="row">8 mm</th><td>78.8 N/mm</td><td>1.0000</td></tr>`,
		`<p class="caution"><strong>Caution.</strong> A compressed spring`,
		`<span class="number">12.696</span> mm are <span class="number">78.76</span> N/mm`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s", want)
		}
	}
	n := parsed(t, "<div>"+html+"</div>")
	if len(n.class("caution")) != 1 || len(n.class("wide")) != 2 || len(n.class("formula")) != 3 {
		t.Errorf("%d cautions, %d tables, %d formulas", len(n.class("caution")), len(n.class("wide")), len(n.class("formula")))
	}
}
