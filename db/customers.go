package db

import (
	"context"
	"encoding/json"
	"fmt"

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
	k, err := key(id)
	if err != nil {
		return sales.Customer{}, err
	}
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+" FROM customer WHERE id = $1", k)
	c, err := pgx.CollectExactlyOneRow(rows, scanCustomer)
	return c, missing(err, "customer")
}

func (t salesTx) Customers(ctx context.Context, f sales.Found) ([]sales.Customer, error) {
	pattern, limit := narrowed(f)
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+" FROM customer WHERE name ILIKE $1 OR email ILIKE $1 ORDER BY lower(name), id LIMIT $2", pattern, limit)
	list, err := pgx.CollectRows(rows, scanCustomer)
	return list, translate(err)
}

func (t salesTx) Buyers(ctx context.Context, ids []string) ([]sales.Customer, error) {
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+" FROM customer WHERE id = ANY($1::uuid[])", ids)
	list, err := pgx.CollectRows(rows, scanCustomer)
	return list, translate(err)
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
	return translate(err, salesRefusals)
}

func scanDesign(row pgx.CollectableRow) (d sales.Design, err error) {
	var form []byte
	if err = row.Scan(&d.ID, &d.Name, &d.Note, &form, &d.Version, &d.Changed); err != nil {
		return d, err
	}
	if err = json.Unmarshal(form, &d.Form); err != nil {
		return d, fmt.Errorf("spec of design %s: %w", d.ID, err)
	}
	return d, nil
}

const designColumns = "id::text, name, note, form, version, changed"

func (t salesTx) Design(ctx context.Context, id string) (sales.Design, error) {
	return t.design(ctx, id, "")
}

func (t salesTx) LockDesign(ctx context.Context, id string) (sales.Design, error) {
	return t.design(ctx, id, " FOR NO KEY UPDATE")
}

func (t salesTx) design(ctx context.Context, id, lock string) (sales.Design, error) {
	k, err := key(id)
	if err != nil {
		return sales.Design{}, err
	}
	rows, _ := t.Query(ctx, "SELECT "+designColumns+" FROM design WHERE id = $1"+lock, k)
	d, err := pgx.CollectExactlyOneRow(rows, scanDesign)
	return d, missing(err, "design")
}

func (t salesTx) Designs(ctx context.Context) ([]sales.Design, error) {
	rows, _ := t.Query(ctx, "SELECT "+designColumns+" FROM design ORDER BY lower(name), id LIMIT $1", most)
	list, err := pgx.CollectRows(rows, scanDesign)
	return list, translate(err)
}

func (t salesTx) KeepDesign(ctx context.Context, d sales.Design) error {
	k, err := key(d.ID)
	if err != nil {
		return err
	}
	form, err := json.Marshal(d.Form)
	if err != nil {
		return fmt.Errorf("spec of design %s: %w", d.ID, err)
	}
	if _, err = t.Exec(ctx, `INSERT INTO design (id, name, note, form, version, changed) VALUES ($1, $2, $3, $4, $5, $6)
		ON CONFLICT (id) DO UPDATE SET name = excluded.name, note = excluded.note, form = excluded.form, version = excluded.version, changed = excluded.changed`,
		k, d.Name, d.Note, string(form), d.Version, d.Changed); err != nil {
		return translate(err, salesRefusals)
	}
	_, err = t.Exec(ctx, "INSERT INTO design_version (design_id, version, name, form, since) VALUES ($1, $2, $3, $4, $5) ON CONFLICT DO NOTHING", k, d.Version, d.Name, string(form), d.Changed)
	return translate(err, salesRefusals)
}
