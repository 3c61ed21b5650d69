package api

import (
	"encoding/json"
	"strings"
	"testing"

	"foamwright/materials/fault"
)

// FuzzRead: whatever is sent is either read, and reads the same again when written, or refused with a remedy.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		``, `null`, `[]`, `{`, `{"edit": 1e400}`, `{"edit": -0}`, `{"spec": {"outline": {"width": "56 cm"}}, "edit": 3}`,
		`{"title": "\ud800", "title": null}`, `{"": 1, "customer": "x"}`, `{"spec": null}`, "{\"title\": \"\xff\"}",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := read[quoteEntry](data)
		if err != nil {
			if k := fault.KindOf(err); k != fault.Invalid {
				t.Fatalf("%v: %v", k, err)
			}
			for _, p := range fault.ProblemsOf(err) {
				if !strings.HasSuffix(p.Remedy, ".") || len([]rune(p.Value)) > 60 {
					t.Fatalf("%+v", p)
				}
			}
			return
		}
		written, err := json.Marshal(got)
		if err != nil {
			t.Fatal(err)
		}
		again, err := read[quoteEntry](written)
		if err != nil {
			t.Fatalf("%s: %v", written, err)
		}
		if twice, err := json.Marshal(again); err != nil || string(twice) != string(written) {
			t.Fatalf("%s became %s", written, twice)
		}
	})
}
