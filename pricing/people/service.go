package people

import (
	"context"
	"io"
	"time"

	"foamwright/materials/fault"
)

// Policy is how long things last and how often one may guess.
type Policy struct {
	Idle     time.Duration // a session ends when not seen for this long
	Life     time.Duration // and in any case after this long
	LinkLife time.Duration // a sign-in link is good for this long

	PerLogin, PerAddress int           // sign-in attempts
	Window               time.Duration // within this time
}

// DefaultPolicy suits a small workshop: a phone at the bench stays signed in over a long weekend (common
// practice, no source). Many persons share one address, so an address may fail more often than a login.
func DefaultPolicy() Policy {
	return Policy{Idle: 4 * 24 * time.Hour, Life: 30 * 24 * time.Hour, LinkLife: 24 * time.Hour,
		PerLogin: 10, PerAddress: 30, Window: 15 * time.Minute}
}

// Service is the workshop's people and their ways in. It checks what is typed; who may call it is the
// caller's to decide.
type Service struct {
	store  Store
	hasher *Hasher
	policy Policy
	clock  func() time.Time
	random io.Reader
}

// New joins a store, a hasher, a clock and a source of randomness safe for concurrent use (crypto/rand.Reader).
func New(store Store, hasher *Hasher, policy Policy, clock func() time.Time, random io.Reader) *Service {
	return &Service{store, hasher, policy, clock, random}
}

// now is in the precision in which times are kept, so that what was written compares equal when read.
func (s *Service) now() time.Time { return s.clock().UTC().Truncate(time.Microsecond) }

// Empty tells whether there is nobody yet, so that the first owner may be set up.
func (s *Service) Empty(ctx context.Context) (bool, error) {
	all, err := s.store.People(ctx)
	return len(all) == 0, err
}

// SetUp adds the first owner, whatever role was typed. It is fault.State once there is anybody.
func (s *Service) SetUp(ctx context.Context, e Entry) (Person, error) {
	e.Role = Owner
	return s.add(ctx, e, true, s.store.AddFirstOwner)
}

// Add adds a person, with a password or without; one without comes in by a sign-in link.
func (s *Service) Add(ctx context.Context, e Entry) (Person, error) {
	return s.add(ctx, e, false, s.store.AddPerson)
}

func (s *Service) add(ctx context.Context, e Entry, needPassword bool,
	keep func(context.Context, Person, string) (Person, error)) (Person, error) {
	var l fault.List
	e.check(&l, needPassword)
	if err := l.Err(); err != nil {
		return Person{}, err
	}
	var hash string
	if e.Password != "" {
		var err error
		if hash, err = s.hasher.Hash(ctx, e.Password); err != nil {
			return Person{}, err
		}
	}
	return keep(ctx, Person{Login: e.Login, Name: e.Name, Role: e.Role, Created: s.now()}, hash)
}

// People lists everybody by name, the disabled ones too.
func (s *Service) People(ctx context.Context) ([]Person, error) { return s.store.People(ctx) }

// Person finds one person.
func (s *Service) Person(ctx context.Context, id int64) (Person, error) {
	return s.store.Person(ctx, id)
}

// Change gives a person another name and role.
func (s *Service) Change(ctx context.Context, id int64, name string, role Role) (Person, error) {
	var l fault.List
	name = checkName(&l, name)
	checkRole(&l, role)
	if err := l.Err(); err != nil {
		return Person{}, err
	}
	return s.store.ChangePerson(ctx, id, func(p *Person) error {
		p.Name, p.Role = name, role
		return nil
	})
}

// Disable shuts a person out at once: sessions, links of both kinds and tokens end. The last owner cannot be disabled.
func (s *Service) Disable(ctx context.Context, id int64) (Person, error) {
	now := s.now()
	return s.store.ChangePerson(ctx, id, func(p *Person) error {
		if p.Active() {
			p.Disabled = now
		}
		return nil
	})
}

// Enable lets a disabled person sign in again, with the password they had; what ended stays ended.
func (s *Service) Enable(ctx context.Context, id int64) (Person, error) {
	return s.store.ChangePerson(ctx, id, func(p *Person) error {
		p.Disabled = time.Time{}
		return nil
	})
}

// Sweep drops what can no longer be used; run it every hour or so.
func (s *Service) Sweep(ctx context.Context) error {
	now := s.now()
	return s.store.Sweep(ctx, now, now.Add(-s.policy.Idle), now.Add(-s.policy.Window))
}
