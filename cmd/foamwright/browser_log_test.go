package main

import (
	"fmt"
	"io"
	"net"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// cable is the net between the phone and the workshop: it can be pulled, or carry requests and lose the answers.
type cable struct {
	net.Listener
	to    string
	mu    sync.Mutex
	state string // "", "pulled", "deaf"
	open  []net.Conn
}

func newCable(t *testing.T, address string) *cable {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	fatal(t, err)
	c := &cable{Listener: l, to: strings.TrimPrefix(address, "http://")}
	t.Cleanup(func() { c.set("pulled"); _ = l.Close() })
	go func() {
		for {
			near, err := l.Accept()
			if err != nil {
				return
			}
			go c.carry(near)
		}
	}()
	return c
}

func (c *cable) carry(near net.Conn) {
	defer near.Close()
	far, err := net.Dial("tcp", c.to)
	if err != nil {
		return
	}
	defer far.Close()
	c.mu.Lock()
	state := c.state
	c.open = append(c.open, near, far)
	c.mu.Unlock()
	if state == "pulled" {
		return
	}
	go func() { _, _ = io.Copy(far, near); far.(*net.TCPConn).CloseWrite() }()
	if state == "deaf" {
		_, _ = io.ReadFull(far, make([]byte, 1)) // the workshop has done it, and nobody hears of it
		return
	}
	_, _ = io.Copy(near, far)
}

func (c *cable) set(state string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.state = state
	for _, conn := range c.open {
		_ = conn.Close()
	}
	c.open = nil
}

// phone is a tab of 360 px on the time log, at the end of a cable.
type phone struct {
	*tab
	net   *cable
	order string // its id
}

// pull pulls the cable; the browser notices, as a phone does.
func (p *phone) pull() {
	p.net.set("pulled")
	send(p.tab, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: true})
}

func (p *phone) plug() {
	p.net.set("")
	send(p.tab, network.OverrideNetworkState, network.OverrideNetworkStateParams{DownloadThroughput: -1, UploadThroughput: -1})
}

// logs writes minutes with a note, by the thumb.
func (p *phone) logs(minutes, note string) {
	p.t.Helper()
	ask[any](p.tab, `document.querySelectorAll(".groups input")[1].click(); document.querySelector("main > form > details").open = true`)
	p.fill("#f-minutes", minutes)
	p.fill("#f-note", note)
	p.do(chromedp.Click(chromedp.CSS("[value=log]")))
	p.until(`document.querySelector("#f-minutes").value === ""`)
}

// times is how often a note was logged, by the books.
func (p *phone) times(note string) int {
	p.t.Helper()
	return ask[int](p.tab, fmt.Sprintf(`fetch("/api/v1/orders/%s/time").then((r) => r.json()).then((j) => j.logs.filter((l) => l.note === %q).length)`, p.order, note))
}

func (p *phone) waits(note string) bool {
	p.t.Helper()
	return ask[bool](p.tab, fmt.Sprintf(`Object.keys(localStorage).some((k) => k.startsWith("log.") && localStorage[k].includes(%q))`, note))
}

// arrives waits until the phone knows that the workshop has a log, which it has once.
func (p *phone) arrives(note string) {
	p.t.Helper()
	p.until(fmt.Sprintf(`!Object.keys(localStorage).some((k) => k.startsWith("log.") && localStorage[k].includes(%q))`, note))
	if n := p.times(note); n != 1 {
		p.t.Errorf("%q is in the books %d times", note, n)
	}
	p.until(fmt.Sprintf(`[...document.querySelectorAll("#logged li, #earlier li")].filter((l) => l.textContent.includes(%q)).length === 1`, note))
}

// quiet is clean but for what a pulled cable makes the browser say of itself.
func (p *phone) quiet() {
	p.mu.Lock()
	p.faults = slices.DeleteFunc(p.faults, func(f string) bool { return strings.Contains(f, "net::ERR_") })
	p.mu.Unlock()
	p.clean(p.t)
}

// TestTheTimeLogWithoutANet is a phone of 360 px at the end of a cable: what is logged while it is pulled waits, stands
// a page that is opened anew, and is in the books once, however often it is sent and from wherever.
func TestTheTimeLogWithoutANet(t *testing.T) {
	t.Parallel()
	address, link := served(t)
	wire := newCable(t, address)
	p := &phone{tab: browse(t, "http://"+wire.Addr().String()), net: wire}
	p.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile))
	p.signIn(link)
	p.open("/account")
	p.fill("[name=new]", "three old boots")
	p.press("main form button")
	p.open("/log")
	p.order = strings.TrimPrefix(ask[string](p.tab, `document.querySelector(".orders a").pathname`), "/log/")
	p.open("/log/" + p.order)
	p.until(`caches.open("time log").then((c) => c.match(location.pathname)).then((m) => m !== undefined)`)
	for _, step := range []struct {
		name string
		work func(*phone)
	}{
		{"is big enough", big},
		{"logs with a net", func(p *phone) { p.logs("20", "with a net"); p.arrives("with a net") }},
		{"logs without a net and is opened anew", offline},
		{"sends again when the answer was lost", deaf},
		{"has two tabs", twoTabs},
		{"runs its own clock", ownClock},
		{"takes material once there is a net", takes},
		{"corrects, with a trail", trail},
		{"outlives its session", expired},
		{"forgets its pages when somebody signs out", forgets},
	} {
		if !t.Run(step.name, func(t *testing.T) {
			p.t = t
			step.work(p)
			p.quiet()
		}) {
			t.FailNow()
		}
	}
}

// Nothing to press is lower than 48 px, and nothing is wider than the phone.
func big(p *phone) {
	small := ask[[]string](p.tab, `[...document.querySelectorAll("main :is(a, button, summary, select, input:not([type=hidden], [type=radio])), .groups span")]
		.filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 47.9).map((e) => e.outerHTML.slice(0, 80))`)
	if len(small) > 0 || ask[int](p.tab, "document.documentElement.scrollWidth") > 360 {
		p.t.Errorf("too small for a thumb, or too wide: %v", small)
	}
}

func offline(p *phone) {
	p.pull()
	p.logs("25", "in the yard")
	p.until(`document.querySelector("#waiting").innerText.includes("waiting for the net")`)
	p.open("/log/" + p.order)
	if got := p.text("#waiting"); !strings.Contains(got, "25 min") || !strings.Contains(got, "waiting for the net") {
		p.t.Errorf("opened anew without a net: %q", p.text("main"))
	}
	p.logs("15", "and another")
	p.open("/log") // the list too
	p.open("/log/" + p.order)
	p.plug()
	p.arrives("in the yard")
	p.arrives("and another")
}

func deaf(p *phone) {
	p.net.set("deaf")
	p.logs("10", "unheard")
	for end := time.Now().Add(8 * time.Second); !p.waits("unheard") && time.Now().Before(end); {
		time.Sleep(20 * time.Millisecond)
	}
	time.Sleep(time.Second) // it was sent, and done, and not heard of
	if !p.waits("unheard") {
		p.t.Error("it was taken for sent")
	}
	p.net.set("")
	p.arrives("unheard")
}

func twoTabs(p *phone) {
	ctx, end := chromedp.NewContext(p.ctx)
	defer end()
	other := &phone{tab: &tab{t: p.t, ctx: ctx, address: p.address}, net: p.net, order: p.order}
	fatal(p.t, chromedp.Listen(ctx, other.notice)) // first, so that the tab outlives the time of what is done in it
	other.open("/log/" + p.order)
	p.pull()
	p.logs("5", "from one tab")
	other.until(`document.querySelector("#waiting").innerText.includes("5 min")`)
	other.logs("6", "from the other")
	p.plug()
	ask[any](other.tab, `window.dispatchEvent(new Event("online"))`)
	p.arrives("from one tab")
	p.until(`!Object.keys(localStorage).some((k) => k.startsWith("log."))`)
	if n := p.times("from the other"); n != 1 {
		p.t.Errorf("from the other: %d times", n)
	}
}

func ownClock(p *phone) {
	p.pull()
	ask[any](p.tab, `document.querySelector(".groups details input").click()`) // one step alone
	p.do(chromedp.Click(chromedp.CSS("[value=start]")))
	p.until(`!document.querySelector("#phone-clock").hidden`)
	// 47 minutes later, by the phone's store.
	ask[any](p.tab, `(() => { const k = Object.keys(localStorage).find((k) => k.startsWith("clock.")); const c = JSON.parse(localStorage[k]); c.began -= 47 * 60_000; localStorage[k] = JSON.stringify(c); })()`)
	p.open("/log/" + p.order)
	if got := p.text("#phone-clock"); !strings.Contains(got, "47 min") || !strings.Contains(got, "Brief to full specification") {
		p.t.Errorf("the clock: %q", got)
	}
	ask[any](p.tab, `document.querySelector("#phone-clock details").open = true`)
	p.fill("#stop-note", "by the clock")
	p.do(chromedp.Click(chromedp.CSS("[data-stop] button")))
	p.until(`document.querySelector("#waiting").innerText.includes("47 min")`)
	p.plug()
	p.arrives("by the clock")
}

// takes presses for material without a net, which says so and keeps what was typed, and again with one.
func takes(p *phone) {
	p.open("/log/" + p.order)
	p.pull()
	ask[any](p.tab, `document.querySelector("#material").closest("details").open = true; document.querySelector("#material [name^='used.']").id = "first-used"`)
	p.fill("#first-used", "1")
	p.do(chromedp.Click(chromedp.CSS("#material button")))
	p.until(`document.querySelector("#net").innerText.includes("nothing was taken")`)
	p.plug()
	p.press("#material button")
	if got := p.text("#material"); !strings.Contains(got, "taken") {
		p.t.Errorf("%q", got)
	}
}

func trail(p *phone) {
	p.open("/log/" + p.order)
	ask[any](p.tab, `(() => { const row = [...document.querySelectorAll("#logged li")].find((l) => l.innerText.includes("with a net")); row.id = "mistaken"; row.querySelector("details").open = true; })()`)
	p.fill("#mistaken [name=minutes]", "22")
	p.fill("#mistaken [name=note]", "it was 22")
	p.do(chromedp.Click(chromedp.CSS("#mistaken form button")))
	p.until(`document.querySelector("#logged s")?.innerText.includes("20 min") ?? false`)
	p.arrives("it was 22")
}

func expired(p *phone) {
	send(p.tab, network.ClearBrowserCookies, cdp.Empty{})
	p.logs("12", "after the session")
	p.until(`document.querySelector("#net a") !== null`)
	if !p.waits("after the session") {
		p.t.Fatal("it was lost with the session")
	}
	p.press("#net a")
	p.fill("[name=login]", "wren")
	p.fill("[name=password]", "three old boots")
	p.press("main button")
	if p.path() != "/log/"+p.order {
		p.t.Errorf("after signing in at %s", p.path())
	}
	p.arrives("after the session")
}

func forgets(p *phone) {
	p.until(`caches.open("time log").then((c) => c.keys()).then((k) => k.length > 0)`)
	p.press(".who button")
	p.until(`caches.keys().then((k) => k.length === 0)`)
}
