package db

import (
	"context"
	"time"

	"foamwright/pricing/people"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

// peopleChanged makes a statement that touched no row a fault.NotFound.
func peopleChanged(done pgconn.CommandTag, err error) error {
	if err == nil && done.RowsAffected() == 0 {
		err = pgx.ErrNoRows
	}
	return translate(err)
}

func (s peopleStore) AddSession(ctx context.Context, c people.Credential, session people.Session) error {
	// FOR SHARE waits for a change of the person under way, then looks again at what it left.
	return peopleChanged(s.pool.Exec(ctx, `WITH p AS (SELECT id FROM person
			WHERE id = $1 AND disabled IS NULL AND password_set IS NOT DISTINCT FROM $2 FOR SHARE)
		INSERT INTO session (person_id, digest, began, seen, ends, by_link) SELECT id, $3, $4, $5, $6, $7 FROM p`,
		c.ID, zeronull.Timestamptz(c.PasswordSet), session.Digest[:], session.Began, session.Seen, session.Ends, session.ByLink))
}

func (s peopleStore) Session(ctx context.Context, d people.Digest) (people.Session, error) {
	session := people.Session{Digest: d}
	err := scanPerson(s.pool.QueryRow(ctx, "SELECT "+personColumns+`, began, seen, ends, by_link
		FROM session JOIN person p ON p.id = person_id WHERE digest = $1`, d[:]),
		&session.Person, &session.Began, &session.Seen, &session.Ends, &session.ByLink)
	return session, translate(err)
}

func (s peopleStore) TouchSession(ctx context.Context, d people.Digest, seen time.Time) error {
	// greatest: the clocks of two programs may differ, and what was seen is not unseen.
	_, err := s.pool.Exec(ctx, "UPDATE session SET seen = greatest(seen, $2) WHERE digest = $1", d[:], seen)
	return translate(err)
}

func (s peopleStore) EndSession(ctx context.Context, d people.Digest) error {
	_, err := s.pool.Exec(ctx, "DELETE FROM session WHERE digest = $1", d[:])
	return translate(err)
}

func (s peopleStore) EndSessions(ctx context.Context, personID int64) error {
	_, err := s.pool.Exec(ctx, "DELETE FROM session WHERE person_id = $1", personID)
	return translate(err)
}

func (s peopleStore) AddLink(ctx context.Context, personID int64, d people.Digest, ends time.Time) error {
	return peopleChanged(s.pool.Exec(ctx, `WITH p AS (SELECT id FROM person WHERE id = $1 AND disabled IS NULL FOR SHARE)
		INSERT INTO sign_in_link (person_id, digest, ends) SELECT id, $2, $3 FROM p
		ON CONFLICT (person_id) DO UPDATE SET digest = excluded.digest, ends = excluded.ends`, personID, d[:], ends))
}

func (s peopleStore) UseLink(ctx context.Context, d people.Digest, now time.Time, session people.Session) (people.Person, error) {
	err := s.Act(ctx, func(tx pgx.Tx) error {
		err := scanPerson(tx.QueryRow(ctx, "SELECT "+personColumns+` FROM person p JOIN sign_in_link l ON l.person_id = p.id
			WHERE l.digest = $1 AND p.disabled IS NULL FOR SHARE OF p`, d[:]), &session.Person)
		if err != nil {
			return err
		}
		// Of many who come with the same link one deletes the row; the others wait for it and find none.
		done, err := tx.Exec(ctx, "DELETE FROM sign_in_link WHERE digest = $1 AND ends > $2", d[:], now)
		if err := peopleChanged(done, err); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, "INSERT INTO session (person_id, digest, began, seen, ends, by_link) VALUES ($1, $2, $3, $4, $5, $6)",
			session.ID, session.Digest[:], session.Began, session.Seen, session.Ends, session.ByLink)
		return err
	})
	return session.Person, err
}

// secrets is a table of tokens: those of the API and links to the calendar are kept alike.
type secrets string

const (
	apiTokens     secrets = "api_token"
	calendarLinks secrets = "calendar_link"
)

func (s peopleStore) AddToken(ctx context.Context, t people.Token, d people.Digest) (people.Token, error) {
	return s.addSecret(ctx, apiTokens, t, d)
}

func (s peopleStore) Tokens(ctx context.Context, personID int64) ([]people.Token, error) {
	return s.secrets(ctx, apiTokens, personID)
}

func (s peopleStore) UseToken(ctx context.Context, d people.Digest, now time.Time) (people.Person, error) {
	return s.useSecret(ctx, apiTokens, d, now)
}

func (s peopleStore) EndToken(ctx context.Context, personID, id int64) error {
	return s.endSecret(ctx, apiTokens, personID, id)
}

func (s peopleStore) AddCalendarLink(ctx context.Context, t people.Token, d people.Digest) (people.Token, error) {
	return s.addSecret(ctx, calendarLinks, t, d)
}

func (s peopleStore) CalendarLinks(ctx context.Context, personID int64) ([]people.Token, error) {
	return s.secrets(ctx, calendarLinks, personID)
}

func (s peopleStore) UseCalendarLink(ctx context.Context, d people.Digest, now time.Time) (people.Person, error) {
	return s.useSecret(ctx, calendarLinks, d, now)
}

func (s peopleStore) EndCalendarLink(ctx context.Context, personID, id int64) error {
	return s.endSecret(ctx, calendarLinks, personID, id)
}

func (s peopleStore) addSecret(ctx context.Context, table secrets, t people.Token, d people.Digest) (people.Token, error) {
	err := s.pool.QueryRow(ctx, `WITH p AS (SELECT id FROM person WHERE id = $1 AND disabled IS NULL FOR SHARE)
		INSERT INTO `+string(table)+` (person_id, name, digest, created) SELECT id, $2, $3, $4 FROM p RETURNING id`,
		t.PersonID, t.Name, d[:], t.Created).Scan(&t.ID)
	return t, translate(err)
}

func (s peopleStore) secrets(ctx context.Context, table secrets, personID int64) ([]people.Token, error) {
	rows, err := s.pool.Query(ctx, "SELECT id, person_id, name, created, used FROM "+string(table)+" WHERE person_id = $1 ORDER BY id DESC", personID)
	if err != nil {
		return nil, translate(err)
	}
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (t people.Token, err error) {
		err = row.Scan(&t.ID, &t.PersonID, &t.Name, &t.Created, (*zeronull.Timestamptz)(&t.Used))
		t.Created, t.Used = t.Created.UTC(), t.Used.UTC()
		return t, err
	})
	return all, translate(err)
}

func (s peopleStore) useSecret(ctx context.Context, table secrets, d people.Digest, now time.Time) (people.Person, error) {
	var p people.Person
	var due bool
	err := scanPerson(s.pool.QueryRow(ctx, "SELECT "+personColumns+", coalesce(used <= $2, true) FROM "+string(table)+` t
		JOIN person p ON p.id = t.person_id WHERE t.digest = $1 AND p.disabled IS NULL`, d[:], now.Add(-time.Minute)), &p, &due)
	if err != nil || !due {
		return p, translate(err)
	}
	_, err = s.pool.Exec(ctx, "UPDATE "+string(table)+" SET used = $2 WHERE digest = $1", d[:], now)
	return p, translate(err)
}

func (s peopleStore) endSecret(ctx context.Context, table secrets, personID, id int64) error {
	return peopleChanged(s.pool.Exec(ctx, "DELETE FROM "+string(table)+" WHERE person_id = $1 AND id = $2", personID, id))
}

func (s peopleStore) CountAttempt(ctx context.Context, key people.Digest, limit int, window time.Duration, now time.Time) (time.Duration, error) {
	var count int
	var began time.Time
	err := s.pool.QueryRow(ctx, `INSERT INTO sign_in_attempt AS a (key, count, began) VALUES ($1, 1, $2)
		ON CONFLICT (key) DO UPDATE SET
			count = CASE WHEN a.began <= $3 THEN 1 ELSE least(a.count + 1, $4) END,
			began = CASE WHEN a.began <= $3 THEN $2 ELSE a.began END
		RETURNING count, began`, key[:], now, now.Add(-window), limit+1).Scan(&count, &began)
	if err != nil || count <= limit {
		return 0, translate(err)
	}
	return began.Add(window).Sub(now), nil
}

func (s peopleStore) ForgetAttempts(ctx context.Context, key people.Digest, n int) error {
	_, err := s.pool.Exec(ctx, "UPDATE sign_in_attempt SET count = greatest(count - $2, 0) WHERE key = $1", key[:], n)
	return translate(err)
}

func (s peopleStore) Sweep(ctx context.Context, now, idle, window time.Time) error {
	return s.Act(ctx, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, "DELETE FROM session WHERE ends <= $1 OR seen <= $2", now, idle); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, "DELETE FROM sign_in_link WHERE ends <= $1", now); err != nil {
			return err
		}
		_, err := tx.Exec(ctx, "DELETE FROM sign_in_attempt WHERE began <= $1", window)
		return err
	})
}
