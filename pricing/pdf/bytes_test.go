package pdf

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestSameSheetSameBytes prints every kind again and again, four at a time: always the same bytes.
func TestSameSheetSameBytes(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	list := kinds(t)
	first := make([][]byte, len(list))
	for i, k := range list {
		first[i] = printed(t, k.sheet)
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for i, k := range list {
				again, err := r.Quote(context.Background(), k.sheet)
				if err != nil || !bytes.Equal(again, first[i]) {
					t.Errorf("%s came out otherwise (%v)", k.name, err)
				}
			}
		})
	}
	wg.Wait()
}

// TestNothingOverflows looks where every word stands, as another program sees it: between the margins.
func TestNothingOverflows(t *testing.T) {
	for _, k := range kinds(t) {
		if n := withinMargins(t, k.name, printed(t, k.sheet)); n != k.pages {
			t.Errorf("%s: %d pages", k.name, n)
		}
	}
}

// withinMargins says which words stand outside the margins, and counts the pages.
func withinMargins(t *testing.T, name string, printed []byte) (pages int) {
	t.Helper()
	type word struct {
		Left   float64 `xml:"xMin,attr"`
		Right  float64 `xml:"xMax,attr"`
		Bottom float64 `xml:"yMax,attr"`
		Text   string  `xml:",chardata"`
	}
	const slack = 0.6 // points: advances are rounded to thousandths
	var doc struct {
		Pages []struct {
			Words []word `xml:"word"`
		} `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal([]byte(poppler(t, printed, "pdftotext", "-bbox", "-", "-")), &doc); err != nil {
		t.Fatal(err)
	}
	for i, page := range doc.Pages {
		for _, w := range page.Words {
			if w.Left < side/point-slack || w.Right > (side+full)/point+slack || w.Bottom > (297-bottom+5)/point {
				t.Errorf("%s, page %d: %q stands at %.0f to %.0f, down to %.0f", name, i+1, w.Text, w.Left, w.Right, w.Bottom)
			}
		}
	}
	return len(doc.Pages)
}

// TestFileOfItsOwn: the file says what it is, its table of objects is where it says, and nothing else is written
// anywhere.
func TestFileOfItsOwn(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", home)
	doc := printed(t, sheet(t, nil))
	if left, err := os.ReadDir(home); err != nil || len(left) > 0 {
		t.Errorf("written beside: %v, %v", left, err)
	}
	info := spaced(poppler(t, doc, "pdfinfo", "-isodates", "-"))
	for _, want := range []string{
		"Title: Quote 42 of 2026: Heron kite", "Author: Kestrel Yard Propworks", "CreationDate: 2026-05-11T09:30:00", "ModDate: 2026-05-11T09:30:00", "(A4)", "Pages: 2",
	} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q: %s", want, info)
		}
	}
	if !bytes.Contains(doc, []byte("/Lang (en)")) {
		t.Error("the document has no language")
	}
	tail := strings.Fields(string(doc[len(doc)-30:]))
	at, err := strconv.Atoi(tail[len(tail)-2])
	if err != nil || !bytes.HasPrefix(doc[at:], []byte("xref\n")) {
		t.Errorf("no table of objects at %d: %v", at, err)
	}
	// Each of its lines is where an object begins.
	for i, line := range strings.Split(string(doc[at:]), "\n")[3:] {
		offset, rest, _ := strings.Cut(line, " ")
		if !strings.HasPrefix(rest, "00000 n") {
			break
		}
		n, err := strconv.Atoi(offset)
		if begin := fmt.Sprintf("%d 0 obj", i+1); err != nil || !bytes.HasPrefix(doc[n:], []byte(begin)) {
			t.Errorf("no %q at %d: %v", begin, n, err)
		}
	}
}

func TestFinishRefusesWhatIsNoDocument(t *testing.T) {
	for _, doc := range []string{"", "%PDF-1.3\n", "\nstartxref\n/Type /Catalog\n\nxref\n/ModDate (D:20260511093000)"} {
		if _, err := finish([]byte(doc), "en", day); err == nil {
			t.Errorf("%q was finished", doc)
		}
	}
}

func TestContextThatHasEnded(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.Quote(ctx, sheet(t, nil)); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

// BenchmarkQuote is a whole document, drawing and all; p95 of what one takes is reported.
func BenchmarkQuote(b *testing.B) {
	r, err := New()
	if err != nil {
		b.Fatal(err)
	}
	s := sheet(b, nil)
	b.ReportAllocs()
	var took []time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := r.Quote(context.Background(), s); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
}
