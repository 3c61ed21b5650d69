package pattern

import (
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
)

// Whatever outline and name come, templates are printed or it is said why not.
func FuzzTemplates(f *testing.F) {
	f.Add("M0 0H400V300H0Z", "board", 10.0, "a4")
	f.Add("M0 0L1 0L0 0Z", "\x00\u202e", 5.0, "letter")
	f.Add("M0 0A9e4 9e4 0 0 1 5 5Z M-9 -9C1 2 3 4 5 6", strings.Repeat("щ", 99), 50.0, "a3")
	f.Fuzz(func(t *testing.T, d, name string, overlap float64, paper string) {
		path, err := geom.ParsePath(d)
		if err != nil {
			return
		}
		p := Pattern{Set: clean(name), Name: clean(name), Count: 1}
		p.outline(path)
		pages, err := Tile([]Pattern{p}, Layout{Paper: paper, Overlap: overlap})
		if fault.KindOf(err) != fault.Internal {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if len(pages) > 20 { // writing many is slow and nothing new
			return
		}
		if _, err := PDF(head, pages); err != nil {
			t.Fatal(err)
		}
		if _, err := SVG(p); err != nil {
			t.Fatal(err)
		}
	})
}
