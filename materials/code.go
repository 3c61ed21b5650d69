package materials

import (
	"strconv"
	"strings"
)

// CodeOf is the code of something new: its name in small letters, with a number where that is taken.
func CodeOf(name string, taken func(code string) bool) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	base := strings.Join(words, "-")
	base = strings.Trim(base[:min(len(base), 35)], "-")
	code := base
	for n := 2; code == "" || taken(code); n++ {
		code = strings.TrimPrefix(base+"-"+strconv.Itoa(n), "-")
	}
	return code
}
