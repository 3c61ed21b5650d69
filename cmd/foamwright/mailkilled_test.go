package main

import (
	"bufio"
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"log/slog"
	mathrand "math/rand/v2"
	"net"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-smtp"

	"foamwright/cmd/foamwright/mail"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/pricing/sales"
)

// mailingAt names the books that a child of TestKilledBetweenQueueAndSend writes mail into.
const mailingAt = "FOAMWRIGHT_TEST_MAILING_AT"

// mailTill is a till that mail may be written at.
func mailTill(t *testing.T, url string) *till {
	t.Helper()
	s := openTill(t, url)
	s.SetMailServer("mail.test:587")
	return s
}

// mailOf writes the mail of a quote.
func (s *till) mailOf(q sales.Quote) sales.Mail {
	s.t.Helper()
	d, err := s.MailDraft(s.t.Context(), sales.MailQuote, q.ID)
	fatal(s.t, err)
	m, err := s.Post(s.t.Context(), sales.PostRequest{Token: rand.Text(), Kind: d.Kind, About: d.About, To: "mara@ferry-house.example", Subject: d.Subject, Text: d.Text, Site: "https://bench.example"}, "Wren")
	fatal(s.t, err)
	return m
}

// TestMailUntilKilled is the child: it writes one mail after another and tells each once it is promised. It sends none.
func TestMailUntilKilled(t *testing.T) {
	url := os.Getenv(mailingAt)
	if url == "" {
		return
	}
	s := mailTill(t, url)
	q := s.issued("Target")
	for {
		fmt.Fprintf(os.Stdout, "queued %s\n", s.mailOf(q).MessageID)
	}
}

// Programs that are killed after they promised to send, and senders that die, lose no mail and send none twice: every
// mail that is in the books arrives once, and of those that were promised none is missing.
func TestKilledBetweenQueueAndSend(t *testing.T) {
	url := dbtest.URL(t)
	promised := map[string]bool{}
	for round := range 4 {
		for id := range mailAndDie(t, url, 2+round) {
			promised[id] = true
		}
	}
	arrived := postbox(t)
	s := mailTill(t, url)
	for range 3 {
		_, err := s.TakeMail(t.Context()) // a sender that died holds these
		fatal(t, err)
	}
	server, err := mail.ReadServer("smtp://" + arrived.addr)
	fatal(t, err)
	books, err := db.Open(t.Context(), url)
	fatal(t, err)
	t.Cleanup(books.Close)
	// Two at once send what is free; what the dead one holds is free a quarter of an hour later.
	soon := sales.NewService(books.Sales(), nil, thursday)
	late := sales.NewService(books.Sales(), nil, func() time.Time { return thursday().Add(15 * time.Minute) })
	s.sendUntil(server, 3, s.Service, soon)
	s.sendUntil(server, 0, late)
	all, err := s.Mails(t.Context(), sales.MailFound{})
	fatal(t, err)
	if extra := len(all) - len(promised); extra < 0 || extra > 4 {
		t.Errorf("%d were promised, %d are in the books, after 4 kills", len(promised), len(all))
	}
	for _, m := range all {
		if n := arrived.count(m.MessageID); n != 1 {
			t.Errorf("mail %s arrived %d times", m.MessageID, n)
		}
		delete(promised, m.MessageID)
	}
	if len(promised) > 0 {
		t.Errorf("promised and lost: %v", promised)
	}
}

// sendUntil runs a sender of each of the books until so many mails are left.
func (s *till) sendUntil(server mail.Server, left int, books ...*sales.Service) {
	s.t.Helper()
	ctx, cancel := context.WithCancel(s.t.Context())
	var senders sync.WaitGroup
	for _, box := range books {
		senders.Go(func() {
			mail.Sender{Server: server, Outbox: box, Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Every: 5 * time.Millisecond}.Run(ctx)
		})
	}
	defer senders.Wait()
	defer cancel()
	for began := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		open, err := s.Mails(s.t.Context(), sales.MailFound{Open: true})
		fatal(s.t, err)
		if len(open) <= left {
			return
		}
		if time.Since(began) > time.Minute {
			s.t.Fatalf("%d mails are never sent", len(open)-left)
		}
	}
}

// mailAndDie runs the child until it has promised so many, and kills it somewhere in the next one.
func mailAndDie(t *testing.T, url string, many int) map[string]bool {
	t.Helper()
	child := exec.Command(os.Args[0], "-test.run=^TestMailUntilKilled$")
	child.Env = append(os.Environ(), mailingAt+"="+url)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	fatal(t, err)
	fatal(t, child.Start())
	promised := map[string]bool{}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		id, ok := strings.CutPrefix(lines.Text(), "queued ")
		if !ok {
			t.Errorf("the child says %q", lines.Text())
		}
		promised[id] = true
		if len(promised) == many {
			time.AfterFunc(time.Duration(mathrand.N(30))*time.Millisecond, func() { _ = child.Process.Kill() })
		}
	}
	if err := child.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the child ended by itself: %v", err)
	}
	return promised
}

// box counts what arrives at a real SMTP server on loopback, by Message-ID.
type box struct {
	addr string
	mu   sync.Mutex
	came map[string]int
}

func (b *box) count(id string) int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.came[id]
}

func postbox(t *testing.T) *box {
	t.Helper()
	b := &box{came: map[string]int{}}
	server := smtp.NewServer(smtp.BackendFunc(func(*smtp.Conn) (smtp.Session, error) { return &arrival{b}, nil }))
	l, err := net.Listen("tcp", "127.0.0.1:0")
	fatal(t, err)
	b.addr = l.Addr().String()
	go func() { _ = server.Serve(l) }()
	t.Cleanup(func() { _ = server.Close() })
	return b
}

type arrival struct{ b *box }

func (*arrival) Reset()                               {}
func (*arrival) Logout() error                        { return nil }
func (*arrival) Mail(string, *smtp.MailOptions) error { return nil }
func (*arrival) Rcpt(string, *smtp.RcptOptions) error { return nil }
func (a *arrival) Data(r io.Reader) error {
	data, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	_, rest, _ := strings.Cut(string(data), "\r\nMessage-ID: <")
	id, _, _ := strings.Cut(rest, ">")
	a.b.mu.Lock()
	defer a.b.mu.Unlock()
	a.b.came[id]++
	return nil
}
