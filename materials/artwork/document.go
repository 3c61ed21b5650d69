package artwork

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"foamwright/materials/fault"
)

// What a file may hold.
const (
	MaxBytes     = 2 << 20
	mostElements = 20_000
	deepest      = 64
)

// svgSpace is the namespace of SVG's own elements.
const svgSpace = "http://www.w3.org/2000/svg"

// element is one element of the file. Those of other namespaces have no name.
type element struct {
	name   string
	attrs  []xml.Attr
	inside []*element
	text   strings.Builder // what stands in it between tags
	line   int
	size   int // of the attributes, bytes
}

// attr is an attribute of SVG's own.
func (e *element) attr(name string) string { return e.find(name, false) }

// find is an attribute by its local name, of any namespace where that is asked for.
func (e *element) find(name string, anySpace bool) string {
	for _, a := range e.attrs {
		if a.Name.Local == name && (anySpace || a.Name.Space == "") {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// document is a file taken apart.
type document struct {
	root  *element
	ids   map[string]*element // the first of each
	sheet stylesheet
}

var errCharset = errors.New("a character set that is not read")

// parse takes a file apart and looks at nothing in it but its size.
func parse(file []byte) (document, error) {
	doc := document{ids: map[string]*element{}, sheet: stylesheet{rules: map[string]properties{}}}
	switch {
	case len(file) > MaxBytes:
		return doc, fault.New(fault.TooLarge, "The drawing file is over 2 MB. Take pictures out of it or save it with fewer points.")
	case bytes.HasPrefix(file, []byte{0x1f, 0x8b}):
		return doc, refuse(0, "", "This is a compressed drawing file. Save it as a plain SVG file.")
	}
	d := xml.NewDecoder(bytes.NewReader(file))
	d.CharsetReader = charset
	var open []*element
	for count := 0; ; {
		line, _ := d.InputPos() // a token starts where the last one ended
		token, err := d.Token()
		if err != nil {
			return doc, broken(err, line, doc.root != nil)
		}
		switch t := token.(type) {
		case xml.Directive:
			if bytes.Contains(bytes.ToUpper(t), []byte("ENTITY")) {
				return doc, refuse(line, "", "The file declares entities, which are not read. Save it as a plain SVG file.")
			}
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text.Write(t)
			}
		case xml.StartElement:
			if count++; count > mostElements || len(open) == deepest {
				return doc, tooMuch(line)
			}
			e := elementOf(t, line)
			if doc.root == nil {
				if e.name != "svg" {
					return doc, refuse(line, t.Name.Local, "This is no SVG file. Save or export the drawing as SVG.")
				}
				doc.root = e
			} else {
				open[len(open)-1].inside = append(open[len(open)-1].inside, e)
			}
			if id := e.attr("id"); doc.ids[id] == nil {
				doc.ids[id] = e
			}
			open = append(open, e)
		case xml.EndElement:
			if e := open[len(open)-1]; e.name == "style" {
				doc.sheet.read(e.text.String())
			}
			if open = open[:len(open)-1]; len(open) == 0 {
				return doc, nil
			}
		}
	}
}

func elementOf(t xml.StartElement, line int) *element {
	e := &element{attrs: t.Copy().Attr, line: line}
	if t.Name.Space == svgSpace || t.Name.Space == "" {
		e.name = t.Name.Local
	}
	for _, a := range e.attrs {
		e.size += len(a.Value)
	}
	return e
}

// charset reads the two sets of western letters that old files are written in; what is drawn is ASCII anyway.
func charset(name string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(name) {
	case "iso-8859-1", "latin1", "us-ascii", "ascii", "windows-1252":
		return charmap.Windows1252.NewDecoder().Reader(in), nil
	}
	return nil, errCharset
}

// broken says where XML stops being XML, in words.
func broken(err error, line int, isSVG bool) error {
	var syntax *xml.SyntaxError
	switch {
	case !errors.As(err, &syntax) && err != io.EOF:
		return refuse(line, "", "The file is not written as UTF-8 and XML 1.0. Save it as a plain SVG file.")
	case !isSVG:
		return refuse(0, "", "This is no SVG file. Save or export the drawing as SVG.")
	case err == io.EOF || syntax.Msg == "unexpected EOF":
		return refuse(line, "", "The file breaks off here, before its end. Save it or send it again.")
	}
	return refuse(syntax.Line, "", "This is not XML as it has to be: a tag, a quotation mark or a letter is wrong here. Save the file again as a plain SVG file.")
}

func tooMuch(line int) error {
	return fault.New(fault.TooLarge, "Line %d: the drawing holds too much: with all copies, up to %d elements %d deep and 50 000 segments can be read. Simplify it, or send the parts that are cut.", line, mostElements, deepest)
}

// refuse is a fault about a line of the file, or about the whole with line 0; the caller knows the field.
func refuse(line int, value, remedy string) error {
	var l fault.List
	l.Add("", value, at(line)+remedy)
	return l.Err()
}

func at(line int) string {
	if line == 0 {
		return ""
	}
	return fmt.Sprintf("Line %d: ", line)
}
