package sales

import (
	"strconv"

	"foamwright/pricing/words"
)

// In is the number as a document in a tongue prints it: "42 of 2026", "42/2026".
func (n Number) In(t words.Tongue) string {
	if n.No == 0 {
		return ""
	}
	s := t.Say("%s of %s", strconv.Itoa(n.No), strconv.Itoa(n.Year))
	if n.Series != "" {
		s = n.Series + " " + s
	}
	return s
}
