package schema_test

import (
	"encoding/json"
	"fmt"
	"io/fs"

	"example.com/wheelrate/refdata/schema"
)

// A field's description is the hint beside it in a form.
func ExampleDocuments() {
	text, err := fs.ReadFile(schema.Documents(), "job-1.schema.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	var job struct {
		ID         string `json:"$id"`
		Required   []string
		Properties map[string]struct{ Description string }
	}
	if err := json.Unmarshal(text, &job); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(job.ID)
	fmt.Println("required:", job.Required)
	fmt.Println("note:", job.Properties["note"].Description)
	// Output:
	// https://example.com/wheelrate/schema/job-1.schema.json
	// required: [schema masses]
	// note: for people; repeated on the sheet
}

func ExampleDataset() {
	names, err := fs.Glob(schema.Dataset(), "computations/spring.c*")
	fmt.Println(names, err)
	// Output: [computations/spring.caliper.schema.json computations/spring.coil.schema.json] <nil>
}
