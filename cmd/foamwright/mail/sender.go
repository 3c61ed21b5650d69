package mail

import (
	"context"
	"crypto/x509"
	"log/slog"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Outbox is where mail waits; the books'.
type Outbox interface {
	TakeMail(ctx context.Context) (sales.Mail, error)
	MailGone(ctx context.Context, m sales.Mail) error
	MailRefused(ctx context.Context, m sales.Mail, why string, forGood bool) error
}

// Sender empties an outbox, one mail at a time. Several senders of the same outbox share its mails.
type Sender struct {
	Server   Server
	Outbox   Outbox
	Log      *slog.Logger
	Roots    *x509.CertPool // who vouches for the server; nil for those the system trusts
	Every    time.Duration  // how often it looks; 0 for every 3 s
	Longest  time.Duration  // that one attempt may last; 0 for sales.MailTime
	Patience time.Duration  // how long a mail that is on its way may go on when Run is told to end; 0 for 5 s
}

// Run sends what is due until the context ends; a mail that is on its way then may take Patience more.
func (s Sender) Run(ctx context.Context) {
	s.Every, s.Longest, s.Patience = usual(s.Every, 3*time.Second), usual(s.Longest, sales.MailTime), usual(s.Patience, 5*time.Second)
	look := time.NewTicker(s.Every)
	defer look.Stop()
	for {
		for ctx.Err() == nil && s.one(ctx) {
		}
		select {
		case <-ctx.Done():
			return
		case <-look.C:
		}
	}
}

func usual(given, otherwise time.Duration) time.Duration {
	if given <= 0 {
		return otherwise
	}
	return given
}

// one makes one attempt at the mail that is due longest; false when there is none.
func (s Sender) one(ctx context.Context) bool {
	m, err := s.Outbox.TakeMail(ctx)
	if err != nil {
		if fault.KindOf(err) != fault.NotFound && ctx.Err() == nil {
			s.Log.Error("the outbox cannot be read", "cause", err)
		}
		return false
	}
	// The attempt outlives the context a little: what was begun is ended, and what came of it is kept.
	attempt, cancel := context.WithTimeout(context.WithoutCancel(ctx), s.Longest)
	defer cancel()
	stop := context.AfterFunc(ctx, func() { time.AfterFunc(s.Patience, cancel) })
	defer stop()
	refused := s.send(attempt, m)
	if refused == nil {
		s.Log.Info("mail sent", "mail", m.ID, "kind", m.Kind)
		return s.keep(ctx, m, func(ctx context.Context) error { return s.Outbox.MailGone(ctx, m) })
	}
	why, forGood := refused.plainly(s.Server, m, ctx.Err() != nil)
	s.Log.Warn("mail was not sent", "mail", m.ID, "kind", m.Kind, "at", string(refused.at), "given up", forGood, "cause", refused.err)
	return s.keep(ctx, m, func(ctx context.Context) error { return s.Outbox.MailRefused(ctx, m, why, forGood) })
}

// keep writes down what came of an attempt, and tries for a while: what is gone and not written down would be sent again.
func (s Sender) keep(ctx context.Context, m sales.Mail, write func(context.Context) error) bool {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), 20*time.Second)
	defer cancel()
	for {
		err := write(ctx)
		if err == nil {
			return true
		}
		select {
		case <-ctx.Done():
			s.Log.Error("what came of a mail was not kept", "mail", m.ID, "cause", err)
			return false
		case <-time.After(time.Second):
		}
	}
}
