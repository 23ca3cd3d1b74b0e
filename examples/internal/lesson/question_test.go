package lesson_test

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
	"example.com/wheelrate/units"
)

func TestSlidersStartWithinTheirRange(t *testing.T) {
	names := map[string]bool{}
	for _, l := range lesson.All() {
		if names[l.Name] || l.About == "" || len(l.Sliders) < 2 || len(l.Sliders) > 3 {
			t.Errorf("%s: twice, without a word about it, or with %d sliders", l.Name, len(l.Sliders))
		}
		names[l.Name] = true
		c, err := l.At(nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range l.Sliders {
			steps := (s.Start - s.Min) / s.Step
			if !(s.Min < s.Max && s.Start >= s.Min && s.Start <= s.Max && math.Abs(steps-math.Round(steps)) < 1e-9) || c.Values[s.Name] != s.Start {
				t.Errorf("%s: %+v starts at %v", l.Name, s, c.Values[s.Name])
			}
		}
	}
	if len(names) != 10 {
		t.Errorf("%d lessons", len(names))
	}
	for position, want := range map[float64]string{8: "8.0 mm", 8.25: "8.2 mm"} {
		if got := found(t, "wire").Sliders[0].Text(position); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := found(t, "sure").Sliders[1].Text(0.1); got != "0.10" {
		t.Errorf("%q for a count", got)
	}
}

func TestPositionsAreRefused(t *testing.T) {
	l := found(t, "wire")
	_, err := l.At(lesson.Values{"wire": math.NaN(), "mean": 200, "colour": 1})
	if err == nil || !errors.Is(err, units.ErrUnknown) {
		t.Fatal(err)
	}
	for _, want := range []string{"wire", "mean", "36 to 50", "colour"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%v lacks %q", err, want)
		}
	}
	if _, ok := lesson.Find("colour"); ok {
		t.Error("a lesson on nothing")
	}
}

// Wherever the sliders stand, text, drawing, curve and questions have words and finite
// numbers, and one choice of each question is right.
func TestEveryPositionIsAnswered(t *testing.T) {
	bad := regexp.MustCompile(`NaN|Inf|%!|[−-]0\.0+\b|[\x01\x02]`)
	everywhere(t, func(t *testing.T, l lesson.Lesson, c *lesson.Content, at string) {
		texts := []string{c.HTML(), lesson.Plain(c.Now), c.Drawing.SVG(), c.Curve.SVG()}
		if len(c.Questions) != 2 || len(c.Now) < 80 {
			t.Errorf("%s: %d questions, %q", at, len(c.Questions), c.Now)
		}
		for _, q := range c.Questions {
			texts = append(texts, q.Ask, lesson.Plain(q.Answer()))
			right := 0
			for i := range q.Choices {
				if q.Judge(fmt.Sprint(i)).Right {
					right++
				}
			}
			if q.Choices != nil && right != 1 {
				t.Errorf("%s: %d right choices for %q", at, right, q.Ask)
			}
		}
		for _, text := range texts {
			if f := bad.FindString(text); f != "" || text == "" {
				t.Errorf("%s: %q in %s", at, f, text)
			}
		}
	})
}

// The answers, from the relations of a textbook. Where the sliders stand elsewhere,
// another answer is right.
func TestQuestionsKnowTheirAnswer(t *testing.T) {
	const mega = 79500
	share := func(rider float64) float64 { return carried(rider) }
	for _, test := range []struct {
		name     string
		at       lesson.Values
		question int
		right    string
		wrong    []string
	}{
		{"wire", nil, 0, "24.87", []string{"10", "33.1"}}, // 1 − 1.1⁻³
		{"wire", nil, 1, "10,4 %", []string{"5.1", "9.5"}},
		{"wire", lesson.Values{"wire": 12}, 1, fmt.Sprint(100 * (math.Pow(12.2/12, 4) - 1)), []string{"10.4"}},
		{"gas", nil, 0, "1", []string{"0", "2", "", "x"}},
		{"gas", nil, 1, "1", []string{"0", "2"}},
		{"levers", nil, 0, "150.6 mm", []string{"82.5", "154.7"}}, // see testdata/lessons.py of the program
		{"levers", nil, 1, "0", []string{"1"}},
		{"chambers", nil, 0, "3", []string{"1", "2", "4"}},
		{"chambers", nil, 1, "0", []string{"1", "2"}},
		{"sure", nil, 0, fmt.Sprint(mega * 4096.0 / (8 * 43 * 43 * 43 * 6.5) * math.Sqrt(math.Pow((4/8.0+3/43.0)*0.01, 2)+math.Pow(0.1/6.5, 2)+math.Pow(0.3/43, 2)+math.Pow(5/795.0, 2))), []string{"2.0", "0.9"}},
		{"sure", nil, 1, "1", []string{"0", "2"}},
		{"sag", nil, 0, fmt.Sprint(share(80) / 42 * 6.25), []string{"90", "70"}},
		{"sag", lesson.Values{"rider": 60}, 0, fmt.Sprint(share(60) / 42 * 6.25), []string{"79.7"}},
		{"sag", nil, 1, fmt.Sprint(0.6 * 5 * gravity / 14.4), []string{"2.5", "1"}},
		{"preload", nil, 0, fmt.Sprint(2.5 * (share(95) - share(80)) / 90), []string{"1", "5"}},
		{"preload", lesson.Values{"rate": 140}, 0, fmt.Sprint(2.5 * (share(95) - share(80)) / 140), []string{"2.45"}},
		{"preload", nil, 1, "0", []string{"1", "2"}},
		{"drop", nil, 0, fmt.Sprint(14400*0.15*0.15/2/share(80) - 0.15), []string{"0.3", "0.1"}},
		{"drop", nil, 1, "0", []string{"1"}},
		{"fork", nil, 0, fmt.Sprint(160 * math.Sin(64*math.Pi/180)), []string{"160", "146"}},
		{"fork", nil, 1, "0", []string{"1", "2"}},
		{"pitch", nil, 0, fmt.Sprint(0.3 * 96 * gravity * 1000 / 1250), []string{"100", "283"}},
		{"pitch", nil, 1, "0", []string{"1", "2"}},
	} {
		c, _ := view(t, test.name, test.at)
		q := c.Questions[test.question]
		if v := q.Judge(test.right); !v.Right || !strings.HasPrefix(v.Says, "Right. ") || len(v.Says) < 40 {
			t.Errorf("%s: %q to %q: %+v", test.name, test.right, q.Ask, v)
		}
		for _, wrong := range test.wrong {
			if v := q.Judge(wrong); v.Right || v.Says == "" {
				t.Errorf("%s: %q to %q: %+v", test.name, wrong, q.Ask, v)
			}
		}
	}
	c, _ := view(t, "wire", nil)
	for answer, want := range map[string]string{"10": "Not 10: the answer is larger.", "40 %": "Not 40: the answer is smaller.", "much": "Enter a number.", "NaN": "Enter a number."} {
		if got := c.Questions[0].Judge(answer).Says; got != want {
			t.Errorf("%q: %q, want %q", answer, got, want)
		}
	}
}
