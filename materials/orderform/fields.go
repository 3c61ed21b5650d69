package orderform

import (
	"encoding/json"
	"fmt"
	"net/url"
	"reflect"
	"sort"
	"strconv"
	"strings"
)

// FromValues reads the fields of a page, named by path: "outline.width", "pieces.0.name". Rows and groups
// whose telling entry was left empty are not there.
func FromValues(v url.Values) (Form, error) {
	tree := map[string]any{}
	for name, typed := range v {
		if len(typed) == 0 || strings.TrimSpace(typed[0]) == "" {
			continue
		}
		put(tree, strings.Split(name, "."), strings.TrimSpace(typed[0]))
	}
	prune(tree)
	data, err := json.Marshal(rows(tree))
	if err != nil {
		return Form{}, err
	}
	if len(tree) == 0 {
		return Form{}, nil
	}
	return Parse(data)
}

// Fields is the form as named fields, the other way round.
func (f Form) Fields() map[string]string {
	flat := map[string]string{}
	flatten(flat, "", reflect.ValueOf(f))
	return flat
}

func flatten(flat map[string]string, path string, v reflect.Value) {
	if s, ok := v.Interface().(fmt.Stringer); ok && v.Kind() == reflect.Struct {
		if typed := s.String(); typed != "" {
			flat[path] = typed
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			flatten(flat, path, v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			flatten(flat, fmt.Sprintf("%s.%d", path, i), v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			flatten(flat, join(path, tagName(v.Type().Field(i))), v.Field(i))
		}
	}
}

// telling names, for each group or row a page always sends, the entry without which it is not there.
func prune(tree map[string]any) {
	dropUnless(tree, "rim", "width")
	dropUnless(tree, "edge", "foam")
	if back, ok := tree["back"].(map[string]any); ok {
		dropUnless(back, "seam_strip", "width")
	}
	for list, telling := range map[string][]string{"pieces": {"d", "name"}, "gems": {"width", "height", "count"}, "grooves": {"length", "d"}, "paint": {"colour"}, "parts": {"d", "name", "width"}, "steps": {"name", "minutes"}} {
		rows, _ := tree[list].(map[string]any)
		for i := range rows {
			dropUnless(rows, i, telling...)
		}
		if len(rows) == 0 {
			delete(tree, list)
		}
	}
}

func dropUnless(tree map[string]any, key string, telling ...string) {
	group, _ := tree[key].(map[string]any)
	for _, t := range telling {
		if _, ok := group[t]; ok {
			return
		}
	}
	delete(tree, key)
}

func put(tree map[string]any, path []string, typed string) {
	if len(path) == 1 || len(path) > 6 {
		tree[strings.Join(path, ".")] = typed
		return
	}
	inner, ok := tree[path[0]].(map[string]any)
	if !ok {
		inner = map[string]any{}
		tree[path[0]] = inner
	}
	put(inner, path[1:], typed)
}

// rows turns groups named 0, 1, 2 into lists.
func rows(v any) any {
	group, ok := v.(map[string]any)
	if !ok {
		return v
	}
	var at []int
	for k, inner := range group {
		group[k] = rows(inner)
		if n, err := strconv.Atoi(k); err == nil {
			at = append(at, n)
		}
	}
	if len(at) == 0 || len(at) != len(group) {
		return group
	}
	sort.Ints(at)
	list := make([]any, len(at))
	for i, n := range at {
		list[i] = group[strconv.Itoa(n)]
	}
	return list
}
