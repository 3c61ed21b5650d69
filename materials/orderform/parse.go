package orderform

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"foamwright/materials/fault"
)

// Limits of a written spec.
const (
	MaxBytes = 1 << 20
	maxRows  = 60
	mostTold = 100 // problems at once
)

// Parse reads a spec written as JSON. Entries that do not exist are named with their path, all at once.
func Parse(data []byte) (Form, error) {
	var f Form
	if len(data) > MaxBytes {
		return f, fault.New(fault.TooLarge, "The spec is larger than 1 MB. Draw pieces with fewer points.")
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return f, refuse("", "There is nothing in it. Write a spec with at least outline and core.")
	}
	var whole json.RawMessage
	if err := json.Unmarshal(data, &whole); err != nil {
		return f, refuse("", notJSON(data, err))
	}
	dec := json.NewDecoder(bytes.NewReader(whole))
	dec.UseNumber() // 1e999 is for its entry to refuse, by name
	tree, err := decode(dec)
	if err != nil {
		return f, refuse("", notJSON(data, err))
	}
	var l fault.List
	match(&l, "", tree, reflect.TypeOf(f))
	if err := l.Err(); err != nil {
		return f, err
	}
	if err := json.Unmarshal(data, &f); err != nil {
		return f, refuse("", notJSON(data, err))
	}
	return f, nil
}

// group is a JSON object as it was written: in order, with entries that are there twice.
type group []struct {
	name  string
	value any
}

// decode reads one JSON value: a group, a list, or one text, number, true, false or null.
func decode(dec *json.Decoder) (any, error) {
	start, err := dec.Token()
	if err != nil || start != json.Delim('{') && start != json.Delim('[') {
		return start, err
	}
	var g group
	list := []any{}
	for dec.More() {
		name := ""
		if start == json.Delim('{') {
			key, err := dec.Token()
			if err != nil {
				return nil, err
			}
			name, _ = key.(string)
		}
		v, err := decode(dec)
		if err != nil {
			return nil, err
		}
		g = append(g, struct {
			name  string
			value any
		}{name, v})
		list = append(list, v)
	}
	_, err = dec.Token()
	if start == json.Delim('[') {
		return list, err
	}
	return g, err
}

// match walks the JSON beside the form and notes what the form has no place for.
func match(l *fault.List, path string, v any, t reflect.Type) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case v == nil:
	case t == reflect.TypeOf(Text{}) || t == reflect.TypeOf(Size{}):
		switch v.(type) {
		case group, []any:
			l.Add(path, "", "This takes one text or number, not a list or a group.")
		}
	case t.Kind() == reflect.Slice:
		rows, ok := v.([]any)
		if !ok {
			l.Add(path, written(v), "This takes a list, in square brackets.")
			return
		}
		if len(rows) > maxRows {
			l.Add(path, fmt.Sprint(len(rows)), fmt.Sprintf("At most %d entries here.", maxRows))
			return
		}
		for i, row := range rows {
			match(l, fmt.Sprintf("%s.%d", path, i), row, t.Elem())
		}
	default:
		g, ok := v.(group)
		if !ok {
			l.Add(path, written(v), "This takes a group of entries, in curly brackets.")
			return
		}
		known, seen := names(t), map[string]bool{}
		for _, e := range g {
			if l.Len() == mostTold {
				l.Add("", "", "There may be more. Put these right first.")
			}
			if l.Len() > mostTold {
				return
			}
			at := join(path, fault.Shorten(e.name))
			i := slices.Index(known, e.name)
			switch {
			case seen[e.name]:
				l.Add(at, "", "This entry is written twice. Keep one of them.")
			case i < 0:
				l.Add(at, "", "There is no such entry. Known here: "+strings.Join(known, ", ")+".")
			default:
				match(l, at, e.value, t.Field(i).Type)
			}
			seen[e.name] = true
		}
	}
}

// written is a value as it stands in the spec; a group or a list says nothing in a line.
func written(v any) string {
	switch v.(type) {
	case group, []any:
		return ""
	}
	return fmt.Sprint(v)
}

func names(t reflect.Type) []string {
	out := make([]string, t.NumField())
	for i := range out {
		out[i] = tagName(t.Field(i))
	}
	return out
}

func tagName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name
}

func join(path, name string) string { return strings.TrimPrefix(path+"."+name, ".") }

// notJSON says where JSON stops being JSON, in words.
func notJSON(data []byte, err error) string {
	var syntax *json.SyntaxError
	if !errors.As(err, &syntax) {
		return "This is not a spec in JSON."
	}
	before := data[:min(int(syntax.Offset), len(data))]
	line := bytes.Count(before, []byte("\n")) + 1
	return fmt.Sprintf("This is not JSON: it breaks off or goes wrong in line %d, character %d.", line, len(before)-bytes.LastIndexByte(before, '\n')-1)
}

func refuse(field, remedy string) error {
	var l fault.List
	l.Add(field, "", remedy)
	return l.Err()
}
