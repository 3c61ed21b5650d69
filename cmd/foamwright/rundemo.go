package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/einvoice"
	"foamwright/pricing/sales"
)

// runDemo opens Kestrel Yard Propworks: loads it once, issues the quote of the demo enquiry, writes its PDF, and
// serves until it is told to stop.
func runDemo(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("demo", "[settings] [-once] [-out FOLDER]")
	s.add(f, true)
	once := f.Bool("once", false, "end after the PDF is written")
	out := f.String("out", "out", "folder the PDF is written to [FOAMWRIGHT_OUT]")
	if err := p.parse(f, args); err != nil {
		return err
	}
	began := p.now()
	shop, err := p.open(ctx, s, theDemo())
	if err != nil {
		return err
	}
	defer shop.close()
	q, err := demo.LoadWithHistory(ctx, shop.books(p.now))
	if err != nil {
		return err
	}
	path, err := p.demoQuote(ctx, shop, q, *out)
	if err != nil {
		return err
	}
	owner, err := demo.Owner(ctx, shop.people)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "\nQuote %s for %s: %s\n", q.Number, q.Customer, path)
	if *once {
		return nil
	}
	return p.listen(ctx, s, shop, "", func(address string) {
		secret, _, err := shop.people.NewLink(ctx, owner.ID)
		if err != nil {
			p.log.Error("no sign-in link", "cause", err)
			return
		}
		page, err := shop.sales.Link(ctx, q.ID, owner.Name)
		if err != nil {
			p.log.Error("no link to the customer's page", "cause", err)
			return
		}
		fmt.Fprintf(p.out, "Its customer sees %s/q/%s\n", address, page)
		fmt.Fprintf(p.out, "Open since %s. Sign in as %s (works once): %s/link/%s\nCtrl-C closes it.\n",
			p.now().Sub(began).Round(10*time.Millisecond), owner.Name, address, secret)
	})
}

// books are what the demo is written into.
func (o *shop) books(now func() time.Time) demo.Books {
	return demo.Books{
		People: o.people, Now: now(),
		Sales: func(at time.Time) *sales.Service {
			s := sales.NewService(o.db.Sales(), o.paper, func() time.Time { return at })
			s.WriteXMLWith(einvoice.UBL)
			return s
		},
		Shelf: func(at time.Time) *stock.Service {
			return stock.NewService(o.db.Stock(), func() time.Time { return at })
		},
	}
}

// demoQuote prints the slip of the demo quote and writes its document.
func (p *program) demoQuote(ctx context.Context, shop *shop, q sales.Quote, folder string) (string, error) {
	spec, err := q.Form.Spec()
	if err != nil {
		return "", err
	}
	w, err := shop.sales.Workshop(ctx)
	if err != nil {
		return "", err
	}
	e, err := pricing.Make(ctx, spec, w.Snapshot(q.IssuedAt), pricing.Issue)
	if err != nil {
		return "", err
	}
	if err := slip(p.out, e, false); err != nil {
		return "", err
	}
	doc, err := shop.sales.Document(ctx, q.ID)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", fmt.Errorf("folder of the PDF: %w", err)
	}
	path := filepath.Join(folder, doc.Name)
	if err := os.WriteFile(path, doc.Bytes, 0o644); err != nil {
		return "", fmt.Errorf("the PDF: %w", err)
	}
	return filepath.Abs(path)
}
