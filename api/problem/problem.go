// Package problem turns an error into an HTTP answer. Its table is the only place where a kind of fault
// meets a status; its body is a problem of RFC 9457 ("problem details").
//
// Limits: what is no fault is internal: it is logged with its cause and shown only as a sentence with the
// request's id. No text of a driver or a library reaches an answer.
package problem

import (
	"context"
	"errors"
	"net/http"

	"foamwright/materials/fault"

	"github.com/gofiber/fiber/v2"
)

// kind is one row of the table.
type kind struct {
	status int
	name   string // last part of the problem type
	title  string
}

// table says what each kind of fault is over HTTP.
func table(k fault.Kind) kind {
	switch k {
	case fault.Invalid:
		return kind{http.StatusUnprocessableEntity, "invalid", "Some entries need another look"}
	case fault.NotFound:
		return kind{http.StatusNotFound, "not-found", "There is no such thing"}
	case fault.Conflict:
		return kind{http.StatusConflict, "conflict", "Changed in the meantime"}
	case fault.State:
		return kind{http.StatusConflict, "state", "Not possible as things stand"}
	case fault.Shortage:
		return kind{http.StatusConflict, "shortage", "There is not enough"}
	case fault.Unauthenticated:
		return kind{http.StatusUnauthorized, "unauthenticated", "Nobody is signed in"}
	case fault.Forbidden:
		return kind{http.StatusForbidden, "forbidden", "Not allowed"}
	case fault.TooLarge:
		return kind{http.StatusRequestEntityTooLarge, "too-large", "More than is accepted at once"}
	case fault.TooMany:
		return kind{http.StatusTooManyRequests, "too-many", "Too often"}
	case fault.Unavailable:
		return kind{http.StatusServiceUnavailable, "unavailable", "Not just now"}
	}
	return kind{http.StatusInternalServerError, "internal", "Something went wrong here"}
}

// of finds an error's row. The web framework's own refusals keep their status; time that ran out is 503
// whatever the place where it was noticed called it.
func of(err error) kind {
	var own *fiber.Error
	switch k := fault.KindOf(err); {
	case errors.Is(err, context.DeadlineExceeded) && k != fault.TooMany, errors.Is(err, context.Canceled):
		return kind{http.StatusServiceUnavailable, "timeout", "It took too long"}
	case k == fault.Internal && errors.As(err, &own) && own.Code >= 400 && own.Code < 500:
		return kind{own.Code, "", http.StatusText(own.Code)}
	default:
		return table(k)
	}
}

// Status is the HTTP status of an error, 200 for none.
func Status(err error) int {
	if err == nil {
		return http.StatusOK
	}
	return of(err).status
}

// Sentence is what the person at the screen reads about an error; requestID is named when the cause is not theirs.
func Sentence(err error, requestID string) string {
	k := of(err)
	var f *fault.Fault
	switch {
	case k.name == "timeout":
		return "This took too long and was stopped. Look whether it was done before you try again."
	case errors.As(err, &f) && f.Kind != fault.Internal:
		return f.Message
	case k.status == http.StatusNotFound:
		return "There is nothing at this address."
	case k.status == http.StatusMethodNotAllowed:
		return "This address does not accept that kind of request."
	case k.status == http.StatusRequestEntityTooLarge:
		return "This is more than is accepted at once; send less."
	case k.status == http.StatusUnsupportedMediaType:
		return "Send what this address takes, and say so: JSON as application/json, a file of rows as text/csv."
	case k.status < 500:
		return "The request could not be understood."
	}
	return "Something went wrong on our side. If it happens again, tell whoever looks after the program this number: " + requestID + "."
}
