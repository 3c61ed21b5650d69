package db

import (
	"context"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
	"github.com/shopspring/decimal"
)

func (t salesTx) ChangeNotes(ctx context.Context, order string) ([]sales.ChangeNote, error) {
	rows, _ := t.Query(ctx, `SELECT order_id::text, no, state, label, moved, agreed, amount, currency, document, offered, by_whom, answered, name, online, reason
		FROM change_note WHERE order_id = $1 ORDER BY no`, nullKey(order))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (n sales.ChangeNote, err error) {
		var amount decimal.Decimal
		var currency money.Currency
		err = row.Scan(&n.Order, &n.No, &n.State, &n.Label, &n.Moved, &n.Agreed, &amount, &currency, (*hash)(&n.Document), &n.Offered, &n.By,
			(*zeronull.Timestamptz)(&n.Answered), &n.Name, &n.Online, &n.Reason)
		n.Amount = amountOf(amount, currency)
		return n, err
	})
}

func (t salesTx) AddChangeNote(ctx context.Context, n sales.ChangeNote) error {
	_, err := t.Exec(ctx, `INSERT INTO change_note (order_id, no, state, label, moved, agreed, amount, currency, document, offered, by_whom)
		VALUES ($1, $2, $3, $4, coalesce($5::json, 'null'), $6, $7, $8, $9, $10, $11)`,
		n.Order, n.No, n.State, n.Label, n.Moved, n.Agreed, n.Amount.Decimal(), n.Amount.Currency(), hash(n.Document), n.Offered, n.By)
	return err
}

func (t salesTx) AnswerChangeNote(ctx context.Context, n sales.ChangeNote) error {
	_, err := t.Exec(ctx, "UPDATE change_note SET state = $3, answered = $4, name = $5, online = $6, reason = $7 WHERE order_id = $1 AND no = $2",
		n.Order, n.No, n.State, n.Answered, n.Name, n.Online, n.Reason)
	return err
}

func (t salesTx) Approvals(ctx context.Context, order string) ([]sales.Approval, error) {
	rows, _ := t.Query(ctx, `SELECT order_id::text, round, note, picture, shown, by_whom, verdict, words, name, online, answered
		FROM approval WHERE order_id = $1 ORDER BY round`, nullKey(order))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (a sales.Approval, err error) {
		err = row.Scan(&a.Order, &a.Round, &a.Note, &a.Picture, &a.Shown, &a.By, &a.Verdict, &a.Words, &a.Name, &a.Online, (*zeronull.Timestamptz)(&a.Answered))
		return a, err
	})
}

func (t salesTx) AddApproval(ctx context.Context, a sales.Approval) error {
	_, err := t.Exec(ctx, "INSERT INTO approval (order_id, round, note, picture, shown, by_whom) VALUES ($1, $2, $3, $4, $5, $6)",
		a.Order, a.Round, a.Note, a.Picture, a.Shown, a.By)
	return err
}

func (t salesTx) AnswerApproval(ctx context.Context, a sales.Approval) error {
	_, err := t.Exec(ctx, "UPDATE approval SET verdict = $3, words = $4, name = $5, online = $6, answered = $7 WHERE order_id = $1 AND round = $2 AND answered IS NULL",
		a.Order, a.Round, a.Verdict, a.Words, a.Name, a.Online, a.Answered)
	return err
}

func (t salesTx) Deliveries(ctx context.Context, order string) ([]sales.Delivery, error) {
	rows, _ := t.Query(ctx, "SELECT order_id::text, nth, day, pieces, way, whom, note, at, by_whom FROM delivery WHERE order_id = $1 ORDER BY nth", nullKey(order))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (d sales.Delivery, err error) {
		err = row.Scan(&d.Order, &d.Nth, &d.Day, &d.Pieces, &d.Way, &d.Whom, &d.Note, &d.At, &d.By)
		return d, err
	})
}

func (t salesTx) AddDelivery(ctx context.Context, d sales.Delivery) error {
	_, err := t.Exec(ctx, "INSERT INTO delivery (order_id, nth, day, pieces, way, whom, note, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
		d.Order, d.Nth, date(d.Day), d.Pieces, d.Way, d.Whom, d.Note, d.At, d.By)
	return err
}

func (t salesTx) Papers(ctx context.Context, order string) ([]sales.OrderPaper, error) {
	rows, _ := t.Query(ctx, "SELECT order_id::text, kind, no, document, at, by_whom FROM order_paper WHERE order_id = $1 ORDER BY at, kind, no", nullKey(order))
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (p sales.OrderPaper, err error) {
		return p, row.Scan(&p.Order, &p.Kind, &p.No, (*hash)(&p.Document), &p.At, &p.By)
	})
}

func (t salesTx) AddPaper(ctx context.Context, p sales.OrderPaper) error {
	_, err := t.Exec(ctx, "INSERT INTO order_paper (order_id, kind, no, document, at, by_whom) VALUES ($1, $2, $3, $4, $5, $6)",
		p.Order, p.Kind, p.No, hash(p.Document), p.At, p.By)
	return err
}
