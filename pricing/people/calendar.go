package people

import (
	"context"
	"fmt"

	"foamwright/materials/fault"
)

// mostCalendarLinks a person may have at once.
const mostCalendarLinks = 20

// NewCalendarLink makes a secret link to the calendar of the bench, for a program that follows it: whoever has it
// reads what the person may see, without signing in. The secret is shown once.
func (s *Service) NewCalendarLink(ctx context.Context, personID int64, name string) (Token, string, error) {
	var l fault.List
	name = checkName(&l, name)
	links, err := s.store.CalendarLinks(ctx, personID)
	if err != nil {
		return Token{}, "", err
	}
	if len(links) >= mostCalendarLinks {
		l.Add("name", name, fmt.Sprintf("There are %d links already. End one that is not used any more first.", len(links)))
	}
	if err := l.Err(); err != nil {
		return Token{}, "", err
	}
	secret, err := newSecret(s.random)
	if err != nil {
		return Token{}, "", err
	}
	t, err := s.store.AddCalendarLink(ctx, Token{PersonID: personID, Name: name, Created: s.now()}, DigestOf(secret))
	return t, secret, err
}

// CalendarLinks lists a person's links to the calendar, the newest first.
func (s *Service) CalendarLinks(ctx context.Context, personID int64) ([]Token, error) {
	return s.store.CalendarLinks(ctx, personID)
}

// EndCalendarLink ends one of the person's own links: the calendar that follows it finds nothing any more.
func (s *Service) EndCalendarLink(ctx context.Context, personID, id int64) error {
	return s.store.EndCalendarLink(ctx, personID, id)
}

// FollowCalendar is the person whose link somebody came with; NotFound where there is none, or it was ended.
func (s *Service) FollowCalendar(ctx context.Context, secret string) (Person, error) {
	p, err := s.store.UseCalendarLink(ctx, DigestOf(secret), s.now())
	if fault.KindOf(err) == fault.NotFound {
		return Person{}, fault.New(fault.NotFound, "There is no such calendar, or its link was ended.")
	}
	return p, err
}
