package artwork

import (
	"regexp"
	"strings"
)

// stylesheet holds the rules of a file's style elements by selector. Only what drawing files use is read:
// selectors of one type, class or id.
type stylesheet struct {
	rules  map[string]properties
	count  int  // of the rules read so far
	passed bool // whether a rule that matters has another kind of selector
}

// properties are those of one selector or element.
type properties map[string]declared

// declared is a value and what it wins over: every lower rank.
type declared struct {
	value string
	rank  int
}

// Ranks: an attribute of its own, then rules by any, type, class and id in the order of the file, then the style
// attribute; over all what is !important.
const (
	anyRank = iota << 24
	typeRank
	classRank
	idRank
	styleRank
	importantRank
	attributeRank = -1
)

var (
	comment  = regexp.MustCompile(`(?s)/\*.*?\*/|<!--|-->`)
	selector = regexp.MustCompile(`^(?:\*|[.#]?[^\s.#:>+~*\[\]]+)$`)
)

// heeded are the properties that decide what is cut and its colour.
func heeded(property string) bool {
	switch property {
	case "fill", "fill-rule", "display", "visibility", "transform", "transform-origin", "clip-path", "mask":
		return true
	}
	return false
}

// read adds the rules of one style element. Those for some media only are passed over.
func (s *stylesheet) read(css string) {
	css = comment.ReplaceAllString(css, "")
	for {
		head, rest, more := strings.Cut(css, "{")
		if !more {
			return
		}
		body, depth := 0, 1
		for ; body < len(rest) && depth > 0; body++ {
			switch rest[body] {
			case '{':
				depth++
			case '}':
				depth--
			}
		}
		head = head[strings.LastIndexByte(head, ';')+1:] // an @import may stand before it
		if !strings.Contains(head, "@") {
			s.rule(head, strings.TrimSuffix(rest[:body], "}"))
		}
		css = rest[body:]
	}
}

func (s *stylesheet) rule(selectors, body string) {
	s.count++
	for _, name := range strings.Split(selectors, ",") {
		name = strings.TrimSpace(name)
		into, rank := s.rules[name], typeRank
		if into == nil {
			into = properties{}
		}
		switch {
		case !selector.MatchString(name):
			into.read(body, 0)
			s.passed = s.passed || len(into) > 0
			continue
		case name == "*":
			rank = anyRank
		case name[0] == '.':
			rank = classRank
		case name[0] == '#':
			rank = idRank
		}
		into.read(body, rank+s.count)
		s.rules[name] = into
	}
}

// read takes in "a: b; c: d", of what is heeded.
func (p properties) read(text string, rank int) {
	for _, part := range strings.Split(text, ";") {
		name, value, _ := strings.Cut(part, ":")
		name = strings.ToLower(strings.TrimSpace(name))
		if !heeded(name) {
			continue
		}
		d := declared{strings.TrimSpace(value), rank}
		if v, important := strings.CutSuffix(d.value, "!important"); important {
			d = declared{strings.TrimSpace(v), rank + importantRank}
		}
		p.put(name, d)
	}
}

func (p properties) put(name string, d declared) {
	if old, set := p[name]; !set || d.rank >= old.rank {
		p[name] = d
	}
}

// of is what holds for an element itself, before anything is handed down.
func (s *stylesheet) of(e *element) properties {
	p := properties{}
	for _, a := range e.attrs {
		if a.Name.Space == "" && heeded(a.Name.Local) && a.Name.Local != "transform" {
			p.put(a.Name.Local, declared{strings.TrimSpace(a.Value), attributeRank})
		}
	}
	if len(s.rules) > 0 {
		names := []string{"*", e.name, "#" + e.attr("id")}
		for _, class := range strings.Fields(e.attr("class")) {
			names = append(names, "."+class)
		}
		for _, name := range names {
			for property, d := range s.rules[name] {
				p.put(property, d)
			}
		}
	}
	p.read(e.attr("style"), styleRank)
	return p
}
