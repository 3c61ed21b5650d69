package labour

import (
	"slices"
	"unicode"
	"unicode/utf8"
)

// GroupName is a group of steps as one says it at the bench. A group of the workshop's own is called what it is called.
func GroupName(group string) string {
	switch group {
	case "design":
		return "Drawing and templates"
	case "cut":
		return "Marking and cutting"
	case "glue":
		return "Glueing and laying up"
	case "prep":
		return "Keying the faces"
	case "trim":
		return "Rim, strip and pieces"
	case "edge":
		return "Edges, bonds and gaps"
	case "carve":
		return "Carving"
	case "grip":
		return "Grip and straps"
	case "coat":
		return "Latex and primer"
	case "paint":
		return "Painting"
	case "finish":
		return "Check and pack"
	case "own":
		return "Work of its own"
	case "general":
		return "Setting out, cleaning up"
	}
	first, size := utf8.DecodeRuneInString(group)
	if size == 0 {
		return group
	}
	return string(unicode.ToUpper(first)) + group[size:]
}

// Groups are the groups of a table of steps, in the order of making.
func Groups(steps []Step) []string {
	var all []string
	for _, s := range steps {
		if !slices.Contains(all, s.Group) {
			all = append(all, s.Group)
		}
	}
	return all
}

// LoggedName is what time was logged on, as one says it: a group, or one step by its name.
func LoggedName(steps []Step, logged string) string {
	group := LoggedOn(steps, logged)
	if i := slices.IndexFunc(steps, func(s Step) bool { return s.Code == logged }); i >= 0 && group != logged {
		return steps[i].Name
	}
	return GroupName(group)
}

// LoggedOn is the group that time was logged on: a log names a group, or one of its steps. What is in no table is
// work of the order's own.
func LoggedOn(steps []Step, logged string) string {
	if slices.ContainsFunc(steps, func(s Step) bool { return s.Group == logged }) {
		return logged
	}
	for _, s := range steps {
		if s.Code == logged {
			return s.Group
		}
	}
	return "own"
}
