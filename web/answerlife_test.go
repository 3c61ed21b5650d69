package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// ordered is a quote that its customer ordered on their page, with the order.
func (s *shop) ordered() (sales.Order, string) {
	s.t.Helper()
	q, path := s.linked()
	v := s.visit()
	v.press(v.get(path), path, "accept", "name", "Hedda", "latex", "no").want(http.StatusSeeOther)
	o, found, err := s.sales.Accepted(s.t.Context(), q)
	s.must(err)
	if !found {
		s.t.Fatal("no order")
	}
	return o, path
}

// offered offers a change to so many studs, as the maker does on the page.
func (s *shop) offered(owner *visitor, o sales.Order, studs, label string) {
	s.t.Helper()
	at := "/orders/" + o.ID + "/change"
	t, err := s.sales.Order(s.t.Context(), o.ID)
	s.must(err)
	form := t.Quote.Form
	form.Studs = orderform.T(studs)
	c, err := s.sales.PriceChange(s.t.Context(), o.ID, form)
	s.must(err)
	page := owner.get(at).want(http.StatusOK)
	fields := url.Values{}
	for name, value := range page.fields() {
		fields.Set(name, value)
	}
	fields.Set("studs", studs)
	fields.Set("label", label)
	fields.Set("gross", c.After.Gross.String())
	fields.Set("do", "offer")
	owner.post(at, fields).want(http.StatusSeeOther)
}

// A change is offered by the maker and answered by the customer on their page: with a name, once, as it was seen.
func TestACustomerAnswersAChange(t *testing.T) {
	s := stocked(t)
	o, path := s.ordered()
	owner, v := s.as(people.Owner), s.visit()
	s.offered(owner, o, "12", "Twelve <b>studs</b>")
	owner.get("/orders/"+o.ID).want(http.StatusOK).says("Twelve <b>studs</b>", "no answer yet")
	page := v.get(path).want(http.StatusOK)
	page.says("A change waits for your answer", "Twelve <b>studs</b>", "The order then", "Accept the change", "studs")
	page.lacks("<b>studs")
	v.get(path+"?in=de").says("Eine Änderung wartet auf Ihre Antwort", "Änderung zahlungspflichtig annehmen")
	v.get(path + "?in=fr").says("Une modification attend votre réponse")
	page = v.get(path)
	document := page.fields()["change.document"]
	doc, err := s.sales.Paper(t.Context(), o.ID, sales.ChangePaper, 1)
	s.must(err)
	if document != doc.Hash {
		t.Errorf("the page shows %q, the note is %q", document, doc.Hash)
	}
	if pdf := v.get(path + "/papers/change/1").want(http.StatusOK); pdf.body != string(doc.Bytes) {
		t.Error("the change note is not the one that was kept")
	}
	at := path + "/change/1"
	answer := func(v *visitor, do, name, document, reason string) reply {
		t.Helper()
		return v.post(at, url.Values{"do": {do}, "change.name": {name}, "change.document": {document}, "change.reason": {reason}})
	}
	long := strings.Repeat("ä", 2001)
	answer(v, "accept", " ", document, "").want(http.StatusUnprocessableEntity).says("Write your name", "A change waits")
	answer(v, "accept", strings.Repeat("x", 201), document, "").want(http.StatusUnprocessableEntity).says("Write your name")
	if a := answer(v, "decline", "Hedda", document, long).want(http.StatusUnprocessableEntity); a.fields()["change.name"] != "Hedda" {
		t.Error("what was typed is gone")
	}
	answer(v, "accept", "Hedda", "", "").want(http.StatusConflict).says("in the meantime")
	answer(v, "accept", "Hedda", strings.Repeat("0", 64), "").want(http.StatusConflict)
	answer(v, "drop", "Hedda", document, "").want(http.StatusNotFound)
	v.post(path+"/change/7", url.Values{"do": {"accept"}, "change.name": {"Hedda"}, "change.document": {document}}).want(http.StatusNotFound)
	v.post(path+"/change/x", url.Values{"do": {"accept"}}).want(http.StatusNotFound)
	v.post("/q/"+strings.Repeat("A", 26)+"/change/1", url.Values{"do": {"accept"}}).want(http.StatusNotFound)
	v.post(at, url.Values{"csrf": {"forged"}, "do": {"accept"}, "change.name": {"Hedda"}, "change.document": {document}}).want(http.StatusForbidden)
	for _, role := range people.Roles() { // whoever is signed in only looks
		w := s.as(role)
		w.get(path)
		answer(w, "accept", "Hedda", document, "").want(http.StatusForbidden)
	}
	before, err := s.sales.Order(t.Context(), o.ID)
	s.must(err)
	if len(before.Order.Lines) != 1 {
		t.Fatalf("%+v", before.Order.Lines)
	}

	other := s.visit()
	other.get(path)
	if to := answer(v, "accept", " Hedda\n vom Sund ", document, "At last").to(); to != path+"?in=en&done=accept-change" {
		t.Error(to)
	}
	v.get(path+"?done=accept-change").says("The change is agreed", "accepted by Hedda vom Sund", document, "12 studs", "Change 1: Twelve")
	if to := answer(other, "accept", "Hedda", document, "").to(); !strings.HasSuffix(to, "done=already-said") {
		t.Error(to)
	}
	answer(other, "decline", "Hedda", document, "").want(http.StatusConflict).says("in the meantime", "accepted by Hedda")
	life, err := s.sales.Life(t.Context(), o.ID)
	s.must(err)
	if n := life.Changes[0]; n.State != sales.Consented || !n.Online || n.Name != "Hedda vom Sund" || n.Reason != "At last" || n.Answered.IsZero() {
		t.Errorf("%+v", n)
	}
	now, err := s.sales.Order(t.Context(), o.ID)
	s.must(err)
	if len(now.Order.Lines) != 2 || now.Order.Lines[1].Kind != sales.ChangeLine {
		t.Errorf("%+v", now.Order.Lines)
	}
	owner.get("/today").says("change accepted", "Twelve", "At last")
	owner.get("/orders/"+o.ID).says("accepted", "by Hedda vom Sund on their own page")

	// Declined, and taken back while the customer looks.
	s.offered(owner, o, "14", "Fourteen")
	page = v.get(path)
	v.post(path+"/change/2", url.Values{"do": {"decline"}, "change.name": {"Hedda"}, "change.document": {page.fields()["change.document"]}}).want(http.StatusSeeOther)
	s.offered(owner, o, "16", "Sixteen")
	page = v.get(path)
	owner.post("/orders/"+o.ID+"/changes/3", url.Values{"do": {"withdraw"}}).want(http.StatusSeeOther)
	v.post(path+"/change/3", url.Values{"do": {"accept"}, "change.name": {"Hedda"}, "change.document": {page.fields()["change.document"]}}).want(http.StatusConflict).says("taken back by the workshop")
	v.get(path).says("declined by Hedda")
}

// A drawing is shown, sent back with words, shown again and approved; then it can be cut.
// What is made after a change has the cautions of what is made, and the page says how many are.
func TestCautionsFollowAChange(t *testing.T) {
	s := stocked(t)
	o, path := s.ordered()
	owner, v := s.as(people.Owner), s.visit()
	page := v.get(path)
	page.says("Contains natural rubber latex")
	page.lacks("pieces, all alike")
	was, err := s.sales.Order(t.Context(), o.ID)
	s.must(err)
	form, err := was.Quote.Form.With(map[string]string{"coat.system": "primer", "quantity": "3"})
	s.must(err)
	c, err := s.sales.PriceChange(t.Context(), o.ID, form)
	s.must(err)
	_, err = s.sales.OfferChange(t.Context(), o.ID, was.Order.Edit, c.After.Gross.String(), "Three, without latex", form, "Wren")
	s.must(err)
	_, err = s.sales.AnswerChange(t.Context(), o.ID, 1, true, sales.Choice{Name: "Hedda"}, "Wren")
	s.must(err)
	page = v.get(path).want(http.StatusOK)
	page.says("3 pieces, all alike")
	page.lacks("natural rubber latex")
	v.get(path + "?in=de").says("3 Stück, alle gleich")
	owner.get("/orders/" + o.ID).says("3 pieces")
}

func TestACustomerApprovesADrawing(t *testing.T) {
	s := stocked(t)
	o, path := s.ordered()
	owner, v := s.as(people.Owner), s.visit()
	shown := "/orders/" + o.ID + "/drawings"
	owner.post(shown, url.Values{"note": {strings.Repeat("x", 2001)}}).want(http.StatusUnprocessableEntity).says("too long")
	owner.post(shown, url.Values{"note": {"Look at the <i>rim</i>"}}).want(http.StatusSeeOther)
	owner.post(shown, nil).want(http.StatusConflict).says("waits for its answer")
	page := v.get(path).want(http.StatusOK)
	page.says("Is this drawing right?", "Look at the <i>rim</i>", "The drawing is right")
	page.lacks("<i>rim")
	at := path + "/drawing/1"
	v.post(at, url.Values{"do": {"redraw"}, "drawing.name": {"Hedda"}}).want(http.StatusUnprocessableEntity).says("Write what should be different")
	v.post(at, url.Values{"do": {"redraw"}, "drawing.name": {"Hedda"}, "drawing.words": {strings.Repeat("x", 2001)}}).want(http.StatusUnprocessableEntity).says("longer than 2000")
	v.post(at, url.Values{"do": {"approve"}, "drawing.words": {"Fine"}}).want(http.StatusUnprocessableEntity).says("Write your name")
	v.post(at, url.Values{"do": {"sum"}}).want(http.StatusNotFound)
	v.post(at, url.Values{"csrf": {""}, "do": {"approve"}, "drawing.name": {"Hedda"}}).want(http.StatusForbidden)
	if to := v.post(at, url.Values{"do": {"redraw"}, "drawing.name": {"Hedda"}, "drawing.words": {"Rim <u>wider</u>"}}).to(); !strings.HasSuffix(to, "done=redraw-drawing") {
		t.Error(to)
	}
	v.get(path).says("to be changed, said Hedda", "Rim <u>wider</u>")
	owner.get("/today").says("drawing to be changed", "Rim <u>wider</u>")
	if to := v.post(at, url.Values{"do": {"redraw"}, "drawing.name": {"Hedda"}, "drawing.words": {"Rim <u>wider</u>"}}).to(); !strings.HasSuffix(to, "done=already-said") {
		t.Error(to)
	}
	v.post(at, url.Values{"do": {"approve"}, "drawing.name": {"Hedda"}}).want(http.StatusConflict).says("in the meantime")
	owner.post(shown, nil).want(http.StatusSeeOther)
	owner.get("/today").lacks("drawing to be changed")
	v.post(path+"/drawing/2", url.Values{"do": {"approve"}, "drawing.name": {"Hedda"}}).want(http.StatusSeeOther)
	owner.get("/today").says("drawing approved")
	owner.get("/orders/"+o.ID).says("approved", "by Hedda", "on their own page", "Of 2 rounds in the price 2 are used")
	life, err := s.sales.Life(t.Context(), o.ID)
	s.must(err)
	if a := life.Rounds[1]; a.Verdict != sales.Approved || !a.Online || a.Picture == "" {
		t.Errorf("%+v", a)
	}
}

// The maker's forms about an order: bad entries, twice, cancelled with the rest of the money said.
func TestTheLifeOfAnOrderOnItsPage(t *testing.T) {
	s := stocked(t)
	o, path := s.ordered()
	owner, v, day := s.as(people.Owner), s.visit(), time.Now().Format(time.DateOnly)
	at := "/orders/" + o.ID
	owner.post(at+"/deliver", url.Values{"day": {day}, "pieces": {"1"}, "way": {"collected"}, "edit": {"0"}}).want(http.StatusConflict)
	owner.post(at+"/pay", url.Values{"day": {day}}).want(http.StatusSeeOther)
	v.get(path).says("has not begun yet")
	page := owner.get(at)
	edit := page.fields()["edit"]
	bad := owner.post(at+"/deliver", url.Values{"day": {aDay(40)}, "pieces": {"9"}, "way": {"thrown"}, "edit": {edit}, "whom": {"Hedda"}}).want(http.StatusUnprocessableEntity)
	bad.says("has not come yet", "from 1 to 1", "Choose collected")
	handed := url.Values{"day": {day}, "pieces": {"1"}, "way": {"parcel"}, "edit": {edit}}
	owner.post(at+"/deliver", handed).want(http.StatusSeeOther)
	owner.post(at+"/deliver", handed).want(http.StatusConflict).says("has changed since")
	owner.get(at).says("Everything is with its owner", "mended free until", "Care sheet")
	v.get(path).says("Everything has been handed over", "sent as a parcel", "mended free until", "Care sheet")
	v.get(path+"?in=de").says("als Paket versandt", "kostenlos ausgebessert")

	o, path = s.ordered()
	at = "/orders/" + o.ID
	owner.post(at+"/pay", url.Values{"day": {day}}).want(http.StatusSeeOther)
	s.offered(owner, o, "12", "Twelve studs")
	owner.post(at+"/cancel", url.Values{"kept": {"999999"}, "reason": {"x"}}).want(http.StatusUnprocessableEntity).says("Write what is kept")
	owner.post(at+"/cancel", url.Values{"kept": {"5"}, "reason": {" "}}).want(http.StatusUnprocessableEntity).says("few words")
	owner.post(at+"/cancel", url.Values{"kept": {"5"}, "reason": {"Moved away"}}).want(http.StatusSeeOther)
	owner.get(at).says("goes back to the customer", "It was paid back", "Account of the cancellation", "Cancelled, not charged")
	page = v.get(path)
	page.says("cancelled", "Account of the cancellation")
	page.lacks("A change waits")
	d, err := s.sales.Dues(t.Context(), o.ID)
	s.must(err)
	if d.Total.Gross.String() != "5.00" {
		t.Errorf("%s is kept", d.Total.Gross)
	}
	owner.post(at+"/refund", url.Values{"amount": {d.Overpaid().String()}, "day": {day}, "way": {"transfer"}, "token": {"a-token-of-its-own"}}).want(http.StatusSeeOther)
	page = owner.get(at)
	page.says("is kept and not invoiced yet", "Issue the invoice")
	page.lacks("goes back to the customer")
}

// A drawing that waits while a change is agreed shows what is ordered no longer: it is approved no more, and nothing is cut
// before the next one is.
func TestAChangeOvertakesTheDrawingThatWaits(t *testing.T) {
	s := stocked(t)
	o, path := s.ordered()
	owner, v := s.as(people.Owner), s.visit()
	at := "/orders/" + o.ID
	owner.post(at+"/drawings", nil).want(http.StatusSeeOther)
	v.get(path).says("Is this drawing right?")
	s.offered(owner, o, "12", "Twelve")
	_, err := s.sales.AnswerChange(t.Context(), o.ID, 1, true, sales.Choice{Name: "Hedda"}, "Wren")
	s.must(err)
	v.post(path+"/drawing/1", url.Values{"do": {"approve"}, "drawing.name": {"Hedda"}}).want(http.StatusConflict).lacks("Is this drawing right?")
	v.get(path + "?in=de").says("durch eine Änderung am")
	owner.post(at+"/drawings/1", url.Values{"verdict": {"approved"}, "name": {"Hedda"}}).want(http.StatusConflict).says("before the last change")
	owner.get(at).says("shows what was ordered before the last change", "show another")
	owner.post(at+"/drawings", nil).want(http.StatusSeeOther)
	v.post(path+"/drawing/2", url.Values{"do": {"approve"}, "drawing.name": {"Hedda"}}).want(http.StatusSeeOther)
}
