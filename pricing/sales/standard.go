package sales

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// StandardPrice is what a standard design costs from a day on, with tax: what is asked at a show. Off takes it off the
// list from that day.
type StandardPrice struct {
	DesignID string
	From     time.Time
	Price    money.Amount
	Off      bool
	By       string
	At       time.Time
}

// StandardTx is standard designs and the finished shields that lie ready, within one transaction.
type StandardTx interface {
	StandardPrices(ctx context.Context) ([]StandardPrice, error)  // by design, then oldest first
	KeepStandardPrice(ctx context.Context, p StandardPrice) error // of its day, new or changed
	Ready(ctx context.Context, gone bool) ([]Ready, error)        // by design and when they came; those that left instead, the newest first
	LockReady(ctx context.Context, id string) (Ready, error)
	AddReady(ctx context.Context, r Ready) error
	SaveReady(ctx context.Context, r Ready) error // one that is still here
}

// Listed is one design of the price list.
type Listed struct {
	Design  Design
	Size    string // a sentence: its shape and size
	Picture string // the face, as SVG; empty where it could not be drawn
	Price   money.Amount
	Since   time.Time
	Next    *StandardPrice // that is known already
	Here    int            // finished ones that lie ready
}

// PriceList are the standard designs with their prices of a day, by name.
type PriceList struct {
	Day  time.Time
	From time.Time // the last change before it: it is valid from then
	List []Listed
}

// on is what stands on the list on a day, and what comes next; prices are those of one design, oldest first.
func on(prices []StandardPrice, day time.Time) (now, next *StandardPrice) {
	for i, p := range prices {
		if p.From.After(day) {
			return now, &prices[i]
		}
		now = &prices[i]
	}
	return now, nil
}

// PriceList is the list as it is valid on a day, in a tongue.
func (s *Service) PriceList(ctx context.Context, day time.Time, t words.Tongue) (PriceList, error) {
	return read(ctx, s, func(tx Tx) (PriceList, error) { return s.priceList(ctx, tx, day, t) })
}

func (s *Service) priceList(ctx context.Context, tx Tx, day time.Time, t words.Tongue) (l PriceList, err error) {
	l.Day = stock.Day(day)
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return l, err
	}
	prices, err := tx.StandardPrices(ctx)
	if err != nil {
		return l, err
	}
	here, err := tx.Ready(ctx, false)
	if err != nil {
		return l, err
	}
	designs, err := tx.Designs(ctx)
	if err != nil {
		return l, err
	}
	for _, d := range designs {
		mine := slices.DeleteFunc(slices.Clone(prices), func(p StandardPrice) bool { return p.DesignID != d.ID })
		now, next := on(mine, l.Day)
		if now != nil && now.From.After(l.From) {
			l.From = now.From
		}
		if now == nil || now.Off {
			continue
		}
		e := Listed{Design: d, Price: now.Price, Since: now.From, Next: next}
		for _, r := range here {
			if r.DesignID == d.ID {
				e.Here++
			}
		}
		if made, err := onePiece(d, w); err == nil {
			e.Size, e.Picture = shape(t, made), s.render.Picture(faceOf(w, made, t))
		}
		l.List = append(l.List, e)
	}
	return l, nil
}

// onePiece is one piece of a design, worked out with the figures of the day.
func onePiece(d Design, w workshop.Workshop) (shield.Shield, error) {
	spec, err := d.Form.Spec()
	if err != nil {
		return shield.Shield{}, err
	}
	spec.Quantity = 1
	return shield.Make(spec, w.Figures.Catalogue, w.Figures.Bench)
}

func faceOf(w workshop.Workshop, made shield.Shield, t words.Tongue) (sheet Sheet) {
	sheet.Workshop.Figures, sheet.Customer.Language, sheet.Estimate.Shield = w.Figures, t.Code(), made
	return sheet
}

// Standards are all prices of a design, oldest first.
func (s *Service) Standards(ctx context.Context, design string) ([]StandardPrice, error) {
	return read(ctx, s, func(tx Tx) ([]StandardPrice, error) {
		all, err := tx.StandardPrices(ctx)
		return slices.DeleteFunc(all, func(p StandardPrice) bool { return p.DesignID != design }), err
	})
}

// SetStandard puts a design on the price list from a day on, or takes it off with a price of 0. What was valid before today
// stays as it was.
func (s *Service) SetStandard(ctx context.Context, design string, from time.Time, price decimal.Decimal, by string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return err
		}
		d, err := tx.Design(ctx, design)
		if err != nil {
			return err
		}
		if from.IsZero() {
			from = s.now()
		}
		p := StandardPrice{DesignID: d.ID, From: stock.Day(from), Off: price.IsZero(), By: by, At: s.now()}
		var l fault.List
		switch p.Price, err = money.New(price, w.Figures.Rates.Currency); {
		case err != nil:
			_ = l.Take("price", err) // always a fault
		case price.IsNegative() || price.GreaterThan(decimal.NewFromInt(mostPaid)):
			l.Add("price", price.String(), fmt.Sprintf("Write a price with tax up to %d, or 0 to take it off the list.", mostPaid))
		}
		if p.From.Before(stock.Day(s.now())) {
			l.Add("from", iso(p.From), "Prices of days that are over stay as they were. Write today or a later day.")
		}
		if p.From.After(s.now().AddDate(5, 0, 0)) {
			l.Add("from", iso(p.From), "That is more than five years ahead. Write an earlier day.")
		}
		if err := l.Err(); err != nil {
			return err
		}
		if !p.Off {
			if _, err := onePiece(d, w); err != nil {
				return fault.New(fault.State, "%s cannot be made as it is written. Put its spec right first, then give it a price.", d.Name).Because(err)
			}
		}
		return tx.KeepStandardPrice(ctx, p)
	})
}

// PrintPriceList prints the list of a day in a language.
func (s *Service) PrintPriceList(ctx context.Context, day time.Time, t words.Tongue) (Document, error) {
	return read(ctx, s, func(tx Tx) (Document, error) {
		list, err := s.priceList(ctx, tx, day, t)
		if err != nil {
			return Document{}, err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Document{}, err
		}
		return s.letter(ctx, list.letter(Letter{Head: w.Head, Tongue: t, Date: stock.Day(Wall(s.now()))}, w.Figures.Tax))
	})
}

func (p PriceList) letter(l Letter, regime tax.Regime) Letter {
	t := l.Tongue
	l.Name, l.File = t.Say("Price list"), "price-list-"+iso(p.Day)
	l.Facts = []LetterFact{{t.Say("Valid from"), t.Date(p.From)}}
	if p.From.IsZero() {
		l.Facts = nil
	}
	part := LetterPart{Name: t.Say("Standard shields")}
	for _, e := range p.List {
		row := LetterRow{What: e.Design.Name, Amount: t.Price(e.Price)}
		if e.Size != "" {
			row.What += "\n" + e.Size
		}
		part.Rows = append(part.Rows, row)
	}
	if len(part.Rows) == 0 {
		part.Words = []string{t.Say("Nothing is on the list at the moment.")}
	}
	note := []string{t.Say("Prices are for one piece, as it is described here, and include tax.")}
	if !regime.Registered {
		note = []string{t.Say("Prices are for one piece, as it is described here."), t.Say("No tax is charged: the workshop is not registered for it.")}
	}
	note = append(note, t.Say("What is made to your own wishes has a price of its own: ask us."), t.Say("The event's own check decides whether and how it may be used."))
	l.Parts = []LetterPart{part, {Name: t.Say("Please note"), Words: note}}
	return l
}

// Lies tells how many lie ready.
func (l Listed) Lies() string {
	if l.Here == 0 {
		return "none ready"
	}
	return fmt.Sprint(l.Here, " ready")
}
