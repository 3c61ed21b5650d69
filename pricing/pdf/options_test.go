package pdf

import (
	"bytes"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/sales"
)

// offered are options as they are printed: one by itself, two of which one can be had, one that goes with neither.
func offered() []sales.PrintedOption {
	option := func(key, name, amount string, changes ...string) sales.PrintedOption {
		o := sales.PrintedOption{Option: sales.Option{Key: key, Name: name, Changes: map[string]string{}}, Amount: decimal.RequireFromString(amount)}
		for _, c := range changes {
			o.Changes[c] = "x"
		}
		return o
	}
	latex := option("c", "latex instead of primer", "36.5", "coat.system", "coat.coats")
	latex.Ready, latex.Days = day.AddDate(0, 0, 12), 2
	latex.Cautions = []string{"Contains natural rubber latex, which some people are allergic to."}
	sooner := option("b", "one coat fewer", "-1209", "coat.coats")
	sooner.Ready, sooner.Days = day.AddDate(0, 0, 9), -1
	return []sales.PrintedOption{option("a", strings.Repeat("a very long name ", 9), "0", "gems"), sooner, latex, option("d", "metal paint", "5", "paint.0")}
}

// Options are printed with a box, what they add, what they move and what goes with them, in the customer's tongue.
func TestOptionsAreOnTheQuote(t *testing.T) {
	s := sheet(t, nil)
	s.Estimate.Shield.Spec.Delivery.By = day.AddDate(0, 0, 10)
	s.Options = offered()
	for code, says := range map[string][]string{
		"en": {"Options", "no extra charge", "One of these:", "one coat fewer −1\u202f209.00", "One day sooner with it: ready by 20 May 2026", "latex instead of primer +36.50",
			"2 days later with it: ready by 23 May 2026", "That is after the 21 May 2026 you asked for.", "Contains natural rubber latex", "metal paint +5.00", "tax included", "Tick what you would like"},
		"de": {"Wahlmöglichkeiten", "ohne Aufpreis", "Eines davon:", "−1.209,00", "Damit einen Tag früher", "Damit 2 Tage später", "+36,50", "einschließlich Steuer"},
		"fr": {"Options", "sans supplément", "Au choix", "+36,50", "2 jours de plus", "taxe comprise"},
	} {
		s.Customer.Language = code
		doc := printed(t, s)
		text := spaced(strings.Join(pages(t, doc), " "))
		for _, want := range says {
			if !strings.Contains(text, spaced(want)) {
				t.Errorf("%s: nowhere %q in %s", code, want, text)
			}
		}
		if !bytes.Equal(doc, printed(t, s)) {
			t.Errorf("%s: the same sheet gave other bytes", code)
		}
	}
	s.Options = nil
	s.Customer.Language = "en"
	if text := strings.Join(pages(t, printed(t, s)), " "); strings.Contains(text, "Options") {
		t.Error("a quote without options names them")
	}
}

// What clashes outside a group is told beside each.
func TestOptionsThatExcludeEachOtherInPart(t *testing.T) {
	list := offered()[1:3]
	between := sales.PrintedOption{Option: sales.Option{Key: "e", Name: "three coats and a rim", Changes: map[string]string{"coat.coats": "3", "rim": ""}}}
	rim := sales.PrintedOption{Option: sales.Option{Key: "f", Name: "a wide rim", Changes: map[string]string{"rim.width": "80 mm"}}}
	list = append(list, between, rim)
	groups := sales.OptionGroups(list)
	if len(groups) != 2 || len(groups[0].Options) != 3 || !groups[0].OneOf || groups[1].OneOf {
		t.Fatalf("%+v", groups)
	}
	s := sheet(t, nil)
	s.Options = list
	if text := spaced(strings.Join(pages(t, printed(t, s)), " ")); !strings.Contains(text, "Not together with “three coats and a rim”.") || !strings.Contains(text, "Not together with “a wide rim”.") {
		t.Error(text)
	}
}
