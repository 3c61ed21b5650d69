package sales

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// Printed is an issued quote in words and figures, for the workshop: it is read back and never computed again.
type Printed struct {
	Made    []string // what will be made
	Verdict string   // how it stands to the size rule
	Picture string   // the face, as SVG
	Groups  []PrintedGroup
	Lines   []PrintedLine // how the price is made
	Steps   []PrintedLine // minutes at the bench
	Hours   string        // charged, with the range
	Ready   string        // earliest, on an empty bench
	Deposit string
	Balance string
	Costing pricing.Costing // what it reckons with; zero where it was issued before this was kept
	Takes   []Taking        // what it takes of the shelf, for the whole order
	Tasks   []schedule.Task
	Terms   Terms // what its sums are made by
	// DepositShare is what of the price books the bench.
	DepositShare decimal.Decimal
	Options      []PrintedOption
	Said         Said     // the same for the customer, in their language
	Others       []Said   // and in the others, for their own page
	Moved        *Moved   // against the version before; nil for the first
	Sums         []Sum    // of the price, for a later version to be held against
	Until        []string // why it stands shorter than usual, for the maker
}

// PrintedGroup is one group of materials.
type PrintedGroup struct {
	Name, Cost string
	Charges    []PrintedLine
}

// PrintedLine is one line with its amount and how it came about.
type PrintedLine struct {
	Label, Amount, How string
	Sum                bool
}

// Face is the picture lettered in a language; in English where it was not drawn in it.
func (p Printed) Face(language string) string {
	if p.Said.Picture != "" && p.Said.Language == language {
		return p.Said.Picture
	}
	return p.Picture
}

// printed writes a sheet down and draws it, in English and in the customer's language.
func (s *Service) printed(sheet Sheet) Printed {
	english := sheet
	english.Customer.Language = ""
	p := sheet.print(s.render.Picture(english))
	if sheet.Tongue().Code() != english.Tongue().Code() {
		p.Said.Picture = s.render.Picture(sheet)
	}
	return p
}

// print writes a sheet down.
func (s Sheet) print(picture string) Printed {
	e, english := s.Estimate, words.Tongue{}
	p := Printed{
		Made: Describe(english, e.Shield), Verdict: Judged(english, e.Verdict), Picture: picture, Said: s.Said(), Others: s.others(),
		Hours: e.Work.Hours.StringFixed(2) + " h (" + e.Work.Low.StringFixed(1) + " to " + e.Work.High.StringFixed(1) + ")",
		Ready: words.Date(e.Outlook.Ready), Deposit: words.Price(e.Price.Deposit), Balance: words.Price(e.Price.Balance),
		Costing: e.Costing(), Takes: takings(e), Tasks: e.Tasks, Terms: Terms{e.Regime, e.Price.Rate}, DepositShare: e.Price.DepositShare,
		Options: s.Options, Moved: s.Moved, Sums: sums(e), Until: s.Until,
	}
	for _, share := range e.Shares() {
		g := PrintedGroup{Name: string(share.Group), Cost: words.Money(share.Cost)}
		for _, c := range share.Charges {
			g.Charges = append(g.Charges, PrintedLine{Label: c.Name, Amount: words.Money(c.Cost), How: c.Formula})
		}
		p.Groups = append(p.Groups, g)
	}
	for _, l := range e.Price.Lines {
		p.Lines = append(p.Lines, PrintedLine{l.Label, words.Money(l.Amount), l.How, l.Sum})
	}
	for _, l := range e.Work.Lines {
		p.Steps = append(p.Steps, PrintedLine{Label: l.Step.Name, Amount: l.Minutes.StringFixed(2), How: l.Formula.String()})
	}
	return p
}
