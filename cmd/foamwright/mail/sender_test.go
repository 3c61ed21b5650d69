package mail_test

import (
	"fmt"
	"net"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/emersion/go-smtp"

	"foamwright/cmd/foamwright/mail"
	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// once fails unless exactly one mail arrived, and it is the one that is meant.
func (b *box) once(t *testing.T, m sales.Mail) {
	t.Helper()
	got := b.kept()
	if len(got) != 1 {
		t.Fatalf("%d mails arrived", len(got))
	}
	if !strings.Contains(string(got[0]), "\r\nMessage-ID: <"+m.MessageID+">\r\n") {
		t.Errorf("another mail arrived: %s", got[0])
	}
}

func TestWhatPassesIsTriedAgainAndArrivesOnce(t *testing.T) {
	busy := says(451, "greylisted, come back")
	for _, c := range []struct {
		name string
		box  *box
		says string
	}{
		{"4xx at the greeting", &box{greet: first(2, says(421, "too many connections"))}, "does not take mail just now. It says: 421"},
		{"4xx at the sender", &box{from: first(2, busy)}, "takes this mail back for now. It says: 451 4.7.1 greylisted, come back"},
		{"4xx at the recipient", &box{rcpt: first(2, busy)}, "takes this mail back for now. It says: 451 4.7.1 greylisted, come back"},
		{"4xx at the end", &box{data: first(2, says(452, "disk is full"))}, "takes this mail back for now. It says: 452"},
		{"dropped at the sender", &box{from: dropped(2)}, "broke while naming the sender"},
		{"dropped after the message", &box{data: dropped(2)}, "broke after the mail was handed over and before it was receipted"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := open(t)
			b := c.box.start(t, "127.0.0.1:0")
			m := o.write()
			o.runs(mail.Sender{Server: b.to(t)})
			for try := range 2 {
				is := o.until(m, "put off", tried(try+1))
				if !strings.Contains(is.Refusal, c.says) || is.Due.Sub(o.now()) != time.Minute<<try {
					t.Errorf("attempt %d is put off by %s: %q", try+1, is.Due.Sub(o.now()), is.Refusal)
				}
				time.Sleep(20 * time.Millisecond)
				if is = o.stands(m); is.Tries != try+1 {
					t.Fatal("it was tried before its time")
				}
				o.later(time.Minute << try)
			}
			is := o.until(m, "sent", sent)
			b.once(t, m)
			if is.Tries != 3 || is.Link != "" || is.Refusal != "" {
				t.Errorf("sent: %+v", is)
			}
			_, steps, err := o.Mail(t.Context(), m.ID)
			fatal(t, err)
			var trail []string
			for _, s := range steps {
				trail = append(trail, s.What)
			}
			if got := strings.Join(trail, ", "); got != "queued, begun, put off, begun, put off, begun, sent" {
				t.Errorf("the trail is %s", got)
			}
		})
	}
}

// dropped cuts the line at the first so many attempts.
func dropped(many int) hook {
	return func(n int, c *smtp.Conn) error {
		if n > many {
			return nil
		}
		_ = c.Conn().Close()
		return says(451, "nobody hears this")
	}
}

func TestServerDownThenUp(t *testing.T) {
	t.Parallel()
	o := open(t)
	l, err := net.Listen("tcp", "127.0.0.2:0") // at 127.0.0.1 another test's server may get the port meanwhile
	fatal(t, err)
	addr := l.Addr().String()
	fatal(t, l.Close())
	m := o.write()
	server, err := mail.ReadServer("smtp://" + addr)
	fatal(t, err)
	o.runs(mail.Sender{Server: server})
	if is := o.until(m, "put off", tried(1)); is.Refusal != "The mail server "+addr+" cannot be reached: nobody answers there." {
		t.Error(is.Refusal)
	}
	b := (&box{}).start(t, addr)
	_, err = o.TryMail(t.Context(), m.ID, "Wren")
	fatal(t, err)
	o.until(m, "sent", sent)
	b.once(t, m)
}

func TestASlowServerIsWaitedForAndADeafOneIsLeft(t *testing.T) {
	t.Parallel()
	o := open(t)
	slow := (&box{slow: 300 * time.Millisecond}).start(t, "127.0.0.1:0")
	m := o.write()
	stop := o.runs(mail.Sender{Server: slow.to(t)})
	o.until(m, "sent", sent)
	slow.once(t, m)
	stop()

	deaf, err := net.Listen("tcp", "127.0.0.1:0") // takes the connection and never says a word
	fatal(t, err)
	defer deaf.Close()
	server, err := mail.ReadServer("smtp://" + deaf.Addr().String())
	fatal(t, err)
	m = o.write()
	began := time.Now()
	o.runs(mail.Sender{Server: server, Longest: 200 * time.Millisecond})
	if is := o.until(m, "put off", tried(1)); !strings.HasSuffix(is.Refusal, "cannot be reached: it did not answer in time.") || time.Since(began) > 5*time.Second {
		t.Errorf("after %s: %s", time.Since(began), is.Refusal)
	}
}

func TestWhatIsRefusedIsGivenUpWithItsReason(t *testing.T) {
	no := says(550, "no such\nuser")
	for _, c := range []struct {
		name string
		box  *box
		says string
	}{
		{"sender", &box{from: first(1, no)}, "does not take mail from the workshop's address bench@kestrel-yard.example. It says: 550"},
		{"recipient", &box{rcpt: first(1, no)}, "refuses ilse@white-fen.example. Look whether the address is right. It says: 550 no such"},
		{"message", &box{data: first(1, says(554, "too large"))}, "refuses this mail. It says: 554"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := open(t)
			b := c.box.start(t, "127.0.0.1:0")
			m := o.write()
			o.runs(mail.Sender{Server: b.to(t)})
			if is := o.until(m, "given up", failed); is.Tries != 1 || !strings.Contains(is.Refusal, c.says) {
				t.Errorf("after %d tries: %s", is.Tries, is.Refusal)
			}
			o.later(100 * time.Hour)
			time.Sleep(30 * time.Millisecond)
			if is := o.stands(m); is.Tries != 1 || len(b.kept()) != 0 {
				t.Errorf("what was refused was tried again: %+v", is)
			}
			_, err := o.TryMail(t.Context(), m.ID, "Wren")
			fatal(t, err)
			o.until(m, "sent", sent)
			b.once(t, m)
			if _, err := o.TryMail(t.Context(), m.ID, "Wren"); fault.KindOf(err) != fault.State {
				t.Errorf("what was sent is sent again: %v", err)
			}
		})
	}
}

func TestItIsGivenUpAfterTwoDays(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{greet: first(1000, says(421, "closed"))}).start(t, "127.0.0.1:0")
	m := o.write()
	o.runs(mail.Sender{Server: b.to(t)})
	for try := 1; ; try++ {
		is := o.until(m, "tried", func(m sales.Mail) bool { return m.Tries == try && m.Held.IsZero() })
		if failed(is) {
			if !strings.HasSuffix(is.Refusal, "It was tried for two days and is not tried any more.") || try < 25 || try > 40 {
				t.Errorf("given up after %d tries: %s", try, is.Refusal)
			}
			return
		}
		o.later(is.Due.Sub(o.now()))
	}
}

// Six senders by pools of their own send each of 24 mails once.
func TestManySendersSendEachMailOnce(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{slow: time.Millisecond}).start(t, "127.0.0.1:0")
	var wrote []sales.Mail
	for range 24 {
		wrote = append(wrote, o.write())
	}
	for range 6 {
		o.runs(mail.Sender{Server: b.to(t), Outbox: o.service()})
	}
	for _, m := range wrote {
		o.until(m, "sent", sent)
	}
	if got := len(b.kept()); got != len(wrote) {
		t.Errorf("%d mails were asked for, %d arrived", len(wrote), got)
	}
	for _, m := range wrote {
		if is := o.stands(m); is.Tries != 1 {
			t.Errorf("%d tries", is.Tries)
		}
	}
}

// Asked for by eight at once with one token it is one mail; another token is another.
func TestAskingTwiceSendsOnce(t *testing.T) {
	t.Parallel()
	o := open(t)
	d, err := o.MailDraft(t.Context(), sales.MailQuote, o.quote.ID)
	fatal(t, err)
	r := sales.PostRequest{Token: "the same token", Kind: d.Kind, About: d.About, To: d.To, Subject: d.Subject, Text: d.Text, Site: "https://bench.example"}
	var ids sync.Map
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			m, err := o.Post(t.Context(), r, "Wren")
			if err != nil {
				t.Error(err)
			}
			ids.Store(m.ID, true)
		})
	}
	all.Wait()
	many := 0
	ids.Range(func(any, any) bool { many++; return true })
	links, err := o.Links(t.Context(), o.quote.ID)
	fatal(t, err)
	if many != 1 || len(links) != 1 {
		t.Errorf("%d mails with %d links", many, len(links))
	}
	r.Kind = sales.MailQuoteReminder
	if _, err := o.Post(t.Context(), r, "Wren"); fault.KindOf(err) != fault.Conflict {
		t.Errorf("a token is good for two things: %v", err)
	}
}

// A program that is told to end ends what it is at; what it cannot end in time is put off, and is sent by the next.
func TestClosingInTheMiddle(t *testing.T) {
	t.Parallel()
	o := open(t)
	var hang atomic.Bool
	hang.Store(true)
	reached := make(chan bool, 10)
	b := (&box{rcpt: func(int, *smtp.Conn) error {
		reached <- true
		for hang.Load() {
			time.Sleep(time.Millisecond)
		}
		return nil
	}}).start(t, "127.0.0.1:0")
	m := o.write()
	stop := o.runs(mail.Sender{Server: b.to(t), Patience: 50 * time.Millisecond})
	<-reached
	began := time.Now()
	stop()
	if is := o.stands(m); time.Since(began) > 3*time.Second || is.Refusal != "foamwright was closed while it was sent." || !is.Held.IsZero() {
		t.Errorf("closed after %s: %+v", time.Since(began), is)
	}
	hang.Store(false)
	o.later(time.Minute)
	o.runs(mail.Sender{Server: b.to(t)})
	o.until(m, "sent", sent)
	b.once(t, m)
}

// A sender that died in the middle holds its mail for a while, and no longer.
func TestWhatADeadSenderHeldIsSent(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{}).start(t, "127.0.0.1:0")
	m := o.write()
	_, err := o.TakeMail(t.Context()) // and nothing more is heard of it
	fatal(t, err)
	o.runs(mail.Sender{Server: b.to(t)})
	time.Sleep(50 * time.Millisecond)
	if is := o.stands(m); !is.Waits() || is.Tries != 1 {
		t.Fatalf("it was taken from who is at it: %+v", is)
	}
	if _, err := o.CancelMail(t.Context(), m.ID, "Wren"); fault.KindOf(err) != fault.State {
		t.Errorf("cancelled while it is sent: %v", err)
	}
	o.later(2 * sales.MailTime)
	o.until(m, "sent", sent)
	b.once(t, m)
}

func TestCancelledIsNotSent(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{}).start(t, "127.0.0.1:0")
	m, other := o.write(), o.write()
	for range 2 {
		if is, err := o.CancelMail(t.Context(), m.ID, "Wren"); err != nil || is.State != sales.MailCancelled || is.Link != "" {
			t.Error(is.State, err)
		}
	}
	if _, err := o.TryMail(t.Context(), m.ID, "Wren"); fault.KindOf(err) != fault.State {
		t.Errorf("a cancelled mail is tried: %v", err)
	}
	o.runs(mail.Sender{Server: b.to(t)})
	o.until(other, "sent", sent)
	b.once(t, other)
}

// An act that fails sends nothing.
func TestNothingIsSentOfWhatFailed(t *testing.T) {
	t.Parallel()
	o := open(t)
	d, err := o.MailDraft(t.Context(), sales.MailQuote, o.quote.ID)
	fatal(t, err)
	good := sales.PostRequest{Token: "a good token", Kind: d.Kind, About: d.About, To: d.To, Subject: d.Subject, Text: d.Text, Site: "https://bench.example"}
	for i, c := range []struct {
		spoil func(r *sales.PostRequest)
		says  string
	}{
		{func(r *sales.PostRequest) { r.To = "" }, "to: Write the mail address"},
		{func(r *sales.PostRequest) { r.To = "nobody" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.To = "a@b.example, c@d.example" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.To = "a@b.example\r\nBcc: c@d.example" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.To = "Mara <a@b.example>" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.To = "øst@b.example" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.To = "\"a b\"@b.example" }, "no single mail address"},
		{func(r *sales.PostRequest) { r.Subject = "Quote\r\nBcc: c@d.example" }, "must be one line"},
		{func(r *sales.PostRequest) { r.Subject = "Quote\x00" }, "must be one line"},
		{func(r *sales.PostRequest) { r.Subject = "Quote\u0085Bcc: c@d.example" }, "must be one line"},
		{func(r *sales.PostRequest) { r.Subject = " " }, "Write what it is about"},
		{func(r *sales.PostRequest) { r.Subject = strings.Repeat("x", 201) }, "too long"},
		{func(r *sales.PostRequest) { r.Text = "" }, "Write what is to be read"},
		{func(r *sales.PostRequest) { r.Text = strings.Repeat("ü", 20_001) }, "too long"},
		{func(r *sales.PostRequest) { r.Token = "short" }, "token"},
		{func(r *sales.PostRequest) { r.Site = "" }, "no page of the customer's own"},
	} {
		r := good
		c.spoil(&r)
		if _, err := o.Post(t.Context(), r, "Wren"); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%d: %v", i, err)
		}
	}
	found, err := o.Mails(t.Context(), sales.MailFound{})
	fatal(t, err)
	links, err := o.Links(t.Context(), o.quote.ID)
	fatal(t, err)
	if len(found) != 0 || len(links) != 0 {
		t.Errorf("%d mails and %d links are left of them", len(found), len(links))
	}
}

func TestPausesGrow(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{rcpt: first(9, says(450, "later"))}).start(t, "127.0.0.1:0")
	m := o.write()
	o.runs(mail.Sender{Server: b.to(t)})
	var pauses []string
	for try := range 9 {
		is := o.until(m, "put off", tried(try+1))
		pauses = append(pauses, fmt.Sprint(is.Due.Sub(o.now()).Minutes()))
		o.later(is.Due.Sub(o.now()))
	}
	if got := strings.Join(pauses, " "); got != "1 2 4 8 16 32 64 120 120" {
		t.Errorf("minutes: %s", got)
	}
	o.until(m, "sent", sent)
	b.once(t, m)
}
