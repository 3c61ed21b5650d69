// Package sales keeps customers, designs and quotes: from a draft to an issued, numbered, frozen document.
//
// A quote is drafted, issued once and then only read back; a change after that is a new version of the same
// number. Issuing takes the next number without a gap, stores the snapshot it was priced from, the printed
// figures and the document's bytes with their hash, all in one transaction. Money is decimal; times are UTC.
// Limits: no SQL, no HTTP; documents' looks are a Renderer's.
package sales

import (
	"context"
	"time"

	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Customer is who a quote is for.
type Customer struct {
	ID      string
	Name    string
	Email   string
	Phone   string
	Address string // lines
	Note    string // seen by the workshop only
	Changed time.Time

	Language  string        // of documents, ISO 639-1; empty for English
	Business  bool          // no consumer
	TaxNumber string        // of a business
	Country   string        // ISO 3166-1 alpha-2; empty for the workshop's own
	Treatment tax.Treatment // how tax is charged; empty for as usual
	PayFirst  bool          // nothing is begun before the whole price is paid
}

// Design is a named spec to start quotes from.
type Design struct {
	ID      string
	Name    string
	Note    string
	Form    orderform.Form
	Version int // of the spec, from 1; counts its changes
	Changed time.Time
}

// MadeFrom is the design that a quote was started from, and which version of it; zero for none. The spec may have been
// changed since.
type MadeFrom struct {
	ID      string
	Version int
}

// State is where a quote stands.
type State string

// The states a quote goes through: only a draft can be edited.
const (
	Draft    State = "draft"
	Issued   State = "issued"   // stands, until its last day
	Replaced State = "replaced" // a later version was issued
	Won      State = "accepted" // it is an order now
	Declined State = "declined"
)

// Number is a document number without gaps in its series and year.
type Number struct {
	Series string
	Year   int
	No     int
}

// String is the number as the workshop says it, "42 of 2026", with the series in front where there is one.
func (n Number) String() string { return n.In(words.Tongue{}) }

// Quote is one version of one offer.
type Quote struct {
	ID         string
	Number     Number // zero until it is issued; a new version keeps the number
	Version    int    // of the number, from 1
	State      State
	CustomerID string
	Customer   string // name, for lists
	Design     MadeFrom
	Title      string
	Form       orderform.Form
	Options    []Option // the customer may choose from
	Edit       int      // counts changes of a draft, so that two people cannot overwrite each other
	Created    time.Time
	Changed    time.Time
	// From here on, of an issued quote.
	IssuedAt   time.Time
	IssuedBy   string
	ValidUntil time.Time
	Net, Gross money.Amount
	Snapshot   string // hash of the snapshot it was priced from
	Document   string // hash of the document's bytes
	Printed    Printed
}

// Document is an issued document, byte for byte.
type Document struct {
	Hash  string // SHA-256, hex
	Name  string // of the file
	Bytes []byte
}

// Sheet is everything a quote's document shows.
type Sheet struct {
	Workshop   workshop.Workshop
	Customer   Customer
	Number     Number
	Version    int
	Title      string
	Date       time.Time
	ValidUntil time.Time
	Estimate   pricing.Estimate
	Until      []string // why it stands shorter than usual, for the maker
	Options    []PrintedOption
	Moved      *Moved
	Made       []string // what will be made, in the customer's words
	Cautions   []string // in the customer's words
}

// Renderer makes the bytes of a document and its picture (SVG). The same sheet gives the same bytes.
type Renderer interface {
	Quote(ctx context.Context, s Sheet) ([]byte, error)
	JobSheet(ctx context.Context, s JobSheet) ([]byte, error)
	Letter(ctx context.Context, l Letter) ([]byte, error)
	Invoice(ctx context.Context, i Invoice) ([]byte, error) // a credit note too
	// Attach puts a file of a kind, "text/xml", into one of these documents.
	Attach(doc []byte, name, kind string, file []byte, day time.Time) ([]byte, error)
	Picture(s Sheet) string
}

// Found is what a list is narrowed by: words in number, name or title; one customer's; of orders those still to be
// made; how many rows at most.
type Found struct {
	Words    string
	Customer string
	Open     bool
	Standing Standing  // of quotes; empty for all
	Today    time.Time // its first moment, by which a quote still stands; set by the service
	Most     int
}

// Tx is the books within one transaction. Rows that are not there give a NotFound fault.
type Tx interface {
	workshop.Store
	stock.Tx
	CuttingTx
	LearningTx
	FinishedTx
	LifeTx
	MailTx
	LinkTx
	MoneyTx
	MessageTx
	EnquiryTx
	WaitingTx
	ShowTx

	Customer(ctx context.Context, id string) (Customer, error)
	Customers(ctx context.Context, f Found) ([]Customer, error)
	Buyers(ctx context.Context, ids []string) ([]Customer, error) // those of them that are there
	KeepCustomer(ctx context.Context, c Customer) error           // new or changed

	Design(ctx context.Context, id string) (Design, error)
	Designs(ctx context.Context) ([]Design, error)
	LockDesign(ctx context.Context, id string) (Design, error)
	KeepDesign(ctx context.Context, d Design) error // and its version, where that is new

	Quote(ctx context.Context, id string) (Quote, error)
	LockQuote(ctx context.Context, id string) (Quote, error) // as Quote, and nobody else changes it until the end
	Quotes(ctx context.Context, f Found) ([]Quote, error)    // newest first, without their forms
	// OpenQuotes are all that are written or stand on a day, newest first, with their forms and without what was printed.
	OpenQuotes(ctx context.Context, today time.Time) ([]Quote, error)
	AddQuote(ctx context.Context, q Quote) error
	SaveQuote(ctx context.Context, q Quote) error // a draft, or the draft that is issued
	SetQuoteState(ctx context.Context, id string, s State) error
	DropQuote(ctx context.Context, id string) error
	Versions(ctx context.Context, n Number) ([]Quote, error) // of one number, oldest first

	Order(ctx context.Context, id string) (Order, error)
	LockOrder(ctx context.Context, id string) (Order, error)
	OrderOf(ctx context.Context, quoteID string) (Order, error) // NotFound where it was not accepted
	Orders(ctx context.Context, f Found) ([]Order, error)       // newest first
	AddOrder(ctx context.Context, o Order) error                // with its lines
	// AddLines adds lines to an order that it did not have.
	AddLines(ctx context.Context, order string, from int, lines []OrderLine) error
	Answer(ctx context.Context, quoteID string) (Answer, error) // NotFound where none came
	AddAnswer(ctx context.Context, a Answer) error
	SaveOrder(ctx context.Context, o Order) error
	// LockBench lets one act at a time put orders on the bench; after balances and numbers.
	LockBench(ctx context.Context) error
	// Booked are the plans of orders that are still to be made, by the order's ID.
	Booked(ctx context.Context) (map[string]schedule.Plan, error)
	// Book writes an order's plan anew and counts how often; one without slots takes it off the bench.
	Book(ctx context.Context, p schedule.Plan) error

	AddLog(ctx context.Context, l labour.Log) (fresh bool, err error) // false where it is there already
	Logs(ctx context.Context, order string) ([]labour.Log, error)     // of an order, as they were written; corrected ones too
	LogsSince(ctx context.Context, day time.Time) ([]labour.Log, error)
	Clock(ctx context.Context, by string) (labour.Clock, error) // NotFound where none runs
	SetClock(ctx context.Context, c labour.Clock) error         // one without an order stops it

	MovementsOf(ctx context.Context, order string) ([]stock.Movement, error) // oldest first

	NextNumber(ctx context.Context, series string, year int) (int, error) // the last lock of an act
	KeepSnapshot(ctx context.Context, hash string, body []byte) error     // once by hash
	KeepDocument(ctx context.Context, d Document) error
	Document(ctx context.Context, hash string) (Document, error)
}

// Store runs an act as one transaction: all of it or nothing. It may run the act again when PostgreSQL asks for
// that, so an act's only effects are rows.
type Store interface {
	Act(ctx context.Context, act func(Tx) error) error
}
