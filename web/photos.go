package web

import (
	"bytes"
	"io"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// PhotosPath is where photos are sent to and lie.
const PhotosPath = "/photos"

// MaxPhotoForm is the largest form with a photo, in bytes.
const MaxPhotoForm = sales.MaxPhoto + 64<<10

// Admits lets a form with a photo be larger, and take longer to arrive, than anything else that is sent: a phone at a show
// has a slow net.
func Admits(h *fasthttp.RequestHeader) (c fasthttp.RequestConfig) {
	if h.IsPost() && bytes.HasPrefix(h.RequestURI(), []byte(PhotosPath+"/")) {
		c.MaxRequestBodySize, c.ReadTimeout = MaxPhotoForm, 2*time.Minute
	}
	return c
}

// photoDoors: photos are taken by those who work at the bench.
func photoDoors() []guard.Door { return []guard.Door{guard.For(PhotosPath, people.Helper)} }

func (p *Pages) registerPhotos(r fiber.Router) {
	r.Get(PhotosPath+"/:id.jpg", p.photo(false))
	r.Get(PhotosPath+"/:id/small.jpg", p.photo(true))
	r.Post(PhotosPath+"/:of/:id/new", p.addPhoto)
	r.Post(PhotosPath+"/:id/keep", p.keepPhoto)
	r.Post(PhotosPath+"/:id/delete", p.deletePhoto)
}

// photoBox is the photos of something, with the form for the next.
type photoBox struct {
	forms
	Of     sales.PhotoOf
	OfID   string
	Photos []sales.Photo // those there are
	Gone   []sales.Photo // deleted
	CSRF   string
	Shares bool // has a customer's page to be shared on
	now    time.Time
}

// Consents are what a customer may say.
func (photoBox) Consents() []option {
	return []option{{"not asked", "not asked"}, {"yes", "may be shown"}, {"no", "not to be shown"}}
}

// Secret tells that nobody outside may see a photo yet.
func (b photoBox) Secret(p sales.Photo) bool { return p.Secret(b.now) }

// photosOf reads them.
func (p *Pages) photosOf(c *fiber.Ctx, of sales.PhotoOf, id string) (photoBox, error) {
	all, err := p.sales.Photos(c.UserContext(), of, id)
	b := photoBox{Of: of, OfID: id, CSRF: p.guard.CSRFToken(c), Shares: of == sales.PhotoOfOrder, now: wallClock()}
	b.forms, _ = c.Locals(refusedPhoto{}).(forms)
	for _, f := range all {
		if f.Deleted.IsZero() {
			b.Photos = append(b.Photos, f)
		} else {
			b.Gone = append(b.Gone, f)
		}
	}
	return b, err
}

// page is where something's photos are shown.
func photoPage(of sales.PhotoOf, id string) string {
	return map[sales.PhotoOf]string{sales.PhotoOfOrder: "/orders/", sales.PhotoOfRepair: "/repairs/", sales.PhotoOfEnquiry: "/enquiries/"}[of] + id
}

// mayPhoto refuses what is not somebody's to look at: a helper sees the photos of orders.
func mayPhoto(c *fiber.Ctx, of sales.PhotoOf) error {
	if of != sales.PhotoOfOrder && !owner(c) {
		return fault.New(fault.Forbidden, "Photos of enquiries and repairs are the owner's.")
	}
	return nil
}

// addPhoto keeps a picture that was sent from a phone.
func (p *Pages) addPhoto(c *fiber.Ctx) error {
	of, id := sales.PhotoOf(c.Params("of")), c.Params("id")
	if err := mayPhoto(c, of); err != nil {
		return err
	}
	t := &typing{v: values(c)}
	form, err := c.MultipartForm()
	if err != nil {
		return fault.New(fault.Invalid, "Choose a picture first.")
	}
	for name, typed := range form.Value {
		for _, v := range typed {
			t.v.Add(name, visible([]byte(v)))
		}
	}
	photo := photoTyped(t)
	photo.Of, photo.OfID = of, id
	var sent []byte
	if files := form.File["photo"]; len(files) > 0 {
		file, err := files[0].Open()
		if err != nil {
			return err
		}
		defer file.Close()
		if sent, err = io.ReadAll(io.LimitReader(file, sales.MaxPhoto+1)); err != nil {
			return err
		}
	}
	if err = t.problems.Err(); err == nil {
		err = p.onePhoto(c, func() error {
			_, err := p.sales.AddPhoto(c.UserContext(), photo, sent, by(c))
			return err
		})
	}
	if err == nil {
		return c.Redirect(photoPage(of, id)+"#photos", fiber.StatusSeeOther)
	}
	f, status, err := refused("photo", t, err)
	if err != nil {
		return err
	}
	return p.photoAgain(c, of, status, f)
}

// photoAgain shows the page that a refused photo was for, with what was typed.
func (p *Pages) photoAgain(c *fiber.Ctx, of sales.PhotoOf, status int, f forms) error {
	c.Locals(refusedPhoto{}, f)
	switch of {
	case sales.PhotoOfRepair:
		return p.showRepair(c, status, repairPage{})
	case sales.PhotoOfEnquiry:
		e, err := p.sales.Enquiry(c.UserContext(), c.Params("id"))
		if err != nil {
			return err
		}
		return p.showEnquiry(c, status, enquiryPage{Enquired: e, Edited: e.Edit})
	}
	return p.showOrder(c, status, orderPage{})
}

// refusedPhoto is where a request keeps the form of a photo that was not taken.
type refusedPhoto struct{}

// Refused is all that is wrong with it.
func (b photoBox) Refused() string {
	if b.Form != "photo" {
		return ""
	}
	return message(b.problems)
}

// onePhoto works one picture at a time: each takes some hundred megabytes while it is unpacked.
func (p *Pages) onePhoto(c *fiber.Ctx, work func() error) error {
	select {
	case p.darkroom <- struct{}{}:
		defer func() { <-p.darkroom }()
		return work()
	case <-c.UserContext().Done():
		return fault.New(fault.Unavailable, "Many pictures are being worked on just now. Send it again in a moment.")
	}
}

func photoTyped(t *typing) sales.Photo {
	return sales.Photo{Words: t.v.Get("words"), Taken: t.day("taken"), Consent: sales.Consent(t.v.Get("consent")), Shared: t.v.Get("shared") != "", SecretUntil: t.day("secret_until")}
}

// ofPhoto is a photo that who asks may look at.
func (p *Pages) ofPhoto(c *fiber.Ctx) (sales.Photo, error) {
	photo, err := p.sales.Photo(c.UserContext(), c.Params("id"))
	if err != nil {
		return photo, err
	}
	return photo, mayPhoto(c, photo.Of)
}

// keepPhoto changes what is said of a photo.
func (p *Pages) keepPhoto(c *fiber.Ctx) error {
	was, err := p.ofPhoto(c)
	if err != nil {
		return err
	}
	t := &typing{v: values(c)}
	photo := photoTyped(t)
	photo.ID = was.ID
	if photo.Taken.IsZero() {
		photo.Taken = was.Taken
	}
	if err := t.problems.Err(); err != nil {
		return err
	}
	if _, err := p.sales.SavePhoto(c.UserContext(), photo); err != nil {
		return err
	}
	return c.Redirect(photoPage(was.Of, was.OfID)+"#photos", fiber.StatusSeeOther)
}

func (p *Pages) deletePhoto(c *fiber.Ctx) error {
	was, err := p.ofPhoto(c)
	if err != nil {
		return err
	}
	if _, err := p.sales.DeletePhoto(c.UserContext(), was.ID, by(c)); err != nil {
		return err
	}
	return c.Redirect(photoPage(was.Of, was.OfID)+"#photos", fiber.StatusSeeOther)
}

// photo sends a picture; who may see it today may not tomorrow, so a browser asks again.
func (p *Pages) photo(small bool) fiber.Handler {
	return func(c *fiber.Ctx) error {
		photo, err := p.ofPhoto(c)
		if err != nil {
			return err
		}
		return p.sendPhoto(c, photo.ID, small)
	}
}

func (p *Pages) sendPhoto(c *fiber.Ctx, id string, small bool) error {
	body, err := p.sales.PhotoBytes(c.UserContext(), id, small)
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderContentType, "image/jpeg")
	c.Set(fiber.HeaderCacheControl, "private, no-cache")
	c.Set(fiber.HeaderXContentTypeOptions, "nosniff")
	return c.Send(body)
}
