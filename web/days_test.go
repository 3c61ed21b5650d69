package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"

	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// accepted is an order of the shop's quote, or of a new one of the same with a date asked for.
func (s *shop) accepted(paid bool) sales.Order {
	s.t.Helper()
	quotes, err := s.sales.Quotes(s.t.Context(), sales.Found{})
	s.must(err)
	first, err := s.sales.Quote(s.t.Context(), quotes[len(quotes)-1].ID)
	s.must(err)
	customer, err := s.sales.Customer(s.t.Context(), first.CustomerID)
	s.must(err)
	s.issue(customer, first.Form)
	quotes, err = s.sales.Quotes(s.t.Context(), sales.Found{})
	s.must(err)
	got, err := s.sales.Accept(s.t.Context(), quotes[0].ID, sales.Choice{}, "Hedda")
	s.must(err)
	if paid {
		got, err = s.sales.DepositCame(s.t.Context(), got.Order.ID, time.Now(), sales.OtherWay, "")
		s.must(err)
	}
	return got.Order
}

// says fails unless all of it stands on the page.
func (a reply) says(all ...string) reply {
	a.t.Helper()
	for _, want := range all {
		if !strings.Contains(a.words(), want) && !strings.Contains(a.body, want) {
			a.t.Errorf("nowhere %q in %s", want, a.words())
		}
	}
	return a
}

// written is the page but for its form token: by chance any three letters stand in one.
func (a reply) written() string { return strings.ReplaceAll(a.body, a.fields()["csrf"], "") }

// lacks fails when any of it stands in the page.
func (a reply) lacks(any ...string) {
	a.t.Helper()
	for _, no := range any {
		if strings.Contains(a.written(), no) {
			a.t.Errorf("it says %q", no)
		}
	}
}

// Everybody of the workshop sees the days, nobody money on them; booked orders as they stand, others lighter.
func TestDays(t *testing.T) {
	s := stocked(t)
	s.as(people.Owner).get("/days").want(http.StatusOK).says("Nothing is to be made")
	booked, waiting := s.accepted(true), s.accepted(false)
	s.visit().get("/days").want(http.StatusSeeOther)
	for _, role := range people.Roles() {
		v := s.as(role)
		page := v.get("/days").want(http.StatusOK)
		page.says("its deposit is awaited", "Day by day", "hands", "Ferry buckler")
		page.lacks("EUR", "style=", "<script>")
		if n := strings.Count(page.body, `class="awaited"`); n != 2 {
			t.Errorf("%d rows are lighter, want the drawn and the listed one", n)
		}
		for _, o := range []sales.Order{booked, waiting} {
			page = v.get("/orders/" + o.ID).want(http.StatusOK)
			page.says("Day by day", "What decides this day", "Waits until")
			if got := strings.Contains(page.body, "Plan anew"); got != (role == people.Owner && o.ID == booked.ID) {
				t.Errorf("%s, %s: offered to plan anew is %t", role, o.Number, got)
			}
		}
	}
	owner := s.as(people.Owner)
	owner.get("/orders/" + booked.ID).want(http.StatusOK)
	if to := owner.post("/orders/"+booked.ID+"/replan", nil).to(); to != "/orders/"+booked.ID+"#days" {
		t.Errorf("to %s", to)
	}
	days, err := s.sales.Days(t.Context())
	s.must(err)
	if days[0].Plan.Again != 1 {
		t.Errorf("planned anew %d times, want 1", days[0].Plan.Again)
	}
	owner.post("/orders/"+waiting.ID+"/replan", nil).want(http.StatusConflict).says("no place on the bench")
	owner.post("/orders/7/replan", nil).want(http.StatusNotFound)
	helper := s.as(people.Helper)
	helper.get("/days")
	helper.post("/orders/"+booked.ID+"/replan", url.Values{}).want(http.StatusForbidden)
}

// A date that cannot be met is said while the quote is written, with what would do, and is never sent.
func TestARushThatCannotWork(t *testing.T) {
	s := stocked(t)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	customers, err := s.sales.Customers(t.Context(), sales.Found{})
	s.must(err)
	var form orderform.Form
	for _, d := range designs {
		if strings.Contains(d.Name, "eron") {
			form = d.Form
		}
	}
	set := func(by time.Time) sales.Quote {
		form.Delivery.By = orderform.T(by.Format(time.DateOnly))
		q, err := s.sales.NewQuote(t.Context(), customers[0].ID, "Heron", form)
		s.must(err)
		return q
	}
	owner := s.as(people.Owner)
	rushed := set(time.Now().AddDate(0, 0, 1))
	page := owner.get("/quotes/" + rushed.ID).want(http.StatusOK)
	page.says("coats of latex", "is tomorrow", "without latex", "A quote with this date is not sent", "As the bench is booked, begun today")
	page.lacks("was asked for.")
	e, err := s.sales.Estimate(t.Context(), "", form)
	s.must(err)
	fields := page.fields()
	fields["do"] = "issue"
	sent := url.Values{}
	for name, v := range fields {
		sent.Set(name, v)
	}
	sent.Set("digest", e.Digest())
	refused := owner.post("/quotes/"+rushed.ID, sent).want(http.StatusUnprocessableEntity)
	refused.says("cannot be met even on an empty bench", "coats of latex")
	if !strings.Contains(refused.body, `id="f-delivery-by-wrong"`) && strings.Count(refused.body, "cannot be met even") < 2 {
		t.Error("it is not said beside the date")
	}
	if q, err := s.sales.Quote(t.Context(), rushed.ID); err != nil || q.State != sales.Draft {
		t.Errorf("%s %v", q.State, err)
	}
	later := set(time.Now().AddDate(0, 0, 60))
	page = owner.get("/quotes/" + later.ID).want(http.StatusOK)
	page.lacks("is not sent")
}

// Today lists what is done today and on the next day of work, and says of latex that is put on in damp air.
func TestTodayAtTheBench(t *testing.T) {
	s := stocked(t)
	order := s.accepted(true)
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	w.Figures.Calendar.Opens = 0
	for d := range w.Figures.Calendar.Hours {
		w.Figures.Calendar.Hours[d] = 24 * time.Hour
	}
	for m := range w.Air {
		w.Air[m] = schedule.Climate{Celsius: dec("20"), Humidity: dec("88")}
	}
	s.must(s.sales.SetWorkshop(t.Context(), w, "The owner"))
	v := s.as(people.Helper)
	v.get("/today").lacks("At the bench")
	_, err = s.sales.Start(t.Context(), order.ID, time.Now())
	s.must(err)
	v.get("/today").want(http.StatusOK).says("At the bench", "Today, ", order.Title, "Brief to full specification", "▼ damp Latex should not be coated from 85 % humidity on")
	v.get("/days").says("▼ damp")
	v.get("/orders/" + order.ID).says("You decide; the data sheet comes first.")
	sheet := printedText(t, v.get("/orders/"+order.ID+"/sheet.pdf").want(http.StatusOK).body)
	for _, want := range []string{"20 °C and 88 % humidity: what dries takes 3 times as long as its step says; that is counted in.", "Latex should not be coated from 85 % humidity on"} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the job sheet says nowhere %q", want)
		}
	}
	v.get("/today").lacks("was planned to be ready")
}

// The day that is printed on a quote is that of this workshop's people, places and season, as the page says it.
func TestTheDayOnAQuoteIsTheWorkshops(t *testing.T) {
	s := stocked(t)
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	for m := range w.Air {
		w.Air[m] = schedule.Climate{Celsius: dec("12"), Humidity: dec("84")}
	}
	s.must(s.sales.SetWorkshop(t.Context(), w, "The owner"))
	q, err := s.sales.Quote(t.Context(), s.accepted(false).QuoteID)
	s.must(err)
	e, err := s.sales.Estimate(t.Context(), "", q.Form)
	s.must(err)
	fit, err := s.sales.Fit(t.Context(), e)
	s.must(err)
	if ready := words.Date(fit.Empty.Ready); q.Printed.Ready != ready || ready == words.Date(e.Outlook.Ready) {
		t.Errorf("printed %s, the bench says %s, one pair of hands in no season %s", q.Printed.Ready, ready, e.Outlook.Ready)
	}
	s.as(people.Owner).get("/quotes/" + q.ID).says("On an empty bench ready by " + q.Printed.Ready)
}

// A link to the calendar opens it without signing in, tells a helper no customers, and ends.
func TestCalendarLinks(t *testing.T) {
	s := stocked(t)
	s.accepted(true)
	links := map[people.Role]string{}
	for _, role := range people.Roles() {
		v := s.as(role)
		v.get("/account").says("not used", "The bench in your calendar")
		page := v.post("/account/calendar", url.Values{"name": {"Phone <b>"}}).want(http.StatusOK)
		links[role] = regexp.MustCompile(`/calendar/[\w-]{43}\.ics`).FindString(page.body)
		page.lacks("<b>&lt;", "Phone <b>")
		v.post("/account/calendar", url.Values{"name": {"Phone <b>"}}).want(http.StatusConflict).says("name already")
		v.post("/account/calendar", url.Values{"name": {" "}}).want(http.StatusUnprocessableEntity)
		if v.get("/account"); strings.Contains(v.get("/account").body, "/calendar/"+links[role]) {
			t.Error("the link is shown again")
		}
	}
	program := s.visit()
	for role, link := range links {
		a := program.get(link).want(http.StatusOK)
		c, err := ical.NewDecoder(strings.NewReader(a.body)).Decode()
		s.must(err)
		events := c.Events()
		if len(events) < 3 || a.Header.Get("Content-Type") != "text/calendar; charset=utf-8" || !strings.HasPrefix(a.Header.Get("Cache-Control"), "private") {
			t.Errorf("%d events, %v", len(events), a.Header)
		}
		if told := strings.Contains(a.body, "Mara"); told != (role == people.Owner) {
			t.Errorf("%s: the customer is told: %t", role, told)
		}
		a.lacks("EUR")
		r := httptest.NewRequest(http.MethodGet, link, nil)
		r.Header.Set("If-None-Match", a.Header.Get("ETag"))
		program.send(r).want(http.StatusNotModified)
	}
	for _, bad := range []string{"/calendar/x", "/calendar/" + strings.Repeat("A", 43), "/calendar/" + strings.Repeat("z", 2000), "/calendar/%00%ff", links[people.Owner] + "x", "/calendar/'%20OR%201=1--"} {
		program.get(bad).want(http.StatusNotFound)
	}
	program.get("/account").want(http.StatusSeeOther)

	helper := s.as(people.Helper)
	end := regexp.MustCompile(`/account/calendar/\d+/end`).FindString(s.as(people.Owner).get("/account").body)
	helper.post(end, nil).want(http.StatusSeeOther) // the owner's: nothing is ended
	program.get(links[people.Owner]).want(http.StatusOK)
	own := regexp.MustCompile(`/account/calendar/\d+/end`).FindString(helper.get("/account").body)
	helper.post(own, nil).want(http.StatusSeeOther)
	program.get(links[people.Helper]).want(http.StatusNotFound)
	helper.post("/account/calendar/seven/end", nil).want(http.StatusSeeOther)
}

// The job sheet is for whoever works: steps, waits, cautions and the way to the time log, and no money.
func TestJobSheet(t *testing.T) {
	s := stocked(t)
	for _, paid := range []bool{true, false} {
		o := s.accepted(paid)
		path := "/orders/" + o.ID + "/sheet.pdf"
		for role, want := range map[people.Role]int{people.Owner: http.StatusOK, people.Helper: http.StatusOK, people.Bookkeeper: http.StatusForbidden} {
			a := s.as(role).get(path).want(want)
			if want != http.StatusOK {
				continue
			}
			if !strings.HasPrefix(a.body, "%PDF-") || a.Header.Get("Content-Type") != "application/pdf" || a.Header.Get("Cache-Control") != "no-store" {
				t.Errorf("%v", a.Header)
			}
			text := printedText(t, a.body)
			for _, want := range []string{"Ferry buckler", "Job sheet of order " + o.Number.String(), "Solvent vapour", "Local codes, product data sheets", "Check list", "Checked by", "/log/" + o.ID, "Latex, first coat, thinned", "then leave it 3 h", "the first thinned", "Contact adhesive"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s, paid %t: nowhere %q in\n%s", role, paid, want, text)
				}
			}
			for _, no := range []string{"EUR", "Margin", "Price", "certified", " safe"} {
				if strings.Contains(text, no) {
					t.Errorf("it says %q", no)
				}
			}
			if strings.Contains(text, "deposit is awaited") == paid {
				t.Errorf("paid %t: it says otherwise", paid)
			}
		}
		s.visit().get(path).want(http.StatusSeeOther)
	}
	s.as(people.Owner).get("/orders/7/sheet.pdf").want(http.StatusNotFound)
}

func printedText(t *testing.T, doc string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "pdftotext", "-layout", "-", "-")
	cmd.Stdin = strings.NewReader(doc)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("pdftotext of the package poppler-utils: %v", err)
	}
	return strings.Join(strings.Fields(string(out)), " ")
}
