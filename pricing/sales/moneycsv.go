package sales

import (
	"bytes"
	"encoding/csv"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/tax"
)

// InvoicesCSV is invoices and credit notes as a file for bookkeeping, a row a rate: days as 2027-03-14, amounts with a
// point, credit notes below zero, no text that a spreadsheet takes for a formula.
func InvoicesCSV(list []Invoice) []byte {
	rows := [][]string{{"number", "kind", "issued", "due", "supplied", "order", "customer", "country", "tax_number", "tax_code", "tax_percent", "net", "tax", "gross", "currency", "credits", "reference"}}
	for _, i := range list {
		shares := i.Totals.Shares
		if len(shares) == 0 {
			shares = []tax.Share{{Net: i.Totals.Net, Tax: i.Totals.Tax, Gross: i.Totals.Gross}}
		}
		for _, s := range shares {
			if i.Kind == CreditNote {
				s.Net, s.Tax, s.Gross = s.Net.Neg(), s.Tax.Neg(), s.Gross.Neg()
			}
			rows = append(rows, []string{
				stock.Guarded(i.Number.String()), string(i.Kind), onDay(i.Issued), onDay(i.Due), onDay(i.Supplied), stock.Guarded(i.Order.String()),
				stock.Guarded(i.Buyer.Name), i.Buyer.Country, stock.Guarded(i.Buyer.TaxNumber), stock.Guarded(s.Rate.Code), s.Rate.Percent.String(),
				s.Net.String(), s.Tax.String(), s.Gross.String(), string(s.Gross.Currency()), stock.Guarded(i.Credits.Number.String()), i.Reference,
			})
		}
	}
	return file(rows)
}

// PaymentsCSV is payments as a file for bookkeeping; what was paid back is below zero.
func PaymentsCSV(list []Payment) []byte {
	rows := [][]string{{"day", "amount", "currency", "way", "order", "customer", "note", "written_by", "id", "takes_back"}}
	for _, p := range list {
		rows = append(rows, []string{onDay(p.Day), p.Amount.String(), string(p.Amount.Currency()), string(p.Way), stock.Guarded(p.Order.String()),
			stock.Guarded(p.Customer), stock.Guarded(p.Note), stock.Guarded(p.By), p.ID, p.TakesBack})
	}
	return file(rows)
}

// StatementsCSV is what passed between the workshop and a customer as a file.
func StatementsCSV(list []Statement) []byte {
	rows := [][]string{{"day", "what", "number", "order", "asked", "came", "balance", "currency"}}
	for _, s := range list {
		if !s.From.IsZero() {
			rows = append(rows, []string{onDay(s.From), "brought forward", "", "", "", "", s.Opening.String(), string(s.Currency)})
		}
		for _, e := range s.Lines {
			row := []string{onDay(e.Day), "payment", "", "", e.Asked.String(), e.Came.String(), e.Balance.String(), string(s.Currency)}
			if i := e.Invoice; i != nil {
				row[1], row[2], row[3] = string(i.Kind), stock.Guarded(i.Number.String()), stock.Guarded(i.Order.String())
			} else {
				row[3] = stock.Guarded(e.Payment.Order.String())
			}
			rows = append(rows, row)
		}
	}
	return file(rows)
}

// onDay is a day as files have it; nothing for none.
func onDay(day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return day.Format(time.DateOnly)
}

func file(rows [][]string) []byte {
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // memory takes everything
	return b.Bytes()
}
