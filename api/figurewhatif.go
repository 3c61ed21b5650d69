package api

import (
	"context"
	"strconv"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"

	"github.com/shopspring/decimal"
)

// move is what if: what is left out moves nothing.
type move struct {
	Foam      string `query:"foam" doc:"percent on the price of every foam, 12 for +12 %"`
	Materials string `query:"materials" doc:"percent on the price of everything else"`
	Item      string `query:"item" doc:"code of one item"`
	ItemBy    string `query:"item_by" doc:"percent on its price, instead of the above"`
	Rate      string `query:"rate" doc:"new shop rate"`
	Group     string `query:"group" doc:"of steps; all of them where it is left out"`
	HoursBy   string `query:"hours_by" doc:"percent on their hours"`
	Coats     string `query:"coats" doc:"coats more, -2 for two fewer"`
	Margin    string `query:"margin" doc:"percent of the price that is aimed at"`
}

// OnOffer is a design or an open quote.
type OnOffer struct {
	Kind     string  `json:"kind" enum:"design,draft,quote" doc:"a quote stands as it was issued; a draft has no price yet that anybody was promised"`
	ID       string  `json:"id" format:"uuid"`
	Number   *Number `json:"number,omitempty"`
	Version  int     `json:"version"`
	Name     string  `json:"name"`
	Customer string  `json:"customer_name,omitempty"`
	Net      string  `json:"net" doc:"of a quote as it was issued, else at today's figures"`
	Price    string  `json:"price" doc:"the same with tax"`
}

// Shifted is what a move does to one of them. Margins are fractions of the net price less the payment fee.
type Shifted struct {
	OnOffer
	CostNow   string `json:"cost_now"`
	CostThen  string `json:"cost_then"`
	Margin    string `json:"margin_now"`
	Held      string `json:"margin_then" doc:"when the price stays"`
	Below     bool   `json:"below" doc:"of the margin aimed at"`
	NetThen   string `json:"restoring_net" doc:"the price that restores the margin aimed at, without tax"`
	PriceThen string `json:"restoring_price" doc:"the same with tax"`
	Draft     string `json:"draft,omitempty" format:"uuid" doc:"of its next version, where one is open"`
}

// NotWeighed is what could not be priced, and why.
type NotWeighed struct {
	Kind string `json:"kind" enum:"design,draft,quote"`
	ID   string `json:"id" format:"uuid"`
	Name string `json:"name"`
	Why  string `json:"why"`
}

// WhatIf is what a move does to all that is on offer; sums are over the quotes that stand.
type WhatIf struct {
	Currency  string       `json:"currency"`
	Target    string       `json:"margin_aimed_at" doc:"a fraction of the price"`
	Quotes    int          `json:"quotes"`
	Below     int          `json:"below"`
	Net       string       `json:"net"`
	Dearer    string       `json:"dearer" doc:"what they cost more when their prices stay"`
	Short     string       `json:"short" doc:"net price that is missing for the margin aimed at, of those below it"`
	All       []Shifted    `json:"all"`
	NotPriced []NotWeighed `json:"not_priced"`
}

type ofMonth struct {
	Month string `query:"month" doc:"2026-12; the month it is where it is left out"`
	By    string `query:"by" doc:"what is scarce: bench, former or drying; the bench where it is left out"`
}

// Capacity is how much there is of something scarce, in hours at the bench or days on a place.
type Capacity struct {
	Of      string `json:"of" enum:"bench,former,drying"`
	There   string `json:"there"`
	Booked  string `json:"booked" doc:"by orders, within the month, waits not counted as hours"`
	Awaited string `json:"awaited" doc:"by orders whose deposit is awaited"`
	Left    string `json:"left"`
	Wanted  string `json:"wanted" doc:"by all open quotes"`
}

// Candidate is what could be taken.
type Candidate struct {
	OnOffer
	Contribution string `json:"contribution" doc:"net price less fee, material, handling and what is bought in"`
	Hours        string `json:"hours"`
	Former       string `json:"former_days"`
	Drying       string `json:"drying_days"`
	Rate         string `json:"contribution_of_one" doc:"of an hour or a day of what is scarce; 0 where it takes none"`
	Fits         int    `json:"fits" doc:"of a quote 1 or 0; of a design how many what is left at last would hold"`
}

// ToTake is what to take in a month, what brings most for what is scarce first.
type ToTake struct {
	From      string       `json:"from" format:"date" doc:"the first day that is still there for new orders"`
	To        string       `json:"to" format:"date" doc:"the first day after"`
	Scarce    string       `json:"scarce" enum:"bench,former,drying"`
	Tightest  string       `json:"tightest" enum:"bench,former,drying" doc:"what most is wanted of, by what is left"`
	Capacity  []Capacity   `json:"capacity"`
	Quotes    []Candidate  `json:"quotes"`
	Designs   []Candidate  `json:"designs"`
	LeftAfter string       `json:"left_after"`
	NotPriced []NotWeighed `json:"not_priced"`
}

// read makes a move of what was asked; the fault names every entry that is no number.
func (m move) read() (out figures.Move, err error) {
	out.Item, out.Group = m.Item, m.Group
	var l fault.List
	for _, e := range []struct {
		field, text string
		to          *decimal.Decimal
	}{{"foam", m.Foam, &out.Foam}, {"materials", m.Materials, &out.Materials}, {"item_by", m.ItemBy, &out.ItemBy}, {"rate", m.Rate, &out.Rate}, {"hours_by", m.HoursBy, &out.HoursBy}, {"margin", m.Margin, &out.Margin}} {
		if e.text == "" {
			continue
		}
		n, err := decimal.NewFromString(e.text)
		if err != nil || len(e.text) > 16 || strings.ContainsAny(e.text, "eE") {
			l.Add(e.field, e.text, "Write a number, for example 2.5.")
			continue
		}
		*e.to = n
	}
	if m.Coats != "" {
		if out.Coats, err = strconv.Atoi(m.Coats); err != nil {
			l.Add("coats", m.Coats, "Write a whole number, for example -2.")
		}
	}
	return out, l.Err()
}

func onOfferOf(s figures.Shifted) OnOffer {
	out := OnOffer{Kind: string(s.Kind), ID: s.Was.ID, Version: s.Was.Version, Name: s.Was.Name, Customer: s.Quote.Customer, Net: s.Was.Net.String(), Price: s.Was.Price.String()}
	if s.Kind != figures.ADesign {
		out.Version = s.Quote.Version
	}
	if s.Quote.Number.No != 0 {
		n := numberOf(s.Quote.Number)
		out.Number = &n
	}
	return out
}

func notPriced(u figures.Unpriced) NotWeighed { return NotWeighed{string(u.Kind), u.ID, u.Name, u.Why} }

func candidateOf(c figures.Candidate) Candidate {
	w := c.Was
	return Candidate{onOfferOf(c.Shifted), w.Contribution().String(), w.Hours.StringFixed(2), w.Former.StringFixed(2), w.Drying.StringFixed(2), c.Rate.String(), c.Fits}
}

func (f *face) whatIf() {
	operation(f, op("GET /figures/what-if", "what-if", "What a price, a rate or a way of making does to all that is on offer", invalid, unavailable).also(people.Bookkeeper).
		saying("Every design and every open quote, before and after something moves; with nothing moved, quotes are held against today's prices. Nothing is changed. It may take some seconds."),
		func(ctx context.Context, in *move) (*answer[WhatIf], error) {
			m, err := in.read()
			if err != nil {
				return nil, err
			}
			e, err := f.Figures.WhatIf(ctx, m, func(int, int) {})
			if err != nil {
				return nil, err
			}
			return &answer[WhatIf]{WhatIf{
				string(e.Net.Currency()), e.Target.Share.String(), e.Quotes, e.Below, e.Net.String(), e.Dearer.String(), e.Short.String(),
				each(e.All, func(s figures.Shifted) Shifted {
					return Shifted{onOfferOf(s), s.Was.Cost().String(), s.Now.Cost().String(), s.Before.Share.StringFixed(4), s.Held.Share.StringFixed(4), s.Below, s.Now.Net.String(), s.Now.Price.String(), s.Newer}
				}), each(e.Skipped, notPriced),
			}}, nil
		})
	operation(f, op("GET /figures/take", "what-to-take", "What to take in a month when there is not time for all", invalid, unavailable).also(people.Bookkeeper),
		func(ctx context.Context, in *ofMonth) (*answer[ToTake], error) {
			var l fault.List
			text := in.Month
			if text == "" {
				text = f.Sales.Now().Format("2006-01")
			}
			month, err := time.Parse("2006-01", text)
			if err != nil || month.Year() < 2000 || month.Year() > 2200 {
				l.Add("month", in.Month, "Write a month, for example 2026-12.")
			}
			scarce := figures.Scarce(in.By)
			switch scarce {
			case "":
				scarce = figures.BenchHours
			case figures.BenchHours, figures.FormerDays, figures.DryingDays:
			default:
				l.Add("by", in.By, "Write bench, former or drying.")
			}
			if err := l.Err(); err != nil {
				return nil, err
			}
			t, err := f.Figures.Take(ctx, month, scarce)
			if err != nil {
				return nil, err
			}
			out := ToTake{From: dateOf(t.From), To: dateOf(t.To), Scarce: string(t.Scarce), Tightest: string(t.Tightest), Quotes: each(t.Quotes, candidateOf), Designs: each(t.Designs, candidateOf), LeftAfter: t.LeftAfter.StringFixed(2), NotPriced: each(t.Skipped, notPriced)}
			for _, s := range figures.Scarces() {
				c := t.Capacity[s]
				out.Capacity = append(out.Capacity, Capacity{string(s), c.There.StringFixed(2), c.Booked.StringFixed(2), c.Awaited.StringFixed(2), c.Left().StringFixed(2), c.Wanted.StringFixed(2)})
			}
			return &answer[ToTake]{out}, nil
		})
}
