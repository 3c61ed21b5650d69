package workshop

import (
	"reflect"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/schedule"
)

// Standing is what a month costs whether anything is made or not, and how long the bench is open, as it was set until
// something else was. A month that is over keeps what was set then, whatever is changed later.
type Standing struct {
	Until      time.Time       // the first day of the month that it holds for no longer; zero while it holds
	FixedCosts decimal.Decimal // a month; 0 for not told yet
	People     int
	Calendar   schedule.Calendar // without the days away, which have their dates themselves
}

// Standing is what is set now.
func (w Workshop) Standing() Standing {
	s := Standing{FixedCosts: w.FixedCosts, People: w.People, Calendar: w.Figures.Calendar}
	s.Calendar.Away = nil
	return s
}

// Same tells that another one holds the same.
func (s Standing) Same(o Standing) bool {
	return s.FixedCosts.Equal(o.FixedCosts) && s.People == o.People && reflect.DeepEqual(s.Calendar, o.Calendar)
}
