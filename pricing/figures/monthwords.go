package figures

import (
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/plot"
	"foamwright/pricing/words"
)

// hours writes them as people read them, "12.5 h".
func hours(d decimal.Decimal) string { return signedText(d.StringFixed(1)) + "\u00a0h" }

func signedText(s string) string {
	if len(s) > 0 && s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// EvenWords is the break-even of the month in words.
func (p MonthPage) EvenWords() (said []string) {
	e, no := p.Even, money.Sum(p.Fixed.Currency())
	if p.Fixed.Sign() == 0 {
		return []string{"There are no fixed costs in the settings, so every month breaks even with the first hour that brings anything."}
	}
	if !e.Reachable() {
		return []string{fmt.Sprintf("Fixed costs are %s a month. The jobs done in the twelve months until now left nothing for them, so there is no number of hours at which the month breaks even.", words.Price(p.Fixed))}
	}
	said = append(said, fmt.Sprintf("Fixed costs are %s a month. Jobs done from %s to %s left %s of each hour besides material, bought in and fees, and %s of each net %s. So the month breaks even with %s sold, or %s net.",
		words.Price(p.Fixed), p.EvenFrom.Words(), p.Words(), words.Price(money.Round(e.Each(), p.Fixed.Currency())), e.Ratio().StringFixed(2), "1.00", hours(e.Needed(no)), words.Price(e.NetNeeded(no))))
	sold := "Sold were"
	if !p.Over(p.Now) {
		sold = "Sold so far are"
	}
	switch over := p.Sold.Sub(e.Needed(no)); {
	case over.IsNegative():
		said = append(said, fmt.Sprintf("%s %s: %s are missing.", sold, hours(p.Sold), hours(over.Neg())))
	default:
		said = append(said, fmt.Sprintf("%s %s: %s above it, worth %s.", sold, hours(p.Sold), hours(over), words.Price(e.Profit(p.Sold))))
	}
	if p.Profit.Sign() > 0 {
		said = append(said, fmt.Sprintf("For %s besides, sell %s, or %s net.", words.Price(p.Profit), hours(e.Needed(p.Profit)), words.Price(e.NetNeeded(p.Profit))))
	}
	return said
}

// OverheadWords is how the hours of the month carried the fixed costs, in words: what was under- or over-applied of them
// is told of a month that is over.
func (p MonthPage) OverheadWords() []string {
	o := p.Overhead()
	if p.Fixed.Sign() == 0 || p.There.IsZero() {
		return nil
	}
	worked, sold := o.Applied(p.Worked()), o.Applied(p.Sold)
	said := []string{fmt.Sprintf("Spread over the %s that were there, an hour carries %s of the fixed costs. The %s sold carry %s; the %s worked carried %s.",
		hours(p.There), words.Price(money.Round(o.Rate(), p.Fixed.Currency())), hours(p.Sold), words.Price(sold), hours(p.Worked()), words.Price(worked))}
	if !p.Over(p.Now) {
		return said
	}
	switch over := o.Over(worked, p.Fixed); over.Sign() {
	case -1:
		said = append(said, fmt.Sprintf("%s of the fixed costs were paid for hours that nobody worked.", words.Price(over.Neg())))
	case 1:
		said = append(said, fmt.Sprintf("More was worked than the calendar has: those hours carried %s of the fixed costs besides.", words.Price(over)))
	}
	return said
}

// Verdict is whether the month paid, in a sentence: what was left after everything, and what an hour earned beside what
// the same jobs were to earn.
func (p MonthPage) Verdict() string {
	e := p.Earnings()
	switch so := "so far "; {
	case p.First.After(p.Now):
		return "The month has not begun."
	case p.Ended.Done+p.Ended.Dropped == 0 && !p.Over(p.Now):
		return "No job has ended in the month yet, so it cannot be told what an hour earns."
	case p.Ended.Done+p.Ended.Dropped == 0:
		return "No job ended in the month, so nothing was earned in it."
	default:
		if p.Over(p.Now) {
			so = ""
		}
		left := fmt.Sprintf("The jobs that ended %sleft %s after everything", so, words.Price(e.Left()))
		if e.Left().Sign() < 0 {
			left = fmt.Sprintf("The jobs that ended %sfell %s short of what was paid for", so, words.Price(e.Left().Neg()))
		}
		if !e.Known() {
			return left + "."
		}
		left += fmt.Sprintf(": %s an hour at the bench", words.Price(e.PerHour()))
		if p.Ended.Done > 0 {
			left += fmt.Sprintf(", where %s were planned", words.Price(p.Reckoned()))
		}
		return left + "."
	}
}

// MoneyChart is what was ordered, invoiced and paid by month.
func MoneyChart(all []Month) plot.Chart {
	c := plot.Chart{Title: "Ordered, invoiced and paid", Unit: whole, Series: []plot.Series{{Name: "ordered, net"}, {Name: "invoiced, net"}, {Name: "paid, with tax"}}}
	if len(all) > 0 {
		t := Total(all)
		c.Title += ", " + string(t.Fixed.Currency())
		c.Words = fmt.Sprintf("From %s to %s: ordered %s, invoiced %s, paid %s.", all[0].Words(), all[len(all)-1].Words(), words.Money(t.Ordered.Amount), words.Money(t.Invoiced.Amount), words.Price(t.Paid.Amount))
	}
	for _, m := range all {
		for i, a := range []money.Amount{m.Ordered.Amount, m.Invoiced.Amount, m.Paid.Amount} {
			c.Series[i].Points = append(c.Series[i].Points, plot.Point{Label: m.First.Format("Jan 06"), Value: a.Decimal()})
		}
	}
	return c
}

// HoursChart is what was there, sold and worked by month.
func HoursChart(all []Month) plot.Chart {
	c := plot.Chart{Title: "Hours at the bench: there, sold and worked", Unit: whole, Series: []plot.Series{{Name: "there"}, {Name: "sold"}, {Name: "worked"}}}
	if len(all) > 0 {
		t := Total(all)
		c.Words = fmt.Sprintf("From %s to %s: %s there, %s sold, %s worked.", all[0].Words(), all[len(all)-1].Words(), hours(t.There), hours(t.Sold), hours(t.Worked()))
	}
	for _, m := range all {
		for i, h := range []decimal.Decimal{m.There, m.Sold, m.Worked()} {
			c.Series[i].Points = append(c.Series[i].Points, plot.Point{Label: m.First.Format("Jan 06"), Value: h})
		}
	}
	return c
}

// whole writes a value without places: on an axis cents say nothing.
func whole(d decimal.Decimal) string { return signedText(d.Round(0).String()) }
