package api

import (
	"errors"
	"strings"
	"time"

	"foamwright/materials/fault"

	"github.com/shopspring/decimal"
)

// day reads a day of a body.
func day(l *fault.List, field, text string) time.Time {
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		l.Add(field, text, "Write a day as year-month-day, for example 2026-11-27.")
	}
	return d
}

// optionalDay reads a day that may be left out.
func optionalDay(l *fault.List, field, text string) time.Time {
	if text == "" {
		return time.Time{}
	}
	return day(l, field, text)
}

// days reads the first and the last day of a stretch; zero where one is left out.
func days(from, to string) (first, last time.Time, err error) {
	var l fault.List
	first, last = optionalDay(&l, "from", from), optionalDay(&l, "to", to)
	return first, last, l.Err()
}

// dateOf is a day of an answer; empty for none.
func dateOf(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// moment is a time that may not have come.
func moment(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	t = t.UTC()
	return &t
}

// quantity reads a decimal of a body, 0 or more.
func quantity(l *fault.List, field, text string) decimal.Decimal {
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 20 || d.IsNegative() || d.Exponent() < -8 || d.Exponent() > 8 {
		l.Add(field, text, "Write a number of 0 or more, for example 0.25.")
		return decimal.Zero
	}
	return d
}

// figure is a decimal of a body; what is left out is 0.
func figure(l *fault.List, field, text string) decimal.Decimal {
	if strings.TrimSpace(text) == "" {
		return decimal.Zero
	}
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 20 || d.Exponent() < -8 || d.Exponent() > 8 {
		l.Add(field, text, "Write a number, for example 229.50.")
		return decimal.Zero
	}
	return d
}

// unlessLeftOut reads a decimal that may be left out; nil then.
func unlessLeftOut(read func(*fault.List, string, string) decimal.Decimal, l *fault.List, field, text string) *decimal.Decimal {
	if text == "" {
		return nil
	}
	d := read(l, field, text)
	return &d
}

// amountOf is a decimal that has to be there.
func amountOf(l *fault.List, field, text string) decimal.Decimal {
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 20 {
		l.Add(field, text, "Write a number as text with a point, for example 12.50.")
	}
	return d
}

// needed refuses a body without an entry that must be there.
func needed(field string, value *int) error {
	var l fault.List
	if value == nil {
		l.Add(field, "", "Send this as a whole number.")
	}
	return l.Err()
}

// called gives problems of a field the name that its entry has in a body.
func called(err error, field, entry string) error {
	var f *fault.Fault
	if errors.As(err, &f) {
		for i, p := range f.Problems {
			if p.Field == field {
				f.Problems[i].Field = entry
			}
		}
	}
	return err
}

// each writes a list for JSON; it is never null.
func each[A, B any](list []A, write func(A) B) []B {
	out := make([]B, len(list))
	for i, v := range list {
		out[i] = write(v)
	}
	return out
}

func texts[T ~string](list []T) []string { return spelled[string](list) }

func spelled[B, A ~string](list []A) []B {
	out := make([]B, len(list))
	for i, w := range list {
		out[i] = B(w)
	}
	return out
}
