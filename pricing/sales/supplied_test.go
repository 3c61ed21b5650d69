package sales_test

import (
	"strings"
	"testing"

	"foamwright/db/dbtest"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// An invoice says the day the last pieces were handed over, a deposit none; a business gets the XML inside the paper's
// file, a consumer beside it.
func TestDayOfSupplyAndWhoGetsTheXMLInside(t *testing.T) {
	s := openTill(t, dbtest.New(t))
	order := sales.Order{
		Terms:   sales.Terms{Regime: tax.Regime{Registered: true, Mode: money.HalfUp}, Rate: tax.Rate{Code: "standard", Name: "Tax", Percent: dec("19")}},
		Lines:   []sales.OrderLine{{Kind: sales.QuoteLine, Text: "Tidewall heater", Quantity: 2, Amount: money.Round(dec("300"), "EUR")}},
		Deposit: money.Round(dec("100"), "EUR"),
	}
	for _, business := range []bool{true, false} {
		o := s.order(order, sales.Customer{Business: business, Country: "FR"})
		deposit, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.DepositBill, Token: token()}, "Wren")
		if err != nil || !deposit.Supplied.IsZero() {
			t.Errorf("the deposit was supplied on %s, %v", deposit.Supplied, err)
		}
		last := thursday.AddDate(0, 0, -1)
		for n, d := range []sales.Delivery{{Day: thursday.AddDate(0, 0, -3)}, {Day: last}} {
			d.Order, d.Nth, d.Pieces, d.Way, d.At, d.By = o.ID, n+1, 1, "collected", thursday, "Wren"
			s.must(s.store.Act(s.ctx, func(tx sales.Tx) error { return tx.AddDelivery(s.ctx, d) }))
		}
		bill, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.BalanceBill, Token: token()}, "Wren")
		if err != nil || !bill.Supplied.Equal(stock.Day(last)) {
			t.Errorf("the balance was supplied on %s, %v", bill.Supplied, err)
		}
		if bill.XML == "" {
			t.Fatalf("no XML: %s", bill.NoXML)
		}
		s.must(s.store.Act(s.ctx, func(tx sales.Tx) error {
			paper, err := tx.Document(s.ctx, bill.Document)
			if inside := strings.Contains(string(paper.Bytes), " with "+strings.TrimSuffix(paper.Name, "pdf")+"xml of "); inside != business {
				t.Errorf("business %v, XML inside %v", business, inside)
			}
			return err
		}))
	}
}
