package sag

// Finding is a stable code for what speaks for or against a spring or a fill.
type Finding string

// The findings.
const (
	OnTarget       Finding = "on_target"
	TooSoft        Finding = "too_soft"        // sags more than wanted
	TooHard        Finding = "too_hard"        // sags less than wanted
	PreloadAtMax   Finding = "preload_at_max"  // would need more than the collar gives
	PreloadAtMin   Finding = "preload_at_min"  // would need less than the collar gives
	GoesSolid      Finding = "goes_solid"      // binds before the end of the stroke
	SolidUnknown   Finding = "solid_unknown"   // where it binds is not known
	HeldAtTop      Finding = "held_at_top"     // preload or fill carries the load with no sag
	Collapses      Finding = "collapses"       // the load takes it to full travel
	FillAtMax      Finding = "fill_at_max"     // would need more than the marking permits
	FillImpossible Finding = "fill_impossible" // no fill above ambient meets the target
	OutOfGeometry  Finding = "out_of_geometry" // the spacers leave too little chamber
	NearestEnd     Finding = "nearest_full"    // nearest to the wanted force at full travel
)

// MostSprings is the most springs that a shelf or a range may hold: far more than any does, and few
// enough that no job takes noticeable time.
const MostSprings = 1000
