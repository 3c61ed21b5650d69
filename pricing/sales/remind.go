package sales

import (
	"context"
	"errors"

	"foamwright/materials/fault"
)

// Remind writes to every customer whose quote was sent by mail and soon ends, once a version, where the workshop wants
// that. It gives how many were written; who cannot be written to is left out, and is no error.
func (s *Service) Remind(ctx context.Context, site string) (int, error) {
	ending, err := read(ctx, s, func(tx Tx) ([]string, error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil || w.RemindDays == 0 || s.mailServer == "" {
			return nil, err
		}
		return tx.ToRemind(ctx, s.now(), w.RemindDays)
	})
	var wrong []error
	many := 0
	for _, id := range ending {
		err := s.store.Act(ctx, func(tx Tx) error {
			d, err := s.mailDraft(ctx, tx, MailQuoteReminder, id, site != "")
			if err != nil {
				return err
			}
			// Another program that reminds at the same moment has been waited for by now.
			r := PostRequest{Token: "reminder-" + id, Kind: MailQuoteReminder, About: id, To: d.To, Subject: d.Subject, Text: d.Text, Site: site}
			if _, err := r.asked(ctx, tx); fault.KindOf(err) != fault.NotFound {
				if err == nil {
					err = fault.New(fault.State, "The customer was reminded of this quote already.")
				}
				return err
			}
			_, err = s.post(ctx, tx, d, r, "")
			return err
		})
		switch fault.KindOf(err) {
		case fault.State, fault.Invalid: // answered meanwhile; no usable address
		default:
			wrong = append(wrong, err)
		}
		if err == nil {
			many++
		}
	}
	return many, errors.Join(append(wrong, err)...)
}
