package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/sales"
)

// Enquiry is what somebody wishes for, in their own words, and what those say for certain.
type Enquiry struct {
	ID        string     `json:"id" format:"uuid"`
	State     string     `json:"state" enum:"new,asked,quoted,closed"`
	Words     string     `json:"words" doc:"the customer's own"`
	Name      string     `json:"name"`
	Mail      string     `json:"mail"`
	Phone     string     `json:"phone"`
	Language  string     `json:"language" doc:"ISO 639-1; empty where it is not known"`
	Answers   []Answered `json:"answers" doc:"what was told otherwise than in the words"`
	Found     []Found    `json:"found,omitempty" doc:"what was read for certain; left out in lists"`
	Doubts    []Doubt    `json:"doubts,omitempty" doc:"what could mean several things; left out in lists"`
	Questions []Question `json:"questions,omitempty" doc:"what is to be asked, in the customer's language; left out in lists"`
	Letter    string     `json:"letter,omitempty" doc:"the questions as they are sent; left out in lists"`
	Same      []Customer `json:"same,omitempty" doc:"customers with the same mail address or name; left out in lists"`
	Quote     string     `json:"quote,omitempty" format:"uuid" doc:"that came of it"`
	Reason    string     `json:"reason,omitempty" doc:"it was closed for"`
	Edit      int        `json:"edit" doc:"counts changes; a change names the one it saw"`
	Created   time.Time  `json:"created"`
	Asked     *time.Time `json:"asked,omitempty"`
	By        string     `json:"by,omitempty" doc:"who entered it; left out for the public form"`
}

// Answered is what is known of one topic.
type Answered struct {
	About string `json:"about" doc:"the topic, such as width, date, latex, hand, ship"`
	Value string `json:"value" doc:"lengths with their unit, days as 2027-05-28, counts as digits"`
}

// Found is one thing that was read, with the words it came from.
type Found struct {
	About string `json:"about"`
	Value string `json:"value"`
	Words string `json:"words,omitempty" doc:"left out where it was told otherwise"`
}

// Doubt is words that were not understood for certain.
type Doubt struct {
	About   string   `json:"about"`
	Why     string   `json:"why"`
	Words   string   `json:"words"`
	Choices []string `json:"choices,omitempty" doc:"what they could mean"`
}

// Question is one thing to ask.
type Question struct {
	About string `json:"about"`
	Text  string `json:"text"`
}

type enquiryList struct {
	Enquiries []Enquiry `json:"enquiries"`
}

type enquiryNarrowing struct {
	narrowing
	Open bool `query:"open" doc:"only those of which something is still to be done"`
}

type enquiryEntry struct {
	Words    string     `json:"words" maxLength:"8000"`
	Name     string     `json:"name,omitempty" maxLength:"120" doc:"read from the words where it is left out, as are the next three"`
	Mail     string     `json:"mail,omitempty" maxLength:"254"`
	Phone    string     `json:"phone,omitempty" maxLength:"60"`
	Language string     `json:"language,omitempty"`
	Answers  []Answered `json:"answers,omitempty" doc:"what was told otherwise than in the words"`
}

type enquiryChange struct {
	enquiryEntry
	Edit *int `json:"edit" nullable:"false" doc:"of the enquiry as you read it"`
}

type questionsSent struct {
	Edit   *int   `json:"edit" nullable:"false" doc:"of the enquiry as you read it"`
	Letter string `json:"letter" maxLength:"20000"`
	Mail   bool   `json:"mail,omitempty" doc:"send it by mail; else it was sent by hand"`
	Token  string `json:"token,omitempty" maxLength:"100" doc:"new for every mail, 8 characters or more"`
}

type enquiryQuote struct {
	Customer string `json:"customer,omitempty" doc:"id of a customer, or new; needed where the enquiry lists customers that could be the same"`
}

type closing struct {
	Edit   *int   `json:"edit" nullable:"false" doc:"of the enquiry as you read it"`
	Reason string `json:"reason" maxLength:"400"`
}

func enquiryRow(e sales.Enquiry) Enquiry {
	out := Enquiry{ID: e.ID, State: string(e.State), Words: e.Words, Name: e.Name, Mail: e.Mail, Phone: e.Phone, Language: e.Language, Answers: []Answered{}, Quote: e.QuoteID, Reason: e.Reason, Edit: e.Edit, Created: e.Created.UTC(), By: e.By}
	for _, about := range enquiry.Topics() {
		if value := e.Answers[about]; value != "" {
			out.Answers = append(out.Answers, Answered{string(about), value})
		}
	}
	out.Asked = moment(e.Asked)
	return out
}

func (f *face) enquiryOf(ctx context.Context, e sales.Enquired, err error) (*answer[Enquiry], error) {
	if err != nil {
		return nil, err
	}
	w, err := f.Sales.Workshop(ctx)
	out := enquiryRow(e.Enquiry)
	for _, found := range e.Reading.Finds {
		out.Found = append(out.Found, Found{string(found.About), found.Value, found.Words})
	}
	for _, d := range e.Reading.Doubts {
		out.Doubts = append(out.Doubts, Doubt{string(d.About), string(d.Why), d.Words, d.Choices})
	}
	for _, q := range e.Questions {
		out.Questions = append(out.Questions, Question{string(q.About), q.Text})
	}
	out.Letter, out.Same = e.Wording(w.Head.Name), each(e.Same, customerOf)
	return &answer[Enquiry]{out}, err
}

// written is an enquiry as it was sent.
func (e enquiryEntry) written(id string, edit int) sales.Enquiry {
	out := sales.Enquiry{ID: id, Words: e.Words, Name: e.Name, Mail: e.Mail, Phone: e.Phone, Language: e.Language, Answers: map[enquiry.Topic]string{}, Edit: edit}
	for _, a := range e.Answers {
		out.Answers[enquiry.Topic(a.About)] = a.Value
	}
	return out
}

// seen is the edit count that a change names.
func seen(edit *int) (int, error) {
	if edit == nil {
		var l fault.List
		l.Add("edit", "", "Send the edit count as you read it.")
		return 0, l.Err()
	}
	return *edit, nil
}

func (f *face) enquiries() {
	operation(f, op("GET /enquiries", "list-enquiries", "Enquiries, the newest first", invalid),
		func(ctx context.Context, in *enquiryNarrowing) (*answer[enquiryList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			list, err := f.Sales.Enquiries(ctx, sales.EnquiryFound{Words: found.Words, Open: in.Open, Most: found.Most})
			return &answer[enquiryList]{enquiryList{each(list, enquiryRow)}}, err
		})
	taking(f, op("POST /enquiries", "add-enquiry", "Add an enquiry in the customer's words").created().
		saying("The words are read for what they say for certain, each find with the words it came from. What could mean two things, and what a price needs and was not said, becomes a question in the customer's language."),
		func(ctx context.Context, _ *none, e enquiryEntry) (*made[Enquiry], error) {
			kept, err := f.Sales.KeepEnquiry(ctx, e.written("", 0), callOf(ctx).by)
			out, err := f.enquiryOf(ctx, kept, err)
			if err != nil {
				return nil, err
			}
			return &made[Enquiry]{Path + "/enquiries/" + out.Body.ID, out.Body}, nil
		})
	operation(f, op("GET /enquiries/{id}", "enquiry", "One enquiry with what it says"), func(ctx context.Context, in *byID) (*answer[Enquiry], error) {
		e, err := f.Sales.Enquiry(ctx, in.ID)
		return f.enquiryOf(ctx, e, err)
	})
	taking(f, op("PUT /enquiries/{id}", "change-enquiry", "Change an enquiry as a whole", conflict).
		saying("The edit count must be the one you read: if somebody else changed it meanwhile, nothing is done (409)."),
		func(ctx context.Context, in *byID, e enquiryChange) (*answer[Enquiry], error) {
			edit, err := seen(e.Edit)
			if err != nil {
				return nil, err
			}
			was, err := f.Sales.Enquiry(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			change := e.written(was.ID, max(edit, 1)) // none has fewer: 0 would add one
			change.Letter = was.Letter
			kept, err := f.Sales.KeepEnquiry(ctx, change, callOf(ctx).by)
			return f.enquiryOf(ctx, kept, err)
		})
	f.enquiryActs()
}

func (f *face) enquiryActs() {
	taking(f, op("POST /enquiries/{id}/questions", "send-questions", "Send the questions, or note that they were sent by hand", conflict).
		saying("By mail, it goes into the outbox in the same act as it is noted; without a mail server nothing is done (409)."),
		func(ctx context.Context, in *byID, s questionsSent) (*answer[Enquiry], error) {
			edit, err := seen(s.Edit)
			if err != nil {
				return nil, err
			}
			var e sales.Enquired
			if s.Mail {
				e, err = f.Sales.AskByMail(ctx, in.ID, edit, sales.PostRequest{Token: s.Token, Text: s.Letter}, callOf(ctx).by)
			} else {
				e, err = f.Sales.Asked(ctx, in.ID, edit, s.Letter)
			}
			return f.enquiryOf(ctx, e, err)
		})
	taking(f, op("POST /enquiries/{id}/quote", "quote-enquiry", "Draft the quote of an enquiry", conflict).
		saying("Fills in what was found. Where a customer has the same mail address or name, it has to be said whether it is they or somebody new. Asked again, it gives the quote that is there."),
		func(ctx context.Context, in *byID, e enquiryQuote) (*answer[Quote], error) {
			q, err := f.Sales.QuoteEnquiry(ctx, in.ID, e.Customer)
			return &answer[Quote]{quoteOf(q)}, err
		})
	taking(f, op("POST /enquiries/{id}/close", "close-enquiry", "Close an enquiry that comes to nothing", conflict),
		func(ctx context.Context, in *byID, c closing) (*answer[Enquiry], error) {
			edit, err := seen(c.Edit)
			if err != nil {
				return nil, err
			}
			e, err := f.Sales.CloseEnquiry(ctx, in.ID, edit, c.Reason)
			return f.enquiryOf(ctx, e, err)
		})
	operation(f, op("DELETE /enquiries/{id}", "forget-enquiry", "Delete an enquiry for good", conflict).
		saying("As whoever wrote it may ask for. One that became a quote belongs to the books and stays (409)."),
		func(ctx context.Context, in *byID) (*none, error) {
			return &none{}, f.Sales.ForgetEnquiry(ctx, in.ID)
		})
}
