package schema

import (
	"embed"
	"io/fs"
)

//go:embed *-*.schema.json
var documents embed.FS

//go:embed authorities.schema.json cases.schema.json constants.schema.json description.schema.json
//go:embed gases.schema.json materials.schema.json version.schema.json computations
var dataset embed.FS

// Documents returns the schemas of what an app stores and sends: NAME-VERSION.schema.json, as listed above.
func Documents() fs.FS { return documents }

// Dataset returns the schemas of the dataset's files, such as cases.schema.json, and of each computation in
// computations/NAME.schema.json: its properties given and answer.
func Dataset() fs.FS { return dataset }
