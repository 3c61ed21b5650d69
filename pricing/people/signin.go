package people

import (
	"context"
	"time"

	"foamwright/materials/fault"
)

// touchEvery bounds how often a busy session writes that it was seen.
const touchEvery = time.Minute

// SignIn begins a session for a login and password typed at an address. The secret goes into the cookie.
// Whether the login is unknown, disabled, without a password or the password is wrong, the answer and
// the work are the same.
func (s *Service) SignIn(ctx context.Context, login, password, address string) (Session, string, error) {
	forget, err := s.brake(ctx, login, address)
	if err != nil {
		return Session{}, "", err
	}
	c, err := s.checkPassword(ctx, login, password)
	if err != nil {
		return Session{}, "", err
	}
	session, secret, err := s.begin(false)
	if err != nil {
		return Session{}, "", err
	}
	session.Person = c.Person
	if err := s.store.AddSession(ctx, c, session); fault.KindOf(err) == fault.NotFound {
		return Session{}, "", mismatch()
	} else if err != nil {
		return Session{}, "", err
	}
	return session, secret, forget(ctx)
}

// checkPassword finds the person whose login and password these are, and renews a hash made with other
// parameters. Whether they are active is for the store to say when the session begins, race or no race.
func (s *Service) checkPassword(ctx context.Context, login, password string) (Credential, error) {
	login, isLogin := CanonicalLogin(login)
	if !isLogin {
		login = "" // nobody's, but looked for all the same
	}
	c, err := s.store.Credential(ctx, login)
	if err != nil && fault.KindOf(err) != fault.NotFound {
		return Credential{}, err
	}
	canonical, _ := canonicalPassword(password) // what can be no password fits no hash
	fits, stale, err := s.hasher.Check(ctx, c.Hash, canonical)
	if err != nil {
		return Credential{}, err
	}
	if !fits {
		return Credential{}, mismatch()
	}
	if !stale {
		return c, nil
	}
	hash, err := s.hasher.Hash(ctx, canonical)
	if err != nil {
		return Credential{}, err
	}
	return c, s.store.ReplaceHash(ctx, c.ID, c.Hash, hash)
}

func mismatch() error {
	return fault.New(fault.Unauthenticated, "That login and password do not match.")
}

// begin draws a session that nobody owns yet.
func (s *Service) begin(byLink bool) (Session, string, error) {
	secret, err := newSecret(s.random)
	now := s.now()
	return Session{Began: now, Seen: now, Ends: now.Add(s.policy.Life), ByLink: byLink, Digest: DigestOf(secret)}, secret, err
}

// Session opens the session of a secret, or is fault.Unauthenticated when it is unknown or has run out.
func (s *Service) Session(ctx context.Context, secret string) (Session, error) {
	out := fault.New(fault.Unauthenticated, "You are signed out; sign in to go on.")
	d := DigestOf(secret)
	session, err := s.store.Session(ctx, d)
	if fault.KindOf(err) == fault.NotFound {
		return Session{}, out
	} else if err != nil {
		return Session{}, err
	}
	now := s.now()
	if !session.Active() || !now.Before(session.Ends) || now.Sub(session.Seen) >= s.policy.Idle {
		if err := s.store.EndSession(ctx, d); err != nil {
			return Session{}, err
		}
		return Session{}, out
	}
	if now.Sub(session.Seen) >= touchEvery {
		session.Seen = now
		return session, s.store.TouchSession(ctx, d, now)
	}
	return session, nil
}

// SignOut ends the session of a secret, if there is one.
func (s *Service) SignOut(ctx context.Context, secret string) error {
	return s.store.EndSession(ctx, DigestOf(secret))
}

// SignOutEverywhere ends every session of a person.
func (s *Service) SignOutEverywhere(ctx context.Context, personID int64) error {
	return s.store.EndSessions(ctx, personID)
}
