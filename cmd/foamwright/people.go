package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

// migrate brings the tables up to date and ends.
func migrate(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("migrate", "[settings]")
	s.add(f, false)
	if err := p.parse(f, args); err != nil {
		return err
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	fmt.Fprintln(p.out, "The tables are up to date.")
	return nil
}

// user adds people, lists them, and lets them in again. A password is read from standard input, never from the
// command line, where other programs of the machine could see it.
func user(ctx context.Context, p *program, args []string) error {
	var s settings
	var e people.Entry
	var role string
	f := p.flags("user", "[settings] -login LOGIN [-name NAME] [-role ROLE] [-password]")
	s.add(f, false)
	f.StringVar(&e.Login, "login", "", "who; without it everybody is listed")
	f.StringVar(&e.Name, "name", "", "their name: adds them")
	f.StringVar(&role, "role", string(people.Helper), "owner, helper or bookkeeper")
	password := f.Bool("password", false, "read their password from standard input; without it a sign-in link is made")
	disable := f.Bool("disable", false, "they may no longer sign in")
	token := f.String("token", "", "make an API token of this name for them")
	if err := p.parse(f, args); err != nil {
		return err
	}
	e.Role = people.Role(role)
	if *password {
		typed, err := io.ReadAll(io.LimitReader(p.in, 1024))
		if err != nil {
			return fault.New(fault.Invalid, "The password could not be read from standard input.")
		}
		e.Password = strings.TrimRight(string(typed), "\r\n")
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	if e.Login == "" {
		return listPeople(ctx, p, shop)
	}
	who, err := findOrAdd(ctx, shop, e)
	switch {
	case err != nil:
		return err
	case *disable:
		if _, err := shop.people.Disable(ctx, who.ID); err != nil {
			return err
		}
		fmt.Fprintf(p.out, "%s may no longer sign in.\n", who.Name)
	case *token != "":
		_, secret, err := shop.people.NewToken(ctx, who.ID, *token)
		if err != nil {
			return err
		}
		fmt.Fprintf(p.out, "API token of %s, shown once: %s\n", who.Name, secret)
	case e.Password != "":
		fmt.Fprintf(p.out, "%s signs in as %s.\n", who.Name, who.Login)
	default:
		secret, ends, err := shop.people.NewLink(ctx, who.ID)
		if err != nil {
			return err
		}
		fmt.Fprintf(p.out, "%s signs in once at /link/%s until %s.\n", who.Name, secret, ends.Format("2 January 15:04"))
	}
	return nil
}

// findOrAdd is the person of a login; with a name they are added. The first one is the owner.
func findOrAdd(ctx context.Context, shop *shop, e people.Entry) (people.Person, error) {
	if e.Name != "" {
		empty, err := shop.people.Empty(ctx)
		if err != nil {
			return people.Person{}, err
		}
		if empty {
			return shop.people.SetUp(ctx, e)
		}
		return shop.people.Add(ctx, e)
	}
	all, err := shop.people.People(ctx)
	if err != nil {
		return people.Person{}, err
	}
	login, _ := people.CanonicalLogin(e.Login)
	for _, person := range all {
		if person.Login == login {
			return person, nil
		}
	}
	return people.Person{}, fault.New(fault.NotFound, "Nobody has the login %q. Add them with -name.", fault.Shorten(e.Login))
}

func listPeople(ctx context.Context, p *program, shop *shop) error {
	all, err := shop.people.People(ctx)
	if err != nil {
		return err
	}
	for _, person := range all {
		state := ""
		if !person.Active() {
			state = ", may not sign in"
		}
		fmt.Fprintf(p.out, "%-20s %s, %s%s\n", person.Login, person.Name, person.Role, state)
	}
	return nil
}
