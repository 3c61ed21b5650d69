package orderform

import (
	"encoding/json"
	"errors"
)

// Text is one entry as it was typed: text, a number or true and false.
type Text struct {
	Typed string
	Bare  bool // a JSON number or boolean, not text: a bare number is millimetres
}

// T is an entry typed as text.
func T(typed string) Text { return Text{Typed: typed} }

// IsZero tells whether nothing was typed; such entries are left out when written.
func (t Text) IsZero() bool { return t.Typed == "" }

// String is the entry as typed.
func (t Text) String() string { return t.Typed }

// MarshalJSON writes the entry as it was read.
func (t Text) MarshalJSON() ([]byte, error) {
	if t.Bare {
		return []byte(t.Typed), nil
	}
	return json.Marshal(t.Typed)
}

// Size is an entry that takes a length.
type Size struct{ Text }

// String is the length as a page shows it: a bare number of millimetres gets its unit, or it would be read
// back as "80 what?".
func (s Size) String() string {
	if s.Bare {
		return s.Typed + " mm"
	}
	return s.Typed
}

var errNotScalar = errors.New("not a text, number or true/false")

// UnmarshalJSON takes text, a number, true, false or null.
func (t *Text) UnmarshalJSON(b []byte) error {
	switch b[0] {
	case '"':
		*t = Text{}
		return json.Unmarshal(b, &t.Typed)
	case '{', '[':
		return errNotScalar
	case 'n':
		*t = Text{}
		return nil
	}
	*t = Text{Typed: string(b), Bare: true}
	return nil
}
