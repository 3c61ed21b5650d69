// Package fault is how every room of the program says that something cannot be done.
//
// A fault has a kind, which a face (page, API, command line) turns into a status, and a sentence that
// a maker can act on. Anything that is not a fault is internal: it is logged with its cause and never
// shown. Limits: a fault carries no stack and no driver text.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Kind says what sort of failure it is; faces map it to a status in one table.
type Kind int

// The kinds of failure.
const (
	Internal        Kind = iota // not ours to explain; never shown in full
	Invalid                     // what was given cannot be used; see Problems
	NotFound                    // there is no such thing
	Conflict                    // somebody else changed it first
	State                       // not possible in the state it is in
	Shortage                    // there is not enough of it
	Unauthenticated             // nobody is signed in
	Forbidden                   // signed in, but not allowed
	TooLarge                    // more than is accepted at once
	TooMany                     // too often in too short a time
	Unavailable                 // not just now; the same may work in a moment
)

// Problem is one thing to put right: where, what was typed, and what to do about it.
type Problem struct {
	Field  string // path as in the written spec, for example "outline.width"; empty when it is about the whole
	Value  string // as typed, shortened; empty when nothing was typed
	Remedy string // a sentence: what is wrong and what to write instead
}

// String is the problem on one line: field, value, remedy.
func (p Problem) String() string {
	switch {
	case p.Field == "":
		return p.Remedy
	case p.Value == "":
		return p.Field + ": " + p.Remedy
	}
	return fmt.Sprintf("%s %q: %s", p.Field, p.Value, p.Remedy)
}

// Fault is an error whose text may be shown to the person at the screen.
type Fault struct {
	Kind     Kind
	Message  string
	Problems []Problem // set for Invalid
	cause    error
}

// New makes a fault of a kind with a sentence for the person at the screen.
func New(kind Kind, format string, args ...any) *Fault {
	return &Fault{Kind: kind, Message: fmt.Sprintf(format, args...)}
}

// Because keeps the internal cause beside the fault; it is logged, never shown.
func (f *Fault) Because(cause error) *Fault {
	f.cause = cause
	return f
}

// Error is the message and, on lines of their own, the problems.
func (f *Fault) Error() string {
	if len(f.Problems) == 0 {
		return f.Message
	}
	lines := make([]string, len(f.Problems))
	for i, p := range f.Problems {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the cause to errors.Is and errors.As.
func (f *Fault) Unwrap() error { return f.cause }

// KindOf is the kind of the first fault in err's chain, or Internal.
func KindOf(err error) Kind {
	var f *Fault
	if errors.As(err, &f) {
		return f.Kind
	}
	return Internal
}

// ProblemsOf lists the problems of the first fault in err's chain. A fault without problems counts as one.
func ProblemsOf(err error) []Problem {
	var f *Fault
	if !errors.As(err, &f) {
		return nil
	}
	if len(f.Problems) == 0 {
		return []Problem{{Remedy: f.Message}}
	}
	return f.Problems
}
