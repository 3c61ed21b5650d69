package web

import (
	"math"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// enquirePath is the page on which strangers ask, while the workshop has it open.
const enquirePath = "/enquire"

// How much of strangers is taken: bytes at once, and how often of one address (common practice, no source).
const mostOfStrangers = 64 << 10

func enquiryRate() guard.Rate { return guard.Rate{Burst: 8, PerSecond: 1.0 / 180} }

func enquiryDoors() []guard.Door { return []guard.Door{guard.Open(enquirePath)} }

// public is a page that strangers see, in their tongue.
type public struct {
	Tongue   words.Tongue
	Tongues  []words.Tongue
	Title    string
	Workshop string
	CSRF     string
	Path     string
	Data     any
}

// enquireForm is the public form as it was typed.
type enquireForm struct {
	ID       string
	Typed    map[string]string
	Problems map[string]string
	Message  string
	Privacy  string
	Full     string
	Done     bool
}

// F is an entry of the form.
func (f enquireForm) F(name string) entry {
	return entry{Name: name, Value: f.Typed[name], Problem: f.Problems[name], ID: id(name)}
}

// tongueOf is the visitor's: the one they chose, else the first their browser asks for that is spoken here.
func tongueOf(c *fiber.Ctx, chosen string) words.Tongue {
	if chosen != "" {
		return words.Speak(chosen)
	}
	for part := range strings.SplitSeq(c.Get(fiber.HeaderAcceptLanguage), ",") {
		code, _, _ := strings.Cut(strings.TrimSpace(part), ";")
		if short, _, _ := strings.Cut(strings.ToLower(code), "-"); short != "" && words.Speak(short).Code() == short {
			return words.Speak(short)
		}
	}
	return words.Tongue{}
}

func (p *Pages) enquirePage(c *fiber.Ctx) error {
	return p.showEnquire(c, fiber.StatusOK, tongueOf(c, c.Query("language")), enquireForm{Done: c.Query("sent") != ""})
}

// showEnquire writes the form, or the thanks for it; nothing of the workshop but its name, and only while it is open.
func (p *Pages) showEnquire(c *fiber.Ctx, status int, t words.Tongue, f enquireForm) error {
	w, err := p.sales.Workshop(c.UserContext())
	if fault.KindOf(err) == fault.State || err == nil && !w.Enquiries.Open {
		return sales.NoForm()
	}
	if err != nil {
		return err
	}
	if f.ID == "" {
		f.ID = uuid.NewString()
	}
	f.Privacy, f.Full = w.PrivacyIn(t), w.FullIn(t, wallClock())
	c.Set(fiber.HeaderCacheControl, "no-store")
	return p.write(c, status, "enquire", "public", public{Tongue: t, Tongues: words.Tongues(), Title: t.Say("Ask for a shield"), Workshop: w.Head.Name, CSRF: p.guard.CSRFToken(c), Path: enquirePath, Data: f})
}

// answered are the entries of the form that are answers of their own.
func answered() []enquiry.Topic {
	return []enquiry.Topic{enquiry.Width, enquiry.Height, enquiry.Quantity, enquiry.Event, enquiry.Date, enquiry.Latex, enquiry.Hand, enquiry.Ship, enquiry.Budget}
}

// enquire takes what a visitor wrote. Whoever fills in the entry that nobody sees is thanked, and nothing is kept.
func (p *Pages) enquire(c *fiber.Ctx) error {
	if len(c.Request().Body()) > mostOfStrangers {
		return fault.New(fault.TooLarge, "This is more than the form takes; send less.")
	}
	v := values(c)
	t := words.Speak(v.Get("language"))
	f := enquireForm{ID: v.Get("id"), Typed: map[string]string{}}
	for _, name := range []string{"words", "name", "mail"} {
		f.Typed[name] = v.Get(name)
	}
	e := sales.Enquiry{ID: f.ID, Words: v.Get("words"), Name: v.Get("name"), Mail: v.Get("mail"), Language: t.Code(), Answers: map[enquiry.Topic]string{}}
	for _, about := range answered() {
		f.Typed["answers."+string(about)] = v.Get("answers." + string(about))
		e.Answers[about] = v.Get("answers." + string(about))
	}
	if _, err := uuid.Parse(e.ID); err != nil || len(e.ID) != 36 {
		e.ID = uuid.NewString()
	}
	thanks := enquirePath + "?sent=1&language=" + t.Code()
	if v.Get("website") != "" {
		return c.Redirect(thanks, fiber.StatusSeeOther)
	}
	if wait := p.strangers.Wait(c); wait > 0 {
		c.Set(fiber.HeaderRetryAfter, strconv.Itoa(int(math.Ceil(wait.Seconds()))))
		f.Message = t.Say("Too much has come in just now. Please try again later.")
		return p.showEnquire(c, fiber.StatusTooManyRequests, t, f)
	}
	err := p.sales.TakeEnquiry(c.UserContext(), e)
	if err == nil {
		return c.Redirect(thanks, fiber.StatusSeeOther)
	}
	status := problem.Status(err)
	switch fault.KindOf(err) {
	case fault.Invalid:
		if f.Problems, err = problemsOf(err); err != nil {
			return err
		}
	case fault.TooMany:
		f.Message = t.Say("Too much has come in just now. Please try again later.")
	default:
		return err
	}
	return p.showEnquire(c, status, t, f)
}
