package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/orderform"
	"foamwright/pricing/labour"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// stepOf is a step as it is kept.
func (s *shop) stepOf(code string) (labour.Step, int) {
	s.t.Helper()
	w, err := s.sales.Workshop(s.t.Context())
	s.must(err)
	i := slices.IndexFunc(w.Figures.Steps, func(s labour.Step) bool { return s.Code == code })
	if i < 0 {
		s.t.Fatalf("no step %s", code)
	}
	return w.Figures.Steps[i], i
}

func TestStepsAreTheWorkshopsOwn(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	list := v.get("/workshop/steps").want(http.StatusOK)
	if words := list.words(); !strings.Contains(words, "Cut out") || !strings.Contains(words, "batch of six") || strings.Contains(list.body, "the workshop's own") {
		t.Error(words)
	}
	at := "/workshop/steps/cut"
	form := v.filled(at)
	if words := v.get(at).words(); !strings.Contains(words, "began with 1, 1.6, 3") {
		t.Errorf("the program's range is not beside it: %s", words)
	}
	// Whatever is wrong comes back as typed, with the remedy beside it.
	for field, typed := range map[string]string{
		"unit.low": "3", "unit.high": "many", "setup.likely": "-1", "wait.high": "2.005", "name": " ", "driver": "m thread", "group": "sewing", "scope": "year", "note": strings.Repeat("x", 500), "uses": strings.Repeat("x", 201),
	} {
		a := v.post(at, over(form, field, typed)).want(http.StatusUnprocessableEntity)
		beside := field
		if field == "unit.low" {
			beside = "unit.likely" // which is less now
		}
		if remedy := a.see().remedies[beside]; remedy == "" || a.fields()[field] != typed {
			t.Errorf("%s %q: %v, %q", field, typed, a.see().remedies, a.fields()[field])
		}
	}
	if a := v.post(at, over(form, "behind", "pack")).want(http.StatusUnprocessableEntity); a.see().remedies["behind"] == "" || a.fields()["behind"] != "pack" {
		t.Errorf("%v", a.see().remedies)
	}
	if a := v.post(at, over(form, "after.pack", "yes")).want(http.StatusUnprocessableEntity); !strings.Contains(a.words(), "A step comes after steps that stand above it") {
		t.Error(a.words())
	}
	// What is kept counts from now on.
	buckler := s.formOf("Ferry buckler")
	before, err := s.sales.Estimate(t.Context(), "", buckler)
	s.must(err)
	if to := v.post(at, over(form, "unit.likely", "2,4")).to(); to != at+"?kept=1" {
		t.Error(to)
	}
	after, err := s.sales.Estimate(t.Context(), "", buckler)
	s.must(err)
	if step, _ := s.stepOf("cut"); !step.Unit.Likely.Equal(dec("2.4")) || step.Wait.Likely.Sign() != 0 || len(step.After) != 3 || after.Work.Hours.Cmp(before.Work.Hours) <= 0 {
		t.Errorf("%+v; %s h, then %s", step, before.Work.Hours, after.Work.Hours)
	}
	// The other one's form is older now.
	a := v.post(at, over(form, "unit.likely", "2.9")).want(http.StatusConflict)
	if !strings.Contains(a.words(), "Somebody else changed the settings") || a.fields()["unit.likely"] != "2.9" || a.fields()["edit"] != form.Get("edit") {
		t.Error(a.words())
	}
	// Hidden it is kept and not counted; moved it stands elsewhere; a new one joins.
	v.post(at, over(v.filled(at), "hidden", "yes")).to()
	hidden, err := s.sales.Estimate(t.Context(), "", buckler)
	s.must(err)
	if slices.ContainsFunc(hidden.Work.Lines, func(l labour.Line) bool { return l.Step.Code == "cut" }) || !strings.Contains(v.get("/workshop/steps").words(), "hidden: not counted") {
		t.Error("a hidden step is counted, or gone")
	}
	v.post("/workshop/steps/photograph", over(v.filled("/workshop/steps/photograph"), "behind", "bench")).want(http.StatusUnprocessableEntity) // packing comes after it
	v.post("/workshop/steps/studs", over(v.filled("/workshop/steps/studs"), "behind", "groove-heat")).to()
	if _, studs := s.stepOf("studs"); studs == 0 {
		t.Error("it was not moved")
	} else if _, gems := s.stepOf("gems"); gems != studs+1 {
		t.Errorf("studs stand at %d, gems at %d", studs, gems)
	}
	fresh := over(v.filled("/workshop/steps/new"), "name", "Wax the edge", "group", "edge", "driver", "m edge", "scope", "item", "people", "2", "sets", "warmth", "behind", "dress-strip", "unit.low", "1", "unit.likely", "2", "unit.high", "3", "cautions.solvent", "yes", "after.dress-strip", "yes")
	to := v.post("/workshop/steps/new", fresh).to()
	if to != "/workshop/steps/step-wax-the-edge?kept=1" || !strings.Contains(v.get(strings.TrimSuffix(to, "?kept=1")).words(), "A step of the workshop's own") {
		t.Error(to)
	}
	own, _ := s.stepOf("step-wax-the-edge")
	waxed, err := s.sales.Estimate(t.Context(), "", buckler)
	s.must(err)
	if !slices.Equal(own.After, []string{"dress-strip"}) || !slices.Equal(own.Cautions, []string{"solvent"}) || own.Crew != 2 || own.Sets != "warmth" || waxed.Work.Hours.Cmp(hidden.Work.Hours) <= 0 {
		t.Errorf("%+v", own)
	}
	v.post("/workshop/steps/step-wax-the-edge", over(v.filled("/workshop/steps/step-wax-the-edge"), "name", hostile, "note", hostile, "uses", hostile)).to()
	for _, page := range []string{"/workshop/steps", "/workshop/steps/step-wax-the-edge", "/workshop/steps/new", at} {
		if a := v.get(page).want(http.StatusOK); a.see().tags["img"] != 0 || a.see().tags["script"] > 1 || !strings.Contains(a.body, "&lt;") {
			t.Errorf("%s: %v", page, a.see().tags)
		}
	}
	v.get("/workshop/steps/no-such").want(http.StatusNotFound)
	v.post("/workshop/steps/no-such", fresh).want(http.StatusNotFound)
	for _, role := range []people.Role{people.Helper, people.Bookkeeper} {
		for _, path := range []string{"/workshop/steps", at, "/workshop/bench", "/workshop/rate", "/learned"} {
			s.as(role).get(path).want(http.StatusForbidden)
		}
	}
}

// formOf is the spec of a design.
func (s *shop) formOf(name string) orderform.Form {
	s.t.Helper()
	designs, err := s.sales.Designs(s.t.Context())
	s.must(err)
	i := slices.IndexFunc(designs, func(d sales.Design) bool { return d.Name == name })
	d, err := s.sales.Design(s.t.Context(), designs[i].ID)
	s.must(err)
	return d.Form
}

func TestTheBenchIsSet(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/workshop/bench"
	form := v.filled(at)
	for field, typed := range map[string]string{
		"calendar.hours.1": "25", "calendar.hours.2": "eight", "calendar.opens": "noon", "people": "0", "places.former": "0", "places.drying": "many",
		"calendar.away.0.to": "2026-01-01", "air.7.celsius": "99", "air.1.humidity": "-1", "formers.3.radius": "12", "formers.3.name": "Twice",
	} {
		typing := over(form, field, typed)
		switch field {
		case "calendar.away.0.to":
			typing.Set("calendar.away.0.from", "2026-12-24")
		case "formers.3.radius":
			typing.Set("formers.3.name", "Twice")
		}
		a := v.post(at, typing).want(http.StatusUnprocessableEntity)
		beside := field
		if field == "formers.3.name" {
			beside = "formers.3.radius" // there is none
		}
		if remedy := a.see().remedies[beside]; remedy == "" || a.fields()[field] != typed {
			t.Errorf("%s %q: %v, %q", field, typed, a.see().remedies, a.fields()[field])
		}
	}
	none := over(form)
	for day := range 7 {
		none.Set(fmt.Sprintf("calendar.hours.%d", day), "0")
	}
	if a := v.post(at, none).want(http.StatusUnprocessableEntity); a.see().remedies["calendar.hours.1"] == "" {
		t.Errorf("%v", a.see().remedies)
	}
	good := over(form, "calendar.hours.6", "4,5", "calendar.opens", "08:30", "people", "2", "calendar.away.1.from", "2027-08-02", "calendar.away.1.to", "2027-08-13", "calendar.away.1.why", "Summer",
		"calendar.away.0.from", "2026-12-24", "air.1.celsius", "15", "air.1.humidity", "75", "air.7.humidity", "90", "formers.7.name", "Yard curve", "formers.7.radius", "612")
	if to := v.post(at, good).to(); to != at+"?kept=1" {
		t.Error(to)
	}
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	cal := w.Figures.Calendar
	if cal.Hours[time.Saturday] != 270*time.Minute || cal.Opens != 510*time.Minute || w.People != 2 || len(cal.Away) != 2 || cal.Away[0].To.Format(time.DateOnly) != "2026-12-24" || cal.Away[1].Why != "Summer" {
		t.Errorf("%+v, %d people", cal, w.People)
	}
	if formers := w.Figures.Bench.Formers; formers[len(formers)-1].Name != "Yard curve" || formers[len(formers)-1].Radius.MM() != 612 {
		t.Errorf("%+v", formers)
	}
	// The factors of common practice: 15 °C and 75 % dry 2.83 times as long; latex is warned of.
	page := v.get(at)
	if words := page.words(); !strings.Contains(words, "January ▼ slow to dry") || !strings.Contains(words, "2.83 1.41") || !strings.Contains(words, "▼ too damp for latex") {
		t.Error(words)
	}
	v.post(at, good).want(http.StatusConflict)
	// An emptied row is out.
	v.post(at, over(page.form(), "calendar.away.0.from", "", "calendar.away.0.to", "", "calendar.away.0.why", "")).to()
	w, err = s.sales.Workshop(t.Context())
	s.must(err)
	if away := w.Figures.Calendar.Away; len(away) != 1 || away[0].Why != "Summer" {
		t.Errorf("%+v", away)
	}
}

// The shop rate is a sum that one can follow; grades beside it have lines of their own on the slip.
func TestRatesOfLabour(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/workshop/rate"
	settings := v.filled("/workshop")
	page := v.get(at).want(http.StatusOK)
	if words := page.words(); !strings.Contains(words, "46 weeks × 40 h = 1840 h at work; × 65 % = 1196 h") || !strings.Contains(words, "36000.00 ÷ 1196 h = 30.10 EUR an hour") || !strings.Contains(words, "Use 30.10 as the shop rate") {
		t.Error(words)
	}
	form := page.form()
	for field, typed := range map[string]string{"shop_rate.weeks": "0", "shop_rate.hours": "week", "shop_rate.billable": "110", "shop_rate.costs.0.amount": "much", "shop_rate.costs.0.name": ""} {
		if a := v.post(at, over(form, field, typed, "do", "keep")).want(http.StatusUnprocessableEntity); a.see().remedies[field] == "" || a.fields()[field] != typed {
			t.Errorf("%s: %v", field, a.see().remedies)
		}
	}
	if a := v.post(at, over(form, "rates.grades.0.name", "helper", "do", "keep")).want(http.StatusUnprocessableEntity); a.see().remedies["rates.grades.0.hour"] == "" {
		t.Errorf("%v", a.see().remedies)
	}
	// Adding up keeps nothing.
	a := v.post(at, over(form, "shop_rate.costs.0.amount", "30000", "shop_rate.costs.5.name", "Van", "shop_rate.costs.5.amount", "2700,50", "do", "recompute")).want(http.StatusOK)
	if !strings.Contains(a.words(), "44700.50 ÷ 1196 h = 37.38 EUR") || !strings.Contains(v.get(at).words(), "30.10 EUR an hour") {
		t.Error(a.words())
	}
	v.post(at, over(form, "rates.grades.0.name", "helper", "rates.grades.0.hour", "18", "do", "use")).to()
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	if w.Figures.Rates.Hour.String() != "30.1" || len(w.Figures.Rates.Grades) != 1 {
		t.Errorf("%+v", w.Figures.Rates)
	}
	v.post(at, over(form, "do", "use")).want(http.StatusConflict)
	// The page of all settings counts with them: an older one overwrites nothing.
	if a := v.post("/workshop", over(settings, "rates.hour", "99")).want(http.StatusConflict); a.fields()["rates.hour"] != "99" || !strings.Contains(a.words(), "Somebody else changed the settings") {
		t.Error(a.words())
	}
	pack := over(v.filled("/workshop/steps/cut"), "grade", "helper")
	v.post("/workshop/steps/cut", pack).to()
	slip := v.get(v.draft("Ferry buckler")).words()
	if !strings.Contains(slip, "Labour, helper, ") || !strings.Contains(slip, "h × 18.00") || !strings.Contains(slip, "h × 30.10") || !strings.Contains(slip, "on the average") || strings.Contains(slip, "keeps its margin") {
		t.Error(slip)
	}
	a = v.post(at, over(v.filled(at), "rates.grades.0.name", "", "rates.grades.0.hour", "", "do", "keep")).want(http.StatusUnprocessableEntity)
	if !strings.Contains(a.words(), "A step names a grade that is not here any more") {
		t.Error(a.words())
	}
}

// Prices by number are worked out on demand, of what is typed, and keep nothing.
func TestPricesByNumber(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Ferry buckler")
	form := over(v.filled(path), "do", "recompute breaks", "outline.diameter", "45 cm")
	a := v.post(path, form).want(http.StatusOK)
	spec := s.formOf("Ferry buckler")
	spec.Outline.Diameter.Typed = "45 cm"
	all, err := s.sales.Breaks(t.Context(), "", spec)
	s.must(err)
	last := decimal.New(1, 6)
	for _, b := range all {
		e, n := b.Estimate, decimal.NewFromInt(int64(b.Quantity))
		if each := e.Price.Net.Decimal().Div(n); each.GreaterThan(last) {
			t.Errorf("each of %s costs %s, of fewer %s", n, each, last)
		} else {
			last = each
		}
		if !strings.Contains(a.body, "<td>"+words.Price(e.Price.Gross)+"</td>") {
			t.Errorf("%s for %s is not on the page", e.Price.Gross, n)
		}
	}
	// What is more than can be laid out at once has no price and says so; the others have.
	many := over(form, "pieces.0.name", "leaf", "pieces.0.d", "M0,0 L20,0 L20,20 Z", "pieces.0.foam", "mat-10", "pieces.0.count", "60")
	if a := v.post(path, many).want(http.StatusOK); strings.Count(a.body, `class="why"`) == 0 || !strings.Contains(a.words(), "Price by number") {
		t.Error(a.words())
	}
	if q, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/")); err != nil || q.Edit != 0 || len(all) != 5 {
		t.Errorf("%+v, %v", q, err)
	}
}

// made makes an order of the buckler and logs it: steps by themselves, and groups, each at a ratio of what was planned.
func (s *shop) made(steps, groups map[string]float64) sales.Order {
	s.t.Helper()
	ctx := s.t.Context()
	customers, err := s.sales.Customers(ctx, sales.Found{})
	s.must(err)
	s.issue(customers[0], s.formOf("Ferry buckler"))
	quotes, err := s.sales.Quotes(ctx, sales.Found{})
	s.must(err)
	taken, err := s.sales.Accept(ctx, quotes[0].ID, sales.Choice{}, "Hedda")
	s.must(err)
	taken, err = s.sales.DepositCame(ctx, taken.Order.ID, time.Now().AddDate(0, 0, -1), sales.OtherWay, "")
	s.must(err)
	q, err := s.sales.Quote(ctx, quotes[0].ID)
	s.must(err)
	planned := map[string]float64{}
	for _, task := range q.Printed.Tasks {
		minutes := task.Work.Minutes() * float64(max(1, task.People))
		planned[task.Code] += minutes
		step, _ := s.stepOf(task.Code)
		planned["group "+step.Group] += minutes
	}
	log := func(what string, minutes float64, rework string) {
		if minutes > 0 {
			_, err := s.sales.LogTime(ctx, labour.Log{Order: taken.Order.ID, Step: what, Minutes: decimal.NewFromFloat(minutes).Round(2), Day: time.Now(), By: "wren", Rework: rework})
			s.must(err)
		}
	}
	for code, ratio := range steps {
		log(code, planned[code]*ratio, "")
	}
	for group, ratio := range groups {
		log(group, planned["group "+group]*ratio, "")
		log(group, 30, "the glue had skinned over")
	}
	done, err := s.sales.Finish(ctx, taken.Order.ID, nil, "wren")
	s.must(err)
	return done.Order
}

// Logged jobs are offered as new times with what they rest on; taken over once they teach once; quotes that were
// issued do not move.
func TestTimesAreLearned(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	if words := v.get("/learned").want(http.StatusOK).words(); !strings.Contains(words, "No order that is done has any time logged yet") {
		t.Error(words)
	}
	draft := v.draft("Ferry buckler")
	for range 2 {
		s.made(map[string]float64{"check": 1.5}, map[string]float64{"glue": 0.7})
	}
	if n, err := s.sales.Newly(t.Context()); err != nil || n != 0 {
		t.Errorf("two jobs teach %d, %v", n, err)
	}
	s.made(map[string]float64{"check": 1.6}, map[string]float64{"glue": 0.75})
	wild := s.made(map[string]float64{"check": 1.4}, map[string]float64{"glue": 9})
	if strings.Contains(v.get(draft).words(), "keeps its margin") {
		t.Error("four jobs give odds")
	}
	s.made(map[string]float64{"check": 1.5}, map[string]float64{"glue": 0.72})
	if !strings.Contains(v.get(draft).words(), "This price keeps its margin in ") {
		t.Error("five jobs give no odds")
	}
	issued, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)

	newly, err := s.sales.Newly(t.Context())
	s.must(err)
	if today := v.get("/today").words(); !strings.Contains(today, fmt.Sprintf("%d steps take another time than reckoned", newly)) || strings.Contains(s.as(people.Helper).get("/today").words(), "Learned times") {
		t.Error(today)
	}
	page := v.get("/learned?effect=1").want(http.StatusOK)
	words := page.words()
	for _, want := range []string{"What 5 orders", "Final check", "Spread contact adhesive", "5 orders, ±", "1 far off", wild.Number.String(), "Left out: 150 min of work that was done again", "Open quotes, with all of them", "Ferry buckler"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in %s", want, words)
		}
	}
	if newly < 2 || strings.Count(page.body, `value="one `) != newly {
		t.Errorf("%d are new, %d on the page", newly, strings.Count(page.body, `value="one `))
	}
	check, _ := s.stepOf("check")
	form := page.form()
	v.post("/learned", over(form, "do", "one check", "times.check", "1 2 3 0 0 0")).want(http.StatusConflict)
	v.post("/learned", over(form, "do", "one check", "times.check", "rubbish")).want(http.StatusConflict)
	v.post("/learned", over(form, "do", "one nothing")).want(http.StatusNotFound)
	if to := v.post("/learned", over(form, "do", "one check")).to(); to != "/learned?done=1" {
		t.Error(to)
	}
	// Five jobs at about one and a half: 0.44 of the way is left to the time that the program began with.
	learnt, _ := s.stepOf("check")
	if ratio := learnt.Setup.Likely.Div(check.Setup.Likely); ratio.LessThan(dec("1.15")) || ratio.GreaterThan(dec("1.35")) || learnt.Setup.Low.GreaterThan(learnt.Setup.Likely) {
		t.Errorf("%v, then %v", check.Setup, learnt.Setup)
	}
	l, err := s.sales.Learned(t.Context())
	s.must(err)
	if slices.ContainsFunc(l.Offers, func(o sales.Offer) bool { return o.Step.Code == "check" }) || len(l.Lessons) != 1 || l.Lessons[0].Jobs != 5 || l.Lessons[0].ByWhom != "The owner" {
		t.Errorf("the same jobs teach twice: %+v", l.Lessons)
	}
	if n, err := s.sales.Newly(t.Context()); err != nil || n != 0 {
		t.Errorf("offered again on the same day: %d, %v", n, err)
	}
	if today := v.get("/today").words(); strings.Contains(today, "Learned times") {
		t.Error(today)
	}
	later := sales.NewService(s.books.Sales(), s.printer, func() time.Time { return time.Now().AddDate(0, 1, 1) })
	if n, err := later.Newly(t.Context()); err != nil || n != newly-1 {
		t.Errorf("a month later: %d, %v", n, err)
	}
	// More jobs, planned with the new time now, go on from where it began.
	s.made(map[string]float64{"check": 1.2}, nil)
	l, err = s.sales.Learned(t.Context())
	s.must(err)
	for _, o := range l.Offers {
		if last := o.Evidence[0]; o.Step.Code == "check" && (len(o.Evidence) != 6 || !last.Actual.Div(last.Planned).Round(1).Equal(learnt.Setup.Likely.Div(check.Setup.Likely).Mul(dec("1.2")).Round(1))) {
			t.Errorf("%+v", o)
		}
	}
	v.post("/learned", over(v.get("/learned").form(), "do", "all")).to()
	if left, err := s.sales.Learned(t.Context()); err != nil || len(left.Offers) != 0 {
		t.Errorf("%+v, %v", left.Offers, err)
	}
	v.post("/learned", url.Values{"do": {"later"}}).to()
	for _, was := range issued {
		if now, err := s.sales.Quote(t.Context(), was.ID); err != nil || now.Gross.Cmp(was.Gross) != 0 || now.Snapshot != was.Snapshot {
			t.Errorf("an issued quote moved: %+v", now)
		}
	}
}
