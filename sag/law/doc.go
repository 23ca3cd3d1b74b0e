// Package law reads springs of every kind from data: a [Spec] is one spring, or a stack of them, as a
// person can write it down in JSON, and [Kinds.Build] makes the [spring.Law] of it.
//
//	{"linear": …}        one of constant rate      {"series": [ … ]}    on end
//	{"dual_rate": …}     soft, then hard           {"parallel": [ … ]}  side by side
//	{"groups": [ … ]}    progressive, by groups    {"coil": …}          by its wire
//	{"linear_pitch": …}  progressive, by its pitch {"air": …}           by its chambers and fill
//
// Not modelled: friction, damping, and what else packages spring, spring/coil and airspring leave out.
package law
