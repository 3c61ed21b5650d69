package web

import (
	"html/template"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// answerView is a customer's page: what is offered or was ordered, in the visitor's language. Nothing of what the
// workshop reckons with is handed to the template but what stands here.
type answerView struct {
	visit
	CSRF     string
	Said     sales.Said
	Picture  template.HTML
	typed    url.Values        // nil where the page was only opened
	Problems map[string]string // by field, in the visitor's language
	Notice   string            // why the last press did not do what was wanted
	Done     string            // what it did
	Chosen   []string          // keys of options
	Once     string            // of the next question: sent twice it is kept once
	Sums     tax.Totals
	Deposit  money.Amount
	Ordered  answerOrder
}

// answerPage shows the page as it stands.
func (p *Pages) answerPage(c *fiber.Ctx, v visit) error {
	return p.showAnswer(c, fiber.StatusOK, answerView{visit: v, Chosen: chosenIn(c.Query("options"))})
}

// chosenIn are the options that an address carries from one page to the next.
func chosenIn(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

func (p *Pages) showAnswer(c *fiber.Ctx, status int, d answerView) error {
	if err := d.complete(); err != nil {
		return err
	}
	if d.Done == "" {
		d.Done = d.done(c.Query("done"))
	}
	if d.Order != nil {
		var err error
		if d.Ordered, err = p.answered(c, d.visit); err != nil {
			return err
		}
		if len(d.Ordered.Cautions) > 0 { // a change may have brought latex, or taken it away
			d.Said.Cautions = d.Ordered.Cautions
		}
	}
	d.CSRF = p.guard.CSRFToken(c)
	return p.write(c, status, "answer", "answer-layout", d)
}

// complete works out what the page shows besides what was read.
func (d *answerView) complete() error {
	q := d.Quote
	d.Said = q.Printed.In(d.Tongue.Code())
	if len(d.Said.Made) == 0 { // issued before the customer's words were kept
		d.Said.Made, d.Said.Verdict = q.Printed.Made, q.Printed.Verdict
	}
	d.Picture = template.HTML(q.Printed.Face(d.Tongue.Code())) // made by package drawing
	d.Once = uuid.NewString()
	var err error
	d.Sums, d.Deposit, err = q.Asks(d.Chosen)
	if fault.KindOf(err) == fault.Invalid { // what cannot be had together, or is on another version
		if d.typed != nil {
			d.blame("options", d.clash(err))
		}
		d.Chosen = d.known()
		if d.Sums, d.Deposit, err = q.Asks(d.Chosen); fault.KindOf(err) == fault.Invalid {
			d.Sums, d.Deposit, err = tax.Totals{}, money.Amount{}, nil
		}
	}
	return err
}

func (d *answerView) blame(field, said string) {
	if d.Problems == nil {
		d.Problems = map[string]string{}
	}
	d.Problems[field] = said
}

// known are the chosen options that this version has.
func (d *answerView) known() (keys []string) {
	for _, o := range d.Quote.Printed.Options {
		if slices.Contains(d.Chosen, o.Key) {
			keys = append(keys, o.Key)
		}
	}
	return keys
}

// clash says which options cannot be had together.
func (d *answerView) clash(err error) string {
	for _, p := range fault.ProblemsOf(err) {
		for _, o := range d.Quote.Printed.Options {
			if o.Name == p.Value || strings.HasPrefix(o.Name, strings.TrimSuffix(p.Value, "…")) {
				return d.Tongue.Say("“%s” cannot be had together with something else you ticked. Choose one of them.", o.Name)
			}
		}
	}
	return d.Tongue.Say("These options cannot be had together. Choose again.")
}

// Typed is an entry as it was typed.
func (d answerView) Typed(name string) string { return d.typed.Get(name) }

// Open tells that the quote can be answered here.
func (d answerView) Open() bool { return d.Quote.Stands(d.Now) }

// Due is the last day for the deposit of who orders today.
func (d answerView) Due() time.Time { return d.Now.AddDate(0, 0, d.Workshop.DepositDays) }

// Full tells that the workshop begins no new order for a while.
func (d answerView) Full() bool {
	_, full := d.Workshop.Full(d.Now)
	return full && d.Open()
}

// Has tells that an option is ticked.
func (d answerView) Has(key string) bool { return slices.Contains(d.Chosen, key) }

// Priced tells that a total could be worked out for what is ticked.
func (d answerView) Priced() bool { return d.Sums.Gross.Currency() != "" }

// Entries are the lines of the quote itself, which those of the options add to. Where prices are made with tax inside,
// options are too, and the quote is one line with its tax.
func (d answerView) Entries() []sales.SaidEntry {
	q := d.Quote
	if r := q.Printed.Terms.Regime; !r.GrossPrices || !r.Registered || len(d.Ticked()) == 0 {
		return d.Said.Entries
	}
	return []sales.SaidEntry{{What: q.Title, Amount: d.Tongue.Money(q.Gross)}}
}

// Ticked are the options that are ticked, as they add to the sum.
func (d answerView) Ticked() (all []sales.PrintedOption) {
	for _, o := range d.Quote.Printed.Options {
		if d.Has(o.Key) {
			all = append(all, o)
		}
	}
	return all
}

// Moves is what an option adds to the price, with its sign.
func (d answerView) Moves(o sales.PrintedOption) string {
	return sales.Extra(d.Tongue, o, d.Quote.Gross.Currency())
}

// MovesIs says how such amounts are meant.
func (d answerView) MovesIs() string {
	return sales.ExtraIs(d.Tongue, d.Quote.Printed.Terms.Regime)
}

// Groups are the options as they are chosen from.
func (d answerView) Groups() []sales.OptionGroup { return sales.OptionGroups(d.Quote.Printed.Options) }

// Notes are what goes with choosing an option.
func (d answerView) Notes(o sales.PrintedOption) []string {
	by, _ := time.Parse(time.DateOnly, d.Quote.Form.Delivery.By.String()) // empty for no date
	return sales.OptionNotes(d.Tongue, d.Quote.Printed.Options, o, by)
}

// Plain is an option's amount as a line of the price.
func (d answerView) Plain(o sales.PrintedOption) string {
	return d.Tongue.Money(money.Round(o.Amount, d.Quote.Gross.Currency()))
}

// Latex tells that somebody could choose latex here, so that its question is asked.
func (d answerView) Latex() bool {
	if latex, err := d.Quote.Latex(nil); err == nil && latex {
		return true
	}
	for _, o := range d.Quote.Printed.Options {
		if latex, err := d.Quote.Latex([]string{o.Key}); err == nil && latex {
			return true
		}
	}
	return false
}

// Spoken are the languages of the page.
func (d answerView) Spoken() (all []tongueLink) {
	for _, t := range words.Tongues() {
		v := d.visit
		v.Tongue = t
		at := v.At()
		if len(d.Chosen) > 0 {
			at += "&options=" + url.QueryEscape(strings.Join(d.Chosen, ","))
		}
		all = append(all, tongueLink{t, at, t.Code() == d.Tongue.Code()})
	}
	return all
}

// taxes are what stands between lines and total: as the document says it, with the sums of the moment.
type taxes struct {
	Page answerView
	Said []sales.SaidEntry
	Sums tax.Totals
}

type tongueLink struct {
	words.Tongue
	At   string
	Here bool
}

// Foreign is the language of the document where the page is read in another one: the document decides.
func (d answerView) Foreign() string {
	if own := d.Quote.Printed.Said.Language; own != "" && own != d.Tongue.Code() {
		return words.Speak(own).Name()
	}
	return ""
}

// done says what the press before did, after the browser was sent to look.
func (d answerView) done(what string) string {
	t := d.Tongue
	switch {
	case what == "asked":
		return t.Say("Your question has reached the workshop. The answer will stand here.")
	case what == "wished" && d.Wished():
		return t.Say("Nothing was ordered: the workshop will write to you about the latex first.")
	case what == "accepted" && d.Answer != nil:
		return t.Say("Thank you! Your order has reached the workshop.")
	case what == "already" && d.Answer != nil:
		return t.Say("This quote had been answered before, as it stands here. What you sent changed nothing.")
	case what == "accept-change":
		return t.Say("Thank you! The change is agreed, and the order is made like that from now on.")
	case what == "decline-change":
		return t.Say("The workshop has been told: the order stays as it was.")
	case what == "approve-drawing":
		return t.Say("Thank you! The workshop knows that the drawing is right.")
	case what == "redraw-drawing":
		return t.Say("The workshop has been told what should be different. It will show you a new drawing.")
	case what == "already-said":
		return t.Say("You had said just that before. Nothing more was done.")
	case what == "declined" && d.Answer != nil:
		return t.Say("The workshop has been told that you do not want it.")
	}
	return ""
}
