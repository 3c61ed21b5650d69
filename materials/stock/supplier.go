package stock

import "strings"

// Check is nil when the supplier can be kept, else a fault with everything that is wrong.
func (s Supplier) Check() error {
	var l checks
	l.name("name", s.Name)
	l.text("email", s.Email, 200)
	if s.Email != "" && !strings.Contains(s.Email, "@") {
		l.Add("email", s.Email, "This is no mail address: there is no @ in it. Correct it or leave it empty.")
	}
	l.text("note", s.Note, 4000)
	l.whole("lead_days", s.LeadDays, 0, 365)
	return l.Err()
}

// Check is nil when the pack can be kept, else a fault with everything that is wrong.
func (o Offer) Check() error {
	var l checks
	if l.decimal("pack", o.Pack, "0", "1000000"); o.Pack.IsZero() {
		l.Add("pack", o.Pack.String(), "A pack holds more than nothing.")
	}
	l.text("article", o.Article, mostArticle)
	if o.Usual && o.Retired {
		l.Add("usual", "", "A pack that is no longer sold cannot be the usual one. Choose another pack first.")
	}
	return l.Err()
}

// Check is nil when the price can be noted, else a fault with everything that is wrong.
func (p Price) Check() error {
	var l checks
	l.decimal("amount", p.Amount, "0", "1000000")
	if y := p.From.Year(); y < 2000 || y > 2100 {
		l.Add("from", p.From.Format("2006-01-02"), "Write a day between 2000 and 2100, for example 2026-03-01.")
	}
	return l.Err()
}

// plain takes away what a text field of a browser or a spreadsheet adds: space around, and ends of lines of two
// characters.
func plain(s string) string {
	return strings.TrimSpace(oneEnd(s))
}

// oneEnd makes every end of a line one character.
func oneEnd(s string) string {
	for strings.Contains(s, "\r\n") {
		s = strings.ReplaceAll(s, "\r\n", "\n")
	}
	return s
}

func (s Supplier) tidy() Supplier {
	s.Name, s.Email, s.Note = plain(s.Name), plain(s.Email), plain(s.Note)
	return s
}

func (o Offer) tidy() Offer {
	o.Article = plain(o.Article)
	return o
}

func (i Item) tidy() Item {
	i.Code, i.Name = plain(i.Code), plain(i.Name)
	i = i.settled()
	if i.Liquid != nil {
		i.Liquid.Colour = plain(i.Liquid.Colour)
	}
	return i
}

// settled gives an item and what it is the same code, name and unit, and copies what it points to.
func (i Item) settled() Item {
	switch {
	case i.Foam != nil:
		f := *i.Foam
		f.Code, f.Name = i.Code, i.Name
		i.Foam = &f
	case i.Liquid != nil:
		q := *i.Liquid
		q.Code, q.Name = i.Code, i.Name
		i.Liquid = &q
	case i.Good != nil:
		g := *i.Good
		g.Code, g.Name, g.Unit = i.Code, i.Name, i.Unit
		i.Good = &g
	}
	return i
}
