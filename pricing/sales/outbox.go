package sales

import (
	"context"
	"time"

	"foamwright/materials/fault"
)

// How mail is tried: common practice of mail servers, which keep trying for days.
const (
	MailTime   = 5 * time.Minute // longest that one attempt may last
	mailHold   = 2 * MailTime    // how long a mail is held for it; who died in it lets go of it by that
	firstPause = time.Minute     // after the first attempt that failed; doubles every time
	lastPause  = 2 * time.Hour   // and is never longer than this
	mailGiveUp = 48 * time.Hour  // after so long it is given up
)

// TakeMail gives a sender the mail that is due longest, with its documents and the head it comes from, and holds it so
// that no other sender is given it. NotFound where nothing is due.
func (s *Service) TakeMail(ctx context.Context) (Mail, error) {
	return read(ctx, s, func(tx Tx) (Mail, error) {
		now := s.now()
		due, err := tx.DueMail(ctx, now)
		if err != nil {
			return due, err
		}
		m, err := tx.Mail(ctx, due.ID)
		if err != nil {
			return m, err
		}
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return m, err
		}
		m.From, m.FromName, m.Tries, m.Held = w.Head.Email, w.Head.Name, m.Tries+1, now.Add(mailHold)
		if err := tx.SaveMail(ctx, m); err != nil {
			return m, err
		}
		return m, tx.AddMailStep(ctx, m.ID, MailStep{At: now, What: "begun"})
	})
}

// MailGone notes that an attempt succeeded.
func (s *Service) MailGone(ctx context.Context, m Mail) error {
	return s.attempted(ctx, m, func(now time.Time, m *Mail) MailStep {
		m.State, m.Sent, m.Refusal, m.Link = MailSent, now, "", ""
		return MailStep{At: now, What: "sent"}
	})
}

// MailRefused notes that an attempt failed and why, in plain words: for good, or to be tried again later.
func (s *Service) MailRefused(ctx context.Context, m Mail, why string, forGood bool) error {
	return s.attempted(ctx, m, func(now time.Time, m *Mail) MailStep {
		m.Refusal = why
		next := now.Add(pause(m.Tries))
		switch {
		case forGood:
			m.State = MailFailed
			return MailStep{At: now, What: "refused", Says: why}
		case next.Sub(m.Since) > mailGiveUp:
			m.State, m.Refusal = MailFailed, why+" It was tried for two days and is not tried any more."
			return MailStep{At: now, What: "refused", Says: m.Refusal}
		}
		m.Due = next
		return MailStep{At: now, What: "put off", Says: why}
	})
}

// pause is how long is waited after so many attempts that failed.
func pause(tries int) time.Duration {
	p := firstPause
	for range tries - 1 {
		if p *= 2; p >= lastPause {
			return lastPause
		}
	}
	return p
}

// attempted keeps what came of an attempt. One that ended so late that another sender is at the mail changes nothing,
// but for one that succeeded: what is gone is not sent again.
func (s *Service) attempted(ctx context.Context, m Mail, became func(now time.Time, m *Mail) MailStep) error {
	return s.store.Act(ctx, func(tx Tx) error {
		is, err := tx.LockMail(ctx, m.ID)
		if err != nil {
			return err
		}
		was := is
		step := became(s.now(), &is)
		if !was.Waits() || was.Tries != m.Tries && is.State != MailSent {
			return nil
		}
		is.Held = time.Time{}
		if err := tx.SaveMail(ctx, is); err != nil {
			return err
		}
		return tx.AddMailStep(ctx, m.ID, step)
	})
}

// TryMail asks for a mail again that was given up, or for one that waits at once. What was sent stays sent.
func (s *Service) TryMail(ctx context.Context, id, by string) (Mail, error) {
	return s.changeMail(ctx, id, func(now time.Time, m *Mail) (MailStep, error) {
		if s.mailServer == "" {
			return MailStep{}, noServer()
		}
		m.State, m.Tries, m.Since, m.Due = MailWaiting, 0, now, now
		return MailStep{At: now, What: "again", By: by}, nil
	})
}

// CancelMail takes a mail out of the outbox that was not sent. Cancelled twice it is cancelled once.
func (s *Service) CancelMail(ctx context.Context, id, by string) (Mail, error) {
	return s.changeMail(ctx, id, func(now time.Time, m *Mail) (MailStep, error) {
		m.State, m.Link = MailCancelled, ""
		return MailStep{At: now, What: "cancelled", By: by}, nil
	})
}

func (s *Service) changeMail(ctx context.Context, id string, change func(now time.Time, m *Mail) (MailStep, error)) (Mail, error) {
	return read(ctx, s, func(tx Tx) (Mail, error) {
		m, err := tx.LockMail(ctx, id)
		if err != nil {
			return m, err
		}
		now := s.now()
		switch {
		case m.State == MailSent:
			return m, fault.New(fault.State, "This mail was sent %s. What is sent cannot be called back or sent again; write a new one.", m.Sent.Format("on 2 January 2006 at 15:04"))
		case m.Held.After(now):
			return m, fault.New(fault.State, "This mail is being sent just now. Look again in a few minutes.")
		}
		was := m.State
		step, err := change(now, &m)
		if err != nil || was == MailCancelled {
			if err == nil && m.State != was {
				err = fault.New(fault.State, "This mail was cancelled. Write a new one.")
			}
			return m, err
		}
		m.Held = time.Time{}
		if err := tx.SaveMail(ctx, m); err != nil {
			return m, err
		}
		return m, tx.AddMailStep(ctx, id, step)
	})
}
