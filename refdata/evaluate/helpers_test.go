package evaluate

// file wraps groups into a case file, and group wraps cases into one.
func file(groups string) string {
	return `{"schema":"wheelrate/cases/1","subject":"test","groups":[` + groups + `]}`
}

func group(cases string) string { return `{"standing":"common practice","cases":[` + cases + `]}` }

func aCase(id string) string {
	return `{"id":"` + id + `","computes":"units.convert","given":{"kind":"length","value":"1 in"},"expect":{"value":"25.4 mm"}}`
}
