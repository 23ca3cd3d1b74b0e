package units

import (
	"slices"
	"strconv"
	"strings"
)

// Want says what would be accepted in place of a value: as data, where it can be put so, and in English.
// Functions such as [LessThan] return one; their results are joined by [Want.And].
type Want struct {
	Limits  []Limit  `json:"limits,omitempty"`  // of a number or a quantity; all of them hold
	Counts  string   `json:"counts,omitempty"`  // what is counted, such as "springs", where value and limits are numbers of these
	OneOf   []string `json:"one_of,omitempty"`  // the words that are accepted
	Needs   []string `json:"needs,omitempty"`   // other fields, one of which is needed
	Without []string `json:"without,omitempty"` // other fields that must not be given beside this one
	Meant   []string `json:"meant,omitempty"`   // what may have been meant: something to ask, never to assume
	Note    string   `json:"-"`                 // English that follows what the data say
	Text    string   `json:"-"`                 // English in place of what the data say; "" for those
}

// Limit is one side of a permitted range.
type Limit struct {
	// Is is "finite", "more_than", "at_least", "less_than", "at_most" or "equal". New ones may be added.
	Is    string `json:"is"`
	Value any    `json:"value,omitempty"` // a quantity of this package or a number; nil for "finite"
	Of    string `json:"of,omitempty"`    // the other field or result that has the Value, by its name; "" where none has
}

func limited(is string, value any) Want { return Want{Limits: []Limit{{Is: is, Value: value}}} }

// MoreThan wants a value above a quantity or number.
func MoreThan(limit any) Want { return limited("more_than", limit) }

// AtLeast wants a quantity or number, or more.
func AtLeast(limit any) Want { return limited("at_least", limit) }

// LessThan wants a value below a quantity or number.
func LessThan(limit any) Want { return limited("less_than", limit) }

// AtMost wants a quantity or number, or less.
func AtMost(limit any) Want { return limited("at_most", limit) }

// Exactly wants a number.
func Exactly(number any) Want { return limited("equal", number) }

// From wants a value between two quantities or numbers, or one of the two.
func From(low, high any) Want { return AtLeast(low).And(AtMost(high)) }

// OneOf wants one of the words.
func OneOf[S ~string](words ...S) Want {
	var w Want
	for _, word := range words {
		w.OneOf = append(w.OneOf, string(word))
	}
	return w
}

// Needs wants one of other fields. It is for a field that is missing.
func Needs(fields ...string) Want { return Want{Needs: fields} }

// Without wants that none of the other fields is given beside this one.
func Without(fields ...string) Want { return Want{Without: fields} }

// And returns w with the limits of other added.
func (w Want) And(other Want) Want {
	w.Limits = slices.Concat(w.Limits, other.Limits)
	return w
}

// Of returns w with the name of the field or result that has the value of its last limit. It panics if w
// has no limit.
func (w Want) Of(name string) Want {
	w.Limits = slices.Clone(w.Limits)
	w.Limits[len(w.Limits)-1].Of = name
	return w
}

// Count returns w for the number of things of a kind, such as "springs".
func (w Want) Count(of string) Want {
	w.Counts = of
	return w
}

// With returns w with English that follows what the data say.
func (w Want) With(note string) Want {
	w.Note = note
	return w
}

// String returns the English text, such as "more than 0 and less than mean_diameter 50 mm", with all
// digits of its numbers. [FieldError.Texts] returns fewer.
func (w Want) String() string { return w.text(allDigits) }

// relations are the limits in English.
var relations = map[string]string{
	"finite": "a finite value", "more_than": "more than ", "less_than": "less than ", "at_most": "at most ", "equal": "exactly ",
}

// text returns the text with each limit to so many digits.
func (w Want) text(digits int) string {
	var parts []string
	limits := w.Limits
	if len(limits) > 0 && limits[0].Is == "finite" {
		parts, limits = append(parts, relations["finite"]), limits[1:]
	}
	if len(limits) > 0 {
		parts = append(parts, w.limits(limits, digits))
	}
	if w.OneOf != nil {
		parts = append(parts, choice(w.OneOf, strconv.Quote))
	}
	if w.Needs != nil {
		parts = append(parts, choice(w.Needs, strings.Clone))
	}
	if w.Without != nil {
		parts = append(parts, "nothing beside "+strings.Join(w.Without, " and "))
	}
	if w.Text != "" {
		parts = []string{w.Text}
	}
	if w.Note != "" {
		parts = append(parts, w.Note)
	}
	text := strings.Join(parts, ", ")
	if w.Meant != nil && w.Text == "" {
		text += "; did you mean " + strings.Join(w.Meant, " or ") + "?"
	}
	return text
}

// choice returns a list of words in English, and a single one as alone returns it.
func choice(words []string, alone func(string) string) string {
	switch between := ", "; {
	case len(words) == 1:
		return alone(words[0])
	case strings.Contains(strings.Join(words, ""), ","):
		between = "; "
		fallthrough
	default:
		return "one of " + strings.Join(words, between)
	}
}

// limits returns limits in English.
func (w Want) limits(limits []Limit, digits int) string {
	parts := make([]string, len(limits))
	for i, l := range limits {
		number, _, _ := numeral(l.Value, digits)
		relation, things := relations[l.Is], ""
		if i == len(limits)-1 && w.Counts != "" {
			things = " " + w.Counts
		}
		switch {
		case l.Is == "equal" && l.Of != "":
			relation = "as many" + things + " as " + l.Of + " has, "
		case l.Of != "":
			number = l.Of + " " + number + things
		default:
			number += things
		}
		parts[i] = relation + number
	}
	if len(limits) == 2 && limits[0].Is == "at_least" && limits[1].Is == "at_most" {
		return "from " + parts[0] + " to " + strings.TrimPrefix(parts[1], relations["at_most"])
	}
	for i, l := range limits {
		if l.Is == "at_least" {
			parts[i] += " or more"
		}
	}
	return strings.Join(parts, " and ")
}
