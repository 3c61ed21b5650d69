package web

import (
	"bufio"
	"context"
	"errors"
	"net"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"
)

// A browser has one search, the newest; others' go on, as many at a time as there are turns.
func TestSearchesAreBounded(t *testing.T) {
	s := newSearches(t.Context())
	first, firstDone := s.begin("a", mostSearch)
	other, otherDone := s.begin("b", mostSearch)
	second, secondDone := s.begin("a", mostSearch)
	if first.Err() == nil || second.Err() != nil || other.Err() != nil {
		t.Fatalf("the browser's first search: %v, its second: %v, another's: %v", first.Err(), second.Err(), other.Err())
	}
	firstDone() // the older one's end is not the newer one's
	if len(s.byBrowser) != 2 || second.Err() != nil {
		t.Errorf("%d searches go on, the newest: %v", len(s.byBrowser), second.Err())
	}
	secondDone()
	otherDone()
	if len(s.byBrowser) != 0 {
		t.Errorf("%d searches are remembered", len(s.byBrowser))
	}

	var all sync.WaitGroup
	var mu sync.Mutex
	running, most := 0, 0
	for range 50 {
		all.Go(func() {
			leave, ok := s.turn(t.Context())
			defer leave()
			mu.Lock()
			running++
			most = max(most, running)
			mu.Unlock()
			if !ok {
				t.Error("no turn")
			}
			mu.Lock()
			running--
			mu.Unlock()
		})
	}
	all.Wait()
	if most > cap(s.turns) || len(s.turns) != 0 {
		t.Errorf("%d at once, %d never left", most, len(s.turns))
	}

	for range cap(s.turns) {
		s.turn(t.Context())
	}
	gone, end := context.WithCancel(t.Context())
	end()
	if leave, ok := s.turn(gone); ok {
		t.Error("a page that is gone got a turn")
	} else {
		leave()
	}
	if len(s.turns) != cap(s.turns) {
		t.Error("who got no turn gave one back")
	}
}

// shut is a connection whose other end is gone.
type shut struct{}

func (shut) Write([]byte) (int, error) { return 0, errors.New("gone") }

// A line that nobody takes ends the search.
func TestNobodyListens(t *testing.T) {
	ended := 0
	teller(bufio.NewWriter(shut{}), func() { ended++ })(told{})
	if ended != 1 {
		t.Errorf("ended %d times", ended)
	}
	var read strings.Builder
	teller(bufio.NewWriter(&read), func() { ended++ })(told{Spent: 7})
	if ended != 1 || read.String() != "{\"spent\":7}\n" {
		t.Errorf("%q, ended %d times", read.String(), ended)
	}
}

// The server notices a reader that left by its next lines, without any help of the request's context.
func TestLeavingEndsTheSearch(t *testing.T) {
	ended := make(chan bool, 1)
	app := fiber.New(fiber.Config{DisableStartupMessage: true})
	app.Get("/", func(c *fiber.Ctx) error {
		c.Context().SetBodyStreamWriter(func(out *bufio.Writer) {
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			say := teller(out, cancel)
			for n := 0; n < 1000 && ctx.Err() == nil; n++ {
				say(told{Spent: n})
				time.Sleep(10 * time.Millisecond)
			}
			ended <- ctx.Err() != nil
		})
		return nil
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go func() { _ = app.Listener(listener) }()
	defer func() { _ = app.Shutdown() }()
	page, err := net.Dial("tcp", listener.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := page.Write([]byte("GET / HTTP/1.1\r\nHost: here\r\n\r\n")); err != nil {
		t.Fatal(err)
	}
	if _, err := page.Read(make([]byte, 300)); err != nil { // the first line, or part of it
		t.Fatal(err)
	}
	if err := page.Close(); err != nil {
		t.Fatal(err)
	}
	if !<-ended {
		t.Error("the search went on to its end for nobody")
	}
}

// What pages wait for ends when the program does.
func TestSearchesEndWithTheProgram(t *testing.T) {
	program, stop := context.WithCancel(t.Context())
	ctx, done := newSearches(program).begin("a", time.Minute)
	defer done()
	stop()
	if ctx.Err() == nil {
		t.Error("a search goes on when the program stops")
	}
}
