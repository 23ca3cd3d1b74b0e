package main

import "example.com/wheelrate/sag/visit"

// today is what a visit says of the day and the rider.
func today() group {
	return group{
		ID: "today", Legend: "Today",
		Fields: []field{
			{Path: "date", Label: "Date of the visit", Hint: "such as 2026-11-26"},
			{Path: "rider_mass", Label: "Another rider, or other kit", Hint: "all of it together: 90 kg; otherwise the rider is that of the record"},
			{Path: "conditions.temperature", Label: "Temperature", Hint: "of the bike: 12 °C or 54 °F; with the altitude, where an end has an air spring",
				Find: "The bike's own, after half an hour in the shade where it is set up or ridden."},
			{Path: "conditions.altitude", Label: "Altitude", Unit: "m|ft", Hint: "300 m or 1000 ft; 0 m at the sea"},
		},
	}
}

// found is what a visit finds at one end.
func found(p, legend string) group {
	return group{
		ID: p + "-found", Legend: legend,
		Fields: []field{
			{Path: p + ".readings", Label: "Ring at rest", Hint: "one reading a line, how far along the stroke and by how much it may be off: 36 mm, 1 mm", Kind: lines, Columns: "stroke:quantity,error:quantity", Shape: "rows", Heads: "Ring at,Off by at most", Lines: 3,
				Find: "Push the ring to the seal, get on gently with all your kit, settle in your stance, get off gently, and measure from the seal to the ring. Once sitting down slowly and once coming up slowly shows what friction hides."},
			{Path: p + ".ride.stroke", Label: "Ring after the ride", Hint: "the deepest of the ride: 128 mm"},
			{Path: p + ".ride.error", Label: "Off by at most", Hint: "how well it could be read: 2 mm"},
			{Path: p + ".fill", Label: "Fill it holds today", Hint: "of an air spring, before a pump's hose takes some: 84 psi"},
			{Path: p + ".felt", Label: "How it felt", Kind: pick, Choices: []choice{
				{"", "not said"}, {string(visit.FeltTooSoft), "too soft"}, {string(visit.FeltRight), "right"}, {string(visit.FeltTooHard), "too hard"}}},
		},
	}
}
