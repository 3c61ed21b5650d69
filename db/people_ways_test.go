package db_test

import (
	"testing"
	"time"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/google/go-cmp/cmp"
)

func TestSessionIsKept(t *testing.T) {
	s := dbtest.New(t).People()
	mara := addPerson(t, s, "mara", people.Owner)
	beginSession(t, s, "mara", "cookie")
	want := aSession("cookie")
	want.Person = mara
	got, err := s.Session(t.Context(), want.Digest)
	sameInstant := cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })
	if diff := cmp.Diff(want, got, sameInstant); diff != "" || err != nil {
		t.Error(err, diff)
	}
	for _, seen := range []time.Duration{time.Hour, time.Minute} { // a slower clock does not unsee
		if err := s.TouchSession(t.Context(), want.Digest, noon.Add(seen)); err != nil {
			t.Fatal(err)
		}
	}
	if got, _ := s.Session(t.Context(), want.Digest); !got.Seen.Equal(noon.Add(time.Hour)) {
		t.Errorf("seen %v", got.Seen)
	}
	for range 2 {
		if err := s.EndSession(t.Context(), want.Digest); err != nil {
			t.Error(err)
		}
		_, err = s.Session(t.Context(), want.Digest)
		wantKind(t, "a session ended", err, fault.NotFound)
	}
}

func TestNewPasswordEndsOtherWaysIn(t *testing.T) {
	s := dbtest.New(t).People()
	mara := addPerson(t, s, "mara", people.Owner)
	addPerson(t, s, "ilse", people.Helper)
	stale, _ := s.Credential(t.Context(), "mara")
	byLink := aSession("mine")
	byLink.ByLink = true
	if err := s.AddSession(t.Context(), stale, byLink); err != nil {
		t.Fatal(err)
	}
	beginSession(t, s, "mara", "other")
	beginSession(t, s, "ilse", "hers")
	if err := s.AddLink(t.Context(), mara.ID, people.DigestOf("link"), noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if err := s.SetPassword(t.Context(), mara.ID, someHash, noon.Add(time.Second), byLink.Digest); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Session(t.Context(), byLink.Digest); err != nil || got.ByLink {
		t.Errorf("the session that set the password: by link %v, %v", got.ByLink, err)
	}
	if _, err := s.Session(t.Context(), people.DigestOf("hers")); err != nil {
		t.Errorf("somebody else's session: %v", err)
	}
	_, err := s.Session(t.Context(), people.DigestOf("other"))
	wantKind(t, "another session", err, fault.NotFound)
	_, err = s.UseLink(t.Context(), people.DigestOf("link"), noon, aSession("new"))
	wantKind(t, "link", err, fault.NotFound)
	wantKind(t, "session by the old password", s.AddSession(t.Context(), stale, aSession("late")), fault.NotFound)

	if err := s.ReplaceHash(t.Context(), mara.ID, someHash+"A", someHash+"B"); err != nil {
		t.Fatal(err)
	}
	if c, _ := s.Credential(t.Context(), "mara"); c.Hash != someHash {
		t.Errorf("a hash that was not there was replaced: %s", c.Hash)
	}
	if err := s.ReplaceHash(t.Context(), mara.ID, someHash, someHash+"B"); err != nil {
		t.Fatal(err)
	}
	if c, _ := s.Credential(t.Context(), "mara"); c.Hash != someHash+"B" || !c.PasswordSet.Equal(noon.Add(time.Second)) {
		t.Errorf("%+v", c)
	}
	if err := s.EndSessions(t.Context(), mara.ID); err != nil {
		t.Fatal(err)
	}
	_, err = s.Session(t.Context(), byLink.Digest)
	wantKind(t, "the last session", err, fault.NotFound)
}

func TestALinkIsUsedOnce(t *testing.T) {
	s := dbtest.New(t).People()
	mara := addPerson(t, s, "mara", people.Owner)
	link := people.DigestOf("link")
	for round := range 5 {
		if err := s.AddLink(t.Context(), mara.ID, link, noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
		if won := together(t, 32, fault.NotFound, func(i int) error {
			own := aSession(string(rune('A'+i)) + string(rune('A'+round)))
			p, err := s.UseLink(t.Context(), link, noon, own)
			if err != nil {
				return err
			}
			if p != mara {
				t.Errorf("the link signed in %+v", p)
			}
			_, err = s.Session(t.Context(), own.Digest)
			return err
		}); won != 1 {
			t.Fatalf("round %d: %d of 32 used the link", round, won)
		}
	}
	old, young := people.DigestOf("old"), people.DigestOf("young")
	for _, d := range []people.Digest{old, young} {
		if err := s.AddLink(t.Context(), mara.ID, d, noon.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	_, err := s.UseLink(t.Context(), old, noon, aSession("x"))
	wantKind(t, "a link replaced", err, fault.NotFound)
	_, err = s.UseLink(t.Context(), young, noon.Add(time.Hour), aSession("y"))
	wantKind(t, "a link run out", err, fault.NotFound)
	_, err = s.Session(t.Context(), people.DigestOf("y"))
	wantKind(t, "its session", err, fault.NotFound)
	wantKind(t, "a link for nobody", s.AddLink(t.Context(), 999, old, noon.Add(time.Hour)), fault.NotFound)
}

func TestTokens(t *testing.T) {
	s := dbtest.New(t).People()
	mara, ilse := addPerson(t, s, "mara", people.Owner), addPerson(t, s, "ilse", people.Helper)
	scale, err := s.AddToken(t.Context(), people.Token{PersonID: mara.ID, Name: "scale", Created: noon}, people.DigestOf("a"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.AddToken(t.Context(), people.Token{PersonID: mara.ID, Name: "scale", Created: noon}, people.DigestOf("b"))
	wantKind(t, "a name twice", err, fault.Conflict)
	if p := fault.ProblemsOf(err); len(p) != 1 || p[0].Field != "name" {
		t.Errorf("a name twice: %+v", p)
	}
	for _, after := range []time.Duration{0, 59 * time.Second} { // noted once a minute
		if p, err := s.UseToken(t.Context(), people.DigestOf("a"), noon.Add(after)); p != mara || err != nil {
			t.Errorf("%+v, %v", p, err)
		}
	}
	scale.Used = noon
	if all, err := s.Tokens(t.Context(), mara.ID); err != nil || len(all) != 1 || all[0] != scale {
		t.Errorf("%+v, %v", all, err)
	}
	if p, err := s.UseToken(t.Context(), people.DigestOf("a"), noon.Add(time.Minute)); p != mara || err != nil {
		t.Errorf("%+v, %v", p, err)
	}
	if all, _ := s.Tokens(t.Context(), mara.ID); len(all) != 1 || !all[0].Used.Equal(noon.Add(time.Minute)) {
		t.Errorf("%+v", all)
	}
	wantKind(t, "somebody else's token", s.EndToken(t.Context(), ilse.ID, scale.ID), fault.NotFound)
	if err := s.EndToken(t.Context(), mara.ID, scale.ID); err != nil {
		t.Error(err)
	}
	_, err = s.UseToken(t.Context(), people.DigestOf("a"), noon)
	wantKind(t, "a token ended", err, fault.NotFound)
}

func TestAttemptsAreCountedTogether(t *testing.T) {
	s := dbtest.New(t).People()
	key := people.DigestOf("login mara")
	const limit, window = 10, 15 * time.Minute
	count := func(after time.Duration) time.Duration {
		t.Helper()
		wait, err := s.CountAttempt(t.Context(), key, limit, window, noon.Add(after))
		if err != nil {
			t.Fatal(err)
		}
		return wait
	}
	heard := together(t, 50, fault.TooMany, func(int) error {
		if wait, err := s.CountAttempt(t.Context(), key, limit, window, noon); err != nil || wait > 0 {
			return people.TooMany(wait)
		}
		return nil
	})
	if heard != limit {
		t.Errorf("%d of 50 heard, want %d", heard, limit)
	}
	if wait := count(5 * time.Minute); wait != 10*time.Minute {
		t.Errorf("wait %v after 5 of 15 minutes", wait)
	}
	if wait := count(window); wait != 0 {
		t.Errorf("wait %v in a new window", wait)
	}
	for range limit {
		count(window)
	}
	if wait := count(window); wait != window {
		t.Errorf("wait %v, want a whole window", wait)
	}
	if err := s.ForgetAttempts(t.Context(), key, 2); err != nil { // the count stopped at one above the limit
		t.Fatal(err)
	}
	if first, second := count(window), count(window); first != 0 || second == 0 {
		t.Errorf("after taking two back: wait %v, then %v", first, second)
	}
	if err := s.ForgetAttempts(t.Context(), key, 1000); err != nil {
		t.Fatal(err)
	}
	if wait := count(window); wait != 0 {
		t.Errorf("wait %v after all were taken back", wait)
	}
}

func TestSweepKeepsWhatCanStillBeUsed(t *testing.T) {
	s := dbtest.New(t).People()
	addPerson(t, s, "mara", people.Owner)
	beginSession(t, s, "mara", "fresh")
	beginSession(t, s, "mara", "idle")
	if err := s.TouchSession(t.Context(), people.DigestOf("fresh"), noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	kept := func(when time.Time, want int) {
		t.Helper()
		if err := s.Sweep(t.Context(), when, noon, when.Add(-time.Minute)); err != nil {
			t.Fatal(err)
		}
		got := 0
		for _, secret := range []string{"fresh", "idle"} {
			if _, err := s.Session(t.Context(), people.DigestOf(secret)); err == nil {
				got++
			}
		}
		if got != want {
			t.Errorf("%d sessions kept, want %d", got, want)
		}
	}
	kept(noon.Add(time.Hour), 1)
	kept(noon.Add(24*time.Hour), 0)
}
