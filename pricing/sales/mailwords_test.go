package sales_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"
)

var update = flag.Bool("update", false, "write the worded mails anew")

// Every mail in every tongue, as it was last read over.
func TestWordingOfMails(t *testing.T) {
	var b strings.Builder
	facts := sales.MailFacts{
		Head:   workshop.Head{Name: "Kestrel Yard Propworks", Address: []string{"7 Sailcloth Yard", "Harrowmouth"}, Phone: "+00 555 0142"},
		Number: sales.Number{Year: 2027, No: 42}, Title: "Heron kite", Sum: money.Round(decimal.RequireFromString("1124"), "EUR"),
		Until: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC), Issued: time.Date(2027, 2, 15, 0, 0, 0, 0, time.UTC),
	}
	for _, language := range []string{"en", "de", "fr"} {
		for _, c := range []struct {
			kind   sales.MailKind
			change func(*sales.MailFacts)
		}{
			{sales.MailQuote, func(f *sales.MailFacts) { f.Linked = true }},
			{sales.MailQuote, func(f *sales.MailFacts) {}},
			{sales.MailQuoteReminder, func(f *sales.MailFacts) { f.Linked = true }},
			{sales.MailQuoteReminder, func(f *sales.MailFacts) {}},
			{sales.MailConfirmation, func(f *sales.MailFacts) {}},
			{sales.MailConfirmation, func(f *sales.MailFacts) { f.Until = time.Time{} }},
			{sales.MailChange, func(f *sales.MailFacts) {}},
			{sales.MailApproval, func(f *sales.MailFacts) {}},
			{sales.MailCare, func(f *sales.MailFacts) {}},
			{sales.MailInvoice, func(f *sales.MailFacts) { f.XML = true }},
			{sales.MailInvoice, func(f *sales.MailFacts) { f.Credit = true }},
			{sales.MailInvoiceReminder, func(f *sales.MailFacts) { f.Sum = money.Round(decimal.RequireFromString("674.40"), "EUR") }},
		} {
			f := facts
			f.Kind, f.Customer = c.kind, sales.Customer{Name: "Ilse of the White Fen", Language: language}
			c.change(&f)
			subject, text := sales.Wording(f)
			if subject == "" || strings.Contains(text, "%!") || strings.Contains(text, sales.LinkMark) != f.Linked {
				t.Errorf("%s in %s: %s\n%s", c.kind, language, subject, text)
			}
			fmt.Fprintf(&b, "=== %s, %s\n%s\n\n%s\n\n", c.kind, language, subject, text)
		}
	}
	const file = "testdata/mails.txt"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the mails are worded another way now; look at them, then -update:\n%s", b.String())
	}
}
