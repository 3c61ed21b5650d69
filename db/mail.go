package db

import (
	"context"
	"time"

	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

// AddMail writes a mail with its documents' hashes.
func (t salesTx) AddMail(ctx context.Context, m sales.Mail) (bool, error) {
	about, err := key(m.About)
	if err != nil {
		return false, err
	}
	done, err := t.Exec(ctx, `INSERT INTO mail (id, message_id, token, kind, about, language, recipient, subject, body, link, state, tries, since, due, refusal, queued, by_whom)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, 0, $12, $13, '', $14, $15) ON CONFLICT DO NOTHING`,
		m.ID, m.MessageID, m.Token, m.Kind, about, m.Language, m.To, m.Subject, m.Text, m.Link, m.State, m.Since, m.Due, m.Queued, m.By)
	if err != nil || done.RowsAffected() == 0 {
		return false, err
	}
	for nth, d := range m.Documents {
		if _, err := t.Exec(ctx, "INSERT INTO mail_document (mail, nth, document) VALUES ($1, $2, $3)", m.ID, nth, hash(d.Hash)); err != nil {
			return false, err
		}
	}
	return true, nil
}

const mailColumns = `SELECT m.id::text, m.message_id, m.token, m.kind, m.about::text, m.language, m.recipient, m.subject, m.body, m.link,
	m.state, m.tries, m.since, m.due, m.held_until, m.refusal, m.queued, m.by_whom, m.sent FROM mail m `

func scanMail(row pgx.CollectableRow) (m sales.Mail, err error) {
	return m, row.Scan(&m.ID, &m.MessageID, &m.Token, &m.Kind, &m.About, &m.Language, &m.To, &m.Subject, &m.Text, &m.Link,
		&m.State, &m.Tries, &m.Since, &m.Due, (*zeronull.Timestamptz)(&m.Held), &m.Refusal, &m.Queued, &m.By, (*zeronull.Timestamptz)(&m.Sent))
}

func (t salesTx) MailOf(ctx context.Context, token string) (sales.Mail, error) {
	return one(ctx, t, "mail", scanMail, mailColumns+"WHERE m.token = $1", token)
}

func (t salesTx) LockMail(ctx context.Context, id string) (sales.Mail, error) {
	return oneOf(ctx, t, "mail", scanMail, mailColumns+"WHERE m.id = $1 FOR UPDATE", id)
}

func (t salesTx) DueMail(ctx context.Context, now time.Time) (sales.Mail, error) {
	return one(ctx, t, "mail", scanMail, mailColumns+`WHERE m.state = 'waiting' AND m.due <= $1 AND (m.held_until IS NULL OR m.held_until <= $1)
		ORDER BY m.due, m.id LIMIT 1 FOR UPDATE SKIP LOCKED`, now)
}

// Mail reads one with its documents.
func (t salesTx) Mail(ctx context.Context, id string) (sales.Mail, error) {
	m, err := oneOf(ctx, t, "mail", scanMail, mailColumns+"WHERE m.id = $1", id)
	if err != nil {
		return m, err
	}
	rows, _ := t.Query(ctx, "SELECT d.hash, d.name, d.bytes FROM mail_document a JOIN document d ON d.hash = a.document WHERE a.mail = $1 ORDER BY a.nth", id)
	m.Documents, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (d sales.Document, err error) {
		return d, row.Scan((*hash)(&d.Hash), &d.Name, &d.Bytes)
	})
	return m, err
}

func (t salesTx) Mails(ctx context.Context, f sales.MailFound) ([]sales.Mail, error) {
	if f.Most <= 0 || f.Most > most {
		f.Most = most
	}
	rows, _ := t.Query(ctx, mailColumns+`WHERE ($1 = '' OR m.about::text = $1) AND ($2 = '' OR m.kind = $2) AND (NOT $3 OR m.state IN ('waiting', 'failed'))
		ORDER BY m.queued DESC, m.id DESC LIMIT $4`, f.About, f.Kind, f.Open, f.Most)
	return pgx.CollectRows(rows, scanMail)
}

func (t salesTx) SaveMail(ctx context.Context, m sales.Mail) error {
	k, err := key(m.ID)
	if err != nil {
		return err
	}
	_, err = t.Exec(ctx, "UPDATE mail SET (link, state, tries, since, due, held_until, refusal, sent) = ($2, $3, $4, $5, $6, $7, $8, $9) WHERE id = $1",
		k, m.Link, m.State, m.Tries, m.Since, m.Due, zeronull.Timestamptz(m.Held), m.Refusal, zeronull.Timestamptz(m.Sent))
	return err
}

func (t salesTx) AddMailStep(ctx context.Context, mail string, s sales.MailStep) error {
	_, err := t.Exec(ctx, "INSERT INTO mail_trail (mail, at, what, says, by_whom) VALUES ($1, $2, $3, $4, $5)", mail, s.At, s.What, s.Says, s.By)
	return err
}

func (t salesTx) MailSteps(ctx context.Context, mail string) ([]sales.MailStep, error) {
	k, err := key(mail)
	if err != nil {
		return nil, err
	}
	rows, _ := t.Query(ctx, "SELECT at, what, says, by_whom FROM mail_trail WHERE mail = $1 ORDER BY id", k)
	return pgx.CollectRows(rows, pgx.RowToStructByPos[sales.MailStep])
}

// ToRemind leaves out what was sent only when it was to be reminded of already.
func (t salesTx) ToRemind(ctx context.Context, now time.Time, days int) ([]string, error) {
	rows, _ := t.Query(ctx, `SELECT q.id::text FROM quote q JOIN customer c ON c.id = q.customer_id
		WHERE q.state = 'issued' AND c.email <> '' AND q.valid_until > $1 AND q.valid_until - make_interval(days => $2) <= $1
		AND EXISTS (SELECT FROM mail m WHERE m.about = q.id AND m.kind = 'quote' AND m.sent < q.valid_until - make_interval(days => $2))
		AND NOT EXISTS (SELECT FROM mail m WHERE m.about = q.id AND m.kind = 'reminder')
		ORDER BY q.valid_until, q.id`, now, days)
	return pgx.CollectRows(rows, pgx.RowTo[string])
}
