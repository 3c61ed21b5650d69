package pdf

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/boombuler/barcode/qr"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/transfer"
)

// scanned is what another program reads from the code on a document's first page, as it looks at so many dots per
// inch; empty where there is none.
func scanned(t *testing.T, doc []byte, dots string) string {
	t.Helper()
	img, err := png.Decode(strings.NewReader(poppler(t, doc, "pdftoppm", "-png", "-r", dots, "-f", "1", "-l", "1", "-")))
	if err != nil {
		t.Fatal(err)
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true, gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"})
	if err != nil {
		return ""
	}
	return read.GetText()
}

func TestPaymentCodeIsRead(t *testing.T) {
	want := "BCD\n002\n1\nSCT\nWESTGB2L\nKestrel Yard Propworks\nGB82WEST12345698765432\nEUR151.14\n\nRF18539007547034"
	for _, dots := range []string{"110", "200"} {
		if got := scanned(t, printedBill(t, bills("de")["sale"]), dots); got != want {
			t.Errorf("at %s dots per inch it says %q", dots, got)
		}
	}
	// Letters beyond ASCII and no reference: the invoice's own number, as long a name as there may be.
	odd := bill("fr", func(i *sales.Invoice) {
		i.Account.Name, i.Reference = strings.Repeat("Ελενη ж ", 8)+"Żółć", ""
	}, supply("Buckler", 1, "0.01", vat0))
	if got, want := scanned(t, printedBill(t, odd), "150"), "\n"+strings.Repeat("Ελενη ж ", 8)+"Żółć\nGB82WEST12345698765432\nEUR0.01\n\n\nFacture KY 42/2027"; !strings.HasSuffix(got, want) {
		t.Errorf("it says %q", got)
	}
	for name, change := range map[string]func(*sales.Invoice){
		"another currency": func(i *sales.Invoice) { in("GBP", i) },
		"no account":       func(i *sales.Invoice) { i.Account = sales.Account{} },
		"a credit note":    func(i *sales.Invoice) { i.Kind = sales.CreditNote },
		"nothing to pay":   func(i *sales.Invoice) { i.Paid = money.Round(i.Lines[0].Each.Decimal(), "EUR") },
	} {
		doc := printedBill(t, bill("en", change, supply("Buckler", 1, "39.90", vat0)))
		if got := scanned(t, doc, "110"); got != "" || strings.Contains(poppler(t, doc, "pdftotext", "-", "-"), "Scan") {
			t.Errorf("%s: a code %q", name, got)
		}
	}
}

// The longest text there may be stays within version 13 at level M: 69 modules (EPC069-12).
func TestLongestPaymentCode(t *testing.T) {
	o := transfer.Order{Name: strings.Repeat("ß", 70), IBAN: "GB82WEST12345698765432", BIC: "WESTGB2LXXX", Amount: money.Round(bills("en")["long"].Totals.Gross.Decimal(), "EUR"), Reference: "RF18539007547034"}
	o.Amount = money.Round(o.Amount.Decimal().Shift(-4), "EUR")
	for n := range 71 {
		o.Info = strings.Repeat("x", n)
		said, err := o.Payload()
		if err != nil {
			break
		}
		code, err := qr.Encode(said, qr.M, qr.Auto)
		if err != nil || code.Bounds().Dx() > 69 {
			t.Errorf("%d bytes: %v, %v", len(said), code.Bounds(), err)
		}
	}
}

// TestAttach: another program finds the file in the document and gets it back as it was; the pages stay.
func TestAttach(t *testing.T) {
	var r *Renderer
	doc, file := printedBill(t, bills("de")["sale"]), []byte("<?xml version=\"1.0\"?>\n<Invoice>é</Invoice>\n")
	with, err := r.Attach(doc, "invoice (42).xml", "text/xml", file, day)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := r.Attach(doc, "invoice (42).xml", "text/xml", file, day); err != nil || !bytes.Equal(again, with) {
		t.Errorf("other bytes the second time (%v)", err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "with.pdf")
	if err := os.WriteFile(path, with, 0o600); err != nil {
		t.Fatal(err)
	}
	poppler(t, nil, "pdfdetach", "-save", "1", "-o", filepath.Join(dir, "got.xml"), path)
	if got, err := os.ReadFile(filepath.Join(dir, "got.xml")); err != nil || !bytes.Equal(got, file) {
		t.Errorf("%q, %v", got, err)
	}
	if list := poppler(t, nil, "pdfdetach", "-list", path); !strings.Contains(list, "1 embedded files") || !strings.Contains(list, "invoice--42-.xml") {
		t.Errorf("the list says %q", list)
	}
	if a, b := poppler(t, doc, "pdftotext", "-", "-"), poppler(t, with, "pdftotext", "-", "-"); a != b {
		t.Error("the text has changed")
	}
	if info := poppler(t, with, "pdfinfo", "-"); !strings.Contains(info, "Rechnung KY 42/2027") {
		t.Errorf("what the file says of itself is gone: %s", info)
	}
	for _, bad := range []string{"", "%PDF-1.3\n", "/Size 3\n/Root 2 0 R\n/Info 1 0 R\nstartxref\n9\n", "<<\n/Type /Catalog\n/Size x\n/Size 3\n/Root 2 0 R\n/Info 1 0 R\nstartxref\n9\n"} {
		if _, err := r.Attach([]byte(bad), "x", "text/xml", file, day); err == nil {
			t.Errorf("attached to %q", bad)
		}
	}
}
