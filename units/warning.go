package units

// Warning says that an answer stands but something about it needs attention:
// a limit that is passed, an assumption that does not hold. Warnings are data
// with a stable code, so that a program can act on one or show it in its own
// language.
type Warning struct {
	Code   string `json:"code"`             // stable, such as "goes_solid"
	Field  string `json:"field,omitempty"`  // what it concerns: a field's name or path, or an end of the bike
	Value  string `json:"value,omitempty"`  // what was found, with its unit
	Limit  string `json:"limit,omitempty"`  // what it was held against, with its unit
	Text   string `json:"text"`             // for people
	Source string `json:"source,omitempty"` // of the limit; empty where it follows from the job itself
}
