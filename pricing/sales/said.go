package sales

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Said is what the customer reads of an issued quote, in their language and as their document has it: it is read back
// and never said again. It is empty for quotes that were issued before it was kept.
type Said struct {
	Language string // ISO 639-1
	Made     []string
	Verdict  string
	Cautions []string
	Entries  []SaidEntry // from the pieces to the net price, which they add up to
	Sums     []SaidEntry // net and tax; without an amount, why none is charged
	Total    string      // with its currency
	Deposit  string
	Balance  string
	Ready    string // a sentence: the earliest finish
	Terms    []string
	Picture  string // the face, as SVG; empty where it is that of the workshop
}

// SaidEntry is an Entry in words.
type SaidEntry struct{ What, How, Amount string }

// Entry is one line of the price as a customer reads it. What the workshop's costs are stays inside.
type Entry struct {
	What, How string
	Amount    money.Amount
}

// Tongue is the customer's.
func (s Sheet) Tongue() words.Tongue { return s.Customer.tongue() }

func (c Customer) tongue() words.Tongue { return words.Speak(c.Language) }

// Entries lead from the pieces to the net price and add up to it by eye.
func (s Sheet) Entries() []Entry {
	t, p := s.Tongue(), s.Estimate.Price
	// The rush surcharge is inside UnitNet; here it has its own line.
	pieces := p.UnitNet.Times(p.Quantity).Sub(p.Rush)
	each := money.Round(pieces.Decimal().Div(decimal.NewFromInt(int64(p.Quantity))), pieces.Currency())
	list := []Entry{{s.Title, t.Say("%d × %s", p.Quantity, t.Money(each)), pieces}}
	share := func(d decimal.Decimal) string { return t.Percent(d.Shift(2)) }
	for _, l := range p.Lines {
		e := Entry{Amount: l.Amount}
		switch l.Key {
		case "rush":
			e.What = t.Say("Rush %s", share(p.RushShare))
			if by := s.Estimate.Shield.Spec.Delivery.By; !by.IsZero() {
				e.How = t.Say("by %s", t.Date(by))
			}
		case "minimum":
			e.What = t.Say("Up to the smallest charge")
		case "discount":
			e.What = t.Say("Discount %s", share(p.DiscountShare))
		case "fee":
			e.What = t.Say("Payment fee")
		case "rounding":
			e.What = t.Say("Rounded")
		default:
			continue
		}
		list = append(list, e)
	}
	return list
}

// Sums are net and tax, in front of the total. Where no tax is charged there is one line that says why.
func (s Sheet) Sums() []Entry {
	t, p := s.Tongue(), s.Estimate.Price
	if !s.Workshop.Figures.Tax.Registered {
		return []Entry{{What: t.Say("No tax is charged: the workshop is not registered for it.")}}
	}
	net := Entry{What: t.Say("Net"), Amount: p.Net}
	if p.Rate.Reason != "" {
		return []Entry{net, {What: t.Say("No tax is charged: %s.", t.Wording(p.Rate.Reason))}}
	}
	return []Entry{net, {What: t.Wording(p.Rate.Name) + " " + t.Percent(p.Rate.Percent), Amount: p.Tax}}
}

// Said is the sheet in words.
func (s Sheet) Said() Said {
	t, p := s.Tongue(), s.Estimate.Price
	in := func(list []Entry) (all []SaidEntry) {
		for _, e := range list {
			amount := ""
			if e.Amount.Currency() != "" {
				amount = t.Money(e.Amount)
			}
			all = append(all, SaidEntry{e.What, e.How, amount})
		}
		return all
	}
	said := Said{
		Language: t.Code(), Made: s.Made, Verdict: Judged(t, s.Estimate.Verdict), Cautions: s.Cautions, Terms: s.Workshop.TermsIn(t.Code()),
		Entries: in(s.Entries()), Sums: in(s.Sums()), Total: t.Price(p.Gross), Deposit: t.Price(p.Deposit), Balance: t.Price(p.Balance),
	}
	if out := s.Estimate.Outlook; !out.Ready.IsZero() {
		said.Ready = t.Say("On an empty bench, begun on %s, it is ready by %s.", t.Date(out.Start), t.Date(out.Ready))
	}
	return said
}
