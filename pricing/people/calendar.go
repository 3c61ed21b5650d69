package people

import (
	"context"

	"foamwright/materials/fault"
)

// NewCalendarLink makes a secret link to the calendar of the bench, for a program that follows it: whoever has it
// reads what the person may see, without signing in. The secret is shown once.
func (s *Service) NewCalendarLink(ctx context.Context, personID int64, name string) (Token, string, error) {
	return s.newToken(ctx, personID, name, "", s.store.CalendarLinks, s.store.AddCalendarLink)
}

// CalendarLinks lists a person's links to the calendar, the newest first.
func (s *Service) CalendarLinks(ctx context.Context, personID int64) ([]Token, error) {
	return s.store.CalendarLinks(ctx, personID)
}

// EndCalendarLink ends one of a person's links: the calendar that follows it finds nothing any more.
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
