package money

import (
	"strings"

	"foamwright/materials/fault"
)

// Currency is an ISO 4217 letter code, "EUR". Get one from ParseCurrency.
type Currency string

// ParseCurrency reads a letter code in either case. A code that is not in use is a fault.
func ParseCurrency(code string) (Currency, error) {
	c := Currency(strings.ToUpper(strings.TrimSpace(code)))
	if _, known := c.minor(); !known {
		return "", refuse(code, "This currency is not known. Write its three letters, for example EUR or GBP.")
	}
	return c, nil
}

// Digits is how many decimal places the currency is paid in: 2 for EUR, 0 for JPY, 3 for KWD. Codes are
// checked where they come in, so an unknown one here is a fault of the program and panics.
func (c Currency) Digits() int32 {
	digits, known := c.minor()
	if !known {
		panic("money: no currency " + string(c))
	}
	return digits
}

// minor is the minor unit of ISO 4217, list one of 2024-06-25 (with funds, without metals and test codes), and
// of XCG, in use since 2025 (from memory). It is our own table because locale data, such as that of
// golang.org/x/text/currency, gives 0 for currencies whose small coins went out of use; ISO says 2.
func (c Currency) minor() (digits int32, known bool) {
	switch c {
	case "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV", "XAF",
		"XOF", "XPF":
		return 0, true
	case "AED", "AFN", "ALL", "AMD", "ANG", "AOA", "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BMD",
		"BND", "BOB", "BOV", "BRL", "BSD", "BTN", "BWP", "BYN", "BZD", "CAD", "CDF", "CHE", "CHF", "CHW", "CNY",
		"COP", "COU", "CRC", "CUC", "CUP", "CVE", "CZK", "DKK", "DOP", "DZD", "EGP", "ERN", "ETB", "EUR", "FJD",
		"FKP", "GBP", "GEL", "GHS", "GIP", "GMD", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS", "INR",
		"IRR", "JMD", "KES", "KGS", "KHR", "KPW", "KYD", "KZT", "LAK", "LBP", "LKR", "LRD", "LSL", "MAD", "MDL",
		"MGA", "MKD", "MMK", "MNT", "MOP", "MRU", "MUR", "MVR", "MWK", "MXN", "MXV", "MYR", "MZN", "NAD", "NGN",
		"NIO", "NOK", "NPR", "NZD", "PAB", "PEN", "PGK", "PHP", "PKR", "PLN", "QAR", "RON", "RSD", "RUB", "SAR",
		"SBD", "SCR", "SDG", "SEK", "SGD", "SHP", "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB",
		"TJS", "TMT", "TOP", "TRY", "TTD", "TWD", "TZS", "UAH", "USD", "USN", "UYU", "UZS", "VED", "VES", "WST",
		"XCD", "XCG", "YER", "ZAR", "ZMW", "ZWG":
		return 2, true
	case "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND":
		return 3, true
	case "CLF", "UYW":
		return 4, true
	}
	return 0, false
}

func refuse(value, remedy string) error {
	var l fault.List
	l.Add("", value, remedy)
	return l.Err()
}
