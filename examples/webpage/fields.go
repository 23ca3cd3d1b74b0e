package main

import (
	"fmt"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// findUnsprung is how the unsprung mass of an end is found: common practice.
const findUnsprung = "With the bike hung up by its frame and the spring's force gone (all air let out, or the coil taken out by the maker's manual), put a scale under the wheel and raise it until the end just moves: that is the unsprung mass. " +
	"Or weigh the wheel with tyre, disc and axle and add what moves with it: the caliper, and a fork's lower legs or the outer half of a swingarm. " +
	"0 kg is allowed and takes the whole load for the spring, which then comes out too hard."

// rider is the one thing that is asked of everybody.
func rider() group {
	return group{ID: "rider", Legend: "Rider", Fields: []field{
		{Path: "masses.rider_mass", Label: "Rider with kit", Hint: "82 kg or 181 lb",
			Find: "Stand on a bathroom scale with everything on that you ride with: shoes, helmet, pack, water."},
	}}
}

// bike is what does not belong to one end.
func bike() group {
	p := "masses."
	return group{
		ID: "bike", Legend: "The bike's weight, and the air",
		Note: "Asked where a spring is a coil, or an air spring whose inside is known.",
		Fields: []field{
			{Path: p + "bike_mass", Label: "Bike", Hint: "16.8 kg or 37 lb",
				Find: "Stand on a bathroom scale with the bike in your arms, then without it: the difference is the bike."},
			{Path: p + "unsprung_front", Label: "Unsprung at the front", Hint: "part of the bike that the spring does not carry: wheel, brake, lower legs; 2.4 kg", Find: findUnsprung},
			{Path: p + "unsprung_rear", Label: "Unsprung at the rear", Hint: "wheel, brake, drive, a share of the linkage; 3.2 kg; not asked of a rigid rear", Find: findUnsprung},
			{Path: "ambient", Label: "Air pressure around", Hint: "above vacuum: 101.3 kPa(a) or 14.7 psia; asked where an end has an air spring",
				Find: "What a barometer shows at the place itself, not reduced to sea level. " + standardAir()},
		},
		Switch: &toggle{ID: "share", Legend: "How the weight stands on the wheels", Cases: []choice{
			{"share", "Share on the rear wheel"}, {"centre", "Place of the mass centre"}, {"scales", "Two scales"}}},
		Groups: []group{
			{Case: "share", Fields: []field{
				{Path: p + "rear_share", Label: "Share on the rear wheel", Hint: "58 % or 0.58, in the stance the sag is for", Kind: share,
					Find: "Stand on the bike as you ride with a scale under the rear wheel and a board as high as the scale under the front: what it shows, over rider and bike together, is the share."}}},
			{Case: "centre", Note: "Needs the wheelbase below as well.", Fields: []field{
				{Path: p + "mass_centre_behind_front_axle", Label: "Mass centre behind the front axle", Hint: "700 mm or 27.6 in"}}},
			{Case: "scales", Note: "One scale under each wheel, the rider on in the stance the sag is for.", Fields: []field{
				{Path: p + "front_scale", Label: "Scale at the front", Hint: "41.5 kg"},
				{Path: p + "rear_scale", Label: "Scale at the rear", Hint: "57.3 kg"}}},
		},
	}
}

// further is what few need.
func further() group {
	p := "masses."
	return group{
		ID: "further", Legend: "Both ends together, other stances and riders, a note",
		Fields: []field{
			{Path: p + "wheelbase", Label: "Wheelbase", Hint: "1255 mm"},
			{Path: p + "mass_centre_height", Label: "Height of the mass centre", Hint: "of rider and bike without the wheels, above the ground; with the wheelbase and the wheels' radius both ends settle together"},
			{Path: p + "wheel_radius", Label: "Radius of the wheels", Hint: "rolling, from axle to ground with the rider on: 360 mm"},
			{Path: p + "front_wheel_radius", Label: "Front wheel's radius", Hint: "where the wheels differ: 372 mm"},
			{Path: p + "rear_wheel_radius", Label: "Rear wheel's radius", Hint: "351 mm"},
			{Path: p + "fork_offset", Label: "Offset of the fork", Hint: "of the axle ahead of the steering axis, for the trail: 44 mm"},
			{Path: p + "bottom_bracket_height", Label: "Height of the bottom bracket", Hint: "its centre above the ground with nobody on: 348 mm"},
			{Path: p + "chainstay_length", Label: "Length of the chainstays", Hint: "from the bottom bracket to the rear axle, for the height at rest: 440 mm"},
			{Path: p + "bike_rear_share", Label: "Share on the rear wheel with nobody on", Hint: "54 %", Kind: share},
			{Path: "stances", Label: "Other stances", Hint: "one a line, a name and its share on the rear wheel, then if wanted the slope and the forces of front brake, rear brake and drive over the weight: climbing, 68 % or steep descent, 45 %, -15°, 0.16, 0.1, 0", Kind: lines,
				Columns: "name:text,rear_share:share,slope:quantity,front_braking:number,rear_braking:number,driving:number", Shape: "rows", Lines: 3},
			{Path: "riders", Label: "Riders of other masses", Hint: "60 kg, 75 kg, 200 lb; otherwise up to 15 kg lighter and heavier"},
			{Path: "uncertainty", Label: "How well it is known, as JSON", Hint: "one standard deviation of each input, such as {\"rider_mass\": \"1 kg\", \"rear\": {\"spring_rate\": 0.03}}; the sheet then says what decides", Lines: 4},
			{Path: "note", Label: "Note for the sheet", Hint: "whose bike, which day"},
		},
	}
}

// standardAir says what the air pressure is at some altitudes.
func standardAir() string {
	text := "The standard atmosphere has"
	for i, altitude := range []units.Length{0, 500, 1000, 1500, 2000} {
		if air, err := airspring.Atmosphere(altitude); err == nil {
			text += fmt.Sprintf("%s %.1f kPa(a) at %.0f m", map[bool]string{true: "", false: ","}[i == 0], air.Pressure.Kilopascals(), float64(altitude))
		}
	}
	return text + "."
}

// end is one end of the bike: with a spring, or without.
func end(p, legend string, c cautions) group {
	return group{
		ID: p, Legend: legend,
		Switch: &toggle{ID: p, Legend: "What is in it?", Cases: []choice{{"coil", "Coil"}, {"air", "Air"}, {"gauge", "Air by gauge"}, {"none", "Rigid"}}},
		Groups: []group{
			{Case: "coil air gauge", Part: p, Groups: []group{
				{
					ID: p + ".curve", Legend: "How the wheel moves the spring",
					Switch: &toggle{ID: p + ".curve", Legend: "Known by", Folded: "Known in another way", Cases: curveChoices(p)},
					Groups: curves(p),
				},
				coil(p, c),
				air(p, c),
				gauge(p, c),
				{Fields: []field{
					{Path: p + ".sag", Label: "Sag wanted", Hint: "of the wheel's travel: 28 % or 0.28", Kind: share,
						Find: "It is a matter of taste and of ground: the maker's manual has a range. Less is firmer and steadier, more has more grip."},
					{Path: p + ".friction", Label: "Dry friction at the spring", Hint: "20 N or 4.5 lbf; gives the band the sag may lie in",
						Find: "Read the ring twice under the same load: once after settling in slowly, once after pressing down and letting the bike come up slowly. Half the difference in stroke, times the rate of the spring, is the friction."},
				}, More: &group{Legend: "More: damping and a drop", Fields: []field{
					{Path: p + ".damping_ratio", Label: "Damping, of critical", Hint: "about the sag: 0.3; or the coefficient below"},
					{Path: p + ".damping", Label: "Damping at the wheel", Hint: "350 N·s/m or 2 lbf·s/in"},
					{Path: p + ".drop_height", Label: "A drop to ask about", Hint: "that the wheel falls before it touches: 300 mm"},
				}}},
			}},
			{Case: "none", Note: "Nothing is asked of this end, and what needs both ends is left off the sheet."},
		},
	}
}

// coil is the springs at hand.
func coil(p string, c cautions) group {
	coil := p + ".coil."
	return group{Case: "coil", Of: p, Part: p + ".coil", Caution: c.coil, Fields: []field{
		{Path: coil + "shelf", Label: "Springs on the shelf", Hint: "one a line, its rate and how far it compresses before it is solid: 450 lbf/in, 74 mm", Kind: lines, Columns: "rate:quantity,solid_travel:quantity,law:object", Shape: "rows", Heads: "Rate,Solid after", Lines: 6,
			Find: "Both are printed on many springs. How far it compresses is its free length less its length when solid, which is about all its coils times the thickness of the wire. " +
				`A spring whose rate varies is a line of JSON: {"law": {"dual_rate": {"soft_rate": "60 N/mm", "main_rate": "90 N/mm", "soft_travel": "12 mm", "main_travel": "55 mm"}}}; ` +
				"besides dual_rate there are linear_pitch, groups, series and parallel, as the schema of a job describes them."},
	}, More: &group{Legend: "More: collar and spacers", Fields: []field{
		{Path: coil + "preload_min", Label: "Least preload of the collar", Hint: "0.5 mm", Find: "The maker's manual states the range. It counts from where the collar just touches the spring: turns of the collar, times the pitch of its thread."},
		{Path: coil + "preload_max", Label: "Most preload of the collar", Hint: "5 mm"},
		{Path: coil + "thread_pitch", Label: "Pitch of the collar's thread", Hint: "1.5 mm; gives the preload in turns", Find: "Measure over ten turns of thread and divide by ten."},
		{Path: coil + "preload_spacers", Label: "Spacers for the preload", Hint: "at hand, one thickness a line and how many there are of it: 5 mm, 2", Kind: lines, Columns: "thickness:quantity,count:number", Shape: "rows", Heads: "Thickness,How many", Lines: 3,
			Find: "A coil fork has them under its cap, many beside a collar or in place of one. Measure them with a calliper. Without a collar, least and most preload are what the spring has with no spacer in."},
	}}}
}

const whatNegative = "a second chamber that pulls the spring in and makes the first of its travel softer; most springs of today have one"

// air is an air spring whose chambers are known.
func air(p string, c cautions) group {
	air := p + ".air."
	return group{
		Case: "air", Of: p, Part: p + ".air", Caution: c.air,
		Note: "An air spring whose inside you don't know needs none of this: choose “Air by gauge” above.",
		Fields: []field{
			{Path: air + "bore", Label: "Bore", Hint: "diameter of the piston: 36 mm",
				Find: "With the air spring open for service, measure the bore with a calliper. Not open? Choose “Air by gauge” above: it needs no bore."},
			{Path: air + "positive_volume", Label: "Positive chamber", Hint: "empty, at full extension: 290 cm³ or 290 cm3",
				Find: "With the air spring open for service, fill it with water from a measuring cup, and dry it after. Not open? Choose “Air by gauge” above: it needs no volume."},
			{Path: air + "max_fill", Label: "Highest fill marked on the part", Hint: "10 bar or 145 psi", Find: "It stands on the part or in the maker's manual. Nothing above it is ever offered."},
			{Path: air + "exponent", Label: "Exponent of a quick stroke", Hint: "from 1, slow, to 2; about 1.4 is quick"},
		},
		Switch: &toggle{
			ID: p + ".negative", Legend: "Has it a negative chamber?", Question: true,
			Hint:  whatNegative,
			Cases: []choice{{"volume", "Yes, its volume is"}, {"none", "No, none"}},
		},
		Groups: []group{
			{Case: "volume", Fields: []field{
				{Path: air + "negative_volume", Label: "Volume of the negative chamber", Hint: "at full extension: 62 cm³"},
				{Path: air + "shaft", Label: "Shaft", Hint: "diameter, through the negative chamber: 10 mm"},
				{Path: air + "port_travel", Label: "Travel of the port", Hint: "where the chambers share their gas: 7 mm",
					Find: "Cycle the spring slowly by hand from full extension: where a short hiss or a soft step is felt, the chambers share their gas. 0 mm takes it at full extension."},
			}},
			{Case: "none", Fields: []field{{Path: air + "negative_chamber", Label: "Negative chamber", Kind: fixed, Value: string(fit.None)}}},
			{ID: p + ".air.more", Legend: "Its fill and spacers", Fields: []field{
				{Path: air + "fill", Label: "Fill it holds now", Hint: "5.2 bar or 75 psi; the sheet then says the change"},
				{Path: air + "spacer_volume", Label: "One volume spacer", Hint: "8 cm³"},
				{Path: air + "spacers", Label: "Spacers fitted now", Hint: "0, or how many"},
				{Path: air + "max_spacers", Label: "Most spacers that fit", Hint: "5"},
				{Path: air + "full_travel_ratio", Label: "End force wanted", Hint: "at full travel, over the load: 9; then every count of spacers is tried"},
			}, More: &group{Legend: "More about this chamber", Fields: []field{
				{Path: air + "oil_volume", Label: "Oil in the positive chamber", Hint: "8 cm³"},
				{Path: air + "travel", Label: "Travel of the air spring", Hint: "where it is longer than the stroke"},
				{Path: air + "second_volume", Label: "Second chamber", Hint: "behind a free piston"},
				{Path: air + "second_fill", Label: "Fill of the second chamber", Hint: "12 bar"},
				{Path: air + "ambient", Label: "Air pressure around, for this end alone", Hint: "where it differs"},
			}}},
		},
	}
}

// gauge is an air spring whose chambers are not known, but readings of its gauge and of its ring.
func gauge(p string, c cautions) group {
	gauge := p + ".gauge."
	negative := func(value string) []field {
		return []field{{Path: gauge + "negative_chamber", Label: "Negative chamber", Kind: fixed, Value: value}}
	}
	return group{
		Case: "gauge", Of: p, Part: p + ".gauge", Caution: c.air,
		Note: "No chamber needs to be known. Two readings tell a spring without a negative chamber, four one that has it; with fewer the sheet tells the next fill to try.",
		Fields: []field{
			{Path: gauge + "readings", Label: "Fill, ring", Hint: "a reading a line, with the rider on: 70 psi, 46 mm", Kind: lines, Lines: 5, Shape: "rows", Heads: "Gauge shows,Ring at",
				Columns: "fill:quantity,stroke:quantity,rider_mass:quantity,stroke_back:quantity,load:quantity",
				Find:    "Cycle the spring slowly, read the gauge, push the ring to the seal, sit down slowly in riding position, get off gently, and measure from full extension to the ring. Behind it may stand another rider's mass, then the ring after coming up slowly, and instead of a mass the load on the spring."},
			{Path: gauge + "max_fill", Label: "Highest fill marked on the part", Hint: "10 bar or 145 psi", Find: "It stands on the part or in the maker's manual. Nothing above it is ever offered."},
		},
		Switch: &toggle{
			ID: p + ".gauge", Legend: "Has it a negative chamber?", Question: true, Hint: whatNegative + "; let the air out, and the end is drawn in a little by itself",
			Cases: []choice{{string(fit.SelfFilling), "Yes, one that fills itself"}, {string(fit.None), "No, none"}, {"unknown", "I don't know"}},
		},
		Groups: []group{
			{Case: string(fit.SelfFilling), Fields: negative(string(fit.SelfFilling))}, {Case: string(fit.None), Fields: negative(string(fit.None))},
			{Case: "unknown", Note: "Taken as one that fills itself. Let the air out: where the end is drawn in a little by itself, it has one.", Fields: negative(string(fit.SelfFilling))},
		},
		More: &group{Legend: "More about these readings", Fields: []field{
			{Path: gauge + "outside_diameter", Label: "Shaft", Hint: "its diameter; of a spring without a negative chamber the bore: 10 mm",
				Find: "Measure it with a calliper where it comes out of the spring."},
			{Path: gauge + "ring_error", Label: "Error of the ring", Hint: "one standard error: 1 mm"},
			{Path: gauge + "gauge_error", Label: "Error of the gauge", Hint: "one standard error: 1 psi"},
			{Path: gauge + "exponent", Label: "Exponent of a quick stroke", Hint: "from 1, slow, to 2; about 1.4 is quick"},
			{Path: gauge + "ambient", Label: "Air pressure around, for this end alone", Hint: "where it differs"},
		}},
	}
}

// curveKinds are the ways to describe a curve, that of a fork first at the front.
func curveKinds(p string) []linkage.Kind {
	list := linkage.Kinds()
	slices.SortStableFunc(list, func(a, b linkage.Kind) int {
		first := func(k linkage.Kind) int { return map[bool]int{k.Key == "fork": -1}[p == "front"] }
		return first(a) - first(b)
	})
	return list
}

// curveChoices are these for a switch.
func curveChoices(p string) []choice {
	var list []choice
	for _, k := range curveKinds(p) {
		list = append(list, choice{k.Key, k.Label})
	}
	return list
}

// curves are the fields of each kind of curve; one that is not known here is entered
// as JSON.
func curves(p string) []group {
	curve := p + ".curve."
	known := map[string][]field{
		"fork": {
			{Path: curve + "fork.travel", Label: "Travel along the stanchions", Hint: "160 mm or 6.3 in",
				Find: "It stands on many forks and in the manual. Without them: all air out, or the coil out, measure the stanchion from seal to crown at full extension and pushed in to the stop; the difference is the travel."},
			{Path: curve + "fork.head_angle", Label: "Head angle from the horizontal", Hint: "64 deg",
				Find: "From the bike's papers, or an app of a phone that shows angles, laid along the stanchion with the bike level."},
		},
		"constant": {
			{Path: curve + "travel", Label: "Wheel travel, vertical", Hint: "150 mm",
				Find: "From the bike's papers; or with the spring out, the height of the axle above the floor at both ends of the travel, with the frame held still."},
			{Path: curve + "constant", Label: "Lever ratio", Hint: "wheel travel over the stroke of the shock: 2.6",
				Find: "The wheel's travel divided by the stroke of the shock, which stands on the shock or in the bike's papers: 150 mm by 60 mm is 2.5."},
		},
		"table": {
			{Path: curve + "table", Label: "Stroke, wheel travel", Hint: "one point a line, from 0 mm, 0 mm to the end: 5 mm, 14.6 mm; or a lever ratio last, with one of the two alone before it: 5 mm, , 2.9 over the stroke, or , 14.6 mm, 2.9 over the travel; or CSV with its header, such as stroke (mm),travel (mm)",
				Kind: lines, Columns: "stroke:quantity,travel:quantity,lever_ratio:number", Shape: "columns", Lines: 7},
			{Path: curve + "table.method", Label: "Taken as", Kind: pick, Choices: []choice{
				{"", "points to go through, cautiously (monotone)"}, {"smooth", "finely printed points (smooth)"}, {"measured", "readings with errors (measured)"}, {"monotone", "monotone"}}},
		},
		"mechanism": {
			{Path: curve + "mechanism", Label: "Pivots, as JSON", Hint: "points at full extension, x forward and y up from the bottom bracket; the bodies they belong to; axle, shock and stroke", Lines: 8},
		},
	}
	var list []group
	for _, k := range curveKinds(p) {
		fields, ok := known[k.Key]
		if !ok {
			fields = []field{{Path: curve + k.Key, Label: k.Label + ", as JSON", Hint: k.About, Lines: 6}}
		}
		g := group{Case: k.Key, Fields: fields}
		if k.Key == "table" {
			g.More = &group{Legend: "More about readings with errors", Fields: []field{
				{Path: curve + "table.degree", Label: "Degree", Hint: "of the polynomial near them: 3, 4 or 5"}}}
		}
		list = append(list, g)
	}
	return list
}
