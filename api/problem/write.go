package problem

import (
	"errors"
	"log/slog"
	"net/http"
	"strconv"
	"strings"
	"time"

	"foamwright/materials/fault"

	"github.com/gofiber/fiber/v2"
)

// RequestIDHeader carries the id of a request in its answer.
const RequestIDHeader = "X-Request-ID"

// ContentType is the media type of a problem (RFC 9457, section 6.1).
const ContentType = "application/problem+json"

// Entry is one thing to put right, on the wire.
type Entry struct {
	Field  string `json:"field,omitempty"`
	Value  string `json:"value,omitempty"`
	Remedy string `json:"remedy"`
}

// Body is a problem on the wire. It is an error with a status, so an API library can send it as it is.
type Body struct {
	Type     string  `json:"type"` // "/problems/" and a kind, relative to the server; "about:blank" for plain HTTP
	Title    string  `json:"title"`
	Status   int     `json:"status"`
	Detail   string  `json:"detail"`
	Instance string  `json:"instance,omitempty"` // urn:uuid: and the request's id
	Problems []Entry `json:"problems,omitempty"`
}

// Error is the detail.
func (b *Body) Error() string { return b.Detail }

// GetStatus is the HTTP status.
func (b *Body) GetStatus() int { return b.Status }

// ContentType is the media type for a body that would have gone out as plain JSON.
func (b *Body) ContentType(string) string { return ContentType }

// Of is the wire form of an error.
func Of(err error, requestID string) *Body {
	k := of(err)
	b := &Body{Type: "about:blank", Title: k.title, Status: k.status, Detail: Sentence(err, requestID)}
	if k.name != "" {
		b.Type = "/problems/" + k.name
	}
	if requestID != "" {
		b.Instance = "urn:uuid:" + requestID
	}
	var f *fault.Fault
	if errors.As(err, &f) && k.status < 500 {
		for _, p := range f.Problems {
			b.Problems = append(b.Problems, Entry(p))
		}
	}
	return b
}

// Writer answers errors and logs those that are not the asker's to mend.
type Writer struct{ Log *slog.Logger }

// Write answers err as a problem; it fits fiber.Config.ErrorHandler.
func (w Writer) Write(c *fiber.Ctx, err error) error {
	w.Note(c, err)
	b := Of(err, RequestID(c))
	return c.Status(b.Status).JSON(b, ContentType)
}

// Note does all of Write but the body, for faces that answer with a page: it logs what is internal, with
// its cause, and sets the headers that belong to a status.
func (w Writer) Note(c *fiber.Ctx, err error) {
	status := Status(err)
	var waits interface{ RetryAfter() time.Duration }
	asks := errors.As(err, &waits)
	level := slog.LevelInfo // a fault that kept its cause, such as a database that does not answer
	if status >= 500 {
		level = slog.LevelError
	}
	if status >= 500 || errors.Unwrap(err) != nil && !asks {
		w.Log.Log(c.UserContext(), level, "request failed", "request", RequestID(c),
			"method", c.Method(), "route", c.Route().Path, "status", status, "cause", cause(err))
	}
	switch {
	case asks:
		c.Set(fiber.HeaderRetryAfter, strconv.FormatInt(int64((waits.RetryAfter()+time.Second-1)/time.Second), 10))
	case status == http.StatusUnauthorized:
		c.Set(fiber.HeaderWWWAuthenticate, "Bearer") // RFC 9110 asks for one with every 401
	}
}

// cause is everything known about an error. A fault's own text leaves out what it wraps, so each is named.
func cause(err error) any {
	var more slog.LogValuer
	if errors.As(err, &more) {
		return more
	}
	texts := []string{err.Error()}
	for err = errors.Unwrap(err); err != nil; err = errors.Unwrap(err) {
		texts = append(texts, err.Error())
	}
	return strings.Join(texts, " <- ")
}

// RequestID is the id given to the request, empty before one was given.
func RequestID(c *fiber.Ctx) string { return c.GetRespHeader(RequestIDHeader) }
