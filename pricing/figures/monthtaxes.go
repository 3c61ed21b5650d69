package figures

import (
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// TaxRow is what was invoiced under one rate and treatment, credit notes off. Code, percentage and category tell one
// from another; without a code no tax stood on the document.
type TaxRow struct {
	Code     string
	Percent  decimal.Decimal
	Category string // of EN 16931; empty for what the percentage says
	Net, Tax money.Amount
	N        int // documents
}

// Gross is net and tax.
func (r TaxRow) Gross() money.Amount { return r.Net.Add(r.Tax) }

// Name is what a bookkeeper calls it.
func (r TaxRow) Name() string {
	switch {
	case r.Code == "":
		return "without tax"
	case r.Category == "AE":
		return string(tax.ReverseCharge)
	case r.Category == "G":
		return string(tax.Export)
	case r.Category == "E":
		return string(tax.Exempt)
	}
	return fmt.Sprintf("%s, %s %%", r.Code, r.Percent)
}

// Taxes is what was invoiced within a period by rate and treatment, by the day of the documents.
type Taxes struct {
	Name        string    // "Quarter 4 of 2026"
	First, Last time.Time // days, both within
	Rows        []TaxRow
	Sum         TaxRow
}

// TaxPeriod is a stretch that tax is told for.
type TaxPeriod string

// The periods.
const (
	OfMonth   TaxPeriod = "month"
	OfQuarter TaxPeriod = "quarter"
	OfYear    TaxPeriod = "year"
)

// TaxPeriods are all there are, the shortest first.
func TaxPeriods() []TaxPeriod { return []TaxPeriod{OfMonth, OfQuarter, OfYear} }

// around is the period that a month is in: its first moment, that of the next one, and its name.
func (p TaxPeriod) around(month time.Time) (from, to time.Time, name string) {
	y, m, clock := month.Year(), month.Month(), month.Location()
	switch p {
	case OfQuarter:
		q := (int(m) - 1) / 3
		from = time.Date(y, time.Month(3*q+1), 1, 0, 0, 0, 0, clock)
		return from, from.AddDate(0, 3, 0), fmt.Sprintf("Quarter %d of %d", q+1, y)
	case OfYear:
		from = time.Date(y, 1, 1, 0, 0, 0, 0, clock)
		return from, from.AddDate(1, 0, 0), fmt.Sprintf("Year %d", y)
	}
	return begins(month), begins(month).AddDate(0, 1, 0), fmt.Sprint(m, " ", y)
}

func taxesOf(c money.Currency, name string, from, to time.Time, rows []TaxRow) Taxes {
	t := Taxes{Name: name, First: from, Last: to.AddDate(0, 0, -1), Rows: rows, Sum: TaxRow{Net: money.Sum(c), Tax: money.Sum(c)}}
	for _, r := range rows {
		t.Sum.Net, t.Sum.Tax, t.Sum.N = t.Sum.Net.Add(r.Net), t.Sum.Tax.Add(r.Tax), t.Sum.N+r.N
	}
	return t
}
