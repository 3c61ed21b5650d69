package orderform

import (
	"net/url"
	"strings"
)

// With is the form with some entries written anew, by path: "core.layers" to "2". An entry written as nothing is
// taken away with everything below it: "gems" to "" leaves no gem. Faults name what cannot be read.
func (f Form) With(changes map[string]string) (Form, error) {
	v := url.Values{}
	for path, typed := range f.Fields() {
		if !taken(path, changes) {
			v.Set(path, typed)
		}
	}
	for path, typed := range changes {
		if strings.TrimSpace(typed) != "" {
			v.Set(path, typed)
		}
	}
	return FromValues(v)
}

// taken tells that a path, or a group it is in, is written anew.
func taken(path string, changes map[string]string) bool {
	for {
		if _, ok := changes[path]; ok {
			return true
		}
		at := strings.LastIndexByte(path, '.')
		if at < 0 {
			return false
		}
		path = path[:at]
	}
}
