package refdata

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"path"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFormat(t *testing.T) {
	in := `{"groups":[{"cases":[{"note":"ä < µ","given":{"b":[1.50,"x"],"a":{"points":{"P":["1 mm","2 mm"]},"note":1,"id":2}},"id":"x","later":[[1],[]],"empty":{}}],"standing":"computed"}],"schema":"s"}`
	want := `{
  "schema": "s",
  "groups": [
    {
      "standing": "computed",
      "cases": [
        {
          "id": "x",
          "given": {
            "b": [1.50, "x"],
            "a": {
              "points": {
                "P": ["1 mm", "2 mm"]
              },
              "note": 1,
              "id": 2
            }
          },
          "note": "ä < µ",
          "later": [
            [1],
            []
          ],
          "empty": {}
        }
      ]
    }
  ]
}
`
	got, err := Format([]byte(in))
	require.NoError(t, err)
	if string(got) != want {
		t.Errorf("got\n%s", got)
	}
	for _, bad := range []string{``, `{`, `{"a":1}{}`, `{"a":1,}`, `[1 2]`, `nul`, strings.Repeat("[", 101) + strings.Repeat("]", 101)} {
		if out, err := Format([]byte(bad)); err == nil {
			t.Errorf("%s: no error, %s", bad, out)
		}
	}
}

// Every file of the dataset is in canonical form.
func TestCanonical(t *testing.T) {
	for name, fsys := range map[string]fs.FS{"data": Data(), "schema": Schema()} {
		files := 0
		require.NoError(t, fs.WalkDir(fsys, ".", func(file string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			if file == "CHANGELOG.md" {
				return nil // made by go generate; see TestVersion
			}
			if path.Ext(file) != ".json" {
				t.Errorf("%s/%s is no JSON", name, file)
				return nil
			}
			files++
			got, err := fs.ReadFile(fsys, file)
			require.NoError(t, err)
			want, err := Format(got)
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s/%s is not in canonical form (%v): run go generate ./refdata", name, file, err)
			}
			return nil
		}))
		if files < 4 {
			t.Errorf("%s has %d files", name, files)
		}
	}
}

// FuzzFormat holds that formatting changes no value and, done twice, nothing.
func FuzzFormat(f *testing.F) {
	f.Add([]byte(`{"schema":[1e5,{"a":[[],{}]}],"id":"<\u00e4\ud800"}`))
	f.Fuzz(func(t *testing.T, in []byte) {
		once, err := Format(in)
		if err != nil {
			return
		}
		a, errA := withNumbers(in)
		b, errB := withNumbers(once)
		if errA != nil || errB != nil {
			t.Fatalf("%q (%v) became %q (%v)", in, errA, once, errB)
		}
		if !reflect.DeepEqual(a, b) {
			t.Errorf("%q became %q", in, once)
		}
		if twice, err := Format(once); err != nil || !bytes.Equal(once, twice) {
			t.Errorf("%q became %q (%v)", once, twice, err)
		}
	})
}

// withNumbers decodes JSON and leaves numbers as they are written.
func withNumbers(data []byte) (v any, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	err = d.Decode(&v)
	return v, err
}
