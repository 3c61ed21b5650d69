package guard

import (
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"
)

// Names of the cookies; over TLS with the prefix that binds them to this host and to TLS (RFC 6265bis).
const (
	sessionCookie = "foamwright"
	visitCookie   = "foamwright-visit"
	hostPrefix    = "__Host-"
)

// identity is who asks, for the time of one request.
type identity struct {
	session people.Session // zero for nobody; of a bearer only the person and the digest of the token
	secret  string         // what the form token is derived from: of the session, or of the visit
	bearer  bool
	refused error // a bearer token that is not good, even where anybody is let in
}

func (id *identity) known() bool { return id.session.ID != 0 }

type identityKey struct{}

// identityOf is who asks; nobody where Session is not mounted.
func identityOf(c *fiber.Ctx) *identity {
	id, ok := c.Locals(identityKey{}).(*identity)
	if !ok {
		id = &identity{}
		c.Locals(identityKey{}, id)
	}
	return id
}

// Person is who is signed in, false for nobody.
func Person(c *fiber.Ctx) (people.Person, bool) {
	id := identityOf(c)
	return id.session.Person, id.known()
}

// Current is the session of a signed-in browser, false for nobody and for a bearer token.
func Current(c *fiber.Ctx) (people.Session, bool) {
	id := identityOf(c)
	return id.session, id.known() && !id.bearer
}

// Session finds out who asks: below APIPath by a bearer token if one is sent, else by the cookie. Nobody
// passes too; refusing is for Closed and Require. A database that fails is an error, not a nobody.
func (g *Guard) Session(c *fiber.Ctx) error {
	id := identityOf(c)
	var err error
	authorization, cookie := c.Get(fiber.HeaderAuthorization), c.Cookies(g.cookieName(sessionCookie))
	switch {
	case authorization != "" && isAPI(c):
		id.bearer = true
		scheme, token, _ := strings.Cut(authorization, " ")
		if !strings.EqualFold(scheme, "Bearer") {
			token = ""
		}
		token = strings.TrimSpace(token)
		id.session.Digest = people.DigestOf(token)
		id.session.Person, err = g.o.People.Bearer(c.UserContext(), token)
		if fault.KindOf(err) == fault.Unauthenticated {
			id.refused, err = err, nil
		}
	case cookie != "":
		id.session, err = g.o.People.Session(c.UserContext(), cookie)
		if id.secret = cookie; fault.KindOf(err) == fault.Unauthenticated {
			*id, err = identity{}, nil
			g.dropCookie(c, sessionCookie)
		}
	}
	if err != nil {
		return err
	}
	if id.known() {
		// Prices must not be found in the browser's store by whoever comes after.
		c.Set(fiber.HeaderCacheControl, "no-store")
	}
	return c.Next()
}

func isAPI(c *fiber.Ctx) bool { return below(APIPath, c.Path()) }

// SignIn begins a session by login and password and puts it into a cookie.
func (g *Guard) SignIn(c *fiber.Ctx, login, password string) error {
	session, secret, err := g.o.People.SignIn(c.UserContext(), login, password, g.address(c))
	if err != nil {
		return err
	}
	return g.enter(c, session, secret)
}

// UseLink begins a session by a one-time sign-in link and puts it into a cookie. Call it from a POST.
func (g *Guard) UseLink(c *fiber.Ctx, token string) error {
	session, secret, err := g.o.People.UseLink(c.UserContext(), token)
	if err != nil {
		return err
	}
	return g.enter(c, session, secret)
}

// enter makes the new session the request's own and ends the one before: a secret planted in the browser
// earlier is worth nothing afterwards.
func (g *Guard) enter(c *fiber.Ctx, session people.Session, secret string) error {
	id := identityOf(c)
	if _, ok := Current(c); ok {
		if err := g.o.People.SignOut(c.UserContext(), id.secret); err != nil {
			return err
		}
	}
	*id = identity{session: session, secret: secret}
	g.setCookie(c, sessionCookie, secret, session.Ends)
	c.Set(fiber.HeaderCacheControl, "no-store")
	return nil
}

// SignOut ends the session of the request, if it has one.
func (g *Guard) SignOut(c *fiber.Ctx) error {
	id := identityOf(c)
	if _, ok := Current(c); !ok {
		return nil
	}
	if err := g.o.People.SignOut(c.UserContext(), id.secret); err != nil {
		return err
	}
	*id = identity{}
	g.dropCookie(c, sessionCookie)
	return nil
}

func (g *Guard) cookieName(name string) string {
	if g.o.Secure {
		return hostPrefix + name
	}
	return name
}

// setCookie sets a cookie that scripts cannot read and other sites cannot post with; it ends with the
// browser when ends is zero.
func (g *Guard) setCookie(c *fiber.Ctx, name, value string, ends time.Time) {
	c.Cookie(&fiber.Cookie{Name: g.cookieName(name), Value: value, Path: "/", Expires: ends, SessionOnly: ends.IsZero(),
		Secure: g.o.Secure, HTTPOnly: true, SameSite: fiber.CookieSameSiteLaxMode})
}

func (g *Guard) dropCookie(c *fiber.Ctx, name string) {
	g.setCookie(c, name, "", fasthttp.CookieExpireDelete)
}
