package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// atBench is an order of the shop, accepted and with its deposit.
func (s *shop) atBench() sales.Order {
	s.t.Helper()
	quotes, err := s.sales.Quotes(s.t.Context(), sales.Found{})
	s.must(err)
	for _, q := range quotes {
		if q.State != sales.Issued {
			continue
		}
		t, err := s.sales.Accept(s.t.Context(), q.ID, sales.Choice{}, "Hedda")
		s.must(err)
		t, err = s.sales.DepositCame(s.t.Context(), t.Order.ID, time.Now().AddDate(0, 0, -1), sales.OtherWay, "")
		s.must(err)
		return t.Order
	}
	s.t.Fatal("nothing was issued")
	return sales.Order{}
}

// A helper logs by plain forms: minutes, the clock, done again, a correction that leaves its trail.
func TestTimeIsLoggedByForms(t *testing.T) {
	s := stocked(t)
	order := s.atBench()
	v := s.as(people.Helper)
	if list := v.get("/log").want(http.StatusOK); !strings.Contains(list.body, `href="/log/`+order.ID+`"`) || strings.Contains(list.words(), "€") {
		t.Errorf("the order is not offered: %s", list.words())
	}
	at := "/log/" + order.ID
	page := v.get(at).want(http.StatusOK)
	for _, group := range []string{"Marking and cutting", "Grip and straps", "Check and pack"} {
		if !strings.Contains(page.words(), group) {
			t.Errorf("%s is missing: %s", group, page.words())
		}
	}
	id := uuid.NewString()
	log := url.Values{"id": {id}, "step": {"cut"}, "minutes": {"25,5"}, "note": {"blunt <b>knife</b>"}, "do": {"log"}}
	for range 2 { // pressed twice
		if to := v.post(at, log).to(); to != at+"#logged" {
			t.Error(to)
		}
	}
	if page = v.get(at); strings.Count(page.body, "25.5 min") != 1 || strings.Contains(page.body, "<b>knife") {
		t.Errorf("%s", page.words())
	}

	fix := url.Values{"id": {uuid.NewString()}, "corrects": {id}, "step": {"cut"}, "minutes": {"35"}, "day": {time.Now().Format(time.DateOnly)}}
	v.post(at, fix).to()
	if page = v.get(at); !strings.Contains(page.body, "<b>35 min</b>") || !strings.Contains(page.body, "<s>25.5 min") {
		t.Errorf("no trail: %s", page.words())
	}
	fix.Set("id", uuid.NewString())
	v.post(at, fix).want(http.StatusConflict)

	v.post(at, url.Values{"step": {"edge"}, "do": {"start"}}).to()
	if page = v.get("/log"); !strings.Contains(page.words(), "Edges, bonds and gaps") || !strings.Contains(page.body, `action="/log/stop"`) {
		t.Errorf("no clock: %s", page.words())
	}
	v.post("/log/stop", url.Values{"rework": {"lifted at the point"}}).to()
	v.post("/log/stop", nil).to() // stopped already
	if page = v.get(at); !strings.Contains(page.words(), "done again: lifted at the point") || strings.Contains(page.body, `action="/log/stop"`) {
		t.Errorf("%s", page.words())
	}

	for _, c := range []struct{ field, typed, says string }{
		{"minutes", "many", "Write a number"}, {"minutes", "0", "Write the minutes"}, {"minutes", "2000", "Write the minutes"},
		{"step", "", "Choose what"}, {"day", "2100-01-01", "has not come yet"}, {"note", strings.Repeat("x", 401), "too long"},
	} {
		bad := over(log, "id", uuid.NewString(), c.field, c.typed)
		a := v.post(at, bad).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.words(), c.says) || c.field != "minutes" && !strings.Contains(a.body, `name="minutes" value="25,5"`) {
			t.Errorf("%s %q: %s", c.field, c.typed, a.words())
		}
	}
	v.get("/log/" + uuid.NewString()).want(http.StatusNotFound)
	v.post("/log/"+uuid.NewString(), log).want(http.StatusNotFound)
}

// Who wants it finer logs one step alone: it is called by its name, keeps it when it is corrected, and counts on the step.
func TestOneStepIsLogged(t *testing.T) {
	s := stocked(t)
	order := s.atBench()
	v, at := s.as(people.Helper), "/log/"+order.ID
	page := v.get(at).want(http.StatusOK)
	page.says("One step alone", `value="level"`, "Level the sides")
	if strings.Count(page.body, `type="radio" name="step" value="cut"`) != 1 {
		t.Error("cutting out and the group of cutting are told apart by nothing")
	}
	id := uuid.NewString()
	v.post(at, url.Values{"id": {id}, "step": {"level"}, "minutes": {"12"}, "do": {"log"}}).to()
	page = v.get(at)
	page.says("Level the sides", `<option value="level" selected`)
	v.post(at, url.Values{"step": {"level"}, "minutes": {"many"}, "do": {"log"}}).want(http.StatusUnprocessableEntity).says(`<details open><summary>One step alone`)
	v.post(at, url.Values{"step": {"smooth"}, "do": {"start"}}).to()
	v.get("/log").says("Round and smooth the edge")
	a, err := s.sales.Actual(t.Context(), order.ID)
	s.must(err)
	worked := ""
	for _, g := range a.Groups {
		for _, step := range g.Steps {
			if step.Worked.IsPositive() {
				worked += g.Group + ": " + step.Name + " " + step.Worked.String()
			}
		}
	}
	if worked != "edge: Level the sides 12" {
		t.Errorf("%q", worked)
	}
	v.get("/orders/" + order.ID).says("12 min, Level the sides")
}

func TestWhoLogsTime(t *testing.T) {
	s := stocked(t)
	at := "/log/" + s.atBench().ID
	for role, want := range map[people.Role]int{people.Owner: http.StatusOK, people.Helper: http.StatusOK, people.Bookkeeper: http.StatusForbidden} {
		v := s.as(role)
		v.get("/log").want(want)
		v.get(at).want(want)
	}
	s.visit().get("/log").to()
}

// The phone may look after the time log and nothing else.
func TestTheWorkerIsKeptToTheLog(t *testing.T) {
	s := open(t)
	a := s.visit().get("/static/worker.js").want(http.StatusOK)
	if a.Header.Get("Service-Worker-Allowed") != "/log" || !strings.HasPrefix(a.Header.Get("Content-Type"), "text/javascript") {
		t.Errorf("%v", a.Header)
	}
	if b := s.visit().get("/static/log.js").want(http.StatusOK); b.Header.Get("Service-Worker-Allowed") != "" {
		t.Errorf("%v", b.Header)
	}
}

// Whatever is posted to the time log is answered with a page for people, and never with a fault of ours.
func TestAnyLogPostIsAnswered(t *testing.T) {
	s := stocked(t)
	at, v := s.atBench().ID, s.as(people.Helper)
	values := []string{"", "0", "-5", "25", "25,5", "1e308", "NaN", "1441", "cut", "edge", "start", "log", "2026-02-30", "9999-99-99", "\x00\x1b[31m", "\xff\xfe", "</p><script>", uuid.NewString(), strings.Repeat("é", 401)}
	rapid.Check(t, func(r *rapid.T) {
		typed := url.Values{}
		for _, name := range []string{"id", "step", "minutes", "day", "note", "rework", "corrects", "do", "edit", "used.latex"} {
			if rapid.Bool().Draw(r, name) {
				typed.Set(name, rapid.OneOf(rapid.SampledFrom(values), rapid.StringN(0, 20, 60)).Draw(r, "value"))
			}
		}
		path := rapid.SampledFrom([]string{"/log/" + at, "/log/" + at + "/take", "/log/stop", "/orders/" + at + "/measure"}).Draw(r, "path")
		if a := v.post(path, typed); a.StatusCode >= 500 {
			r.Fatalf("%s %v: %d %s", path, typed, a.StatusCode, a.words())
		}
	})
	v.get("/log/" + at).want(http.StatusOK)
}
