package artwork

import (
	"regexp"
	"strings"

	"foamwright/materials/fault"
)

var (
	mark = regexp.MustCompile(`(?i)^[\s_-]*(outline|piece|groove)s?[\s_.-]*[0-9]*[\s_-]*$`)
	// given are the ids and labels that drawing programs give by themselves.
	given = regexp.MustCompile(`(?i)^(?:layer|group|id|g|svg|symbol|use|path|rect|circle|ellipse|line|polyline|polygon|shape|object|xmlid)?[\s_.-]*[0-9\s_.-]*$`)
)

// roleOf is the role that a label or id names.
func roleOf(name string) Role {
	if m := mark.FindStringSubmatch(name); m != nil {
		return Role(strings.ToLower(m[1]))
	}
	return Unmarked
}

// mark takes over what an element says about the role and the name of all in it. Drawing programs keep the label
// of a layer in namespaces of their own, so its local name alone counts.
func (p *place) mark(e *element) {
	label, id := e.find("label", true), e.attr("id")
	for _, name := range []string{label, id} {
		if role := roleOf(name); role != Unmarked && !p.copied {
			p.role = role
			break
		}
	}
	for _, name := range []string{label, title(e), id} {
		if !given.MatchString(name) && roleOf(name) == Unmarked {
			p.name = fault.Shorten(name)
			break
		}
	}
}

// title is what an element's title says, as a viewer shows it when it is pointed at.
func title(e *element) string {
	for _, inner := range e.inside {
		if inner.name == "title" {
			return strings.Join(strings.Fields(inner.text.String()), " ")
		}
	}
	return ""
}
