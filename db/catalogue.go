package db

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/stock"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
)

// Catalogue is the store of items, suppliers and prices.
func (d *DB) Catalogue() stock.CatalogueStore { return salesStore{d} }

func (s salesStore) ActOnCatalogue(ctx context.Context, act func(stock.CatalogueTx) error) error {
	return s.DB.Act(ctx, func(tx pgx.Tx) error { return act(salesTx{tx, s.DB}) })
}

const itemColumns = "code, kind, name, unit, place, body, least, sealed_days, opened_days, coldest, warmest, dampest, retired, edit"

func scanItem(row pgx.CollectableRow) (i stock.Item, err error) {
	var family stock.Family
	var body []byte
	c := &i.Climate
	err = row.Scan(&i.Code, &family, &i.Name, &i.Unit, &i.Place, &body, &i.Least, &i.SealedDays, &i.OpenedDays, &c.Coldest, &c.Warmest, &c.Dampest, &i.Retired, &i.Edit)
	if err != nil {
		return i, err
	}
	// What stands in columns wins over the document.
	switch family {
	case stock.Foam:
		i.Foam = &materials.Foam{}
		err = json.Unmarshal(body, i.Foam)
		i.Foam.Code, i.Foam.Name = i.Code, i.Name
	case stock.Liquid:
		i.Liquid = &materials.Liquid{}
		err = json.Unmarshal(body, i.Liquid)
		i.Liquid.Code, i.Liquid.Name = i.Code, i.Name
	case stock.Good:
		i.Good = &materials.Good{}
		err = json.Unmarshal(body, i.Good)
		i.Good.Code, i.Good.Name, i.Good.Unit = i.Code, i.Name, i.Unit
	}
	if err != nil {
		return i, fmt.Errorf("item %s: %w", i.Code, err)
	}
	return i, nil
}

func (t salesTx) Items(ctx context.Context) ([]stock.Item, error) {
	rows, _ := t.Query(ctx, "SELECT "+itemColumns+" FROM item ORDER BY place, code")
	return pgx.CollectRows(rows, scanItem)
}

func (t salesTx) Item(ctx context.Context, code string) (stock.Item, error) {
	return one(ctx, t, "item", scanItem, "SELECT "+itemColumns+" FROM item WHERE code = $1", code)
}

// itemBody is how an item behaves, as estimates need it.
func itemBody(i stock.Item) (string, error) {
	var body any
	switch i.Family() {
	case stock.Foam:
		body = i.Foam
	case stock.Liquid:
		body = i.Liquid
	case stock.Good:
		body = i.Good
	}
	written, err := json.Marshal(body)
	if err != nil {
		return "", fmt.Errorf("item %s: %w", i.Code, err)
	}
	return string(written), nil
}

// keeping is the statement that keeps an item, and gives how many it kept.
func keeping(i stock.Item) (string, []any, error) {
	body, err := itemBody(i)
	c := i.Climate
	values := []any{i.Code, i.Family(), i.Name, i.Unit, i.Place, body, i.Least, i.SealedDays, i.OpenedDays, c.Coldest, c.Warmest, c.Dampest, i.Retired}
	if i.Edit > 0 {
		return `WITH kept AS (UPDATE item SET name = $3, place = coalesce(nullif($5, 0), place), body = $6, least = $7, sealed_days = $8, opened_days = $9,
				coldest = $10, warmest = $11, dampest = $12, retired = $13, edit = edit + 1
			WHERE code = $1 AND kind = $2 AND unit = $4 AND edit = $14 RETURNING code)
		SELECT count(*) FROM kept`, append(values, i.Edit), err
	}
	return `WITH kept AS (INSERT INTO item (code, kind, name, unit, place, body, least, sealed_days, opened_days, coldest, warmest, dampest, retired)
			VALUES ($1, $2, $3, $4, coalesce(nullif($5, 0), (SELECT coalesce(max(place), 0) + 1 FROM item)), $6, $7, $8, $9, $10, $11, $12, $13)
			ON CONFLICT DO NOTHING RETURNING code, unit),
		shelf AS (INSERT INTO balance (item, unit, currency) SELECT kept.code, kept.unit, workshop.body#>>'{Figures,Rates,Currency}' FROM kept, workshop ON CONFLICT DO NOTHING)
		SELECT count(*) FROM kept`, values, err
}

func (t salesTx) KeepItem(ctx context.Context, i stock.Item) error {
	return t.KeepItems(ctx, []stock.Item{i})
}

// KeepItems sends all at once: a file has thousands.
func (t salesTx) KeepItems(ctx context.Context, items []stock.Item) error {
	var all pgx.Batch
	refused := -1
	for n, i := range items {
		statement, values, err := keeping(i)
		if err != nil {
			return err
		}
		all.Queue(statement, values...).QueryRow(func(row pgx.Row) error {
			var kept int
			if err := row.Scan(&kept); err != nil {
				return err
			}
			if kept == 0 && refused < 0 {
				refused = n
			}
			return nil
		})
	}
	if err := t.SendBatch(ctx, &all).Close(); err != nil {
		return err
	}
	if refused >= 0 {
		return t.notKept(ctx, items[refused])
	}
	return nil
}

// notKept says why an item was not kept.
func (t salesTx) notKept(ctx context.Context, i stock.Item) error {
	there, err := t.Item(ctx, i.Code)
	var l fault.List
	switch {
	case err != nil:
		return err
	case i.Edit == 0:
		f := fault.New(fault.Conflict, "There is an item with the code %s already; choose another.", i.Code)
		f.Problems = []fault.Problem{{Field: "code", Value: i.Code, Remedy: f.Message}}
		return f
	case there.Family() != i.Family():
		l.Add("kind", string(i.Family()), fmt.Sprintf("%s is a %s, and that stays. List what is something else under another code.", i.Code, there.Family()))
		return l.Err()
	case there.Unit != i.Unit:
		l.Add("unit", string(i.Unit), fmt.Sprintf("The shelf counts %s in %s, and that stays. List what comes in another unit under another code.", i.Code, there.Unit))
		return l.Err()
	}
	return savedMeanwhile("item")
}

func savedMeanwhile(what string) error {
	return fault.New(fault.Conflict, "Somebody else changed this %s meanwhile. Look at it again, then make your change.", what)
}

const supplierColumns = "id::text, name, email, note, lead_days, edit"

func scanSupplier(row pgx.CollectableRow) (s stock.Supplier, err error) {
	err = row.Scan(&s.ID, &s.Name, &s.Email, &s.Note, &s.LeadDays, &s.Edit)
	return s, err
}

func (t salesTx) Suppliers(ctx context.Context) ([]stock.Supplier, error) {
	rows, _ := t.Query(ctx, "SELECT "+supplierColumns+" FROM supplier ORDER BY lower(name), id")
	return pgx.CollectRows(rows, scanSupplier)
}

func (t salesTx) Supplier(ctx context.Context, id string) (stock.Supplier, error) {
	return oneOf(ctx, t, "supplier", scanSupplier, "SELECT "+supplierColumns+" FROM supplier WHERE id = $1", id)
}

func (t salesTx) KeepSupplier(ctx context.Context, s stock.Supplier) error {
	k, err := key(s.ID)
	if err != nil {
		return err
	}
	if s.Edit == 0 {
		_, err = t.Exec(ctx, "INSERT INTO supplier (id, name, email, note, lead_days) VALUES ($1, $2, $3, $4, $5)", k, s.Name, s.Email, s.Note, s.LeadDays)
		return err
	}
	done, err := t.Exec(ctx, "UPDATE supplier SET name = $2, email = $3, note = $4, lead_days = $5, edit = edit + 1 WHERE id = $1 AND edit = $6",
		k, s.Name, s.Email, s.Note, s.LeadDays, s.Edit)
	if err != nil || done.RowsAffected() > 0 {
		return err
	}
	if _, err := t.Supplier(ctx, s.ID); err != nil {
		return err
	}
	return savedMeanwhile("supplier")
}

const offerColumns = "o.id::text, o.item, o.supplier::text, o.pack, o.article, o.usual, o.retired, o.edit"

func offerFields(o *stock.Offer) []any {
	return []any{&o.ID, &o.Item, &o.Supplier, &o.Pack, &o.Article, &o.Usual, &o.Retired, &o.Edit}
}

func (t salesTx) Offers(ctx context.Context, item string) ([]stock.Offer, error) {
	rows, _ := t.Query(ctx, "SELECT "+offerColumns+`, p.valid_from, p.amount, p.noted, p.noted_by FROM offer o JOIN supplier s ON s.id = o.supplier
		LEFT JOIN offer_price p ON p.offer = o.id WHERE $1 = '' OR o.item = $1
		ORDER BY o.item, o.retired, o.usual DESC, lower(s.name), s.id, o.pack, o.id, p.valid_from DESC, p.id DESC`, item)
	var list []stock.Offer
	var o stock.Offer
	var from, noted *time.Time
	var amount decimal.NullDecimal
	var by *string
	_, err := pgx.ForEachRow(rows, append(offerFields(&o), &from, &amount, &noted, &by), func() error {
		if n := len(list); n == 0 || list[n-1].ID != o.ID {
			list = append(list, o)
		}
		if from != nil {
			last := &list[len(list)-1]
			last.Prices = append(last.Prices, stock.Price{From: *from, Amount: amount.Decimal, Noted: *noted, By: *by})
		}
		return nil
	})
	return list, err
}

func (t salesTx) KeepOffer(ctx context.Context, o stock.Offer) error {
	k, err := key(o.ID)
	if err != nil {
		return err
	}
	supplier, err := key(o.Supplier)
	if err != nil {
		return fault.New(fault.NotFound, "%s", refusalOf("offer_supplier").remedy).Because(err)
	}
	if o.Usual {
		// Whoever marks the usual pack of the same item waits here, so that there is never a second one.
		if _, err := t.Exec(ctx, "SELECT FROM item WHERE code = $1 FOR NO KEY UPDATE", o.Item); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, "UPDATE offer SET usual = false, edit = edit + 1 WHERE item = $1 AND id <> $2 AND usual", o.Item, k); err != nil {
			return err
		}
	}
	if o.Edit == 0 {
		_, err = t.Exec(ctx, "INSERT INTO offer (id, item, supplier, pack, article, usual, retired) VALUES ($1, $2, $3, $4, $5, $6, $7)",
			k, o.Item, supplier, o.Pack, o.Article, o.Usual, o.Retired)
		return err
	}
	// What was ordered counts in packs: another size would change what came and what is coming.
	var ordered bool
	if err := t.QueryRow(ctx, "SELECT EXISTS (SELECT FROM offer o JOIN purchase_line l ON l.offer = o.id WHERE o.id = $1 AND (o.pack <> $2 OR o.supplier <> $3))", k, o.Pack, supplier).Scan(&ordered); err != nil {
		return err
	}
	if ordered {
		var l fault.List
		l.Add("pack", o.Pack.String(), "This pack was ordered already, so its size and supplier stay. Say that it is no longer sold, and list the new one beside it.")
		return l.Err()
	}
	done, err := t.Exec(ctx, "UPDATE offer SET supplier = $3, pack = $4, article = $5, usual = $6, retired = $7, edit = edit + 1 WHERE id = $1 AND item = $2 AND edit = $8",
		k, o.Item, supplier, o.Pack, o.Article, o.Usual, o.Retired, o.Edit)
	if err != nil || done.RowsAffected() > 0 {
		return err
	}
	var there bool
	if err := t.QueryRow(ctx, "SELECT EXISTS (SELECT FROM offer WHERE id = $1 AND item = $2)", k, o.Item).Scan(&there); err != nil {
		return err
	}
	if !there {
		return fault.New(fault.NotFound, "There is no such pack. It may have been removed.")
	}
	return savedMeanwhile("pack")
}

func (t salesTx) NotePrice(ctx context.Context, offer string, p stock.Price) error {
	k, err := key(offer)
	if err != nil {
		return err
	}
	done, err := t.Exec(ctx, "INSERT INTO offer_price (offer, valid_from, amount, noted, noted_by) SELECT id, $2, $3, $4, $5 FROM offer WHERE id = $1",
		k, p.From.Format(time.DateOnly), p.Amount, p.Noted, p.By)
	if err == nil && done.RowsAffected() == 0 {
		return fault.New(fault.NotFound, "There is no such pack. It may have been removed.")
	}
	return err
}
