package mail_test

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"io"
	"log/slog"
	"net"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-smtp"

	"foamwright/cmd/foamwright/demo"
	"foamwright/cmd/foamwright/mail"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/orderform"
	"foamwright/pricing/einvoice"
	"foamwright/pricing/pdf"
	"foamwright/pricing/sales"
)

// office is a workshop's books with an issued quote, and a clock that is set by hand.
type office struct {
	*sales.Service
	t     *testing.T
	url   string
	mu    sync.Mutex
	at    time.Time
	quote sales.Quote
}

func (o *office) now() time.Time {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.at
}

// later sets the clock on.
func (o *office) later(d time.Duration) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.at = o.at.Add(d)
}

func fatal(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// open is an office whose customer has a name and a title that need more than ASCII.
func open(t *testing.T) *office {
	t.Helper()
	o := &office{t: t, url: dbtest.URL(t), at: time.Date(2026, 11, 26, 10, 0, 0, 0, time.UTC)}
	o.Service = o.service()
	first, err := demo.Workshop(o.now())
	fatal(t, err)
	fatal(t, o.Begin(t.Context(), first, demo.Stock(o.now())))
	c, err := o.KeepCustomer(t.Context(), sales.Customer{Name: "Márton Ødegård", Email: "ilse@white-fen.example", Language: "de"})
	fatal(t, err)
	form, err := orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "30 cm"}, "core": {"foam": "mat-10", "layers": 1}}`))
	fatal(t, err)
	q, err := o.NewQuote(t.Context(), c.ID, "Zielscheibe für die große Übung", form)
	fatal(t, err)
	e, err := o.Estimate(t.Context(), c.ID, form)
	fatal(t, err)
	o.quote, err = o.Issue(t.Context(), q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "Wren")
	fatal(t, err)
	return o
}

// service is the books by a pool of its own, as another program has it.
func (o *office) service() *sales.Service {
	o.t.Helper()
	books, err := db.Open(o.t.Context(), o.url)
	fatal(o.t, err)
	o.t.Cleanup(books.Close)
	printer, err := pdf.New()
	fatal(o.t, err)
	s := sales.NewService(books.Sales(), printer, o.now)
	s.SetMailServer("mail.test:587")
	s.WriteXMLWith(einvoice.UBL)
	return s
}

// write queues the quote's mail as it is offered.
func (o *office) write() sales.Mail {
	o.t.Helper()
	d, err := o.MailDraft(o.t.Context(), sales.MailQuote, o.quote.ID)
	fatal(o.t, err)
	m, err := o.Post(o.t.Context(), sales.PostRequest{Token: rand.Text(), Kind: d.Kind, About: d.About, To: d.To, Subject: d.Subject, Text: d.Text, Site: "https://bench.example/"}, "Wren")
	fatal(o.t, err)
	return m
}

// stands is a mail as it is in the books.
func (o *office) stands(m sales.Mail) sales.Mail {
	o.t.Helper()
	is, _, err := o.Mail(o.t.Context(), m.ID)
	fatal(o.t, err)
	return is
}

// until waits for a mail to come to what is wanted.
func (o *office) until(m sales.Mail, what string, is func(sales.Mail) bool) sales.Mail {
	o.t.Helper()
	for began := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		now := o.stands(m)
		if is(now) {
			return now
		}
		if time.Since(began) > 20*time.Second {
			o.t.Fatalf("the mail is never %s: it is %s after %d tries: %s", what, now.State, now.Tries, now.Refusal)
		}
	}
}

func sent(m sales.Mail) bool   { return m.State == sales.MailSent }
func failed(m sales.Mail) bool { return m.State == sales.MailFailed }

// tried tells that so many attempts failed and the next one waits.
func tried(n int) func(sales.Mail) bool {
	return func(m sales.Mail) bool {
		return m.State == sales.MailWaiting && m.Tries == n && m.Held.IsZero() && m.Refusal != ""
	}
}

// runs starts a sender of the books, until the test ends or the returned function is called.
func (o *office) runs(s mail.Sender) (stop func()) {
	o.t.Helper()
	if s.Outbox == nil {
		s.Outbox = o.Service
	}
	if s.Every == 0 {
		s.Every = 5 * time.Millisecond
	}
	s.Log = slog.New(slog.NewTextHandler(testLog{o.t}, nil))
	ctx, cancel := context.WithCancel(context.Background())
	var all sync.WaitGroup
	all.Go(func() { s.Run(ctx) })
	stop = func() { cancel(); all.Wait() }
	o.t.Cleanup(stop)
	return stop
}

// testLog is the sender's log; a password in it fails the test.
type testLog struct{ t *testing.T }

func (l testLog) Write(line []byte) (int, error) {
	if strings.Contains(string(line), secret) {
		l.t.Errorf("the log tells the password: %s", line)
	}
	return len(line), nil
}

// secret is the password of every server here that asks for one.
const secret = "s3cret-p%ssword"

// hook is what a server does at the nth connection.
type hook func(n int, c *smtp.Conn) error

// box is a real SMTP server on loopback that keeps what it took and does as its hooks say. Hooks are called with the
// number of the attempt, from 1; one that is nil lets pass.
type box struct {
	greet, from, rcpt hook
	data              hook          // after the message was read, before it is kept
	slow              time.Duration // before every answer
	ways              []string      // to sign in
	needsIn           bool          // nobody sends who did not sign in
	tls               *tls.Config   // that STARTTLS goes over to
	whole             bool          // TLS from the first byte instead
	open              bool          // no TLS at all

	mu    sync.Mutex
	conns map[*smtp.Conn]int // by number
	taken [][]byte
	froms []string
	tos   []string

	server *smtp.Server
	addr   string
}

// start serves at an address, "127.0.0.1:0" for any.
func (b *box) start(t *testing.T, addr string) *box {
	t.Helper()
	b.server = smtp.NewServer(smtp.BackendFunc(func(c *smtp.Conn) (smtp.Session, error) {
		b.mu.Lock()
		if b.conns[c] == 0 { // a greeting that was refused is said again
			b.conns[c] = len(b.conns) + 1
		}
		n := b.conns[c]
		b.mu.Unlock()
		time.Sleep(b.slow)
		if b.greet != nil {
			if err := b.greet(n, c); err != nil {
				return nil, err
			}
		}
		return &session{b: b, c: c, n: n}, nil
	}))
	b.conns = map[*smtp.Conn]int{}
	b.server.Domain, b.server.ErrorLog = "mail.test", quiet{}
	l, err := net.Listen("tcp", addr)
	fatal(t, err)
	b.addr = l.Addr().String()
	if b.whole {
		l = tls.NewListener(l, b.tls)
	} else {
		b.server.TLSConfig = b.tls
	}
	go func() { _ = b.server.Serve(l) }()
	t.Cleanup(func() { _ = b.server.Close() })
	return b
}

type quiet struct{}

func (quiet) Printf(string, ...any) {}
func (quiet) Println(...any)        {}

// to is the server's address for a sender.
func (b *box) to(t *testing.T) mail.Server {
	t.Helper()
	s, err := mail.ReadServer("smtp://" + b.addr)
	fatal(t, err)
	return s
}

// kept is what arrived.
func (b *box) kept() [][]byte {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([][]byte(nil), b.taken...)
}

type session struct {
	b        *box
	c        *smtp.Conn
	n        int
	from, to string
	in       bool // signed in
}

func (s *session) Reset()        {}
func (s *session) Logout() error { return nil }

func (s *session) Mail(from string, _ *smtp.MailOptions) error {
	time.Sleep(s.b.slow)
	s.from = from
	if s.b.needsIn && !s.in {
		return says(530, "sign in first")
	}
	if s.b.from != nil {
		return s.b.from(s.n, s.c)
	}
	return nil
}

func (s *session) Rcpt(to string, _ *smtp.RcptOptions) error {
	time.Sleep(s.b.slow)
	s.to = to
	if s.b.rcpt != nil {
		return s.b.rcpt(s.n, s.c)
	}
	return nil
}

func (s *session) Data(r io.Reader) error {
	body, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	time.Sleep(s.b.slow)
	if s.b.data != nil {
		if err := s.b.data(s.n, s.c); err != nil {
			return err
		}
	}
	s.b.mu.Lock()
	defer s.b.mu.Unlock()
	s.b.taken, s.b.froms, s.b.tos = append(s.b.taken, body), append(s.b.froms, s.from), append(s.b.tos, s.to)
	return nil
}

// says is a refusal in a server's words.
func says(code int, text string) error {
	return &smtp.SMTPError{Code: code, EnhancedCode: smtp.EnhancedCode{code / 100, 7, 1}, Message: text}
}

// first does something at the first so many attempts only.
func first(many int, err error) hook {
	return func(n int, _ *smtp.Conn) error {
		if n <= many {
			return err
		}
		return nil
	}
}
