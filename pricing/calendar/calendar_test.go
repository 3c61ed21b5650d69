package calendar_test

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"pgregory.net/rapid"

	"foamwright/pricing/calendar"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

var monday = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

func hours() (c schedule.Calendar) {
	c.Opens = 9 * time.Hour
	for day := time.Monday; day <= time.Friday; day++ {
		c.Hours[day] = 8 * time.Hour
	}
	return c
}

func job(title, customer string, from time.Time) sales.OnBench {
	tasks := []schedule.Task{
		{Name: "Cut out", Work: 3 * time.Hour, People: 1},
		{Name: "Brace; on the former, later off", Work: time.Hour, Wait: 18 * time.Hour, People: 1, After: []int{0}},
		{Name: "Level the sides", Work: 10 * time.Hour, People: 1, After: []int{1}},
	}
	plan := schedule.Bench{Calendar: hours(), People: 1}.Lay([]schedule.Job{{ID: "a1", From: from, Tasks: tasks}}, nil)[0]
	plan.Planned = time.Date(2026, 2, 27, 11, 30, 0, 0, time.FixedZone("", 3600))
	return sales.OnBench{Order: sales.Order{ID: "a1", Title: title, Customer: customer}, Plan: plan, Booked: true, Promised: time.Date(2026, 3, 6, 0, 0, 0, 0, time.UTC)}
}

// read parses a feed with another program's parser, and holds its lines against RFC 5545 3.1: lines end with CRLF and
// have at most 75 octets, none divided inside a letter.
func read(t interface {
	Fatalf(string, ...any)
	Errorf(string, ...any)
}, doc []byte) []ical.Event {
	c, err := ical.NewDecoder(bytes.NewReader(doc)).Decode()
	if err != nil {
		t.Fatalf("%v in\n%s", err, doc)
	}
	lines := strings.Split(string(doc), "\r\n")
	if lines[len(lines)-1] != "" {
		t.Errorf("the last line does not end: %q", lines[len(lines)-1])
	}
	for _, l := range lines {
		if len(l) > 75 || strings.ContainsAny(l, "\r\n") || !utf8.ValidString(l) {
			t.Errorf("%d octets: %q", len(l), l)
		}
	}
	// An encoder that checks the required properties, as a second look: it refuses what lacks one.
	if err := ical.NewEncoder(&bytes.Buffer{}).Encode(c); err != nil {
		t.Errorf("%v", err)
	}
	return c.Events()
}

func text(t testing.TB, e ical.Event, name string) string {
	t.Helper()
	s, err := e.Props.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestFeed(t *testing.T) {
	const title = `Heron; kite, with \ backslash` + "\nand a line"
	o := job(title, "Ilse Βερονίκη", monday)
	waiting := job("Reed oval", "Mara", monday)
	waiting.Booked = false
	f := calendar.Feed{Workshop: "Kestrel Yard, Propworks", Hours: hours(), Orders: []sales.OnBench{o, waiting}, Names: true}
	doc := calendar.Write(f)
	if again := calendar.Write(f); !bytes.Equal(doc, again) {
		t.Error("the same plan gives other bytes")
	}
	if head := "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//foamwright//bench//EN\r\n"; !bytes.HasPrefix(doc, []byte(head)) || bytes.Contains(doc, []byte("METHOD")) ||
		!bytes.Contains(doc, []byte("\r\nREFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n")) {
		t.Errorf("another head: %s", doc[:300])
	}
	events := read(t, doc)
	// Monday 9 to 13; the wait ends Tuesday 7; Tuesday and Wednesday the sides; Friday it is asked for.
	want := [][]string{
		{"a1-work-0@foamwright", "20260302T090000", "20260302T130000"},
		{"a1-work-1@foamwright", "20260303T090000", "20260303T170000"},
		{"a1-work-2@foamwright", "20260304T090000", "20260304T110000"},
		{"a1-wait-1@foamwright", "20260303T070000", ""},
		{"a1-promised-0@foamwright", "20260306", "20260307"},
	}
	if len(events) != len(want) {
		t.Fatalf("%d events in\n%s", len(events), doc)
	}
	for i, w := range want {
		e := events[i]
		value := func(name string) string {
			if p := e.Props.Get(name); p != nil {
				return p.Value
			}
			return ""
		}
		if got := []string{value("UID"), value("DTSTART"), value("DTEND")}; strings.Join(got, " ") != strings.Join(w, " ") {
			t.Errorf("%v, want %v", got, w)
		}
		if value("DTSTAMP") != "20260227T103000Z" || value("SEQUENCE") != "0" {
			t.Errorf("%s: stamped %s, sequence %s", w[0], value("DTSTAMP"), value("SEQUENCE"))
		}
		if got := text(t, e, "SUMMARY"); !strings.HasPrefix(got, `Heron; kite, with \ backslash and a line for Ilse Βερονίκη`) {
			t.Errorf("%q", got)
		}
	}
	if got := text(t, events[0], "DESCRIPTION"); got != "Cut out\nBrace; on the former, later off" {
		t.Errorf("%q", got)
	}
	if p := events[4].Props.Get("DTSTART"); p.Params.Get("VALUE") != "DATE" {
		t.Errorf("the date asked for is no date: %v", p)
	}

	// Planned anew: the same events with a higher sequence.
	f.Orders[0] = job(title, "Ilse", monday.AddDate(0, 0, 7))
	f.Orders[0].Plan.Again = 1
	f.Names = false
	doc = calendar.Write(f)
	for i, e := range read(t, doc) {
		if uid, seq := e.Props.Get("UID").Value, e.Props.Get("SEQUENCE").Value; uid != want[i][0] || seq != "1" {
			t.Errorf("%s %s", uid, seq)
		}
	}
	if bytes.Contains(doc, []byte("Ilse")) {
		t.Error("the customer's name is in a feed that must not tell it")
	}
}

// Whatever a title is made of, the feed stays one that another parser reads, and gives the letters back.
func TestAnyTitle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-zżółć漢🛡;,:\\"\r\n =<>]{60,200}`)).Draw(t, "title")
		events := read(t, calendar.Write(calendar.Feed{Workshop: title, Hours: hours(), Orders: []sales.OnBench{job(title, title, monday)}, Names: true}))
		if len(events) != 5 {
			t.Fatalf("%d events", len(events))
		}
	})
}

// FuzzFeed throws bytes that are no text at titles and names.
func FuzzFeed(f *testing.F) {
	f.Add("BEGIN:VEVENT\r\n", "\xff\x00")
	f.Add("END:VCALENDAR", strings.Repeat("\u00e9", 90))
	f.Fuzz(func(t *testing.T, title, customer string) {
		if n := len(read(t, calendar.Write(calendar.Feed{Workshop: title, Hours: hours(), Orders: []sales.OnBench{job(title, customer, monday)}, Names: true}))); n != 5 {
			t.Fatalf("%d events", n)
		}
	})
}
