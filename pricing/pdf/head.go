package pdf

import (
	"slices"
	"strconv"
	"strings"
)

// name is what the document is called.
func (q *quote) name() string {
	if q.Number.No == 0 {
		return q.tongue.Say("Quote, not sent yet")
	}
	return q.tongue.Say("Quote %s", q.Number.In(q.tongue))
}

// head is the workshop: its name and how to reach it.
func (q *quote) head() {
	h := q.Workshop.Head
	ways := slices.Concat(h.Address, []string{h.Email, h.Phone})
	if h.TaxNumber != "" {
		ways = append(ways, q.tongue.Say("Tax number %s", h.TaxNumber))
	}
	q.letterhead(h.Name, ways)
}

// letterhead is a name and, beside it, the ways to reach who has it.
func (p *paper) letterhead(name string, ways []string) {
	b := &block{}
	const reach = 66.0 // room for how to reach the workshop
	lines := p.wrap(name, style{serif, 20, 8, ink}, full-reach)
	if len(lines) > 1 {
		lines = p.wrap(name, style{serif, 15, 6.2, ink}, full-reach)
	}
	left := b.texts(0, 6, lines)
	y := 3.2
	for _, s := range ways {
		if s == "" {
			continue
		}
		for _, l := range p.wrap(s, fine, reach-4) {
			b.right(full, y, l)
			y += l.lead
		}
	}
	b.height = max(left-3, y) + 6
	p.add(b)
}

// tape is at the top of every page: the edge of a tape measure, a stroke a millimetre.
func tape() *block {
	b := &block{height: tapeHeight}
	b.rule(0, full, 0, 0.15, ink)
	for mm := 0; mm <= full; mm++ {
		long := 1.0
		switch {
		case mm%10 == 0:
			long = 2.6
		case mm%5 == 0:
			long = 1.7
		}
		b.bar(float64(mm), 0, long, 0.1, soft)
	}
	return b
}

// facts are number, dates and whom the quote is for.
func (q *quote) facts() {
	b := &block{}
	const right = 104.0
	y := b.texts(0, 7, q.wrap(q.name(), heading, right-8))
	facts := [][2]string{{q.tongue.Say("Date"), q.tongue.Date(q.Date)}, {q.tongue.Say("Valid until"), q.tongue.Date(q.ValidUntil)}}
	if q.Version > 1 {
		facts = append(facts, [2]string{q.tongue.Say("Version"), strconv.Itoa(q.Version)})
	}
	column := 22.0
	for _, f := range facts {
		column = max(column, q.set(f[0], quiet).width+4)
	}
	for _, f := range facts {
		b.text(0, y, q.set(f[0], quiet))
		b.text(column, y, q.set(f[1], text))
		y += text.lead
	}
	c := q.Customer
	b.text(right, 3, q.set(q.tongue.Say("For"), fine))
	r := b.texts(right, 8, q.wrap(c.Name, aside, full-right))
	address := strings.TrimSpace(c.Address)
	if strings.Count(address, "\n") > 7 {
		address = strings.Join(strings.FieldsFunc(address, func(r rune) bool { return r == '\n' }), ", ")
	}
	country, number := "", ""
	if c.Country != "" {
		country = q.tongue.Country(c.Country)
	}
	if c.TaxNumber != "" {
		number = q.tongue.Say("Tax number %s", c.TaxNumber)
	}
	for _, s := range []string{address, country, c.Email, c.Phone, number} {
		if s != "" {
			r = b.texts(right, r, q.wrap(s, text, full-right))
		}
	}
	b.height = max(y, r) + 4
	q.add(b)
}
