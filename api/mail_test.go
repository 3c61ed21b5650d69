package api_test

import (
	"fmt"
	"strings"
	"testing"

	"foamwright/api"
	"foamwright/pricing/people"
)

// mailed goes through everything that sends an issued quote by mail.
func (s *shop) mailed(q api.Quote) {
	s.t.Helper()
	var m, again, cancelled api.Mail
	ask := fmt.Sprintf(`{"token": "first of all", "kind": "quote", "about": %q, "to": "ilse@harrowmouth.test"}`, q.ID)
	a := s.owner("POST", "/mails", ask).want(201, &m)
	s.owner("POST", "/mails", ask).want(201, &again)
	if m.ID != again.ID || a.Header.Get("Location") != api.Path+"/mails/"+m.ID || m.State != "waiting" || m.By != "The owner" || len(m.Documents) != 1 ||
		m.Subject != "Quote 1 of 2026: A round one" || !strings.Contains(m.Text, "{link}") || strings.Contains(m.Text, "/q/") || len(m.Steps) != 1 || m.Due == nil || m.Sent != nil {
		s.t.Errorf("%+v", m)
	}
	var list struct{ Mails []api.Mail }
	s.as(people.Bookkeeper, "GET", "/mails?open=true&most=5&about="+q.ID, "").want(200, &list)
	if len(list.Mails) != 1 || list.Mails[0].Text != "" || list.Mails[0].ID != m.ID {
		s.t.Errorf("%+v", list)
	}
	s.as(people.Bookkeeper, "POST", "/mails/"+m.ID+"/again", "").want(200, &again)
	s.as(people.Bookkeeper, "POST", "/mails/"+m.ID+"/cancel", "").want(200, &cancelled)
	if again.Steps[1].What != "again" || again.Steps[1].By != "The bookkeeper" || cancelled.State != "cancelled" || cancelled.Due != nil {
		s.t.Errorf("%+v %+v", again, cancelled)
	}
	s.as(people.Bookkeeper, "GET", "/mails/"+m.ID, "").want(200, nil)
	s.owner("POST", "/mails/"+m.ID+"/again", "").problem(409)
	s.as(people.Bookkeeper, "POST", "/mails", strings.Replace(ask, "first", "second", 1)).problem(403)
	if links := strings.Count(s.owner("GET", "/mails", "").body, "/q/"); links != 0 {
		s.t.Error("a list tells the link of a customer")
	}
}

func TestMailsThatAreNotTaken(t *testing.T) {
	s := open(t, api.MaxBody)
	for _, r := range []struct {
		body   string
		status int
		says   string
	}{
		{`{}`, 422, "about: Send the id"},
		{`{"kind": "quote", "about": "` + nothing + `", "token": "a good token"}`, 404, "There is no such quote"},
		{`{"kind": "quote", "about": "` + never + `", "token": "a good token"}`, 404, "There is no such"},
		{`{"kind": "gossip", "about": "` + nothing + `", "token": "a good token"}`, 404, "There is no such kind of mail"},
		{`{"kind": 3, "about": "` + nothing + `"}`, 422, "kind: This takes text"},
		{`{"kind": "quote", "about": "` + nothing + `", "attach": "x"}`, 422, "attach: There is no such entry"},
	} {
		if b := s.owner("POST", "/mails", r.body).problem(r.status); !strings.HasPrefix(first(b), r.says) {
			t.Errorf("%s: %s", r.body, first(b))
		}
	}
	s.owner("GET", "/mails?most=0", "").problem(422)
	s.owner("GET", "/mails/"+nothing, "").problem(404)
	s.owner("POST", "/mails/"+never+"/cancel", "").problem(404)
}
