package sales

import (
	"context"
	"fmt"
	"strings"
	"time"

	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Letter is a document of words, facts and sums under the workshop's head: a confirmation, a change note, a care
// sheet, a list. Everything in it is in its tongue already.
type Letter struct {
	Head   workshop.Head
	Tongue words.Tongue
	Name   string // "Order confirmation 12 of 2026"
	File   string // its name as a file, without the ending
	Date   time.Time
	To     Customer // zero for nobody in particular
	Facts  []LetterFact
	Title  string
	Parts  []LetterPart
}

// LetterFact stands beside the address: what, and its value.
type LetterFact struct{ What, Value string }

// LetterPart is a stretch of a letter with its name in the margin: paragraphs, then things to tick, then a table.
type LetterPart struct {
	Name  string
	Words []string
	Ticks []string // each with a box
	Rows  []LetterRow
	// Picture stands below everything else of the part; nil for none.
	Picture *LetterPicture
	Sign    string // a line to sign on, with this below it; empty for none
}

// LetterPicture is a picture in a letter, as wide as its table unless that is too high for the paper, with the same in
// words below it. Its proportions are those of its pixels.
type LetterPicture struct {
	PNG   []byte
	Words string
}

// LetterRow is one line of a table. A sum has a stroke above it, the total two.
type LetterRow struct {
	What, How, Amount string
	Sum, Total        bool
	Box               bool // before it, to tick
	Inner             bool // belongs to the row above
}

// print makes a letter's document and keeps it.
func (s *Service) print(ctx context.Context, tx Tx, l Letter) (Document, error) {
	doc, err := s.letter(ctx, l)
	if err != nil {
		return doc, err
	}
	return doc, tx.KeepDocument(ctx, doc)
}

// letter makes a letter's document.
func (s *Service) letter(ctx context.Context, l Letter) (Document, error) {
	data, err := s.render.Letter(ctx, l)
	if err != nil {
		return Document{}, fmt.Errorf("%s: %w", l.Name, err)
	}
	return Document{Hash: hash(data), Name: l.File + ".pdf", Bytes: data}, nil
}

// lines of an address, without empty ones.
func lines(text string) (all []string) {
	for l := range strings.Lines(text) {
		if l = strings.TrimSpace(l); l != "" {
			all = append(all, l)
		}
	}
	return all
}
