package pdf

import (
	"fmt"
	"strings"
	"time"

	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"
	"github.com/shopspring/decimal"

	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// job is a job sheet while it is laid out.
type job struct {
	sales.JobSheet
	paper
}

// code is the side of the QR code, mm: a phone reads it at arm's length.
const code = 30.0

// compose lays the sheet out: what it is, settings and material, the steps, what to mind, and the check list.
func (j *job) compose() {
	j.top()
	j.section("What will be made", j.Made)
	j.facts("Settings", j.settings())
	j.facts("Material", j.material())
	j.steps()
	j.section("Mind", j.Cautions)
	j.checks()
}

func (j *job) name() string { return "Job sheet of order " + j.Order.Number.String() }

// print puts it on pages.
func (j *job) print() ([]byte, error) {
	return j.bind(about{
		title: j.name() + ": " + j.Order.Title, subject: "Steps, settings and cautions for the bench", author: j.Workshop,
		foot: j.name() + "  ·  " + j.Order.Title + "  ·  printed " + words.Date(j.Date), date: j.Date,
	})
}

// top is what the sheet is for, and the way to the time log.
func (j *job) top() {
	b := &block{}
	const left = full - code - 8
	y := b.texts(0, 7, j.wrap(j.Order.Title, heading, left))
	y = b.texts(0, y-1, j.wrap(j.name()+", for "+j.Order.Customer, text, left)) + 2
	facts := [][2]string{{"First day", words.Date(j.Order.Starts)}}
	if j.Planned {
		facts = append(facts, [2]string{"Ready", words.Day(j.Ready, j.Date) + j.Ready.Format(" 15:04")})
	}
	if !j.Promised.IsZero() {
		facts = append(facts, [2]string{"Asked for by", words.Date(j.Promised)})
	}
	for _, f := range facts {
		b.text(0, y, j.set(f[0], quiet))
		b.text(26, y, j.set(f[1], text))
		y += text.lead
	}
	if j.Planned && !j.Booked {
		y = b.texts(0, y, j.wrap("Its deposit is awaited: the times below may move.", quiet, left))
	}
	link := j.Link
	b.marks = append(b.marks, func(p core.Provider, x, top float64) {
		cell := entity.Cell{X: x + full - code, Y: top, Width: code, Height: code}
		p.AddQrCode(link, &cell, &props.Rect{Percent: 100})
	})
	b.right(full, code+4, j.set("Log time", fine))
	b.height = max(y, code+8) + 2
	j.add(b)
	address := &block{}
	address.height = address.texts(0, 2, j.wrap("Time log: "+link, fine, full))
	j.add(address)
}

func (j *job) settings() (rows [][3]string) {
	for _, s := range j.Settings {
		rows = append(rows, [3]string{s.Name, s.Value})
	}
	return rows
}

func (j *job) material() (rows [][3]string) {
	for _, t := range j.Takes {
		if t.Quantity.IsPositive() {
			unit := string(t.Unit)
			if t.Quantity.Equal(decimal.NewFromInt(1)) {
				unit = strings.TrimSuffix(unit, "s") // one piece
			}
			rows = append(rows, [3]string{t.Name, "", t.Quantity.String() + "\u00a0" + unit})
		}
	}
	return rows
}

// facts is a name in the margin with rows of what, how and how much beside it, each with a box to tick where there
// is an amount.
func (j *job) facts(name string, rows [][3]string) {
	const how = inset + 46
	for i, r := range rows {
		b := &block{}
		if i == 0 {
			b.height = 5
			b.text(0, b.height+3.6, j.set(name, aside))
		}
		y := b.height + 3.6
		x := inset
		if r[2] != "" {
			b.box(inset, y-2.8)
			x += 5.5
			b.right(full, y, j.set(r[2], text))
		}
		width := how - x - 2
		if r[1] == "" {
			width = full - x - 30
		}
		end := b.texts(x, y, j.wrap(r[0], text, width))
		end = max(end, b.texts(how, y, j.wrap(r[1], text, full-how)))
		b.height = end - text.lead + 1.8
		b.rule(inset, full, b.height, 0.1, hair)
		j.add(b)
	}
}

// The columns of the steps: planned minutes end at the first, the others begin there.
const (
	minutesEnd = full - 66.0
	tookAt     = full - 62.0
	timesAt    = full - 47.0
)

// steps are the steps in their order, each with a box, what to mind, its minutes, room for what it took, and its time.
func (j *job) steps() {
	b := &block{height: 7}
	b.text(0, b.height+3.4, j.set("Steps", aside))
	b.right(minutesEnd, b.height+3.4, j.set("minutes", fine))
	b.text(tookAt, b.height+3.4, j.set("took", fine))
	if j.Planned {
		b.text(timesAt, b.height+3.4, j.set("planned", fine))
	}
	b.height += 5
	day := ""
	for i, s := range j.Steps {
		row := j.step(s, &day)
		if i == 0 { // the heads of the columns are never alone
			b.under(row)
			row = b
		}
		j.add(row)
	}
}

func (j *job) step(s sales.SheetStep, day *string) *block {
	const base = 4.2
	b := &block{}
	b.rule(0, full, 0, 0.1, hair)
	b.box(0, base-2.8)
	y := b.texts(5.5, base, j.wrap(s.Task.Name, text, minutesEnd-22))
	var minds []string
	if s.Uses != "" {
		minds = append(minds, "with "+s.Uses)
	}
	if len(s.Minds) > 0 {
		minds = append(minds, "mind: "+strings.Join(s.Minds, ", "))
	}
	if s.Task.Place != "" {
		minds = append(minds, "on the "+s.Task.Place)
	}
	if s.Task.Wait > 0 {
		wait := "then leave it " + long(s.Task.Wait)
		if j.Planned {
			until := s.Ready.Format("15:04")
			if s.Ready.YearDay() != s.Start.YearDay() {
				until = words.Moment(s.Ready, j.Date)
			}
			wait += ", until " + until
		}
		minds = append(minds, wait)
	}
	if len(minds) > 0 {
		y = b.texts(5.5, y-0.4, j.wrap(strings.Join(minds, "  ·  "), fine, minutesEnd-22)) + 0.2
	}
	minutes := fmt.Sprint(int(s.Task.Work.Round(time.Minute) / time.Minute))
	if s.Task.People > 1 {
		minutes = fmt.Sprintf("%d people, %s", s.Task.People, minutes)
	}
	b.right(minutesEnd, base, j.set(minutes, text))
	b.rule(tookAt, tookAt+10, base+0.8, 0.15, soft)
	if j.Planned {
		when := s.Start.Format("15:04")
		if today := words.Day(s.Start, j.Date); today != *day {
			*day = today
			when = today + ", " + when
		}
		y = max(y, b.texts(timesAt, base, j.wrap(when, text, full-timesAt)))
	}
	b.height = y - text.lead + 2
	return b
}

// checks is what is looked at before it is packed, with a line for who looked.
func (j *job) checks() {
	var all block
	all.height = 6
	for i, c := range j.Checks {
		b := &block{}
		if i == 0 {
			b.text(0, 3.6, j.set("Check list", aside))
		}
		b.box(inset, 0.8)
		b.height = b.texts(inset+5.5, 3.6, j.wrap(c, text, full-inset-5.5)) - text.lead + 1.8
		all.under(b)
	}
	sign := &block{height: 12}
	sign.text(inset, 9, j.set("Checked by", quiet))
	sign.rule(inset+20, inset+75, 9.6, 0.15, soft)
	sign.text(inset+80, 9, j.set("on", quiet))
	sign.rule(inset+86, full, 9.6, 0.15, soft)
	all.under(sign)
	j.add(&all)
}

// box is a box to tick, its upper left corner at x, y.
func (b *block) box(x, y float64) {
	const side = 3.2
	b.rule(x, x+side, y, 0.2, ink)
	b.rule(x, x+side, y+side, 0.2, ink)
	b.bar(x, y, y+side, 0.2, ink)
	b.bar(x+side, y, y+side, 0.2, ink)
}

// long says how long something is: "45 min", "18 h", "2 h 30 min".
func long(d time.Duration) string {
	h, m := int(d/time.Hour), int(d%time.Hour/time.Minute)
	switch {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	}
	return fmt.Sprintf("%d h %d min", h, m)
}
