package pattern

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

var head = Head{Title: "Heron kite: templates", Author: "Kestrel Yard Propworks", Made: time.Date(2026, 5, 11, 9, 30, 0, 0, time.UTC)}

func printed(t testing.TB, pages []Page) []byte {
	t.Helper()
	doc, err := PDF(head, pages)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// poppler runs a tool on a document and gives what it prints.
func poppler(t testing.TB, doc []byte, tool string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Fatalf("%s is missing: install the package poppler-utils", tool)
	}
	cmd := exec.Command(tool, args...)
	var problems bytes.Buffer
	cmd.Stdin, cmd.Stderr = bytes.NewReader(doc), &problems
	out, err := cmd.Output()
	if err != nil || problems.Len() > 0 {
		t.Fatalf("%s: %v: %s", tool, err, problems.String())
	}
	return string(out)
}

// dots is the resolution pages are measured at: 10 pixels are 1 mm.
const dots = 10.0

// picture is a page as it is printed, in greys.
type picture struct {
	width, height int
	grey          []byte
}

func (p picture) at(x, y int) byte { return p.grey[y*p.width+x] }

// rendered are the pages of a document as another program draws them.
func rendered(t testing.TB, doc []byte) []picture {
	t.Helper()
	folder := t.TempDir()
	poppler(t, doc, "pdftoppm", "-r", "254", "-gray", "-", filepath.Join(folder, "page"))
	files, err := filepath.Glob(filepath.Join(folder, "*.pgm"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	var all []picture
	for _, name := range files {
		file, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		var p picture
		var most int
		r := bufio.NewReader(file)
		if _, err := fmt.Fscanf(r, "P5\n%d %d\n%d\n", &p.width, &p.height, &most); err != nil || most != 255 {
			t.Fatalf("%s is no picture of 255 greys: %v", name, err)
		}
		p.grey = make([]byte, p.width*p.height)
		if _, err := io.ReadFull(r, p.grey); err != nil {
			t.Fatal(err)
		}
		file.Close()
		all = append(all, p)
	}
	return all
}
