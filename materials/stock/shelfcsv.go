package stock

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"
)

const (
	colName     = "name"
	colBooks    = "by the books"
	colPromised = "promised"
	colComing   = "coming"
	colWanted   = "orders wait for"
	colLeast    = "buy when below"
	colWorth    = "worth"
	colFound    = "found"
	colWhy      = "why"
)

// ShelfColumns are the names of the columns in a file of the shelf. The last two are for counting: filled in, the same
// file comes back as a count sheet.
func ShelfColumns() []string {
	return []string{colItem, colName, colUnit, colBooks, colPromised, colComing, colWanted, colLeast, colWorth, colFound, colWhy}
}

// atOnce is how many rows or movements are read at a time for a file.
const atOnce = 1000

// ShelfCSV is what is on the shelf of every item as a file; offcuts are worth something, but are not counted.
func (s *Service) ShelfCSV(ctx context.Context) ([]byte, error) {
	rows := [][]string{ShelfColumns()}
	for {
		list, err := s.List(ctx, Found{Most: atOnce, Skip: len(rows) - 1})
		if err != nil {
			return nil, err
		}
		for _, r := range list {
			b := r.Balance
			rows = append(rows, []string{Guarded(b.Item), Guarded(r.Item.Name), string(b.Unit), b.OnHand.String(), b.Reserved.String(), r.Coming.String(),
				r.Wanted.String(), r.Item.Least.String(), b.Value.Add(b.OffcutValue).String(), "", ""})
		}
		if len(list) < atOnce {
			return written(rows), nil
		}
	}
}

// MovementsCSV is the ledger of one item, or of all of them, newest first, as a file.
func (s *Service) MovementsCSV(ctx context.Context, items ...string) ([]byte, error) {
	rows := [][]string{{"number", "at", colItem, "kind", "quantity", colUnit, "cost", "lot", "order", colNote, "by"}}
	for _, item := range items {
		before := int64(0)
		for {
			c, err := s.Card(ctx, item, before, atOnce)
			if err != nil {
				return nil, err
			}
			for _, m := range c.Moves {
				rows = append(rows, []string{strconv.FormatInt(m.ID, 10), m.At.UTC().Format(time.RFC3339), Guarded(m.Item), string(m.Kind), m.Quantity.String(), string(c.Balance.Unit),
					m.Cost.String(), m.Lot, m.Order, Guarded(m.Note), Guarded(m.By)})
				before = m.ID
			}
			if len(c.Moves) < atOnce {
				break
			}
		}
	}
	return written(rows), nil
}

func written(rows [][]string) []byte {
	var b bytes.Buffer
	_ = csv.NewWriter(&b).WriteAll(rows) // memory takes everything
	return b.Bytes()
}

// ReadCount reads a count sheet: rows of the shelf's file in which "found" is filled in. What is wrong is named by row
// and column, all at once.
func ReadCount(data []byte) ([]Finding, error) {
	t, err := readTable(data, ShelfColumns(), []string{colItem, colBooks, colFound})
	if err != nil {
		return nil, err
	}
	var found []Finding
	seen := map[string]bool{}
	for _, r := range t.rows {
		if strings.TrimSpace(r.text(colFound)) == "" {
			continue
		}
		f := Finding{Item: r.text(colItem), Expected: r.number(colBooks), Found: r.number(colFound), Why: r.text(colWhy)}
		switch {
		case seen[f.Item]:
			r.wrong(r.n, colItem, f.Item, "This item is there twice. Count it once.")
		case f.Found.LessThan(decimal.Zero):
			r.wrong(r.n, colFound, f.Found.String(), "Write what you found, 0 or more.")
		}
		seen[f.Item] = true
		found = append(found, f)
	}
	return found, t.Err()
}
