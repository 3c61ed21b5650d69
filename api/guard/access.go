package guard

import (
	"net/url"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
)

// Door lets people pass to a path and everything below it. The deepest door on the way counts.
type Door struct {
	path  string
	open  bool
	roles []people.Role
}

// Open is a door for anybody, signed in or not.
func Open(path string) Door { return Door{path: doorPath(path), open: true} }

// For is a door for people of these roles, and always for the owner; without roles, for all who are signed in.
func For(path string, roles ...people.Role) Door { return Door{path: doorPath(path), roles: roles} }

// doorPath is in small letters because the router does not tell them from capitals.
func doorPath(path string) string { return strings.ToLower(strings.TrimRight(path, "/")) }

// below tells whether path is door or lies below it. The door "" is "/" alone, lest it open everything.
func below(door, path string) bool {
	rest, ok := strings.CutPrefix(strings.ToLower(path), door)
	if door == "" {
		return rest == "/"
	}
	return ok && (rest == "" || rest[0] == '/')
}

// Closed refuses everybody but the owner, except through the doors.
func (g *Guard) Closed(doors ...Door) fiber.Handler {
	doors = slices.Clone(doors)
	slices.SortStableFunc(doors, func(a, b Door) int { return len(b.path) - len(a.path) })
	return func(c *fiber.Ctx) error {
		for _, d := range doors {
			if below(d.path, c.Path()) {
				return g.admit(c, d)
			}
		}
		return g.admit(c, Door{roles: []people.Role{people.Owner}})
	}
}

// Require refuses on a group or route all but people of these roles and the owner; without roles, all who
// are not signed in.
func (g *Guard) Require(roles ...people.Role) fiber.Handler {
	return func(c *fiber.Ctx) error { return g.admit(c, Door{roles: roles}) }
}

func (g *Guard) admit(c *fiber.Ctx, d Door) error {
	id := identityOf(c)
	switch role := id.session.Role; {
	case id.refused != nil:
		return id.refused
	case d.open, id.known() && (len(d.roles) == 0 || role == people.Owner || slices.Contains(d.roles, role)):
		return c.Next()
	case id.known():
		return fault.New(fault.Forbidden, "This is not open to you; ask the owner of the workshop.")
	case isAPI(c) || !isNavigation(c):
		return fault.New(fault.Unauthenticated, "Nobody is signed in, or the session has ended; sign in to go on.")
	}
	return c.Redirect(SignInPath+"?next="+url.QueryEscape(returnPath(c)), fiber.StatusSeeOther)
}

// isNavigation tells a person's step to a page from a script's request, which would not know what to do
// with the sign-in page. Browsers say so (W3C Fetch Metadata) over TLS; our own scripts send the form token.
func isNavigation(c *fiber.Ctx) bool {
	mode := c.Get("Sec-Fetch-Mode")
	return mode == "navigate" || mode == "" && c.Get(tokenHeader) == ""
}

// returnPath is where a person goes on after signing in: the page asked for, or the one with the form sent.
func returnPath(c *fiber.Ctx) string {
	if c.Method() == fiber.MethodGet || c.Method() == fiber.MethodHead {
		return LocalPath(c.OriginalURL())
	}
	from, err := url.Parse(c.Get(fiber.HeaderReferer))
	if err != nil || from.Host != host(c) {
		return "/"
	}
	return LocalPath(from.RequestURI())
}

// LocalPath is next if it is a path of this server, else "/": a link to the sign-in page must not send a
// person on to another site. Browsers read a backslash as a slash and skip control characters.
func LocalPath(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.Scheme != "" || u.Host != "" || u.User != nil || !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") ||
		strings.ContainsFunc(next, func(r rune) bool { return r == '\\' || r <= ' ' || r == 0x7f }) {
		return "/"
	}
	return next
}

// host is the host asked for, as the client itself named it.
func host(c *fiber.Ctx) string { return string(c.Request().Host()) }
