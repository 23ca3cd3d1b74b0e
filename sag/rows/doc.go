// Package rows is a set-up sheet as text for people, line by line.
//
// [Of] turns a [setup.Sheet] into rows: label, number in metric and in customary units, and what
// belongs to both, under the sections of a printed sheet. A program prints them, lays them out as
// tables, or sends them as JSON; what a sheet has to say is listed here alone. [Pick] takes a
// section out, and [Pairs] puts front and rear side by side.
//
// Not modelled: other languages than English, for which a program reads the sheet itself or the
// values that each row carries; the ranked lists of all springs and all counts of spacers, which
// are tables.
package rows
