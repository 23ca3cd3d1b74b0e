// Package rows is a set-up sheet as text for people, line by line.
//
// [Of] turns a [setup.Sheet] into rows: label, number in metric and in customary units, and note,
// under the sections of a printed sheet. A program prints them, lays them out as tables, or sends
// them as JSON. [Pick] takes a section out, and [Pairs] puts front and rear side by side.
//
// Not modelled: other languages than English, for which a program reads the sheet or the values of
// each row; the ranked lists of springs and of numbers of spacers.
package rows
