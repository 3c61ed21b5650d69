package sales_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// A later version tells what moved: entries in words, and the price by prices and by the spec apart, line by line; each
// is held against whole estimates, and the parts add up to the cent.
func TestALaterVersionTellsWhatMoved(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	c := b.customer
	c.Language = "de"
	_, err := b.KeepCustomer(t.Context(), c)
	fatal(t, err)
	form := design(t, "reed-oval", nil)
	first := b.issue(b.draft(form, sales.Option{Name: "ohne Klarlack", Changes: map[string]string{"clear_coats": ""}}))
	if first.Printed.Moved != nil {
		t.Error("a first version moved")
	}
	next, err := b.Revise(t.Context(), first.ID)
	fatal(t, err)
	if len(next.Options) != 1 || next.Options[0].Key != "a" {
		t.Errorf("a new version offers %+v", next.Options)
	}
	w, err := b.Workshop(t.Context())
	fatal(t, err)
	w.Figures.Rates.Hour = w.Figures.Rates.Hour.Add(decimal.NewFromInt(3))
	fatal(t, b.SetWorkshop(t.Context(), w, "wren"))
	between := b.estimate(form)
	// The page writes what is usual too: that is no difference.
	changed, err := form.With(map[string]string{"core.layers": "3", "paint.1": "", "studs": "8", "core.set": "cold", "paint.0.where": "face", "delivery.ship": "no", "pieces.0.prep": "keyed"})
	fatal(t, err)
	next, err = b.SaveDraft(t.Context(), next.ID, next.Edit, next.CustomerID, next.Title, changed)
	fatal(t, err)
	now := b.estimate(changed)
	next = b.issue(next)
	m := next.Printed.Moved
	if m == nil || m.Version != 1 || !m.Was.Equal(first.Gross.Decimal()) || !m.Now.Equal(now.Price.Gross.Decimal()) || m.Untold != "" {
		t.Fatalf("%+v", m)
	}
	if want := between.Price.Gross.Sub(first.Gross).Decimal(); !m.Prices.Equal(want) || !m.Prices.IsPositive() || !m.Prices.Add(m.Spec).Equal(m.By()) {
		t.Errorf("prices moved it by %s, want %s; spec %s, in all %s", m.Prices, want, m.Spec, m.By())
	}
	for _, l := range m.Lines {
		if !l.Was.Add(l.Prices).Add(l.Spec).Equal(l.Now) {
			t.Errorf("%s: %s + %s + %s is not %s", l.Label, l.Was, l.Prices, l.Spec, l.Now)
		}
	}
	last := m.Lines[len(m.Lines)-1]
	if last.Key != "gross" || !last.Now.Equal(m.Now) {
		t.Errorf("the lines end with %+v", last)
	}
	var said []string
	for _, e := range m.Entries {
		said = append(said, e.String())
	}
	if want := []string{"layers: 3, not 2", "studs: 8", "paint 2: none, not oak brown back 1"}; !slices.Equal(said, want) {
		t.Errorf("%q, want %q", said, want)
	}
	if want := []string{"Lagen: 3 statt 2.", "Neu: Ziernägel, 8.", "Entfällt: Anstrich 2 (oak brown Rückseite 1)."}; !slices.Equal(m.Said["de"], want) || len(m.Said["fr"]) != 3 {
		t.Errorf("%q, want %q", m.Said, want)
	}
	if told := m.Told(words.Speak("de"), "EUR"); len(told) != 4 || !strings.HasSuffix(told[3], "EUR höher als zuvor.") {
		t.Errorf("%q", told)
	}
	// It is read back: what moves afterwards changes nothing of it.
	*b.now = b.now.AddDate(0, 0, 5)
	again, err := b.Quote(t.Context(), next.ID)
	fatal(t, err)
	if !again.Printed.Moved.Now.Equal(m.Now) || len(again.Printed.Moved.Lines) != len(m.Lines) {
		t.Error("what moved was worked out again")
	}
}

// A quote stands shorter where a material that carries its cost has moved in price; others do not count.
func TestAVolatilePriceShortensAQuote(t *testing.T) {
	t.Parallel()
	b := openBooks(t, func(w *workshop.Workshop) {
		w.Volatile = workshop.Volatile{Share: decimal.New(2, -1), Days: 60, Valid: 10}
	})
	form := design(t, "reed-oval", nil)
	e := b.estimate(form)
	st, err := b.StandsFor(t.Context(), e)
	fatal(t, err)
	if usual := 30; st.Days != usual || len(st.Why) > 0 {
		t.Fatalf("before anything moved it stands %d days: %v", st.Days, st.Why)
	}
	note := func(item string, share string, daysAgo int) {
		t.Helper()
		list := stock.NewCatalogue(b.store.Catalogue(), func() time.Time { return *b.now })
		line, err := list.Line(t.Context(), item)
		fatal(t, err)
		for _, o := range line.Offers {
			if p, ok := o.On(*b.now); ok {
				p.Amount, p.From = p.Amount.Mul(decimal.RequireFromString(share)).Round(2), stock.Day(b.now.AddDate(0, 0, -daysAgo))
				fatal(t, list.NotePrice(t.Context(), o.ID, p, "wren"))
			}
		}
	}
	note("latex", "3", 5) // a shield with primer needs none
	note("sheet-10", "1.1", 5)
	if st, err = b.StandsFor(t.Context(), b.estimate(form)); err != nil || st.Days != 30 {
		t.Errorf("a tenth moved it: %+v, %v", st, err)
	}
	note("sheet-10", "1.2", 1)
	e = b.estimate(form)
	st, err = b.StandsFor(t.Context(), e)
	fatal(t, err)
	if st.Days != 10 || len(st.Why) != 1 || !strings.Contains(st.Why[0], "50.16 EUR each since 2 January 2026, 38 %") || !strings.Contains(st.Why[0], "10 days") {
		t.Errorf("%+v", st)
	}
	q := b.issue(b.draft(form))
	if days := int(q.ValidUntil.Sub(q.IssuedAt).Hours() / 24); days != 10 || len(q.Printed.Until) != 1 {
		t.Errorf("issued it stands %d days, %v", days, q.Printed.Until)
	}
	*b.now = b.now.AddDate(0, 0, 11)
	if q.Standing(*b.now) != sales.Expired {
		t.Errorf("it is %s", q.Standing(*b.now))
	}
	if _, err := b.Accept(t.Context(), q.ID, sales.Choice{}, "Wren"); fault.KindOf(err) != fault.State {
		t.Errorf("accepted after its last day: %v", err)
	}
	for standing, want := range map[sales.Standing]int{"": 1, sales.Open: 0, sales.Expired: 1, sales.NotSent: 0} {
		if list, err := b.Quotes(t.Context(), sales.Found{Standing: standing}); err != nil || len(list) != want {
			t.Errorf("%q: %d quotes, %v", standing, len(list), err)
		}
	}
	w, err := b.Workshop(t.Context())
	fatal(t, err)
	for _, v := range []workshop.Volatile{{Share: decimal.New(-1, 0), Days: 1, Valid: 1}, {Days: 0, Valid: 1}, {Days: 1, Valid: 400}} {
		w.Volatile = v
		if err := b.SetWorkshop(t.Context(), w, "wren"); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%+v: %v", v, err)
		}
	}
}
