package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
)

// documentsPage is what a figure sums.
type documentsPage struct {
	figures.Documents
	Kinds    []figures.Kind
	F, T     string // days, as they were typed
	Problems map[string]string
	Shown    bool
}

// Choice is the entry of which figure.
func (d documentsPage) Choice() entry {
	e := entry{Name: "what", Label: "Figure", Value: d.What, ID: "what", Problem: d.Problems["what"]}
	for _, k := range d.Kinds {
		e.Options = append(e.Options, option{k.Key, k.Name})
	}
	return e
}

// Leads is where a document is.
func (d documentsPage) Leads(r figures.DocumentRow) string {
	switch r.Link {
	case "quote":
		return "/quotes/" + r.ID
	case "invoice":
		return "/invoices/" + r.ID
	case "item":
		return "/stock/" + url.PathEscape(r.ID)
	}
	return "/orders/" + r.ID
}

// Called is what a document is: "order 12 of 2026".
func (d documentsPage) Called(r figures.DocumentRow) string {
	kind := r.Link
	switch {
	case r.Link == "invoice" && r.Kind == "credit":
		kind = "credit note"
	case r.Link == "item":
		kind = r.Kind
		if r.Number.No > 0 {
			kind = strings.TrimSpace(kind + " for order")
		}
	}
	if r.Number.No == 0 {
		return kind
	}
	return fmt.Sprint(kind, " ", r.Number)
}

// Written is an amount as it is shown.
func (d documentsPage) Written(r figures.DocumentRow) string { return d.Grouped(r.Amount) }

// Foot is the sum of all rows.
func (d documentsPage) Foot() string { return d.Grouped(d.Sum) }

// In is the unit after a sum.
func (d documentsPage) In() string {
	switch d.Unit {
	case figures.InMoney:
		return string(d.Currency)
	case figures.InHours:
		return "h"
	case figures.InMinutes:
		return "min"
	}
	return ""
}

// Query is what was asked for, at a page of it.
func (d documentsPage) Query(page int) string {
	v := url.Values{"what": {d.What}, "from": {d.F}, "to": {d.T}}
	for key, value := range d.By {
		v.Set(key, value)
	}
	if page > 1 {
		v.Set("page", strconv.Itoa(page))
	}
	return v.Encode()
}

// Only is what the documents are narrowed by, in words; empty where they are not.
func (d documentsPage) Only() string {
	if len(d.By) == 0 {
		return ""
	}
	percent, _ := decimal.NewFromString(d.By["percent"]) // what is no number found nothing
	return figures.TaxRow{Code: d.By["code"], Percent: percent, Category: d.By["category"]}.Name()
}

// Month is where the figures of the month are that the days begin in.
func (d documentsPage) Month() figures.Month {
	return figures.Month{First: d.To.AddDate(0, 0, 1-d.To.Day())}
}

// Back and On are the pages before and after; 0 for none.
func (d documentsPage) Back() int { return d.Page - 1 }

// On is the page after; 0 for none.
func (d documentsPage) On() int {
	if d.Page >= d.Pages() {
		return 0
	}
	return d.Page + 1
}

// documentsAsked reads what is looked for; what is left out are this month's orders.
func (p *Pages) documentsAsked(c *fiber.Ctx) (figures.Asked, documentsPage, error) {
	t := typing{v: url.Values{"from": {c.Query("from")}, "to": {c.Query("to")}}}
	d := documentsPage{Kinds: figures.Kinds(), F: c.Query("from"), T: c.Query("to"), Problems: map[string]string{}}
	a := figures.Asked{What: c.Query("what", "ordered"), From: t.day("from"), To: t.day("to"), Page: c.QueryInt("page", 1), By: map[string]string{}}
	for key, value := range c.Context().QueryArgs().All() {
		switch k := string(key); k {
		case "what", "from", "to", "page":
		default:
			a.By[k] = visible(value)
		}
	}
	now := p.figures.Now()
	if a.From.IsZero() {
		a.From = time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, time.UTC)
		if !a.To.IsZero() {
			a.From = a.To.AddDate(0, 0, 1-a.To.Day())
		}
	}
	if a.To.IsZero() {
		a.To = a.From.AddDate(0, 1, -a.From.Day())
	}
	if t.problems.Empty() {
		d.F, d.T = iso(a.From), iso(a.To)
	}
	d.Asked = a
	return a, d, t.problems.Err()
}

func (p *Pages) figureDocuments(c *fiber.Ctx) error {
	a, d, err := p.documentsAsked(c)
	status := fiber.StatusOK
	if err == nil {
		var found figures.Documents
		if found, err = p.figures.Documents(c.UserContext(), a); err == nil {
			d.Documents, d.Shown = found, true
		}
	}
	if fault.KindOf(err) == fault.Invalid {
		status = fiber.StatusUnprocessableEntity
		d.Problems, err = problemsOf(err)
	}
	if err != nil {
		return err
	}
	return p.render(c, status, "figures-documents", "What a figure sums", "figures", d)
}

func (p *Pages) figureDocumentsCSV(c *fiber.Ctx) error {
	a, _, err := p.documentsAsked(c)
	if err != nil {
		return err
	}
	a.All = true
	d, err := p.figures.Documents(c.UserContext(), a)
	if err != nil {
		return err
	}
	return sendCSV(c, strings.ReplaceAll(d.Key, " ", "-")+".csv", figures.DocumentsCSV(d))
}
