package sales

import (
	"strings"
	"time"

	"foamwright/pricing/money"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// MailFacts are what a mail tells of; what a kind does not need is left empty.
type MailFacts struct {
	Kind     MailKind
	Head     workshop.Head
	Customer Customer
	Number   Number // of the document
	Title    string
	Sum      money.Amount // of the document; of a reminder what is still open
	Until    time.Time    // a quote stands, or a payment is due; zero where nothing is
	Issued   time.Time    // an invoice that is reminded of
	Credit   bool         // the invoice is a credit note
	XML      bool         // the invoice is attached for programs too
	Said     string       // the answer to a question
	Linked   bool         // the customer has a page of their own
}

// Wording is the subject and the text of a mail in the customer's language, for the maker to change.
func Wording(f MailFacts) (subject, text string) {
	t := words.Speak(f.Customer.Language)
	subject, body := f.wording(t, f.Number.In(t))
	paragraphs := append([]string{t.Say("Hello %s,", f.Customer.Name)}, body...)
	signed := append([]string{t.Say("Kind regards"), f.Head.Name}, f.Head.Address...)
	if f.Head.Phone != "" {
		signed = append(signed, f.Head.Phone)
	}
	return subject, strings.Join(append(paragraphs, strings.Join(signed, "\n")), "\n\n")
}

// wording is the subject and the paragraphs between greeting and signature.
func (f MailFacts) wording(t words.Tongue, number string) (subject string, body []string) {
	answer := t.Say("If something is unclear or should be different, simply answer this mail.")
	consent := t.Say("Please answer this mail: say whether you agree, or what should be different.")
	switch f.Kind {
	case MailQuote:
		body = []string{t.Say("Here is the quote you asked for: %s, %s in all.", f.Title, t.Price(f.Sum)) + " " +
			t.Say("It is attached as a PDF and stands until %s.", t.Date(f.Until))}
		if f.Linked {
			body = append(body, t.Say("You can read it, ask questions and accept it on a page of your own. Whoever has its address can open it, so keep it to yourself:"), LinkMark)
		}
		return t.Say("Quote %s: %s", number, f.Title), append(body, answer)
	case MailQuoteReminder:
		body = []string{t.Say("A short reminder: our quote %s for %s stands until %s.", number, f.Title, t.Date(f.Until))}
		if f.Linked {
			body = append(body, t.Say("If you want it made, you can accept it until then on a page of your own:"), LinkMark)
		} else {
			body = append(body, t.Say("If you want it made, simply answer this mail until then."))
		}
		return t.Say("Quote %s stands until %s", number, t.Date(f.Until)),
			append(body, t.Say("After that day we have to work the price out anew. If you have decided otherwise, there is nothing you need to do."))
	case MailReply:
		return t.Say("Your question about quote %s: %s", number, f.Title), []string{
			t.Say("You asked us something about our quote %s for %s. Here is our answer; it stands on your own page too.", number, f.Title), f.Said, answer}
	case MailConfirmation:
		body = []string{t.Say("Thank you for your order. Its confirmation is attached as a PDF: %s, %s in all.", f.Title, t.Price(f.Sum))}
		if !f.Until.IsZero() {
			body = append(body, t.Say("The deposit books your days at the bench. It is due by %s.", t.Date(f.Until)))
		}
		return t.Say("Order %s: %s", number, f.Title), append(body, answer)
	case MailChange:
		body = []string{t.Say("Here is what the change to your order %s (%s) would be and what it would cost, attached as a PDF.", number, f.Title),
			t.Say("Nothing is changed before you have agreed."), consent}
		return t.Say("Change of order %s: %s", number, f.Title), body
	case MailApproval:
		body = []string{t.Say("Attached is the drawing of what we are going to make for your order %s (%s). Please look at it closely: nothing is cut before you have said that it is right.", number, f.Title), consent}
		return t.Say("Drawing for order %s: %s", number, f.Title), body
	case MailCare:
		return t.Say("Care sheet for order %s: %s", number, f.Title), []string{t.Say("Attached is how to look after what you got from us (order %s, %s): how to clean, store and mend it, and what to mind.", number, f.Title), answer}
	case MailInvoiceReminder:
		return t.Say("Invoice %s is still open", number), []string{
			t.Say("Our invoice %s of %s was due on %s, and %s of it is still open.", number, t.Date(f.Issued), t.Date(f.Until), t.Price(f.Sum)),
			t.Say("It may have been overlooked, so it is attached once more. If you have paid in the meantime, please disregard this reminder."), answer,
		}
	case MailInvoice:
		if f.Credit {
			body = []string{t.Say("Here is our credit note %s for %s, %s in all.", number, f.Title, t.Price(f.Sum))}
			subject = t.Say("Credit note %s: %s", number, f.Title)
		} else {
			body = []string{t.Say("Here is our invoice %s for %s, %s in all.", number, f.Title, t.Price(f.Sum))}
			subject = t.Say("Invoice %s: %s", number, f.Title)
			if !f.Until.IsZero() {
				body = append(body, t.Say("Please pay it by %s.", t.Date(f.Until)))
			}
		}
		if f.XML {
			body = append(body, t.Say("It is attached as a PDF to read and as XML for bookkeeping programs."))
		} else {
			body = append(body, t.Say("It is attached as a PDF."))
		}
		return subject, append(body, answer)
	}
	return "", nil
}
