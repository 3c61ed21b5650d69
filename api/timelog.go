package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/labour"
	"foamwright/pricing/people"

	"github.com/shopspring/decimal"
)

// TimeLog is time that somebody worked on an order.
type TimeLog struct {
	ID        string          `json:"id" format:"uuid"`
	Step      string          `json:"step" doc:"code of a step, or name of a group of steps"`
	Minutes   decimal.Decimal `json:"minutes"`
	Day       string          `json:"day" format:"date" doc:"worked"`
	Rework    string          `json:"rework,omitempty" doc:"why it was done again"`
	Note      string          `json:"note,omitempty"`
	By        string          `json:"by"`
	Written   time.Time       `json:"written" doc:"where it was written, perhaps on a phone without a net"`
	Corrects  string          `json:"corrects,omitempty" format:"uuid" doc:"the log that it stands for"`
	Corrected bool            `json:"corrected" doc:"another stands for it"`
}

type timeLogs struct {
	Logs []TimeLog `json:"logs"`
}

type timeEntry struct {
	ID       string `json:"id,omitempty" format:"uuid" doc:"made by the sender, so that sending it again keeps it once"`
	Step     string `json:"step" maxLength:"60"`
	Minutes  string `json:"minutes" doc:"at most two places; 0 only to correct what was nothing"`
	Day      string `json:"day" format:"date"`
	Rework   string `json:"rework,omitempty" maxLength:"400"`
	Note     string `json:"note,omitempty" maxLength:"400"`
	Written  string `json:"written,omitempty" format:"date-time" doc:"now, when it is left out"`
	Corrects string `json:"corrects,omitempty" format:"uuid"`
}

func logOf(l labour.Log) TimeLog {
	return TimeLog{ID: l.ID, Step: l.Step, Minutes: l.Minutes, Day: dateOf(l.Day), Rework: l.Rework, Note: l.Note, By: l.By, Written: l.Written.UTC(), Corrects: l.Corrects}
}

func (f *face) timeLogs() {
	operation(f, op("GET /orders/{id}/time", "time-logged", "Time logged on an order, corrected logs with it").also(people.Helper),
		func(ctx context.Context, in *byID) (*answer[timeLogs], error) {
			if _, err := f.Sales.Order(ctx, in.ID); err != nil {
				return nil, err
			}
			logs, err := f.Sales.Logs(ctx, in.ID)
			out := timeLogs{each(logs, logOf)}
			corrected := map[string]bool{}
			for _, l := range logs {
				corrected[l.Corrects] = true
			}
			for i, l := range out.Logs {
				out.Logs[i].Corrected = corrected[l.ID]
			}
			return &answer[timeLogs]{out}, err
		})
	taking(f, op("POST /orders/{id}/time", "log-time", "Log time on an order, or correct what was logged", conflict).also(people.Helper).
		saying("The same id sent again changes nothing and is no error. A log that corrects another stands in its place; the other stays to be seen."), f.logTime)
}

func (f *face) logTime(ctx context.Context, in *byID, e timeEntry) (*answer[TimeLog], error) {
	var l fault.List
	log := labour.Log{ID: e.ID, Order: in.ID, Step: e.Step, Minutes: quantity(&l, "minutes", e.Minutes), Day: day(&l, "day", e.Day), Rework: e.Rework, Note: e.Note, By: callOf(ctx).by, Corrects: e.Corrects}
	if e.Written != "" {
		var err error
		if log.Written, err = time.Parse(time.RFC3339, e.Written); err != nil {
			l.Add("written", e.Written, "Write the time like 2026-11-27T14:30:00Z, or leave it out.")
		}
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	log, err := f.Sales.LogTime(ctx, log)
	return &answer[TimeLog]{logOf(log)}, err
}
