package api_test

import (
	"strings"

	"foamwright/api"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// answers goes through what a customer's page is to the API: links, questions, and what is still to be seen. The answer
// to a quote itself is asked for where one is accepted.
func (s *shop) answers(q api.Quote) {
	s.t.Helper()
	var made, same api.Link
	var links struct{ Links []api.Link }
	s.owner("POST", "/quotes/"+q.ID+"/links", "").want(201, &made)
	_, secret, found := strings.Cut(made.Address, "/q/")
	if !found || len(secret) != 26 || !strings.HasPrefix(made.Address, "http") || made.By != "The owner" || made.Seen != nil {
		s.t.Errorf("%+v", made)
	}
	if _, err := s.sales.Linked(s.t.Context(), secret, true); err != nil {
		s.t.Error(err)
	}
	if err := s.sales.Ask(s.t.Context(), secret, sales.Message{Text: "May it be lighter?"}); err != nil {
		s.t.Fatal(err)
	}
	s.owner("GET", "/quotes/"+q.ID+"/links", "").want(200, &links)
	if len(links.Links) == 0 || links.Links[0].ID != made.ID || links.Links[0].Address != "" || links.Links[0].Seen == nil {
		s.t.Errorf("%+v", links)
	}
	if mails, err := s.sales.Mails(s.t.Context(), sales.MailFound{Kind: sales.MailNotice}); err != nil || len(mails) != 1 || mails[0].To != "bench@kestrel-yard.example" ||
		mails[0].Subject != "Ilse asks about quote 1 of 2026" || !strings.Contains(mails[0].Text, "May it be lighter?") {
		s.t.Errorf("%+v %v", mails, err)
	}
	var talk struct{ Messages []api.Message }
	var news struct{ News []api.News }
	s.owner("GET", "/news", "").want(200, &news)
	s.owner("GET", "/quotes/"+q.ID+"/messages", "").want(200, &talk)
	if len(news.News) != 1 || news.News[0].Kind != "question" || news.News[0].Quote != q.ID || len(talk.Messages) != 1 || !talk.Messages[0].Open || talk.Messages[0].Name != "Ilse" {
		s.t.Errorf("%+v %+v", news, talk)
	}
	s.owner("POST", "/quotes/"+q.ID+"/messages", `{"text": " "}`).problem(422)
	s.owner("POST", "/quotes/"+q.ID+"/messages", `{"text": "By a layer."}`).want(200, &talk)
	if len(talk.Messages) != 2 || talk.Messages[0].Open || talk.Messages[1].Kind != "reply" || talk.Messages[1].Name != "The owner" {
		s.t.Errorf("%+v", talk)
	}
	s.owner("POST", "/quotes/"+q.ID+"/messages/settle", "").want(200, &talk)
	s.owner("DELETE", "/quotes/"+q.ID+"/links/"+nothing, "").problem(404)
	s.owner("DELETE", "/quotes/"+q.ID+"/links/"+made.ID, "").want(204, nil)
	s.owner("GET", "/quotes/"+q.ID+"/links", "").want(200, &links)
	if same = links.Links[0]; same.Ended == nil {
		s.t.Errorf("%+v", links)
	}
	if _, err := s.sales.Linked(s.t.Context(), secret, true); err == nil {
		s.t.Error("an ended link opens the page")
	}
	s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID+"/answer", "").problem(404)
}
