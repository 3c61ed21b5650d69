package web

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/stock"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

// How many days ahead Today looks at deposits and at the bench; common practice, no source.
const (
	depositsAhead = 3
	benchAhead    = 7
	benchDays     = 2 // with work, that are listed
)

// todayPage is what wants looking at.
type todayPage struct {
	stock.Today
	Buy      []stock.ToBuy // late first, then by the day to order by
	Old      []oldOffcuts
	Nobody   []stock.Want
	Deposits []sales.Order
	Late     []sales.Debtor  // who owes more than they should by now, the longest first
	Bench    []benchDay      // the next days on which anything is done
	Past     []sales.OnBench // were planned to be ready by now
	Damp     []sales.OnBench // get latex soon, in air that is damp
	Learned  int             // steps that logged jobs have a new time for, once a month
	Mail     mailBox         // that was refused, or waits for longer than it should
	News     []sales.News    // from customers' pages
	Prices   bool
	Owner    bool
	First    []menuPlace // what a new workshop writes down before its first quote

	Enquiries []sales.Enquiry // new ones
	Repairs   []sales.Repair  // that wait for somebody to look at them, or to be given back
	Turn      *sales.Turn     // on the waiting list
}

// Clear tells that the day is.
func (d todayPage) Clear() bool {
	return len(d.Enquiries)+len(d.First) == 0 && d.Turn == nil && len(d.Skinning)+len(d.Offcuts)+len(d.Expected)+len(d.Buy)+len(d.Nobody)+len(d.Deposits)+len(d.Late)+len(d.Bench)+len(d.Mail.Mails)+len(d.News)+len(d.Past)+len(d.Damp)+len(d.Repairs)+d.Learned == 0
}

// Over tells that a lot's day is over.
func (d todayPage) Over(m stock.Mind) bool { return m.Late(today()) }

// LateBills are the invoices of who owes that are past their day.
func (d todayPage) LateBills(of sales.Debtor) []sales.Owed {
	return slices.DeleteFunc(slices.Clone(of.Bills), func(b sales.Owed) bool { return !b.Late(today()) })
}

// LateDeposit tells that what was held for an order is free again.
func (d todayPage) LateDeposit(o sales.Order) bool { return o.DepositDue.Before(today()) }

// Named is what a lot goes by.
func (d todayPage) Named(m stock.Mind) string { return lotName(m.Lot) }

func (p *Pages) today(c *fiber.Ctx) error {
	ctx := c.UserContext()
	looked, err := p.shelf.Today(ctx)
	if err != nil {
		return err
	}
	list, nobody, err := p.shelf.ToBuy(ctx)
	if err != nil {
		return err
	}
	orders, err := p.sales.Orders(ctx, sales.Found{Open: true})
	if err != nil {
		return err
	}
	data := todayPage{Today: looked, Buy: soonest(list), Old: byFoam(looked.Offcuts), Nobody: nobody, Prices: sees(c), Owner: owner(c)}
	if data.Prices {
		if data.Mail, err = p.mailToday(c); err != nil {
			return err
		}
		owing, err := p.sales.Owing(ctx)
		if err != nil {
			return err
		}
		data.Late = slices.DeleteFunc(owing.Debtors, func(d sales.Debtor) bool { return d.Late().Sign() <= 0 })
	}
	if data.Owner {
		if err := p.asking(ctx, &data); err != nil {
			return err
		}
		if data.Repairs, err = p.sales.Repairs(ctx, sales.RepairFound{}); err != nil {
			return err
		}
		if data.News, err = p.sales.News(ctx); err != nil {
			return err
		}
		if data.Learned, err = p.sales.Newly(ctx); err != nil {
			return err
		}
	}
	for _, o := range orders {
		switch {
		case o.State == sales.Accepted && !o.DepositDue.After(today().AddDate(0, 0, depositsAhead)):
			data.Deposits = append(data.Deposits, o)
		}
	}
	slices.SortStableFunc(data.Deposits, func(a, b sales.Order) int { return a.DepositDue.Compare(b.DepositDue) })
	if err := p.ahead(ctx, &data, wallClock()); err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "today", "Today", "today", data)
}

// asking is who asks anew, and whose turn it is.
func (p *Pages) asking(ctx context.Context, d *todayPage) error {
	open, err := p.sales.Enquiries(ctx, sales.EnquiryFound{Open: true})
	if err != nil {
		return err
	}
	for _, e := range open {
		if e.State == sales.EnquiryNew {
			d.Enquiries = append(d.Enquiries, e)
		}
	}
	quotes, err := p.sales.Quotes(ctx, sales.Found{Most: 1})
	if err != nil {
		return err
	}
	if len(quotes) == 0 {
		d.First = firstPlaces()
	}
	turn, free, err := p.sales.Next(ctx)
	if free {
		d.Turn = &turn
	}
	return err
}

// firstPlaces are where a new workshop says what no program can know.
func firstPlaces() []menuPlace {
	return []menuPlace{
		{Name: "Name, address and currency", Address: "/workshop"}, {Name: "What an hour at the bench has to bring in", Address: "/workshop/rate"},
		{Name: "What packs cost where you buy", Address: "/stock/items"}, {Name: "Size rules of the games you make for", Address: "/workshop/rules"},
		{Name: "Hours, people and formers", Address: "/workshop/bench"}, {Name: "Tax, and where you are paid", Address: "/workshop/invoices"}, {Name: "Who else works here", Address: "/workshop/people"},
	}
}

// ahead is the bench of the next days, by its slots.
func (p *Pages) ahead(ctx context.Context, data *todayPage, now time.Time) error {
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	all, err := p.sales.Ahead(ctx)
	if err != nil {
		return err
	}
	soon := now.AddDate(0, 0, benchAhead)
	var rows []daysRow
	for _, o := range all {
		rows = append(rows, daysRow{OnBench: o})
		if len(o.Plan.Slots) > 0 && o.Plan.Ready.Before(now) {
			data.Past = append(data.Past, o)
		}
		if len(o.Damp) > 0 && slices.ContainsFunc(o.Plan.Slots, func(s schedule.Slot) bool {
			return strings.HasPrefix(s.Task.Code, "latex") && s.End.After(now) && s.Start.Before(soon)
		}) {
			data.Damp = append(data.Damp, o)
		}
	}
	for _, day := range dayByDay(w.Figures.Calendar, rows, now) {
		if day.Day.Before(soon) && len(data.Bench) < benchDays {
			data.Bench = append(data.Bench, day)
		}
	}
	return nil
}

// soonest are suppliers to order from, the first day to order by at the top and those without hurry last.
func soonest(list []stock.ToBuy) []stock.ToBuy {
	hurry := func(b stock.ToBuy) int {
		if b.By.IsZero() {
			return 1
		}
		return 0
	}
	return slices.SortedStableFunc(slices.Values(list), func(a, b stock.ToBuy) int {
		return cmp.Or(hurry(a)-hurry(b), a.By.Compare(b.By))
	})
}

// oldOffcuts are those of one foam that lay too long.
type oldOffcuts struct {
	Name   string
	Pieces int
	Since  time.Time
}

func byFoam(offcuts []stock.Mind) (all []oldOffcuts) {
	for _, m := range offcuts {
		if n := len(all); n > 0 && all[n-1].Name == m.Item.Name {
			all[n-1].Pieces++
			continue
		}
		all = append(all, oldOffcuts{m.Item.Name, 1, m.Lot.Received})
	}
	return all
}
