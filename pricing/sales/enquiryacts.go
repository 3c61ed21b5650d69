package sales

import (
	"context"
	"strings"
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/pricing/enquiry"
)

// mostADay is how many enquiries the public form takes within a day: what is more is not people (common practice, no
// source).
const mostADay = 100

// TakeEnquiry takes what a visitor wrote into the public form, while it is open. Sent twice it is there once.
func (s *Service) TakeEnquiry(ctx context.Context, e Enquiry) error {
	e = e.trimmed()
	t := e.Tongue()
	var l fault.List
	if e.Name == "" {
		l.Add("name", "", t.Say("Please write your name."))
	}
	if e.Mail == "" {
		l.Add("mail", "", t.Say("Please write a mail address that we can answer to."))
	}
	if err := l.Take("", e.check(s.now(), t)); err != nil {
		return err
	}
	if err := l.Err(); err != nil {
		return err
	}
	return s.store.Act(ctx, func(tx Tx) error {
		now := s.now()
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return err
		}
		if !w.Enquiries.Open {
			return NoForm()
		}
		n, err := tx.EnquiredSince(ctx, now.Add(-24*time.Hour))
		if err != nil {
			return err
		}
		if n >= mostADay {
			return fault.New(fault.TooMany, "%s", t.Say("Too much has come in just now. Please try again later."))
		}
		kept := e
		kept.Letter, kept.State, kept.Created, kept.Changed, kept.By, kept.Edit = "", EnquiryNew, now, now, "", 1
		kept.Answers = ruled(kept.Answers, enquiry.Known{Day: now, Rules: w.Figures.Rules})
		_, err = tx.AddEnquiry(ctx, kept)
		return err
	})
}

// NoForm is the answer while the public form is closed: there is no such page.
func NoForm() error { return fault.New(fault.NotFound, "There is no such page.") }

// ruled reads the size rule and its edition out of the event that was named.
func ruled(answers map[enquiry.Topic]string, k enquiry.Known) map[enquiry.Topic]string {
	r := enquiry.Read(answers[enquiry.Event], k)
	for _, about := range []enquiry.Topic{enquiry.Rule, enquiry.Edition} {
		if value := r.Value(about); value != "" && answers[about] == "" {
			answers[about] = value
		}
	}
	return answers
}

// onEnquiry changes a locked enquiry that was read with an edit count.
func (s *Service) onEnquiry(ctx context.Context, id string, edit int, act func(tx Tx, e *Enquiry) error) (Enquired, error) {
	return read(ctx, s, func(tx Tx) (Enquired, error) {
		e, err := tx.LockEnquiry(ctx, id)
		if err != nil {
			return Enquired{}, err
		}
		if e.Edit != edit {
			return Enquired{}, changedEnquiry()
		}
		if err := act(tx, &e); err != nil {
			return Enquired{}, err
		}
		e.Changed, e.Edit = s.now(), e.Edit+1
		if err := tx.SaveEnquiry(ctx, e); err != nil {
			return Enquired{}, err
		}
		return s.enquired(ctx, tx, e)
	})
}

// Asked notes that the questions were sent by hand, as they were left.
func (s *Service) Asked(ctx context.Context, id string, edit int, letter string) (Enquired, error) {
	return s.onEnquiry(ctx, id, edit, func(_ Tx, e *Enquiry) error { return e.ask(letter, s.now()) })
}

// AskByMail puts the questions into the outbox, as they were left, in one act with noting it.
func (s *Service) AskByMail(ctx context.Context, id string, edit int, r PostRequest, by string) (Enquired, error) {
	return s.onEnquiry(ctx, id, edit, func(tx Tx, e *Enquiry) error {
		if err := e.ask(r.Text, s.now()); err != nil {
			return err
		}
		if e.Mail == "" {
			return problem("mail", "", "There is no mail address to send the questions to. Write it in, or send them by hand.")
		}
		_, err := s.queue(ctx, tx, Mail{Token: r.Token, Kind: MailQuestions, About: e.ID, Language: e.Language, To: e.Mail, Subject: e.Tongue().Say("About your enquiry"), Text: r.Text, By: by})
		return err
	})
}

// CanMail tells that a mail server is set.
func (s *Service) CanMail() bool { return s.mailServer != "" }

func (e *Enquiry) ask(letter string, now time.Time) error {
	letter = strings.TrimSpace(strings.ReplaceAll(letter, "\r\n", "\n"))
	switch {
	case e.State == EnquiryClosed:
		return fault.New(fault.State, "This enquiry was closed. Open it again first.")
	case letter == "":
		return problem("letter", "", "There is nothing to ask in it. Write what you want to know.")
	case utf8.RuneCountInString(letter) > mostText:
		return problem("letter", letter, "This is too long. Shorten it.")
	}
	e.Letter, e.Asked = letter, now
	if e.State == EnquiryNew {
		e.State = EnquiryAsked
	}
	return nil
}

// CloseEnquiry ends an enquiry that comes to nothing, with the reason.
func (s *Service) CloseEnquiry(ctx context.Context, id string, edit int, reason string) (Enquired, error) {
	return s.onEnquiry(ctx, id, edit, func(_ Tx, e *Enquiry) error {
		if e.State == EnquiryClosed {
			return fault.New(fault.State, "This enquiry is closed already.")
		}
		if reason = strings.TrimSpace(reason); reason == "" || utf8.RuneCountInString(reason) > 400 {
			return problem("reason", reason, "Say in a few words why it is closed.")
		}
		e.State, e.Closed, e.Reason = EnquiryClosed, s.now(), reason
		return nil
	})
}

// ReopenEnquiry takes up an enquiry again that was closed.
func (s *Service) ReopenEnquiry(ctx context.Context, id string, edit int) (Enquired, error) {
	return s.onEnquiry(ctx, id, edit, func(_ Tx, e *Enquiry) error {
		if e.State != EnquiryClosed {
			return fault.New(fault.State, "This enquiry is open.")
		}
		e.State, e.Closed, e.Reason = e.stands(), time.Time{}, ""
		return nil
	})
}

// stands is the state of an enquiry that is not closed.
func (e Enquiry) stands() EnquiryState {
	switch {
	case e.QuoteID != "":
		return EnquiryQuoted
	case !e.Asked.IsZero():
		return EnquiryAsked
	}
	return EnquiryNew
}

// ForgetEnquiry deletes an enquiry for good, as whoever wrote it may ask for. One that became a quote stays with it.
func (s *Service) ForgetEnquiry(ctx context.Context, id string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		e, err := tx.LockEnquiry(ctx, id)
		if err != nil {
			return err
		}
		if e.QuoteID != "" {
			return fault.New(fault.State, "A quote came of this enquiry: it belongs to the books. Throw the draft away first, if it was not issued.")
		}
		return tx.DropEnquiry(ctx, id)
	})
}
