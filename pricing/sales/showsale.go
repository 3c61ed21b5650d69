package sales

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// ShowSale is a finished shield sold on the spot, for its list price or for less with a reason.
type ShowSale struct {
	Ready      string           // ID of the shield
	CustomerID string           // empty for somebody who walked in
	Event      string           // it was sold at; empty for none
	Price      string           // list price that was shown; empty for whatever it is
	For        *decimal.Decimal // price it goes for, with tax; nil for the list price
	Why        string           // it goes for less
	Way        Way
	Token      string // of the form: sent twice it is sold once
}

// walkIn is the customer of all who do not give a name: one row, always the same.
func walkIn(now time.Time) Customer {
	return Customer{ID: uuid.NewSHA1(uuid.NameSpaceOID, []byte("somebody who walked in")).String(), Name: "Walk-in", Note: "Everybody who bought from the shelf and gave no name.", Changed: now}
}

// Sell sells a finished shield: it is taken away, paid and invoiced in one act.
//
// How the money of an order stands is worked out in one place from an order's lines, invoices and payments (Dues), and
// lists, statements and the bookkeeper's files go by it. So a sale is no second kind of money: it is an order like any
// other, whose quote is the price list. The quote is issued with the list price as its line and accepted at once, the
// order is done and handed over, the payment is written down, and the invoice that follows says that it is paid. All
// numbers come from their usual series without gaps.
func (s *Service) Sell(ctx context.Context, sale ShowSale, by string) (Invoice, error) {
	return read(ctx, s, func(tx Tx) (Invoice, error) {
		r, err := tx.LockReady(ctx, sale.Ready)
		if err != nil {
			return Invoice{}, err
		}
		if len(sale.Token) < 8 || len(sale.Token) > 100 {
			return Invoice{}, problem("token", sale.Token, "Send a token of 8 to 100 letters that is new for every sale, so that it is sold once.")
		}
		if r.SoldAs != "" && r.Token == sale.Token {
			return tx.InvoiceBy(ctx, sale.Token)
		}
		if err := r.here(); err != nil {
			return Invoice{}, err
		}
		if !slices.Contains(Ways(), sale.Way) {
			return Invoice{}, problem("way", string(sale.Way), "Choose transfer, cash, card or other.")
		}
		o, q, err := s.soldOrder(ctx, tx, r, sale, by)
		if err != nil {
			return Invoice{}, err
		}
		inv, err := s.settleSale(ctx, tx, o, q, sale, by)
		if err != nil {
			return inv, err
		}
		r.SoldAs, r.Token, r.Gone = o.ID, sale.Token, o.Ended
		return inv, tx.SaveReady(ctx, r)
	})
}

// soldOrder is the order that a sale is: its quote issued and accepted, done.
func (s *Service) soldOrder(ctx context.Context, tx Tx, r Ready, sale ShowSale, by string) (o Order, q Quote, err error) {
	now := s.now()
	w, err := tx.Workshop(ctx, now)
	if err != nil {
		return o, q, err
	}
	c, err := buyer(ctx, tx, sale.CustomerID, now)
	if err != nil {
		return o, q, err
	}
	d, err := tx.Design(ctx, r.DesignID)
	if err != nil {
		return o, q, err
	}
	price, err := listPrice(ctx, tx, d, now)
	if err != nil {
		return o, q, err
	}
	if sale.Price != "" && sale.Price != price.String() {
		return o, q, fault.New(fault.Conflict, "You saw %s at %s; on the list it is %s. Look at it again, then sell it.", d.Name, fault.Shorten(sale.Price), price)
	}
	price, note, err := sale.agreed(price)
	if err != nil {
		return o, q, err
	}
	made, err := onePiece(d, w)
	if err != nil {
		return o, q, fault.New(fault.State, "The spec of %s cannot be made any more, so there is nothing to write on the invoice. Put the design right first.", d.Name).Because(err)
	}
	terms, err := saleTerms(w, now)
	if err != nil {
		return o, q, err
	}
	nothing := money.Sum(price.Currency())
	o = Order{
		ID: newID(), QuoteID: newID(), CustomerID: c.ID, Customer: c.Name, Title: d.Name, State: Done, Accepted: now, DepositDue: stock.Day(now), Paid: now,
		Starts: stock.Day(now), Ended: now, Terms: terms, Deposit: nothing, Lines: []OrderLine{{Kind: QuoteLine, Text: d.Name, Quantity: 1, Amount: price}},
	}
	if q, err = s.saleQuote(ctx, tx, w, o, c, d, made, r.Cost, by); err != nil {
		return o, q, err
	}
	o.Number = Number{Series: w.Series, Year: now.Year()}
	if o.Number.No, err = tx.NextNumber(ctx, orderSeries(w.Series), o.Number.Year); err != nil {
		return o, q, err
	}
	if err := tx.AddOrder(ctx, o); err != nil {
		return o, q, err
	}
	return o, q, s.answered(ctx, tx, q, Choice{Name: c.Name, Note: note}.answer(Yes, by, price))
}

// agreed is the price a shield goes for, and what is noted of it.
func (s ShowSale) agreed(list money.Amount) (money.Amount, string, error) {
	if s.For == nil {
		return list, "Sold from the price list.", nil
	}
	price, err := money.New(*s.For, list.Currency())
	if err != nil || price.Sign() <= 0 || price.Cmp(list) > 0 {
		return list, "", problem("for", s.For.String(), fmt.Sprintf("Write a price above 0 and up to %s, what the list says. More than that is a quote of its own.", words.Price(list)))
	}
	why := strings.TrimSpace(s.Why)
	switch {
	case price.Cmp(list) == 0:
		return list, "Sold from the price list.", nil
	case why == "":
		return list, "", problem("why", "", "Say in a few words why it goes for less: the figures cannot tell a scratch from a gift.")
	case len([]rune(why)) > 200:
		return list, "", problem("why", fault.Shorten(why), "This is too long. Shorten it to 200 letters.")
	}
	return price, fmt.Sprintf("Sold for %s, on the list it was %s: %s", words.Price(price), words.Price(list), why), nil
}

// saleQuote issues the quote of a sale: one piece of a standard design at what it went for.
func (s *Service) saleQuote(ctx context.Context, tx Tx, w workshop.Workshop, o Order, c Customer, d Design, made shield.Shield, cost money.Amount, by string) (Quote, error) {
	now, t, sums := s.now(), c.tongue(), o.Totals()
	body, err := json.Marshal(w.Snapshot(now))
	if err != nil {
		return Quote{}, fmt.Errorf("snapshot of a sale: %w", err)
	}
	form, err := d.Form.With(map[string]string{"quantity": "", "delivery.by": ""})
	if err != nil {
		return Quote{}, err
	}
	q := Quote{
		ID: o.QuoteID, Number: Number{Series: w.Series, Year: now.Year()}, Version: 1, State: Issued, CustomerID: c.ID, Design: MadeFrom{d.ID, d.Version}, Title: d.Name, Form: form,
		Created: now, Changed: now, IssuedAt: now, IssuedBy: by, ValidUntil: now, Net: sums.Net, Gross: sums.Gross, Snapshot: hash(body),
	}
	face := s.render.Picture(faceOf(w, made, words.Tongue{}))
	said := Said{Language: t.Code(), Made: Describe(t, made), Cautions: careCautions(t, made.Spec.Coat.System), Terms: w.TermsIn(t.Code()), Total: t.Price(sums.Gross)}
	if said.Language != (words.Tongue{}).Code() {
		said.Picture = s.render.Picture(faceOf(w, made, t))
	}
	// It lay finished on the shelf: what it took to make is bought in, so to speak, and it takes no more hours.
	kept := pricing.Costing{Quantity: 1, Net: sums.Net, BoughtIn: cost}
	q.Printed = Printed{Costing: kept, Made: Describe(words.Tongue{}, made), Picture: face, Terms: o.Terms, DepositShare: decimal.Zero, Said: said, Deposit: words.Price(o.Deposit), Balance: words.Price(sums.Gross)}
	if q.Number.No, err = tx.NextNumber(ctx, w.Series, q.Number.Year); err != nil {
		return q, err
	}
	doc, err := s.letter(ctx, Letter{
		Head: w.Head, Tongue: t, Name: t.Say("Sale of a finished shield, %s", q.Number.In(t)), File: fmt.Sprintf("quote-%d-%d-v1", q.Number.Year, q.Number.No), Date: now, To: c, Title: d.Name,
		Parts: []LetterPart{{Name: t.Say("What was sold"), Words: said.Made}, {Name: t.Say("Price"), Rows: o.rows(t)}, {Name: t.Say("Please note"), Words: said.Cautions}},
	})
	if err != nil {
		return q, err
	}
	q.Document = doc.Hash
	if err := tx.KeepSnapshot(ctx, q.Snapshot, body); err != nil {
		return q, err
	}
	if err := tx.KeepDocument(ctx, doc); err != nil {
		return q, err
	}
	return q, tx.AddQuote(ctx, q)
}

// settleSale hands a sold shield over, takes the money and issues the invoice.
func (s *Service) settleSale(ctx context.Context, tx Tx, o Order, q Quote, sale ShowSale, by string) (Invoice, error) {
	d := Delivery{Order: o.ID, Nth: 1, Day: stock.Day(o.Ended), Pieces: 1, Way: "collected", Whom: o.Customer, At: o.Ended, By: by}
	if sale.Event != "" {
		e, err := tx.Event(ctx, sale.Event)
		if err != nil {
			return Invoice{}, err
		}
		d.Way, d.Note = AtEvent, e.Name
		if err := tx.SetEventOf(ctx, q.ID, e.ID); err != nil {
			return Invoice{}, err
		}
	}
	if err := tx.AddDelivery(ctx, d); err != nil {
		return Invoice{}, err
	}
	if err := s.care(ctx, tx, o, q, d, true, by); err != nil {
		return Invoice{}, err
	}
	paid := Payment{Token: sale.Token, Day: d.Day, Amount: o.Totals().Gross, Way: sale.Way}
	if err := s.received(ctx, tx, o, paid, by); err != nil {
		return Invoice{}, err
	}
	return s.bill(ctx, tx, o, Billing{Kind: SaleBill, Token: sale.Token}, by)
}

// buyer is who buys from the shelf.
func buyer(ctx context.Context, tx Tx, id string, now time.Time) (Customer, error) {
	if id != "" {
		c, err := tx.Customer(ctx, id)
		if err != nil {
			return c, noCustomer(id, err)
		}
		if c.Treatment != tax.AsUsual {
			return c, fault.New(fault.State, "Tax is charged to %s another way than the price list has it. Write a quote for them instead.", c.Name)
		}
		return c, nil
	}
	c := walkIn(now)
	was, err := tx.Customer(ctx, c.ID)
	if fault.KindOf(err) == fault.NotFound {
		return c, tx.KeepCustomer(ctx, c)
	}
	return was, err
}

// listPrice is what a design costs today.
func listPrice(ctx context.Context, tx Tx, d Design, now time.Time) (money.Amount, error) {
	all, err := tx.StandardPrices(ctx)
	if err != nil {
		return money.Amount{}, err
	}
	p, _ := on(slices.DeleteFunc(all, func(p StandardPrice) bool { return p.DesignID != d.ID }), stock.Day(now))
	if p == nil || p.Off {
		return money.Amount{}, fault.New(fault.State, "%s is not on the price list today. Give it a price first.", d.Name)
	}
	return p.Price, nil
}

// saleTerms are those of the price list: its prices have tax in them, whatever the workshop's quotes do, so that what is
// paid is what stood on the list.
func saleTerms(w workshop.Workshop, now time.Time) (Terms, error) {
	rate, err := w.Figures.Tax.On(w.Figures.TaxCode, now)
	if err != nil {
		return Terms{}, err
	}
	regime, rate := w.Figures.Tax.For(tax.AsUsual, rate)
	regime.Rates, regime.GrossPrices = nil, true
	return Terms{Regime: regime, Rate: rate}, nil
}
