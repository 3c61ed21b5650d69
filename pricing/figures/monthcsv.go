package figures

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"time"

	"foamwright/materials/stock"
)

// MonthsCSV is months as a file, oldest first; amounts and hours with a point.
func MonthsCSV(all []Month) []byte {
	rows := [][]string{{"month", "quotes", "quoted_net", "orders", "ordered_net", "cancelled", "cancelled_net", "invoiced_net", "paid", "owed_at_end", "stock_at_end", "bought", "taken", "lost",
		"hours_sold", "hours_worked", "hours_there", "jobs_done", "jobs_net", "jobs_fees", "jobs_bought_in", "jobs_material", "fixed_costs", "left", "jobs_hours", "earned_an_hour", "reckoned_an_hour", "currency"}}
	for _, m := range all {
		e := m.Earnings()
		rows = append(rows, []string{m.Key(), strconv.Itoa(m.Quoted.N), m.Quoted.Amount.String(), strconv.Itoa(m.Ordered.N), m.Ordered.Amount.String(), strconv.Itoa(m.Cancelled.N), m.Cancelled.Amount.String(),
			m.Invoiced.Amount.String(), m.Paid.Amount.String(), m.Owed.String(), m.Stock.String(), m.Bought.String(), m.Taken.String(), m.Lost.String(),
			m.Sold.String(), m.Worked().String(), m.There.String(), strconv.Itoa(m.Ended.Done), e.Net.String(), e.Fee.String(), e.BoughtIn.String(), e.Material.String(), e.Fixed.String(), e.Left().String(),
			e.Hours().String(), e.PerHour().String(), m.Reckoned().String(), string(m.Fixed.Currency())})
	}
	return filed(rows)
}

// TaxesCSV is tax of some periods by rate and treatment as a file for bookkeeping.
func TaxesCSV(all []Taxes) []byte {
	rows := [][]string{{"period", "first", "last", "code", "percent", "category", "treatment", "documents", "net", "tax", "gross", "currency"}}
	for _, t := range all {
		for _, r := range t.Rows {
			rows = append(rows, []string{t.Name, t.First.Format(time.DateOnly), t.Last.Format(time.DateOnly), stock.Guarded(r.Code), r.Percent.String(), r.Category, stock.Guarded(r.Name()), strconv.Itoa(r.N),
				r.Net.String(), r.Tax.String(), r.Gross().String(), string(r.Net.Currency())})
		}
	}
	return filed(rows)
}

// DocumentsCSV is what a figure sums as a file.
func DocumentsCSV(d Documents) []byte {
	rows := [][]string{{"figure", "day", "what", "kind", "number", "title", "who", "amount", "unit", "id"}}
	unit := string(d.Unit)
	if d.Unit == InMoney {
		unit = string(d.Currency)
	}
	for _, r := range d.Rows {
		day, number := "", ""
		if !r.Day.IsZero() {
			day = r.Day.Format(time.DateOnly)
		}
		if r.Number.No > 0 {
			number = r.Number.String()
		}
		rows = append(rows, []string{d.Key, day, r.Link, r.Kind, stock.Guarded(number), stock.Guarded(r.Title), stock.Guarded(r.Who), d.Write(r.Amount), unit, r.ID})
	}
	return filed(rows)
}

func filed(rows [][]string) []byte {
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // memory takes everything
	return b.Bytes()
}
