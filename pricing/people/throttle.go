package people

import (
	"context"
	"fmt"
	"time"

	"foamwright/materials/fault"
)

// Wait is the cause of a fault.TooMany: how long until the next try is heard.
type Wait time.Duration

// Error is the time to wait.
func (w Wait) Error() string { return "wait " + time.Duration(w).String() }

// RetryAfter is the time to wait.
func (w Wait) RetryAfter() time.Duration { return time.Duration(w) }

// TooMany is the fault of someone who has to wait.
func TooMany(wait time.Duration) error {
	n := int((wait + time.Minute - 1) / time.Minute)
	s := "s"
	if n == 1 {
		s = ""
	}
	return fault.New(fault.TooMany, "Too many attempts; try again in %s.", fmt.Sprintf("%d minute%s", n, s)).Because(Wait(wait))
}

// brake counts an attempt under its address and its login before anything is checked, so that guesses
// made at the same moment are all counted. forget takes a rightful attempt back: all under the login,
// one under the address, lest one known password free an address to guess at the others.
// Keys are digests: people type passwords into the login field, and an address is personal.
func (s *Service) brake(ctx context.Context, login, address string) (forget func(context.Context) error, err error) {
	if canonical, ok := CanonicalLogin(login); ok {
		login = canonical
	}
	byAddress, byLogin := DigestOf("address "+address), DigestOf("login "+login)
	for _, k := range []struct {
		key   Digest
		limit int
	}{{byAddress, s.policy.PerAddress}, {byLogin, s.policy.PerLogin}} {
		wait, err := s.store.CountAttempt(ctx, k.key, k.limit, s.policy.Window, s.now())
		if err != nil {
			return nil, err
		}
		if wait > 0 {
			return nil, TooMany(wait)
		}
	}
	return func(ctx context.Context) error {
		if err := s.store.ForgetAttempts(ctx, byLogin, s.policy.PerLogin); err != nil {
			return err
		}
		return s.store.ForgetAttempts(ctx, byAddress, 1)
	}, nil
}
