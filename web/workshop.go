package web

import (
	"net/url"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// figure is one editable number of the workshop with the range of common practice beside it.
type figure struct {
	Name, Label, Unit, Range string
	Value, Problem           string
	get                      func(*pricing.Rates) *decimal.Decimal
	percent                  bool
}

// rateFigures are the rates in the order the price is made.
func rateFigures() []figure {
	return []figure{
		{Name: "hour", Label: "Shop rate", Unit: "an hour", Range: "all costs of a year ÷ billable hours", get: func(r *pricing.Rates) *decimal.Decimal { return &r.Hour }},
		{Name: "allowance", Label: "Rest and delay", Unit: "%", Range: "usually 15", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Allowance }},
		{Name: "handling", Label: "Handling of material", Unit: "%", Range: "10 to 25", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Handling }},
		{Name: "offcut_share", Label: "A kept offcut is worth, of new", Unit: "%", Range: "usually 50", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.OffcutShare }},
		{Name: "contingency", Label: "Contingency", Unit: "%", Range: "5 to 25, usually 8", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Contingency }},
		{Name: "contingency_first", Label: "Contingency, made for the first time", Unit: "%", Range: "usually 15", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.ContingencyFirst }},
		{Name: "margin", Label: "Margin of the net price", Unit: "%", Range: "10 to 35", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Margin }},
		{Name: "minimum", Label: "Smallest charge, net", Range: "50 to 150", get: func(r *pricing.Rates) *decimal.Decimal { return &r.Minimum }},
		{Name: "step", Label: "Prices are rounded up to a multiple of", Range: "0 for none, 1 or 5", get: func(r *pricing.Rates) *decimal.Decimal { return &r.Step }},
		{Name: "fee_rate", Label: "Fee of a way to pay, of what is paid", Unit: "%", Range: "0, or 1 to 4 where the price carries it", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.FeeRate }},
		{Name: "fee_fixed", Label: "and for each payment", Range: "0 to 1", get: func(r *pricing.Rates) *decimal.Decimal { return &r.FeeFixed }},
		{Name: "learning.curve", Label: "Twice as many of a kind take, each", Unit: "%", Range: "of the time, usually 92; 100 for no gain", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Learning.Curve }},
		{Name: "learning.floor", Label: "and never less than", Unit: "%", Range: "of the first, usually 70", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Learning.Floor }},
		{Name: "deposit", Label: "Deposit", Unit: "%", Range: "30 to 60, usually 40", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.Deposit }},
		{Name: "deposit_heavy", Label: "Deposit where material is most of the cost", Unit: "%", Range: "usually 50", percent: true, get: func(r *pricing.Rates) *decimal.Decimal { return &r.DepositHeavy }},
	}
}

type workshopPage struct {
	Head                     workshop.Head
	Address, Terms           string
	Foreign                  []entry // the terms in other languages
	ValidDays, LeadDays, Tax string
	Registered               bool
	Figures                  []figure
	Currency                 string // as amounts are told in
	Code                     string // of the currency, as typed
	Problems                 map[string]string
	Kept                     bool

	rushes int        // that are typed
	typed  url.Values // what they are read from

	VolatileShare, VolatileDays, VolatileValid string // when a quote stands shorter

	DepositDays, ScrapDays, Costing, OrderCost, HoldingShare, RemindDays string
	FixedCosts                                                           string // a month
	Rounds, KeptBefore, WarrantyDays                                     string // of orders

	Edit string // count of the settings, as the form was shown with
}

func (p *Pages) workshop(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	data := pageOf(w)
	data.Kept = c.Query("kept") != ""
	return p.render(c, fiber.StatusOK, "workshop", "Workshop", "workshop", data)
}

func pageOf(w workshop.Workshop) workshopPage {
	r := w.Figures.Rates
	data := workshopPage{
		Head: w.Head, Address: strings.Join(w.Head.Address, "\n"), Terms: strings.Join(w.Terms, "\n\n"),
		ValidDays: strconv.Itoa(r.ValidDays), LeadDays: strconv.Itoa(r.LeadDays), Registered: w.Figures.Tax.Registered,
		DepositDays: strconv.Itoa(w.DepositDays), ScrapDays: strconv.Itoa(w.ScrapDays), Costing: string(w.Costing),
		RemindDays: strconv.Itoa(w.RemindDays), OrderCost: w.OrderCost.String(), HoldingShare: w.HoldingShare.Shift(2).String(), FixedCosts: w.FixedCosts.String(), Edit: strconv.Itoa(w.Edit),
		VolatileShare: w.Volatile.Share.Shift(2).String(), VolatileDays: strconv.Itoa(w.Volatile.Days), VolatileValid: strconv.Itoa(w.Volatile.Valid),
		Rounds: strconv.Itoa(w.Rounds), KeptBefore: w.KeptBefore.Shift(2).String(), WarrantyDays: strconv.Itoa(w.WarrantyDays),
		Figures: rateFigures(), Currency: string(r.Currency), Code: string(r.Currency), Problems: map[string]string{},
		rushes: len(r.Rush), typed: rushTyped(r.Rush),
	}
	for _, t := range words.Tongues()[1:] {
		data.Foreign = append(data.Foreign, entry{Name: "terms." + t.Code(), Label: "Terms in " + t.Name() + "; empty for those above", Value: strings.Join(w.Foreign[t.Code()], "\n\n"), ID: id("terms." + t.Code())})
	}
	if rates := w.Figures.Tax.Rates; len(rates) > 0 {
		data.Tax = rates[0].Percent.String()
	}
	for i := range data.Figures {
		f := &data.Figures[i]
		v := *f.get(&r)
		if f.percent {
			v = v.Shift(2)
		}
		f.Value = v.String()
	}
	return data
}

// editWorkshop keeps the settings; what cannot be kept comes back as typed, with what to change beside it.
func (p *Pages) editWorkshop(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	v := values(c)
	r, answer := settings{v: v, page: pageOf(w)}, fiber.StatusUnprocessableEntity
	r.read(&w)
	if r.problems.Empty() {
		err := p.sales.SetWorkshop(c.UserContext(), w, by(c))
		if err == nil {
			return c.Redirect("/workshop?kept=1", fiber.StatusSeeOther)
		}
		if kind := fault.KindOf(err); kind != fault.Invalid && kind != fault.Conflict {
			return err
		}
		answer = problem.Status(err)
		_ = r.problems.Take("", err) // it is always a fault
	}
	byField, err := problemsOf(r.problems.Err())
	if err != nil {
		return err
	}
	r.page.show(byField)
	return p.render(c, answer, "workshop", "Workshop", "workshop", r.page)
}

// settings reads the posted settings into a workshop, keeping what was typed for the page.
type settings struct {
	v        url.Values
	page     workshopPage
	problems fault.List
}

func (r *settings) read(w *workshop.Workshop) {
	if r.v.Has("edit") {
		t := typing{v: r.v}
		r.page.Edit, w.Edit = r.v.Get("edit"), t.count("edit")
	}
	text := func(name string, most int) string {
		s := strings.TrimSpace(r.v.Get(name))
		if len([]rune(s)) > most {
			r.problems.Add(name, s, "This is too long. Shorten it.")
		}
		return s
	}
	h := &w.Head
	h.Name, h.Email, h.Phone, h.TaxNumber = text("head.name", 80), text("head.email", 120), text("head.phone", 60), text("head.tax_number", 40)
	r.page.Head, r.page.Address, r.page.Terms = w.Head, text("head.address", 400), text("terms", 8000)
	w.Head.Address = lines(r.page.Address, "\n")
	w.Terms = lines(r.page.Terms, "\n\n")
	foreign := map[string][]string{}
	for i := range r.page.Foreign {
		e := &r.page.Foreign[i]
		code := strings.TrimPrefix(e.Name, "terms.")
		if foreign[code] = w.Foreign[code]; r.v.Has(e.Name) { // a form without it does not take it away
			e.Value = text(e.Name, 8000)
			foreign[code] = lines(e.Value, "\n\n")
		}
	}
	w.Foreign = foreign
	rates := &w.Figures.Rates
	for i := range r.page.Figures {
		f := &r.page.Figures[i]
		if !r.v.Has("rates." + f.Name) { // a form without it does not take it away
			continue
		}
		f.Value = r.v.Get("rates." + f.Name)
		value := r.decimal("rates."+f.Name, f.Value)
		if f.percent {
			value = value.Shift(-2)
		}
		*f.get(rates) = value
	}
	r.page.ValidDays, r.page.LeadDays = r.v.Get("valid_days"), r.v.Get("lead_days")
	rates.ValidDays, rates.LeadDays = r.days("valid_days"), r.days("lead_days")
	r.price(rates)
	r.volatile(w)
	r.shelf(w)
	r.page.Registered = r.v.Get("registered") != ""
	w.Figures.Tax.Registered = r.page.Registered
	r.page.Tax = r.v.Get("tax")
	if len(w.Figures.Tax.Rates) > 0 && r.page.Tax != "" {
		changed := append(w.Figures.Tax.Rates[:0:0], w.Figures.Tax.Rates...)
		changed[0].Percent = r.decimal("tax", r.page.Tax)
		w.Figures.Tax.Rates = changed
	}
}

// volatile reads when a quote stands shorter; a form without these entries leaves them as they are.
func (r *settings) volatile(w *workshop.Workshop) {
	if !r.v.Has("volatile_share") {
		return
	}
	p := &r.page
	p.VolatileShare, p.VolatileDays, p.VolatileValid = r.v.Get("volatile_share"), r.v.Get("volatile_days"), r.v.Get("volatile_valid")
	t := typing{v: r.v}
	w.Volatile = workshop.Volatile{Share: r.decimal("volatile_share", p.VolatileShare).Shift(-2), Days: t.count("volatile_days"), Valid: t.count("volatile_valid")}
	_ = r.problems.Take("", t.problems.Err()) // it is always a fault
}

// shelf reads what orders and the shelf follow.
func (r *settings) shelf(w *workshop.Workshop) {
	t := typing{v: r.v}
	p := &r.page
	p.DepositDays, p.ScrapDays, p.Costing = r.v.Get("deposit_days"), r.v.Get("scrap_days"), r.v.Get("costing")
	p.OrderCost, p.HoldingShare = r.v.Get("order_cost"), r.v.Get("holding_share")
	w.DepositDays, w.ScrapDays, w.Costing = t.count("deposit_days"), t.count("scrap_days"), stock.Costing(p.Costing)
	if r.v.Has("remind_days") {
		p.RemindDays, w.RemindDays = r.v.Get("remind_days"), t.count("remind_days")
	}
	if r.v.Has("fixed_costs") {
		p.FixedCosts = r.v.Get("fixed_costs")
		w.FixedCosts = r.decimal("fixed_costs", p.FixedCosts)
	}
	if r.v.Has("rounds") {
		p.Rounds, p.WarrantyDays, p.KeptBefore = r.v.Get("rounds"), r.v.Get("warranty_days"), r.v.Get("kept_before")
		w.Rounds, w.WarrantyDays, w.KeptBefore = t.count("rounds"), t.count("warranty_days"), r.decimal("kept_before", p.KeptBefore).Shift(-2)
	}
	_ = r.problems.Take("", t.problems.Err()) // it is always a fault
	w.OrderCost, w.HoldingShare = r.decimal("order_cost", p.OrderCost), r.decimal("holding_share", p.HoldingShare).Shift(-2)
}

// decimal reads a number of at most 12 digits, with a point or a comma.
func (r *settings) decimal(field, typed string) decimal.Decimal {
	s := strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	d, err := decimal.NewFromString(s)
	if err != nil || len(s) > 13 || strings.ContainsAny(s, "eE") || d.IsNegative() {
		r.problems.Add(field, typed, "Write a number, for example 12.50.")
		return decimal.Zero
	}
	return d
}

func (r *settings) days(field string) int {
	n, err := strconv.Atoi(strings.TrimSpace(r.v.Get(field)))
	if err != nil || n < 1 || n > 365 {
		r.problems.Add(field, r.v.Get(field), "Write a number of days from 1 to 365.")
	}
	return n
}

// show puts the problems beside their entries.
func (w *workshopPage) show(byField map[string]string) {
	w.Problems = byField
	for i := range w.Figures {
		w.Figures[i].Problem = byField["rates."+w.Figures[i].Name]
	}
	for i := range w.Foreign {
		w.Foreign[i].Problem = byField[w.Foreign[i].Name]
	}
}

// Rushes are the surcharges for near dates.
func (w workshopPage) Rushes() []rushRow { return rushRows(w.typed, w.Problems, w.rushes) }

// lines cuts a text and leaves out what is empty.
func lines(text, at string) []string {
	var kept []string
	for _, l := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), at) {
		if l = strings.TrimSpace(l); l != "" {
			kept = append(kept, l)
		}
	}
	return kept
}
