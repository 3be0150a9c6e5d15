package why

import (
	"errors"
	"fmt"
)

// Kind sorts errors by what a person can do about them.
type Kind int

// Kinds of error. The zero value is Internal: an error that is our fault.
const (
	Internal Kind = iota
	Invalid       // the input cannot be taken as it stands
	Missing       // a thing named does not exist
	Conflict      // something else was done meanwhile
)

// Error is an error a person can act on. What holds the value, Try the next
// action; Field names the input it belongs to, if any.
type Error struct {
	Kind  Kind
	Field string
	What  string
	Try   string
}

// Error joins What and Try.
func (e *Error) Error() string {
	if e.Try == "" {
		return e.What
	}
	return e.What + " " + e.Try
}

// Bad makes an Invalid error.
func Bad(field, what, try string) *Error { return &Error{Invalid, field, what, try} }

// NotFound makes a Missing error.
func NotFound(kind, code string) *Error {
	return &Error{Missing, kind, fmt.Sprintf("There is no %s %q.", kind, code), "Look at the list for its code."}
}

// KindOf is the kind of the first *Error in the chain, or Internal.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// The one table of what a kind means on each face. Two exit codes stand
// outside it: 5 for an answer that is "impossible", 130 for stopped with
// nothing.
var codes = map[Kind]struct{ exit, http int }{
	Internal: {1, 500}, Invalid: {2, 422}, Missing: {3, 404}, Conflict: {4, 409},
}

// ExitCode and HTTPStatus are what the terminal and the page answer with.
func (k Kind) ExitCode() int { return codes[k].exit }

// HTTPStatus is the status a page answers with.
func (k Kind) HTTPStatus() int { return codes[k].http }
