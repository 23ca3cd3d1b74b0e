package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/sag/setup"
)

// paths lists what a form's groups hold, with a line of several columns under
// the paths of the job that its columns become, and what is fixed in several
// cases of a switch once.
func paths(groups []group) (list []string) {
	said := map[string]bool{}
	var walk func(groups []group)
	walk = func(groups []group) {
		for _, g := range groups {
			for _, f := range g.Fields {
				if f.Kind == fixed && said[f.Path] {
					continue
				}
				said[f.Path] = f.Kind == fixed
				if f.Kind != lines {
					list = append(list, f.Path)
					continue
				}
				for column := range strings.SplitSeq(f.Columns, ",") {
					name, _, _ := strings.Cut(column, ":")
					list = append(list, f.Path+"."+name)
				}
			}
			walk(g.Groups)
			if g.More != nil {
				walk([]group{*g.More})
			}
		}
	}
	walk(groups)
	return list
}

// Everything that a job can say can be entered, and nothing else: a job opened
// in the page loses nothing, and a field added to the job is missed here.
func TestFormIsTheJob(t *testing.T) {
	form := paths(formOf(cautions{}))
	job := slices.DeleteFunc(slices.Collect(maps.Keys(leaves(reflect.TypeFor[setup.Job](), ""))), func(p string) bool { return p == "schema" })
	slices.Sort(form)
	slices.Sort(job)
	for _, p := range job {
		if !slices.Contains(form, p) {
			t.Errorf("no field for %s of the job", p)
		}
	}
	for i, p := range form {
		if !slices.Contains(job, p) {
			t.Errorf("the job has no %s", p)
		}
		if i > 0 && form[i-1] == p {
			t.Errorf("two fields for %s", p)
		}
	}
	if len(job) < 60 {
		t.Errorf("only %d fields found in a job", len(job))
	}
}

// What the form of a visit asks is a visit's.
func TestVisitFormIsOfAVisit(t *testing.T) {
	of := leaves(reflect.TypeFor[advice.Visit](), "")
	asked := paths(visitForm())
	for _, p := range asked {
		if _, ok := of[p]; !ok {
			t.Errorf("a visit has no %s", p)
		}
	}
	// The date of a reading and its note are the day's; the masses are those of the sheet.
	aside := regexp.MustCompile(`^(schema|note|masses|record|job|.*\.(date|note))(\.|$)`)
	for p := range of {
		if !slices.Contains(asked, p) && !aside.MatchString(p) {
			t.Errorf("no field for %s of the visit", p)
		}
	}
}

// Every field says what it is and what may be entered, and every case of a
// switch has its group. What is asked of every rider says how to find it.
func TestFormIsWhole(t *testing.T) {
	cases, groups := map[string][]string{}, map[string][]string{} // by switch
	var walk func(g group)
	walk = func(g group) {
		for _, f := range g.Fields {
			if f.Label == "" || f.Hint == "" && f.Kind != pick && f.Kind != fixed || f.Kind == "" || (f.Kind == fixed) != (f.Value != "") {
				t.Errorf("%s lacks words", f.Path)
			}
			// A blank is never offered as an answer.
			for _, words := range []string{"nothing", "leave", "blank", "if known"} {
				if strings.Contains(f.Hint+f.Label, words) {
					t.Errorf("%s: %q", f.Path, f.Hint)
				}
			}
			if (f.Kind == lines) != (f.Columns != "") || (f.Kind == lines) != (f.Shape == "rows" || f.Shape == "columns") || (f.Kind == pick) != (f.Choices != nil) {
				t.Errorf("%s: a %s with columns %q, shape %q, %d choices", f.Path, f.Kind, f.Columns, f.Shape, len(f.Choices))
			}
		}
		if g.Switch != nil {
			for _, c := range g.Switch.Cases {
				cases[g.Switch.ID] = append(cases[g.Switch.ID], c.Value)
			}
		}
		for _, inner := range g.Groups {
			if inner.Of == "" && inner.Case != "" {
				inner.Of = g.Switch.ID
			}
			if inner.Case != "" {
				groups[inner.Of] = append(groups[inner.Of], strings.Fields(inner.Case)...)
			}
			walk(inner)
		}
		if g.More != nil {
			walk(*g.More)
		}
	}
	for _, g := range append(formOf(cautions{}), visitForm()...) {
		walk(g)
	}
	for id, want := range cases {
		got := groups[id]
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(slices.Compact(got), want) {
			t.Errorf("%s: cases %v, groups %v", id, want, got)
		}
	}
	if len(groups) != len(cases) {
		t.Errorf("switches %v, groups of %v", slices.Sorted(maps.Keys(cases)), slices.Sorted(maps.Keys(groups)))
	}
}

// What a rider may not know at once says how to find it.
func TestFormSaysHowToFind(t *testing.T) {
	finds := map[string]bool{}
	var walk func(groups []group)
	walk = func(groups []group) {
		for _, g := range groups {
			for _, f := range g.Fields {
				finds[f.Path] = f.Find != ""
			}
			walk(g.Groups)
		}
	}
	walk(append(formOf(cautions{}), visitForm()...))
	for _, p := range []string{
		"masses.rider_mass", "masses.bike_mass", "masses.unsprung_front", "masses.unsprung_rear", "masses.rear_share", "ambient",
		"front.friction", "front.sag", "front.curve.fork.travel", "rear.curve.constant", "rear.air.bore", "rear.air.positive_volume", "rear.air.max_fill", "rear.air.port_travel", "rear.coil.shelf", "front.readings", "conditions.temperature",
	} {
		if !finds[p] {
			t.Errorf("%s does not say how to find it", p)
		}
	}
}

func TestDemonstrations(t *testing.T) {
	for _, d := range demonstrations {
		text, err := demos.ReadFile("demo/" + d.name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		job, err := setup.ReadJob(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", d.name, err)
		}
		if _, err := setup.NewSheet(job); err != nil {
			t.Errorf("%s: %v", d.name, err)
		}
		if !strings.Contains(job.Note, "Invented") || !strings.Contains(d.title, "invented") {
			t.Errorf("%s does not say that it is invented", d.name)
		}
		if !json.Valid(text) {
			t.Errorf("%s is no JSON", d.name)
		}
	}
}
