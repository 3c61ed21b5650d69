package api_test

import (
	"fmt"
	"strings"
	"testing"

	"foamwright/api"
)

// asks goes through everything that is done with an enquiry, and with the waiting list.
func (s *shop) asks() {
	s.t.Helper()
	var e, again api.Enquiry
	words := `A kite shield, 56 cm wide, 3 foot or 80.\nThanks,\nMara Quist\nmara@ferry-house.example`
	a := s.owner("POST", "/enquiries", `{"words": "`+words+`", "answers": [{"about": "latex", "value": "no"}]}`).want(201, &e)
	if a.Header.Get("Location") != api.Path+"/enquiries/"+e.ID || e.State != "new" || e.Name != "Mara Quist" || e.Mail != "mara@ferry-house.example" || e.By != "The owner" || len(e.Doubts) != 1 || e.Doubts[0].Words != "3 foot or 80" ||
		e.Answers[0] != (api.Answered{About: "latex", Value: "no"}) || !strings.Contains(e.Letter, "“3 foot or 80”") || len(e.Questions) == 0 {
		s.t.Errorf("%+v", e)
	}
	found := map[string]string{}
	for _, f := range e.Found {
		found[f.About] = f.Value
	}
	if found["width"] != "56 cm" || found["shape"] != "kite" || found["latex"] != "no" || found["height"] != "" {
		s.t.Errorf("found %v", found)
	}
	s.owner("PUT", "/enquiries/"+e.ID, fmt.Sprintf(`{"words": "%s", "edit": %d, "name": "Mara Quist", "answers": [{"about": "height", "value": "88 cm"}]}`, words, e.Edit)).want(200, &again)
	s.owner("PUT", "/enquiries/"+e.ID, fmt.Sprintf(`{"words": "%s", "edit": %d}`, words, e.Edit)).problem(409)
	s.owner("GET", "/enquiries/"+e.ID, "").want(200, &e)
	if e.Edit != again.Edit || e.Answers[0].Value != "88 cm" {
		s.t.Errorf("%+v", e)
	}
	s.owner("POST", "/enquiries/"+e.ID+"/questions", fmt.Sprintf(`{"edit": %d, "letter": "How high?", "mail": true, "token": "asked but once"}`, e.Edit)).want(200, &e)
	var mails struct{ Mails []api.Mail }
	s.owner("GET", "/mails?about="+e.ID, "").want(200, &mails)
	if e.State != "asked" || e.Letter != "How high?" || e.Asked == nil || len(mails.Mails) != 1 || mails.Mails[0].Kind != "questions" || mails.Mails[0].To != "mara@ferry-house.example" {
		s.t.Errorf("%+v %+v", e, mails)
	}

	var w api.Waiting
	s.owner("POST", "/waiting", `{"enquiry": "`+e.ID+`", "since": "2026-03-01"}`).want(201, &w)
	var list struct {
		Waiting []api.Waiting
		Free    string
	}
	s.owner("GET", "/waiting", "").want(200, &list)
	if w.Who != "Mara Quist" || len(list.Waiting) != 1 || list.Waiting[0] != w || w.Since != "2026-03-01" {
		s.t.Errorf("%+v %+v", w, list)
	}
	s.owner("POST", "/waiting/"+w.ID+"/end", `{"reason": "quoted"}`).want(204, nil)
	s.owner("GET", "/waiting?ended=true", "").want(200, &list)
	if len(list.Waiting) != 1 || list.Waiting[0].Reason != "quoted" {
		s.t.Errorf("%+v", list)
	}

	var q, twice api.Quote
	s.owner("POST", "/enquiries/"+e.ID+"/quote", `{}`).want(200, &q)
	s.owner("POST", "/enquiries/"+e.ID+"/quote", `{"customer": "new"}`).want(200, &twice)
	if q.ID != twice.ID || q.State != "draft" || q.CustomerName != "Mara Quist" || q.Spec.Outline.Height.Typed != "88 cm" {
		s.t.Errorf("%+v", q)
	}
	s.owner("DELETE", "/enquiries/"+e.ID, "").problem(409)
	var second api.Enquiry
	s.owner("POST", "/enquiries", `{"words": "`+words+`"}`).want(201, &second)
	if p := s.owner("POST", "/enquiries/"+second.ID+"/quote", `{}`).problem(422); first(p) != "customer: Somebody with the same mail address or name is a customer already. Choose whether it is they, or a new customer." || len(second.Same) != 1 {
		s.t.Errorf("%+v", p)
	}
	s.owner("POST", "/enquiries/"+second.ID+"/close", fmt.Sprintf(`{"edit": %d, "reason": "the same again"}`, second.Edit)).want(200, &second)
	var all struct{ Enquiries []api.Enquiry }
	s.owner("GET", "/enquiries?words=ferry&most=5", "").want(200, &all)
	if len(all.Enquiries) != 2 || all.Enquiries[0].State != "closed" || all.Enquiries[0].Questions != nil {
		s.t.Errorf("%+v", all)
	}
	if s.owner("GET", "/enquiries?open=true", "").want(200, &all); len(all.Enquiries) != 0 {
		s.t.Errorf("%+v", all)
	}
	s.owner("DELETE", "/enquiries/"+second.ID, "").want(204, nil)
	s.owner("GET", "/enquiries/"+second.ID, "").problem(404)
}

func TestBadEnquiries(t *testing.T) {
	s := open(t, api.MaxBody)
	var e api.Enquiry
	s.owner("POST", "/enquiries", `{"words": "a shield"}`).want(201, &e)
	at := "/enquiries/" + e.ID
	for _, r := range []struct {
		method, path, body string
		status             int
		says               string
	}{
		{"POST", "/enquiries", `{"words": " "}`, 422, "words: Please write what you wish for."},
		{"POST", "/enquiries", `{"words": "x", "mail": "nobody"}`, 422, "mail: Please write a mail address"},
		{"POST", "/enquiries", `{"words": "x", "answers": [{"about": "width", "value": "80"}]}`, 422, "answers.width: Please write the length with its unit"},
		{"POST", "/enquiries", `{"words": "x", "answers": [{"about": "wobble", "value": "80"}]}`, 422, "answers.wobble: There is no such entry."},
		{"POST", "/enquiries", `{"words": "` + strings.Repeat("x", 8001) + `"}`, 422, "words: This is too long."},
		{"POST", "/enquiries", `{"words": "x", "state": "quoted"}`, 422, "state: There is no such entry."},
		{"PUT", at, `{"words": "x"}`, 422, "edit: Send the edit count"},
		{"PUT", "/enquiries/" + nothing, `{"words": "x", "edit": 1}`, 404, "There is no such enquiry"},
		{"PUT", at, `{"words": "x", "edit": 0}`, 200, ""},
		{"POST", at + "/questions", `{"letter": "x"}`, 422, "edit: Send the edit count"},
		{"POST", at + "/questions", `{"letter": "", "edit": 2}`, 422, "letter: There is nothing to ask in it."},
		{"POST", at + "/questions", `{"letter": "x", "edit": 2, "mail": true, "token": "a good token"}`, 422, "mail: There is no mail address"},
		{"POST", at + "/quote", `{}`, 422, "name: Write a name"},
		{"POST", at + "/quote", `{"customer": "` + nothing + `"}`, 422, "customer: There is no such customer."},
		{"POST", at + "/close", `{"edit": 2}`, 422, "reason: Say in a few words"},
		{"DELETE", "/enquiries/" + never, "", 404, "There is no such"},
		{"POST", "/waiting", `{}`, 422, "who: Choose a customer"},
		{"POST", "/waiting", `{"who": "Jonas", "wish": "x", "since": "soon"}`, 422, "since: Write a day"},
		{"POST", "/waiting/" + nothing + "/end", `{"reason": "x"}`, 404, "There is no such"},
	} {
		a := s.owner(r.method, r.path, r.body)
		if r.status == 200 {
			a.want(200, nil)
			continue
		}
		if said := first(a.problem(r.status)); !strings.Contains(said, r.says) {
			t.Errorf("%s %s %.60s: %s", r.method, r.path, r.body, said)
		}
	}
}
