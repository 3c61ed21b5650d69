package db

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype/zeronull"
)

// peopleStore keeps people, sessions, links, tokens and attempts. Where one act locks several tables,
// the person comes first, so that two acts never wait for each other.
type peopleStore struct{ *DB }

// People is the store of people.
func (d *DB) People() people.Store { return peopleStore{d} }

// personColumns are what scanPerson reads, of a table or alias p.
const personColumns = "p.id, p.login, p.name, p.role, p.created, p.disabled"

// scanPerson reads a row that begins with personColumns.
func scanPerson(row pgx.Row, p *people.Person, more ...any) error {
	into := []any{&p.ID, &p.Login, &p.Name, &p.Role, &p.Created, (*zeronull.Timestamptz)(&p.Disabled)}
	err := row.Scan(append(into, more...)...)
	p.Created, p.Disabled = p.Created.UTC(), p.Disabled.UTC()
	return err
}

func (s peopleStore) AddPerson(ctx context.Context, p people.Person, hash string) (people.Person, error) {
	err := s.Act(ctx, func(tx pgx.Tx) error { return addPerson(ctx, tx, &p, hash) })
	return p, err
}

func (s peopleStore) AddFirstOwner(ctx context.Context, p people.Person, hash string) (people.Person, error) {
	err := s.Act(ctx, func(tx pgx.Tx) error {
		// Held against every other insert until the end, so nobody can come between looking and adding.
		if _, err := tx.Exec(ctx, "LOCK TABLE person IN SHARE ROW EXCLUSIVE MODE"); err != nil {
			return err
		}
		var anybody bool
		if err := tx.QueryRow(ctx, "SELECT EXISTS (SELECT FROM person)").Scan(&anybody); err != nil {
			return err
		}
		if anybody {
			return fault.New(fault.State, "The workshop has an owner already; sign in, or ask them to add you.")
		}
		return addPerson(ctx, tx, &p, hash)
	})
	return p, err
}

func addPerson(ctx context.Context, tx pgx.Tx, p *people.Person, hash string) error {
	var set time.Time
	if hash != "" {
		set = p.Created
	}
	err := tx.QueryRow(ctx, `INSERT INTO person (login, name, role, created, disabled, password_hash, password_set)
		VALUES ($1, $2, $3, $4, $5, $6, $7) RETURNING id`,
		p.Login, p.Name, p.Role, p.Created, zeronull.Timestamptz(p.Disabled), zeronull.Text(hash),
		zeronull.Timestamptz(set)).Scan(&p.ID)
	return translate(err)
}

func (s peopleStore) ChangePerson(ctx context.Context, id int64, change func(*people.Person) error) (people.Person, error) {
	var p people.Person
	err := s.Act(ctx, func(tx pgx.Tx) error {
		// Two owners who disable each other at once must meet here: each locks all owners, in one order.
		rows, err := tx.Query(ctx, "SELECT id FROM person WHERE role = $1 AND disabled IS NULL ORDER BY id FOR UPDATE", people.Owner)
		if err != nil {
			return err
		}
		owners, err := pgx.CollectRows(rows, pgx.RowTo[int64])
		if err != nil {
			return err
		}
		if err := scanPerson(tx.QueryRow(ctx, "SELECT "+personColumns+" FROM person p WHERE id = $1 FOR UPDATE", id), &p); err != nil {
			return err
		}
		if err := change(&p); err != nil {
			return err
		}
		if len(owners) == 1 && owners[0] == id && (p.Role != people.Owner || !p.Active()) {
			return fault.New(fault.State, "This is the only owner who can sign in; make somebody else an owner first.")
		}
		if _, err := tx.Exec(ctx, "UPDATE person SET name = $2, role = $3, disabled = $4 WHERE id = $1",
			id, p.Name, p.Role, zeronull.Timestamptz(p.Disabled)); err != nil || p.Active() {
			return err
		}
		for _, way := range []string{"session", "sign_in_link", string(apiTokens), string(calendarLinks)} {
			if _, err := tx.Exec(ctx, "DELETE FROM "+way+" WHERE person_id = $1", id); err != nil {
				return err
			}
		}
		return nil
	})
	return p, err
}

func (s peopleStore) Person(ctx context.Context, id int64) (people.Person, error) {
	var p people.Person
	err := scanPerson(s.pool.QueryRow(ctx, "SELECT "+personColumns+" FROM person p WHERE id = $1", id), &p)
	return p, translate(err)
}

func (s peopleStore) People(ctx context.Context) ([]people.Person, error) {
	rows, err := s.pool.Query(ctx, "SELECT "+personColumns+" FROM person p ORDER BY name, id")
	if err != nil {
		return nil, translate(err)
	}
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (p people.Person, err error) {
		return p, scanPerson(row, &p)
	})
	return all, translate(err)
}

func (s peopleStore) Credential(ctx context.Context, login string) (people.Credential, error) {
	var c people.Credential
	err := scanPerson(s.pool.QueryRow(ctx, "SELECT "+personColumns+", password_hash, password_set FROM person p WHERE login = $1", login),
		&c.Person, (*zeronull.Text)(&c.Hash), (*zeronull.Timestamptz)(&c.PasswordSet))
	return c, translate(err)
}

func (s peopleStore) SetPassword(ctx context.Context, id int64, hash string, at time.Time, keep people.Digest) error {
	return s.Act(ctx, func(tx pgx.Tx) error {
		done, err := tx.Exec(ctx, "UPDATE person SET password_hash = $2, password_set = $3 WHERE id = $1 AND disabled IS NULL", id, hash, at)
		if err := peopleChanged(done, err); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, "DELETE FROM session WHERE person_id = $1 AND digest <> $2", id, keep[:]); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, "UPDATE session SET by_link = false WHERE digest = $1", keep[:]); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, "DELETE FROM sign_in_link WHERE person_id = $1", id)
		return err
	})
}

func (s peopleStore) ReplaceHash(ctx context.Context, id int64, old, new string) error {
	_, err := s.pool.Exec(ctx, "UPDATE person SET password_hash = $3 WHERE id = $1 AND password_hash = $2", id, old, new)
	return translate(err)
}
