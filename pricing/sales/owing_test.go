package sales_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/db/dbtest"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

func eur(s string) money.Amount { return money.Round(dec(s), "EUR") }

// ofAHundred is an order of net 100.00 at 20 %, with a deposit of 48.00.
func ofAHundred() sales.Order {
	return sales.Order{
		Terms:   sales.Terms{Regime: tax.Regime{Registered: true, Mode: money.HalfUp}, Rate: tax.Rate{Code: "standard", Name: "Tax", Percent: decimal.NewFromInt(20)}},
		Deposit: eur("48.00"), Lines: []sales.OrderLine{{Kind: sales.QuoteLine, Text: "Tidewall heater", Quantity: 1, Amount: eur("100.00")}},
	}
}

// An invoice is in the column of the days it is late, and the day it is due it is not late.
func TestAgesOfWhatIsOwed(t *testing.T) {
	t.Parallel()
	s := openTill(t, dbtest.New(t))
	o := s.order(ofAHundred(), sales.Customer{})
	if _, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.SaleBill, Token: uuid.NewString()}, "Mara"); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ days, column int }{{0, 0}, {14, 0}, {15, 1}, {44, 1}, {45, 2}, {74, 2}, {75, 3}, {104, 3}, {105, 4}, {900, 4}} {
		later := sales.NewService(s.store, paper{}, func() time.Time { return thursday.AddDate(0, 0, c.days) })
		owing, err := later.Owing(t.Context())
		if err != nil || len(owing.Debtors) != 1 {
			t.Fatalf("%+v, %v", owing, err)
		}
		for k, a := range owing.Debtors[0].By {
			if want := map[bool]string{true: "120.00", false: "0.00"}[k == c.column]; a.String() != want {
				t.Errorf("after %d days column %d has %s, want %s", c.days, k, a, want)
			}
		}
	}
}

// A deposit that came before it was invoiced is seen, and so is what came above the price; the statement runs from one
// to the other, and files take none of it for a formula.
func TestWhatCameWithoutAnInvoice(t *testing.T) {
	t.Parallel()
	s := openTill(t, dbtest.New(t))
	o := s.order(ofAHundred(), sales.Customer{})
	pay := func(amount, note string) {
		t.Helper()
		if _, err := s.Receive(s.ctx, o.ID, sales.Paying{Day: thursday, Amount: dec(amount), Way: sales.ByCash, Note: note, Token: uuid.NewString()}, "Mara"); err != nil {
			t.Fatal(err)
		}
	}
	pay("48.00", "=1+1")
	owing, err := s.Owing(t.Context())
	if err != nil || len(owing.Debtors) != 0 || len(owing.Unmatched) != 1 || owing.Unmatched[0].Ahead.String() != "48.00" || owing.Unmatched[0].Overpaid.String() != "0.00" {
		t.Fatalf("%+v, %v", owing, err)
	}
	sale, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.SaleBill, Token: uuid.NewString()}, "Mara")
	if err != nil || sale.Paid.String() != "48.00" || sale.Payable().String() != "72.00" {
		t.Fatalf("paid before %s, payable %s, %v", sale.Paid, sale.Payable(), err)
	}
	pay("80.00", "")
	if owing, err = s.Owing(t.Context()); err != nil || len(owing.Debtors) != 0 || owing.Unmatched[0].Overpaid.String() != "8.00" {
		t.Fatalf("%+v, %v", owing, err)
	}
	pay("-8.00", "back again")
	if owing, err = s.Owing(t.Context()); err != nil || len(owing.Debtors)+len(owing.Unmatched) != 0 {
		t.Fatalf("%+v, %v", owing, err)
	}
	_, list, err := s.Statements(t.Context(), o.CustomerID, time.Time{}, time.Time{})
	if err != nil || len(list) != 1 || len(list[0].Lines) != 4 || list[0].Closing.Sign() != 0 || list[0].Asked.String() != "120.00" || list[0].Came.String() != "120.00" {
		t.Fatalf("%+v, %v", list, err)
	}
	if _, list, err = s.Statements(t.Context(), o.CustomerID, thursday.AddDate(0, 0, 1), thursday.AddDate(0, 0, 2)); err != nil || len(list[0].Lines) != 0 || list[0].Opening.Sign() != 0 {
		t.Fatalf("%+v, %v", list, err)
	}
	invoices, err := s.Invoices(t.Context(), sales.MoneyFound{})
	if err != nil {
		t.Fatal(err)
	}
	payments, err := s.Payments(t.Context(), sales.MoneyFound{Customer: o.CustomerID})
	if err != nil {
		t.Fatal(err)
	}
	if file := string(sales.InvoicesCSV(invoices)); !strings.Contains(file, ",sale,2026-11-26,2026-12-10,,") || !strings.Contains(file, ",standard,20,100.00,20.00,120.00,EUR,") {
		t.Error(file)
	}
	if file := string(sales.PaymentsCSV(payments)); !strings.Contains(file, "2026-11-26,-8.00,EUR,cash,") || !strings.Contains(file, ",'=1+1,") || strings.Contains(file, ",=") {
		t.Error(file)
	}
}

// What is kept of a cancelled order is any sum to the cent, and what was invoiced above it is credited: 229.53 has no
// net of cents that 20 % makes of it, and is kept all the same.
func TestAnySumCanBeKept(t *testing.T) {
	t.Parallel()
	o := ofAHundred()
	o.Lines[0].Amount, o.Deposit = eur("478.18"), eur("229.53")
	s := openTill(t, dbtest.New(t))
	o = s.order(o, sales.Customer{})
	deposit, err := s.Bill(s.ctx, o.ID, sales.Billing{Kind: sales.DepositBill, Token: uuid.NewString()}, "Mara")
	if err != nil {
		t.Fatal(err)
	}
	for _, kept := range []string{"229.53", "57.38", "0.00"} {
		if err := s.Changed(s.ctx, o.ID, "Mara", func(o sales.Order) []sales.OrderLine { return []sales.OrderLine{o.NotKept(eur(kept), "")} }); err != nil {
			t.Fatal(err)
		}
		d, err := s.Dues(t.Context(), o.ID)
		if err != nil || d.Total.Gross.String() != kept || d.Invoiced.Gross.String() != kept || !d.Invoiced.Tax.Equal(d.Total.Tax) {
			t.Fatalf("kept %s: total %+v, invoiced %+v, %v", kept, d.Total, d.Invoiced, err)
		}
	}
	if deposit.Totals.Tax.String() != "38.26" {
		t.Errorf("%+v", deposit.Totals)
	}
	numbers(t, s)
}
