package web

import (
	"context"
	"runtime"
	"sync"
	"time"
)

// searches bounds the searches for better plans: one for each browser, the newest ending the one before, and of all
// together so few that a core is left for everybody else. The others wait their turn.
type searches struct {
	until     context.Context // of the program
	turns     chan struct{}
	mu        sync.Mutex
	byBrowser map[string]*search
}

type search struct{ end context.CancelFunc }

func newSearches(until context.Context) *searches {
	return &searches{until: until, turns: make(chan struct{}, max(1, runtime.GOMAXPROCS(0)-1)), byBrowser: map[string]*search{}}
}

// begin ends the browser's search before and gives the new one its context, which done ends, or the most it may take.
// The context outlives the request: its answer is still being written when the handler has returned. It ends with the
// program.
func (s *searches) begin(browser string, most time.Duration) (ctx context.Context, done func()) {
	ctx, end := context.WithTimeout(s.until, most)
	mine := &search{end}
	s.mu.Lock()
	defer s.mu.Unlock()
	if before := s.byBrowser[browser]; before != nil {
		before.end()
	}
	s.byBrowser[browser] = mine
	return ctx, func() {
		end()
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.byBrowser[browser] == mine {
			delete(s.byBrowser, browser)
		}
	}
}

// turn waits until a search may run and says how to end its turn; false when the context ended first.
func (s *searches) turn(ctx context.Context) (leave func(), ok bool) {
	select {
	case s.turns <- struct{}{}:
		return func() { <-s.turns }, ctx.Err() == nil
	case <-ctx.Done():
		return func() {}, false
	}
}
