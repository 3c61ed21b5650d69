package workshop

import (
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/pricing/words"
)

// Enquiries is how the workshop takes enquiries of strangers.
type Enquiries struct {
	Open    bool              // the public form; shut by default
	Privacy map[string]string // what is done with what is written there, by language; the usual sentence where empty
}

// mostPrivacy is how long the sentence may be, in characters.
const mostPrivacy = 1000

// PrivacyIn is what is said of it in a tongue.
func (w Workshop) PrivacyIn(t words.Tongue) string {
	if own := w.Enquiries.Privacy[t.Code()]; own != "" {
		return own
	}
	return t.Say("What you write here is read by %s alone, to answer you and to make a quote. It is given to nobody else; ask, and it is deleted.", w.Head.Name)
}

// Full is the day before which no new order is begun; false on that day and after it, and where none is set.
func (w Workshop) Full(now time.Time) (time.Time, bool) {
	y, m, d := now.Date()
	return w.NoOrdersBefore, w.NoOrdersBefore.After(time.Date(y, m, d, 0, 0, 0, 0, time.UTC))
}

// FullIn says so in a tongue; "" where new orders are begun.
func (w Workshop) FullIn(t words.Tongue, now time.Time) string {
	if day, full := w.Full(now); full {
		return t.Say("No new orders are begun before %s.", t.Date(day))
	}
	return ""
}

// Begin is when a job that comes now is begun at the earliest, by the clock on the wall.
func (w Workshop) Begin(now time.Time) time.Time {
	if day, full := w.Full(now); full {
		return day
	}
	return now
}

// checkEnquiries adds what is wrong with the settings for enquiries.
func (w Workshop) checkEnquiries(l *fault.List) {
	for code, text := range w.Enquiries.Privacy {
		if words.Speak(code).Code() != code {
			l.Add("privacy."+fault.Shorten(code), "", "There is no such language here.")
		}
		if utf8.RuneCountInString(text) > mostPrivacy {
			l.Add("privacy."+fault.Shorten(code), text, "This is too long. Shorten it.")
		}
	}
	if day := w.NoOrdersBefore; !day.IsZero() && (day.Year() < 2000 || day.Year() > 2200) {
		l.Add("no_orders_before", day.Format(time.DateOnly), "Write a day of this century, or leave it empty.")
	}
}
