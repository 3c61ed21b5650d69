package web

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// yardPage is when the bench is worked, by how many, and what there is to work on.
type yardPage struct {
	settled
	Kept       bool
	w          workshop.Workshop
	away, form int // rows that are typed
}

func (p *Pages) bench(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showBench(c, fiber.StatusOK, yardPage{settled: asKept(w), Kept: c.Query("kept") != "", w: w, away: len(w.Figures.Calendar.Away), form: len(w.Figures.Bench.Formers)})
}

func (p *Pages) showBench(c *fiber.Ctx, status int, data yardPage) error {
	return p.render(c, status, "bench", "Bench", "workshop", data)
}

// Days are the hours of each weekday, Monday first.
func (d yardPage) Days() (all []entry) {
	for i := range 7 {
		day := time.Weekday((i + 1) % 7)
		all = append(all, d.Text(fmt.Sprintf("calendar.hours.%d", day), day.String(), hoursOf(d.w.Figures.Calendar.Hours[day])))
	}
	return all
}

// hoursOf writes a stretch of time in hours, at most two places.
func hoursOf(t time.Duration) string {
	return decimal.NewFromInt(int64(t)).DivRound(decimal.NewFromInt(int64(time.Hour)), 2).String()
}

// Opens is the hour the bench opens.
func (d yardPage) Opens() entry {
	return d.Text("calendar.opens", "Opens at", time.Time{}.Add(d.w.Figures.Calendar.Opens).Format("15:04"))
}

// People and Places are how many there are.
func (d yardPage) People() entry {
	return d.Text("people", "People at the bench", strconv.Itoa(d.w.People))
}

// Places are the formers and the drying places.
func (d yardPage) Places() []entry {
	return []entry{
		d.Text("places.former", "Formers, at once in use", strconv.Itoa(d.w.Places[schedule.Former])),
		d.Text("places.drying", "Drying places", strconv.Itoa(d.w.Places[schedule.DryingPlace])),
	}
}

// Away are the days away, and room for two more.
func (d yardPage) Away() (all [][3]entry) {
	for i := range d.away + 2 {
		a := schedule.Span{}
		if i < len(d.w.Figures.Calendar.Away) {
			a = d.w.Figures.Calendar.Away[i]
		}
		at := fmt.Sprintf("calendar.away.%d.", i)
		all = append(all, [3]entry{d.Text(at+"from", "From", iso(a.From)), d.Text(at+"to", "To, with it", iso(a.To)), d.Text(at+"why", "Why", a.Why)})
	}
	return all
}

// Formers are those with a name, and room for one more.
func (d yardPage) Formers() (all [][2]entry) {
	for i := range d.form + 1 {
		f := shield.Former{}
		radius := ""
		if i < len(d.w.Figures.Bench.Formers) {
			f = d.w.Figures.Bench.Formers[i]
			radius = fmt.Sprintf("%.6g", f.Radius.MM())
		}
		at := fmt.Sprintf("formers.%d.", i)
		all = append(all, [2]entry{d.Text(at+"name", "Name", f.Name), d.Text(at+"radius", "Radius, mm", radius)})
	}
	return all
}

// airRow is the air of a month and what it makes of a wait.
type airRow struct {
	Month             string
	Celsius, Humidity entry
	Dries, Sets       string // so many times as long
	Damp              string
}

// Air is that of every month.
func (d yardPage) Air() (all []airRow) {
	for i, air := range d.w.Air {
		at := fmt.Sprintf("air.%d.", i+1)
		month := time.Month(i + 1).String()
		r := airRow{Month: month, Celsius: d.Text(at+"celsius", month+", °C", air.Celsius.String()), Humidity: d.Text(at+"humidity", month+", % humidity", air.Humidity.String()), Dries: air.Factor().String(), Sets: air.Warmth().String()}
		switch air.Damp() {
		case schedule.TooDamp:
			r.Damp = "too damp for latex"
		case schedule.Slow:
			r.Damp = "slow to dry"
		}
		all = append(all, r)
	}
	return all
}

// editBench keeps it; what cannot be kept comes back as typed.
func (p *Pages) editBench(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	again := yardPage{away: rows(t.v, "calendar.away", "from", "to", "why"), form: rows(t.v, "formers", "name", "radius")}
	t.bench(&w, again.away, again.form)
	if t.problems.Empty() {
		w.SortAway()
	}
	again.w = w
	return p.settle(c, &t, w, &again.settled, func(field string) (string, string) {
		if field == "calendar" {
			return "calendar.hours.1", "Work at least an hour on one day of the week: else nothing is ever ready."
		}
		return field, ""
	}, func(status int) error { return p.showBench(c, status, again) })
}

// bench reads what was posted of the bench into the settings.
func (t *typing) bench(w *workshop.Workshop, away, formers int) {
	cal := &w.Figures.Calendar
	opens, err := time.Parse("15:04", strings.TrimSpace(t.v.Get("calendar.opens")))
	if err != nil {
		t.problems.Add("calendar.opens", t.v.Get("calendar.opens"), "Write the hour the bench opens, for example 09:00.")
	}
	cal.Opens = time.Duration(opens.Hour())*time.Hour + time.Duration(opens.Minute())*time.Minute
	for day := range cal.Hours {
		cal.Hours[day] = t.hours(fmt.Sprintf("calendar.hours.%d", day))
	}
	cal.Away = nil
	for i := range away {
		at := fmt.Sprintf("calendar.away.%d.", i)
		a := schedule.Span{From: t.must(at + "from"), To: t.day(at + "to"), Why: t.v.Get(at + "why")}
		if strings.TrimSpace(t.v.Get(at+"to")) == "" {
			a.To = a.From
		}
		cal.Away = append(cal.Away, a)
	}
	w.People = t.count("people")
	places := map[string]int{}
	for place, n := range w.Places {
		places[place] = n
	}
	places[schedule.Former], places[schedule.DryingPlace] = t.count("places.former"), t.count("places.drying")
	w.Places = places
	w.Figures.Bench.Formers = nil
	for i := range formers {
		at := fmt.Sprintf("formers.%d.", i)
		radius := t.number(at + "radius").InexactFloat64()
		w.Figures.Bench.Formers = append(w.Figures.Bench.Formers, shield.Former{Name: t.v.Get(at + "name"), Radius: measure.Length(radius) * measure.Millimetre})
	}
	for i := range w.Air {
		at := fmt.Sprintf("air.%d.", i+1)
		w.Air[i] = schedule.Climate{Celsius: t.number(at + "celsius"), Humidity: t.number(at + "humidity")}
	}
}

// hours reads a stretch of time in hours.
func (t *typing) hours(field string) time.Duration {
	h := t.number(field)
	if h.IsNegative() || h.GreaterThan(decimal.NewFromInt(24)) {
		t.problems.Add(field, t.v.Get(field), "Write hours from 0 to 24, for example 7.5.")
		return 0
	}
	return time.Duration(h.Mul(decimal.NewFromInt(int64(time.Hour))).IntPart())
}
