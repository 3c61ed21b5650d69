package db

import (
	"context"
	"errors"
	"io"
	"net"
	"strings"

	"foamwright/materials/fault"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// The SQLSTATE codes we know, from PostgreSQL's manual, appendix "PostgreSQL Error Codes".
const (
	numberOutOfRange     = "22003"
	notInEncoding        = "22021" // among them U+0000 in text
	untranslatable       = "22P05" // the same inside JSON
	restrictViolation    = "23001"
	foreignKeyViolation  = "23503"
	uniqueViolation      = "23505"
	checkViolation       = "23514"
	exclusionViolation   = "23P01"
	readOnly             = "25006"
	invalidAuthorization = "28000"
	invalidPassword      = "28P01"
	noSuchDatabase       = "3D000"
	serializationFailure = "40001"
	deadlockDetected     = "40P01"
	noPrivilege          = "42501"
	diskFull             = "53100"
	lockNotAvailable     = "55P03"
	queryCanceled        = "57014"

	connectionClass = "08"
	resourcesClass  = "53"
	operatorClass   = "57P" // shut down, crashed, starting up, database dropped
)

const (
	tryAgain         = "The database does not answer just now. Nothing was changed; try again in a moment."
	changedMeanwhile = "Somebody else changed the same thing at the same moment. Look at it again, then try again."
	notAllowed       = "The database refuses this program: check user, password and rights in DATABASE_URL."
	noneOfThatName   = "The server has no database of the name in DATABASE_URL: make it, or correct the name."
	oddCharacter     = "The text has a character that cannot be kept; type it again without special characters."
)

// translate turns what the driver says, at the end of a transaction, into a fault by SQLSTATE and constraint name,
// never by its text, and keeps the cause for the log. A fault stays as it is; what is neither stays internal. Unique
// becomes Conflict, foreign key NotFound, check Invalid, a lost connection Unavailable with the advice to try again.
func translate(err error) error {
	var known *fault.Fault
	var refused *pgconn.PgError
	switch {
	case err == nil, errors.As(err, &known):
		return err
	case errors.Is(err, pgx.ErrNoRows):
		return fault.New(fault.NotFound, "There is no such entry.").Because(err)
	case errors.As(err, &refused):
		return refusedBy(err, refused)
	case errors.Is(err, context.Canceled):
		return err
	case errors.Is(err, context.DeadlineExceeded), disconnected(err):
		return fault.New(fault.Unavailable, tryAgain).Because(err)
	}
	return err
}

// translateDelete is translate for the deletion of a row: a foreign key then means that the row is still in
// use. The driver names the same constraint and (before PostgreSQL 18, for RESTRICT) the same code for both.
func translateDelete(err error) error {
	var refused *pgconn.PgError
	if errors.As(err, &refused) && refused.Code == foreignKeyViolation {
		return stillInUse(err)
	}
	return translate(err)
}

func stillInUse(err error) error {
	return fault.New(fault.State, "It is still in use by other entries; remove those first.").Because(err)
}

// refusedBy translates what the server itself reported.
func refusedBy(err error, refused *pgconn.PgError) error {
	because := func(kind fault.Kind, general string) error {
		r := refusalOf(refused.ConstraintName)
		if r.remedy == "" {
			return fault.New(kind, "%s", general).Because(err)
		}
		f := fault.New(kind, "%s", r.remedy).Because(err)
		f.Problems = []fault.Problem{{Field: r.field, Remedy: r.remedy}}
		return f
	}
	switch code := refused.Code; code {
	case uniqueViolation, exclusionViolation:
		return because(fault.Conflict, "There is already an entry like this one.")
	case foreignKeyViolation:
		return because(fault.NotFound, "Something this entry refers to does not exist, or no longer does.")
	case restrictViolation:
		return stillInUse(err)
	case checkViolation:
		return because(fault.Invalid, "One of the values is outside what can be kept.")
	case numberOutOfRange:
		return because(fault.Invalid, "One of the numbers is larger than can be kept.")
	case notInEncoding, untranslatable:
		return because(fault.Invalid, oddCharacter)
	case serializationFailure, deadlockDetected, lockNotAvailable:
		return because(fault.Conflict, changedMeanwhile)
	case readOnly:
		return because(fault.Unavailable, "The database can only be read just now; try again in a moment.")
	case diskFull:
		return because(fault.Unavailable, "The disk of the database is full. Nothing was changed; make room, then try again.")
	case invalidPassword, invalidAuthorization, noPrivilege:
		return because(fault.State, notAllowed)
	case noSuchDatabase:
		return because(fault.State, noneOfThatName)
	case queryCanceled:
		return because(fault.Unavailable, tryAgain)
	default:
		if strings.HasPrefix(code, connectionClass) || strings.HasPrefix(code, resourcesClass) || strings.HasPrefix(code, operatorClass) {
			return because(fault.Unavailable, tryAgain)
		}
	}
	return err
}

// disconnected tells that the connection could not be made or broke, whatever the statement was.
func disconnected(err error) bool {
	var connect *pgconn.ConnectError
	var network net.Error
	return errors.As(err, &connect) || errors.As(err, &network) || pgconn.SafeToRetry(err) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) ||
		errors.Is(err, net.ErrClosed) || errors.Is(err, pgconn.ErrConnClosed)
}
