package people_test

import (
	"crypto/rand"
	"errors"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

const boots = "three old boots"

// workshop is a service on a real database with a clock that the test moves.
type workshop struct {
	*people.Service
	t     *testing.T
	store people.Store
	mu    sync.Mutex
	now   time.Time
}

func (w *workshop) pass(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.now = w.now.Add(d)
}

func (w *workshop) clock() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.now
}

func open(t *testing.T) (*workshop, people.Person) {
	w := &workshop{t: t, store: dbtest.New(t).People(), now: time.Date(2031, 5, 2, 12, 0, 0, 999, time.UTC)}
	w.Service = people.New(w.store, hasher(1), people.DefaultPolicy(), w.clock, rand.Reader)
	owner, err := w.SetUp(t.Context(), people.Entry{Login: "Mara", Name: "Mara", Password: boots})
	if err != nil {
		t.Fatal(err)
	}
	return w, owner
}

func hasher(passes uint32) *people.Hasher {
	return people.NewHasher(people.Params{Memory: 64, Passes: passes, Threads: 1}, 2, rand.Reader)
}

func (w *workshop) signIn(login, password string) (people.Session, string, error) {
	return w.SignIn(w.t.Context(), login, password, "192.0.2.7")
}

func (w *workshop) mustSignIn(login, password string) (people.Session, string) {
	w.t.Helper()
	session, secret, err := w.signIn(login, password)
	if err != nil {
		w.t.Fatal(err)
	}
	return session, secret
}

func wantKind(t *testing.T, what string, err error, kind fault.Kind) {
	t.Helper()
	if err == nil || fault.KindOf(err) != kind {
		t.Errorf("%s: %v, want kind %d", what, err, kind)
	}
}

func TestSetUpOnce(t *testing.T) {
	w, owner := open(t)
	if owner.Role != people.Owner || owner.Login != "mara" || !owner.Active() {
		t.Errorf("%+v", owner)
	}
	_, err := w.SetUp(t.Context(), people.Entry{Login: "bram", Name: "Bram", Password: boots})
	wantKind(t, "a second first owner", err, fault.State)
	if empty, err := w.Empty(t.Context()); empty || err != nil {
		t.Errorf("empty %v, %v", empty, err)
	}
	_, err = w.SetUp(t.Context(), people.Entry{})
	wantKind(t, "an empty form", err, fault.Invalid)
	if got := len(fault.ProblemsOf(err)); got != 3 { // login, name, password; the role is given
		t.Errorf("%d problems: %v", got, err)
	}
}

func TestSignIn(t *testing.T) {
	w, owner := open(t)
	session, secret := w.mustSignIn(" MARA ", boots)
	if session.Person != owner || session.ByLink {
		t.Errorf("%+v", session)
	}
	if !regexp.MustCompile(`^[A-Za-z0-9_-]{43}$`).MatchString(secret) {
		t.Errorf("the secret %q has not 256 bits", secret)
	}
	got, err := w.Session(t.Context(), secret)
	if err != nil || got.Person != owner {
		t.Errorf("%+v, %v", got, err)
	}
	_, other := w.mustSignIn("mara", boots)
	if other == secret {
		t.Error("two sessions share a secret")
	}
	if err := w.SignOut(t.Context(), secret); err != nil {
		t.Error(err)
	}
	_, err = w.Session(t.Context(), secret)
	wantKind(t, "after signing out", err, fault.Unauthenticated)
	if err := w.SignOutEverywhere(t.Context(), owner.ID); err != nil {
		t.Error(err)
	}
	_, err = w.Session(t.Context(), other)
	wantKind(t, "after signing out everywhere", err, fault.Unauthenticated)
}

// TestRefusalsAreAlike: nothing in the answer tells what was wrong, nor whether there is such a person.
func TestRefusalsAreAlike(t *testing.T) {
	w, _ := open(t)
	for _, e := range []people.Entry{{Login: "ilse", Name: "Ilse", Role: people.Helper, Password: boots}, {Login: "jonas", Name: "Jonas", Role: people.Helper}} {
		p, err := w.Add(t.Context(), e)
		if err == nil && e.Login == "ilse" {
			_, err = w.Disable(t.Context(), p.ID)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range [][2]string{{"mara", "three new boots"}, {"mara", ""}, {"mara", boots + "\x00"}, {"mara", strings.Repeat("x", 1<<16)},
		{"nobody", boots}, {"", boots}, {"ma ra", boots}, {"ma\x00ra", boots}, {"\xff", boots}, {"ilse", boots}, {"jonas", boots}, {"jonas", ""}} {
		_, secret, err := w.signIn(c[0], c[1])
		wantKind(t, c[0], err, fault.Unauthenticated)
		if err != nil && (err.Error() != "That login and password do not match." || secret != "" || errors.Unwrap(err) != nil) {
			t.Errorf("%q: %q, secret %q", c[0], err, secret)
		}
	}
}

func TestSessionRunsOut(t *testing.T) {
	w, _ := open(t)
	policy := people.DefaultPolicy()
	_, idle := w.mustSignIn("mara", boots)
	_, busy := w.mustSignIn("mara", boots)
	for range int(policy.Life/policy.Idle) + 1 {
		w.pass(policy.Idle - time.Second)
		if w.clock().Sub(time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)) < policy.Life {
			if _, err := w.Session(t.Context(), busy); err != nil {
				t.Fatalf("a busy session: %v", err)
			}
		}
	}
	_, err := w.Session(t.Context(), busy)
	wantKind(t, "after its whole life", err, fault.Unauthenticated)
	_, err = w.Session(t.Context(), idle)
	wantKind(t, "not seen", err, fault.Unauthenticated)
	_, fresh := w.mustSignIn("mara", boots)
	w.pass(policy.Idle)
	_, err = w.Session(t.Context(), fresh)
	wantKind(t, "just idle", err, fault.Unauthenticated)
	if err := w.Sweep(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestGuessingIsBraked(t *testing.T) {
	w, _ := open(t)
	policy := people.DefaultPolicy()
	for range policy.PerLogin {
		_, _, err := w.signIn("mara", "three new boots")
		wantKind(t, "a guess", err, fault.Unauthenticated)
	}
	w.pass(90 * time.Second)
	_, _, err := w.SignIn(t.Context(), "MARA", boots, "198.51.100.9") // from anywhere, and even when right
	wantKind(t, "one guess too many", err, fault.TooMany)
	if err != nil && err.Error() != "Too many attempts; try again in 14 minutes." {
		t.Error(err)
	}
	var wait people.Wait
	if !errors.As(err, &wait) || wait.RetryAfter() != 13*time.Minute+30*time.Second {
		t.Errorf("wait %v", wait)
	}
	w.pass(policy.Window)
	w.mustSignIn("mara", boots)

	for i := range policy.PerAddress { // a rightful sign-in in between does not reset the address
		if i == policy.PerLogin {
			w.mustSignIn("mara", boots)
		}
		_, _, err := w.signIn("nobody"+string(rune('a'+i)), boots)
		wantKind(t, "a guess at another login", err, fault.Unauthenticated)
	}
	_, _, err = w.signIn("mara", boots)
	wantKind(t, "the address", err, fault.TooMany)
	if _, _, err := w.SignIn(t.Context(), "mara", boots, "198.51.100.9"); err != nil {
		t.Errorf("another address: %v", err)
	}
}

func TestRightfulSignInsAreNotBraked(t *testing.T) {
	w, _ := open(t)
	for range 3 * people.DefaultPolicy().PerAddress {
		w.mustSignIn("mara", boots)
	}
}

func TestHashIsRenewed(t *testing.T) {
	w, _ := open(t)
	before, _ := w.store.Credential(t.Context(), "mara")
	stronger := people.New(w.store, hasher(2), people.DefaultPolicy(), w.clock, rand.Reader)
	if _, _, err := stronger.SignIn(t.Context(), "mara", "three new boots", ""); err == nil {
		t.Error("signed in with the wrong password")
	}
	if same, _ := w.store.Credential(t.Context(), "mara"); same != before {
		t.Error("a wrong password renewed the hash")
	}
	if _, _, err := stronger.SignIn(t.Context(), "mara", boots, ""); err != nil {
		t.Fatal(err)
	}
	after, _ := w.store.Credential(t.Context(), "mara")
	if !strings.Contains(after.Hash, "t=2") || !after.PasswordSet.Equal(before.PasswordSet) {
		t.Errorf("%+v", after)
	}
	if _, _, err := stronger.SignIn(t.Context(), "mara", boots, ""); err != nil {
		t.Error(err)
	}
}
