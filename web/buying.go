package web

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/materials/stock"
)

// buyingPage is what to buy of whom.
type buyingPage struct {
	List      []stock.ToBuy
	From      int          // how many lines were left out before these
	Next      int          // the first line of the next page; 0 after the last
	Nobody    []stock.Want // nobody sells these
	Purchases []stock.Purchase
	Owner     bool
	forms     // one a supplier
}

func (p *Pages) buying(c *fiber.Ctx) error {
	return p.showBuying(c, fiber.StatusOK, buyingPage{})
}

func (p *Pages) showBuying(c *fiber.Ctx, status int, data buyingPage) (err error) {
	if data.List, data.Nobody, err = p.shelf.ToBuy(c.UserContext()); err != nil {
		return err
	}
	if data.Purchases, err = p.shelf.Purchases(c.UserContext()); err != nil {
		return err
	}
	data.From = max(0, c.QueryInt("from"))
	data.List, data.Next = linesFrom(data.List, data.From, mostShelf)
	data.Owner = owner(c)
	return p.render(c, status, "buying", "Buying", "stock", data)
}

// linesFrom is a part of a list: so many of its lines, and where the next ones begin, 0 after the last. A supplier's
// cost is that of the lines that are there.
func linesFrom(list []stock.ToBuy, from, most int) (part []stock.ToBuy, next int) {
	at, to := 0, from+most
	for _, b := range list {
		all := len(b.Lines)
		b.Lines = b.Lines[min(max(from-at, 0), all):min(max(to-at, 0), all)]
		at += all
		switch len(b.Lines) {
		case 0:
			continue
		case all:
		default:
			b.Cost = b.Cost.Sub(b.Cost)
			for _, l := range b.Lines {
				b.Cost = b.Cost.Add(l.Cost)
			}
		}
		part = append(part, b)
	}
	if at > to {
		next = to
	}
	return part, next
}

// Whole is what is wrong with a supplier's list as a whole, or with packs that are not on it any more.
func (d buyingPage) Whole(supplier string) string {
	if supplier != d.Form {
		return ""
	}
	placed := []string{"note"}
	for _, b := range d.List {
		for _, l := range b.Lines {
			for _, p := range l.Packs {
				placed = append(placed, "packs."+p.Offer.ID)
			}
		}
	}
	return unplaced(d.problems, placed)
}

// Gone is what was wrong with a list that is not there any more: somebody else noted it meanwhile.
func (d buyingPage) Gone() string {
	if slices.ContainsFunc(d.List, func(b stock.ToBuy) bool { return b.Supplier.ID == d.Form }) {
		return ""
	}
	return unplaced(d.problems, nil)
}

// unplaced are the problems of entries that a page has no place for, in one text.
func unplaced(problems map[string]string, placed []string) string {
	var said []string
	for _, field := range slices.Sorted(maps.Keys(problems)) {
		if !slices.Contains(placed, field) && !slices.Contains(said, problems[field]) {
			said = append(said, problems[field])
		}
	}
	return strings.Join(said, " ")
}

// ID is what a supplier's list is noted under: the same as long as it stands on the screen, so that a button pressed
// twice orders once.
func (d buyingPage) ID(supplier string) string {
	if supplier == d.Form && d.v.Get("id") != "" {
		return d.v.Get("id")
	}
	return uuid.Must(uuid.NewV7()).String()
}

// Open are the purchases of which something is still to come.
func (d buyingPage) Open() []stock.Purchase { return d.some(true) }

// Closed are those of which nothing is.
func (d buyingPage) Closed() []stock.Purchase { return d.some(false) }

func (d buyingPage) some(open bool) (some []stock.Purchase) {
	for _, p := range d.Purchases {
		if p.Closed.IsZero() == open {
			some = append(some, p)
		}
	}
	return some
}

// noteOrder notes what was ordered of a supplier.
func (p *Pages) noteOrder(c *fiber.Ctx) error {
	return act(c, values(c).Get("supplier"), func(t *typing) (string, error) {
		var asked []stock.Asked
		for name := range t.v {
			if offer, ok := strings.CutPrefix(name, "packs."); ok {
				asked = append(asked, stock.Asked{Offer: offer, Packs: t.count(name)})
			}
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		purchase, err := p.shelf.OrderOnce(c.UserContext(), cmp.Or(t.v.Get("id"), uuid.NewString()), t.v.Get("supplier"), asked, t.v.Get("note"), by(c))
		return "/buying/" + purchase.ID, err
	}, unlessChanged(func(status int, f forms) error { return p.showBuying(c, status, buyingPage{forms: f}) }))
}
