package einvoice

import (
	"bytes"
	"encoding/xml"
)

// node is an element; the zero node is none.
type node struct {
	name, text string
	attrs      []string // name and value in turn
	kids       []node
}

// leaf is an element with a text; without one there is no element, for UBL knows no empty ones.
func leaf(name, text string, attrs ...string) node {
	if text == "" {
		return node{}
	}
	return node{name: name, text: text, attrs: attrs}
}

// el is an element of others; where none of them is there, neither is it.
func el(name string, kids ...node) node {
	n := node{name: name}
	for _, k := range kids {
		if k.name != "" {
			n.kids = append(n.kids, k)
		}
	}
	if n.kids == nil {
		return node{}
	}
	return n
}

// written is the document of a root and its parts.
func written(root string, parts []node) []byte {
	const oasis = "urn:oasis:names:specification:ubl:schema:xsd:"
	n := el(root, parts...)
	n.attrs = []string{"xmlns", oasis + root + "-2", "xmlns:cac", oasis + "CommonAggregateComponents-2", "xmlns:cbc", oasis + "CommonBasicComponents-2"}
	b := bytes.NewBufferString(xml.Header)
	n.write(b, "")
	return b.Bytes()
}

func (n node) write(b *bytes.Buffer, indent string) {
	b.WriteString(indent + "<" + n.name)
	for i := 0; i < len(n.attrs); i += 2 {
		b.WriteString(" " + n.attrs[i] + `="`)
		escape(b, n.attrs[i+1])
		b.WriteByte('"')
	}
	b.WriteByte('>')
	escape(b, n.text)
	if n.kids != nil {
		b.WriteByte('\n')
		for _, k := range n.kids {
			k.write(b, indent+"  ")
		}
		b.WriteString(indent)
	}
	b.WriteString("</" + n.name + ">\n")
}

// escape cannot fail: a buffer takes everything.
func escape(b *bytes.Buffer, s string) { _ = xml.EscapeText(b, []byte(s)) }
