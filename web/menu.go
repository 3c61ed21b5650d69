package web

import (
	"path"

	"foamwright/pricing/people"
)

// menuPlace is one page that a menu leads to.
type menuPlace struct {
	Name, Address string
	Here          bool // what is shown is this page, or in a menu one below it
}

// menuRoom is an entry of the menu: the section it is lit for, and the pages beside its own.
type menuRoom struct {
	section string
	menuPlace
	beside []menuPlace
}

// menu is what somebody of a role may go to, a maker's day from left to right. Days lie with orders, customers with
// quotes and buying with stock: eight entries are found at a glance, eleven are read.
func menu(role people.Role) (all []menuRoom) {
	owner, prices := role == people.Owner, role.SeesPrices()
	add := func(sees bool, section, name, address string, beside ...[]menuPlace) {
		if !sees {
			return
		}
		r := menuRoom{section: section, menuPlace: menuPlace{Name: name, Address: address}}
		for _, some := range beside {
			r.beside = append(r.beside, some...)
		}
		all = append(all, r)
	}
	only := func(sees bool, p ...menuPlace) []menuPlace {
		if !sees {
			return nil
		}
		return p
	}
	add(true, "today", "Today", "/today")
	add(prices, "quotes", "Quotes", "/quotes",
		only(owner, menuPlace{Name: "Enquiries", Address: "/enquiries"}, menuPlace{Name: "Waiting list", Address: "/waiting"}, menuPlace{Name: "Customers", Address: "/customers"}),
		only(true, menuPlace{Name: "Mail", Address: "/mail"}))
	add(true, "orders", "Orders", "/orders",
		only(true, menuPlace{Name: "Days", Address: "/days"}),
		only(owner, menuPlace{Name: "Events", Address: "/events"}, menuPlace{Name: "Repairs", Address: "/repairs"}))
	add(role == people.Helper, "log", "Log time", "/log")
	add(owner, "designs", "Designs", "/designs", only(true, menuPlace{Name: "Price list and finished shields", Address: "/standard"}))
	add(true, "stock", "Stock", "/stock",
		only(prices, menuPlace{Name: "Buying", Address: "/buying"}),
		only(true, menuPlace{Name: "Offcuts", Address: "/stock/offcuts"}),
		only(prices, menuPlace{Name: "Catalogue", Address: "/stock/items"}, menuPlace{Name: "Suppliers", Address: "/stock/suppliers"}))
	add(prices, "money", "Money", "/money", only(true, menuPlace{Name: "Invoices", Address: "/invoices"}, menuPlace{Name: "Payments", Address: "/money/payments"}))
	add(prices, "figures", "Figures", "/figures")
	add(owner, "workshop", "Workshop", "/workshop",
		only(true, menuPlace{Name: "Steps", Address: "/workshop/steps"}, menuPlace{Name: "What things take", Address: "/workshop/usage"}, menuPlace{Name: "Bench", Address: "/workshop/bench"}, menuPlace{Name: "Rates of labour", Address: "/workshop/rate"}, menuPlace{Name: "Size rules", Address: "/workshop/rules"},
			menuPlace{Name: "Invoices and tax", Address: "/workshop/invoices"}, menuPlace{Name: "How enquiries come", Address: "/workshop/enquiries"},
			menuPlace{Name: "People", Address: "/workshop/people"}, menuPlace{Name: "Learned times", Address: "/learned"}))
	return all
}

// Menu is the menu of whoever looks, with the entry lit that the page lies below.
func (p page) Menu() (all []menuPlace) {
	for _, r := range menu(p.Person.Role) {
		r.Here = r.section == p.Section
		all = append(all, r.menuPlace)
	}
	return all
}

// Around are the pages beside the one that is shown, where it is one of the lists that a room of the menu has; none on
// a page of one quote, one order. A list that is shown again because an entry was refused has them too.
func (p page) Around() (all []menuPlace) {
	if p.Person == nil {
		return nil
	}
	for _, r := range menu(p.Person.Role) {
		if r.section != p.Section || len(r.beside) == 0 {
			continue
		}
		found := false
		for _, b := range append([]menuPlace{r.menuPlace}, r.beside...) {
			b.Here = b.Address == p.Path || path.Base(b.Address) == p.Refused
			found = found || b.Here
			all = append(all, b)
		}
		if found {
			return all
		}
	}
	return nil
}
