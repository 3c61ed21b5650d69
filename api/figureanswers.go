package api

import (
	"context"

	"foamwright/pricing/figures"
	"foamwright/pricing/people"
)

// Ended counts quotes by how they ended.
type Ended struct {
	Accepted int `json:"accepted"`
	Declined int `json:"declined"`
	RanOut   int `json:"ran_out" doc:"without an answer"`
	Open     int `json:"open" doc:"not counted in any rate"`
	// Of fewer than five that ended no rate is told.
	Rate *Rate `json:"rate,omitempty" doc:"the share that was accepted, of those that ended; left out where fewer than five did"`
}

// Rate is a share with the interval that it lies in.
type Rate struct {
	Share string `json:"share" doc:"a fraction, 0.25 for 25 %"`
	Low   string `json:"low" doc:"of the score interval at 95 %"`
	High  string `json:"high"`
}

// EndedRow is one row of a grouping.
type EndedRow struct {
	Key  string `json:"key"`
	Name string `json:"name"`
	Ended
}

// EndedBy is all quotes by one thing: its rows sum to the whole.
type EndedBy struct {
	By   string     `json:"by" enum:"price,response,design,customer"`
	Rows []EndedRow `json:"rows"`
	Says string     `json:"says" doc:"whether a difference between the rows can be told"`
}

// DeclinedFor is a reason with how often it was given.
type DeclinedFor struct {
	Reason string `json:"reason" doc:"as it was written first; empty where none was given"`
	Quotes int    `json:"quotes"`
}

// Outcomes is how the quotes of some days ended.
type Outcomes struct {
	From    string        `json:"from" format:"date"`
	To      string        `json:"to" format:"date"`
	All     Ended         `json:"all"`
	Groups  []EndedBy     `json:"groups"`
	Reasons []DeclinedFor `json:"declined_for" doc:"the most frequent first"`
	Wait    string        `json:"median_days_to_answer,omitempty" doc:"from the last version; left out without an answer"`
}

type outcomeDays struct {
	From string `query:"from" doc:"the first day a quote was first sent; a year ago where it is left out"`
	To   string `query:"to" doc:"the last day; today where it is left out"`
}

func endedOf(t figures.Tally) Ended {
	out := Ended{Accepted: t.Accepted, Declined: t.Declined, RanOut: t.RanOut, Open: t.Open}
	if t.Enough() {
		r := t.Rate()
		out.Rate = &Rate{r.Share.StringFixed(4), r.Low.StringFixed(4), r.High.StringFixed(4)}
	}
	return out
}

func outcomesOf(o figures.Outcomes) Outcomes {
	out := Outcomes{
		From: dateOf(o.From), To: dateOf(o.To), All: endedOf(o.All),
		Groups: each(o.Groups, func(g figures.Grouping) EndedBy {
			return EndedBy{g.Key, each(g.Rows, func(r figures.Grouped) EndedRow { return EndedRow{r.Key, r.Name, endedOf(r.Tally)} }), g.Says()}
		}),
		Reasons: each(o.Reasons, func(r figures.Reason) DeclinedFor { return DeclinedFor{r.Said, r.Quotes} }),
	}
	if wait, of := o.Wait(); of > 0 {
		out.Wait = wait.String()
	}
	return out
}

func (f *face) figuresAnswers() {
	operation(f, op("GET /figures/answers", "won-and-lost", "Quotes by how they ended", invalid).also(people.Bookkeeper).
		saying("A quote number counts once, by its last version. What was sold ready made from the price list is not in it."),
		func(ctx context.Context, in *outcomeDays) (*answer[Outcomes], error) {
			from, to, err := days(in.From, in.To)
			if err != nil {
				return nil, err
			}
			o, err := f.Figures.Outcomes(ctx, from, to)
			return &answer[Outcomes]{outcomesOf(o)}, err
		})
}
