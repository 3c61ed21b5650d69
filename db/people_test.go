package db_test

import (
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"
)

// noon is the time of these tests.
var noon = time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)

// someHash has the form of a hash; the store never checks one.
const someHash = "$argon2id$v=19$m=64,t=1,p=1$c29tZXNhbHQ$c29tZWtleXNvbWVrZXk"

func aPerson(login string, role people.Role) people.Person {
	return people.Person{Login: login, Name: strings.ToUpper(login), Role: role, Created: noon}
}

func addPerson(t *testing.T, s people.Store, login string, role people.Role) people.Person {
	t.Helper()
	p, err := s.AddPerson(t.Context(), aPerson(login, role), someHash)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// aSession begins at noon for a day.
func aSession(secret string) people.Session {
	return people.Session{Began: noon, Seen: noon, Ends: noon.Add(24 * time.Hour), Digest: people.DigestOf(secret)}
}

func beginSession(t *testing.T, s people.Store, login, secret string) {
	t.Helper()
	c, err := s.Credential(t.Context(), login)
	if err == nil {
		err = s.AddSession(t.Context(), c, aSession(secret))
	}
	if err != nil {
		t.Fatal(err)
	}
}

func wantKind(t *testing.T, what string, err error, kind fault.Kind) {
	t.Helper()
	if err == nil || fault.KindOf(err) != kind {
		t.Errorf("%s: %v, want kind %d", what, err, kind)
	}
}

// together runs n calls at once and counts those without error; the others must fail with kind.
func together(t *testing.T, n int, kind fault.Kind, call func(i int) error) int {
	t.Helper()
	var well atomic.Int32
	var ready, done sync.WaitGroup
	start := make(chan struct{})
	ready.Add(n)
	for i := range n {
		done.Go(func() {
			ready.Done()
			<-start
			if err := call(i); err == nil {
				well.Add(1)
			} else if fault.KindOf(err) != kind {
				t.Errorf("call %d: %v", i, err)
			}
		})
	}
	ready.Wait()
	close(start)
	done.Wait()
	return int(well.Load())
}

func TestPersonsAreKept(t *testing.T) {
	s := dbtest.New(t).People()
	mara := addPerson(t, s, "mara", people.Owner)
	jonas := aPerson("jonas", people.Helper)
	jonas.Disabled = noon.Add(time.Hour)
	jonas, err := s.AddPerson(t.Context(), jonas, "")
	if err != nil {
		t.Fatal(err)
	}
	all, err := s.People(t.Context())
	if diff := cmp.Diff([]people.Person{jonas, mara}, all); diff != "" || err != nil {
		t.Error(err, diff)
	}
	c, err := s.Credential(t.Context(), "mara")
	if diff := cmp.Diff(people.Credential{Person: mara, Hash: someHash, PasswordSet: noon}, c); diff != "" || err != nil {
		t.Error(err, diff)
	}
	if c, err := s.Credential(t.Context(), "jonas"); c.Hash != "" || !c.PasswordSet.IsZero() || err != nil {
		t.Errorf("a person without a password: %+v, %v", c, err)
	}
	_, err = s.AddPerson(t.Context(), aPerson("mara", people.Helper), "")
	wantKind(t, "a login twice", err, fault.Conflict)
	if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != "login" {
		t.Errorf("a login twice: %+v", p)
	}
	_, err = s.Person(t.Context(), 999)
	wantKind(t, "an unknown person", err, fault.NotFound)
	_, err = s.Credential(t.Context(), "")
	wantKind(t, "an unknown login", err, fault.NotFound)
	wantKind(t, "a password for nobody", s.SetPassword(t.Context(), 999, someHash, noon, people.Digest{}), fault.NotFound)
}

func TestOneFirstOwner(t *testing.T) {
	s := dbtest.New(t).People()
	won := together(t, 16, fault.State, func(i int) error {
		_, err := s.AddFirstOwner(t.Context(), aPerson(fmt.Sprintf("owner%d", i), people.Owner), someHash)
		return err
	})
	if all, err := s.People(t.Context()); won != 1 || len(all) != 1 || err != nil {
		t.Errorf("%d first owners, %d people, %v", won, len(all), err)
	}
}

func TestAnOwnerAlwaysRemains(t *testing.T) {
	s := dbtest.New(t).People()
	a, b := addPerson(t, s, "aa", people.Owner), addPerson(t, s, "bb", people.Owner)
	disable := func(p *people.Person) error { p.Disabled = noon; return nil }
	demote := func(p *people.Person) error { p.Role = people.Helper; return nil }
	for round := range 20 {
		how := []func(*people.Person) error{disable, demote}[round%2]
		if won := together(t, 2, fault.State, func(i int) error {
			_, err := s.ChangePerson(t.Context(), []int64{a.ID, b.ID}[i], func(p *people.Person) error {
				time.Sleep(2 * time.Millisecond) // so that both are at it at once
				return how(p)
			})
			return err
		}); won != 1 {
			t.Fatalf("round %d: %d of two owners went", round, won)
		}
		for _, id := range []int64{a.ID, b.ID} {
			if _, err := s.ChangePerson(t.Context(), id, func(p *people.Person) error {
				p.Role, p.Disabled = people.Owner, time.Time{}
				return nil
			}); err != nil {
				t.Fatal(err)
			}
		}
	}
	_, err := s.ChangePerson(t.Context(), 999, disable)
	wantKind(t, "an unknown person", err, fault.NotFound)
	_, err = s.ChangePerson(t.Context(), a.ID, func(*people.Person) error { return fault.New(fault.Invalid, "no") })
	wantKind(t, "a change refused by its author", err, fault.Invalid)
}

func TestChangesOfOnePersonAddUp(t *testing.T) {
	s := dbtest.New(t).People()
	p := addPerson(t, s, "mara", people.Owner)
	const n = 16
	if won := together(t, n, fault.Internal, func(int) error {
		_, err := s.ChangePerson(t.Context(), p.ID, func(p *people.Person) error { p.Name += "!"; return nil })
		return err
	}); won != n {
		t.Errorf("%d of %d changes", won, n)
	}
	if p, err := s.Person(t.Context(), p.ID); p.Name != "MARA"+strings.Repeat("!", n) || err != nil {
		t.Error(p.Name, err)
	}
}

func TestDisablingEndsEveryWayIn(t *testing.T) {
	s := dbtest.New(t).People()
	addPerson(t, s, "mara", people.Owner)
	ilse := addPerson(t, s, "ilse", people.Helper)
	stale, _ := s.Credential(t.Context(), "ilse")
	beginSession(t, s, "ilse", "cookie")
	if err := s.AddLink(t.Context(), ilse.ID, people.DigestOf("link"), noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.AddToken(t.Context(), people.Token{PersonID: ilse.ID, Name: "scale", Created: noon}, people.DigestOf("token")); err != nil {
		t.Fatal(err)
	}
	if _, err := s.ChangePerson(t.Context(), ilse.ID, func(p *people.Person) error { p.Disabled = noon; return nil }); err != nil {
		t.Fatal(err)
	}
	_, err := s.Session(t.Context(), people.DigestOf("cookie"))
	wantKind(t, "session", err, fault.NotFound)
	_, err = s.UseLink(t.Context(), people.DigestOf("link"), noon, aSession("new"))
	wantKind(t, "link", err, fault.NotFound)
	_, err = s.UseToken(t.Context(), people.DigestOf("token"), noon)
	wantKind(t, "token", err, fault.NotFound)
	wantKind(t, "session by a password checked before", s.AddSession(t.Context(), stale, aSession("late")), fault.NotFound)
	wantKind(t, "new link", s.AddLink(t.Context(), ilse.ID, people.DigestOf("link"), noon.Add(time.Hour)), fault.NotFound)
	_, err = s.AddToken(t.Context(), people.Token{PersonID: ilse.ID, Name: "scale", Created: noon}, people.DigestOf("token"))
	wantKind(t, "new token", err, fault.NotFound)
}

// TestTheTablesHoldTheirOwn: what a program's mistake would write is refused by the table itself.
func TestTheTablesHoldTheirOwn(t *testing.T) {
	d := dbtest.New(t)
	addPerson(t, d.People(), "mara", people.Owner)
	for _, bad := range []string{
		"UPDATE person SET role = 'king'",
		"UPDATE person SET password_hash = 'my plain password'",
		"UPDATE person SET password_hash = NULL",
		"UPDATE person SET name = ''",
		"UPDATE person SET login = 'm'",
		"INSERT INTO session VALUES ('\\x00', 1, now(), now(), now() + interval '1 day', false)",
		"INSERT INTO session VALUES (sha256('a'), 1, now(), now() - interval '1 day', now() + interval '1 day', false)",
		"INSERT INTO session VALUES (sha256('a'), 1, now(), now(), now(), false)",
		"INSERT INTO sign_in_link VALUES (1, '\\x00', now())",
		"INSERT INTO sign_in_attempt VALUES (sha256('a'), -1, now())",
	} {
		err := d.Act(t.Context(), func(tx pgx.Tx) error { _, err := tx.Exec(t.Context(), bad); return err })
		wantKind(t, bad, err, fault.Invalid)
	}
}
