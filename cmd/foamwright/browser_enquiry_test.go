package main

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net"
	"net/mail"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/emersion/go-smtp"
)

// How long a maker takes, by the keystroke-level model of Card, Moran and Newell (1980), figures from memory: an average
// typist's key, pointing with a mouse, its button, the hand going over to mouse or keys, getting ready for a step. Reading
// at 250 words a minute is common practice, no source. What the program takes is measured, not modelled.
const (
	key     = 200 * time.Millisecond
	point   = 1100 * time.Millisecond
	button  = 100 * time.Millisecond
	homing  = 400 * time.Millisecond
	prepare = 1350 * time.Millisecond
	word    = time.Minute / 250
)

// maker is somebody at a tab whose time is summed, not slept.
type maker struct {
	*tab
	spent, waited time.Duration
	steps         []string
}

func (m *maker) takes(what string, d time.Duration) {
	m.spent += d
	m.steps = append(m.steps, fmt.Sprintf("%5.1f s  %s", d.Seconds(), what))
}

// waits is for what the program takes, which goes by how busy the machine is: it is told and held to nothing.
func (m *maker) waits(began time.Time) { m.waited += time.Since(began) }

// clicks points at something and presses it, and waits for the page it leads to.
func (m *maker) clicks(what, selector string) {
	m.t.Helper()
	began := time.Now()
	m.press(selector)
	m.takes("press "+what, prepare+homing+point+button)
	m.waits(began)
}

// writes goes to an entry and types over it.
func (m *maker) writes(what, selector, typed string) {
	m.t.Helper()
	m.fill(selector, typed)
	m.takes("type "+what, prepare+homing+point+button+homing+time.Duration(len(typed))*key)
}

// reads is the time for the words of a part of the page.
func (m *maker) reads(what, selector string) string {
	m.t.Helper()
	text := m.text(selector)
	if text == "" {
		m.t.Fatalf("%s: nothing to read in %s", what, selector)
	}
	m.takes("read "+what, time.Duration(len(strings.Fields(text)))*word)
	return text
}

// letterbox is a real SMTP server on loopback that keeps what comes.
type letterbox struct {
	addr string
	came chan []byte
}

func (b letterbox) NewSession(*smtp.Conn) (smtp.Session, error) { return letter{b}, nil }

type letter struct{ b letterbox }

func (letter) Reset()                               {}
func (letter) Logout() error                        { return nil }
func (letter) Mail(string, *smtp.MailOptions) error { return nil }
func (letter) Rcpt(string, *smtp.RcptOptions) error { return nil }
func (l letter) Data(r io.Reader) error {
	data, err := io.ReadAll(r)
	if err == nil {
		l.b.came <- data
	}
	return err
}

func newLetterbox(t *testing.T) letterbox {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	fatal(t, err)
	b := letterbox{l.Addr().String(), make(chan []byte, 4)}
	server := smtp.NewServer(b)
	go func() { _ = server.Serve(l) }()
	t.Cleanup(func() { _ = server.Close() })
	return b
}

// enquired is what a customer writes who has three months, whatever day it is.
func enquired() string {
	return `Hello Kestrel Yard,

I would like a kite shield, curved, 56 cm wide along the curve and 88 cm high, 3 layers, with three gems and a 45 mm rim.
Face in deep blue, rim in old gold, back in oak brown, two straps, for my left arm. I have no latex allergy.
It is for Marshlight medium, 3rd edition, and I need it by ` + time.Now().AddDate(0, 3, 0).Format("2 January") + `. Please ship it to Reedholm. My budget is 1300 euros.

Thanks,
Sedge Marrow
sedge@marrow.example`
}

// TestFromPastedWordsToASentQuote is the first promise: what a customer wrote is pasted, priced, issued and sent with its
// PDF, and the maker's part is under two minutes.
func TestFromPastedWordsToASentQuote(t *testing.T) {
	t.Parallel()
	box := newLetterbox(t)
	address, link := served(t, func(s *settings) { s.mail = "smtp://" + box.addr })
	m := &maker{tab: browse(t, address)}
	m.signIn(link)
	m.open("/today")

	m.clicks("New enquiry", `.acts a[href="/enquiries/new"]`)
	m.until(`document.activeElement.name === "words"`) // the cursor is there, so that the words can be pasted at once
	send(m.tab, input.InsertText, input.InsertTextParams{Text: enquired()})
	m.takes("paste, two keys", prepare+homing+2*key)
	m.takes("read the enquiry", time.Duration(len(strings.Fields(enquired())))*word)
	began := time.Now()
	m.until(`document.querySelector(".says")?.innerText.includes("88 cm") ?? false`)
	m.waits(began)
	if said := m.reads("what was found", ".reading"); !strings.Contains(said, "“56 cm wide”") || !strings.Contains(said, "Marshlight medium") {
		t.Errorf("%s", said)
	}
	began = time.Now()
	ctrlEnter(m.tab)
	m.until(`location.pathname.startsWith("/quotes/")`)
	m.takes("draft the quote, two keys", prepare+2*key)
	m.waits(began)

	digest := `(document.querySelector("[name=digest]")?.value ?? "")`
	m.until(digest + ` !== ""`)
	first := ask[string](m.tab, digest)
	m.writes("the title", "[name=title]", "Heron kite for Sedge")
	m.writes("how hard the drawing is", "#f-complexity", "2")
	began = time.Now()
	m.until(fmt.Sprintf(`%s !== "" && %[1]s !== %q && document.querySelector("#board").getAttribute("aria-busy") === null`, digest, first))
	m.waits(began)
	m.reads("how it stands to the size rule", ".fits")
	m.reads("the price", ".slip .total")
	m.reads("when it can be ready", ".slip .after strong")
	if words := m.text(".their-words"); !strings.Contains(words, "56 cm wide along the curve") {
		t.Errorf("beside the spec stands %q", words) // read before
	}
	gross := m.text(".slip .total data")
	m.clicks("Issue quote", "[value=issue]")
	if issued := m.text(".slip .total data"); issued != gross || gross == "" {
		t.Fatalf("shown at %s, issued at %s: %s", gross, issued, m.text("main"))
	}
	m.clicks("Send by mail", `.acts a[href$="/send"]`)
	if to := ask[string](m.tab, `document.querySelector("[name=to]").value`); to != "sedge@marrow.example" {
		t.Errorf("it would go to %q", to)
	}
	m.takes("read the mail over", time.Duration(ask[int](m.tab, `document.querySelector("[name=text]").value.split(/\s+/).length`))*word)
	m.clicks("Send it", "[value=send]")

	var came []byte
	select {
	case came = <-box.came:
	case <-time.After(20 * time.Second):
		t.Fatalf("nothing arrived; the page: %s", m.text("main"))
	}
	quote := strings.TrimSuffix(m.path(), "/send")
	kept := ask[string](m.tab, fmt.Sprintf(`fetch(%q).then((r) => r.arrayBuffer()).then((b) => btoa(String.fromCharCode(...new Uint8Array(b))))`, quote+"/quote.pdf"))
	pdf, err := base64.StdEncoding.DecodeString(kept)
	fatal(t, err)
	if attached := attachedPDF(t, came); !bytes.HasPrefix(attached, []byte("%PDF-")) || !bytes.Equal(attached, pdf) {
		t.Errorf("what was sent (%d bytes) is not the quote (%d bytes)", len(attached), len(pdf))
	}
	t.Logf("the maker's part: %.1f s, and %.1f s waiting for the program\n%s", m.spent.Seconds(), m.waited.Seconds(), strings.Join(m.steps, "\n"))
	if m.spent >= 2*time.Minute {
		t.Errorf("it takes %s", m.spent)
	}
	m.clean(t)
}

// ctrlEnter presses control and return, which sends the form by its main button.
func ctrlEnter(b *tab) {
	b.t.Helper()
	b.do(chromedp.KeyEvent("\r", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
}

// attachedPDF is the PDF that a mail brings.
func attachedPDF(t *testing.T, message []byte) []byte {
	t.Helper()
	m, err := mail.ReadMessage(bytes.NewReader(message))
	fatal(t, err)
	if to := m.Header.Get("To"); !strings.Contains(to, "sedge@marrow.example") {
		t.Errorf("to %s", to)
	}
	return pdfIn(t, m.Header.Get("Content-Type"), m.Body)
}

func pdfIn(t *testing.T, kind string, body io.Reader) []byte {
	t.Helper()
	media, with, err := mime.ParseMediaType(kind)
	fatal(t, err)
	if !strings.HasPrefix(media, "multipart/") {
		return nil
	}
	for parts := multipart.NewReader(body, with["boundary"]); ; {
		part, err := parts.NextPart()
		if err != nil {
			return nil
		}
		if strings.HasPrefix(part.Header.Get("Content-Type"), "application/pdf") {
			data, err := io.ReadAll(base64.NewDecoder(base64.StdEncoding, part))
			fatal(t, err)
			return data
		}
		if found := pdfIn(t, part.Header.Get("Content-Type"), part); found != nil {
			return found
		}
	}
}
