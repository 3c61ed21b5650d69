package sales

import (
	"context"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// EnquiryState is where an enquiry stands.
type EnquiryState string

// The states of an enquiry.
const (
	EnquiryNew    EnquiryState = "new"
	EnquiryAsked  EnquiryState = "asked" // questions were sent
	EnquiryQuoted EnquiryState = "quoted"
	EnquiryClosed EnquiryState = "closed"
)

// Enquiry is what somebody wishes for, in their own words.
type Enquiry struct {
	ID       string
	State    EnquiryState
	Words    string
	Name     string
	Mail     string
	Phone    string
	Language string                   // ISO 639-1; empty where it is not known
	Answers  map[enquiry.Topic]string // told otherwise than in the words
	Letter   string                   // the questions as they were left or sent; empty while they are made anew
	QuoteID  string
	Reason   string // it was closed for
	Edit     int
	Created  time.Time
	Changed  time.Time
	Asked    time.Time
	Closed   time.Time
	By       string // who entered it; empty for the public form
}

// Open tells that something is still to be done about it.
func (e Enquiry) Open() bool { return e.State == EnquiryNew || e.State == EnquiryAsked }

// Begin is how the words begin, in one line.
func (e Enquiry) Begin() string {
	line := []rune(strings.Join(strings.Fields(e.Words), " "))
	if len(line) > 140 {
		return string(line[:139]) + "…"
	}
	return string(line)
}

// Tongue is the customer's language.
func (e Enquiry) Tongue() words.Tongue { return words.Speak(e.Language) }

// Enquired is an enquiry with what its words say today.
type Enquired struct {
	Enquiry
	Reading   enquiry.Reading
	Questions []enquiry.Question
	Same      []Customer // with the same mail address or name: offered, never taken silently
	Quote     Quote      // that came of it; zero without one
	Waits     bool       // it is on the waiting list
	Event     *Event     // of the list, that is named; nil for none
}

// Budget is the sum that was named, without its currency; empty where none was.
func (e Enquired) Budget() string {
	sum, _, _ := strings.Cut(e.Reading.Value(enquiry.Budget), " ")
	return sum
}

// Wording is the questions as a letter: as they were left, else made anew.
func (e Enquired) Wording(shop string) string {
	if e.Enquiry.Letter != "" {
		return e.Enquiry.Letter
	}
	return enquiry.Letter(e.Questions, e.Name, shop, e.Tongue())
}

// EnquiryFound is what a list of enquiries is narrowed by.
type EnquiryFound struct {
	Words string
	Open  bool
	Most  int
}

// EnquiryTx is the enquiries within one transaction.
type EnquiryTx interface {
	Enquiry(ctx context.Context, id string) (Enquiry, error)
	LockEnquiry(ctx context.Context, id string) (Enquiry, error)
	EnquiryOf(ctx context.Context, q Quote) (Enquiry, error)                  // NotFound where a quote, in any version, came of none
	Enquiries(ctx context.Context, f EnquiryFound) ([]Enquiry, error)         // newest first
	Asking(ctx context.Context, quotes []string) (map[string]string, error)   // enquiries by the quote that answers them, both by id
	AddEnquiry(ctx context.Context, e Enquiry) (fresh bool, err error)        // false where it is there
	SaveEnquiry(ctx context.Context, e Enquiry) error                         // but who entered it and when
	DropEnquiry(ctx context.Context, id string) error                         //
	EnquiredSince(ctx context.Context, at time.Time) (int, error)             // by the public form
	SameCustomers(ctx context.Context, mail, name string) ([]Customer, error) // those with the same mail first
}

// Enquiries lists enquiries, newest first.
func (s *Service) Enquiries(ctx context.Context, f EnquiryFound) ([]Enquiry, error) {
	return read(ctx, s, func(tx Tx) ([]Enquiry, error) { return tx.Enquiries(ctx, f) })
}

// Enquiry is one enquiry with what it says.
func (s *Service) Enquiry(ctx context.Context, id string) (Enquired, error) {
	return read(ctx, s, func(tx Tx) (Enquired, error) {
		e, err := tx.Enquiry(ctx, id)
		if err != nil {
			return Enquired{}, err
		}
		return s.enquired(ctx, tx, e)
	})
}

// ReadEnquiry is what an enquiry that is being written says; nothing is stored.
func (s *Service) ReadEnquiry(ctx context.Context, e Enquiry) (Enquired, error) {
	return read(ctx, s, func(tx Tx) (Enquired, error) { return s.enquired(ctx, tx, e) })
}

func (s *Service) enquired(ctx context.Context, tx Tx, e Enquiry) (Enquired, error) {
	w, err := tx.Workshop(ctx, s.now())
	if err != nil {
		return Enquired{}, err
	}
	out := Enquired{Enquiry: e, Reading: e.read(w, s.now())}
	out.filled(out.Reading)
	out.Questions = enquiry.Ask(out.Reading, w.Figures.Rules, out.Tongue())
	if out.Event, err = s.named(ctx, tx, out.Reading.Value(enquiry.Event)); err != nil {
		return out, err
	}
	if out.Event != nil && out.Event.Rule != "" {
		out.Questions = slices.DeleteFunc(out.Questions, func(q enquiry.Question) bool { return q.About == enquiry.Rule })
	}
	if out.Same, err = tx.SameCustomers(ctx, out.Mail, out.Name); err != nil {
		return out, err
	}
	if e.QuoteID != "" {
		if out.Quote, err = tx.Quote(ctx, e.QuoteID); err != nil {
			return out, err
		}
	}
	out.Waits, err = listed(ctx, tx, e.ID)
	return out, err
}

// read is what the words say, with what was told otherwise.
func (e Enquiry) read(w workshop.Workshop, now time.Time) enquiry.Reading {
	told := map[enquiry.Topic]string{enquiry.Name: e.Name, enquiry.Mail: e.Mail, enquiry.Phone: e.Phone, enquiry.LanguageOf: e.Language}
	for about, value := range e.Answers {
		told[about] = value
	}
	return enquiry.Read(e.Words, enquiry.Known{Day: now, Rules: w.Figures.Rules, Colours: w.Figures.Catalogue.Colours()}).Told(told)
}

// filled takes who asks out of the words where it was not told.
func (e *Enquiry) filled(r enquiry.Reading) {
	for _, f := range []struct {
		about enquiry.Topic
		into  *string
	}{{enquiry.Name, &e.Name}, {enquiry.Mail, &e.Mail}, {enquiry.Phone, &e.Phone}, {enquiry.LanguageOf, &e.Language}} {
		if *f.into == "" {
			*f.into = r.Value(f.about)
		}
	}
}

// KeepEnquiry adds an enquiry, or changes the one with its ID, which Edit must have been read of. One that was sent
// twice is there once. by is who enters it.
func (s *Service) KeepEnquiry(ctx context.Context, e Enquiry, by string) (Enquired, error) {
	e = e.trimmed()
	if err := e.check(s.now(), words.Tongue{}); err != nil {
		return Enquired{Enquiry: e}, err
	}
	return read(ctx, s, func(tx Tx) (Enquired, error) {
		now := s.now()
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return Enquired{}, err
		}
		kept := e
		kept.filled(kept.read(w, now))
		kept.Changed = now
		if e.Edit == 0 {
			kept.State, kept.Created, kept.By, kept.Edit = EnquiryNew, now, by, 1
			if kept.ID == "" {
				kept.ID = newID()
			}
			fresh, err := tx.AddEnquiry(ctx, kept)
			if err != nil {
				return Enquired{}, err
			}
			if fresh {
				return s.enquired(ctx, tx, kept)
			}
		}
		was, err := tx.LockEnquiry(ctx, kept.ID)
		if err != nil {
			return Enquired{}, err
		}
		if e.Edit == 0 && was.By == by && was.says(kept) { // pressed twice
			return s.enquired(ctx, tx, was)
		}
		if was.Edit != e.Edit {
			return Enquired{}, changedEnquiry()
		}
		was.Words, was.Name, was.Mail, was.Phone, was.Language, was.Answers, was.Letter = kept.Words, kept.Name, kept.Mail, kept.Phone, kept.Language, kept.Answers, kept.Letter
		was.Changed, was.Edit = now, was.Edit+1
		if err := tx.SaveEnquiry(ctx, was); err != nil {
			return Enquired{}, err
		}
		return s.enquired(ctx, tx, was)
	})
}

// says tells that two enquiries were written alike.
func (e Enquiry) says(other Enquiry) bool {
	return e.Words == other.Words && e.Name == other.Name && e.Mail == other.Mail && e.Phone == other.Phone && e.Language == other.Language && maps.Equal(e.Answers, other.Answers)
}

func changedEnquiry() error {
	return fault.New(fault.Conflict, "Somebody else changed this enquiry. Open it again to see their version; what you typed is still in the form.")
}

func (e Enquiry) trimmed() Enquiry {
	e.Words = strings.TrimSpace(strings.ReplaceAll(e.Words, "\r\n", "\n"))
	e.Letter = strings.TrimSpace(strings.ReplaceAll(e.Letter, "\r\n", "\n"))
	for _, entry := range []*string{&e.Name, &e.Mail, &e.Phone} {
		*entry = strings.Join(strings.Fields(*entry), " ")
	}
	answers := map[enquiry.Topic]string{}
	for about, value := range e.Answers {
		if value = strings.TrimSpace(value); value != "" {
			answers[about] = value
		}
	}
	e.Answers = answers
	return e
}

// check is what is wrong with an enquiry, in the tongue of who writes it.
func (e Enquiry) check(day time.Time, t words.Tongue) error {
	var l fault.List
	if e.Words == "" {
		l.Add("words", "", t.Say("Please write what you wish for."))
	}
	for _, entry := range []struct {
		field, value string
		most         int
	}{{"words", e.Words, enquiry.MaxWords}, {"name", e.Name, 120}, {"mail", e.Mail, 254}, {"phone", e.Phone, 60}, {"letter", e.Letter, mostText}} {
		if utf8.RuneCountInString(entry.value) > entry.most {
			l.Add(entry.field, entry.value, t.Say("This is too long. Please shorten it."))
		}
	}
	if e.Mail != "" && !bareAddress(e.Mail) {
		l.Add("mail", e.Mail, t.Say("Please write a mail address that we can answer to."))
	}
	if e.Language != "" && words.Speak(e.Language).Code() != e.Language {
		l.Add("language", e.Language, t.Say("Please choose one of these."))
	}
	if err := l.Take("", enquiry.Check(e.Answers, day, t)); err != nil {
		return err
	}
	return l.Err()
}
