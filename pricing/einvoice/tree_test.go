package einvoice_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// element is a document read back, without anything that wrote it. Names are without their prefix.
type element struct {
	name, space, text string
	attrs             map[string]string
	kids              []*element
}

// fataler is a test of either kind.
type fataler interface {
	Helper()
	Fatal(args ...any)
}

func parse(t fataler, doc string) *element {
	t.Helper()
	root := &element{}
	open := []*element{root}
	for d := xml.NewDecoder(bytes.NewReader([]byte(doc))); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return root.kids[0]
		}
		if err != nil {
			t.Fatal(err)
		}
		top := open[len(open)-1]
		switch token := token.(type) {
		case xml.StartElement:
			e := &element{name: token.Name.Local, space: token.Name.Space, attrs: map[string]string{}}
			for _, a := range token.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			top.kids = append(top.kids, e)
			open = append(open, e)
		case xml.EndElement:
			top.text = strings.TrimSpace(top.text)
			open = open[:len(open)-1]
		case xml.CharData:
			top.text += string(token)
		}
	}
}

// all are the elements at a path of names, with "*" for any.
func (e *element) all(path string) []*element {
	found := []*element{e}
	for _, name := range strings.Split(path, "/") {
		var next []*element
		for _, f := range found {
			for _, k := range f.kids {
				if k.name == name || name == "*" {
					next = append(next, k)
				}
			}
		}
		found = next
	}
	return found
}

// below are the elements of a name anywhere, "*" being any.
func (e *element) below(name string) (found []*element) {
	for _, k := range e.kids {
		if k.name == name || name == "*" {
			found = append(found, k)
		}
		found = append(found, k.below(name)...)
	}
	return found
}

// has tells whether there is an element at a path that is not empty.
func (e *element) has(path string) bool {
	for _, f := range e.all(path) {
		if f.text != "" || len(f.kids) > 0 {
			return true
		}
	}
	return false
}

// say is the text at a path, empty where there is none.
func (e *element) say(path string) string {
	for _, f := range e.all(path) {
		return f.text
	}
	return ""
}

// num is the number at a path, 0 where there is none.
func (e *element) num(path string) decimal.Decimal {
	n, err := decimal.NewFromString(e.say(path))
	if err != nil {
		return decimal.Zero
	}
	return n
}

// lines are those of either kind of document.
func (e *element) lines() []*element {
	return append(e.all("InvoiceLine"), e.all("CreditNoteLine")...)
}

// The ways in which a test breaks a document.

func (e *element) set(path, text string) {
	for _, f := range e.all(path) {
		f.text = text
	}
}

func (e *element) drop(path string) {
	at, name := e, path
	if i := strings.LastIndex(path, "/"); i >= 0 {
		name = path[i+1:]
		for _, at = range e.all(path[:i]) {
			at.without(name)
		}
		return
	}
	at.without(name)
}

func (e *element) without(name string) {
	var kept []*element
	for _, k := range e.kids {
		if k.name != name {
			kept = append(kept, k)
		}
	}
	e.kids = kept
}

func (e *element) add(t testing.TB, path, fragment string) {
	t.Helper()
	at := []*element{e}
	if path != "" {
		at = e.all(path)
	}
	if len(at) == 0 {
		t.Fatalf("nothing at %s to add to", path)
	}
	at[0].kids = append(at[0].kids, parse(t, fragment))
}
