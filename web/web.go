// Package web is the pages: forms and lists rendered on the server, with a small script for live fragments and one
// for the time log, which has to work without a net.
//
// Every page works without script: a button recomputes. A form that fails comes back as it was typed, with
// what to change beside the field. Units as the entries say; money as words prints it. Limits: pages only; no
// price is computed here and nothing is stored here.
package web

import (
	"context"
	"embed"
	"log/slog"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

//go:embed all:templates static
var files embed.FS

// Pages serves the pages.
type Pages struct {
	sales     *sales.Service
	list      *stock.Catalogue
	shelf     *stock.Service
	figures   *figures.Service
	people    *people.Service
	guard     *guard.Guard
	problems  problem.Writer
	templates templates
	static    map[string]asset
	setUpKey  string
	searches  *searches
	reachedAt string
	log       *slog.Logger
	strangers *guard.Brake  // of the public form
	darkroom  chan struct{} // one picture at a time is unpacked
}

// Options are what cmd joins.
type Options struct {
	Sales    *sales.Service
	List     *stock.Catalogue
	Shelf    *stock.Service
	Figures  *figures.Service
	People   *people.Service
	Guard    *guard.Guard
	Log      *slog.Logger
	SetUpKey string // opens the page that makes the first owner; empty when there is one
	// ReachedAt is the address people reach the program at, https://bench.example, for links that leave it; empty for
	// the one that was asked for.
	ReachedAt string
}

// New reads the embedded templates; an error is a fault of the build. What pages wait for ends with ctx, so that nobody
// holds up a program that stops.
func New(ctx context.Context, o Options) (*Pages, error) {
	static, err := loadStatic()
	if err != nil {
		return nil, err
	}
	t, err := loadTemplates(static)
	if err != nil {
		return nil, err
	}
	return &Pages{o.Sales, o.List, o.Shelf, o.Figures, o.People, o.Guard, problem.Writer{Log: o.Log}, t, static, o.SetUpKey, newSearches(ctx), strings.TrimRight(o.ReachedAt, "/"), o.Log, o.Guard.NewBrake(enquiryRate()), make(chan struct{}, 1)}, nil
}

// Doors are the paths that others than the owner may open.
func Doors() []guard.Door {
	return append(slices.Concat(mailDoors(), moneyDoors(), shelfDoors(), catalogueDoors(), logDoors(), enquiryDoors(), photoDoors()),
		guard.Open("/static"), guard.Open(guard.SignInPath), guard.Open("/set-up"), guard.Open("/link"), guard.Open(calendarPath), guard.Open(answerPath),
		guard.For("/", people.Roles()...), guard.For("/sign-out", people.Roles()...), guard.For("/account", people.Roles()...),
		guard.For("/quotes", people.Bookkeeper), guard.For("/figures", people.Bookkeeper),
	)
}

// Open mounts what needs no guard.
func (p *Pages) Open(r fiber.Router) {
	r.Get("/static/:name", p.asset)
	r.Use(answerPath, p.unlisted)
}

// Register mounts the pages behind the guard.
func (p *Pages) Register(r fiber.Router) {
	owner := p.guard.Require(people.Owner)
	r.Get("/", p.home)
	r.Get(guard.SignInPath, p.signInPage)
	r.Post(guard.SignInPath, p.signIn)
	r.Post("/sign-out", p.signOut)
	r.Get("/link/:token", p.linkPage)
	r.Post("/link/:token", p.useLink)
	r.Get("/set-up", p.setUpPage)
	r.Post("/set-up", p.setUp)
	r.Get(calendarPath+":secret", p.feed)
	p.registerAccount(r)
	p.registerAnswer(r)
	p.registerTalk(r, owner)

	r.Get("/quotes", p.quotes)
	r.Get("/quotes/new", owner, p.newQuotePage)
	r.Post("/quotes/new", owner, p.newQuote)
	r.Get("/quotes/:id", p.quote)
	r.Post("/quotes/:id", owner, p.editQuote)
	r.Post("/quotes/:id/live", owner, p.live)
	r.Post("/quotes/:id/better", owner, p.better)
	r.Post("/quotes/:id/revise", owner, p.revise)
	r.Post("/quotes/:id/decline", owner, p.decline)
	r.Get("/quotes/:id/variants", owner, p.variants)
	r.Post("/quotes/:id/variants", owner, p.actOnVariant)
	r.Post("/quotes/:id/discard", owner, p.discard)
	r.Get("/quotes/:id/quote.pdf", p.document)
	r.Get("/quotes/:id/templates.pdf", owner, p.quoteTemplates)
	r.Get("/quotes/:id/cutplan.pdf", owner, p.quoteCutPlan)

	r.Get("/designs", p.designs)
	r.Get("/designs/new", p.newDesign)
	r.Get("/designs/:id", p.design)
	r.Post("/designs/:id", p.editDesign)
	r.Post("/designs/:id/live", p.live)
	r.Post("/designs/:id/better", p.better)
	r.Get("/designs/:id/templates.pdf", p.designTemplates)
	r.Get("/designs/:id/cutplan.pdf", p.designCutPlan)

	r.Get("/customers", p.customers)
	r.Get("/customers/:id", p.customer)
	r.Post("/customers/:id", p.editCustomer)

	r.Get("/workshop", p.workshop)
	r.Post("/workshop", p.editWorkshop)

	p.registerPeople(r)
	p.registerRules(r)
	p.registerUsage(r)
	p.registerEnquiries(r)
	p.registerLabour(r)
	p.registerCutting(r)
	p.registerCatalogue(r)
	p.registerShelf(r)
	p.registerChanges(r)
	p.registerFigures(r)
	p.registerLog(r)
	p.registerMail(r)
	p.registerEvents(r)
	p.registerShow(r)
	p.registerMoney(r)
	p.registerTaxes(r)
}

// home is what wants looking at; the bookkeeper begins with the quotes.
func (p *Pages) home(c *fiber.Ctx) error {
	if person, ok := guard.Person(c); ok && person.Role == people.Bookkeeper {
		return c.Redirect("/quotes", fiber.StatusSeeOther)
	}
	return c.Redirect("/today", fiber.StatusSeeOther)
}
