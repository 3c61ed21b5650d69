package api

import (
	"reflect"

	"foamwright/api/problem"
	"foamwright/materials/orderform"

	"github.com/danielgtaylor/huma/v2"
)

const (
	schemaPrefix = "#/components/schemas/"
	problemRef   = "#/components/responses/Problem"
)

// registry holds the schemas of the wire types. Entries of a spec are described by hand: they are kept as typed,
// which reflection cannot see.
func registry() huma.Registry {
	r := huma.NewMapRegistry(schemaPrefix, schemaName)
	text := func() []*huma.Schema { return []*huma.Schema{{Type: huma.TypeString}, {Type: huma.TypeNumber}} }
	r.Map()["SpecText"] = &huma.Schema{
		Description: "One entry as it is typed: text, a number, or true and false.",
		AnyOf:       append(text(), &huma.Schema{Type: huma.TypeBoolean}),
	}
	r.Map()["SpecSize"] = &huma.Schema{
		Description: "A length: text with its unit, or a bare number of millimetres. Text without a unit is refused.",
		AnyOf:       text(),
		Examples:    []any{"56 cm", "22 1/2 in", 860},
	}
	r.RegisterTypeAlias(reflect.TypeFor[orderform.Text](), reflect.TypeFor[specText]())
	r.RegisterTypeAlias(reflect.TypeFor[orderform.Size](), reflect.TypeFor[specSize]())
	return r
}

// specText and specSize stand for orderform's entries where they are described.
type (
	specText struct{}
	specSize struct{}
)

// Schema points to the description.
func (specText) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Ref: schemaPrefix + "SpecText"}
}

// Schema points to the description.
func (specSize) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Ref: schemaPrefix + "SpecSize"}
}

// schemaName keeps the parts of a spec apart from those of an estimate, which have the same names.
func schemaName(t reflect.Type, hint string) string {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch form := reflect.TypeFor[orderform.Form](); {
	case t == form:
		return "Spec"
	case t == reflect.TypeFor[problem.Body]():
		return "Problem"
	case t == reflect.TypeFor[problem.Entry]():
		return "ProblemEntry"
	case t.PkgPath() == form.PkgPath():
		return "Spec" + t.Name()
	}
	return huma.DefaultSchemaNamer(t, hint)
}

func problemResponse() *huma.Response {
	return &huma.Response{
		Description: "It was not done: what is wrong, and for every entry what to write instead (RFC 9457).",
		Content:     map[string]*huma.MediaType{problem.ContentType: {Schema: &huma.Schema{Ref: schemaPrefix + "Problem"}}},
	}
}

// TransformSchema says that a flat shield's curve is null.
func (Estimate) TransformSchema(_ huma.Registry, s *huma.Schema) *huma.Schema {
	return orNull(s, "curve", "null when the shield is flat")
}

// TransformSchema says that a number may be null.
func (Quote) TransformSchema(_ huma.Registry, s *huma.Schema) *huma.Schema {
	return orNull(s, "number", "null until the first version is issued")
}

func orNull(s *huma.Schema, entry, when string) *huma.Schema {
	s.Properties[entry] = &huma.Schema{Description: when, AnyOf: []*huma.Schema{{Ref: s.Properties[entry].Ref}, {Type: "null"}}}
	return s
}

// tidy makes the schemas what is really sent. huma's own defaults for these are package variables, which would
// change every other API of the program: errors are problems, and a list is never null.
func tidy(r huma.Registry) {
	r.Schema(reflect.TypeFor[problem.Body](), true, "")
	delete(r.Map(), "ErrorModel")
	delete(r.Map(), "ErrorDetail")
	for _, s := range r.Map() {
		for _, p := range s.Properties {
			if p.Type == huma.TypeArray {
				p.Nullable = false
			}
		}
	}
}
