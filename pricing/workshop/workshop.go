// Package workshop is the maker's own settings: who they are, their terms, and the figures every estimate takes.
//
// Limits: one workshop a database, one currency. Money is decimal; no SQL, no HTTP here.
package workshop

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
)

// Head is what stands at the top of every document.
type Head struct {
	Name      string
	Address   []string
	Email     string
	Phone     string
	TaxNumber string // empty when not registered
	Country   string // ISO 3166-1 alpha-2
	// Where customers pay to.
	Holder string // of the account; empty for the workshop's name
	IBAN   string // without spaces
	BIC    string
}

// Workshop is all settings together.
type Workshop struct {
	Head    Head
	Series  string              // of quote numbers, so that several may run side by side
	Terms   []string            // printed on every quote, a sentence or two each
	Foreign map[string][]string // the same in other languages, by ISO 639-1 code; where there are none, Terms stand
	Figures pricing.Snapshot

	InvoiceSeries string // of the numbers of invoices
	CreditSeries  string // of those of credit notes
	InvoiceDays   int    // an invoice is due so many days after it was issued

	DepositDays int           // a deposit is due so many days after a quote was accepted; material is held until then
	Costing     stock.Costing // how the books value what goes off the shelf
	ScrapDays   int           // an offcut that lay so long is offered for the bin

	People int                  // at the bench
	Places map[string]int       // formers and drying places there are
	Air    [12]schedule.Climate // in which things dry, by month from January

	ShopRate ShopRate  // the sum behind the rate that is used
	Answered time.Time // when learned times were last taken over or put off; they are offered a month later

	// For the hint how much to buy at a time.
	OrderCost    decimal.Decimal // of one order to a supplier, in time and carriage
	HoldingShare decimal.Decimal // what a year on the shelf costs, of the worth of what lies there

	FixedCosts decimal.Decimal // a month: rent, insurance, tools; what is paid whether anything is made or not

	RemindDays   int             // so long before a quote ends its customer is reminded of it by mail; 0 for never
	Rounds       int             // of drawings that a price includes
	KeptBefore   decimal.Decimal // of a deposit when an order is cancelled before work on it began
	WarrantyDays int             // that glue lines and straps are mended free

	Volatile Volatile

	Enquiries      Enquiries
	NoOrdersBefore time.Time // a day before which no new order is begun; zero while they are

	Edit int // counts changes, so that two people cannot overwrite each other
}

// Usual is a workshop with the figures of common practice and nothing of its own. Settings kept by an earlier
// program are read over it, so that a figure it did not know yet has its usual value.
func Usual() Workshop {
	return Workshop{
		Figures:      pricing.Snapshot{Bench: shield.UsualBench(), Usage: takeoff.UsualUsage()},
		CreditSeries: "C", InvoiceDays: 14, // common practice, no source
		DepositDays: 7, Costing: stock.Average, ScrapDays: 365, // common practice, no source
		People: 1, Places: map[string]int{schedule.Former: 1, schedule.DryingPlace: 4}, Air: usualAir(),
		ShopRate: usualShopRate(), Volatile: usualVolatile(),
		Rounds: 2, KeptBefore: decimal.New(25, -2), WarrantyDays: 90, // common practice, no source
		OrderCost: decimal.New(10, 0), HoldingShare: decimal.New(2, -1), // common practice, no source
	}
}

// usualAir is that of reference the whole year: who knows their workshop better writes it down.
func usualAir() (air [12]schedule.Climate) {
	for i := range air {
		air[i] = schedule.Reference()
	}
	return air
}

// Grown is the settings with the steps of this program that they do not have yet.
func (w Workshop) Grown() (Workshop, error) {
	seed, err := labour.Seed()
	w.Figures.Steps = labour.Merged(w.Figures.Steps, seed)
	return w, err
}

// Bench is who and what there is to work with.
func (w Workshop) Bench() schedule.Bench {
	return schedule.Bench{Calendar: w.Figures.Calendar, People: w.People, Places: w.Places}
}

// AirOn is what things dry in on a day.
func (w Workshop) AirOn(day time.Time) schedule.Climate { return w.Air[day.Month()-1] }

// Store keeps the settings.
type Store interface {
	// Workshop is the settings with the catalogue and the prices of a day, or a State fault when none were made yet.
	// Both are shared with other readers: nobody writes into them.
	Workshop(ctx context.Context, day time.Time) (Workshop, error)
	// Name is the workshop's, quickly: it stands on every page. Without settings it is a State fault.
	Name(ctx context.Context) (string, error)
	// SetWorkshop replaces the settings; catalogue and prices are kept on their own and not written.
	SetWorkshop(ctx context.Context, w Workshop) error
	// SetCurrency counts the shelf in another currency. It is a fault on rates.currency once anything was issued, priced
	// for the list, ordered or put on the shelf: amounts are not converted.
	SetCurrency(ctx context.Context, c money.Currency) error
	// KeepStanding keeps what was set until a month, unless a change in that month has kept it before.
	KeepStanding(ctx context.Context, s Standing) error
}

// Snapshot is the figures at a moment, for one estimate.
func (w Workshop) Snapshot(now time.Time) pricing.Snapshot {
	s := w.Figures
	s.Now = now
	if day, full := w.Full(now); full { // for a new job the bench is shut until then
		s.Calendar.Away = slices.Concat(s.Calendar.Away, []schedule.Span{{From: stock.Day(now), To: day.AddDate(0, 0, -1), Why: "no new orders"}})
	}
	return s
}

// Check is nil when quotes can be made with the settings, else a fault with everything that is wrong.
func (w Workshop) Check() error {
	var l fault.List
	if w.Head.Name == "" {
		l.Add("head.name", "", "Write the workshop's name: it stands on every document.")
	}
	for _, entry := range [][2]string{{"head.name", w.Head.Name}, {"head.email", w.Head.Email}} {
		field, value := entry[0], entry[1]
		// In the head of a mail another line would begin another entry.
		if strings.ContainsFunc(value, func(r rune) bool { return unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp) }) {
			l.Add(field, value, "This must be one line. Take out line breaks and invisible characters.")
		}
	}
	w.checkMoney(&l)
	if w.DepositDays < 1 || w.DepositDays > 90 {
		l.Add("deposit_days", strconv.Itoa(w.DepositDays), "Write a number of days from 1 to 90.")
	}
	if w.ScrapDays < 1 || w.ScrapDays > 3650 {
		l.Add("scrap_days", strconv.Itoa(w.ScrapDays), "Write a number of days from 1 to 3650.")
	}
	if w.RemindDays < 0 || w.RemindDays > 60 {
		l.Add("remind_days", strconv.Itoa(w.RemindDays), "Write a number of days from 1 to 60, or 0 to remind nobody.")
	}
	if w.OrderCost.IsNegative() || w.OrderCost.GreaterThan(decimal.New(1000, 0)) {
		l.Add("order_cost", w.OrderCost.String(), "Write an amount from 0 to 1000.")
	}
	if w.HoldingShare.IsNegative() || w.HoldingShare.GreaterThan(decimal.New(1, 0)) {
		l.Add("holding_share", w.HoldingShare.String(), "Write a share from 0 to 100 %.")
	}
	_, unknown := money.ParseCurrency(string(w.Figures.Rates.Currency)) // which is told by the rates' own check
	if w.FixedCosts.IsNegative() || w.FixedCosts.GreaterThan(decimal.New(1_000_000, 0)) || unknown == nil && !w.FixedCosts.Equal(w.FixedCosts.Round(w.Figures.Rates.Currency.Digits())) {
		l.Add("fixed_costs", w.FixedCosts.String(), "Write what a month costs whether anything is made or not, from 0 to 1000000, to the smallest coin.")
	}
	if w.Rounds < 0 || w.Rounds > 20 {
		l.Add("rounds", strconv.Itoa(w.Rounds), "Write how many rounds of drawings a price includes, from 0 to 20.")
	}
	if w.KeptBefore.IsNegative() || w.KeptBefore.GreaterThan(decimal.New(1, 0)) {
		l.Add("kept_before", w.KeptBefore.String(), "Write a share from 0 to 100 %.")
	}
	if w.WarrantyDays < 0 || w.WarrantyDays > 3650 {
		l.Add("warranty_days", strconv.Itoa(w.WarrantyDays), "Write a number of days from 0 to 3650.")
	}
	w.checkBench(&l)
	w.checkEnquiries(&l)
	w.ShopRate.check(&l)
	w.Volatile.check(&l)
	if err := l.Take("steps", labour.CheckTable(w.Figures.Steps, w.Figures.Rates.GradeNames())); err != nil {
		return fmt.Errorf("steps: %w", err)
	}
	if w.Costing != stock.Average && w.Costing != stock.FirstIn {
		l.Add("costing", string(w.Costing), "Choose average or first in.")
	}
	if err := l.Take("tax", w.Figures.Tax.Check()); err != nil {
		return fmt.Errorf("tax settings: %w", err)
	}
	if err := l.Take("usage", materials.CheckFigures(w.Figures.Bench.Figures())); err != nil {
		return fmt.Errorf("how shields are built: %w", err)
	}
	if err := l.Take("usage", w.Figures.Usage.Check()); err != nil {
		return fmt.Errorf("what things take: %w", err)
	}
	if err := l.Take("rules", shield.CheckRules(w.Figures.Rules)); err != nil {
		return fmt.Errorf("size rules: %w", err)
	}
	if err := l.Take("rates", w.Figures.Rates.Check()); err != nil {
		return fmt.Errorf("rates: %w", err)
	}
	return l.Err()
}
