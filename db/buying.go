package db

import (
	"context"

	"foamwright/materials/stock"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

const purchaseColumns = "p.id::text, p.series, p.year, p.no, p.supplier::text, s.name, p.ordered, p.ordered_by, p.expected, p.note, p.closed FROM purchase p JOIN supplier s ON s.id = p.supplier "

func scanPurchase(row pgx.CollectableRow) (p stock.Purchase, err error) {
	err = row.Scan(&p.ID, &p.Series, &p.Year, &p.No, &p.Supplier, &p.From, &p.Ordered, &p.By, &p.Expected, &p.Note, (*zeronull.Timestamptz)(&p.Closed))
	return p, err
}

func (t salesTx) Purchase(ctx context.Context, id string) (stock.Purchase, error) {
	return t.purchase(ctx, id, "")
}

func (t salesTx) LockPurchase(ctx context.Context, id string) (stock.Purchase, error) {
	return t.purchase(ctx, id, " FOR NO KEY UPDATE OF p")
}

func (t salesTx) purchase(ctx context.Context, id, lock string) (stock.Purchase, error) {
	p, err := oneOf(ctx, t, "purchase", scanPurchase, "SELECT "+purchaseColumns+"WHERE p.id = $1"+lock, id)
	if err != nil {
		return p, err
	}
	return p, t.purchaseLines(ctx, []stock.Purchase{p}, func(_ int, l stock.PurchaseLine) { p.Lines = append(p.Lines, l) })
}

func (t salesTx) Purchases(ctx context.Context, limit int) ([]stock.Purchase, error) {
	rows, _ := t.Query(ctx, "SELECT "+purchaseColumns+"ORDER BY p.closed IS NOT NULL, p.closed DESC, p.expected, p.id LIMIT $1", limit)
	list, err := pgx.CollectRows(rows, scanPurchase)
	if err != nil {
		return nil, err
	}
	return list, t.purchaseLines(ctx, list, func(i int, l stock.PurchaseLine) { list[i].Lines = append(list[i].Lines, l) })
}

// purchaseLines reads the lines of some purchases and gives each to the purchase it is of.
func (t salesTx) purchaseLines(ctx context.Context, list []stock.Purchase, to func(int, stock.PurchaseLine)) error {
	at := map[string]int{}
	ids := make([]string, len(list))
	for i, p := range list {
		at[p.ID], ids[i] = i, p.ID
	}
	rows, _ := t.Query(ctx, `SELECT l.purchase::text, l.offer::text, o.item, o.pack, l.packs::int, l.came::int, l.price, i.name, o.article, i.unit
		FROM purchase_line l JOIN offer o ON o.id = l.offer JOIN item i ON i.code = o.item WHERE l.purchase = ANY($1::uuid[]) ORDER BY o.item, o.pack`, ids)
	var of string
	var l stock.PurchaseLine
	_, err := pgx.ForEachRow(rows, []any{&of, &l.Offer, &l.Item, &l.Pack, &l.Packs, &l.Came, &l.Price, &l.Name, &l.Article, &l.Unit}, func() error {
		to(at[of], l)
		return nil
	})
	return err
}

func (t salesTx) AddPurchase(ctx context.Context, p stock.Purchase) error {
	b := &pgx.Batch{}
	b.Queue(`INSERT INTO purchase (id, series, year, no, supplier, ordered, ordered_by, expected, note, closed) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		p.ID, p.Series, p.Year, p.No, p.Supplier, p.Ordered, p.By, date(p.Expected), p.Note, zeronull.Timestamptz(p.Closed))
	for _, l := range p.Lines {
		b.Queue("INSERT INTO purchase_line (purchase, offer, packs, price) VALUES ($1, $2, $3, $4)", p.ID, l.Offer, decimal.NewFromInt(int64(l.Packs)), l.Price)
	}
	return t.SendBatch(ctx, b).Close()
}

func (t salesTx) SavePurchase(ctx context.Context, p stock.Purchase) error {
	b := &pgx.Batch{}
	b.Queue("UPDATE purchase SET closed = $2 WHERE id = $1", p.ID, zeronull.Timestamptz(p.Closed))
	for _, l := range p.Lines {
		b.Queue("UPDATE purchase_line SET came = $3 WHERE purchase = $1 AND offer = $2", p.ID, l.Offer, decimal.NewFromInt(int64(l.Came)))
	}
	return t.SendBatch(ctx, b).Close()
}
