// Package setup works out the set-up sheet of a whole bike: what to fit, and what the bike does then.
//
//	Job ──→ loads ──→ spring or fill of each end ──→ both ends together ──→ Sheet
//	        on the wheels     by package fit           stances, drops, ±     with warnings and what was left out
//
// [NewSheet] takes a [Job]: rider, bike, and at each end a lever-ratio curve with a shelf of coil
// springs, an air spring, or readings of the gauge and the ring of one. It returns a [Sheet] with
// loads, the recommended spring or fill, sag, rates, frequency, what is left at full travel, what to
// measure, warnings and cautions. Where the job has what they need, it also has both ends settled
// together, other stances, a landing and the uncertainty of answers. What was taken for granted is in
// [Sheet.LeftOut], with its effect where that can be told. Values that are far from usual are
// warnings, see [Implausible].
//
// [ReadJob] reads a job from JSON, [Template] works out many riders of one bike, and [Sheet.Working]
// shows the steps to the answers, with sources.
//
// Not modelled: what package sag does not model. Each end is chosen without regard to the other.
package setup
