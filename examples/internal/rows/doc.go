// Package rows is a set-up sheet as text for people, line by line.
//
// [Of] turns a [setup.Sheet] into rows: label, number in metric and in customary units, and note,
// under the sections of a printed sheet. A program prints them, lays them out as tables, or sends
// them as JSON. [Pick] takes a section out, and [Pairs] puts front and rear side by side.
//
// Not modelled: languages other than English, for which a program takes the numbers from the sheet or
// from [Row.Values]; the ranked lists of springs and of numbers of spacers.
package rows
