package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
)

// read takes a body apart into the entries of T by their JSON names: a string, a bool, an int, a *int, a
// *orderform.Form, a list of texts each, or a group of such or a list of groups. Left out and null are the same. It is strict and names all
// problems at once, in a list by its place: packs.0.offer.
func read[T any](data []byte) (T, error) {
	var out T
	if form, ok := any(&out).(*orderform.Form); ok {
		var err error
		*form, err = orderform.Parse(data)
		return out, err
	}
	var l fault.List
	if err := group(&l, "", data, reflect.ValueOf(&out).Elem()); err != nil {
		return out, err
	}
	return out, l.Err()
}

// group reads the entries of one group; path stands before their names.
func group(l *fault.List, path string, data []byte, v reflect.Value) error {
	fields := slices.DeleteFunc(reflect.VisibleFields(v.Type()), func(f reflect.StructField) bool { return f.Anonymous })
	known := make([]string, len(fields))
	for i, f := range fields {
		known[i], _, _ = strings.Cut(f.Tag.Get("json"), ",")
	}
	entries, err := split(data, known)
	if err != nil {
		return l.Take(strings.TrimSuffix(path, "."), err)
	}
	for i, name := range known {
		if raw := entries[name]; raw != nil && string(raw) != "null" {
			if err := take(l, path+name, raw, v.FieldByIndex(fields[i].Index)); err != nil {
				return err
			}
		}
		delete(entries, name)
	}
	for _, name := range slices.Sorted(maps.Keys(entries)) {
		l.Add(path+fault.Shorten(name), "", "There is no such entry. Known here: "+strings.Join(known, ", ")+".")
	}
	return nil
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

func take(l *fault.List, name string, raw json.RawMessage, v reflect.Value) error {
	refused := ""
	switch into := v.Addr().Interface().(type) {
	case *string:
		refused = "This takes text, in quotation marks."
	case *bool:
		refused = "This takes true or false."
	case *int, **int:
		refused = "This takes a whole number."
	case *[]string:
		refused = "This takes a list of texts."
	case *[]int:
		refused = "This takes a list of whole numbers."
	case **orderform.Form:
		form, err := orderform.Parse(raw)
		*into = &form
		return l.Take(name, err)
	default:
		if v.Kind() == reflect.Struct {
			return group(l, name+".", raw, v)
		}
		return list(l, name, raw, v)
	}
	if json.Unmarshal(raw, v.Addr().Interface()) != nil {
		l.Add(name, string(raw), refused)
	}
	return nil
}

// list reads a list of groups.
func list(l *fault.List, name string, raw json.RawMessage, v reflect.Value) error {
	var elements []json.RawMessage
	if json.Unmarshal(raw, &elements) != nil {
		l.Add(name, string(raw), "This takes a list, in square brackets.")
		return nil
	}
	v.Set(reflect.MakeSlice(v.Type(), len(elements), len(elements)))
	for i, element := range elements {
		if err := group(l, name+"."+strconv.Itoa(i)+".", element, v.Index(i)); err != nil {
			return err
		}
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
