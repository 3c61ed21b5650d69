package orderform

import "strings"

// Differs is what has to be written anew for the form to become another: With the other way round.
func (f Form) Differs(other Form) map[string]string {
	was, is := f.Fields(), other.Fields()
	changes := map[string]string{}
	for path, typed := range is {
		if was[path] != typed {
			changes[path] = typed
		}
	}
	for path := range was {
		if _, kept := is[path]; kept {
			continue
		}
		// The whole group where nothing is left of it, "gems" rather than each of their entries.
		for at := strings.LastIndexByte(path, '.'); at >= 0 && !below(is, path[:at]); at = strings.LastIndexByte(path, '.') {
			path = path[:at]
		}
		changes[path] = ""
	}
	return changes
}

// below tells that something is written in a group.
func below(fields map[string]string, group string) bool {
	for path := range fields {
		if strings.HasPrefix(path, group+".") {
			return true
		}
	}
	return false
}
