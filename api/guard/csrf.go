package guard

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"io"
	"net/url"
	"time"

	"foamwright/materials/fault"

	"github.com/gofiber/fiber/v2"
)

// Where the form token is looked for.
const (
	TokenField  = "csrf"
	tokenHeader = "X-CSRF"
)

// CSRF refuses a change that another site sent in a person's name: the browser must say that it comes from
// here (W3C Fetch Metadata, else Origin), and it must carry the form token of the session or, before
// signing in, of the visit. A bearer token is sent by no browser on its own, so it needs neither.
func (g *Guard) CSRF(c *fiber.Ctx) error {
	switch c.Method() {
	case fiber.MethodGet, fiber.MethodHead, fiber.MethodOptions:
		return c.Next()
	}
	if id := identityOf(c); id.bearer && id.known() {
		return c.Next()
	}
	if !fromHere(c) {
		return fault.New(fault.Forbidden, "This was sent from another site and was not done.")
	}
	secret := g.formSecret(c)
	if secret == "" || subtle.ConstantTimeCompare([]byte(formToken(secret)), sentToken(c)) != 1 {
		return fault.New(fault.Forbidden, "This page was open too long or the browser keeps no cookies, and nothing was done. Load the page again and send it once more.")
	}
	return c.Next()
}

// fromHere trusts the browser's own word. "none" is the person at the address bar. A client that says
// nothing is no browser of today; the token still stands in its way.
func fromHere(c *fiber.Ctx) bool {
	if site := c.Get("Sec-Fetch-Site"); site != "" {
		return site == "same-origin" || site == "none"
	}
	origin := c.Get(fiber.HeaderOrigin)
	// "null" is what a browser says of a page that names itself to nobody (no-referrer), as a customer's does; without
	// TLS it says no more. There is no session then that could be abused.
	if origin == "" || origin == "null" && !identityOf(c).known() {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && u.Host != "" && u.Host == host(c)
}

// sentToken is the token in the header, else in the body; never in the address, which is written down.
func sentToken(c *fiber.Ctx) []byte {
	if h := c.Get(tokenHeader); h != "" {
		return []byte(h)
	}
	if v := c.Request().PostArgs().Peek(TokenField); len(v) > 0 {
		return v
	}
	if form, err := c.MultipartForm(); err == nil && len(form.Value[TokenField]) > 0 {
		return []byte(form.Value[TokenField][0])
	}
	return nil
}

// CSRFToken is the token for the forms of this page. For somebody not signed in it begins a visit: a
// random cookie that ends with the browser. It is empty, and the form refused, when there is no randomness.
func (g *Guard) CSRFToken(c *fiber.Ctx) string {
	secret := g.formSecret(c)
	if secret == "" {
		var b [32]byte
		if _, err := io.ReadFull(g.o.Random, b[:]); err != nil {
			return ""
		}
		secret = base64.RawURLEncoding.EncodeToString(b[:])
		identityOf(c).secret = secret
		g.setCookie(c, visitCookie, secret, time.Time{})
	}
	return formToken(secret)
}

// formSecret is what the form token is derived from, empty where there is none yet.
func (g *Guard) formSecret(c *fiber.Ctx) string {
	if secret := identityOf(c).secret; secret != "" {
		return secret
	}
	visit := c.Cookies(g.cookieName(visitCookie))
	if b, err := base64.RawURLEncoding.DecodeString(visit); err != nil || len(b) != 32 {
		return ""
	}
	return visit
}

// formToken proves that the page was made for who holds the secret, without showing the secret to the page.
func formToken(secret string) string {
	mac := hmac.New(sha256.New, []byte(secret))
	mac.Write([]byte("form token"))
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil))
}
