package pdf

import (
	"bytes"
	"fmt"
	"time"
)

// finish writes into the finished file what the library cannot: its language, that its title is shown, and the
// sheet's date as the date of its last change, for which the library takes the clock. The catalogue is the last
// object, so nothing that the cross-reference table points to moves; only the table itself does (ISO 32000-1,
// 7.5.4 to 7.7.2, from memory).
func finish(doc []byte, language string, date time.Time) ([]byte, error) {
	const (
		changed = "/ModDate (D:"
		stamp   = "20060102150405"
		root    = "/Type /Catalog\n"
		table   = "\nstartxref\n"
	)
	mod, catalog, start := bytes.LastIndex(doc, []byte(changed)), bytes.LastIndex(doc, []byte(root)), bytes.LastIndex(doc, []byte(table))
	xref := bytes.LastIndex(doc, []byte("\nxref\n")) + 1
	if mod < 0 || catalog < mod || xref < catalog || start < xref {
		return nil, fmt.Errorf("a document of %d bytes without a catalogue at its end", len(doc))
	}
	copy(doc[mod+len(changed):], date.UTC().Format(stamp))
	entries := fmt.Sprintf("/Lang (%s)\n/ViewerPreferences <</DisplayDocTitle true>>\n", language)
	var out bytes.Buffer
	out.Grow(len(doc) + len(entries) + 8)
	out.Write(doc[:catalog+len(root)])
	out.WriteString(entries)
	out.Write(doc[catalog+len(root) : start])
	fmt.Fprintf(&out, "%s%d\n%%%%EOF\n", table, xref+len(entries))
	return out.Bytes(), nil
}
