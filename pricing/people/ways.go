package people

import (
	"context"
	"fmt"
	"time"

	"foamwright/materials/fault"
)

// freshLink is how long after coming in by a link the old password is not asked for.
const freshLink = time.Hour

// NewLink makes a one-time sign-in link for a person: to come in first, or after forgetting the password.
// Earlier links of the person stop working. The secret is shown to whoever hands it over, once.
func (s *Service) NewLink(ctx context.Context, personID int64) (secret string, ends time.Time, err error) {
	if secret, err = newSecret(s.random); err != nil {
		return "", time.Time{}, err
	}
	ends = s.now().Add(s.policy.LinkLife)
	return secret, ends, s.store.AddLink(ctx, personID, DigestOf(secret), ends)
}

// UseLink spends a link and begins a session. Spend it on a POST: mail scanners follow links.
func (s *Service) UseLink(ctx context.Context, secret string) (Session, string, error) {
	session, cookie, err := s.begin(true)
	if err != nil {
		return Session{}, "", err
	}
	session.Person, err = s.store.UseLink(ctx, DigestOf(secret), session.Began, session)
	if fault.KindOf(err) == fault.NotFound {
		return Session{}, "", fault.New(fault.Unauthenticated, "This sign-in link was used already or has run out; ask for a new one.")
	} else if err != nil {
		return Session{}, "", err
	}
	return session, cookie, nil
}

// ChangePassword sets a new password for the session's person and ends their other sessions and links;
// API tokens stay. The old one is asked for unless the session came in by a link within the hour.
func (s *Service) ChangePassword(ctx context.Context, session Session, old, new, address string) error {
	var l fault.List
	new = checkPassword(&l, "password", new, session.Login)
	if !session.ByLink || s.now().Sub(session.Began) >= freshLink {
		forget, err := s.brake(ctx, session.Login, address)
		if err != nil {
			return err
		}
		_, err = s.checkPassword(ctx, session.Login, old)
		switch fault.KindOf(err) {
		case fault.Unauthenticated:
			l.Add("old", "", "This is not the present password; if it is forgotten, come in by a new sign-in link.")
		default:
			if err == nil {
				err = forget(ctx)
			}
			if err != nil {
				return err
			}
		}
	}
	if err := l.Err(); err != nil {
		return err
	}
	hash, err := s.hasher.Hash(ctx, new)
	if err != nil {
		return err
	}
	return s.store.SetPassword(ctx, session.ID, hash, s.now(), session.Digest)
}

// NewToken makes an API token: a bearer of the secret acts as the person. It is shown once.
func (s *Service) NewToken(ctx context.Context, personID int64, name string) (Token, string, error) {
	return s.newToken(ctx, personID, name, tokenPrefix, s.store.Tokens, s.store.AddToken)
}

// mostTokens a person may have at once for the API, and as many links to the calendar.
const mostTokens = 20

// newToken makes one more of what a person has there.
func (s *Service) newToken(ctx context.Context, personID int64, name, prefix string, there func(context.Context, int64) ([]Token, error),
	add func(context.Context, Token, Digest) (Token, error)) (Token, string, error) {
	var l fault.List
	name = checkName(&l, name)
	had, err := there(ctx, personID)
	if err != nil {
		return Token{}, "", err
	}
	if len(had) >= mostTokens {
		l.Add("name", name, fmt.Sprintf("There are %d already. End one that is not used any more first.", len(had)))
	}
	if err := l.Err(); err != nil {
		return Token{}, "", err
	}
	secret, err := newSecret(s.random)
	if err != nil {
		return Token{}, "", err
	}
	secret = prefix + secret
	t, err := add(ctx, Token{PersonID: personID, Name: name, Created: s.now()}, DigestOf(secret))
	return t, secret, err
}

// Tokens lists a person's API tokens, the newest first.
func (s *Service) Tokens(ctx context.Context, personID int64) ([]Token, error) {
	return s.store.Tokens(ctx, personID)
}

// EndToken revokes one of a person's tokens.
func (s *Service) EndToken(ctx context.Context, personID, id int64) error {
	return s.store.EndToken(ctx, personID, id)
}

// Bearer is the person an API token acts for.
func (s *Service) Bearer(ctx context.Context, secret string) (Person, error) {
	p, err := s.store.UseToken(ctx, DigestOf(secret), s.now())
	if fault.KindOf(err) == fault.NotFound {
		return Person{}, fault.New(fault.Unauthenticated, "This API token is unknown or was revoked.")
	}
	return p, err
}
