package people_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

func TestSignInLink(t *testing.T) {
	w, _ := open(t)
	ilse, err := w.Add(t.Context(), people.Entry{Login: "ilse", Name: "Ilse", Role: people.Helper})
	if err != nil {
		t.Fatal(err)
	}
	link, ends, err := w.NewLink(t.Context(), ilse.ID)
	if err != nil || !ends.Equal(w.clock().Truncate(time.Microsecond).Add(people.DefaultPolicy().LinkLife)) {
		t.Fatal(ends, err)
	}
	var won atomic.Int32
	var secret atomic.Value
	var wg sync.WaitGroup
	for range 32 {
		wg.Go(func() {
			session, cookie, err := w.UseLink(t.Context(), link)
			if err != nil {
				wantKind(t, "a link used", err, fault.Unauthenticated)
				return
			}
			if won.Add(1); session.Person != ilse || !session.ByLink {
				t.Errorf("%+v", session)
			}
			secret.Store(cookie)
		})
	}
	wg.Wait()
	if won.Load() != 1 {
		t.Fatalf("%d of 32 used the link", won.Load())
	}
	if session, err := w.Session(t.Context(), secret.Load().(string)); err != nil || session.Person != ilse {
		t.Errorf("%+v, %v", session, err)
	}
	late, _, _ := w.NewLink(t.Context(), ilse.ID)
	w.pass(people.DefaultPolicy().LinkLife)
	_, _, err = w.UseLink(t.Context(), late)
	wantKind(t, "a link run out", err, fault.Unauthenticated)
	_, _, err = w.NewLink(t.Context(), 999)
	wantKind(t, "a link for nobody", err, fault.NotFound)
}

func TestFirstPasswordByLink(t *testing.T) {
	w, _ := open(t)
	ilse, _ := w.Add(t.Context(), people.Entry{Login: "ilse", Name: "Ilse", Role: people.Helper})
	link, _, _ := w.NewLink(t.Context(), ilse.ID)
	session, _, err := w.UseLink(t.Context(), link)
	if err != nil {
		t.Fatal(err)
	}
	late := session
	w.pass(59 * time.Minute)
	if err := w.ChangePassword(t.Context(), session, "", "a quiet grey heron", ""); err != nil {
		t.Fatal(err)
	}
	w.mustSignIn("ilse", "a quiet grey heron")
	w.pass(time.Minute)
	wantKind(t, "an hour after the link", w.ChangePassword(t.Context(), late, "", "another grey heron", ""), fault.Invalid)
}

func TestChangePassword(t *testing.T) {
	w, _ := open(t)
	session, mine := w.mustSignIn("mara", boots)
	_, other := w.mustSignIn("mara", boots)
	err := w.ChangePassword(t.Context(), session, "wrong", "mara", "")
	var fields []string
	for _, p := range fault.ProblemsOf(err) {
		fields = append(fields, p.Field)
	}
	if strings.Join(fields, " ") != "password old" {
		t.Errorf("problems with %v: %v", fields, err)
	}
	if err := w.ChangePassword(t.Context(), session, boots, "a quiet grey heron", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Session(t.Context(), mine); err != nil {
		t.Errorf("the session that changed it: %v", err)
	}
	_, err = w.Session(t.Context(), other)
	wantKind(t, "another session", err, fault.Unauthenticated)
	_, _, err = w.signIn("mara", boots)
	wantKind(t, "the old password", err, fault.Unauthenticated)
	w.mustSignIn("mara", "a quiet grey heron")
	for range people.DefaultPolicy().PerLogin {
		wantKind(t, "a guess", w.ChangePassword(t.Context(), session, "wrong", "a loud grey heron", ""), fault.Invalid)
	}
	wantKind(t, "guessing the old one", w.ChangePassword(t.Context(), session, "a quiet grey heron", "a loud grey heron", ""), fault.TooMany)
}

func TestDisableAndEnable(t *testing.T) {
	w, owner := open(t)
	_, err := w.Disable(t.Context(), owner.ID)
	wantKind(t, "the only owner", err, fault.State)
	ilse, _ := w.Add(t.Context(), people.Entry{Login: "ilse", Name: "Ilse", Role: people.Helper, Password: boots})
	_, cookie := w.mustSignIn("ilse", boots)
	_, token, err := w.NewToken(t.Context(), ilse.ID, "bench scale")
	if err != nil {
		t.Fatal(err)
	}
	_, link, err := w.NewCalendarLink(t.Context(), ilse.ID, "phone")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Disable(t.Context(), ilse.ID); err != nil {
		t.Fatal(err)
	}
	_, err = w.Session(t.Context(), cookie)
	wantKind(t, "session", err, fault.Unauthenticated)
	_, err = w.Bearer(t.Context(), token)
	wantKind(t, "token", err, fault.Unauthenticated)
	if _, err := w.Enable(t.Context(), ilse.ID); err != nil {
		t.Fatal(err)
	}
	w.mustSignIn("ilse", boots)
	_, err = w.FollowCalendar(t.Context(), link)
	wantKind(t, "a link of before", err, fault.NotFound)
	_, err = w.Change(t.Context(), ilse.ID, " ", "king")
	if wantKind(t, "no name, no role", err, fault.Invalid); len(fault.ProblemsOf(err)) != 2 {
		t.Error(err)
	}
	if p, err := w.Change(t.Context(), ilse.ID, "Ilse B.", people.Bookkeeper); p.Name != "Ilse B." || p.Role != people.Bookkeeper || err != nil {
		t.Errorf("%+v, %v", p, err)
	}
	if p, err := w.Person(t.Context(), ilse.ID); p.Role != people.Bookkeeper || err != nil {
		t.Errorf("%+v, %v", p, err)
	}
	if all, err := w.People(t.Context()); len(all) != 2 || err != nil {
		t.Errorf("%+v, %v", all, err)
	}
}

func TestAPIToken(t *testing.T) {
	w, owner := open(t)
	_, _, err := w.NewToken(t.Context(), owner.ID, "")
	wantKind(t, "without a name", err, fault.Invalid)
	token, secret, err := w.NewToken(t.Context(), owner.ID, "bench scale")
	if err != nil || !strings.HasPrefix(secret, "fw_") || len(secret) != 46 {
		t.Fatal(secret, err)
	}
	if p, err := w.Bearer(t.Context(), secret); p != owner || err != nil {
		t.Errorf("%+v, %v", p, err)
	}
	if all, err := w.Tokens(t.Context(), owner.ID); len(all) != 1 || all[0].ID != token.ID || err != nil {
		t.Errorf("%+v, %v", all, err)
	}
	if err := w.EndToken(t.Context(), owner.ID, token.ID); err != nil {
		t.Error(err)
	}
	for i := range 20 {
		if _, _, err := w.NewToken(t.Context(), owner.ID, fmt.Sprint("program ", i)); err != nil {
			t.Error(err)
		}
	}
	_, _, err = w.NewToken(t.Context(), owner.ID, "one more")
	wantKind(t, "more than are kept apart", err, fault.Invalid)
	for _, s := range []string{secret, "", "fw_", strings.Repeat("x", 1<<16)} {
		_, err := w.Bearer(t.Context(), s)
		wantKind(t, "a token ended or never made", err, fault.Unauthenticated)
	}
}

// TestAStoreThatFailsIsNotARefusal: a database that does not answer must not read as a wrong password.
func TestAStoreThatFailsIsNotARefusal(t *testing.T) {
	w, owner := open(t)
	session, secret := w.mustSignIn("mara", boots)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	_, _, signIn := w.SignIn(gone, "mara", boots, "")
	_, open := w.Session(gone, secret)
	_, _, link := w.UseLink(gone, secret)
	_, bearer := w.Bearer(gone, secret)
	_, _, newLink := w.NewLink(gone, owner.ID)
	for what, err := range map[string]error{"sign in": signIn, "session": open, "link": link, "bearer": bearer, "new link": newLink,
		"password": w.ChangePassword(gone, session, boots, "a quiet grey heron", "")} {
		if kind := fault.KindOf(err); err == nil || kind == fault.Unauthenticated || kind == fault.NotFound || kind == fault.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
}
