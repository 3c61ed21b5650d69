package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/plot"
	"foamwright/pricing/words"
)

// batchPage is a design by number.
type batchPage struct {
	typing
	figures.Batches
	wrong map[string]string
}

// Entry is the price of one that is asked about.
func (d batchPage) Entry() entry {
	value := d.Each.String()
	if d.wrong["each"] != "" {
		value = d.v.Get("each")
	}
	return entry{Name: "each", Label: "Price of one, with tax", Value: value, Problem: d.wrong["each"], ID: "each"}
}

// Asked tells that a price was typed.
func (d batchPage) Asked() bool { return d.v.Get("each") != "" && d.wrong["each"] == "" }

// Query keeps the price in an address.
func (d batchPage) Query() string {
	if typed := d.v.Get("each"); typed != "" {
		return "?" + url.Values{"each": {typed}}.Encode()
	}
	return ""
}

// Plot are price and cost of one by the number of them, and what the next one costs.
func (d batchPage) Plot() plot.Chart {
	price, cost, next := plot.Series{Name: "net price of one"}, plot.Series{Name: "cost of one"}, plot.Series{Name: "cost of the next one"}
	for _, b := range d.All {
		if b.Why != "" {
			continue
		}
		at := decimal.NewFromInt(int64(b.Quantity))
		price.Points = append(price.Points, plot.Point{At: at, Value: b.NetEach().Decimal()})
		cost.Points = append(cost.Points, plot.Point{At: at, Value: b.CostEach().Decimal()})
		next.Points = append(next.Points, plot.Point{At: at, Value: b.AddsEach().Decimal()})
	}
	return plot.Chart{
		Title: "Price and cost of one piece, by how many are ordered together", Words: d.Smallest() + " " + d.Shared(), Names: [2]string{"pieces in the order", "each, " + string(d.Each.Currency())}, Series: []plot.Series{price, cost, next},
		Unit: func(v decimal.Decimal) string { return v.StringFixed(0) }, Along: func(v decimal.Decimal) string { return v.String() },
	}
}

// Smallest says which orders pay at the price that is asked about.
func (d batchPage) Smallest() string {
	at := "At " + words.Price(d.Each) + " each"
	last := d.last()
	switch {
	case d.Covered == 0:
		return fmt.Sprintf("%s no order up to %d covers its cost.", at, last)
	case d.Covered == 1 && d.Keeps == 1:
		return fmt.Sprintf("%s an order of one covers its cost and keeps the %s that are aimed at%s.", at, d.Aimed.Percent(), d.but())
	case d.Keeps == 0:
		return fmt.Sprintf("%s the smallest order that covers its cost is %s%s; none up to %d keeps the %s that are aimed at.", at, pieces(d.Covered), d.but(), last, d.Aimed.Percent())
	}
	return fmt.Sprintf("%s the smallest order that covers its cost is %s%s; the smallest that keeps the %s that are aimed at is %s.", at, pieces(d.Covered), d.but(), d.Aimed.Percent(), pieces(d.Keeps))
}

// but names larger orders that do not pay.
func (d batchPage) but() string {
	if len(d.Again) == 0 {
		return ""
	}
	var all []string
	for _, n := range d.Again {
		all = append(all, strconv.Itoa(n))
	}
	return ", but not " + strings.Join(all, ", ")
}

func (d batchPage) last() (n int) {
	for _, b := range d.All {
		if b.Why == "" {
			n = b.Quantity
		}
	}
	return n
}

// Shared says how much of one is set-up.
func (d batchPage) Shared() string {
	return fmt.Sprintf("Of the %s hours that one takes, %s are set-up that an order has once, %s of them.", d.OfOne.StringFixed(2), d.SetUp.StringFixed(2), figures.Margin{Share: d.SetUpShare()}.Percent())
}

func pieces(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return fmt.Sprintf("%d pieces", n)
}

func (p *Pages) batches(c *fiber.Ctx) (d batchPage, err error) {
	d.v = url.Values{"each": {visible([]byte(c.Query("each")))}}
	var each *money.Amount
	if strings.TrimSpace(d.v.Get("each")) != "" {
		w, err := p.sales.Workshop(c.UserContext())
		if err != nil {
			return d, err
		}
		typed := d.number("each")
		a, err := money.New(typed, w.Figures.Rates.Currency)
		if d.problems.Empty() {
			if err := d.under("each", err); err != nil {
				return d, err
			}
			if typed.IsNegative() || typed.GreaterThan(decimal.NewFromInt(1_000_000)) {
				d.problems.Add("each", d.v.Get("each"), "Write a price from 0 to 1 000 000.")
			}
			each = &a
		}
	}
	if d.wrong = d.byField(); len(d.wrong) > 0 {
		each = nil
	}
	d.Batches, err = p.figures.Batches(c.UserContext(), c.Params("id"), each)
	return d, err
}

func (p *Pages) batch(c *fiber.Ctx) error {
	d, err := p.batches(c)
	if err != nil {
		return err
	}
	return p.render(c, statusOf(d.wrong), "figures-batch", d.Design.Name+", one or many", "figures", d)
}

func (p *Pages) batchCSV(c *fiber.Ctx) error {
	d, err := p.batches(c)
	if err == nil && len(d.wrong) > 0 {
		err = d.problems.Err()
	}
	if err != nil {
		return err
	}
	var rows [][]string
	for _, b := range d.All {
		if b.Why != "" {
			rows = append(rows, []string{strconv.Itoa(b.Quantity), "", "", "", "", "", "", "", "", "", stock.Guarded(b.Why)})
			continue
		}
		rows = append(rows, []string{strconv.Itoa(b.Quantity), b.Price.String(), b.Net.String(), b.NetEach().String(), b.Cost().String(), b.CostEach().String(), b.AddsEach().String(), b.Hours.StringFixed(2),
			b.At.Earned().String(), b.At.Margin().Share.StringFixed(4), ""})
	}
	return sendTable(c, "batch.csv", []string{"pieces", "price", "net", "net_each", "cost", "cost_each", "next_costs", "hours", "left_at_" + d.Each.String() + "_each", "margin_at_it", "why_not"}, rows)
}
