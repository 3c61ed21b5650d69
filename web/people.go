package web

import (
	"crypto/subtle"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

// entryForm is any of the small forms that let people in: what was typed but secrets, and what is wrong.
type entryForm struct {
	Login, Name, Next, Token string
	Problems                 map[string]string
	Done                     bool
}

func (p *Pages) signInPage(c *fiber.Ctx) error {
	empty, err := p.people.Empty(c.UserContext())
	if err != nil {
		return err
	}
	if empty {
		return p.render(c, fiber.StatusOK, "set-up-first", "Welcome", "", nil)
	}
	return p.render(c, fiber.StatusOK, "sign-in", "Sign in", "", entryForm{Next: guard.LocalPath(c.Query("next", "/"))})
}

func (p *Pages) signIn(c *fiber.Ctx) error {
	f := entryForm{Login: c.FormValue("login"), Next: guard.LocalPath(c.FormValue("next", "/"))}
	err := p.guard.SignIn(c, f.Login, c.FormValue("password"))
	if err == nil {
		return c.Redirect(f.Next, fiber.StatusSeeOther)
	}
	return p.refused(c, err, "sign-in", "Sign in", f)
}

// refused shows a form again with what is wrong, or passes on what is not the person's to mend.
func (p *Pages) refused(c *fiber.Ctx, err error, name, title string, f entryForm) error {
	switch fault.KindOf(err) {
	case fault.Internal:
		return err
	case fault.Invalid:
		f.Problems, _ = problemsOf(err) // an Invalid fault always has problems
	default:
		f.Problems = map[string]string{"": fault.ProblemsOf(err)[0].Remedy}
	}
	p.problems.Note(c, err)
	return p.render(c, problem.Status(err), name, title, "", f)
}

func (p *Pages) signOut(c *fiber.Ctx) error {
	if err := p.guard.SignOut(c); err != nil {
		return err
	}
	return c.Redirect(guard.SignInPath, fiber.StatusSeeOther)
}

// linkPage asks for one press: a mail program that looks at links must not use one up.
func (p *Pages) linkPage(c *fiber.Ctx) error {
	return p.render(c, fiber.StatusOK, "link", "Sign in", "", entryForm{Token: c.Params("token")})
}

func (p *Pages) useLink(c *fiber.Ctx) error {
	if err := p.guard.UseLink(c, c.Params("token")); err != nil {
		return p.refused(c, err, "link", "Sign in", entryForm{Token: c.Params("token"), Done: true})
	}
	return c.Redirect("/", fiber.StatusSeeOther)
}

// setUpPage makes the first owner; only whoever started the program knows the key.
func (p *Pages) setUpPage(c *fiber.Ctx) error {
	if !p.knowsKey(c.Query("key")) {
		return fault.New(fault.Forbidden, "This address is not complete, or the workshop has its owner already. Copy the whole line that foamwright printed when it started.")
	}
	return p.render(c, fiber.StatusOK, "set-up", "Welcome", "", entryForm{Token: c.Query("key")})
}

func (p *Pages) setUp(c *fiber.Ctx) error {
	f := entryForm{Login: c.FormValue("login"), Name: c.FormValue("name"), Token: c.FormValue("key")}
	if !p.knowsKey(f.Token) {
		return fault.New(fault.Forbidden, "This page was opened with an old address. Copy the whole line that foamwright printed when it started.")
	}
	_, err := p.people.SetUp(c.UserContext(), people.Entry{Login: f.Login, Name: f.Name, Role: people.Owner, Password: c.FormValue("password")})
	if err != nil {
		return p.refused(c, err, "set-up", "Welcome", f)
	}
	if err := p.guard.SignIn(c, f.Login, c.FormValue("password")); err != nil {
		return err
	}
	return c.Redirect("/", fiber.StatusSeeOther)
}

func (p *Pages) knowsKey(key string) bool {
	return p.setUpKey != "" && subtle.ConstantTimeCompare([]byte(key), []byte(p.setUpKey)) == 1
}
