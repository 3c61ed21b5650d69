// Package guard stands before every page and every call: it names the request, gives it a deadline, sets the
// headers that keep a browser safe, finds out who asks, and refuses whoever may not.
//
// Everything is closed unless a Door says otherwise. A refusal is a fault, answered by the application's
// error handler, or a redirect to the sign-in page where a person would see it. Nothing that a client can
// set (X-Forwarded-*, X-Request-ID) is believed unless it came from a proxy named in Options.
// Limits: made for fiber v2 with Immutable set; rates are counted per program, in memory of bounded size.
package guard

import (
	"crypto/rand"
	"io"
	"net/netip"
	"time"

	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
)

// Paths the guard itself knows.
const (
	APIPath    = "/api"     // below it programs ask: bearer tokens are heard, and nothing is redirected
	SignInPath = "/sign-in" // where a person who is not signed in is sent
)

// Options are what cmd decides; begin with Defaults.
type Options struct {
	People   *people.Service
	Clock    func() time.Time
	Random   io.Reader      // safe for concurrent use
	Secure   bool           // browsers reach the workshop over TLS
	Deadline time.Duration  // for one request, in its UserContext
	Proxies  []netip.Prefix // whose X-Forwarded-For is believed; normally none

	Anonymous, SignedIn Rate // per address, and per session or token
	Guesses             Rate // per address: secrets in an address that were none
}

// Rate is how many requests may come at once, and how many a second from then on.
type Rate struct {
	Burst     int
	PerSecond float64
}

// Defaults suits a workshop (common practice, no source): a page of a signed-in maker asks at each change
// of an entry, a customer opens a few pages.
func Defaults() Options {
	return Options{Clock: time.Now, Random: rand.Reader, Deadline: 20 * time.Second,
		Anonymous: Rate{Burst: 120, PerSecond: 4}, SignedIn: Rate{Burst: 400, PerSecond: 40}, Guesses: Rate{Burst: 20, PerSecond: .2}}
}

// Guard holds the middleware; safe for concurrent use.
type Guard struct {
	o                            Options
	anonymous, signedIn, guesses *buckets
}

// New makes a guard.
func New(o Options) *Guard {
	return &Guard{o: o, anonymous: newBuckets(o.Anonymous), signedIn: newBuckets(o.SignedIn), guesses: newBuckets(o.Guesses)}
}

// Wrap mounts what every answer needs, static files too: RequestID, Recover, Headers, Deadline.
func (g *Guard) Wrap(r fiber.Router) { r.Use(g.RequestID, g.Recover, g.Headers, g.Deadline) }

// Close mounts what finds out who asks and refuses: Session, Limit, Closed, CSRF, in the one order in which
// they work. Whatever is registered on r afterwards is closed but for the doors.
func (g *Guard) Close(r fiber.Router, doors ...Door) {
	r.Use(g.Session, g.Limit, g.Closed(doors...), g.CSRF)
}
