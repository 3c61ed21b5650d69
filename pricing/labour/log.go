package labour

import (
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// Log is time that somebody worked on an order. Step is the code of a step or the name of a group of steps. The ID is
// made where it was written, so that sending it twice keeps it once.
type Log struct {
	ID, Order, Step string
	Minutes         decimal.Decimal
	Day             time.Time // worked
	Rework          string    // why it had to be done again; empty the first time
	Note, By        string
	Written         time.Time // on the phone or here
	Corrects        string    // ID of the log it stands for; empty for a new one
}

// Clock is what somebody is at just now.
type Clock struct {
	By, Order, Step string
	Began           time.Time
}

// Check is nil when the log can be kept, else a fault with everything that is wrong.
func (l Log) Check(now time.Time) error {
	var wrong fault.List
	if l.Minutes.IsNegative() || l.Minutes.GreaterThan(decimal.NewFromInt(1440)) || l.Minutes.IsZero() && l.Corrects == "" {
		wrong.Add("minutes", l.Minutes.String(), "Write the minutes, above 0 and at most a day of 1440.")
	}
	if !l.Minutes.Equal(l.Minutes.Round(2)) {
		wrong.Add("minutes", l.Minutes.String(), "Write minutes with at most two places.")
	}
	if l.Day.IsZero() || l.Day.After(now.AddDate(0, 0, 1)) {
		wrong.Add("day", l.Day.Format(time.DateOnly), "That day has not come yet. Write the day it was worked on.")
	}
	if strings.TrimSpace(l.Step) == "" || utf8.RuneCountInString(l.Step) > 60 {
		wrong.Add("step", l.Step, "Choose what was worked on.")
	}
	for field, text := range map[string]string{"rework": l.Rework, "note": l.Note} {
		if utf8.RuneCountInString(text) > 400 {
			wrong.Add(field, text, "This is too long. Shorten it.")
		}
	}
	return wrong.Err()
}

// Standing leaves out logs that others correct.
func Standing(logs []Log) []Log {
	corrected := map[string]bool{}
	for _, l := range logs {
		corrected[l.Corrects] = true
	}
	var standing []Log
	for _, l := range logs {
		if !corrected[l.ID] {
			standing = append(standing, l)
		}
	}
	return standing
}
