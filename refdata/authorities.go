package refdata

import "slices"

// Authority is a program of others that check cases were compared with. Its
// script runs it on every case of the computations that it confirms, and fails
// where one disagrees or is left out, where the package is missing, and where
// the version is another.
type Authority struct {
	Name     string   `json:"name"`
	Version  string   `json:"version"`  // as the program gives it
	Package  string   `json:"package"`  // the Debian package that it was installed from
	Script   string   `json:"script"`   // in testdata/authorities
	Confirms []string `json:"confirms"` // computations, such as "units.convert"
	How      string   `json:"how"`      // what is compared, and to how many digits
}

// Authorities returns every authority of the dataset, in its order. The slice
// is the caller's own.
func Authorities() []Authority {
	list := slices.Clone(authorities().Authorities)
	for i := range list {
		list[i].Confirms = slices.Clone(list[i].Confirms)
	}
	return list
}

var authorities = decoded[struct {
	Schema      string      `json:"schema"`
	Authorities []Authority `json:"authorities"`
}]("authorities.json")
