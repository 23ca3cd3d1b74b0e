package main

import (
	"encoding"
	"reflect"
	"slices"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
)

// The form is described here once: what each field of the job is called. How it is
// entered follows from the job's own type, and the kinds of curve from package
// linkage. The page's template writes the form out, the page's script turns it into
// a job and back by the paths, and a test holds the paths against the job's fields.

// field is one thing to enter.
type field struct {
	Path  string // in the job, such as "front.air.bore"
	Label string
	Hint  string
	Kind  kind // that of the job's field if empty
	// Columns are the names of the columns of lines, and Shape how they
	// become JSON: a list for each column, or an object for each line.
	Columns, Shape string
	Choices        []choice // of a choice
	Lines          int      // height of lines or JSON
}

// kind is how a text becomes a value of the job.
type kind string

const (
	quantity kind = "quantity" // a number with a unit: stays text
	number   kind = "number"
	share    kind = "share" // a fraction, or a percentage with its sign
	lines    kind = "lines" // a line for each entry, columns parted by commas
	object   kind = "object"
	text     kind = "text"
	pick     kind = "pick"
)

type choice struct{ Value, Label string }

// group is fields that belong together.
type group struct {
	ID      string
	Legend  string
	Note    string
	Caution string  // shown whenever the group is
	Switch  *toggle // which of several groups applies
	Fields  []field
	Groups  []group
	More    *group // what few need, folded away
	Case    string // of the switch around it
}

// toggle is a choice between the groups beside it.
type toggle struct {
	ID, Legend string
	Cases      []choice
}

func formOf(c cautions) []group {
	form := []group{masses(), end("front", "Front", c), end("rear", "Rear", c)}
	setKinds(form, leaves(reflect.TypeFor[setup.Job](), ""))
	return form
}

// setKinds fills in the kinds that follow from the fields of the job.
func setKinds(groups []group, job map[string]kind) {
	for i := range groups {
		g := &groups[i]
		for j := range g.Fields {
			if f := &g.Fields[j]; f.Kind == "" {
				f.Kind = job[f.Path]
			}
		}
		setKinds(g.Groups, job)
		if g.More != nil {
			more := []group{*g.More}
			setKinds(more, job)
			g.More = &more[0]
		}
	}
}

// asJSON reports whether a part of a job is entered as JSON: how well it is known, and
// each kind of curve that has no fields of its own below.
func asJSON(path string) bool {
	_, kind, ofCurve := strings.Cut(path, ".curve.")
	return path == "uncertainty" || ofCurve && !strings.Contains(kind, ".") &&
		!slices.Contains([]string{"constant", "travel", "fork", "table"}, kind)
}

// leaves returns the paths of all that a type's JSON can hold, with how each is
// entered; of a list, those of its elements. What is entered as JSON is one of them.
func leaves(t reflect.Type, path string) map[string]kind {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		if reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
			break
		}
		t = t.Elem()
	}
	all := map[string]kind{}
	switch {
	case asJSON(path):
		all[path] = object
	case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		all[path] = quantity
	case t.Kind() == reflect.String:
		all[path] = text
	case t.Kind() != reflect.Struct:
		all[path] = number
	default:
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			at := path // of an embedded struct, whose fields stand in the object itself
			switch {
			case f.Anonymous && name == "":
			case !f.IsExported() || name == "-":
				continue
			default:
				at = strings.TrimPrefix(path+"."+name, ".")
			}
			for leaf, k := range leaves(f.Type, at) {
				all[leaf] = k
			}
		}
	}
	return all
}

func masses() group {
	p := "masses."
	return group{
		ID: "masses", Legend: "Rider and bike",
		Fields: []field{
			{Path: p + "rider_mass", Label: "Rider, dressed and packed to ride", Hint: "82 kg or 181 lb"},
			{Path: p + "bike_mass", Label: "Bike", Hint: "16.8 kg or 37 lb"},
			{Path: p + "unsprung_front", Label: "Unsprung at the front", Hint: "part of the bike: wheel, brake, lower legs; 2.4 kg"},
			{Path: p + "unsprung_rear", Label: "Unsprung at the rear", Hint: "wheel, brake, drive, a share of the linkage; 3.2 kg"},
			{Path: "ambient", Label: "Air pressure around", Hint: "above vacuum: 101.3 kPa(a) or 14.7 psia; needed where an end has an air spring"},
		},
		Switch: &toggle{ID: "share", Legend: "How the weight stands on the wheels", Cases: []choice{
			{"share", "Share on the rear wheel"}, {"centre", "Place of the mass centre"}, {"scales", "Two scales"}}},
		Groups: []group{
			{Case: "share", Fields: []field{
				{Path: p + "rear_share", Label: "Share on the rear wheel", Hint: "58 % or 0.58, in the stance the sag is for", Kind: share}}},
			{Case: "centre", Note: "Needs the wheelbase below as well.", Fields: []field{
				{Path: p + "mass_centre_behind_front_axle", Label: "Mass centre behind the front axle", Hint: "700 mm or 27.6 in"}}},
			{Case: "scales", Note: "One scale under each wheel, the rider on in the stance the sag is for.", Fields: []field{
				{Path: p + "front_scale", Label: "Scale at the front", Hint: "41.5 kg"},
				{Path: p + "rear_scale", Label: "Scale at the rear", Hint: "57.3 kg"}}},
		},
		More: &group{Legend: "More: both ends together, other stances, a note", Fields: []field{
			{Path: p + "wheelbase", Label: "Wheelbase", Hint: "1255 mm"},
			{Path: p + "mass_centre_height", Label: "Height of the mass centre", Hint: "of rider and bike above the ground; with the wheelbase both ends settle together"},
			{Path: p + "bike_rear_share", Label: "Share on the rear wheel with nobody on", Hint: "54 %", Kind: share},
			{Path: "stances", Label: "Other stances", Hint: "one a line, a name and its share on the rear wheel: climbing, 68 %", Kind: lines, Columns: "name:text,rear_share:share", Shape: "rows", Lines: 3},
			{Path: "uncertainty", Label: "How well it is known, as JSON", Hint: "one standard deviation of each input, such as {\"rider_mass\": \"1 kg\", \"rear\": {\"spring_rate\": 0.03}}; the sheet then says what decides", Lines: 4},
			{Path: "note", Label: "Note for the sheet", Hint: "whose bike, which day"},
		}},
	}
}

func end(p, legend string, c cautions) group {
	curve, air, coil := p+".curve.", p+".air.", p+".coil."
	return group{
		ID: p, Legend: legend,
		Fields: []field{
			{Path: p + ".sag", Label: "Sag wanted", Hint: "of the wheel's travel: 28 % or 0.28", Kind: share},
			{Path: p + ".friction", Label: "Dry friction at the spring", Hint: "if known: 20 N or 4.5 lbf; gives the band the sag may lie in"},
		},
		More: &group{Legend: "More: damping and a drop", Fields: []field{
			{Path: p + ".damping_ratio", Label: "Damping, of critical", Hint: "about the sag: 0.3; or the coefficient below"},
			{Path: p + ".damping", Label: "Damping at the wheel", Hint: "350 N·s/m or 2 lbf·s/in"},
			{Path: p + ".drop_height", Label: "A drop to ask about", Hint: "that the wheel falls before it touches: 300 mm"},
		}},
		Groups: []group{
			{
				ID: p + ".curve", Legend: "How the wheel moves the spring",
				Switch: &toggle{ID: p + ".curve", Legend: "Known by", Cases: curveChoices()},
				Groups: curves(curve),
			},
			{
				ID: p + ".spring", Legend: "What can be fitted",
				Switch: &toggle{ID: p + ".spring", Legend: "Kind of spring", Cases: []choice{{"air", "Air"}, {"coil", "Coil"}}},
				Groups: []group{
					{Case: "air", Caution: c.air, Fields: []field{
						{Path: air + "bore", Label: "Bore", Hint: "diameter of the piston: 36 mm"},
						{Path: air + "positive_volume", Label: "Positive chamber", Hint: "empty, at full extension: 290 cm³ or 290 cm3"},
						{Path: air + "negative_chamber", Label: "Negative chamber", Kind: pick, Choices: []choice{{"", "its volume is below"}, {"none", "there is none"}}},
						{Path: air + "negative_volume", Label: "Its volume", Hint: "at full extension: 62 cm³"},
						{Path: air + "shaft", Label: "Shaft", Hint: "diameter, with a negative chamber: 10 mm"},
						{Path: air + "port_travel", Label: "Travel of the port", Hint: "where the chambers share their gas: 7 mm"},
						{Path: air + "max_fill", Label: "Highest fill marked on the part", Hint: "10 bar or 145 psi"},
						{Path: air + "fill", Label: "Fill it holds now", Hint: "if known"},
						{Path: air + "exponent", Label: "Exponent of a quick stroke", Hint: "from 1, slow, to 2; about 1.4 is quick"},
						{Path: air + "spacer_volume", Label: "One volume spacer", Hint: "8 cm³"},
						{Path: air + "spacers", Label: "Spacers fitted now", Hint: "0"},
						{Path: air + "max_spacers", Label: "Most spacers that fit", Hint: "5"},
						{Path: air + "full_travel_ratio", Label: "End force wanted", Hint: "at full travel, over the load: 9; then every count of spacers is tried"},
					}, More: &group{Legend: "More about this chamber", Fields: []field{
						{Path: air + "oil_volume", Label: "Oil in the positive chamber", Hint: "8 cm³"},
						{Path: air + "travel", Label: "Travel of the air spring", Hint: "where it is longer than the stroke"},
						{Path: air + "second_volume", Label: "Second chamber", Hint: "behind a free piston"},
						{Path: air + "second_fill", Label: "Fill of the second chamber", Hint: "12 bar"},
						{Path: air + "ambient", Label: "Air pressure around, for this end alone", Hint: "where it differs"},
					}}},
					{Case: "coil", Caution: c.coil, Fields: []field{
						{Path: coil + "shelf", Label: "Springs on the shelf", Hint: "one a line, its rate and how far it compresses before it is solid: 450 lbf/in, 74 mm", Kind: lines, Columns: "rate:quantity,solid_travel:quantity", Shape: "rows", Lines: 6},
						{Path: coil + "preload_min", Label: "Least preload of the collar", Hint: "0.5 mm"},
						{Path: coil + "preload_max", Label: "Most preload of the collar", Hint: "5 mm"},
						{Path: coil + "thread_pitch", Label: "Pitch of the collar's thread", Hint: "1.5 mm; gives the preload in turns"},
					}},
				},
			},
		},
	}
}

// curveKinds are the ways to describe a curve, a fork's first.
func curveKinds() []linkage.Kind {
	list := linkage.Kinds()
	fork := slices.IndexFunc(list, func(k linkage.Kind) bool { return k.Key == "fork" })
	return slices.Insert(slices.Delete(slices.Clone(list), fork, fork+1), 0, list[fork])
}

// curveChoices are these for a switch.
func curveChoices() []choice {
	var list []choice
	for _, k := range curveKinds() {
		list = append(list, choice{k.Key, k.Label})
	}
	return list
}

// curves are the fields of each kind of curve; one that is not known here is entered
// as JSON.
func curves(curve string) []group {
	known := map[string][]field{
		"fork": {
			{Path: curve + "fork.head_angle", Label: "Head angle from the horizontal", Hint: "64 deg"},
			{Path: curve + "fork.travel", Label: "Travel along the stanchions", Hint: "160 mm or 6.3 in"},
		},
		"constant": {
			{Path: curve + "constant", Label: "Lever ratio", Hint: "wheel travel over stroke: 2.6"},
			{Path: curve + "travel", Label: "Wheel travel, vertical", Hint: "150 mm"},
		},
		"table": {
			{Path: curve + "table", Label: "Stroke, wheel travel", Hint: "one point a line, from 0 mm, 0 mm to the end: 5 mm, 14.6 mm", Kind: lines, Columns: "stroke:quantity,travel:quantity", Shape: "columns", Lines: 7},
			{Path: curve + "table.method", Label: "Taken as", Kind: pick, Choices: []choice{
				{"", "points to go through, cautiously (monotone)"}, {"smooth", "finely printed points (smooth)"}, {"measured", "readings with errors (measured)"}, {"monotone", "monotone"}}},
		},
		"mechanism": {
			{Path: curve + "mechanism", Label: "Pivots, as JSON", Hint: "points at full extension, x forward and y up from the bottom bracket; the bodies they belong to; axle, shock and stroke", Lines: 8},
		},
	}
	var list []group
	for _, k := range curveKinds() {
		fields, ok := known[k.Key]
		if !ok {
			fields = []field{{Path: curve + k.Key, Label: k.Label + ", as JSON", Hint: k.About, Lines: 6}}
		}
		list = append(list, group{Case: k.Key, Fields: fields})
	}
	return list
}
