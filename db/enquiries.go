package db

import (
	"context"
	"time"

	"foamwright/pricing/enquiry"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

const enquiryColumns = `SELECT e.id::text, e.state, e.words, e.name, e.mail, e.phone, e.language, e.answers, e.letter, coalesce(e.quote_id::text, ''), e.reason,
	e.edit, e.created, e.changed, e.asked, e.closed, e.by_whom FROM enquiry e `

func scanEnquiry(row pgx.CollectableRow) (e sales.Enquiry, err error) {
	return e, row.Scan(&e.ID, &e.State, &e.Words, &e.Name, &e.Mail, &e.Phone, &e.Language, &e.Answers, &e.Letter, &e.QuoteID, &e.Reason,
		&e.Edit, &e.Created, &e.Changed, (*zeronull.Timestamptz)(&e.Asked), (*zeronull.Timestamptz)(&e.Closed), &e.By)
}

func (t salesTx) Enquiry(ctx context.Context, id string) (sales.Enquiry, error) {
	return oneOf(ctx, t, "enquiry", scanEnquiry, enquiryColumns+"WHERE e.id = $1", id)
}

func (t salesTx) LockEnquiry(ctx context.Context, id string) (sales.Enquiry, error) {
	return oneOf(ctx, t, "enquiry", scanEnquiry, enquiryColumns+"WHERE e.id = $1 FOR UPDATE", id)
}

func (t salesTx) EnquiryOf(ctx context.Context, q sales.Quote) (sales.Enquiry, error) {
	k, err := key(q.ID)
	if err != nil {
		return sales.Enquiry{}, err
	}
	return one(ctx, t, "enquiry", scanEnquiry, enquiryColumns+`JOIN quote q ON q.id = e.quote_id
		WHERE q.id = $1 OR $4 > 0 AND q.series = $2 AND q.year = $3 AND q.no = $4 ORDER BY e.created LIMIT 1`, k, q.Number.Series, q.Number.Year, q.Number.No)
}

func (t salesTx) Enquiries(ctx context.Context, f sales.EnquiryFound) ([]sales.Enquiry, error) {
	pattern, limit := narrowed(sales.Found{Words: f.Words, Most: f.Most})
	rows, _ := t.Query(ctx, enquiryColumns+`WHERE (e.words ILIKE $1 OR e.name ILIKE $1 OR e.mail ILIKE $1) AND (NOT $3 OR e.state IN ('new', 'asked'))
		ORDER BY e.created DESC, e.id DESC LIMIT $2`, pattern, limit, f.Open)
	return pgx.CollectRows(rows, scanEnquiry)
}

func (t salesTx) Asking(ctx context.Context, quotes []string) (map[string]string, error) {
	rows, _ := t.Query(ctx, `SELECT e.quote_id::text, e.id::text FROM enquiry e WHERE e.quote_id = ANY($1::uuid[])`, quotes)
	asking := map[string]string{}
	var quote, enquiry string
	_, err := pgx.ForEachRow(rows, []any{&quote, &enquiry}, func() error {
		asking[quote] = enquiry
		return nil
	})
	return asking, err
}

// enquiryValues are an enquiry's columns from its id to its closing, in the order of the table's writers.
func enquiryValues(e sales.Enquiry) ([]any, error) {
	k, err := key(e.ID)
	if err != nil {
		return nil, err
	}
	quote, err := optional(e.QuoteID)
	if err != nil {
		return nil, err
	}
	if e.Answers == nil {
		e.Answers = map[enquiry.Topic]string{}
	}
	return []any{k, e.State, e.Words, e.Name, e.Mail, e.Phone, e.Language, e.Answers, e.Letter, quote, e.Reason, e.Edit, e.Changed,
		zeronull.Timestamptz(e.Asked), zeronull.Timestamptz(e.Closed)}, nil
}

func (t salesTx) AddEnquiry(ctx context.Context, e sales.Enquiry) (bool, error) {
	values, err := enquiryValues(e)
	if err != nil {
		return false, err
	}
	done, err := t.Exec(ctx, `INSERT INTO enquiry (id, state, words, name, mail, phone, language, answers, letter, quote_id, reason, edit, changed, asked, closed, created, by_whom)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17) ON CONFLICT (id) DO NOTHING`, append(values, e.Created, e.By)...)
	return done.RowsAffected() == 1, err
}

func (t salesTx) SaveEnquiry(ctx context.Context, e sales.Enquiry) error {
	values, err := enquiryValues(e)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, `UPDATE enquiry SET (state, words, name, mail, phone, language, answers, letter, quote_id, reason, edit, changed, asked, closed)
		= ($2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15) WHERE id = $1`, values...)
	return err
}

func (t salesTx) DropEnquiry(ctx context.Context, id string) error {
	k, err := key(id)
	if err != nil {
		return err
	}
	// Who is forgotten waits no longer: an entry of the waiting list has their name and words.
	if _, err = t.Exec(ctx, "DELETE FROM waiting WHERE enquiry_id = $1", k); err != nil {
		return err
	}
	_, err = t.Exec(ctx, "DELETE FROM enquiry WHERE id = $1", k)
	return translateDelete(err)
}

func (t salesTx) EnquiredSince(ctx context.Context, at time.Time) (n int, err error) {
	err = t.QueryRow(ctx, "SELECT count(*) FROM enquiry WHERE by_whom = '' AND created > $1", at).Scan(&n)
	return n, err
}

func (t salesTx) SameCustomers(ctx context.Context, mail, name string) ([]sales.Customer, error) {
	rows, _ := t.Query(ctx, "SELECT "+customerColumns+` FROM customer WHERE $1 <> '' AND lower(email) = lower($1) OR $2 <> '' AND lower(name) = lower($2)
		ORDER BY $1 <> '' AND lower(email) = lower($1) DESC, changed DESC, id LIMIT 20`, mail, name)
	return pgx.CollectRows(rows, scanCustomer)
}
