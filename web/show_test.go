package web_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// photo is a form with a picture.
func (v *visitor) photo(to string, picture []byte, typed ...string) reply {
	v.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i < len(typed); i += 2 {
		v.must(form.WriteField(typed[i], typed[i+1]))
	}
	v.must(form.WriteField("csrf", v.csrf))
	part, err := form.CreateFormFile("photo", "from the phone.jpg")
	v.must(err)
	_, err = part.Write(picture)
	v.must(err)
	v.must(form.Close())
	r := httptest.NewRequest(http.MethodPost, to, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.send(r)
}

func picture(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 640, 480)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// An event is written down, chosen on a draft, and its list handed over; a form that is refused keeps what was typed.
func TestEventPages(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	a := v.post("/events", url.Values{"name": {""}, "place": {"Fen edge"}, "first": {"2020-13-01"}}).want(http.StatusUnprocessableEntity)
	if !strings.Contains(a.body, `value="Fen edge"`) || !strings.Contains(a.words(), "Write a day") {
		t.Error(a.words())
	}
	first := time.Now().AddDate(0, 6, 0)
	event := v.post("/events", url.Values{"name": {"Fen Muster"}, "first": {first.Format(time.DateOnly)}, "rule": {"marsh-small"}}).to()
	path := v.draft("Ferry buckler")
	typed := over(v.filled(path), "do", "event", "event", strings.TrimPrefix(event, "/events/"), "title", "For the muster")
	if to := v.post(path, typed).to(); to != path {
		t.Error(to)
	}
	kept := v.filled(path)
	if kept.Get("rule") != "marsh-small" || kept.Get("delivery.by") != first.AddDate(0, 0, -1).Format(time.DateOnly) || kept.Get("title") != "For the muster" {
		t.Errorf("%s by %s, %s", kept.Get("rule"), kept.Get("delivery.by"), kept.Get("title"))
	}
	if a := v.post(path, over(kept, "do", "event", "event", "nowhere")).want(http.StatusUnprocessableEntity); !strings.Contains(a.words(), "There is no such event") {
		t.Error(a.words())
	}
	v.post(path+"/wearers", url.Values{"wearers.0.name": {""}, "wearers.0.colour": {"red"}}).want(http.StatusUnprocessableEntity)
	v.post(path+"/wearers", url.Values{"wearers.0.name": {"Ilse"}, "wearers.0.hand": {"left"}, "wearers.1.name": {"Jonas"}, "do": {"keep"}}).want(http.StatusSeeOther)
	if words := v.get(path).want(http.StatusOK).words(); !strings.Contains(words, "2 wearers") || !strings.Contains(words, "There are two wearers for one piece") {
		t.Error(words)
	}
	list := v.get(event).want(http.StatusOK)
	if !strings.Contains(list.words(), "Nothing was ordered for it yet") {
		t.Error(list.words())
	}
	if r := v.get(event + "/hand-over.pdf").want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") {
		t.Error("no list")
	}
	v.get("/events/nowhere").want(http.StatusNotFound)
	for _, role := range []people.Role{people.Bookkeeper, people.Helper} {
		for _, page := range []string{"/events", event, "/repairs", "/standard", path + "/wearers"} {
			s.as(role).get(page).want(http.StatusForbidden)
		}
	}
}

// A helper adds photos of an order; those of a repair are the owner's. They come back as pictures and nothing else, and a
// customer sees what was shared once it is no secret.
func TestPhotoPages(t *testing.T) {
	s := stocked(t)
	v, helper := s.as(people.Owner), s.as(people.Helper)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	taken, err := s.sales.Accept(t.Context(), quotes[0].ID, sales.Choice{Name: "Mara"}, "wren")
	s.must(err)
	at := "/orders/" + taken.Order.ID
	helper.get(at).want(http.StatusOK)
	if to := helper.photo("/photos/order/"+taken.Order.ID+"/new", picture(t), "words", "the <b>rim</b>", "consent", "not asked", "shared", "yes").to(); to != at+"#photos" {
		t.Error(to)
	}
	for name, bad := range map[string][]byte{"nothing": nil, "a page": []byte("<script>alert(1)</script>")} {
		a := helper.photo("/photos/order/"+taken.Order.ID+"/new", bad, "consent", "yes", "words", "the grip").want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.body, `value="the grip"`) || !strings.Contains(a.words(), "picture") {
			t.Errorf("%s: %s", name, a.words())
		}
	}
	photos, err := s.sales.Photos(t.Context(), sales.PhotoOfOrder, taken.Order.ID)
	s.must(err)
	if len(photos) != 1 {
		t.Fatalf("%+v", photos)
	}
	small := "/photos/" + photos[0].ID + "/small.jpg"
	a := helper.get(small).want(http.StatusOK)
	if a.Header.Get("Content-Type") != "image/jpeg" || a.Header.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%v", a.Header)
	}
	if page := helper.get(at).want(http.StatusOK).body; !strings.Contains(page, small) || strings.Contains(page, "<b>rim</b>") {
		t.Error("the order does not show it as it should")
	}
	s.as(people.Bookkeeper).get(small).want(http.StatusForbidden)
	helper.photo("/photos/repair/"+taken.Order.ID+"/new", picture(t)).want(http.StatusForbidden)
	v.post("/photos/"+photos[0].ID+"/delete", url.Values{}).want(http.StatusSeeOther)
	v.get(small).want(http.StatusNotFound)
	if words := v.get(at).want(http.StatusOK).words(); !strings.Contains(words, "deleted") || !strings.Contains(words, "by The owner") {
		t.Error(words)
	}
}

// A repair comes in and is priced; a finished shield is put down and sold, once.
func TestRepairAndShowPages(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	customers, err := s.sales.Customers(t.Context(), sales.Found{})
	s.must(err)
	a := v.post("/repairs", url.Values{"what": {"Old kite"}}).want(http.StatusUnprocessableEntity)
	if !strings.Contains(a.body, `value="Old kite"`) {
		t.Error("what was typed is gone")
	}
	repair := v.post("/repairs", url.Values{"what": {"Old kite"}, "condition": {"strap torn"}, "customer": {customers[0].ID}}).to()
	if words := v.get("/today").want(http.StatusOK).words(); !strings.Contains(words, "Old kite") || !strings.Contains(words, "inspect it") {
		t.Error(words)
	}
	v.post(repair+"/inspect", url.Values{"edit": {"0"}, "findings": {"re-glue it"}}).want(http.StatusUnprocessableEntity)
	v.post(repair+"/inspect", url.Values{"edit": {"0"}, "findings": {"re-glue it"}, "warranty": {"no"}}).want(http.StatusSeeOther)
	if words := v.post(repair+"/move", url.Values{"edit": {"1"}, "to": {"at the bench"}}).want(http.StatusConflict).words(); !strings.Contains(words, "Quote it first") {
		t.Error(words)
	}
	draft := v.post(repair+"/quote", url.Values{"edit": {"1"}}).to()
	if !strings.HasPrefix(draft, "/quotes/") {
		t.Error(draft)
	}
	// Work alone has no picture: neither a sheet that says so in large letters, nor templates.
	v.get(draft).says("Nothing is drawn: it is work alone.").lacks("no parts to draw")
	if r := v.get(repair + "/tag.pdf").want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") {
		t.Error("no tag")
	}

	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	design := designs[0].ID
	v.post("/standard/price", url.Values{"design": {design}, "price": {"lots"}}).want(http.StatusUnprocessableEntity)
	v.post("/standard/price", url.Values{"design": {design}, "price": {"89"}}).want(http.StatusSeeOther)
	v.post("/standard/ready", url.Values{"design": {design}, "count": {"1"}, "cost": {"40"}, "place": {"chest"}}).want(http.StatusSeeOther)
	here, err := s.sales.ReadyShields(t.Context(), false)
	s.must(err)
	sell := "/standard/ready/" + here[0].ID + "/sell"
	page := v.get("/standard").want(http.StatusOK)
	if !strings.Contains(page.words(), "89.00") || !strings.Contains(page.body, sell) {
		t.Error(page.words())
	}
	typed := url.Values{"price": {"89.00"}, "way": {"cash"}, "token": {"once-and-no-more"}}
	for _, c := range []struct{ price, why, says string }{{"88", " ", "Say in a few words why"}, {"90", "tip", "up to 89.00 EUR"}, {"0", "gift", "above 0"}, {"-5", "x", "above 0"}, {"lots", "x", "Write a number"}, {"80.001", "x", "above 0"}} {
		a := v.post(sell, over(over(typed, "for", c.price), "why", c.why)).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.words(), c.says) || !strings.Contains(a.body, `value="`+c.price+`"`) {
			t.Errorf("for %s because %q: %s", c.price, c.why, a.words())
		}
	}
	typed = over(over(typed, "for", "80"), "why", "scratched at the rim")
	invoice := v.post(sell, typed).to()
	if again := v.post(sell, typed).to(); again != invoice || !strings.HasPrefix(invoice, "/invoices/") {
		t.Errorf("%s, then %s", invoice, again)
	}
	if words := v.post(sell, over(typed, "token", "another-token")).want(http.StatusConflict).words(); !strings.Contains(words, "Nothing lies ready") {
		t.Error(words)
	}
	if words := v.get(invoice).want(http.StatusOK).words(); !strings.Contains(words, "Walk-in") || !strings.Contains(words, "80.00") {
		t.Error(words)
	}
	drop := "/standard/ready/" + here[0].ID + "/drop"
	v.post(drop, url.Values{"reason": {"burnt"}}).want(http.StatusConflict).says("Nothing lies ready")
	if r := v.get("/standard/price-list.pdf?in=de").want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") {
		t.Error("no price list")
	}
}

// A customer sees on their own page how a parcel goes, and a photo that was shared with them, but no gift before its day;
// what was not shared, or is another's, is not there.
func TestWhatACustomerSeesOfPhotosAndParcels(t *testing.T) {
	s := stocked(t)
	q, link := s.linked()
	taken, err := s.sales.Accept(t.Context(), q.ID, sales.Choice{Name: "Hedda"}, "wren")
	s.must(err)
	taken, err = s.sales.DepositCame(t.Context(), taken.Order.ID, time.Now(), sales.OtherWay, "")
	s.must(err)
	_, err = s.sales.Deliver(t.Context(), taken.Order.ID, taken.Order.Edit, sales.Delivery{Day: time.Now(), Pieces: 1, Way: sales.ByParcel}, "wren")
	s.must(err)
	s.must(s.sales.KeepParcel(t.Context(), sales.Parcel{Order: taken.Order.ID, Nth: 1, Carrier: "Ferry post", Tracking: "HM 204", State: sales.ParcelDamaged, Note: "they dropped it"}, decimal.RequireFromString("777.31"), "wren"))
	photo := func(shared bool, secret time.Time) string {
		p, err := s.sales.AddPhoto(t.Context(), sales.Photo{Of: sales.PhotoOfOrder, OfID: taken.Order.ID, Shared: shared, SecretUntil: secret}, picture(t), "wren")
		s.must(err)
		return p.ID
	}
	shown, kept, gift := photo(true, time.Time{}), photo(false, time.Time{}), photo(true, time.Now().AddDate(0, 0, 3))
	guest := s.visit()
	path, _, _ := strings.Cut(link, "?")
	page := guest.get(link).want(http.StatusOK)
	if words := page.words(); !strings.Contains(words, "Ferry post, number HM 204") || strings.Contains(words, "777.31") || strings.Contains(words, "dropped") {
		t.Error(words)
	}
	for id, status := range map[string]int{shown: http.StatusOK, kept: http.StatusNotFound, gift: http.StatusNotFound, "seven": http.StatusNotFound} {
		if strings.Contains(page.body, id) != (status == http.StatusOK) {
			t.Errorf("photo %s on the page", id)
		}
		guest.get(path + "/photos/" + id + ".jpg").want(status)
	}
	guest.get("/photos/" + shown + ".jpg").want(http.StatusSeeOther) // the workshop's own address is shut
}
