package stock

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

const (
	colSupplier = "supplier"
	colMail     = "mail"
	colLead     = "lead days"
	colNote     = "note"
	colItem     = "item"
	colPack     = "pack"
	colUnit     = "unit"
	colArticle  = "article"
	colUsual    = "usual"
	colUnsold   = "no longer sold"
	colFrom     = "valid from"
	colPrice    = "price"
)

// PriceColumns are the names of the columns in a file of prices: a row is what a pack costs from a day on. A pack
// without a price yet, and a supplier without a pack, have a row of their own.
func PriceColumns() []string {
	return []string{colSupplier, colMail, colLead, colNote, colItem, colPack, colUnit, colArticle, colUsual, colUnsold, colFrom, colPrice}
}

// WritePrices writes suppliers, their packs and prices as CSV. Of one day the last word is written.
func WritePrices(w io.Writer, list List) error {
	units := map[string]measure.Unit{}
	for _, i := range list.Items {
		units[i.Code] = i.Unit
	}
	var rows [][]string
	for _, s := range list.Suppliers {
		who := []string{Guarded(s.Name), Guarded(s.Email), strconv.Itoa(s.LeadDays), Guarded(s.Note)}
		sells := false
		for _, o := range list.Offers {
			if o.Supplier != s.ID {
				continue
			}
			sells = true
			pack := append(slices.Clone(who), Guarded(o.Item), o.Pack.String(), string(units[o.Item]), Guarded(o.Article), ticked(o.Usual), ticked(o.Retired))
			for k, p := range o.Prices {
				if k == 0 || !o.Prices[k-1].From.Equal(p.From) {
					rows = append(rows, append(slices.Clone(pack), p.From.Format(time.DateOnly), p.Amount.String()))
				}
			}
			if len(o.Prices) == 0 {
				rows = append(rows, append(pack, "", ""))
			}
		}
		if !sells {
			rows = append(rows, append(who, make([]string, len(PriceColumns())-len(who))...))
		}
	}
	return writeTable(w, PriceColumns(), rows)
}

// prices gathers a file of prices over a list.
type prices struct {
	units      map[string]measure.Unit
	known      map[string]Supplier // by name
	listed     map[string]Offer    // by item, supplier and pack
	suppliers  []Supplier          // of the file
	offers     []Offer             // of the file, with the prices that the file has
	supplierAt map[string]int      // in suppliers
	offerAt    map[string]int      // in offers
	firsts     map[string]int      // row that a supplier, pack, usual pack or price was first read of
}

func offerKey(o Offer) string { return o.Item + "\x00" + o.Supplier + "\x00" + o.Pack.String() }

// ReadPrices reads a file of suppliers, packs and dated prices over a list. It gives what the file has: suppliers and
// packs as they are to be, each with the edit count of what is there or 0 for a new one; of prices those the file
// names. Properties whose column the file does not have stay as they are.
func ReadPrices(data []byte, there List) ([]Supplier, []Offer, error) {
	t, err := readTable(data, PriceColumns(), []string{colSupplier, colItem, colPack})
	if err != nil {
		return nil, nil, err
	}
	p := prices{map[string]measure.Unit{}, map[string]Supplier{}, map[string]Offer{}, nil, nil, map[string]int{}, map[string]int{}, map[string]int{}}
	for _, i := range there.Items {
		p.units[i.Code] = i.Unit
	}
	for _, s := range there.Suppliers {
		p.known[s.Name] = s
	}
	for _, o := range there.Offers {
		p.listed[offerKey(o)] = o
	}
	for _, r := range t.rows {
		if s, ok := p.supplier(r); ok {
			p.offer(r, s)
		}
	}
	return p.suppliers, p.offers, t.Err()
}

// supplier is who the row is of, as its first row says; later rows say the same.
func (p *prices) supplier(r row) (string, bool) {
	name := r.text(colSupplier)
	s := p.known[name]
	s.Name = name
	if r.has(colMail) {
		s.Email = r.text(colMail)
	}
	if r.has(colLead) {
		s.LeadDays = r.whole(colLead)
	}
	if r.has(colNote) {
		s.Note = r.text(colNote)
	}
	if i, seen := p.supplierAt[name]; seen {
		first := p.suppliers[i]
		r.agree(p.firsts[colSupplier+name], colMail, s.Email, first.Email)
		r.agree(p.firsts[colSupplier+name], colLead, strconv.Itoa(s.LeadDays), strconv.Itoa(first.LeadDays))
		r.agree(p.firsts[colSupplier+name], colNote, s.Note, first.Note)
		return first.ID, true
	}
	before := r.Len()
	_ = r.check(s.tidy().Check(), func(field string) string { // always Invalid
		return map[string]string{"name": colSupplier, "email": colMail, "lead_days": colLead, "note": colNote}[field]
	})
	if s.ID == "" {
		s.ID = newID()
	}
	p.supplierAt[name], p.firsts[colSupplier+name] = len(p.suppliers), r.n
	p.suppliers = append(p.suppliers, s)
	return s.ID, r.Len() == before
}

// agree says so when a row contradicts an earlier one.
func (r row) agree(first int, column, value, other string) {
	if value != other {
		r.wrong(r.n, column, value, fmt.Sprintf("Row %d says %q of the same. Write the same in both.", first, fault.Shorten(other)))
	}
}

// offer is the pack of a row, and its price.
func (p *prices) offer(r row, supplier string) {
	item := strings.TrimSpace(r.text(colItem))
	if item == "" {
		for _, c := range []string{colPack, colArticle, colUsual, colUnsold, colFrom, colPrice} {
			if r.text(c) != "" {
				r.wrong(r.n, colItem, "", "Write the code of the item that this pack holds.")
				return
			}
		}
		return
	}
	pack, ok := p.pack(r, item)
	if !ok {
		return
	}
	o := Offer{Item: item, Supplier: supplier, Pack: pack}
	key := offerKey(o)
	if there, listed := p.listed[key]; listed {
		o = there
		o.Prices = nil
	}
	if r.has(colArticle) {
		o.Article = r.text(colArticle)
	}
	if r.has(colUsual) {
		o.Usual = r.tick(colUsual)
	}
	if r.has(colUnsold) {
		o.Retired = r.tick(colUnsold)
	}
	if i, seen := p.offerAt[key]; seen {
		first := p.offers[i]
		r.agree(p.firsts[key], colArticle, o.Article, first.Article)
		r.agree(p.firsts[key], colUsual, ticked(o.Usual), ticked(first.Usual))
		r.agree(p.firsts[key], colUnsold, ticked(o.Retired), ticked(first.Retired))
		p.price(r, &p.offers[i])
		return
	}
	p.firsts[key] = r.n
	if first, twice := p.firsts[colUsual+item]; twice && o.Usual {
		r.wrong(r.n, colUsual, yes, fmt.Sprintf("Row %d has the usual pack of this item. Keep one of them.", first))
	}
	if o.Usual {
		p.firsts[colUsual+item] = r.n
	}
	_ = r.check(o.tidy().Check(), func(field string) string { // always Invalid
		return map[string]string{"pack": colPack, "article": colArticle, "usual": colUsual}[field]
	})
	if o.ID == "" {
		o.ID = newID()
	}
	p.price(r, &o)
	p.offerAt[key] = len(p.offers)
	p.offers = append(p.offers, o)
}

// pack is how much one holds, in the unit the shelf counts in; millilitres and grams are turned into it.
func (p *prices) pack(r row, item string) (decimal.Decimal, bool) {
	unit, known := p.units[item]
	if !known {
		r.wrong(r.n, colItem, item, "The catalogue has no such item. Bring in the items first.")
		return decimal.Zero, false
	}
	pack := r.number(colPack)
	written := r.text(colUnit)
	switch u, err := measure.ParseUnit(written); {
	case strings.TrimSpace(written) == "", err == nil && u == unit:
	case err == nil && (u == measure.Millilitre && unit == measure.Litre || u == measure.Gram && unit == measure.Kilogram):
		pack = pack.Shift(-3)
	default:
		r.wrong(r.n, colUnit, written, fmt.Sprintf("The shelf counts this in %s. Write the pack in that.", unit))
		return pack, false
	}
	if whole := pack.Round(unit.Places()); !pack.Equal(whole) {
		r.wrong(r.n, colPack, r.text(colPack), fmt.Sprintf("%s is counted to %d places. Write %s %s.", unit, unit.Places(), whole, unit))
		return pack, false
	}
	return pack, true
}

// price adds what the row says a pack costs.
func (p *prices) price(r row, o *Offer) {
	from, amount := strings.TrimSpace(r.text(colFrom)), strings.TrimSpace(r.text(colPrice))
	switch {
	case from == "" && amount == "":
		return
	case amount == "":
		r.wrong(r.n, colPrice, "", "Write what the pack costs from that day on, or take the day away.")
		return
	}
	before := r.Len()
	n := Price{From: r.day(colFrom), Amount: r.number(colPrice)}
	if r.Len() > before {
		return
	}
	_ = r.check(n.Check(), func(field string) string { // always Invalid
		return map[string]string{"amount": colPrice, "from": colFrom}[field]
	})
	for _, other := range o.Prices {
		if other.From.Equal(n.From) {
			r.agree(p.firsts[colFrom+o.ID+from], colPrice, n.Amount.String(), other.Amount.String())
			return
		}
	}
	p.firsts[colFrom+o.ID+from] = r.n
	o.Prices = append(o.Prices, n)
	sortPrices(o.Prices)
}
