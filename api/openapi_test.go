package api_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"foamwright/api"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestDocumentIsAsReviewed(t *testing.T) {
	s := open(t, api.MaxBody)
	a := s.ask("GET", "/openapi.json", "", "", nil).want(200, nil)
	var got bytes.Buffer
	s.must(json.Indent(&got, []byte(a.body), "", " "))
	got.WriteByte('\n')
	golden := filepath.Join("testdata", "openapi.json")
	if *update {
		s.must(os.WriteFile(golden, got.Bytes(), 0o644))
	}
	want, err := os.ReadFile(golden)
	s.must(err)
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the OpenAPI document is not %s: look at the difference, then go test ./api -update", golden)
	}
}

// TestSpecsAreAsDocumented holds a full spec, and entries that the reader takes or refuses, to the schema.
func TestSpecsAreAsDocumented(t *testing.T) {
	d := open(t, api.MaxBody).document
	want := d.Paths["/estimate"]["post"].RequestBody.Content["application/json"].Schema
	if err := d.holds(want, heron(t)); err != nil {
		t.Error(err)
	}
	for body, ok := range map[string]bool{
		`{"outline": {"width": 560}}`:             true,
		`{"outline": {"width": "56 cm"}}`:         true,
		`{"outline": {"width": true}}`:            false,
		`{"grip": {"thumb_guard": true}}`:         true,
		`{"outline": {"wide": 560}}`:              false,
		`{"pieces": {"0": {"name": "heron"}}}`:    false,
		`{"pieces": [{"at": {"x": 1, "y": -2}}]}`: true,
	} {
		if err := d.holds(want, []byte(body)); (err == nil) != ok {
			t.Errorf("%s: %v", body, err)
		}
	}
}
