package sales_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// Invoice prints an invoice in words, with what was paid of it.
func (typist) Invoice(_ context.Context, i sales.Invoice) ([]byte, error) {
	return fmt.Appendf(nil, "%s %s %s of %s, paid %s", i.Kind, i.Number, i.Totals.Gross, i.Order, i.Paid), nil
}

// booked is a draft of a form, accepted and paid.
func (b *books) booked(q sales.Quote) sales.Order {
	b.t.Helper()
	t, err := b.Accept(b.t.Context(), b.issue(q).ID, sales.Choice{Name: "Mara"}, "Wren")
	fatal(b.t, err)
	t, err = b.DepositCame(b.t.Context(), t.Order.ID, *b.now, sales.OtherWay, "")
	fatal(b.t, err)
	return t.Order
}

func day(s string) time.Time {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return d
}

func says(t testing.TB, err error, kind fault.Kind, words string) {
	t.Helper()
	if fault.KindOf(err) != kind || !strings.Contains(fmt.Sprint(err, fault.ProblemsOf(err)), words) {
		t.Errorf("want %v %q, got %v %v", kind, words, err, fault.ProblemsOf(err))
	}
}

// An event gives a draft its rule and the day before it, warns when it is late, and ends in a list that is handed over in
// one go.
func TestEvent(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	w, err := b.Workshop(ctx)
	fatal(t, err)
	rule := w.Figures.Rules[0]
	_, err = b.KeepEvent(ctx, sales.Event{Name: " ", Last: day("2026-01-01"), Rule: "none such"})
	says(t, err, fault.Invalid, "no such rule")
	first := b.now.AddDate(0, 0, 200)
	first = day(first.Format(time.DateOnly))
	e, err := b.KeepEvent(ctx, sales.Event{Name: "Fen Muster", Place: "Harrowmouth meadows", First: first, Rule: rule.Code})
	fatal(t, err)
	if !e.Last.Equal(first) || e.Edition != rule.Edition || !e.OrderBy.Equal(first.AddDate(0, 0, -1-w.Figures.Rates.LeadDays)) {
		t.Errorf("%+v", e)
	}
	_, err = b.KeepEvent(ctx, sales.Event{Name: "Fen Muster", First: first})
	says(t, err, fault.Conflict, "already")
	stale := e
	e.Note = "two days of rain"
	e, err = b.KeepEvent(ctx, e)
	fatal(t, err)
	_, err = b.KeepEvent(ctx, stale)
	says(t, err, fault.Conflict, "Somebody else")

	q := b.draft(small(t))
	q, err = b.ChooseEvent(ctx, q.ID, q.Edit, e.ID)
	fatal(t, err)
	if q.Form.Rule.String() != rule.Code || q.Form.Delivery.By.String() != first.AddDate(0, 0, -1).Format(time.DateOnly) {
		t.Errorf("rule %s by %s", q.Form.Rule, q.Form.Delivery.By)
	}
	sooner, err := q.Form.With(map[string]string{"delivery.by": first.AddDate(0, 0, -30).Format(time.DateOnly)})
	fatal(t, err)
	if f, err := e.For(sooner); err != nil || f.Delivery.By != sooner.Delivery.By {
		t.Errorf("an earlier day was overwritten: %s %v", f.Delivery.By, err)
	}
	if e.Warns(*b.now) != "" || !strings.Contains(e.Warns(e.OrderBy.AddDate(0, 0, 1)), "last day to order") || e.Warns(e.OrderBy) != "" {
		t.Error(e.Warns(*b.now), e.Warns(e.OrderBy.AddDate(0, 0, 1)))
	}
	_, err = b.ChooseEvent(ctx, q.ID, q.Edit-1, e.ID)
	says(t, err, fault.Conflict, "Somebody else")

	q = b.issue(q)
	next, err := b.Revise(ctx, q.ID) // a new version is for the same event
	fatal(t, err)
	if its, err := b.EventOf(ctx, next.ID); err != nil || its == nil || its.ID != e.ID {
		t.Errorf("%+v %v", its, err)
	}
	fatal(t, b.Discard(ctx, next.ID))
	one := b.booked(b.forEvent(small(t), e))
	two := b.booked(b.forEvent(small(t), e))
	waiting, err := b.Accept(ctx, q.ID, sales.Choice{Name: "Mara"}, "Wren")
	fatal(t, err)
	h, err := b.Handover(ctx, e.ID)
	fatal(t, err)
	if len(h.Lines) != 3 || h.Left() != 3 || h.Open().Sign() <= 0 {
		t.Fatalf("%+v", h)
	}
	tick := func(orders ...sales.Order) (all []sales.Ticked) {
		for _, o := range orders {
			now, err := b.Order(ctx, o.ID)
			fatal(t, err)
			all = append(all, sales.Ticked{Order: o.ID, Edit: now.Order.Edit})
		}
		return all
	}
	says(t, b.HandOver(ctx, e.ID, nil, *b.now, "Wren"), fault.Invalid, "Tick")
	err = b.HandOver(ctx, e.ID, tick(one, waiting.Order), *b.now, "Wren")
	says(t, err, fault.State, "deposit")
	if l, _ := b.Life(ctx, one.ID); len(l.Deliveries) != 0 {
		t.Error("half of a refused list was noted")
	}
	both := tick(one, two)
	fatal(t, b.HandOver(ctx, e.ID, both, *b.now, "Wren"))
	says(t, b.HandOver(ctx, e.ID, both, *b.now, "Wren"), fault.Conflict, "changed")
	l, err := b.Life(ctx, two.ID)
	fatal(t, err)
	if l.Left != 0 || len(l.Deliveries) != 1 || l.Deliveries[0].Way != sales.AtEvent || l.Deliveries[0].Note != "Fen Muster" {
		t.Errorf("%+v", l.Deliveries)
	}
	h, err = b.Handover(ctx, e.ID)
	fatal(t, err)
	if h.Left() != 1 {
		t.Errorf("%d left", h.Left())
	}
	all, err := b.Events(ctx)
	fatal(t, err)
	if len(all) != 1 || all[0].Orders != 3 {
		t.Errorf("%+v", all)
	}
}

func (b *books) forEvent(f orderform.Form, e sales.Event) sales.Quote {
	b.t.Helper()
	q := b.draft(f)
	q, err := b.ChooseEvent(b.t.Context(), q.ID, q.Edit, e.ID)
	fatal(b.t, err)
	return q
}

// A group is written down line by line; part deliveries say who got theirs, each once, and whoever has it stays.
func TestGroup(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	f, err := small(t).With(map[string]string{"quantity": "3"})
	fatal(t, err)
	q := b.draft(f)
	_, err = b.SetGroup(ctx, q.ID, sales.Group{Wearers: []sales.Wearer{{Hand: "left"}, {Name: "Ilse", Hand: "third"}}})
	says(t, err, fault.Invalid, "whose")
	g, err := b.SetGroup(ctx, q.ID, sales.Group{Pays: "Jonas collects", Wearers: []sales.Wearer{{Name: "Ilse", Hand: "left", Colour: "red", Size: "small hand"}, {}, {Name: "Jonas", Hand: "right"}}})
	fatal(t, err)
	if len(g.Wearers) != 2 || g.Wearers[1].No != 2 || !strings.Contains(g.Warns(3), "2 of 3") || g.Warns(2) != "" || !strings.Contains(g.Warns(1), "two wearers for one piece") {
		t.Errorf("%+v %q %q", g, g.Warns(3), g.Warns(1))
	}
	if got := g.Wearers[0].Says(words.Speak("de")); got != "Ilse, linke Hand, red, small hand" {
		t.Error(got)
	}
	g.Wearers = append(g.Wearers, sales.Wearer{Name: "Bram"})
	g, err = b.SetGroup(ctx, q.ID, g)
	fatal(t, err)
	o := b.booked(q) // its confirmation was printed with them
	hand := func(pieces int, wearers ...int) error {
		now, err := b.Order(ctx, o.ID)
		fatal(t, err)
		_, err = b.Deliver(ctx, o.ID, now.Order.Edit, sales.Delivery{Day: *b.now, Pieces: pieces, Way: "collected", Wearers: wearers}, "Wren")
		return err
	}
	says(t, hand(1, 1, 2), fault.Invalid, "cannot have got")
	says(t, hand(1, 9), fault.Invalid, "not on the list")
	fatal(t, hand(1, 2))
	says(t, hand(1, 2), fault.Invalid, "already")
	g, err = b.Group(ctx, q.ID)
	fatal(t, err)
	if names := g.With(1); len(names) != 1 || names[0] != "Jonas" || len(g.Waiting()) != 2 {
		t.Errorf("%v %+v", names, g)
	}
	_, err = b.SetGroup(ctx, q.ID, sales.Group{Wearers: g.Wearers[:1]})
	says(t, err, fault.Invalid, "Jonas has theirs already")
	fatal(t, hand(2)) // all that is left: all who wait
	g, err = b.Group(ctx, q.ID)
	fatal(t, err)
	if len(g.Waiting()) != 0 || len(g.With(2)) != 2 {
		t.Errorf("%+v", g)
	}
}

func TestParcel(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	o := b.booked(b.draft(small(t)))
	now, err := b.Order(ctx, o.ID)
	fatal(t, err)
	_, err = b.Deliver(ctx, o.ID, now.Order.Edit, sales.Delivery{Day: *b.now, Pieces: 1, Way: sales.ByParcel}, "Wren")
	fatal(t, err)
	p := sales.Parcel{Order: o.ID, Nth: 1, Carrier: "Ferry post", Tracking: "HM 204", State: sales.ParcelSent}
	says(t, b.KeepParcel(ctx, sales.Parcel{Order: o.ID, Nth: 2}, dec("0"), "Wren"), fault.NotFound, "no such delivery")
	says(t, b.KeepParcel(ctx, sales.Parcel{Order: o.ID, Nth: 1, State: "lost"}, dec("-1"), "Wren"), fault.Invalid, "carries")
	old := p
	old.Sent = time.Now().AddDate(-7, 0, 0)
	says(t, b.KeepParcel(ctx, old, dec("0"), "Wren"), fault.Invalid, "before it was ordered")
	says(t, b.KeepParcel(ctx, p, dec("99999999999"), "Wren"), fault.Invalid, "from 0 to")
	fatal(t, b.KeepParcel(ctx, p, dec("250"), "Wren"))
	p.State = sales.ParcelDamaged
	says(t, b.KeepParcel(ctx, p, dec("250"), "Wren"), fault.Invalid, "why it is damaged")
	p.Note = "rim pressed in"
	fatal(t, b.KeepParcel(ctx, p, dec("250"), "Wren"))
	all, err := b.Parcels(ctx, o.ID)
	fatal(t, err)
	if len(all) != 1 || all[0].State != sales.ParcelDamaged || all[0].Insured.String() != "250.00" {
		t.Errorf("%+v", all)
	}
	if told := all[0].Told(words.Tongue{}); !strings.Contains(told, "Ferry post, number HM 204") || strings.Contains(told, "250") || strings.Contains(told, "rim") {
		t.Error(told)
	}
}

// held is a picture as a camera held it: red at its left, blue at its right, with an Exif block that says which way is up.
func held(t testing.TB, w, h, way int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{220, 20, 20, 255}
			if x >= w/2 {
				c = color.RGBA{20, 20, 220, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	fatal(t, jpeg.Encode(&b, img, nil))
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00")
	tiff = binary.LittleEndian.AppendUint32(tiff, uint32(way))
	tiff = append(tiff, "\x00\x00\x00\x00made in Harrowmouth, 53.1 N"...)
	exif := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(exif)+2))...)
	return append(append(out, exif...), b.Bytes()[2:]...)
}

// A photo is made anew: small enough, upright, and without anything the camera wrote into it.
func TestPhoto(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	o := b.booked(b.draft(small(t)))
	of := func(sent []byte) (sales.Photo, error) {
		return b.AddPhoto(ctx, sales.Photo{Of: sales.PhotoOfOrder, OfID: o.ID, Shared: true}, sent, "Wren")
	}
	for way, top := range map[int]string{1: "", 6: "red", 8: "blue"} {
		p, err := of(held(t, 2400, 1200, way))
		fatal(t, err)
		body, err := b.PhotoBytes(ctx, p.ID, false)
		fatal(t, err)
		img, err := jpeg.Decode(bytes.NewReader(body))
		fatal(t, err)
		if bytes.Contains(body, []byte("Harrowmouth")) || bytes.Contains(body, []byte("Exif")) {
			t.Error("what the camera wrote is still there")
		}
		w, h := img.Bounds().Dx(), img.Bounds().Dy()
		if turned := way >= 5; turned != (h > w) || max(w, h) != 1600 || min(w, h) != 800 || p.Width != w || p.Height != h {
			t.Errorf("way %d: %d × %d", way, w, h)
		}
		r, _, blue, _ := img.At(w/2, 10).RGBA()
		if top == "red" && r < blue || top == "blue" && blue < r {
			t.Errorf("way %d: the top is not %s", way, top)
		}
		small, err := b.PhotoBytes(ctx, p.ID, true)
		fatal(t, err)
		if c, err := jpeg.DecodeConfig(bytes.NewReader(small)); err != nil || max(c.Width, c.Height) != 320 || len(small) >= len(body) {
			t.Errorf("%+v %v", c, err)
		}
	}
	var huge bytes.Buffer
	fatal(t, png.Encode(&huge, image.NewPaletted(image.Rect(0, 0, 9000, 9000), color.Palette{color.White})))
	for name, sent := range map[string][]byte{"nothing": nil, "text": []byte("<svg onload=alert(1)>"), "cut off": held(t, 300, 300, 1)[:900], "60 million points": huge.Bytes()} {
		if _, err := of(sent); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, err := of(make([]byte, sales.MaxPhoto+1))
	says(t, err, fault.TooLarge, "12 MB")
	_, err = b.AddPhoto(ctx, sales.Photo{Of: "order", OfID: "seven"}, held(t, 30, 30, 1), "Wren")
	says(t, err, fault.NotFound, "no such")

	all, err := b.Photos(ctx, sales.PhotoOfOrder, o.ID)
	fatal(t, err)
	p := all[0]
	if len(all) != 3 || !p.Outside(*b.now) {
		t.Fatalf("%+v", all)
	}
	p.SecretUntil, p.Consent = day(b.now.AddDate(0, 0, 10).Format(time.DateOnly)), sales.MayShow
	p, err = b.SavePhoto(ctx, p)
	fatal(t, err)
	if p.Outside(*b.now) || p.Outside(p.SecretUntil.Add(-time.Minute)) || !p.Outside(p.SecretUntil) {
		t.Error("a gift is shown before its day")
	}
	p, err = b.DeletePhoto(ctx, p.ID, "Ilse")
	fatal(t, err)
	if _, err := b.PhotoBytes(ctx, p.ID, false); fault.KindOf(err) != fault.NotFound || p.DeletedBy != "Ilse" || p.Deleted.IsZero() || p.Outside(p.SecretUntil) {
		t.Errorf("%+v %v", p, err)
	}
}

// A repair goes from its tag to where it is given back; what is not mended free waits for a yes to its price.
func TestRepair(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	o := b.booked(b.draft(small(t)))
	now, err := b.Order(ctx, o.ID)
	fatal(t, err)
	_, err = b.Deliver(ctx, o.ID, now.Order.Edit, sales.Delivery{Day: *b.now, Pieces: 1, Way: "collected"}, "Wren")
	fatal(t, err)
	_, err = b.TakeIn(ctx, sales.Repair{}, "Wren")
	says(t, err, fault.Invalid, "what it is")
	_, err = b.TakeIn(ctx, sales.Repair{OrderID: o.ID, What: "Target", Condition: "strap torn off", Came: time.Now().AddDate(-9, 0, 0)}, "Wren")
	says(t, err, fault.Invalid, "before it was ordered")
	r, err := b.TakeIn(ctx, sales.Repair{OrderID: o.ID, What: "Target", Condition: "strap torn off"}, "Wren")
	fatal(t, err)
	if r.Tag.No != 1 || r.CustomerID != b.customer.ID || r.State != sales.CameIn || !r.Waits() {
		t.Errorf("%+v", r)
	}
	w, err := b.Workshop(ctx)
	fatal(t, err)
	r, free, err := b.Repair(ctx, r.ID)
	fatal(t, err)
	if last := day(b.now.Format(time.DateOnly)).AddDate(0, 0, w.WarrantyDays); !free.Equal(last) || !sales.InWarranty(last, free) || sales.InWarranty(last.AddDate(0, 0, 1), free) || sales.InWarranty(last, time.Time{}) {
		t.Errorf("free until %s", free)
	}
	_, err = b.QuoteRepair(ctx, r.ID, r.Edit)
	says(t, err, fault.State, "after it was inspected")
	_, err = b.MoveRepair(ctx, r.ID, r.Edit, sales.AtBench, "")
	says(t, err, fault.State, "cannot be at the bench next")
	_, err = b.Inspect(ctx, r.ID, r.Edit+1, "re-glue", false)
	says(t, err, fault.Conflict, "changed")
	r, err = b.Inspect(ctx, r.ID, r.Edit, "re-glue the strap, it was cut", false)
	fatal(t, err)
	_, err = b.MoveRepair(ctx, r.ID, r.Edit, sales.AtBench, "")
	says(t, err, fault.State, "no price yet")
	q, err := b.QuoteRepair(ctx, r.ID, r.Edit)
	fatal(t, err)
	again, err := b.QuoteRepair(ctx, r.ID, r.Edit)
	fatal(t, err)
	if q.ID != again.ID || q.Form.Kind.String() != "repair" || q.Title != "Repair 1 of 2026: Target" {
		t.Errorf("%+v", q)
	}
	r, _, err = b.Repair(ctx, r.ID)
	fatal(t, err)
	_, err = b.MoveRepair(ctx, r.ID, r.Edit, sales.AtBench, "")
	says(t, err, fault.State, "not accepted")
	f, err := q.Form.With(map[string]string{"steps.0.minutes": "25"})
	fatal(t, err)
	q, err = b.SaveDraft(ctx, q.ID, q.Edit, q.CustomerID, q.Title, f)
	fatal(t, err)
	b.booked(q)
	for _, to := range []sales.RepairState{sales.AtBench, sales.Mended, sales.GivenBack} {
		r, err = b.MoveRepair(ctx, r.ID, r.Edit, to, "")
		fatal(t, err)
	}
	second, err := b.TakeIn(ctx, sales.Repair{CustomerID: b.customer.ID, What: "An old kite", Condition: "core broken"}, "Wren")
	fatal(t, err)
	_, err = b.MoveRepair(ctx, second.ID, second.Edit, sales.Scrapped, " ")
	says(t, err, fault.Invalid, "why")
	second, err = b.MoveRepair(ctx, second.ID, second.Edit, sales.Scrapped, "nothing left to glue to")
	fatal(t, err)
	over, err := b.Repairs(ctx, sales.RepairFound{Over: true})
	fatal(t, err)
	waits, err := b.Repairs(ctx, sales.RepairFound{})
	fatal(t, err)
	if len(over) != 2 || len(waits) != 0 || second.Tag.No != 2 || r.Waits() {
		t.Errorf("%+v %+v", over, waits)
	}
	if doc, err := b.Tag(ctx, r.ID); err != nil || doc.Name != "tag-2026-1.pdf" {
		t.Errorf("%s %v", doc.Name, err)
	}
}

// A finished shield is sold once, however many press at the same time: one order, one payment, one invoice, and numbers
// without gaps; the books come to the list price to the cent.
func TestSoldOnce(t *testing.T) {
	b := openBooks(t, nil)
	ctx := t.Context()
	d, err := b.KeepDesign(ctx, sales.Design{Name: "Target", Form: small(t)})
	fatal(t, err)
	says(t, b.SetStandard(ctx, d.ID, day("2020-01-01"), dec("49"), "Wren"), fault.Invalid, "days that are over")
	fatal(t, b.SetStandard(ctx, d.ID, time.Time{}, dec("49.99"), "Wren"))
	later := day(b.now.AddDate(0, 1, 0).Format(time.DateOnly))
	fatal(t, b.SetStandard(ctx, d.ID, later, dec("55"), "Wren"))
	l, err := b.PriceList(ctx, *b.now, words.Tongue{})
	fatal(t, err)
	if len(l.List) != 1 || l.List[0].Price.String() != "49.99" || l.List[0].Next == nil || !strings.Contains(l.List[0].Size, "round shield") {
		t.Fatalf("%+v", l)
	}
	if l, err := b.PriceList(ctx, later, words.Tongue{}); err != nil || l.List[0].Price.String() != "55.00" || !l.From.Equal(later) {
		t.Errorf("%+v %v", l, err)
	}
	fatal(t, b.AddReady(ctx, sales.Ready{DesignID: d.ID, Place: "chest by the door"}, 3, nil, "Wren"))
	here, err := b.ReadyShields(ctx, false)
	fatal(t, err)
	if len(here) != 3 || here[0].Cost.Sign() <= 0 {
		t.Fatalf("%+v", here)
	}
	shield := here[0]
	sell := func(id, token string) (sales.Invoice, error) {
		return b.Sell(ctx, sales.ShowSale{Ready: id, Price: "49.99", Way: sales.ByCash, Token: token}, "Wren")
	}
	_, err = b.Sell(ctx, sales.ShowSale{Ready: shield.ID, Price: "45.00", Way: sales.ByCash, Token: "token-00"}, "Wren")
	says(t, err, fault.Conflict, "on the list it is 49.99")
	var wait sync.WaitGroup
	sold := make([]sales.Invoice, 8)
	failed := make([]error, 8)
	for i := range sold {
		wait.Go(func() { sold[i], failed[i] = sell(shield.ID, fmt.Sprint("two-at-once-", i)) })
	}
	wait.Wait()
	won := -1
	for i, err := range failed {
		switch {
		case err == nil && won < 0:
			won = i
		case err == nil:
			t.Errorf("sold twice: %s and %s", sold[won].Number, sold[i].Number)
		default:
			says(t, err, fault.State, "sold already")
		}
	}
	if won < 0 {
		t.Fatal(failed)
	}
	inv := sold[won]
	if again, err := sell(shield.ID, fmt.Sprint("two-at-once-", won)); err != nil || again.ID != inv.ID {
		t.Errorf("the same form again: %s %v", again.Number, err)
	}
	if inv.Kind != sales.SaleBill || inv.Totals.Gross.String() != "49.99" || inv.Payable().Sign() != 0 || inv.Buyer.Name != "Walk-in" {
		t.Errorf("%+v", inv)
	}
	dues, err := b.Dues(ctx, inv.OrderID)
	fatal(t, err)
	if !dues.Total.Gross.Equal(inv.Totals.Gross) || dues.Rest.Gross.Sign() != 0 || dues.Open().Sign() != 0 || dues.Overpaid().Sign() != 0 || len(dues.Bills) != 1 || len(dues.Payments) != 1 || dues.Order.State != sales.Done {
		t.Errorf("%+v", dues)
	}
	life, err := b.Life(ctx, inv.OrderID)
	fatal(t, err)
	if life.Left != 0 || len(life.Deliveries) != 1 {
		t.Errorf("%+v", life)
	}
	second, err := sell(here[1].ID, "the-second-one")
	fatal(t, err)
	if second.Number.No != 2 || second.Order.No != 2 || second.CustomerID != inv.CustomerID {
		t.Errorf("numbers have a gap: invoice %s of order %s", second.Number, second.Order)
	}
	_, err = sell(here[2].ID, "the-second-one")
	says(t, err, fault.Conflict, "asked for already")
	fatal(t, b.DropReady(ctx, here[2].ID, "given to the quartermaster"))
	says(t, b.DropReady(ctx, here[2].ID, "again"), fault.State, "left on")
	if left, err := b.ReadyShields(ctx, false); err != nil || len(left) != 0 {
		t.Errorf("%+v %v", left, err)
	}
}
