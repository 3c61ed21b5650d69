package people

import (
	"context"
	"time"
)

// Credential is what a sign-in is checked against.
type Credential struct {
	Person
	Hash        string    // empty when no password was ever set
	PasswordSet time.Time // zero with it; a session may only begin while it is still this
}

// Store keeps people. Every method is one transaction and safe for many callers at once. What is not
// there is fault.NotFound.
type Store interface {
	// AddPerson gives the person an ID; a login in use is fault.Conflict on the field "login".
	AddPerson(ctx context.Context, p Person, hash string) (Person, error)
	// AddFirstOwner is AddPerson while there is nobody yet, else fault.State.
	AddFirstOwner(ctx context.Context, p Person, hash string) (Person, error)
	// ChangePerson runs change on the locked row and keeps name, role and Disabled. A person disabled
	// loses sessions, links, tokens and links to the calendar. It is fault.State when no active owner would be left.
	ChangePerson(ctx context.Context, id int64, change func(*Person) error) (Person, error)
	Person(ctx context.Context, id int64) (Person, error)
	// People lists everybody, by name.
	People(ctx context.Context) ([]Person, error)

	Credential(ctx context.Context, login string) (Credential, error)
	// SetPassword ends every session but keep, which no longer counts as by link, and every link.
	SetPassword(ctx context.Context, id int64, hash string, at time.Time, keep Digest) error
	// ReplaceHash swaps a hash of the same password, only while it is still old.
	ReplaceHash(ctx context.Context, id int64, old, new string) error

	// AddSession is fault.NotFound when the person was disabled or the password set since c was read.
	AddSession(ctx context.Context, c Credential, s Session) error
	Session(ctx context.Context, d Digest) (Session, error)
	TouchSession(ctx context.Context, d Digest, seen time.Time) error
	// EndSession does nothing when there is no such session.
	EndSession(ctx context.Context, d Digest) error
	EndSessions(ctx context.Context, personID int64) error

	// AddLink replaces the person's earlier link; it is fault.NotFound for a person not active.
	AddLink(ctx context.Context, personID int64, d Digest, ends time.Time) error
	// UseLink spends the link d and begins the session s for its person, together or not at all.
	UseLink(ctx context.Context, d Digest, now time.Time, s Session) (Person, error)

	// AddToken is fault.Conflict when the person has a token of this name, fault.NotFound when not active.
	AddToken(ctx context.Context, t Token, d Digest) (Token, error)
	Tokens(ctx context.Context, personID int64) ([]Token, error)
	// UseToken finds the active person of a token and notes the minute of its use.
	UseToken(ctx context.Context, d Digest, now time.Time) (Person, error)
	EndToken(ctx context.Context, personID, id int64) error

	// Links to the calendar are kept as tokens are, apart from them: neither opens what the other does.
	AddCalendarLink(ctx context.Context, t Token, d Digest) (Token, error)
	CalendarLinks(ctx context.Context, personID int64) ([]Token, error)
	UseCalendarLink(ctx context.Context, d Digest, now time.Time) (Person, error)
	EndCalendarLink(ctx context.Context, personID, id int64) error

	// CountAttempt counts one try under key and says how long to wait when there were more than limit
	// since the window began; further tries do not lengthen the wait.
	CountAttempt(ctx context.Context, key Digest, limit int, window time.Duration, now time.Time) (time.Duration, error)
	// ForgetAttempts takes back up to n tries.
	ForgetAttempts(ctx context.Context, key Digest, n int) error

	// Sweep drops what can no longer be used: sessions ended or not seen since idle, links ended,
	// windows of attempts begun before window.
	Sweep(ctx context.Context, now, idle, window time.Time) error
}
