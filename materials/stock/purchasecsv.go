package stock

import (
	"bytes"
	"encoding/csv"
	"strconv"
)

// CSV is a purchase as a file of rows for a mail or a spreadsheet, which takes none of its texts for a formula.
// Prices are net, of a pack, as they were ordered.
func (p Purchase) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"article", "item", "pack", "unit", "packs", "price", "came"}}
	for _, l := range p.Lines {
		rows = append(rows, []string{Guarded(l.Article), Guarded(l.Name), l.Pack.String(), string(l.Unit), strconv.Itoa(l.Packs), l.Price.String(), strconv.Itoa(l.Came)})
	}
	_ = w.WriteAll(rows) // memory takes everything
	return b.Bytes()
}
