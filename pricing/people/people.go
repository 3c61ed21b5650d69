// Package people knows who works in the workshop and how they prove it: persons and their roles,
// passwords, sessions, one-time sign-in links, API tokens, and the brake on guessing.
//
// Secrets that the program makes (session, link and API tokens) are 256 random bits; only their SHA-256
// is kept. Secrets that people make (passwords) are kept as Argon2id. Times are UTC to the microsecond.
// Limits: it knows no HTTP and no SQL; which page a role may open is decided where pages are served;
// there is no second factor, no mail, and customers have no account.
package people

import "time"

// Role is what a person does in the workshop.
type Role string

// The roles. The owner may do everything; the helper sees no prices; the bookkeeper sees invoices,
// payments and figures.
const (
	Owner      Role = "owner"
	Helper     Role = "helper"
	Bookkeeper Role = "bookkeeper"
)

// Roles lists every role, the widest first.
func Roles() []Role { return []Role{Owner, Bookkeeper, Helper} }

// SeesPrices tells whether amounts of money are shown to this role.
func (r Role) SeesPrices() bool { return r == Owner || r == Bookkeeper }

// Person is somebody who signs in. A password hash is never part of it, so none can reach a page.
type Person struct {
	ID       int64
	Login    string // as compared: case-mapped and normalised
	Name     string
	Role     Role
	Created  time.Time
	Disabled time.Time // zero while the person may sign in
}

// Active tells whether the person may sign in.
func (p Person) Active() bool { return p.Disabled.IsZero() }

// Entry is a person as typed by whoever adds them. Without a password they come in by a sign-in link.
type Entry struct {
	Login, Name string
	Role        Role
	Password    string
}

// Session is one signed-in browser.
type Session struct {
	Person
	Began, Seen time.Time
	Ends        time.Time // whatever happens in between
	ByLink      bool      // came in by a sign-in link, so may set a password without the old one
	Digest      Digest    // names the session but cannot open it
}

// Token is an API token or a link to the calendar as listed: its secret is shown once, when it is made.
type Token struct {
	ID       int64
	PersonID int64
	Name     string
	Created  time.Time
	Used     time.Time // zero before the first use; kept to the minute
}
