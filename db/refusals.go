package db

// refusal says which entry a constraint of a table refuses, and what to write instead. A zero remedy means
// that the constraint is not known.
type refusal struct{ field, remedy string }

// refusalOf is what a person is told of a constraint, by its name: names are used once in all tables.
func refusalOf(constraint string) refusal {
	switch constraint {
	case "person_login_once":
		return refusal{"login", "Somebody has this login already; choose another."}
	case "calendar_link_name_once":
		return refusal{"name", "You have a calendar link of this name already; choose another."}
	case "api_token_name_once":
		return refusal{"name", "You have a token of this name already; choose another."}

	case "supplier_name_once":
		return refusal{"name", "There is a supplier of this name already; choose another."}
	case "offer_once":
		return refusal{"pack", "This supplier's pack of this size is listed already. Change that one."}
	case "offer_item":
		return refusal{"item", "There is no such item in the catalogue."}
	case "offer_supplier":
		return refusal{"supplier", "There is no such supplier. Choose one of the list."}

	case "never_below_nothing", "lot_never_below_nothing":
		return refusal{"quantity", "That is more than the shelf has by the books. Count it first."}
	case "never_promised_twice":
		return refusal{"quantity", "That is promised to orders already."}
	case "lot_pkey":
		return refusal{"id", "This delivery is on the shelf already; nothing was added."}
	case "movement_order", "cutting_order", "time_log_order", "slot_order":
		return refusal{"order", "There is no such order."}

	case "corrected_once":
		return refusal{"corrects", "This log was corrected already. Correct the newer one."}
	case "time_log_corrects_fkey":
		return refusal{"corrects", "There is no such log to correct."}

	case "design_name_once":
		return refusal{"name", "There is a design of this name already; choose another."}
	case "quote_customer", "waiting_customer", "repair_customer":
		return refusal{"customer", "There is no such customer. Choose one of the list."}
	case "repair_order":
		return refusal{"order", "There is no such order. Choose one of the list, or none."}
	case "event_once":
		return refusal{"name", "There is an event of this name on that day already."}
	case "quote_event_known":
		return refusal{"event", "There is no such event. Choose one of the list."}
	case "wearer_gets_once":
		return refusal{"wearers", "One of those ticked has theirs already. Look at the list again."}
	case "delivered_wearer":
		return refusal{"wearers", "Somebody on the list has theirs already and stays on it."}
	case "ready_design":
		return refusal{"design", "There is no such design. Choose one of the list."}
	case "ready_token_once":
		return refusal{"", "This form was sent for another sale already. Open the page again."}

	case "invoice_once", "payment_once":
		return refusal{"token", "This was asked for already. Open the page again and look at what is there."}
	case "credit_fits":
		return refusal{"amount", "This is more than is left of the invoice. Credit less."}
	case "payment_never_below_nothing":
		return refusal{"amount", "More would go back than came. Write a smaller amount."}
	case "payment_taken_back_once":
		return refusal{"", "This payment was taken back already."}

	case "mail_recipient_check":
		return refusal{"to", "This is no mail address. Write one like mara@ferry-house.example."}
	case "mail_subject_check":
		return refusal{"subject", "Write one line of at most 200 letters."}
	}
	return refusal{}
}
