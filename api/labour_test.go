package api_test

import (
	"encoding/json"
	"strings"

	"foamwright/api"
)

// labour prices by number and goes through the table of steps: read, changed, read by the other one too late.
func (s *shop) labour() {
	s.t.Helper()
	var list struct{ Breaks []api.Break }
	s.owner("POST", "/estimate/breaks", round).want(200, &list)
	quantities, last := []int{}, 0.0
	for _, b := range list.Breaks {
		quantities = append(quantities, b.Quantity)
		each := b.Hours / float64(b.Quantity)
		if last != 0 && each >= last || b.Low >= b.Hours || b.High <= b.Hours || b.Expected <= b.Low || b.Deviation <= 0 || b.Keeps != "" || b.Currency != "EUR" {
			s.t.Errorf("%+v", b)
		}
		last = each
	}
	if len(quantities) != 5 || quantities[0] != 1 || quantities[4] != 20 {
		s.t.Errorf("%v", quantities)
	}
	s.owner("POST", "/estimate/breaks", `{}`).problem(422)

	type table struct {
		Edit  int             `json:"edit"`
		Steps []api.TableStep `json:"steps"`
	}
	var read, kept table
	s.owner("GET", "/workshop/steps", "").want(200, &read)
	put := func(t table) reply {
		body, err := json.Marshal(t)
		s.must(err)
		return s.owner("PUT", "/workshop/steps", string(body))
	}
	for i := range read.Steps {
		if read.Steps[i].Code == "talc" {
			read.Steps[i].Hidden = true
		}
	}
	own := api.TableStep{Code: "wax", Name: "Wax the edge", Group: "edge", Driver: "m edge", Scope: "item", Unit: api.Spread{Low: "1", Likely: "2.5", High: "4"}, After: []string{"smooth"}, Cautions: []string{"solvent"}}
	read.Steps = append(read.Steps, own)
	put(read).want(200, &kept)
	if n := len(kept.Steps); kept.Edit != read.Edit+1 || n != len(read.Steps) || kept.Steps[n-1].Unit.Likely != "2.5" || kept.Steps[n-1].After[0] != "smooth" {
		s.t.Errorf("%+v", kept)
	}
	if b := put(read).problem(409); !strings.Contains(b.Detail, "Somebody else changed the settings") {
		s.t.Errorf("%+v", b)
	}
	for says, change := range map[string]func(*table){
		"steps.0.unit_minutes.low: Write minutes":      func(t *table) { t.Steps[0].Unit.Low = "-1" },
		"steps.3.setup_minutes.likely: Write a number": func(t *table) { t.Steps[3].Setup.Likely = "many" },
		"steps.2.place: Choose one of":                 func(t *table) { t.Steps[2].Place = "moon" },
		"steps.2.grade: There is none":                 func(t *table) { t.Steps[2].Grade = "helper" },
		"steps.1.after: A step comes after":            func(t *table) { t.Steps[1].After = []string{"wax"} },
		"steps.bench: ":                                func(t *table) { t.Steps = append(t.Steps[:len(t.Steps)-2], own) },
	} {
		bad := kept
		bad.Steps = append([]api.TableStep{}, kept.Steps...)
		change(&bad)
		if b := put(bad).problem(422); !strings.HasPrefix(first(b), says) {
			s.t.Errorf("%s, want %s", first(b), says)
		}
	}
	for body, says := range map[string]string{
		`{"steps": []}`: "edit: Send the edit count",
		`{"edit": 1, "steps": [{"after": "cut"}]}`:      "steps.0.after: This takes a list of texts",
		`{"edit": 1, "steps": [{"unit_minutes": "2"}]}`: "steps.0.unit_minutes: This takes a group",
		`{"edit": 1, "steps": [{"wait": 2}]}`:           "steps.0.wait: There is no such entry",
		`{"edit": 1, "steps": "cut"}`:                   "steps: This takes a list",
	} {
		if b := s.owner("PUT", "/workshop/steps", body).problem(422); !strings.HasPrefix(first(b), says) {
			s.t.Errorf("%s: %s", body, first(b))
		}
	}
}
