package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"time"
)

var unnamed = regexp.MustCompile(`[^A-Za-z0-9._-]`)

var lastRoot = regexp.MustCompile(`/Size (\d+)\n/Root (\d+) 0 R\n/Info (\d+) 0 R`)

// Attach puts a file into one of our documents, as an XML invoice travels with its paper. It is added behind what is
// there, as a change of the document (ISO 32000-1, 7.5.6, 7.11.4 and, for what the file is to the document,
// ISO 32000-2, 14.13, from memory); the pages stay as they are. Nothing is promised of PDF/A.
func (*Renderer) Attach(doc []byte, name, kind string, file []byte, date time.Time) ([]byte, error) {
	const table, catalogue, names = "startxref\n", "/Type /Catalog\n", "/Names <<\n/EmbeddedFiles"
	trailer := lastRoot.FindSubmatch(doc)
	start, at := bytes.LastIndex(doc, []byte(table)), bytes.LastIndex(doc, []byte(catalogue))
	if trailer == nil || start < at || at < 0 {
		return nil, fmt.Errorf("a document of %d bytes to which nothing can be attached", len(doc))
	}
	end := bytes.Index(doc[at:], []byte("\n>>\nendobj"))
	begin := bytes.LastIndex(doc[:at], []byte("<<"))
	before, _, _ := bytes.Cut(doc[start+len(table):], []byte("\n"))
	inside := doc[at : at+max(end, 0)]
	empty := bytes.Index(inside, []byte(names))
	if end < 0 || begin < 0 || empty < 0 {
		return nil, fmt.Errorf("a document of %d bytes whose catalogue is not known", len(doc))
	}
	size, err := strconv.Atoi(string(trailer[1]))
	if err != nil {
		return nil, fmt.Errorf("the number of objects: %w", err)
	}
	stamp := date.UTC().Format("D:20060102150405Z")
	var out bytes.Buffer
	out.Grow(len(doc) + len(file) + 1500)
	out.Write(doc)
	copy(out.Bytes(), "%PDF-1.7") // in place: attachments are newer than what the library calls its files
	name = unnamed.ReplaceAllString(name, "-")
	stream := out.Len()
	fmt.Fprintf(&out, "%d 0 obj\n<</Type /EmbeddedFile /Subtype /%s /Length %d /Params <</Size %d /ModDate (%s)>>>>\nstream\n", size, bytes.ReplaceAll([]byte(kind), []byte("/"), []byte("#2F")), len(file), len(file), stamp)
	out.Write(file)
	out.WriteString("\nendstream\nendobj\n")
	spec := out.Len()
	fmt.Fprintf(&out, "%d 0 obj\n<</Type /Filespec /F (%[2]s) /UF (%[2]s) /AFRelationship /Alternative /EF <</F %[3]d 0 R /UF %[3]d 0 R>>>>\nendobj\n", size+1, name, size)
	root := out.Len()
	fmt.Fprintf(&out, "%s 0 obj\n<<\n%s/AF [%d 0 R]\n/Names <</EmbeddedFiles <</Names [(%s) %d 0 R]>>>>\n>>\nendobj\n", trailer[2], inside[:empty], size+1, name, size+1)
	xref := out.Len()
	fmt.Fprintf(&out, "xref\n%s 1\n%010d 00000 n \n%d 2\n%010d 00000 n \n%010d 00000 n \n", trailer[2], root, size, stream, spec)
	fmt.Fprintf(&out, "trailer\n<<\n/Size %d\n/Root %s 0 R\n/Info %s 0 R\n/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n", size+2, trailer[2], trailer[3], before, xref)
	return out.Bytes(), nil
}
