package db

import (
	"context"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
)

// most rows of a list when none were named.
const most = 200

// narrowed is a list's pattern and limit: words match anywhere, whatever their case.
func narrowed(f sales.Found) (pattern string, limit int) {
	if f.Most <= 0 || f.Most > most {
		f.Most = most
	}
	return "%" + likeEscape(f.Words) + "%", f.Most
}

const customerColumns = "id::text, name, email, phone, address, note, changed, language, business, tax_number, country, treatment, pay_first"

func scanCustomer(row pgx.CollectableRow) (c sales.Customer, err error) {
	err = row.Scan(&c.ID, &c.Name, &c.Email, &c.Phone, &c.Address, &c.Note, &c.Changed,
		&c.Language, &c.Business, &c.TaxNumber, &c.Country, &c.Treatment, &c.PayFirst)
	return c, err
}

func (t salesTx) Customer(ctx context.Context, id string) (sales.Customer, error) {
	return oneOf(ctx, t, "customer", scanCustomer, "SELECT "+customerColumns+" FROM customer WHERE id = $1", id)
}

func (t salesTx) Customers(ctx context.Context, f sales.Found) ([]sales.Customer, error) {
	pattern, limit := narrowed(f)
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+" FROM customer WHERE name ILIKE $1 OR email ILIKE $1 ORDER BY lower(name), id LIMIT $2", pattern, limit)
	return pgx.CollectRows(rows, scanCustomer)
}

func (t salesTx) Buyers(ctx context.Context, ids []string) ([]sales.Customer, error) {
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+" FROM customer WHERE id = ANY($1::uuid[])", ids)
	return pgx.CollectRows(rows, scanCustomer)
}

func (t salesTx) KeepCustomer(ctx context.Context, c sales.Customer) error {
	k, err := key(c.ID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, `INSERT INTO customer (id, name, email, phone, address, note, changed, language, business, tax_number, country, treatment, pay_first)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, email = excluded.email, phone = excluded.phone,
			address = excluded.address, note = excluded.note, changed = excluded.changed, language = excluded.language,
			business = excluded.business, tax_number = excluded.tax_number, country = excluded.country,
			treatment = excluded.treatment, pay_first = excluded.pay_first`,
		k, c.Name, c.Email, c.Phone, c.Address, c.Note, c.Changed, c.Language, c.Business, c.TaxNumber, c.Country, c.Treatment, c.PayFirst)
	return err
}

func scanDesign(row pgx.CollectableRow) (d sales.Design, err error) {
	return d, row.Scan(&d.ID, &d.Name, &d.Note, &d.Form, &d.Version, &d.Changed)
}

const designColumns = "SELECT id::text, name, note, form, version, changed FROM design "

func (t salesTx) Design(ctx context.Context, id string) (sales.Design, error) {
	return oneOf(ctx, t, "design", scanDesign, designColumns+"WHERE id = $1", id)
}

func (t salesTx) LockDesign(ctx context.Context, id string) (sales.Design, error) {
	return oneOf(ctx, t, "design", scanDesign, designColumns+"WHERE id = $1 FOR NO KEY UPDATE", id)
}

func (t salesTx) Designs(ctx context.Context) ([]sales.Design, error) {
	rows, _ := t.Query(ctx, designColumns+"ORDER BY lower(name), id LIMIT $1", most)
	return pgx.CollectRows(rows, scanDesign)
}

func (t salesTx) KeepDesign(ctx context.Context, d sales.Design) error {
	k, err := key(d.ID)
	if err != nil {
		return err
	}
	if _, err = t.Exec(ctx, `INSERT INTO design (id, name, note, form, version, changed) VALUES ($1, $2, $3, $4, $5, $6)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, note = excluded.note, form = excluded.form, version = excluded.version, changed = excluded.changed`,
		k, d.Name, d.Note, d.Form, d.Version, d.Changed); err != nil {
		return err
	}
	_, err = t.Exec(ctx, "INSERT INTO design_version (design_id, version, name, form, since) VALUES ($1, $2, $3, $4, $5) ON CONFLICT DO NOTHING", k, d.Version, d.Name, d.Form, d.Changed)
	return err
}
