// Package setup works out the set-up sheet of a whole bike: from a rider, a bike
// and what is at hand to what to fit, and what the bike does then.
//
// [NewSheet] takes a [Job] — rider, bike, and at each end a lever-ratio curve
// with a shelf of coil springs or an air spring — and returns a [Sheet]: loads,
// the recommended spring with its preload or fill with its spacers, predicted
// sag at wheel and shock with the band that friction allows, rates and
// frequency, what is left at full travel, what to measure, warnings and
// cautions. Told more, the sheet also settles both ends together, shows other
// stances, takes a drop, and says how sure it is; what it leaves out it names.
// [ReadJob] reads a job from JSON, [Template] works out many riders of one bike,
// and [Sheet.Working] shows, step by step and with sources, where the headline
// numbers come from.
//
// Not modelled: what package sag does not, and the choice of anything for one
// end with regard to the other.
package setup
