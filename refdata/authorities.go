package refdata

import (
	"example.com/wheelrate/units/strictjson"
)

// Authority is a program that this library had no part in and that check cases
// were held against. The script runs it on every case of the computations that
// it confirms, and fails where one disagrees or is left out, where the package
// is missing, and where the version is another than the one named here.
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
	list, err := readAuthorities()
	if err != nil {
		return nil
	}
	return list
}

// readAuthorities reads the embedded file, which the tests hold to be right.
func readAuthorities() ([]Authority, error) {
	text, err := data.ReadFile("data/authorities.json")
	if err != nil {
		return nil, err
	}
	var file struct {
		Schema      string      `json:"schema"`
		Authorities []Authority `json:"authorities"`
	}
	if err := strictjson.Unmarshal("refdata", text, &file); err != nil {
		return nil, err
	}
	return file.Authorities, nil
}
