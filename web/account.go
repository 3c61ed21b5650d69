package web

import (
	"context"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

// registerAccount mounts one's own password and ways in.
func (p *Pages) registerAccount(r fiber.Router) {
	r.Get("/account", p.signedIn(p.account))
	r.Post("/account", p.signedIn(p.changePassword))
	r.Post("/account/sign-out", p.signedIn(p.signOutEverywhere))
	back := func(c *fiber.Ctx) error { return c.Redirect("/account", fiber.StatusSeeOther) }
	for way, kept := range p.ways() {
		path := "/account/" + way
		r.Post(path, p.newToken(way, kept))
		r.Post(path+"/:no/end", p.signedIn(func(c *fiber.Ctx, session people.Session) error {
			return endToken(c, kept, session.ID, "/account")
		}))
		r.Get(path, back)
		r.Get(path+"/:no/end", back)
	}
	r.Get("/account/sign-out", back)
}

// way is what reads for a person without their password: programs by an API token, calendars by a link.
type way struct {
	new func(ctx context.Context, personID int64, name string) (people.Token, string, error)
	end func(ctx context.Context, personID, id int64) error
}

func (p *Pages) ways() map[string]way {
	return map[string]way{
		"calendar": {p.people.NewCalendarLink, p.people.EndCalendarLink},
		"token":    {p.people.NewToken, p.people.EndToken},
	}
}

// waysOf are a person's ways. Where they cannot be read just now the page does without them.
type waysOf struct{ Calendars, Tokens []people.Token }

func (p *Pages) waysOf(c *fiber.Ctx, personID int64) (w waysOf) {
	var err error
	if w.Calendars, err = p.people.CalendarLinks(c.UserContext(), personID); err == nil {
		w.Tokens, err = p.people.Tokens(c.UserContext(), personID)
	}
	if err != nil {
		p.problems.Note(c, err)
	}
	return w
}

// ways is a list of them with the path below which each is ended.
type ways struct {
	Base string
	List []people.Token
}

// accountPage is one's own password and ways in.
type accountPage struct {
	forms
	waysOf
	people.Session
	Done   bool
	Shown  string // which way's secret was just made
	Secret string
}

// Password is an entry for a password, which is never shown again.
func (d accountPage) Password(blamed, name, label, autocomplete string) entry {
	return entry{Name: name, Label: label, Hint: autocomplete, Problem: d.Problem("password", blamed), ID: id("password." + name)}
}

// signedIn passes on who is signed in, on pages that are about them.
func (p *Pages) signedIn(then func(*fiber.Ctx, people.Session) error) fiber.Handler {
	return func(c *fiber.Ctx) error {
		session, ok := guard.Current(c)
		if !ok {
			return fault.New(fault.Unauthenticated, "Sign in first.")
		}
		return then(c, session)
	}
}

func (p *Pages) account(c *fiber.Ctx, session people.Session) error {
	return p.showAccount(c, fiber.StatusOK, session, accountPage{Done: c.Query("done") != ""})
}

func (p *Pages) showAccount(c *fiber.Ctx, status int, session people.Session, d accountPage) error {
	d.Session, d.waysOf = session, p.waysOf(c, session.ID)
	return p.render(c, status, "account", session.Name, "", d)
}

func (p *Pages) changePassword(c *fiber.Ctx, session people.Session) error {
	return act(c, "password", func(t *typing) (string, error) {
		return "/account?done=1", p.people.ChangePassword(c.UserContext(), session, t.v.Get("old"), t.v.Get("new"), c.IP())
	}, func(status int, f forms) error {
		p.problems.Note(c, f.cause)
		return p.showAccount(c, status, session, accountPage{forms: f})
	})
}

// newToken makes a way in and shows its secret, which nothing shows again: there is no page to go on to.
func (p *Pages) newToken(name string, kept way) fiber.Handler {
	return p.signedIn(func(c *fiber.Ctx, session people.Session) error {
		t := &typing{v: values(c)}
		_, secret, err := kept.new(c.UserContext(), session.ID, t.v.Get("name"))
		if err != nil {
			f, status, err := refused(name, t, err)
			if err != nil {
				return err
			}
			return p.showAccount(c, status, session, accountPage{forms: f})
		}
		if name == "calendar" {
			secret = p.reached(c) + calendarPath + secret + ".ics"
		}
		return p.showAccount(c, fiber.StatusOK, session, accountPage{Shown: name, Secret: secret})
	})
}

// endToken ends one of a person's ways; ended twice is ended.
func endToken(c *fiber.Ctx, kept way, personID int64, back string) error {
	no, _ := c.ParamsInt("no")
	if err := kept.end(c.UserContext(), personID, int64(no)); err != nil && fault.KindOf(err) != fault.NotFound {
		return err
	}
	return c.Redirect(back, fiber.StatusSeeOther)
}

// signOutEverywhere ends all sessions of whoever asks, this one too.
func (p *Pages) signOutEverywhere(c *fiber.Ctx, session people.Session) error {
	if err := p.people.SignOutEverywhere(c.UserContext(), session.ID); err != nil {
		return err
	}
	return p.signOut(c)
}
