package sales

import (
	"fmt"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// season says what the air of a day's month makes of waits; nothing where they are as the table of steps has them.
func season(w workshop.Workshop, day time.Time) string {
	air, one := w.AirOn(day), decimal.NewFromInt(1)
	var longer []string
	for _, wait := range []struct {
		what  string
		times decimal.Decimal
	}{{"what dries", air.Factor()}, {"what sets", air.Warmth()}} {
		if !wait.times.Equal(one) {
			longer = append(longer, fmt.Sprintf("%s takes %s times as long as its step says", wait.what, wait.times))
		}
	}
	if len(longer) == 0 {
		return ""
	}
	return fmt.Sprintf("In %s the workshop has %s °C and %s %% humidity: %s; that is counted in.", day.Month(), air.Celsius, air.Humidity, strings.Join(longer, ", "))
}

// damp judges the air of the months that latex is still to be put on in, by the worst of them.
func damp(w workshop.Workshop, p schedule.Plan, now time.Time) []string {
	var day time.Time
	var worst schedule.Damp
	for _, s := range p.Slots {
		if is := w.AirOn(s.Start).Damp(); strings.HasPrefix(s.Task.Code, "latex") && s.End.After(now) && is > worst {
			day, worst = s.Start, is
		}
	}
	if worst == schedule.Fine {
		return nil
	}
	month := fmt.Sprintf("the air of the workshop in %s has %s %% humidity", day.Month(), w.AirOn(day).Humidity)
	if worst == schedule.Slow {
		return []string{"Latex is to be coated on " + words.Date(day) + ": " + month + ". From 70 % on it dries slower than can be reckoned with; leave more time between coats."}
	}
	return []string{"Latex should not be coated from 85 % humidity on: " + month + ", and it is to be coated on " + words.Date(day) + ". Dry the air first, wait, or take a coating without latex. You decide; the data sheet comes first."}
}
