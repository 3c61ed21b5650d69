package web

import (
	"net/url"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// orderMoney is the money of an order as its page shows it.
type orderMoney struct {
	sales.Dues
	Token string // of the next form
}

// passed is one line of what was invoiced and paid.
type passed struct {
	Day     time.Time
	Invoice *sales.Invoice
	Bill    *sales.Owed // of an invoice that is no credit note
	Payment *sales.Payment
	Gone    bool // a payment that was taken back, or what took it back
	Back    bool // it can be taken back
}

// Called is what it is.
func (m passed) Called() string {
	switch p := m.Payment; {
	case p == nil:
		return billName(m.Invoice.Kind)
	case p.TakesBack != "":
		return "Taken back"
	case p.Amount.Sign() < 0:
		return "Paid back"
	}
	return "Payment"
}

// Passed are invoices, credit notes and payments as they came.
func (m orderMoney) Passed() (all []passed) {
	for _, b := range m.Bills {
		all = append(all, passed{Day: b.Issued, Invoice: &b.Invoice, Bill: &b})
	}
	for _, i := range m.Credits {
		all = append(all, passed{Day: i.Issued, Invoice: &i})
	}
	for _, p := range m.Payments {
		gone := p.TakesBack != "" || slices.ContainsFunc(m.Payments, func(o sales.Payment) bool { return o.TakesBack == p.ID })
		all = append(all, passed{Day: p.At, Payment: &p, Gone: gone, Back: !gone && m.Paid.Cmp(p.Amount) >= 0})
	}
	slices.SortStableFunc(all, func(a, b passed) int { return a.Day.Compare(b.Day) })
	return all
}

// Kinds are the invoices that can be issued now.
func (m orderMoney) Kinds() (all []option) {
	if m.Rest.Gross.Sign() <= 0 {
		return nil
	}
	none := m.Invoiced.Gross.Sign() == 0
	if _, there := m.Deposited(); !there && m.Order.Open() && m.Order.Deposit.Sign() > 0 && m.Order.Deposit.Cmp(m.Rest.Gross) < 0 {
		all = append(all, option{string(sales.DepositBill), "the deposit"})
	}
	if none {
		all = append(all, option{string(sales.SaleBill), "the whole order"})
	} else {
		all = append(all, option{string(sales.BalanceBill), "the balance"})
	}
	all = append(all, option{string(sales.PartBill), "a part"})
	if m.Order.State == sales.Done && len(all) > 1 && all[0].Value == string(sales.DepositBill) {
		all = append(all[1:], all[0])
	}
	return all
}

// Asks is how much a kind of invoice would ask for.
func (m orderMoney) Asks(kind string) money.Amount {
	if kind == string(sales.DepositBill) {
		return m.Order.Deposit
	}
	return m.Rest.Gross
}

// Usually is what is likely to come next: what is missing of the deposit, of the invoices, or of the whole order.
func (m orderMoney) Usually() string {
	for _, a := range []money.Amount{m.DepositOpen(), m.Owed(), m.Open()} {
		if a.Sign() > 0 {
			return a.String()
		}
	}
	return ""
}

// Over is what is to go back.
func (m orderMoney) Over() string {
	if over := m.Overpaid(); over.Sign() > 0 {
		return over.String()
	}
	return ""
}

// LateSum is what is open of invoices after their day.
func (m orderMoney) LateSum() money.Amount { return m.Late(today()) }

// Way is the entry of how money came or went.
func (d orderPage) Way(form string) entry {
	e := d.Text(form, "way", "By", string(sales.ByTransfer))
	e.Options = []option{{"transfer", "transfer"}, {"cash", "cash"}, {"card", "card"}, {"other", "another way"}}
	return e
}

// Billed is the entry of what is invoiced.
func (d orderPage) Billed() entry {
	kinds := d.Money.Kinds()
	e := d.Text("bill", "kind", "Invoice", kinds[0].Value)
	e.Options = kinds
	return e
}

// billOrder issues an invoice and shows it.
func (p *Pages) billOrder(c *fiber.Ctx) error {
	return p.actOnOrder(c, "bill", func(t *typing, id string) (string, error) {
		b := sales.Billing{Kind: sales.BillKind(t.v.Get("kind")), Token: t.v.Get("token")}
		if b.Kind == sales.PartBill {
			b.Amount, b.Share, b.Text = t.optional("amount"), t.optional("share").Shift(-2), t.v.Get("text")
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		made, err := p.sales.Bill(c.UserContext(), id, b, by(c))
		return "/invoices/" + made.ID, err
	})
}

// receivePayment writes money down that came.
func (p *Pages) receivePayment(c *fiber.Ctx) error {
	return p.paid(c, "receive", decimal.NewFromInt(1))
}

// refundPayment writes money down that was paid back.
func (p *Pages) refundPayment(c *fiber.Ctx) error {
	return p.paid(c, "refund", decimal.NewFromInt(-1))
}

func (p *Pages) paid(c *fiber.Ctx, form string, sign decimal.Decimal) error {
	return p.moneyAct(c, form, func(t *typing, id string) error {
		m := sales.Paying{Day: t.must("day"), Amount: t.number("amount"), Way: sales.Way(t.v.Get("way")), Note: t.v.Get("note"), Token: t.v.Get("token")}
		if m.Amount.IsNegative() {
			t.problems.Add("amount", t.v.Get("amount"), "Write an amount above 0.")
		}
		if err := t.problems.Err(); err != nil {
			return err
		}
		m.Amount = m.Amount.Mul(sign)
		_, err := p.sales.Receive(c.UserContext(), id, m, by(c))
		return err
	})
}

// takeBackPayment writes down that a payment never was.
func (p *Pages) takeBackPayment(c *fiber.Ctx) error {
	return p.moneyAct(c, "take-back", func(t *typing, id string) error {
		_, err := p.sales.TakeBack(c.UserContext(), id, t.v.Get("payment"), t.v.Get("note"), t.v.Get("token"), by(c))
		return err
	})
}

// moneyAct runs a form of an order's money.
func (p *Pages) moneyAct(c *fiber.Ctx, form string, do func(t *typing, id string) error) error {
	return p.actOnOrder(c, form, func(t *typing, id string) (string, error) {
		return "/orders/" + url.PathEscape(id) + "#money", do(t, id)
	})
}
