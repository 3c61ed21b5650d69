package figures

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"time"

	"foamwright/materials/stock"
)

// CSV is every row for a spreadsheet. Rates of few are in it too: their interval says what they are worth.
func (o Outcomes) CSV() []byte {
	rows := [][]string{{"by", "row", "accepted", "declined", "ran_out", "open", "ended", "rate", "rate_low", "rate_high"}}
	add := func(by, name string, t Tally) {
		row := []string{by, stock.Guarded(name)}
		for _, e := range Endings() {
			row = append(row, strconv.Itoa(t.Of(e)))
		}
		row = append(row, strconv.Itoa(t.Ended()), "", "", "")
		if r := t.Rate(); t.Ended() > 0 {
			row[7], row[8], row[9] = r.Share.StringFixed(4), r.Low.StringFixed(4), r.High.StringFixed(4)
		}
		rows = append(rows, row)
	}
	add("all", "", o.All)
	for _, g := range o.Groups {
		for _, r := range g.Rows {
			add(g.Key, r.Name, r.Tally)
		}
	}
	for _, r := range o.Reasons {
		add(reasonsKey, r.Name(), Tally{Declined: r.Quotes})
	}
	return written(rows)
}

// OfferedCSV is quotes for a spreadsheet.
func OfferedCSV(list []Offered) []byte {
	day := func(t time.Time) string {
		if t.IsZero() {
			return ""
		}
		return t.Format(time.DateOnly)
	}
	rows := [][]string{{"number", "version", "title", "customer", "ordered_before", "design", "gross", "currency", "asked", "first_sent", "sent", "answered", "outcome", "reason"}}
	for _, q := range list {
		rows = append(rows, []string{q.Number.String(), strconv.Itoa(q.Version), stock.Guarded(q.Title), stock.Guarded(q.Customer), strconv.FormatBool(q.Before), stock.Guarded(q.DesignName),
			q.Gross.String(), string(q.Gross.Currency()), day(q.Asked), day(q.First), day(q.Issued), day(q.Answered), string(q.Outcome), stock.Guarded(q.Reason)})
	}
	return written(rows)
}

// written are rows as a file.
func written(rows [][]string) []byte {
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // into memory: nothing fails
	return b.Bytes()
}
