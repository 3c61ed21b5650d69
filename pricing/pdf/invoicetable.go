package pdf

import (
	"slices"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// The columns of an invoice's lines: figures end at these, mm; what is supplied has the room to the left of them.
const (
	countEnd = 106.0
	eachEnd  = 128.0
	rateEnd  = 141.0
	lineRoom = countEnd - 12
)

// table prints the lines and, with the last of them, the sums. Where it goes over a page, the subtotal is carried
// and the head comes again.
func (i *invoice) table() {
	type row struct {
		*block
		amount money.Amount
	}
	var rows []row
	for _, l := range i.Lines {
		for n, b := range i.line(l) {
			r := row{block: b}
			if n == 0 {
				r.amount = l.Amount
			}
			rows = append(rows, r)
		}
	}
	sums := i.sums()
	if len(rows) == 0 {
		i.add(sums)
		return
	}
	head := i.tableHead()
	var carried money.Amount
	for n, r := range rows {
		below := i.carry("", carried) // for its height
		if n == len(rows)-1 {
			below = sums
		}
		fits := i.filled()+r.height+below.height <= room
		switch {
		case n == 0 && i.filled()+head.height+r.height+below.height > room:
			i.turn()
			i.add(head)
		case n == 0:
			i.add(head)
		case !fits:
			i.add(i.carry(i.tongue.Say("Carried over"), carried))
			i.turn()
			i.add(head, i.carry(i.tongue.Say("Brought over"), carried))
		}
		i.add(r.block)
		carried = carried.Add(r.amount)
	}
	i.add(sums)
}

// filled is how much of the last page the blocks take.
func (p *paper) filled() (mm float64) {
	for _, b := range p.blocks {
		if mm += b.height; mm > room {
			mm = b.height
		}
	}
	return mm
}

// turn leaves the rest of the page empty: the next block comes on another.
func (p *paper) turn() {
	const trifle = 1e-3
	if rest := room - p.filled() - trifle; rest > 0 {
		p.add(&block{height: rest})
	}
}

func (i *invoice) tableHead() *block {
	t := i.tongue
	with := ""
	switch {
	case i.free():
	case i.Regime.GrossPrices:
		with = t.Say("with tax")
	default:
		with = t.Say("without tax")
	}
	b := &block{height: 8.4}
	const first, second = 3.2, 6.6
	b.text(0, first, i.set(t.Say("Description"), fine))
	b.right(countEnd, first, i.set(t.Say("Quantity"), fine))
	b.right(eachEnd, first, i.set(t.Say("Each"), fine))
	b.right(full, first, i.set(t.Say("Amount in %s", string(i.Totals.Gross.Currency())), fine))
	if with != "" {
		b.right(eachEnd, second, i.set(with, fine))
		b.right(rateEnd, first, i.set(t.Say("Tax"), fine))
		b.right(full, second, i.set(with, fine))
	} else {
		b.height = 5
	}
	b.rule(0, full, b.height, 0.2, ink)
	return b
}

// line is a row; one whose text is long is several, of which the first has the figures.
func (i *invoice) line(l sales.BillLine) (blocks []*block) {
	const base, gap, most = 4.4, 2.2, 12
	for lines := range slices.Chunk(i.wrap(l.Text, text, lineRoom), most) {
		b := &block{}
		b.height = b.texts(0, base, lines) - text.lead + gap
		if blocks == nil {
			if !l.Quantity.IsZero() {
				b.right(countEnd, base, i.fit(i.tongue.Number(l.Quantity), text, countEnd-lineRoom-1))
				b.right(eachEnd, base, i.fit(i.tongue.Money(l.Each), text, eachEnd-countEnd-2))
			}
			if !i.free() {
				b.right(rateEnd, base, i.fit(i.tongue.Percent(l.Rate.Percent), text, rateEnd-eachEnd-2))
			}
			b.right(full, base, i.fit(i.tongue.Money(l.Amount), text, full-rateEnd-2))
		}
		blocks = append(blocks, b)
	}
	last := blocks[len(blocks)-1]
	last.rule(0, full, last.height, 0.1, hair)
	return blocks
}

// carry is the subtotal at the foot of a page and at the top of the next.
func (i *invoice) carry(what string, a money.Amount) *block {
	b := &block{height: 6.6}
	b.text(0, 4.4, i.set(what, quiet))
	b.right(full, 4.4, i.set(i.tongue.Money(a), quiet))
	b.rule(0, full, b.height, 0.1, hair)
	return b
}

// fit is a figure in a smaller size where it would be too wide.
func (s *setter) fit(figure string, st style, width float64) line {
	l := s.set(figure, st)
	if l.width > width {
		st.size *= width / l.width
		l = s.set(figure, st)
	}
	return l
}
