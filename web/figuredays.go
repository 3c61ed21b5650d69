package web

import (
	"encoding/csv"
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/figures"
	"foamwright/pricing/words"
)

// figureDays are the days that quotes and jobs are looked at, as they were asked for by the address.
type figureDays struct {
	typing
	In    figures.Span
	wrong map[string]string
}

// figuresOf reads the days: from and to, or span=all. What cannot be read is said beside its entry.
func (p *Pages) figuresOf(c *fiber.Ctx) (d figureDays, err error) {
	d.v = url.Values{}
	for _, name := range []string{"from", "to", "span"} {
		d.v.Set(name, visible([]byte(c.Query(name))))
	}
	first, last := d.day("from"), d.day("to")
	if d.problems.Empty() {
		d.In, err = p.figures.SpanOf(first, last, d.v.Get("span") == "all")
		err = d.under("to", err)
	}
	if d.wrong = d.byField(); len(d.wrong) > 0 && err == nil {
		d.In, err = p.figures.SpanOf(first, first, false)
	}
	return d, err
}

// Status is that of a page about the days.
func (d figureDays) Status() int { return statusOf(d.wrong) }

// Refused is nil when the days could be read.
func (d figureDays) Refused() error { return inOne(d.wrong) }

// From and To are their entries.
func (d figureDays) From() entry { return d.entry("from", "From", iso(d.In.First)) }

// To is the last day.
func (d figureDays) To() entry { return d.entry("to", "To", iso(d.In.Last)) }

func (d figureDays) entry(name, label, value string) entry {
	if d.wrong[name] != "" {
		value = d.v.Get(name)
	}
	return entry{Name: name, Label: label, Value: value, Problem: d.wrong[name], ID: "days-" + name}
}

// Words say which days.
func (d figureDays) Words() string {
	switch {
	case d.In.First.IsZero() && d.In.Last.IsZero():
		return "of all time"
	case d.In.First.IsZero():
		return "until " + words.Date(d.In.Last)
	case d.In.Last.IsZero():
		return "since " + words.Date(d.In.First)
	}
	return words.Date(d.In.First) + " to " + words.Date(d.In.Last)
}

// Query keeps the days in an address, as they were asked for.
func (d figureDays) Query() string {
	v := url.Values{}
	for _, name := range d.Keys() {
		v.Set(name, d.v.Get(name))
	}
	return v.Encode()
}

// Keys are what was asked for by the address, for a form that keeps it.
func (d figureDays) Keys() (all []string) {
	for _, name := range []string{"from", "to", "span"} {
		if d.v.Get(name) != "" {
			all = append(all, name)
		}
	}
	return all
}

// Typed is one of them.
func (d figureDays) Typed(name string) string { return d.v.Get(name) }

// With is an address with the days.
func (d figureDays) With(path string) string {
	q := d.Query()
	switch {
	case q == "":
		return path
	case strings.Contains(path, "?"):
		return path + "&" + q
	}
	return path + "?" + q
}

// sendTable is a table as a file; text that a person typed is guarded where its row is made.
func sendTable(c *fiber.Ctx, name string, head []string, rows [][]string) error {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if err := w.Write(head); err != nil {
		return err
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	return sendCSV(c, name, []byte(b.String()))
}
