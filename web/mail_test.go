package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// mailed is a shop with an issued quote whose page it gives.
func mailed(t *testing.T) (s *shop, quote string) {
	s = stocked(t)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	return s, "/quotes/" + quotes[0].ID
}

func TestWithoutAMailServerItIsSentByHand(t *testing.T) {
	s, quote := mailed(t)
	v := s.as(people.Owner)
	a := v.get(quote).want(http.StatusOK)
	if !strings.Contains(a.words(), "No mail server is set: open the PDF and send it by hand.") || strings.Contains(a.body, quote+"/send") {
		t.Error(a.words())
	}
	for _, a := range []reply{v.get(quote + "/send"), v.post(quote+"/send", nil)} {
		if a.want(http.StatusConflict); !strings.Contains(a.words(), "No mail server is set, so nothing is sent from here.") {
			t.Error(a.words())
		}
	}
	if a := v.get("/mail").want(http.StatusOK); !strings.Contains(a.words(), "No mail server is set") {
		t.Error(a.words())
	}
}

// A quote is read over, sent once however often the button is pressed, refused, tried again and cancelled, and its page
// tells all of that.
func TestAQuoteIsSentByMail(t *testing.T) {
	s, quote := mailed(t)
	s.sales.SetMailServer("mail.test:587")
	v := s.as(people.Owner)
	v.get(quote).want(http.StatusOK)
	form := v.filled(quote + "/send")
	if form.Get("to") != "somebody@white-fen.example" || !strings.HasPrefix(form.Get("subject"), "Quote 1 of ") || !strings.Contains(form.Get("text"), "\n\n{link}\n\n") || len(form.Get("token")) < 20 {
		t.Fatalf("%v", form)
	}
	a := v.post(quote+"/send", over(form, "do", "preview", "text", "Hello <b>you</b>,\r\n\r\n{link}")).want(http.StatusOK)
	if !strings.Contains(a.body, "<p>Hello &lt;b&gt;you&lt;/b&gt;,</p>") || !strings.Contains(a.body, "/q/…</p>") || a.fields()["token"] != form.Get("token") {
		t.Error(a.body)
	}
	wrong := over(form, "do", "send", "to", "a@b.example\r\nBcc: c@d.example", "subject", "Quote\r\nBcc: c@d.example", "text", "")
	a = v.post(quote+"/send", wrong).want(http.StatusUnprocessableEntity)
	for _, says := range []string{"This is no single mail address", "This must be one line", "Write what is to be read"} {
		if !strings.Contains(a.words(), says) {
			t.Errorf("%q is not said: %s", says, a.words())
		}
	}
	if found, err := s.sales.Mails(t.Context(), sales.MailFound{}); err != nil || len(found) != 0 {
		t.Errorf("%v %v", found, err)
	}

	for range 3 {
		if to := v.post(quote+"/send", over(form, "do", "send", "subject", "<i>Quote</i>")).to(); to != quote {
			t.Errorf("it leads to %s", to)
		}
	}
	found, err := s.sales.Mails(t.Context(), sales.MailFound{})
	s.must(err)
	if len(found) != 1 {
		t.Fatalf("three presses made %d mails", len(found))
	}
	if a := v.get(quote).want(http.StatusOK); !strings.Contains(a.words(), "Quote to somebody@white-fen.example waiting to be sent") {
		t.Error(a.words())
	}
	m, err := s.sales.TakeMail(t.Context())
	s.must(err)
	mail := "/mail/" + m.ID
	v.post(mail+"/cancel", nil).want(http.StatusConflict) // it is on its way
	s.must(s.sales.MailRefused(t.Context(), m, "The <mail server> refuses it.", true))
	for _, page := range []string{quote, "/mail", "/mail?open=1", mail, "/today"} {
		a := v.get(page).want(http.StatusOK)
		if !strings.Contains(a.words(), "▼ refused The <mail server> refuses it.") || !strings.Contains(a.body, mail+"/again") {
			t.Errorf("%s: %s", page, a.words())
		}
	}
	if a := v.get(mail); strings.Contains(a.body, "<i>Quote") || !strings.Contains(a.words(), "[link to the customer's own page]") || strings.Contains(a.body, m.Link) {
		t.Error(a.words())
	}
	books := s.as(people.Bookkeeper)
	books.get(quote + "/send").want(http.StatusForbidden)
	if to := books.post(mail+"/again", url.Values{"here": {"yes"}}).to(); to != quote {
		t.Errorf("it leads to %s", to)
	}
	helper := s.as(people.Helper)
	for _, path := range []string{"/mail", mail, quote + "/send"} {
		helper.get(path).want(http.StatusForbidden)
	}
	helper.post(mail+"/cancel", nil).want(http.StatusForbidden)

	m, err = s.sales.TakeMail(t.Context())
	s.must(err)
	s.must(s.sales.MailGone(t.Context(), m))
	if a := v.get(quote).want(http.StatusOK); !strings.Contains(a.words(), "✓ sent") || strings.Contains(a.body, "/cancel") {
		t.Error(a.words())
	}
	if again := v.filled(quote + "/send"); again.Get("token") == form.Get("token") {
		t.Error("the same token is offered twice")
	}
	if a := v.get("/mail?open=1").want(http.StatusOK); strings.Contains(a.body, mail) {
		t.Error("what was sent is still open")
	}
}

// What cannot be sent any more says why.
func TestOnlyAQuoteThatStandsIsSent(t *testing.T) {
	s, quote := mailed(t)
	s.sales.SetMailServer("mail.test:587")
	v := s.as(people.Owner)
	form := v.filled(quote + "/send")
	if a := v.get(v.draft("Ferry buckler") + "/send").want(http.StatusConflict); !strings.Contains(a.words(), "has not been issued") {
		t.Error(a.words())
	}
	_, err := s.sales.Decline(t.Context(), strings.TrimPrefix(quote, "/quotes/"), sales.Choice{}, "The owner")
	s.must(err)
	for _, a := range []reply{v.get(quote + "/send"), v.post(quote+"/send", over(form, "do", "send"))} {
		if a.want(http.StatusConflict); !strings.Contains(a.words(), "is declined already") {
			t.Error(a.words())
		}
	}
	if strings.Contains(v.get(quote).body, quote+"/send") {
		t.Error("a dead button")
	}
}
