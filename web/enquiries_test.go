package web_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

const asked = "Hello, a kite shield please, curved, 56 cm wide and 88 cm high, three gems, 3 layers, for Marshlight medium.\n<script>alert(1)</script>\nThanks,\nSedge Marrow\nsedge@marrow.example"

// filledAs is what a browser would send of the page.
func (a reply) filledAs() url.Values {
	typed := url.Values{}
	for name, value := range a.fields() {
		typed.Set(name, value)
	}
	typed.Del("do")
	return typed
}

func (s *shop) enquiriesNow() []sales.Enquiry {
	s.t.Helper()
	list, err := s.sales.Enquiries(s.t.Context(), sales.EnquiryFound{})
	s.must(err)
	return list
}

// From pasted words to the draft in one press, without script; what was found is filled in, what is asked is marked.
func TestPastedWordsBecomeADraft(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	form := over(v.filled("/enquiries/new"), "words", asked)
	read := v.post("/enquiries/new", over(form, "do", "read")).want(http.StatusOK)
	for _, word := range []string{"“56 cm wide”", "Marshlight medium, 3rd edition", "To ask", "allergic to natural rubber latex"} {
		if !strings.Contains(read.words(), word) {
			t.Errorf("%q is not on the page: %s", word, read.words())
		}
	}
	if strings.Contains(read.body, "<script>alert") || len(s.enquiriesNow()) != 0 {
		t.Error("read and not kept, and no word of it is markup")
	}
	live := v.post("/enquiries/live", form).want(http.StatusOK)
	if !strings.Contains(live.body, `data-live="reading"`) || !strings.Contains(live.body, "56 cm wide") || live.Header.Get("Cache-Control") != "no-store" {
		t.Error(live.body)
	}
	to := v.post("/enquiries/new", over(form, "do", "quote")).to()
	if again := v.post("/enquiries/new", over(form, "do", "quote")).to(); again != to || len(s.enquiriesNow()) != 1 {
		t.Errorf("pressed twice: %s and %s", to, again)
	}
	page := v.get(to).want(http.StatusOK)
	fields := page.fields()
	for name, want := range map[string]string{"outline.shape": "kite", "outline.width": "56 cm", "outline.height": "88 cm", "core.layers": "3", "core.former_radius": "50 cm", "rule": "marsh-medium", "gems.0.count": "3"} {
		if fields[name] != want {
			t.Errorf("%s is %q, want %q", name, fields[name], want)
		}
	}
	if words := page.words(); !strings.Contains(words, "The customer's words") || !strings.Contains(words, "On which arm") || !strings.Contains(page.body, `class="asked"`) || strings.Contains(page.body, "<script>alert") {
		t.Errorf("%s", words)
	}
	e := s.enquiriesNow()[0]
	back := v.get("/enquiries/" + e.ID).want(http.StatusOK)
	if !strings.Contains(back.body, `href="`+to+`"`) || !strings.Contains(page.body, `href="/enquiries/`+e.ID+`"`) || e.State != sales.EnquiryQuoted {
		t.Error("the two are not linked")
	}
	if customer, err := s.sales.Customer(t.Context(), func() string {
		q, _ := s.sales.Quote(t.Context(), strings.TrimPrefix(to, "/quotes/"))
		return q.CustomerID
	}()); err != nil || customer.Email != "sedge@marrow.example" {
		t.Errorf("%+v %v", customer, err)
	}
}

// Whoever has the same mail address is offered, and chosen by the maker.
func TestTheSameCustomerIsOffered(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	words := "A round shield, 58 cm across.\nThanks,\nJonas Adler\njonas@elsewhere.example"
	form := over(v.filled("/enquiries/new"), "words", words, "do", "quote")
	a := v.post("/enquiries/new", form).want(http.StatusUnprocessableEntity)
	if !strings.Contains(a.words(), "Jonas Adler, a customer already") || !strings.Contains(a.words(), "Choose whether it is they") || !strings.Contains(a.body, ">"+words+"</textarea>") {
		t.Error(a.words())
	}
	e := s.enquiriesNow()[0]
	customers, err := s.sales.Customers(t.Context(), sales.Found{Words: "Jonas"})
	s.must(err)
	again := over(form, "edit", a.fields()["edit"], "customer", customers[0].ID)
	to := v.post("/enquiries/"+e.ID, again).to()
	q, err := s.sales.Quote(t.Context(), strings.TrimPrefix(to, "/quotes/"))
	s.must(err)
	if q.CustomerID != customers[0].ID || q.Form.Outline.Diameter.String() != "58 cm" {
		t.Errorf("%+v", q)
	}
}

func TestAskingClosingAndForgetting(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	const french = "un bouclier rond pour le 28 mai 2027, je voudrais le recevoir avec des gemmes, merci"
	at := v.post("/enquiries/new", over(v.filled("/enquiries/new"), "words", french, "name", "Ilse", "answers.latex", "no", "do", "keep")).to()
	page := v.get(at).want(http.StatusOK)
	letter := page.fields()["letter"]
	if !strings.Contains(letter, "Bonjour Ilse") || !strings.Contains(letter, "Vous écrivez") || strings.Contains(letter, "latex") || page.fields()["answers.latex"] != "no" {
		t.Error(letter)
	}
	a := v.post(at+"/ask", over(page.filledAs(), "words", french, "letter", " ")).want(http.StatusUnprocessableEntity)
	if !strings.Contains(a.words(), "nothing to ask") {
		t.Error(a.words())
	}
	// A letter that was changed and not sent yet is kept with the rest; one that was not is made anew.
	v.post(at, over(v.get(at).filledAs(), "words", french, "letter", "Quelle ta", "do", "keep")).to()
	if got := v.get(at).fields()["letter"]; got != "Quelle ta" {
		t.Error(got)
	}
	v.post(at, over(v.get(at).filledAs(), "words", french, "letter", "", "do", "keep")).to()
	if got := v.get(at).fields()["letter"]; got != letter {
		t.Error(got)
	}
	v.post(at+"/ask", over(v.get(at).filledAs(), "words", french, "letter", "Quelle taille ?", "do", "hand")).to()
	if a := v.post(at+"/ask", over(page.filledAs(), "words", french, "letter", "Twice ?", "do", "hand")).want(http.StatusConflict); a.fields()["letter"] != "Twice ?" {
		t.Error("what was typed is gone")
	}
	page = v.get(at).want(http.StatusOK)
	if e := s.enquiriesNow()[0]; e.State != sales.EnquiryAsked || e.Letter != "Quelle taille ?" || page.fields()["letter"] != e.Letter {
		t.Errorf("%+v", e)
	}
	// An answer that comes is put below the words; the letter that was sent stays.
	kept := over(v.filled(at), "words", "un bouclier rond\n\n58 cm de diamètre", "do", "keep")
	v.post(at, kept).to()
	if e := s.enquiriesNow()[0]; e.Letter != "Quelle taille ?" {
		t.Errorf("%+v", e)
	}
	stale := v.post(at, over(kept, "words", "somebody else's")).want(http.StatusConflict)
	if !strings.Contains(stale.words(), "Somebody else changed this enquiry") || !strings.Contains(stale.body, ">somebody else&#39;s</textarea>") {
		t.Error(stale.words())
	}
	edit := v.get(at).fields()["edit"]
	if a := v.post(at+"/close", url.Values{"edit": {edit}}).want(http.StatusUnprocessableEntity); !strings.Contains(a.words(), "Say in a few words why") {
		t.Error(a.words())
	}
	v.post(at+"/close", url.Values{"edit": {edit}, "reason": {"found another"}}).to()
	if list := v.get("/enquiries").words(); strings.Contains(list, "Ilse") || !strings.Contains(v.get("/enquiries?all=1").words(), "closed: found another") {
		t.Error(list)
	}
	v.post(at+"/reopen", url.Values{"edit": {v.get(at).fields()["edit"]}}).to()
	if today := v.get("/today").words(); strings.Contains(today, "New enquiries") {
		t.Error("one that was asked is not new")
	}
	v.post(at+"/forget", nil).to()
	v.get(at).want(http.StatusNotFound)
}

// The questions go into the outbox in one act with noting it; a second press sends nothing.
func TestQuestionsGoByMail(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := v.post("/enquiries/new", over(v.filled("/enquiries/new"), "words", asked, "do", "keep")).to()
	if page := v.get(at); strings.Contains(page.body, "Send to sedge@marrow.example") {
		t.Error("it offers to send where no mail server is set")
	}
	s.sales.SetMailServer("mail.test:587")
	page := v.get(at).want(http.StatusOK)
	if !strings.Contains(page.words(), "Send to sedge@marrow.example") {
		t.Error(page.words())
	}
	// Other forms of the page have an entry of that name.
	typed := over(page.filledAs(), "words", asked, "letter", "Hello, on which arm?", "do", "mail")
	v.post(at+"/ask", typed).to()
	v.post(at+"/ask", typed).want(http.StatusConflict)
	mails, err := s.sales.Mails(t.Context(), sales.MailFound{About: strings.TrimPrefix(at, "/enquiries/")})
	s.must(err)
	if len(mails) != 1 || mails[0].To != "sedge@marrow.example" || mails[0].Subject != "About your enquiry" || mails[0].Kind != sales.MailQuestions {
		t.Errorf("%+v", mails)
	}
	if words := v.get(at).words(); !strings.Contains(words, "waiting to be sent") || !strings.Contains(words, "asked") {
		t.Error(words)
	}
}

// visitor of the public form, and its settings.
func (v *visitor) openTheForm(typed ...string) {
	v.t.Helper()
	v.post("/workshop/enquiries", over(v.filled("/workshop/enquiries"), append([]string{"open", "yes"}, typed...)...)).to()
}

func TestThePublicFormIsShutAtFirst(t *testing.T) {
	s := stocked(t)
	stranger := s.visit()
	a := stranger.get("/enquire").want(http.StatusNotFound)
	if strings.Contains(a.body, "Kestrel") {
		t.Error("it tells who lives here")
	}
	owner := s.as(people.Owner)
	owner.openTheForm("privacy.en", "We keep it for a year.", "no_orders_before", "2199-01-15")
	page := stranger.get("/enquire").want(http.StatusOK)
	if !strings.Contains(page.words(), "We keep it for a year.") || !strings.Contains(page.words(), "No new orders are begun before 15 January 2199.") || strings.Contains(page.body, "<script") || strings.Contains(page.body, "style=") {
		t.Error(page.words())
	}
	for language, says := range map[string]string{"de": "Neue Aufträge werden nicht vor dem 15. Januar 2199 begonnen.", "fr": "allergique au latex", "xx": "allergic to natural rubber latex"} {
		if a := stranger.get("/enquire?language=" + language).want(http.StatusOK); !strings.Contains(a.words(), says) {
			t.Errorf("%s: %s", language, a.words())
		}
	}
	r := httptest.NewRequest(http.MethodGet, "/enquire", nil)
	r.Header.Set("Accept-Language", "xx, fr-CH;q=0.9, en;q=0.8")
	if a := stranger.send(r); !strings.Contains(a.body, `<html lang="fr">`) {
		t.Error("the browser's language is not heard")
	}
	owner.post("/workshop/enquiries", over(owner.filled("/workshop/enquiries"), "open", "")).to()
	stranger.get("/enquire").want(http.StatusNotFound)
	stranger.post("/enquire", url.Values{"words": {"x"}, "name": {"x"}, "mail": {"x@y.example"}}).want(http.StatusNotFound)
	if len(s.enquiriesNow()) != 0 {
		t.Error("kept while it is shut")
	}
	// Bad settings come back as they were typed.
	for _, c := range [][]string{{"no_orders_before", "soon", "Write a day"}, {"privacy.de", strings.Repeat("lang ", 300), "too long"}, {"edit", "7", "Somebody else changed"}} {
		form := over(owner.filled("/workshop/enquiries"), c[0], c[1])
		a := owner.post("/workshop/enquiries", form)
		if a.StatusCode != http.StatusUnprocessableEntity && a.StatusCode != http.StatusConflict || !strings.Contains(a.words(), c[2]) || strings.TrimSpace(a.fields()[c[0]]) != strings.TrimSpace(c[1]) {
			t.Errorf("%v: %d %s", c, a.StatusCode, a.words())
		}
	}
}

func TestStrangersAsk(t *testing.T) {
	s := stocked(t)
	s.as(people.Owner).openTheForm()
	v := s.visit()
	form := over(v.filled("/enquire?language=de"), "words", "Ein runder Schild", "name", "Jonas", "mail", "jonas@tidewall.example", "answers.event", "Marshlight medium", "answers.latex", "yes", "answers.width", "80")
	a := v.post("/enquire", form).want(http.StatusUnprocessableEntity)
	if lost := a.keeps(form); lost != nil || !strings.Contains(a.see().remedies["answers.width"], "Einheit") {
		t.Errorf("lost %v: %v", lost, a.see().remedies)
	}
	thanks := v.post("/enquire", over(form, "answers.width", "58 cm")).to()
	if page := v.get(thanks).want(http.StatusOK); !strings.Contains(page.words(), "Danke.") || strings.Contains(page.words(), "Jonas") {
		t.Error(page.words())
	}
	v.post("/enquire", over(form, "answers.width", "58 cm")).to() // sent twice
	list := s.enquiriesNow()
	if len(list) != 1 || list[0].By != "" || list[0].Language != "de" || list[0].Answers["latex"] != "yes" || list[0].Answers["rule"] != "marsh-medium" {
		t.Fatalf("%+v", list)
	}
	owner := s.as(people.Owner)
	if today := owner.get("/today").words(); !strings.Contains(today, "New enquiries") || !strings.Contains(today, "Ein runder Schild") {
		t.Error(today)
	}
	// What nobody sees is left empty by people: who fills it is thanked, and nothing is kept.
	bot := over(v.filled("/enquire"), "words", "cheap", "name", "x", "mail", "x@y.example", "website", "https://spam.example")
	if to := v.post("/enquire", bot).to(); !strings.HasPrefix(to, "/enquire?sent=1") || len(s.enquiriesNow()) != 1 {
		t.Error("the trap does not hold")
	}
	// From elsewhere, without the page's token, too much at once.
	for _, bad := range []url.Values{over(form, "csrf", ""), over(form, "csrf", strings.Repeat("A", 43))} {
		v.post("/enquire", bad).want(http.StatusForbidden)
	}
	v.post("/enquire", over(v.filled("/enquire"), "words", strings.Repeat("x", 70<<10), "name", "x", "mail", "x@y.example")).want(http.StatusRequestEntityTooLarge)
}

// Each entry is checked, all comes back as it was typed, and nothing is kept.
func TestWhatStrangersWriteIsChecked(t *testing.T) {
	s := stocked(t)
	s.as(people.Owner).openTheForm()
	v := s.visit()
	for field, typed := range map[string]string{"words": " ", "name": "", "mail": "nobody", "answers.date": "2001-01-01", "answers.quantity": "a lot", "answers.hand": "both", "answers.budget": strings.Repeat("9", 300)} {
		form := over(v.filled("/enquire"), "words", "x", "name", "x", "mail", "x@y.example", field, typed)
		a := v.post("/enquire", form).want(http.StatusUnprocessableEntity)
		if a.see().remedies[field] == "" || field != "answers.hand" && a.fields()[field] != typed {
			t.Errorf("%s: %v", field, a.see().remedies)
		}
	}
	if len(s.enquiriesNow()) != 0 {
		t.Error("something was kept")
	}
}

// An address can send a few at once, then has to wait; nothing typed is lost by it.
func TestOneAddressIsBraked(t *testing.T) {
	s := stocked(t)
	s.as(people.Owner).openTheForm()
	v := s.visit()
	for i := range 12 {
		form := over(v.filled("/enquire"), "words", fmt.Sprint("wish ", i), "name", "x", "mail", "x@y.example")
		a := v.post("/enquire", form)
		if i < 8 && a.StatusCode != http.StatusSeeOther {
			t.Fatalf("number %d: %d", i, a.StatusCode)
		}
		if i >= 8 {
			a.want(http.StatusTooManyRequests)
			if lost := a.keeps(form); lost != nil || a.Header.Get("Retry-After") == "" || !strings.Contains(a.words(), "Please try again later") {
				t.Errorf("lost %v: %s", lost, a.words())
			}
		}
	}
	if n := len(s.enquiriesNow()); n != 8 {
		t.Errorf("%d were kept", n)
	}
}

func TestWhoWaits(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	a := v.post("/waiting", url.Values{"who": {"Bram"}, "wish": {""}, "note": {"after the fair"}}).want(http.StatusUnprocessableEntity)
	if a.fields()["note"] != "after the fair" || a.see().remedies["wish"] == "" {
		t.Error(a.see().remedies)
	}
	v.post("/waiting", url.Values{"who": {"Bram"}, "wish": {"twelve heaters"}, "since": {"2026-01-02"}}).to()
	at := v.post("/enquiries/new", over(v.filled("/enquiries/new"), "words", asked, "do", "keep")).to()
	v.post("/waiting", url.Values{"enquiry": {strings.TrimPrefix(at, "/enquiries/")}}).to()
	if words := v.get("/waiting").words(); !strings.Contains(words, "Sedge Marrow") || !strings.Contains(words, "twelve heaters") || strings.Index(words, "Bram") > strings.Index(words, "Sedge") || !strings.Contains(words, "it is Bram's turn") {
		t.Error(words)
	}
	if today := v.get("/today").words(); !strings.Contains(today, "Bram: it is their turn") || !strings.Contains(today, "1 more wait") {
		t.Error(today)
	}
	v.openTheForm("no_orders_before", time.Now().AddDate(0, 2, 0).Format(time.DateOnly))
	if today := v.get("/today").words(); strings.Contains(today, "their turn") {
		t.Error("nobody's turn while no order is begun: " + today)
	}
	list, err := s.sales.WaitingList(t.Context(), false)
	s.must(err)
	v.post("/waiting/"+list[0].ID+"/end", nil).want(http.StatusUnprocessableEntity)
	v.post("/waiting/"+list[0].ID+"/end", url.Values{"reason": {"quoted"}}).to()
	if words := v.get("/waiting").words(); !strings.Contains(words, "quoted") {
		t.Error(words)
	}
}

// While no new order is begun, a draft says so, its earliest day is later, and no order starts before.
func TestNoOrdersBefore(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Ferry buckler")
	day := time.Now().AddDate(0, 3, 0)
	v.openTheForm("no_orders_before", day.Format(time.DateOnly))
	q, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/"))
	s.must(err)
	e, err := s.sales.Estimate(t.Context(), q.CustomerID, q.Form)
	s.must(err)
	fit, err := s.sales.Fit(t.Context(), e)
	s.must(err)
	if said := v.get(path).words(); !strings.Contains(said, "No new orders are begun before") || e.Outlook.Ready.Before(day.AddDate(0, 0, -1)) || fit.Booked.Ready.Before(day.AddDate(0, 0, -1)) {
		t.Errorf("ready %s, %s: %s", e.Outlook.Ready, fit.Booked.Ready, said)
	}
	issued, err := s.sales.Quotes(t.Context(), sales.Found{Words: "1 of"})
	s.must(err)
	taken, err := s.sales.Accept(t.Context(), issued[0].ID, sales.Choice{}, "The owner")
	s.must(err)
	if taken.Order.Starts.Before(day.AddDate(0, 0, -1)) {
		t.Errorf("starts %s", taken.Order.Starts)
	}
}

// Nobody but the owner sees enquiries.
func TestWhoSeesEnquiries(t *testing.T) {
	s := stocked(t)
	for _, role := range []people.Role{people.Helper, people.Bookkeeper} {
		v := s.as(role)
		for _, path := range []string{"/enquiries", "/enquiries/new", "/waiting", "/workshop/enquiries"} {
			v.get(path).want(http.StatusForbidden)
		}
	}
	if to := s.visit().get("/enquiries").to(); !strings.HasPrefix(to, "/sign-in") {
		t.Error(to)
	}
}

// An event of the list that is named becomes the event of the draft, with its day and its rule, and is not asked for.
func TestANamedEventIsTheDrafts(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	first := time.Now().AddDate(0, 3, 0)
	event, err := s.sales.KeepEvent(t.Context(), sales.Event{Name: "Reed Gathering of the Fen", Place: "Harrowmouth", First: first, Last: first.AddDate(0, 0, 2), Rule: "fen-round"})
	s.must(err)
	form := over(v.filled("/enquiries/new"), "words", "Hello, I am Mara. A round shield of 60 cm for the Reed Gathering, please.\nmara@marrow.example", "name", "Mara")
	if page := v.post("/enquiries/new", over(form, "do", "read")).want(http.StatusOK).words(); strings.Contains(page, "size rule") {
		t.Errorf("the rule is asked for: %s", page)
	}
	to := v.post("/enquiries/new", over(form, "do", "quote")).to()
	fields := v.get(to).want(http.StatusOK).fields()
	got, err := s.sales.EventOf(t.Context(), strings.TrimPrefix(to, "/quotes/"))
	s.must(err)
	if got == nil || got.ID != event.ID || fields["rule"] != "fen-round" || fields["delivery.by"] != event.Ready().Format(time.DateOnly) {
		t.Errorf("the draft is for %+v, rule %q, by %q", got, fields["rule"], fields["delivery.by"])
	}
}
