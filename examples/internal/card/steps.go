package card

// step is one thing to do.
type step struct {
	// when lists what an end must be, such as "air open"; a "!" before a word denies it. See [end.is].
	when string
	do   string // words in braces stand for what the sheet says; see [end.say]
	// blanks are what only the maker's manual or the stand tells, each with its unit behind a comma.
	blanks  []string
	rounds  bool // the readings of the gauge stand behind it
	reads   bool // a blank for each end stands behind it
	caution string
	codes   []string // of the [fit.Caution] that the caution stands for
}

// work are the steps at one end, in order. They are common practice in workshops, with no source.
var work = []step{
	{when: "first", do: "Bike in the stand, weight off: wheels clear of the ground."},
	{when: "unfit", do: "Fit nothing at this end: see the warning beside."},

	{when: "air held", do: "Eye protection on. Gauge: {held} if no air was lost.", blanks: []string{"shows,"}},
	{when: "air !held", do: "Eye protection on. Gauge on.", blanks: []string{"shows,"}},
	{when: "air open", do: "Let all the air out, slowly.",
		caution: "Never open it under pressure. If it stays pulled in, air is still in it: leave it shut.",
		codes:   []string{"air_pressure"}},
	{when: "air open", do: "Air cap off, {change}: {spacers} in it. Cap on.", blanks: []string{"oil,ml", "cap,N·m"}},
	{when: "air !release", do: "Shock pump: {fill}.", blanks: marking, caution: pressure, codes: []string{"air_pressure"}},
	{when: "air release", do: "Let air out to {fill}, slowly, with no load on it.", blanks: marking, caution: pressure, codes: []string{"air_pressure"}},
	{when: "air rounds", do: "Pump off, {cycle}. Set it again. After each cycle:", rounds: true},
	{when: "air !rounds cycled", do: "Pump off, cycle slowly past the port, set it again: until it still shows after a cycle."},

	{when: "coil fork collar", do: "Preload adjuster all the way out."},
	{when: "coil fork", do: "Crown bolts loose as the manual says. Cap of the spring side off, slowly; old spring out.",
		caution: "The spring may push the cap: hold it down, face and fingers out of its line.", codes: []string{"compressed_spring"}},
	{when: "coil !fork", do: "Collar back until the spring is loose. Shock out, old spring out.",
		caution: "A spring that stays tight can injure: a spring compressor made for it, face and fingers out of its line.",
		codes:   []string{"compressed_spring"}},
	{when: "coil", do: "New spring in, marked {rate}."},
	{when: "coil preloaded", do: "Preload spacers in: {stack}."},
	{when: "coil fork", do: "Cap on, crown bolts in.", blanks: []string{"oil,ml", "cap,N·m"}},
	{when: "coil collar turned", do: "Collar on until it just touches the spring, then {turns}: preload {collar}."},
	{when: "coil collar !turned !slack", do: "Collar on until it just touches the spring, then on until the spring is {collar} shorter."},
	{when: "coil collar slack", do: "Collar on until it just touches the spring, no further."},
	{when: "coil !fork", do: "Shock in.", blanks: []string{"bolts,N·m", "clearance,mm"}},
}

// pressure is the caution at the pump, and marking its blank.
const pressure = "Never above it."

var marking = []string{"marking on the part,"}

// last are the steps after the work on either end.
var last = []step{
	{do: "Axles, stem and crown tight.", blanks: []string{"axles,", "stem,", "crown,N·m"},
		caution: "A loose crown can cost the steering: check it before the bike is ridden.", codes: []string{"crown_and_axle"}},
	{do: "Rider on, dressed to ride, sits down slowly. Rings, mm:", reads: true},
	{do: "Ride gently at first. Travel used, mm:", reads: true,
		caution: "A prediction: what the bike shows wins.", codes: []string{"measure_first"}},
}

// foot stands under the steps.
var foot = step{
	caution: "Blanks are for the maker's manual and the stand. The marking on the part and the manual win over every number here. Local rules or a licence come first; if in doubt leave the work to someone qualified.",
	codes:   []string{"marking_wins", "local_rules"},
}
