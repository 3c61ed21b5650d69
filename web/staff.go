package web

import (
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

// registerPeople mounts who works here and how they come in.
func (p *Pages) registerPeople(r fiber.Router) {
	r.Get("/workshop/people", p.staff)
	r.Post("/workshop/people", p.addPerson)
	r.Get("/workshop/people/:id", p.person)
	r.Post("/workshop/people/:id", p.editPerson)
	r.Get("/workshop/people/:id/link", func(c *fiber.Ctx) error { return c.Redirect(staffPath(personID(c)), fiber.StatusSeeOther) })
	r.Post("/workshop/people/:id/link", p.invite)
	for way, kept := range p.ways() {
		r.Post("/workshop/people/:id/"+way+"/:no/end", func(c *fiber.Ctx) error { return endToken(c, kept, personID(c), staffPath(personID(c))) })
	}
}

// personID is 0, which nobody has, where the address says none.
func personID(c *fiber.Ctx) int64 {
	n, _ := strconv.ParseInt(c.Params("id"), 10, 64)
	return n
}

func staffPath(id int64) string { return "/workshop/people/" + strconv.FormatInt(id, 10) }

// roleWords are the roles with what each is for.
func roleWords() (all []option) {
	means := map[people.Role]string{people.Owner: "owner, everything", people.Bookkeeper: "bookkeeper, money and figures", people.Helper: "helper, the bench, no prices"}
	for _, r := range people.Roles() {
		all = append(all, option{string(r), means[r]})
	}
	return all
}

type staffPage struct {
	forms
	All   []people.Person
	Roles []option
}

// personPage is one person and their ways in.
type personPage struct {
	forms
	people.Person
	waysOf
	Roles     []option
	New, Kept bool
	Secret    string // the sign-in link that was just made
	Ends      string
}

func (p *Pages) staff(c *fiber.Ctx) error { return p.showStaff(c, fiber.StatusOK, forms{}) }

func (p *Pages) showStaff(c *fiber.Ctx, status int, f forms) error {
	all, err := p.people.People(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, status, "people", "People", "workshop", staffPage{f, all, roleWords()})
}

// addPerson adds somebody; they come in by a link that is made on their page.
func (p *Pages) addPerson(c *fiber.Ctx) error {
	return act(c, "new", func(t *typing) (string, error) {
		who, err := p.people.Add(c.UserContext(), people.Entry{Login: t.v.Get("login"), Name: t.v.Get("name"), Role: people.Role(t.v.Get("role"))})
		return staffPath(who.ID) + "?new=1", err
	}, func(status int, f forms) error { return p.showStaff(c, status, f) })
}

func (p *Pages) person(c *fiber.Ctx) error {
	return p.showPerson(c, fiber.StatusOK, personPage{New: c.Query("new") != "", Kept: c.Query("kept") != ""})
}

func (p *Pages) showPerson(c *fiber.Ctx, status int, d personPage) (err error) {
	if d.Person, err = p.people.Person(c.UserContext(), personID(c)); err != nil {
		return err
	}
	d.waysOf, d.Roles = p.waysOf(c, d.ID), roleWords()
	return p.render(c, status, "person", d.Name, "workshop", d)
}

// editPerson changes a person, shuts them out, or lets them in again.
func (p *Pages) editPerson(c *fiber.Ctx) error {
	ctx, who := c.UserContext(), personID(c)
	return act(c, "person", func(t *typing) (to string, err error) {
		switch t.v.Get("do") {
		case "sign out":
			err = p.people.SignOutEverywhere(ctx, who)
		case "disable":
			_, err = p.people.Disable(ctx, who)
		case "enable":
			_, err = p.people.Enable(ctx, who)
		default:
			_, err = p.people.Change(ctx, who, t.v.Get("name"), people.Role(t.v.Get("role")))
		}
		return staffPath(who) + "?kept=1", err
	}, func(status int, f forms) error { return p.showPerson(c, status, personPage{forms: f}) })
}

// invite makes a sign-in link and shows it, which nothing does again.
func (p *Pages) invite(c *fiber.Ctx) error {
	secret, ends, err := p.people.NewLink(c.UserContext(), personID(c))
	if fault.KindOf(err) == fault.NotFound {
		return fault.New(fault.State, "This person may not sign in. Let them in again first.")
	} else if err != nil {
		return err
	}
	return p.showPerson(c, fiber.StatusOK, personPage{Secret: p.reached(c) + "/link/" + secret, Ends: ends.Local().Format("2 January, 15:04")})
}
