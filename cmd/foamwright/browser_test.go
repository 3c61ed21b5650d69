package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/url"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db/dbtest"
	"foamwright/pricing/sales"
)

// chromium is the browser of the tests; a missing one is a failure that says what to install.
func chromium(t *testing.T) string {
	t.Helper()
	if named := os.Getenv("CHROME"); named != "" {
		return named
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Fatal("These tests use the pages in a real browser. Install Chromium (Debian: apt-get install chromium), or name a browser in CHROME.")
	return ""
}

// served is the whole program with the demo workshop, listening on a port of its own; what its settings differ in may
// follow.
func served(t *testing.T, differ ...func(*settings)) (address, link string) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.NewTextHandler(t.Output(), nil))}
	s := settings{address: "127.0.0.1:0"}
	s.databaseURL = filled(t, "demo", demo.Load)
	for _, change := range differ {
		change(&s)
	}
	shop, err := p.open(ctx, s, theDemo())
	fatal(t, err)
	owner, err := demo.Owner(ctx, shop.people)
	fatal(t, err)
	link, _, err = shop.people.NewLink(ctx, owner.ID)
	fatal(t, err)
	opened, ended := make(chan string, 1), make(chan error, 1)
	go func() { ended <- p.listen(ctx, s, shop, "", func(address string) { opened <- address }) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("the program ended with: %v", err)
		}
		shop.close()
	})
	select {
	case address = <-opened:
	case err := <-ended:
		ended <- nil
		t.Fatal(err)
	}
	return address, address + "/link/" + link
}

// filled is a database with a copy of the demo's books; withHistory has half a year of them.
func filled(t *testing.T, name string, load func(context.Context, demo.Books) (sales.Quote, error)) (databaseURL string) {
	t.Helper()
	return dbtest.Filled(t, name, func(ctx context.Context, url string) error {
		p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.DiscardHandler)}
		shop, err := p.open(ctx, settings{databaseURL: url}, theDemo())
		if err != nil {
			return err
		}
		defer shop.close()
		_, err = load(ctx, shop.books(p.now))
		return err
	})
}

func withHistory(t *testing.T) (databaseURL string) {
	t.Helper()
	return filled(t, "history", demo.LoadWithHistory)
}

func fatal(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// tab is a browser's tab on the program. All that goes wrong in it on its own is kept for the end.
type tab struct {
	t       *testing.T
	ctx     context.Context
	address string

	mu       sync.Mutex
	faults   []string // console errors, violations of the policy, requests to other hosts
	asked    []string // questions of dialogs, which are answered with yes
	requests int
}

// browse opens the browser with one tab. Run it once: every test shares it.
func browse(t *testing.T, address string) *tab {
	t.Helper()
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(chromium(t)), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	allocator, end := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(end)
	ctx, end := chromedp.NewContext(allocator)
	t.Cleanup(end)
	b := &tab{t: t, ctx: ctx, address: address}
	fatal(t, chromedp.Listen(ctx, b.notice))
	return b
}

// signIn comes in by a link, at whatever address the tab reaches the program.
func (b *tab) signIn(link string) {
	b.t.Helper()
	b.open(link[strings.Index(link, "/link/"):])
	b.press("main button")
}

// notice keeps what a page should not do. It must not wait for the browser.
func (b *tab) notice(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, fmt.Sprintf("exception: %s %v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception))
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			said := "console " + string(e.Type) + ":"
			for _, a := range e.Args {
				said += " " + string(a.Value) + a.Description
			}
			b.faults = append(b.faults, said)
		}
	case *log.EventEntryAdded:
		// That a page was answered with 4xx is what the tests asked for, and looked at.
		if e.Entry.Level != log.EntryLevelVerbose && e.Entry.Level != log.EntryLevelInfo && !strings.Contains(e.Entry.Text, "the server responded with a status of 4") {
			b.faults = append(b.faults, fmt.Sprintf("%s %s: %s (%s)", e.Entry.Source, e.Entry.Level, e.Entry.Text, e.Entry.URL))
		}
	case *network.EventRequestWillBeSent:
		b.requests++
		if u, err := url.Parse(e.Request.URL); err != nil || u.Scheme+"://"+u.Host != b.address && u.Scheme != "data" && u.Scheme != "about" {
			b.faults = append(b.faults, "request to another host: "+e.Request.URL)
		}
	case *page.EventJavascriptDialogOpening:
		b.asked = append(b.asked, e.Message)
		go func() {
			_, _ = chromedp.Call(b.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true}) // a dialog that stays open is seen as a time-out
		}()
	}
}

// do runs actions within ten seconds.
func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 10*time.Second)
	defer cancel()
	if err := chromedp.Do(ctx, actions...); err != nil {
		b.t.Fatalf("%v; the page: %.300s", err, b.text("body"))
	}
}

// ask evaluates a script in the page.
func ask[T any](b *tab, script string) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 10*time.Second)
	defer cancel()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%v in %s", err, script)
	}
	return got
}

// send gives the browser a command of its protocol.
func send[P, R any](b *tab, c cdp.Command[P, R], params P) R {
	b.t.Helper()
	got, err := chromedp.Call(b.ctx, c, params)
	fatal(b.t, err)
	return got
}

// open goes to a path and waits for the page.
func (b *tab) open(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.address + path))
}

// press clicks what a person would see and waits for the page it leads to.
func (b *tab) press(selector string) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 10*time.Second)
	defer cancel()
	if _, err := chromedp.RunResponse(ctx, chromedp.Click(chromedp.CSS(selector))); err != nil {
		b.t.Fatalf("press %s: %v", selector, err)
	}
}

// fill types over what is in an entry.
func (b *tab) fill(selector, typed string) {
	b.t.Helper()
	b.do(chromedp.Focus(chromedp.CSS(selector)))
	ask[any](b, fmt.Sprintf("document.querySelector(%q).select()", selector))
	if typed == "" {
		typed = "\b"
	}
	b.do(chromedp.KeyEvent(typed))
}

// until waits until a script gives true.
func (b *tab) until(script string) {
	b.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if ask[bool](b, script) {
			return
		}
	}
	b.t.Fatalf("never true: %s; the page: %.600s", script, b.text("main"))
}

// text is what can be read in an element, in one line, the thin space of amounts left out.
func (b *tab) text(selector string) string {
	b.t.Helper()
	return one(ask[string](b, fmt.Sprintf("document.querySelector(%q)?.innerText ?? ''", selector)))
}

func one(text string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "\u202f", "")
}

// path is where the tab is.
func (b *tab) path() string { return ask[string](b, "location.pathname") }

// clean reports what went wrong on its own since the last time.
func (b *tab) clean(t *testing.T) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, f := range b.faults {
		t.Error(f)
	}
	b.faults = nil
}
