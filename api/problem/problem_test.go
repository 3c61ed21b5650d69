package problem_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"foamwright/api/problem"
	"foamwright/materials/fault"

	"github.com/gofiber/fiber/v2"
	"github.com/google/go-cmp/cmp"
)

const id = "7d0e2f6c-5b1e-4c43-9d25-8f5a33f2a111"

type wait time.Duration

func (w wait) Error() string             { return "wait" }
func (w wait) RetryAfter() time.Duration { return time.Duration(w) }

func TestStatus(t *testing.T) {
	if problem.Status(nil) != 200 {
		t.Error("no error is no failure")
	}
	for _, c := range []struct {
		err    error
		status int
		name   string
	}{
		{fault.New(fault.Invalid, "a"), 422, "invalid"},
		{fault.New(fault.NotFound, "a"), 404, "not-found"},
		{fault.New(fault.Conflict, "a"), 409, "conflict"},
		{fault.New(fault.State, "a"), 409, "state"},
		{fault.New(fault.Shortage, "a"), 409, "shortage"},
		{fault.New(fault.Unauthenticated, "a"), 401, "unauthenticated"},
		{fault.New(fault.Forbidden, "a"), 403, "forbidden"},
		{fault.New(fault.TooLarge, "a"), 413, "too-large"},
		{fault.New(fault.TooMany, "a"), 429, "too-many"},
		{fault.New(fault.Internal, "a"), 500, "internal"},
		{fault.New(fault.Kind(99), "a"), 500, "internal"},
		{fmt.Errorf("inside: %w", fault.New(fault.NotFound, "a")), 404, "not-found"},
		{errors.New("a"), 500, "internal"},
		{context.DeadlineExceeded, 503, "timeout"},
		{fault.New(fault.State, "a").Because(context.DeadlineExceeded), 503, "timeout"},
		{fault.New(fault.TooMany, "a").Because(context.DeadlineExceeded), 429, "too-many"},
		{fiber.ErrNotFound, 404, ""},
		{fiber.ErrMethodNotAllowed, 405, ""},
		{fiber.ErrRequestEntityTooLarge, 413, ""},
		{fiber.ErrBadRequest, 400, ""},
		{fiber.ErrBadGateway, 500, "internal"},
		{fault.New(fault.Invalid, "a").Because(fiber.ErrNotFound), 422, "invalid"},
	} {
		b := problem.Of(c.err, id)
		want := "/problems/" + c.name
		if c.name == "" {
			want = "about:blank"
		}
		if problem.Status(c.err) != c.status || b.Status != c.status || b.GetStatus() != c.status || b.Type != want || b.Title == "" || b.Detail == "" {
			t.Errorf("%v: %+v, want %d %s", c.err, b, c.status, want)
		}
	}
}

// answer is what an application sends, and logs, whose every request ends in err.
func answer(t *testing.T, err error) (status int, header map[string][]string, body, log string) {
	t.Helper()
	var out bytes.Buffer
	app := fiber.New(fiber.Config{ErrorHandler: problem.Writer{Log: slog.New(slog.NewTextHandler(&out, nil))}.Write})
	app.Get("/lot/:id", func(c *fiber.Ctx) error {
		c.Set(problem.RequestIDHeader, id)
		return err
	})
	w, failed := app.Test(httptest.NewRequest("GET", "/lot/7?key=secret", nil), -1)
	if failed != nil {
		t.Fatal(failed)
	}
	text, failed := io.ReadAll(w.Body)
	if failed != nil {
		t.Fatal(failed)
	}
	return w.StatusCode, w.Header, string(text), out.String()
}

func TestInvalidNamesEveryEntry(t *testing.T) {
	var l fault.List
	l.Add("outline.width", "60 parsecs", "Write a length such as 60 cm.")
	l.Add("", "", "Choose a game.")
	status, header, body, log := answer(t, l.Err())
	var got problem.Body
	if err := json.Unmarshal([]byte(body), &got); err != nil {
		t.Fatal(err)
	}
	want := problem.Body{Type: "/problems/invalid", Title: "Some entries need another look", Status: 422,
		Detail: "Some entries need another look.", Instance: "urn:uuid:" + id, Problems: []problem.Entry{
			{Field: "outline.width", Value: "60 parsecs", Remedy: "Write a length such as 60 cm."}, {Remedy: "Choose a game."}}}
	if diff := cmp.Diff(want, got); diff != "" || status != 422 {
		t.Error(status, diff)
	}
	if header["Content-Type"][0] != problem.ContentType || log != "" {
		t.Errorf("%v, logged %q", header, log)
	}
}

func TestInternalIsLoggedAndNotShown(t *testing.T) {
	driver := errors.New("dial tcp 10.1.2.3:5432: password of mara")
	for _, err := range []error{driver, fault.New(fault.Internal, "password").Because(driver), fmt.Errorf("db: %w", driver)} {
		status, _, body, log := answer(t, err)
		if status != 500 || strings.Contains(body, "password") || !strings.Contains(body, "this number: "+id) {
			t.Errorf("%d %s", status, body)
		}
		for _, want := range []string{"level=ERROR", "request=" + id, "route=/lot/:id", "10.1.2.3"} {
			if !strings.Contains(log, want) {
				t.Errorf("the log lacks %s: %s", want, log)
			}
		}
		if strings.Contains(log, "key=secret") {
			t.Errorf("the log has the address with its secrets: %s", log)
		}
	}
}

func TestCauseOfAFaultIsLogged(t *testing.T) {
	status, _, body, log := answer(t, fault.New(fault.State, "The database does not answer just now.").Because(errors.New("dial tcp")))
	if status != 409 || strings.Contains(body, "dial") || !strings.Contains(log, "level=INFO") || !strings.Contains(log, "dial tcp") {
		t.Errorf("%d %s, logged %s", status, body, log)
	}
}

func TestRetryAfterIsRoundedUp(t *testing.T) {
	status, header, _, log := answer(t, fault.New(fault.TooMany, "Later.").Because(wait(1500*time.Millisecond)))
	if status != 429 || header["Retry-After"][0] != "2" || log != "" {
		t.Errorf("%d %v, logged %s", status, header, log)
	}
	status, header, _, _ = answer(t, fault.New(fault.Unauthenticated, "Sign in."))
	if status != 401 || header["Www-Authenticate"][0] != "Bearer" {
		t.Errorf("%d %v", status, header)
	}
}

func TestPlainRefusalsHaveASentence(t *testing.T) {
	for _, err := range []error{fiber.ErrNotFound, fiber.ErrMethodNotAllowed, fiber.ErrRequestEntityTooLarge, fiber.NewError(431, "x y z")} {
		s := problem.Sentence(err, id)
		if !strings.HasSuffix(s, ".") || strings.Contains(s, id) || strings.Contains(s, err.Error()) {
			t.Errorf("%v: %s", err, s)
		}
	}
}
