package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/shopspring/decimal"
)

// buckler is the demo's smallest design, and a customer it is for.
func (s *shop) buckler() (sales.Customer, orderform.Form) {
	s.t.Helper()
	designs, err := s.sales.Designs(s.t.Context())
	s.must(err)
	for _, d := range designs {
		if d.Name == "Ferry buckler" {
			customer, err := s.sales.KeepCustomer(s.t.Context(), sales.Customer{Name: "Hedda of the Sound", Email: "hedda@sound.example"})
			s.must(err)
			return customer, d.Form
		}
	}
	s.t.Fatal("no buckler")
	return sales.Customer{}, orderform.Form{}
}

// choices are options of a buckler: one that costs, and one that takes its latex away.
func choices() []sales.Option {
	return []sales.Option{
		{Key: "a", Name: "Twelve studs", Changes: map[string]string{"studs": "12"}},
		{Key: "b", Name: "A coat without latex", Changes: map[string]string{"coat.system": "primer"}},
	}
}

// linked is an issued quote, and the path of a link to it.
func (s *shop) linked(options ...sales.Option) (sales.Quote, string) {
	s.t.Helper()
	customer, form := s.buckler()
	q, err := s.sales.NewQuote(s.t.Context(), customer.ID, "Ferry buckler", form)
	s.must(err)
	if len(options) > 0 {
		q, err = s.sales.SaveOptions(s.t.Context(), q.ID, q.Edit, options)
		s.must(err)
	}
	return s.sent(s.sales, q)
}

// sent issues a draft and makes a link to it.
func (s *shop) sent(books *sales.Service, q sales.Quote) (sales.Quote, string) {
	s.t.Helper()
	e, err := books.Estimate(s.t.Context(), q.CustomerID, q.Form)
	s.must(err)
	_, err = books.Issue(s.t.Context(), q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "The owner")
	s.must(err)
	secret, err := books.Link(s.t.Context(), q.ID, "The owner")
	s.must(err)
	q, err = books.Quote(s.t.Context(), q.ID)
	s.must(err)
	return q, "/q/" + secret
}

// press sends the form of a customer's page as the last answer had it, with other entries.
func (v *visitor) press(page reply, path, do string, typed ...string) reply {
	v.t.Helper()
	fields := url.Values{"do": {do}}
	for _, hidden := range []string{"document", "once"} {
		fields.Set(hidden, page.fields()[hidden])
	}
	for i := 0; i+1 < len(typed); i += 2 {
		fields.Add(typed[i], typed[i+1])
	}
	return v.post(path, fields)
}

// addsUp is what the lines of a customer's page come to by eye.
func (a reply) addsUp() string {
	a.t.Helper()
	_, lines, _ := strings.Cut(a.body, `<ul class="lines">`)
	lines, _, _ = strings.Cut(lines, "</ul>")
	sum := decimal.Zero
	for _, m := range regexp.MustCompile(`<data>([^<]+)</data>`).FindAllStringSubmatch(lines, -1) {
		d, err := decimal.NewFromString(strings.NewReplacer("\u202f", "", "−", "-").Replace(m[1]))
		if err != nil {
			a.t.Fatal(err)
		}
		sum = sum.Add(d)
	}
	return sum.StringFixed(2)
}

// A customer looks, ticks, forgets the latex, orders, and everybody sees it once.
func TestACustomerOrders(t *testing.T) {
	s := stocked(t)
	q, path := s.linked(choices()...)
	owner, v, other := s.as(people.Owner), s.visit(), s.visit()
	page := v.get(path)
	page.want(http.StatusOK)
	page.says("Ferry buckler", "Hedda of the Sound", "What will be made", "Twelve studs", "A coat without latex", "allergic to latex?", "Order with obligation to pay", "Questions and answers", "bench@kestrel-yard.example", q.Printed.Said.Total)
	old := other.get(path)

	with, _, err := q.Asks([]string{"a"})
	s.must(err)
	want := with.Gross.String()
	if want == q.Gross.String() {
		t.Fatal("the option costs nothing: it shows no total that moves")
	}
	for _, at := range []string{path, path + "/sum"} { // by the button, by the script
		a := v.press(page, at, "sum", "option", "a", "name", "Hedda", "latex", "no")
		a.want(http.StatusOK).says(want + "\u00a0EUR")
		if got := a.addsUp(); got != want && got != with.Net.String() {
			t.Errorf("the lines add up to %s, which is neither %s nor %s", got, with.Net, want)
		}
		if at == path && (!strings.Contains(a.body, `value="a" checked`) || !strings.Contains(a.body, `value="no" checked`) || a.fields()["name"] != "Hedda") {
			t.Error("what was typed is gone")
		}
	}

	a := v.press(page, path, "accept", "option", "a").want(http.StatusUnprocessableEntity)
	a.says("Write your name", "Answer this first", want)
	if !strings.Contains(a.body, `value="a" checked`) {
		t.Error("what was ticked is gone")
	}
	a = v.press(a, path+"?in=de", "accept", "option", "a", "name", "x", "latex", "perhaps").want(http.StatusUnprocessableEntity)
	a.says("Bitte beantworten Sie das zuerst", "Zahlungspflichtig bestellen")
	if to := v.press(a, path+"?in=de", "accept", "option", "a", "name", "  Hedda\n vom Sund ", "latex", "not sure").to(); to != path+"?in=de&done=accepted" {
		t.Error(to)
	}
	done := v.get(path + "?in=en&done=accepted").want(http.StatusOK)
	done.says("Thank you!", "What happens next", "Please pay the deposit", "Twelve studs", want+"\u00a0EUR", "Ordered by Hedda vom Sund", q.Document, "You were not sure")
	done.lacks("Order with obligation")

	// The other tab, and the same press again.
	other.press(old, path, "accept", "name", "Gunnar", "latex", "no").want(http.StatusConflict).says("accepted in the meantime", "What you ordered")
	if to := other.press(old, path, "accept", "name", "Gunnar", "option", "a").to(); !strings.HasSuffix(to, "done=already") {
		t.Error(to)
	}
	other.get(path+"?done=already").says("had been answered before", "Ordered by Hedda vom Sund")
	other.press(old, path, "decline", "name", "Gunnar").want(http.StatusConflict).says("accepted in the meantime", "What you ordered")
	other.press(other.get(path), path, "ask", "question", "").want(http.StatusUnprocessableEntity).lacks("in the meantime")

	answer, found, err := s.sales.Answer(t.Context(), q.ID)
	s.must(err)
	links, err := s.sales.Links(t.Context(), q.ID)
	s.must(err)
	if !found || answer.Name != "Hedda vom Sund" || answer.By != answer.Name || !answer.Online || answer.Document != q.Document || answer.Gross.String() != want ||
		answer.Latex != sales.LatexNotSure || answer.Language != "de" || answer.Link != links[0].ID || strings.Join(answer.Options, "") != "a" || links[0].Seen.IsZero() {
		t.Errorf("%+v %+v", answer, links)
	}
	orders, err := s.sales.Orders(t.Context(), sales.Found{})
	s.must(err)
	if len(orders) != 1 {
		t.Fatalf("%d orders", len(orders))
	}
	owner.get("/today").says("From customers", "accepted", "Hedda of the Sound", "not sure about latex")
	s.as(people.Helper).get("/orders/" + orders[0].ID).says("Ask again before it is coated")
	owner.get("/quotes/"+q.ID).want(http.StatusOK).says("The customer's page", "by Hedda vom Sund on their own page, with “Twelve studs”", "not sure", "Ask again before it is coated", "last opened")
	if strings.Contains(owner.get("/today").body, "From customers") {
		t.Error("it is news although it was looked at")
	}

	// Paid, and made: nothing inner is told.
	_, err = s.sales.DepositCame(t.Context(), orders[0].ID, time.Now(), sales.OtherWay, "")
	s.must(err)
	v.get(path).says("Deposit received", "Planned to be ready", "the bench is booked")
	_, err = s.sales.Finish(t.Context(), orders[0].ID, nil, "Wren")
	s.must(err)
	v.get(path).says("It is made", "✓ Made")
}

// Where somebody is allergic nothing is ordered: it is a wish, which the workshop answers.
func TestALatexAllergyIsNoOrder(t *testing.T) {
	s := stocked(t)
	q, path := s.linked(choices()...)
	owner, v := s.as(people.Owner), s.visit()
	page := v.get(path)
	if to := v.press(page, path, "accept", "name", "Hedda", "latex", "yes").to(); !strings.HasSuffix(to, "done=wished") {
		t.Error(to)
	}
	page = v.get(path + "?done=wished").want(http.StatusOK)
	page.says("Nothing was ordered", "so nothing has been ordered", "Would order this, but")
	page.lacks("Order with obligation")
	// Another answer does not undo it, as long as the workshop has not said a word; a quick thumb wishes once.
	for _, latex := range []string{"no", "yes", "not sure"} {
		v.press(page, path, "accept", "name", "Hedda", "latex", latex).want(http.StatusSeeOther)
	}
	if orders, err := s.sales.Orders(t.Context(), sales.Found{}); err != nil || len(orders) != 0 {
		t.Fatalf("%v %v", orders, err)
	}
	owner.get("/today").says("wanted, but for latex")
	talk := owner.get("/quotes/" + q.ID)
	talk.says("Wanted to accept", "Nothing was ordered", "open")
	if n := strings.Count(talk.body, "Wanted to accept"); n != 1 {
		t.Errorf("%d wishes", n)
	}
	owner.post("/quotes/"+q.ID+"/reply", url.Values{"text": {" "}}).want(http.StatusUnprocessableEntity).says("Write what you want")
	owner.post("/quotes/"+q.ID+"/reply", url.Values{"text": {"Take the one without latex; <b>it costs little</b>."}}).want(http.StatusSeeOther)
	if strings.Contains(owner.get("/today").body, "From customers") {
		t.Error("it was answered and is still news")
	}
	page = v.get(path)
	page.says("Take the one without latex; <b>it costs little</b>.", "Order with obligation to pay")
	page.lacks("<b>it")
	// Without latex nobody is asked about it.
	v.press(page, path, "accept", "name", "Hedda", "option", "b").want(http.StatusSeeOther)
	answer, _, err := s.sales.Answer(t.Context(), q.ID)
	s.must(err)
	if answer.Latex != "" || strings.Join(answer.Options, "") != "b" {
		t.Errorf("%+v", answer)
	}
}

// What was read is what is answered: a new version, a last day that is over, a no.
func TestAnswersToWhatDoesNotStand(t *testing.T) {
	s := stocked(t)
	q, path := s.linked()
	v := s.visit()
	page := v.get(path)
	next, err := s.sales.Revise(t.Context(), q.ID)
	s.must(err)
	v.get(path).says("Order with obligation") // a draft changes nothing for the customer
	next.Form.Studs = orderform.T("10")
	next, err = s.sales.SaveDraft(t.Context(), next.ID, next.Edit, next.CustomerID, next.Title, next.Form)
	s.must(err)
	next, _ = s.sent(s.sales, next)
	for _, do := range []string{"accept", "decline"} {
		a := v.press(page, path, do, "name", "Hedda", "latex", "no").want(http.StatusConflict)
		a.says("has sent a new version", "version 2", "10 studs", "Order with obligation")
		if a.fields()["document"] != next.Document || a.fields()["name"] != "Hedda" {
			t.Error("the page that came back is not the new version's")
		}
	}
	v.press(page, path, "accept", "name", "Hedda", "latex", "yes").want(http.StatusConflict)
	v.post(path, url.Values{"do": {"accept"}, "name": {"Hedda"}, "latex": {"no"}}).want(http.StatusConflict) // who does not say what they saw
	page = v.get(path)
	v.press(page, path, "decline", "reason", strings.Repeat("ä", 2001)).want(http.StatusUnprocessableEntity).says("longer than 2000")
	v.press(page, path, "decline", "reason", "Too <i>dear</i>").want(http.StatusSeeOther)
	gone := v.get(path + "?done=declined").want(http.StatusOK)
	gone.says("You declined this quote", "has been told")
	gone.lacks("Order with obligation")
	v.press(page, path, "accept", "name", "Hedda", "latex", "no").want(http.StatusConflict).says("declined in the meantime")
	owner := s.as(people.Owner)
	owner.get("/today").says("declined", "Too <i>dear</i>")
	owner.get("/quotes/"+next.ID).says("Too <i>dear</i>", "on their own page")

	// Issued two months ago: it is read, asked about, and not accepted.
	then := sales.NewService(s.books.Sales(), s.printer, func() time.Time { return time.Now().AddDate(0, -2, 0) })
	customer, form := s.buckler()
	late, err := then.NewQuote(t.Context(), customer.ID, "Late", form)
	s.must(err)
	_, path = s.sent(then, late)
	page = v.get(path + "?in=fr").want(http.StatusOK)
	page.says("Ce devis était valable jusqu’au", "Envoyer la question")
	page.lacks("obligation de paiement")
	v.press(page, path, "accept", "name", "Hedda", "latex", "no").want(http.StatusConflict).says("does not stand any more")
	v.press(page, path, "ask", "question", "May I have it still?").want(http.StatusSeeOther)
	v.get(path).says("May I have it still?")

	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	w.NoOrdersBefore = time.Date(time.Now().Year()+1, 3, 1, 0, 0, 0, 0, time.UTC)
	s.must(s.sales.SetWorkshop(t.Context(), w, "wren"))
	_, path = s.linked()
	v.get(path).says("The bench is full", "1 March", "Order with obligation")
}

// Questions reach the workshop once, are answered on the page, and have an end.
func TestQuestions(t *testing.T) {
	s := stocked(t)
	q, path := s.linked(choices()...)
	owner, v := s.as(people.Owner), s.visit()
	page := v.get(path)
	v.press(page, path, "ask", "question", " \n ").want(http.StatusUnprocessableEntity).says("Write what you would like to know")
	a := v.press(page, path, "ask", "question", strings.Repeat("long ", 500), "option", "a").want(http.StatusUnprocessableEntity)
	a.says("at most 2000 letters", "long long")
	if !strings.Contains(a.body, `value="a" checked`) {
		t.Error("what was ticked is gone")
	}
	for range 2 { // a thumb that is quick
		if to := v.press(page, path, "ask", "question", hostile, "option", "a").to(); to != path+"?in=en&done=asked&options=a#talk" {
			t.Error(to)
		}
	}
	back := v.get(path + "?in=en&done=asked&options=a").want(http.StatusOK)
	back.says("has reached the workshop")
	if !strings.Contains(back.body, `value="a" checked`) || strings.Count(back.body, `class="said"`) != 1 || strings.Contains(back.body, "<script>alert") || strings.Contains(back.body, "<img") {
		t.Error(back.body)
	}
	for _, at := range []string{"/today", "/quotes/" + q.ID} {
		p := owner.get(at).want(http.StatusOK)
		p.lacks("<script>alert", "<img src")
		p.says(`<script>alert("x")</script>`)
	}
	owner.get("/quotes/" + q.ID).lacks("and mail it")
	s.sales.SetMailServer("mail.test:587")
	form := owner.get("/quotes/" + q.ID)
	form.says("Answer, and mail it to hedda@sound.example")
	for range 2 {
		owner.press(form, "/quotes/"+q.ID+"/reply", "mail", "text", "Ruby red, {link} too.").want(http.StatusSeeOther)
	}
	mails, err := s.sales.Mails(t.Context(), sales.MailFound{Kind: sales.MailReply})
	s.must(err)
	if len(mails) != 1 || mails[0].To != "hedda@sound.example" || !strings.Contains(mails[0].Text, "Ruby red,") || mails[0].Link != "" {
		t.Errorf("%+v", mails)
	}
	owner.post("/quotes/"+q.ID+"/reply", url.Values{"do": {"settle"}}).want(http.StatusSeeOther)
	if strings.Contains(owner.get("/today").body, "From customers") {
		t.Error("it was settled and is still news")
	}
	for range 20 {
		v.press(v.get(path), path, "ask", "question", "And?").want(http.StatusSeeOther)
	}
	v.press(v.get(path), path, "ask", "question", "And?").want(http.StatusTooManyRequests).says("written a good deal already")
	for _, role := range []people.Role{people.Helper, people.Bookkeeper} {
		w := s.as(role)
		w.get("/quotes")
		w.post("/quotes/"+q.ID+"/reply", url.Values{"text": {"x"}}).want(http.StatusForbidden)
		w.post("/quotes/"+q.ID+"/link", nil).want(http.StatusForbidden)
	}
}

// Whoever is signed in looks at a customer's page and answers nothing there, and is not taken for the customer.
func TestTheWorkshopOnlyLooks(t *testing.T) {
	s := stocked(t)
	q, path := s.linked()
	owner := s.as(people.Owner)
	page := owner.get(path).want(http.StatusOK)
	page.says("this is your customer's page")
	owner.press(page, path, "accept", "name", "Hedda", "latex", "no").want(http.StatusForbidden).says("nothing was done")
	links, err := s.sales.Links(t.Context(), q.ID)
	s.must(err)
	if orders, err := s.sales.Orders(t.Context(), sales.Found{}); err != nil || len(orders) != 0 || !links[0].Seen.IsZero() {
		t.Errorf("%v %v %v", orders, links, err)
	}
	head := s.visit()
	head.send(httptest.NewRequest(http.MethodHead, path, nil)).want(http.StatusOK) // a mail program that looks whether it is there
	if links, err = s.sales.Links(t.Context(), q.ID); err != nil || !links[0].Seen.IsZero() {
		t.Errorf("%v %v", links, err)
	}
}
