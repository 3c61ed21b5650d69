package web_test

import (
	"encoding/xml"
	"slices"
	"strings"
)

// sight is a page as a person sees it.
type sight struct {
	fields   map[string]string // name of an entry -> what is in it
	remedies map[string]string // name of an entry, or "" for a form -> what to change
	tags     map[string]int
	text     strings.Builder
}

// group is a label or a table row: what belongs to one entry.
type group struct {
	tag, name string
	remedies  []string
}

// see is the page of the reply.
func (a reply) see() *sight {
	a.t.Helper()
	if a.seen == nil {
		a.t.Fatalf("%d, no page but %s", a.StatusCode, a.Header.Get("Content-Type"))
	}
	return a.seen
}

// look reads a page. Its markup must close what it opens, which encoding/xml checks on the way.
func (a reply) look() *sight {
	a.t.Helper()
	s := &sight{fields: map[string]string{}, remedies: map[string]string{}, tags: map[string]int{}}
	d := xml.NewDecoder(strings.NewReader(a.body))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var open []string // elements
	groups := []*group{{}}
	var area, list string // entries that are open: a textarea, a select
	remedy := 0           // depth of the element with a remedy
	for {
		token, err := d.Token()
		if token == nil {
			if len(open) > 0 {
				a.t.Errorf("the page ends inside %v: %v", open, err)
			}
			return s
		}
		switch e := token.(type) {
		case xml.StartElement:
			tag := e.Name.Local
			open = append(open, tag)
			s.tags[tag]++
			at := attributes(e)
			name := at["name"]
			if tag == "label" || tag == "tr" {
				groups = append(groups, &group{tag: tag})
			}
			if strings.Contains(" "+at["class"]+" ", " remedy ") {
				remedy = len(open)
			}
			switch tag {
			case "textarea":
				area = name
				s.fields[name] = ""
			case "select":
				list = name
			case "option":
				if _, chosen := at["selected"]; chosen || s.fields[list] == "" && !has(s.fields, list) {
					s.fields[list] = at["value"]
				}
			case "input":
				_, checked := at["checked"]
				if kind := at["type"]; checked || kind != "checkbox" && kind != "radio" {
					s.fields[name] = at["value"]
				}
			}
			if last := groups[len(groups)-1]; last.name == "" && slices.Contains([]string{"input", "select", "textarea"}, tag) {
				last.name = name
			}
		case xml.CharData:
			text := string(e)
			if area != "" {
				s.fields[area] += text
			}
			if last := groups[len(groups)-1]; remedy > 0 && strings.TrimSpace(text) != "" {
				last.remedies = append(last.remedies, strings.TrimSpace(text))
			}
			s.text.WriteString(text + " ")
		case xml.EndElement:
			tag := e.Name.Local
			if len(open) == 0 || open[len(open)-1] != tag {
				a.t.Fatalf("%s closes while %v are open", tag, open)
			}
			if remedy == len(open) {
				remedy = 0
			}
			open = open[:len(open)-1]
			if tag == "textarea" {
				area = ""
			}
			if last := groups[len(groups)-1]; last.tag == tag && tag != "" {
				groups = groups[:len(groups)-1]
				if last.name == "" {
					groups[len(groups)-1].remedies = append(groups[len(groups)-1].remedies, last.remedies...)
				} else if len(last.remedies) > 0 {
					s.remedies[last.name] = strings.Join(last.remedies, " ")
				}
			}
			if len(open) == 0 {
				s.remedies[""] = strings.Join(groups[0].remedies, " ")
			}
		}
	}
}

func attributes(e xml.StartElement) map[string]string {
	at := map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
	}
	return at
}

func has(m map[string]string, name string) bool {
	_, ok := m[name]
	return ok
}

// fields are the entries of a page and what is in them; nothing for what is no page.
func (a reply) fields() map[string]string {
	a.t.Helper()
	if a.seen == nil {
		return nil
	}
	return a.seen.fields
}

// words are the text of a page in one line.
func (a reply) words() string {
	a.t.Helper()
	if a.seen == nil {
		return a.body
	}
	return strings.Join(strings.Fields(a.seen.text.String()), " ")
}
