package workshop

import (
	"regexp"
	"strconv"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/pricing/transfer"
)

var (
	countryForm = regexp.MustCompile(`^([A-Z]{2})?$`)
	seriesForm  = regexp.MustCompile(`^[A-Za-z0-9./-]{0,10}$`)
)

// checkMoney adds what is wrong with where and by when customers pay.
func (w Workshop) checkMoney(l *fault.List) {
	if !countryForm.MatchString(w.Head.Country) {
		l.Add("head.country", w.Head.Country, "Write the two letters of the country, for example DE, or nothing.")
	}
	if utf8.RuneCountInString(w.Head.Holder) > 70 {
		l.Add("head.holder", w.Head.Holder, "A payment code has room for 70 characters. Shorten it.")
	}
	_, err := transfer.ParseIBAN(w.Head.IBAN)
	_ = l.Take("head.iban", err) // always a fault
	_, err = transfer.ParseBIC(w.Head.BIC)
	_ = l.Take("head.bic", err)
	for _, s := range []struct{ field, series string }{{"invoice_series", w.InvoiceSeries}, {"credit_series", w.CreditSeries}} {
		if !seriesForm.MatchString(s.series) {
			l.Add(s.field, s.series, "Write up to 10 letters A to Z, digits, points, strokes or hyphens, or nothing.")
		}
	}
	if w.InvoiceDays < 0 || w.InvoiceDays > 120 {
		l.Add("invoice_days", strconv.Itoa(w.InvoiceDays), "Write a number of days from 0 to 120.")
	}
	for _, s := range []struct{ field, words string }{
		{"tax.wording.unregistered", w.Figures.Tax.Wording.Unregistered}, {"tax.wording.reverse", w.Figures.Tax.Wording.Reverse},
		{"tax.wording.export", w.Figures.Tax.Wording.Export}, {"tax.wording.exempt", w.Figures.Tax.Wording.Exempt},
	} {
		if utf8.RuneCountInString(s.words) > 300 {
			l.Add(s.field, s.words, "This is too long. Say it in up to 300 letters.")
		}
	}
}
