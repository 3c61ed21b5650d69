package sales

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/words"
)

// Group is who wears the pieces of a quote and of its order: the players' names, beside the customer's who is invoiced.
type Group struct {
	Pays    string // who pays, in a few words; empty for the customer
	Wearers []Wearer
}

// Wearer is one player of a group.
type Wearer struct {
	No     int // from 1, kept for good
	Name   string
	Hand   string // right, left or either; empty where it was not told
	Colour string
	Size   string // a note
	Nth    int    // of the delivery they got theirs with; 0 until then
}

// GroupTx is groups within one transaction.
type GroupTx interface {
	Group(ctx context.Context, quoteID string) (Group, error) // an empty one where there is none
	SetGroup(ctx context.Context, quoteID string, g Group) error
	GotTheirs(ctx context.Context, quoteID string, d Delivery) error // d.Wearers, with d
}

// Most is how many wearers a group may have: as many as pieces a quote may be for.
const mostWearers = 500

// Warns says that there are not as many wearers as pieces; empty where there are, or where there is no group.
func (g Group) Warns(pieces int) string {
	n := len(g.Wearers)
	switch {
	case n == 0 || n == pieces:
		return ""
	case n < pieces:
		return fmt.Sprintf("%d of %d pieces have a wearer. Write down %s more, or make it %s.", n, pieces, many(pieces-n, "wearer"), many(n, "piece"))
	}
	return fmt.Sprintf("There are %s for %s. Make it %s, or take %s off the list.", many(n, "wearer"), many(pieces, "piece"), many(n, "piece"), many(n-pieces, "wearer"))
}

// Waiting are those who did not get theirs yet.
func (g Group) Waiting() (all []Wearer) {
	for _, w := range g.Wearers {
		if w.Nth == 0 {
			all = append(all, w)
		}
	}
	return all
}

// With are those who got theirs with a delivery.
func (g Group) With(nth int) (names []string) {
	for _, w := range g.Wearers {
		if w.Nth == nth {
			names = append(names, w.Name)
		}
	}
	return names
}

// Line is a wearer in a line for the workshop.
func (w Wearer) Line() string { return w.Says(words.Tongue{}) }

// Says is a wearer in a line: what is made for them.
func (w Wearer) Says(t words.Tongue) string {
	parts := []string{w.Name}
	switch w.Hand {
	case "right":
		parts = append(parts, t.Say("right hand"))
	case "left":
		parts = append(parts, t.Say("left hand"))
	case "either":
		parts = append(parts, t.Say("either hand"))
	}
	for _, s := range []string{w.Colour, w.Size} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ", ")
}

// Says are the lines of a group for a document.
func (g Group) Says(t words.Tongue) (all []string) {
	for i, w := range g.Wearers {
		all = append(all, fmt.Sprintf("%d. %s", i+1, w.Says(t)))
	}
	if g.Pays != "" {
		all = append(all, t.Say("Who pays: %s", g.Pays))
	}
	return all
}

// Group is who wears the pieces of a quote and its order.
func (s *Service) Group(ctx context.Context, quoteID string) (Group, error) {
	return read(ctx, s, func(tx Tx) (Group, error) { return tx.Group(ctx, quoteID) })
}

// SetGroup writes down who wears the pieces of a quote or of the order made of it, a line each; lines without a name are
// left out. Whoever has theirs stays as they are. Numbers that are known are kept, the others are new.
func (s *Service) SetGroup(ctx context.Context, quoteID string, g Group) (Group, error) {
	return read(ctx, s, func(tx Tx) (Group, error) {
		q, err := tx.LockQuote(ctx, quoteID)
		if err != nil {
			return g, err
		}
		if q.State == Replaced || q.State == Declined {
			return g, fault.New(fault.State, "This version is %s. Write the wearers on the one that stands.", q.State)
		}
		was, err := tx.Group(ctx, quoteID)
		if err != nil {
			return g, err
		}
		if g, err = g.checked(was); err != nil {
			return g, err
		}
		if err := tx.SetGroup(ctx, quoteID, g); err != nil {
			return g, err
		}
		return tx.Group(ctx, quoteID)
	})
}

// checked is a group as it is kept, after another.
func (g Group) checked(was Group) (Group, error) {
	var l fault.List
	g.Pays = strings.TrimSpace(g.Pays)
	oneLine(&l, "pays", g.Pays)
	long(&l, "pays", g.Pays, 200)
	next := 1
	for _, w := range was.Wearers {
		next = max(next, w.No+1)
	}
	kept := Group{Pays: g.Pays}
	seen := map[int]bool{}
	for i, w := range g.Wearers {
		at := fmt.Sprintf("wearers.%d.", i)
		w.Name, w.Hand, w.Colour, w.Size, w.Nth = oneName(w.Name), strings.TrimSpace(w.Hand), strings.TrimSpace(w.Colour), strings.TrimSpace(w.Size), 0
		if w.Name == "" {
			if w.Hand+w.Colour+w.Size != "" {
				l.Add(at+"name", "", "Write whose it is.")
			}
			continue
		}
		for _, e := range []struct {
			field, value string
			most         int
		}{{"name", w.Name, 120}, {"colour", w.Colour, 60}, {"size", w.Size, 120}} {
			oneLine(&l, at+e.field, e.value)
			long(&l, at+e.field, e.value, e.most)
		}
		if !slices.Contains([]string{"", "right", "left", "either"}, w.Hand) {
			l.Add(at+"hand", w.Hand, "Choose right, left or either.")
		}
		known := slices.ContainsFunc(was.Wearers, func(o Wearer) bool { return o.No == w.No })
		if !known || seen[w.No] {
			w.No, next = next, next+1
		}
		seen[w.No] = true
		kept.Wearers = append(kept.Wearers, w)
	}
	if len(kept.Wearers) > mostWearers {
		l.Add("wearers", fmt.Sprint(len(kept.Wearers)), fmt.Sprintf("Write at most %d wearers.", mostWearers))
	}
	for _, w := range was.Wearers {
		if w.Nth > 0 && !seen[w.No] {
			l.Add("wearers", w.Name, fmt.Sprintf("%s has theirs already and stays on the list.", w.Name))
		}
	}
	return kept, l.Err()
}

// got are the wearers who get theirs with so many pieces: those that were named, or all who wait where all of it goes.
func (g Group) got(d Delivery, left int) ([]int, error) {
	waiting := g.Waiting()
	if len(d.Wearers) == 0 && d.Pieces == left {
		for _, w := range waiting {
			d.Wearers = append(d.Wearers, w.No)
		}
		return d.Wearers, nil
	}
	if len(d.Wearers) > d.Pieces {
		return nil, problem("wearers", fmt.Sprint(len(d.Wearers)), fmt.Sprintf("%d people cannot have got %s. Tick as many as there are pieces.", len(d.Wearers), many(d.Pieces, "piece")))
	}
	for _, no := range d.Wearers {
		if !slices.ContainsFunc(waiting, func(w Wearer) bool { return w.No == no }) {
			return nil, problem("wearers", fmt.Sprint(no), "One of those ticked has theirs already, or is not on the list. Look at the list again.")
		}
	}
	return d.Wearers, nil
}

// Pieces is how many a quote is for.
func (q Quote) Pieces() int { return q.pieces() }

// Pieces is how many an order is for, as it is made; q is the quote it was made of.
func (o Order) Pieces(q Quote) int { return o.as(q).pieces() }
