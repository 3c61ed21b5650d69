package mail_test

import (
	"bytes"
	"encoding/base64"
	"io"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	stdmail "net/mail"
	"strings"
	"testing"

	"github.com/emersion/go-smtp"

	"foamwright/cmd/foamwright/mail"
	"foamwright/pricing/sales"
)

// part is one leaf of a message, decoded.
type part struct {
	kind, name string
	body       []byte
}

// parsed reads a message with the standard library, which is not what wrote it.
func parsed(t *testing.T, raw []byte) (stdmail.Header, []part) {
	t.Helper()
	m, err := stdmail.ReadMessage(bytes.NewReader(raw))
	fatal(t, err)
	return m.Header, leaves(t, m.Header.Get("Content-Type"), m.Header.Get("Content-Transfer-Encoding"), "", m.Body)
}

func leaves(t *testing.T, kind, encoding, disposition string, body io.Reader) []part {
	t.Helper()
	media, terms, err := mime.ParseMediaType(kind)
	fatal(t, err)
	if strings.HasPrefix(media, "multipart/") {
		var all []part
		for parts := multipart.NewReader(body, terms["boundary"]); ; {
			p, err := parts.NextRawPart()
			if err == io.EOF {
				return all
			}
			fatal(t, err)
			all = append(all, leaves(t, p.Header.Get("Content-Type"), p.Header.Get("Content-Transfer-Encoding"), p.Header.Get("Content-Disposition"), p)...)
		}
	}
	switch encoding {
	case "quoted-printable":
		body = quotedprintable.NewReader(body)
	case "base64":
		body = base64.NewDecoder(base64.StdEncoding, body)
	default:
		t.Errorf("a %s is sent as %q", media, encoding)
	}
	data, err := io.ReadAll(body)
	fatal(t, err)
	_, more, _ := mime.ParseMediaType(disposition)
	return []part{{media, more["filename"], data}}
}

func TestTheMessage(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := (&box{data: dropped(1)}).start(t, "127.0.0.1:0")
	d, err := o.MailDraft(t.Context(), sales.MailQuote, o.quote.ID)
	fatal(t, err)
	subject := "Angebot für Ihre große Übung: " + strings.Repeat("Zielscheibe ", 8) + "<script>&"
	m, err := o.Post(t.Context(), sales.PostRequest{Token: "once and no more", Kind: d.Kind, About: d.About, To: d.To, Subject: subject,
		Text: d.Text + "\r\n\r\n.\r\n<b>Kein</b> Markup & " + strings.Repeat("lang ", 300), Site: "https://bench.example/"}, "Wren")
	fatal(t, err)
	o.runs(mail.Sender{Server: b.to(t)})
	is := o.until(m, "put off", tried(1))
	o.later(is.Due.Sub(o.now()))
	o.until(m, "sent", sent)
	b.once(t, m)
	raw := b.kept()[0]
	for _, line := range strings.Split(string(raw), "\r\n") {
		if len(line) > 998 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("a line of %d bytes, or one that does not end as it should", len(line)) // RFC 5322, 2.1.1
		}
	}
	if bytes.ContainsFunc(raw, func(r rune) bool { return r > 126 }) {
		t.Error("the message is not ASCII")
	}
	head, parts := parsed(t, raw)
	said, err := (&mime.WordDecoder{}).DecodeHeader(head.Get("Subject"))
	fatal(t, err)
	from, err := stdmail.ParseAddress(head.Get("From"))
	fatal(t, err)
	if said != subject || !strings.HasPrefix(head.Get("Subject"), "=?UTF-8?") || head.Get("To") != "<ilse@white-fen.example>" ||
		from.Name != "Kestrel Yard Propworks" || from.Address != "bench@kestrel-yard.example" || head.Get("Bcc") != "" {
		t.Errorf("the head is %v", head)
	}
	if id := head.Get("Message-ID"); id != "<"+m.MessageID+">" || !strings.HasSuffix(id, "@kestrel-yard.example>") {
		t.Errorf("Message-ID %s", id)
	}
	if date, err := head.Date(); err != nil || !date.Equal(m.Queued.Truncate(1e9)) {
		t.Errorf("Date %s", head.Get("Date"))
	}
	if b.froms[0] != "bench@kestrel-yard.example" || b.tos[0] != "ilse@white-fen.example" || head.Get("Content-Language") != "de" {
		t.Errorf("from %s to %s in %s", b.froms[0], b.tos[0], head.Get("Content-Language"))
	}
	if len(parts) != 3 || parts[0].kind != "text/plain" || parts[1].kind != "text/html" || parts[2].kind != "application/pdf" {
		t.Fatalf("the parts are %+v", parts)
	}
	text, page := strings.ReplaceAll(string(parts[0].body), "\r\n", "\n"), string(parts[1].body)
	at := strings.Index(text, "https://bench.example/q/")
	if at < 0 || strings.Contains(text, sales.LinkMark) || !strings.Contains(text, "Guten Tag Márton Ødegård,\n\nhier ist das Angebot") || !strings.Contains(text, "\n.\n<b>Kein</b> Markup & lang") {
		t.Fatalf("the text is %s", text)
	}
	link, _, _ := strings.Cut(text[at:], "\n")
	if l, err := o.Linked(t.Context(), strings.TrimPrefix(link, "https://bench.example/q/"), false); err != nil || l.Quote.ID != o.quote.ID {
		t.Errorf("the link leads nowhere: %v", err)
	}
	if !strings.Contains(page, `<a href="`+link+`"`) || !strings.Contains(page, "&lt;b&gt;Kein&lt;/b&gt; Markup &amp; lang") || !strings.Contains(page, "&lt;script&gt;&amp;</title>") ||
		!strings.Contains(page, `<html lang="de">`) || strings.Contains(page, "<img") || strings.Contains(page, "src=") || strings.Contains(page, "<script") {
		t.Errorf("the page is %s", page)
	}
	doc, err := o.Document(t.Context(), o.quote.ID)
	fatal(t, err)
	if parts[2].name != doc.Name || !bytes.Equal(parts[2].body, doc.Bytes) || !bytes.HasPrefix(doc.Bytes, []byte("%PDF-")) {
		t.Errorf("%s has %d bytes of %d", parts[2].name, len(parts[2].body), len(doc.Bytes))
	}
}

// A server that took a mail and lost the line before it said so gets it once more: nobody can tell the two cases
// apart (RFC 1047). Both have one Message-ID and say the same, so that a mailbox can.
func TestALostReceiptIsADoubleThatCanBeToldByItsID(t *testing.T) {
	t.Parallel()
	o := open(t)
	b := &box{}
	b.data = func(n int, c *smtp.Conn) error {
		if n == 1 {
			_ = c.Conn().Close() // and it is kept all the same
		}
		return nil
	}
	b.start(t, "127.0.0.1:0")
	m := o.write()
	o.runs(mail.Sender{Server: b.to(t)})
	is := o.until(m, "put off", tried(1))
	o.later(is.Due.Sub(o.now()))
	o.until(m, "sent", sent)
	got := b.kept()
	if len(got) != 2 {
		t.Fatalf("%d arrived", len(got))
	}
	one, parts := parsed(t, got[0])
	two, again := parsed(t, got[1])
	for _, name := range []string{"Message-Id", "Date", "Subject", "From", "To"} {
		if one.Get(name) == "" || one.Get(name) != two.Get(name) {
			t.Errorf("%s was %q and is %q", name, one.Get(name), two.Get(name))
		}
	}
	for i := range parts {
		if !bytes.Equal(parts[i].body, again[i].body) {
			t.Errorf("part %d is another", i)
		}
	}
}

// Names come from outside. What would begin another entry of a head is refused where it is written down.
func TestNamesBeginNoHeaders(t *testing.T) {
	t.Parallel()
	o := open(t)
	for _, evil := range []string{"Mara\r\nBcc: c@d.example", "Mara\nX-Evil: yes", "Mara\u2028Bcc: c@d.example\x00"} {
		if _, err := o.KeepCustomer(t.Context(), sales.Customer{Name: evil}); err == nil {
			t.Errorf("a customer is called %q", evil)
		}
		w, err := o.Workshop(t.Context())
		fatal(t, err)
		w.Head.Name = evil
		if err := o.SetWorkshop(t.Context(), w, "Wren"); err == nil {
			t.Errorf("the workshop is called %q", evil)
		}
		w.Head.Name, w.Head.Email = "Kestrel Yard", "a@b.example"+evil
		if err := o.SetWorkshop(t.Context(), w, "Wren"); err == nil {
			t.Errorf("the workshop writes from %q", w.Head.Email)
		}
	}
}
