package mail

import (
	"context"
	"crypto/tls"
	"errors"
	"net"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/wneessen/go-mail/smtp"

	"foamwright/pricing/sales"
)

// stage is how far an attempt came.
type stage string

const (
	writing  stage = "writing the message"
	reaching stage = "reaching the server"
	securing stage = "going over to TLS"
	signing  stage = "signing in"
	naming   stage = "naming the sender"
	asking   stage = "naming the recipient"
	handing  stage = "handing over"
	ending   stage = "waiting for the receipt"
)

// refusal is an attempt that failed.
type refusal struct {
	at  stage
	err error
}

// errNoTLS, errNoSignIn: the server does not offer what is asked for.
var (
	errNoTLS    = errors.New("no STARTTLS is offered")
	errNoSignIn = errors.New("no way to sign in is offered that is known here")
)

// reachTime bounds how long a server may take to be reached and to greet.
const reachTime = 30 * time.Second

// send makes one attempt; nil when the server took the mail. When the context ends the line is cut.
func (s Sender) send(ctx context.Context, m sales.Mail) *refusal {
	body, err := message(m)
	if err != nil {
		return &refusal{writing, err}
	}
	line, err := (&net.Dialer{Timeout: reachTime}).DialContext(ctx, "tcp", s.Server.String())
	if err != nil {
		return &refusal{reaching, err}
	}
	// The line is cut and not ended politely when something breaks on the way: QUIT within a message would end it.
	defer line.Close()
	defer context.AfterFunc(ctx, func() { _ = line.Close() })()
	_ = line.SetDeadline(time.Now().Add(reachTime)) // of a line just opened
	c, failed := s.open(line)
	if failed != nil {
		return failed
	}
	_ = line.SetDeadline(time.Time{}) // from here on the context's end is the only one
	if err := c.Mail("<" + m.From + ">"); err != nil {
		return leave(c, naming, err)
	}
	if err := c.Rcpt("<" + m.To + ">"); err != nil {
		return leave(c, asking, err)
	}
	w, err := c.Data()
	if err != nil {
		return leave(c, handing, err)
	}
	if _, err := w.Write(body); err != nil {
		return &refusal{handing, err}
	}
	if err := w.Close(); err != nil {
		return leave(c, ending, err)
	}
	_ = line.SetDeadline(time.Now().Add(reachTime))
	_ = c.Quit() // it has the mail, however it takes the farewell
	return nil
}

// leave says farewell to a server that refused in words.
func leave(c *smtp.Client, at stage, err error) *refusal {
	if code(err) != 0 {
		_ = c.Quit()
	}
	return &refusal{at, err}
}

// open is greeted, goes over to TLS and signs in.
func (s Sender) open(line net.Conn) (*smtp.Client, *refusal) {
	secure := &tls.Config{ServerName: s.Server.host, RootCAs: s.Roots, MinVersion: tls.VersionTLS12}
	if s.Server.whole {
		over := tls.Client(line, secure)
		if err := over.Handshake(); err != nil {
			return nil, &refusal{securing, err}
		}
		line = over
	}
	c, err := smtp.NewClient(line, s.Server.host)
	if err != nil {
		return nil, &refusal{reaching, err}
	}
	c.SkipSMTPUTF8(true) // addresses are in ASCII
	name, err := os.Hostname()
	if err != nil || name == "" {
		name = "localhost"
	}
	if err := c.Hello(name); err != nil {
		return nil, leave(c, reaching, err)
	}
	if !s.Server.whole && !s.Server.plain {
		if offered, _ := c.Extension("STARTTLS"); !offered {
			return nil, leave(c, securing, errNoTLS)
		}
		if err := c.StartTLS(secure); err != nil {
			return nil, leave(c, securing, err)
		}
	}
	if s.Server.user == "" {
		return c, nil
	}
	_, offered := c.Extension("AUTH")
	ways := strings.Fields(strings.ToUpper(offered))
	var way smtp.Auth
	switch {
	case slices.Contains(ways, "PLAIN"):
		way = smtp.PlainAuth("", s.Server.user, s.Server.password, s.Server.host, s.Server.plain)
	case slices.Contains(ways, "LOGIN"):
		way = smtp.LoginAuth(s.Server.user, s.Server.password, s.Server.host, s.Server.plain)
	default:
		return nil, leave(c, signing, errNoSignIn)
	}
	if err := c.Auth(way); err != nil {
		return nil, &refusal{signing, err} // the library has said farewell
	}
	return c, nil
}
