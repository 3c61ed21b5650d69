package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"reflect"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
)

// read takes a body apart into the entries of T by their JSON names: a string, a *int or a *orderform.Form each.
// Left out and null are the same. It is strict and names all problems at once.
func read[T any](data []byte) (T, error) {
	var out T
	if form, ok := any(&out).(*orderform.Form); ok {
		var err error
		*form, err = orderform.Parse(data)
		return out, err
	}
	v := reflect.ValueOf(&out).Elem()
	known := make([]string, v.NumField())
	for i := range known {
		known[i], _, _ = strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
	}
	var l fault.List
	entries, err := split(data, known)
	if err != nil {
		return out, err
	}
	for i, name := range known {
		if raw := entries[name]; raw != nil && string(raw) != "null" {
			if err := take(&l, name, raw, v.Field(i).Addr().Interface()); err != nil {
				return out, err
			}
		}
		delete(entries, name)
	}
	for _, name := range slices.Sorted(maps.Keys(entries)) {
		l.Add(fault.Shorten(name), "", "There is no such entry. Known here: "+strings.Join(known, ", ")+".")
	}
	return out, l.Err()
}

// split gives the entries of a JSON object as they were written.
func split(data []byte, known []string) (map[string]json.RawMessage, error) {
	var l fault.List
	var entries map[string]json.RawMessage
	if len(bytes.TrimSpace(data)) == 0 {
		l.Add("", "", "There is nothing in it. Send JSON with: "+strings.Join(known, ", ")+".")
		return nil, l.Err()
	}
	err := json.Unmarshal(data, &entries)
	if syntax := (*json.SyntaxError)(nil); errors.As(err, &syntax) {
		_, err = orderform.Parse(data) // says in which line it goes wrong
		return nil, err
	} else if err != nil {
		l.Add("", string(data), "This takes a group of entries, in curly brackets.")
	}
	return entries, l.Err()
}

func take(l *fault.List, name string, raw json.RawMessage, into any) error {
	switch into := into.(type) {
	case *string:
		if json.Unmarshal(raw, into) != nil {
			l.Add(name, string(raw), "This takes text, in quotation marks.")
		}
	case **int:
		if json.Unmarshal(raw, into) != nil {
			l.Add(name, string(raw), "This takes a whole number.")
		}
	case **orderform.Form:
		form, err := orderform.Parse(raw)
		*into = &form
		return l.Take(name, err)
	}
	return nil
}

// inSpec puts what is wrong with a stored spec down to its entry.
func inSpec(err error) error {
	if fault.KindOf(err) != fault.Invalid {
		return err
	}
	var l fault.List
	if err := l.Take("spec", err); err != nil {
		return err
	}
	return l.Err()
}
