package mail

import (
	"bytes"
	"cmp"
	"fmt"
	"html"
	"strings"

	"github.com/wneessen/go-mail"

	"foamwright/pricing/sales"
)

// message is a mail as it goes over the line: plain text, the same in HTML, then the documents. The same mail gives
// the same message but for the boundaries between its parts.
func message(m sales.Mail) ([]byte, error) {
	out := mail.NewMsg(mail.WithNoDefaultUserAgent())
	if err := out.FromFormat(m.FromName, m.From); err != nil {
		return nil, fmt.Errorf("from %q: %w", m.From, err)
	}
	if err := out.To(m.To); err != nil {
		return nil, fmt.Errorf("to: %w", err)
	}
	out.Subject(m.Subject)
	out.SetMessageIDWithValue(m.MessageID)
	out.SetDateWithValue(m.Queued)
	if m.Language != "" {
		out.SetGenHeader(mail.HeaderContentLang, m.Language)
	}
	if m.Kind == sales.MailQuoteReminder {
		out.SetGenHeader("Auto-Submitted", "auto-generated") // RFC 3834: nobody's absence is answered to it
	}
	out.SetBodyString(mail.TypeTextPlain, strings.ReplaceAll(m.Text, sales.LinkMark, m.Link)+"\n")
	out.AddAlternativeString(mail.TypeTextHTML, asHTML(m))
	for _, d := range m.Documents {
		out.AttachReadSeeker(d.Name, bytes.NewReader(d.Bytes), mail.WithFileContentType(contentType(d.Name)))
	}
	var b bytes.Buffer
	if _, err := out.WriteTo(&b); err != nil {
		return nil, fmt.Errorf("message: %w", err)
	}
	return b.Bytes(), nil
}

// contentType is a document's by the end of its name.
func contentType(name string) mail.ContentType {
	switch {
	case strings.HasSuffix(name, ".pdf"):
		return "application/pdf"
	case strings.HasSuffix(name, ".svg"):
		return "image/svg+xml"
	case strings.HasSuffix(name, ".xml"):
		return "application/xml"
	}
	return mail.TypeAppOctetStream
}

// asHTML is the same text as a page without anything from outside. Mail programs drop style sheets, so it is inline.
func asHTML(m sales.Mail) string {
	language := cmp.Or(m.Language, "en")
	var b strings.Builder
	fmt.Fprintf(&b, "<!doctype html>\n<html lang=\"%s\"><head><meta charset=\"utf-8\"><title>%s</title></head>\n"+
		"<body style=\"margin:0;padding:24px 16px;font:16px/1.5 Georgia,serif;color:#222;background:#fff\"><div style=\"max-width:36em\">\n",
		language, html.EscapeString(m.Subject))
	link := html.EscapeString(m.Link)
	for _, lines := range sales.Paragraphs(m.Text) {
		b.WriteString("<p style=\"margin:0 0 16px\">")
		for i, line := range lines {
			if i > 0 {
				b.WriteString("<br>\n")
			}
			b.WriteString(strings.ReplaceAll(html.EscapeString(line), sales.LinkMark, "<a href=\""+link+"\" style=\"color:#7a3b12\">"+link+"</a>"))
		}
		b.WriteString("</p>\n")
	}
	b.WriteString("</div></body></html>\n")
	return b.String()
}
