package sales_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// TestVerdicts says every answer of the size rule in every tongue: each names the rule and the margin, defers to the
// event, and promises nothing.
func TestVerdicts(t *testing.T) {
	in := func(answer, by string, margin float64) shield.Verdict {
		return shield.Verdict{Rule: "Fen League", Edition: "2026", Answer: answer, By: by, Measured: shield.StraightAcross, Margin: margin, Largest: "560 × 880 mm"}
	}
	for _, c := range []struct {
		v               shield.Verdict
		en, de, fr, has string
	}{
		{shield.Verdict{Answer: shield.NoRule}, "No size rule was stated.", "Es wurde keine Größenregel genannt.", "Aucune règle de taille n’a été indiquée.", ""},
		{in(shield.UnknownRule, "", 0), "The size rule “Fen League” is not known here.", "Die Größenregel „Fen League“ ist hier nicht bekannt.", "", "Fen League"},
		{in(shield.Fits, "circle", 12.7), "Built to Fen League 2026 as stated: fits with 12 mm to spare (circle, straight across).", "Gebaut nach Fen League 2026 wie angegeben: passt, mit 12 mm Spielraum (Kreis, gerade gemessen).", "", "Fen League 2026"},
		{in(shield.Fits, "nothing", math.Inf(1)), "Built to Fen League 2026 as stated.", "", "Fait selon Fen League 2026 comme indiqué.", "Fen League 2026"},
		{in(shield.TooBig, "longest side", -1200.2), "Too big for Fen League 2026 by 1 201 mm (longest side, straight across). The largest of this shape that fits is 560 × 880 mm.", "Für Fen League 2026 um 1.201 mm zu groß (längste Seite, gerade gemessen). Am größten passt in dieser Form 560 × 880 mm.", "", "560 × 880 mm"},
		{in(shield.TooThin, "thickness", -2.5), "Too thin for Fen League 2026 by 2.5 mm.", "Für Fen League 2026 um 2,5 mm zu dünn.", "Trop mince pour Fen League 2026 de 2,5 mm.", "Fen League 2026"},
		{in(shield.TooSmall, "face", -3.2), "Too small for Fen League 2026 by 4 mm (least face).", "", "Trop petit pour Fen League 2026 de 4 mm (minimum : face).", "Fen League 2026"},
		{in(shield.TooHeavy, "weight", -0.42), "About 0.4 kg too heavy for Fen League 2026.", "Etwa 0,4 kg zu schwer für Fen League 2026.", "Trop lourd d’environ 0,4 kg pour Fen League 2026.", "Fen League 2026"},
		{in(shield.OnlyIf+shield.Flat, "circle", -8), "Fen League 2026: fits only if measured flat; measured straight across it is too big by 8 mm.", "Fen League 2026: passt nur, wenn flach gemessen wird; gerade gemessen ist er um 8 mm zu groß.", "", "Fen League 2026"},
	} {
		spaces := strings.NewReplacer("\u202f", " ", "\u00a0", " ")
		for code, want := range map[string]string{"en": c.en, "de": c.de, "fr": c.fr} {
			got := spaces.Replace(sales.Judged(words.Speak(code), c.v))
			check := map[string]string{"en": "The event's own check decides.", "de": "Es entscheidet die Prüfung der Veranstaltung selbst.", "fr": "C’est le contrôle de l’évènement qui décide."}[code]
			if want != "" && got != want+" "+check {
				t.Errorf("%s: %q, want %q", code, got, want)
			}
			if !strings.HasSuffix(got, check) || !strings.Contains(got, c.has) || strings.Contains(got, "%!") {
				t.Errorf("%s: %q", code, got)
			}
			for _, no := range []string{"certif", "zertifi", "sicher", "safe", "sûr"} {
				if strings.Contains(strings.ToLower(got), no) {
					t.Errorf("%s: it says %q: %q", code, no, got)
				}
			}
		}
	}
}

// asEstimated is a sheet of a demo design for a customer.
func asEstimated(t testing.TB, file string, c sales.Customer) sales.Sheet {
	t.Helper()
	data, err := os.ReadFile(file)
	fatal(t, err)
	spec, err := orderform.Read(data)
	fatal(t, err)
	now := time.Date(2026, 5, 11, 9, 0, 0, 0, time.UTC)
	snap, err := demo.Snapshot(now)
	fatal(t, err)
	snap.Treatment = c.Treatment
	e, err := pricing.Make(t.Context(), spec, snap, pricing.Live)
	fatal(t, err)
	s := sales.Sheet{Workshop: workshop.Workshop{Terms: workshop.UsualTerms(), Foreign: workshop.UsualForeign(), Figures: snap}, Customer: c, Title: spec.Name, Date: now, Estimate: e}
	s.Made, s.Cautions = sales.Describe(s.Tongue(), e.Shield), sales.Cautions(s.Tongue(), e)
	return s
}

// TestSaid: for every demo design the customer's words are there in each tongue, as many as in English, and none of the
// program's own English is left in the others.
func TestSaid(t *testing.T) {
	files, err := filepath.Glob("../../cmd/foamwright/demo/designs/*.json")
	fatal(t, err)
	if len(files) < 5 {
		t.Fatal(files)
	}
	for _, file := range files {
		english := asEstimated(t, file, sales.Customer{}).Said()
		for _, code := range []string{"de", "fr"} {
			said := asEstimated(t, file, sales.Customer{Language: code}).Said()
			if said.Language != code || len(said.Made) != len(english.Made) || len(said.Cautions) != len(english.Cautions) || len(said.Entries) != len(english.Entries) || len(said.Terms) != 4 {
				t.Errorf("%s in %s: %+v", file, code, said)
			}
			text := " " + strings.ToLower(strings.Join(append(append(said.Made, said.Cautions...), said.Verdict, said.Ready), " ")) + " "
			for _, no := range []string{" the ", " of ", " and ", " with ", " mm wide", "%!", " coats", " layers"} {
				if strings.Contains(text, no) {
					t.Errorf("%s in %s says %q: %s", file, code, no, text)
				}
			}
		}
	}
}

// TestSumsSayWhyNoTaxIsCharged, in the customer's tongue, and what is printed adds up.
func TestSumsSayWhyNoTaxIsCharged(t *testing.T) {
	const buckler = "../../cmd/foamwright/demo/designs/ferry-buckler.json"
	said := asEstimated(t, buckler, sales.Customer{Language: "de", Treatment: tax.ReverseCharge}).Said()
	if n := len(said.Sums); n != 2 || said.Sums[1].What != "Es wird keine Steuer berechnet: Steuerschuldnerschaft des Leistungsempfängers." || said.Sums[1].Amount != "" {
		t.Errorf("%+v", said.Sums)
	}
	if !strings.HasPrefix(said.Total, said.Sums[0].Amount) {
		t.Errorf("net %s, total %s", said.Sums[0].Amount, said.Total)
	}
	if usual := asEstimated(t, buckler, sales.Customer{Language: "fr"}).Said(); usual.Sums[1].What != "Taxe 20\u202f%" || usual.Sums[1].Amount == "" {
		t.Errorf("%+v", usual.Sums)
	}
	s := asEstimated(t, buckler, sales.Customer{Language: "fr"})
	s.Workshop.Figures.Tax.Registered, s.Workshop.Foreign = false, nil
	if said := s.Said(); len(said.Sums) != 1 || said.Sums[0].Amount != "" || said.Terms[0] != workshop.UsualTerms()[0] {
		t.Errorf("%+v, %q", said.Sums, said.Terms)
	}
}
