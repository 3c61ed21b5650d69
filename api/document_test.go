package api_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
)

// document is as much of an OpenAPI document as it takes to hold answers to it.
type document struct {
	OpenAPI    string                          `json:"openapi"`
	Paths      map[string]map[string]operation `json:"paths"`
	Components struct {
		Schemas   map[string]schema   `json:"schemas"`
		Responses map[string]response `json:"responses"`
	} `json:"components"`
}

type operation struct {
	RequestBody struct {
		Content map[string]struct{ Schema schema }
	} `json:"requestBody"`
	Responses map[string]response `json:"responses"`
}

type response struct {
	Ref     string                             `json:"$ref"`
	Content map[string]struct{ Schema schema } `json:"content"`
}

type schema map[string]any

// check finds the operation of a request and holds the reply to it; template is the operation's name.
func (d document) check(method, path string, a reply) (template string, err error) {
	path, _, _ = strings.Cut(path, "?")
	var op operation
	for name, item := range d.Paths {
		if found, ok := item[strings.ToLower(method)]; ok && fits(name, path) {
			op, template = found, method+" "+name
		}
	}
	if template == "" {
		return "", nil // no such operation: 404 and 405 are not of any
	}
	r, ok := op.Responses[fmt.Sprint(a.StatusCode)]
	if !ok && a.StatusCode >= 400 {
		r, ok = op.Responses["default"]
	}
	if !ok {
		return template, errors.New("no such status")
	}
	if r.Ref != "" {
		r = d.Components.Responses[filepath.Base(r.Ref)]
	}
	media := a.Header.Get("Content-Type")
	content, ok := r.Content[media]
	if !ok && len(r.Content) > 0 {
		return template, fmt.Errorf("no such content type: %s", media)
	}
	if content.Schema == nil {
		return template, nil
	}
	return template, d.holds(content.Schema, []byte(a.body))
}

// fits tells whether a path is one of a template with {id}.
func fits(template, path string) bool {
	have, want := strings.Split(path, "/"), strings.Split(template, "/")
	return slices.EqualFunc(have, want, func(h, w string) bool { return h == w || strings.HasPrefix(w, "{") && h != "" })
}

func (d document) holds(s schema, data []byte) error {
	var v any
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	return d.match(s, v, "body")
}

// match checks a value against the keywords of JSON Schema that the document uses, and fails on others.
func (d document) match(s schema, v any, at string) error {
	list, _ := v.([]any)
	group, isGroup := v.(map[string]any)
	for _, keyword := range slices.Sorted(maps.Keys(s)) {
		var err error
		switch rule := s[keyword]; keyword {
		case "$ref":
			target, ok := d.Components.Schemas[filepath.Base(rule.(string))]
			if !ok {
				return fmt.Errorf("%s: no schema %s", at, rule)
			}
			err = d.match(target, v, at)
		case "type":
			types, ok := rule.([]any)
			if !ok {
				types = []any{rule}
			}
			if !slices.Contains(types, kind(v)) && !(kind(v) == "integer" && slices.Contains(types, any("number"))) {
				err = fmt.Errorf("%s is %v, not %v", at, kind(v), types)
			}
		case "anyOf":
			err = fmt.Errorf("%s is none of %v", at, rule)
			for _, one := range rule.([]any) {
				if d.match(one.(map[string]any), v, at) == nil {
					err = nil
				}
			}
		case "enum":
			if !slices.Contains(rule.([]any), v) {
				err = fmt.Errorf("%s is %v", at, v)
			}
		case "items":
			for i, item := range list {
				err = errors.Join(err, d.match(rule.(map[string]any), item, fmt.Sprint(at, ".", i)))
			}
		case "required":
			for _, name := range rule.([]any) {
				if _, ok := group[name.(string)]; isGroup && !ok {
					err = errors.Join(err, fmt.Errorf("%s lacks %s", at, name))
				}
			}
		case "properties", "additionalProperties":
			properties, _ := s["properties"].(map[string]any)
			for name, inner := range group {
				if p, ok := properties[name].(map[string]any); ok {
					err = errors.Join(err, d.match(p, inner, at+"."+name))
				} else if s["additionalProperties"] != true {
					err = errors.Join(err, fmt.Errorf("%s has %s", at, name))
				}
			}
		case "description", "examples", "format", "maxLength", "contentEncoding":
		default:
			err = fmt.Errorf("%s: the test does not know %s", at, keyword)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// kind is the JSON Schema type of a value.
func kind(v any) any {
	switch v := v.(type) {
	case nil:
		return "null"
	case bool:
		return "boolean"
	case string:
		return "string"
	case []any:
		return "array"
	case float64:
		if v == float64(int64(v)) {
			return "integer"
		}
		return "number"
	}
	return "object"
}
