package api

import (
	"cmp"
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Link opens the customer's own page of a quote's number. Its secret is told once, when it is made.
type Link struct {
	ID      string     `json:"id" format:"uuid"`
	Address string     `json:"address,omitempty" doc:"of the page; told only when the link is made. Whoever has it can accept"`
	Made    time.Time  `json:"made"`
	By      string     `json:"by"`
	Seen    *time.Time `json:"seen,omitempty" doc:"when somebody from outside the workshop opened it last"`
	Ended   *time.Time `json:"ended,omitempty"`
}

// Message is what customer or workshop wrote about a quote.
type Message struct {
	ID      string    `json:"id" format:"uuid"`
	Version int       `json:"version" doc:"of the quote, that stood"`
	Kind    string    `json:"kind" enum:"question,wish,reply" doc:"a wish is a yes that is no order: somebody who will handle it is allergic to latex"`
	At      time.Time `json:"at"`
	Name    string    `json:"name"`
	Text    string    `json:"text"`
	Options []string  `json:"options,omitempty" doc:"keys of what was chosen, of a wish"`
	Open    bool      `json:"open" doc:"the workshop owes an answer"`
}

// Answer is how a quote ended, kept for good.
type Answer struct {
	Outcome  string     `json:"outcome" enum:"accepted,declined"`
	At       time.Time  `json:"at"`
	Name     string     `json:"name,omitempty" doc:"of the customer, as they wrote it"`
	By       string     `json:"by" doc:"who noted it; the customer's name where it came from their page"`
	Online   bool       `json:"online" doc:"it came from the customer's page"`
	Options  []string   `json:"options"`
	Latex    string     `json:"latex,omitempty" enum:"no,not sure,yes" doc:"whether somebody is allergic; left out where it was not asked"`
	Language string     `json:"language,omitempty" doc:"ISO 639-1, the page was read in"`
	Document string     `json:"document" doc:"SHA-256 of the document that was answered"`
	Reason   string     `json:"reason,omitempty"`
	Gross    string     `json:"gross"`
	Currency string     `json:"currency"`
	Seen     *time.Time `json:"seen,omitempty" doc:"by the workshop, where it came from the page"`
}

// News is one thing from a customer's page that nobody has settled or seen.
type News struct {
	Kind     string    `json:"kind" enum:"question,wish,accepted,declined,change accepted,change declined,drawing approved,drawing change"`
	Quote    string    `json:"quote" format:"uuid"`
	Number   Number    `json:"number"`
	Order    string    `json:"order,omitempty" format:"uuid"`
	Title    string    `json:"title"`
	Customer string    `json:"customer_name"`
	At       time.Time `json:"at"`
	Text     string    `json:"text,omitempty"`
	Latex    string    `json:"latex,omitempty" enum:"no,not sure,yes"`
}

type (
	linkList struct {
		Links []Link `json:"links"`
	}
	messageList struct {
		Messages []Message `json:"messages"`
	}
	newsList struct {
		News []News `json:"news"`
	}
	replyEntry struct {
		Text string `json:"text" maxLength:"2000" doc:"to be read on the customer's page"`
		Mail bool   `json:"mail,omitempty" doc:"send it to the customer's mail address too"`
	}
	byLink struct {
		ID   string `path:"id" format:"uuid"`
		Link string `path:"link" format:"uuid"`
	}
)

func linkOf(l sales.Link) Link {
	return Link{ID: l.ID, Made: l.Made.UTC(), By: l.By, Seen: moment(l.Seen), Ended: moment(l.Ended)}
}

func messageOf(m sales.Message) Message {
	return Message{m.ID, m.Version, string(m.Kind), m.At.UTC(), m.Name, m.Text, m.Options, m.Open()}
}

func (f *face) answers() {
	operation(f, op("GET /quotes/{id}/links", "list-links", "Links to a quote's page for its customer, the newest first"),
		func(ctx context.Context, in *byID) (*answer[linkList], error) {
			list, err := f.Sales.Links(ctx, in.ID)
			return &answer[linkList]{linkList{each(list, linkOf)}}, err
		})
	operation(f, op("POST /quotes/{id}/links", "make-link", "Make a link to an issued quote's page", conflict).created().
		saying("The page needs no account: whoever has the address can read, ask, accept and decline. It opens whichever version stands. The address is told only now."), f.makeLink)
	operation(f, op("DELETE /quotes/{id}/links/{link}", "end-link", "End a link: it opens nothing from now on"),
		func(ctx context.Context, in *byLink) (*none, error) {
			return &none{}, f.Sales.EndLink(ctx, in.ID, in.Link)
		})
	operation(f, op("GET /quotes/{id}/messages", "list-messages", "What customer and workshop wrote about a quote, oldest first"),
		func(ctx context.Context, in *byID) (*answer[messageList], error) { return f.messages(ctx, in.ID, nil) })
	taking(f, op("POST /quotes/{id}/messages", "reply", "Answer the customer on their page", conflict).
		saying("Nothing of theirs is open afterwards."),
		func(ctx context.Context, in *byID, e replyEntry) (*answer[messageList], error) {
			return f.messages(ctx, in.ID, f.Sales.ReplyTo(ctx, in.ID, sales.Message{Name: callOf(ctx).by, Text: e.Text}, e.Mail))
		})
	operation(f, op("POST /quotes/{id}/messages/settle", "settle-messages", "Note that a customer's messages want no answer"),
		func(ctx context.Context, in *byID) (*answer[messageList], error) {
			return f.messages(ctx, in.ID, f.Sales.Settle(ctx, in.ID))
		})
	operation(f, op("GET /quotes/{id}/answer", "answer", "How a quote ended: accepted or declined, by whom, with what").also(people.Bookkeeper).
		saying("404 while nothing was said."), f.answer)
	operation(f, op("GET /news", "list-news", "What customers wrote and answered on their pages since somebody last looked, oldest first"),
		func(ctx context.Context, _ *none) (*answer[newsList], error) {
			list, err := f.Sales.News(ctx)
			return &answer[newsList]{newsList{each(list, func(n sales.News) News {
				return News{n.Kind, n.QuoteID, Number{n.Quote.String(), n.Quote.Series, n.Quote.Year, n.Quote.No}, n.OrderID, n.Title, n.Customer, n.At.UTC(), n.Text, string(n.Latex)}
			})}}, err
		})
}

func (f *face) makeLink(ctx context.Context, in *byID) (*answer[Link], error) {
	k := callOf(ctx)
	secret, err := f.Sales.Link(ctx, in.ID, k.by)
	if err != nil {
		return nil, err
	}
	links, err := f.Sales.Links(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	l := linkOf(links[0])
	l.Address = cmp.Or(f.ReachedAt, k.site) + "/q/" + secret
	return &answer[Link]{l}, nil
}

func (f *face) messages(ctx context.Context, id string, err error) (*answer[messageList], error) {
	if err != nil {
		return nil, err
	}
	list, err := f.Sales.Messages(ctx, id)
	return &answer[messageList]{messageList{each(list, messageOf)}}, err
}

func (f *face) answer(ctx context.Context, in *byID) (*answer[Answer], error) {
	a, found, err := f.Sales.Answer(ctx, in.ID)
	if err != nil || !found {
		return nil, cmp.Or(err, error(fault.New(fault.NotFound, "Nothing was said to this quote yet.")))
	}
	return &answer[Answer]{Answer{
		Outcome: string(a.Outcome), At: a.At.UTC(), Name: a.Name, By: a.By, Online: a.Online, Options: append([]string{}, a.Options...), Latex: string(a.Latex), Language: a.Language,
		Document: a.Document, Reason: a.Reason, Gross: a.Gross.String(), Currency: string(a.Gross.Currency()), Seen: moment(a.Seen),
	}}, nil
}
