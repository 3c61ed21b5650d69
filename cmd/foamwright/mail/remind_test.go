package mail_test

import (
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/pricing/sales"
)

// gone takes what waits and notes it as sent.
func (o *office) gone() {
	o.t.Helper()
	m, err := o.TakeMail(o.t.Context())
	fatal(o.t, err)
	fatal(o.t, o.MailGone(o.t.Context(), m))
}

// reminds is how many were written to.
func (o *office) reminds(site string) int {
	o.t.Helper()
	n, err := o.Remind(o.t.Context(), site)
	fatal(o.t, err)
	return n
}

func (o *office) remindDays(n int) {
	o.t.Helper()
	w, err := o.Workshop(o.t.Context())
	fatal(o.t, err)
	w.RemindDays = n
	fatal(o.t, o.SetWorkshop(o.t.Context(), w, "Wren"))
}

// A quote that was sent by mail and stands for 30 days is reminded of once, five days before, and only where the
// workshop wants that.
func TestReminders(t *testing.T) {
	t.Parallel()
	o := open(t)
	day := 24 * time.Hour
	o.write()
	o.gone()
	o.later(26 * day)
	if n := o.reminds(""); n != 0 {
		t.Errorf("%d were reminded, though nobody asked for that", n)
	}
	o.remindDays(3)
	if n := o.reminds(""); n != 0 {
		t.Errorf("%d were reminded too early", n)
	}
	o.remindDays(5)
	other := o.service()
	var many atomic.Int64
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			n, err := []*sales.Service{o.Service, other}[i%2].Remind(t.Context(), "https://bench.example")
			if err != nil {
				t.Error(err)
			}
			many.Add(int64(n))
		})
	}
	all.Wait()
	found, err := o.Mails(t.Context(), sales.MailFound{Kind: sales.MailQuoteReminder})
	fatal(t, err)
	if many.Load() != 1 || len(found) != 1 {
		t.Fatalf("%d were reminded by eight at once, %d mails are there", many.Load(), len(found))
	}
	m, _, err := o.Mail(t.Context(), found[0].ID)
	fatal(t, err)
	if m.Subject != "Angebot 1/2026 gilt bis zum 26. Dezember 2026" || m.By != "" || !strings.Contains(m.Text, "\n\n{link}\n\n") || !strings.HasPrefix(m.Link, "https://bench.example/q/") || len(m.Documents) != 1 {
		t.Errorf("%+v", m)
	}
	_, err = o.CancelMail(t.Context(), m.ID, "Wren")
	fatal(t, err)
	if n := o.reminds(""); n != 0 {
		t.Error("a reminder that was cancelled comes again")
	}
}

func TestWhoIsNotReminded(t *testing.T) {
	day := 24 * time.Hour
	for name, make := range map[string]func(o *office){
		"it was never sent": func(o *office) { o.later(27 * day) },
		"it waits still":    func(o *office) { o.write(); o.later(27 * day) },
		"it was sent late":  func(o *office) { o.later(26 * day); o.write(); o.gone(); o.later(day) },
		"it is over":        func(o *office) { o.write(); o.gone(); o.later(32 * day) },
		"it was declined": func(o *office) {
			o.write()
			o.gone()
			_, err := o.Decline(o.t.Context(), o.quote.ID, sales.Choice{}, "Wren")
			fatal(o.t, err)
			o.later(27 * day)
		},
		"the address is none": func(o *office) {
			o.write()
			o.gone()
			c, err := o.Customer(o.t.Context(), o.quote.CustomerID)
			fatal(o.t, err)
			c.Email = "somebody@"
			_, err = o.KeepCustomer(o.t.Context(), c)
			fatal(o.t, err)
			o.later(27 * day)
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o := open(t)
			o.remindDays(5)
			make(o)
			if n := o.reminds("https://bench.example"); n != 0 {
				t.Errorf("%d were reminded", n)
			}
		})
	}
	t.Run("but all the others, without a link where the pages have no address", func(t *testing.T) {
		t.Parallel()
		o := open(t)
		o.remindDays(5)
		o.write()
		o.gone()
		o.later(27 * day)
		if n := o.reminds(""); n != 1 {
			t.Errorf("%d were reminded", n)
		}
		found, err := o.Mails(t.Context(), sales.MailFound{Kind: sales.MailQuoteReminder})
		fatal(t, err)
		if len(found) != 1 || strings.Contains(found[0].Text, sales.LinkMark) || found[0].Link != "" || !strings.Contains(found[0].Text, "antworten Sie bis dahin einfach") {
			t.Errorf("%+v", found)
		}
	})
}
