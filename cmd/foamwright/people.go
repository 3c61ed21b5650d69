package main

import (
	"cmp"
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
	f.StringVar(&role, "role", "", "owner, helper or bookkeeper; helper for somebody new")
	password := f.Bool("password", false, "with -name: read their password from standard input; without it a sign-in link is made")
	disable := f.Bool("disable", false, "they may no longer sign in, and what they had open ends")
	enable := f.Bool("enable", false, "they may sign in again")
	signOut := f.Bool("sign-out", false, "sign them out on every computer and phone")
	token := f.String("token", "", "make an API token of this name for them")
	endToken := f.String("end-token", "", "end their API token of this name")
	if err := p.parse(f, args); err != nil {
		return err
	}
	e.Role = people.Role(role)
	if *password {
		if e.Name == "" {
			return fault.New(fault.Invalid, "Only somebody new, with -name, is given a password. Whoever is there changes it on their own page, after a sign-in link if it is forgotten.")
		}
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
	if err != nil {
		return err
	}
	done := func(err error, said string) error {
		if err == nil {
			fmt.Fprintf(p.out, "%s %s.\n", who.Name, said)
		}
		return err
	}
	switch {
	case *disable:
		_, err := shop.people.Disable(ctx, who.ID)
		return done(err, "may no longer sign in")
	case *enable:
		_, err := shop.people.Enable(ctx, who.ID)
		return done(err, "may sign in again")
	case *signOut:
		return done(shop.people.SignOutEverywhere(ctx, who.ID), "is signed out everywhere")
	case *endToken != "":
		return done(endTokenOf(ctx, shop, who, *endToken), "has no API token of that name any more")
	case e.Name == "" && role != "":
		_, err := shop.people.Change(ctx, who.ID, who.Name, e.Role)
		return done(err, "is "+role+" now")
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
		e.Role = cmp.Or(e.Role, people.Helper)
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

// endTokenOf ends a person's API token by its name.
func endTokenOf(ctx context.Context, shop *shop, who people.Person, name string) error {
	all, err := shop.people.Tokens(ctx, who.ID)
	if err != nil {
		return err
	}
	var names []string
	for _, t := range all {
		if t.Name == name {
			return shop.people.EndToken(ctx, who.ID, t.ID)
		}
		names = append(names, t.Name)
	}
	return fault.New(fault.NotFound, "%s has no API token %q. There are: %s.", who.Name, fault.Shorten(name), cmp.Or(strings.Join(names, ", "), "none"))
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
