package guard

import (
	"fmt"
	"net"
	"net/netip"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"
	"pgregory.net/rapid"
)

// TestBucketsKeepTheRate: over any run of requests no key gets more than its burst and what has flowed in.
func TestBucketsKeepTheRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := Rate{Burst: rapid.IntRange(1, 20).Draw(t, "burst"), PerSecond: rapid.Float64Range(0.1, 50).Draw(t, "per second")}
		b := newBuckets(rate)
		start := time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)
		now, heard := start, map[string]int{}
		for range rapid.IntRange(1, 200).Draw(t, "requests") {
			now = now.Add(time.Duration(rapid.IntRange(0, 400).Draw(t, "ms")) * time.Millisecond)
			key := rapid.SampledFrom([]string{"a", "b"}).Draw(t, "key")
			wait := b.take(key, now)
			if wait == 0 {
				heard[key]++
			} else if b.take(key, now.Add(wait+time.Microsecond)) == 0 { // the wait told is true
				heard[key]++
				now = now.Add(wait + time.Microsecond)
			} else {
				t.Fatalf("still refused after %v", wait)
			}
			if top := float64(rate.Burst) + now.Sub(start).Seconds()*rate.PerSecond + 1e-6; float64(heard[key]) > top {
				t.Fatalf("%s heard %d times, at most %v", key, heard[key], top)
			}
		}
	})
}

func TestBucketsAreBounded(t *testing.T) {
	b := newBuckets(Rate{Burst: 1, PerSecond: 0.001})
	now := time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)
	heard := 0
	for i := range 3 * remembered {
		b.take(strconv.Itoa(i), now)
		if i%100 == 0 && b.take("regular", now) == 0 {
			heard++
		}
	}
	if len(b.byKey) != remembered || b.order.Len() != remembered {
		t.Errorf("%d keys, %d in order", len(b.byKey), b.order.Len())
	}
	if heard != 1 {
		t.Errorf("somebody who keeps asking was forgotten and heard %d times", heard)
	}
}

func TestBucketsTogether(t *testing.T) {
	b := newBuckets(Rate{Burst: 50, PerSecond: 0.001})
	now := time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)
	var heard atomic.Int32
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 100 {
				if b.take("a", now) == 0 {
					heard.Add(1)
				}
			}
		})
	}
	wg.Wait()
	if heard.Load() != 50 {
		t.Errorf("%d of 800 heard, want 50", heard.Load())
	}
}

func TestAddress(t *testing.T) {
	app := fiber.New()
	for _, c := range []struct {
		remote    string
		forwarded []string
		proxies   []string
		want      string
	}{
		{"192.0.2.7", nil, nil, "192.0.2.7"},
		{"192.0.2.7", []string{"203.0.113.5"}, nil, "192.0.2.7"}, // nobody is believed by default
		{"::ffff:192.0.2.7", nil, nil, "192.0.2.7"},
		{"2001:db8:1:2:3:4:5:6", nil, nil, "2001:db8:1:2::/64"},
		{"fe80::1%eth0", nil, nil, "fe80::/64"},
		{"127.0.0.1", []string{"203.0.113.5"}, []string{"127.0.0.0/8"}, "203.0.113.5"},
		{"127.0.0.1", []string{"1.1.1.1, 203.0.113.5"}, []string{"127.0.0.0/8"}, "203.0.113.5"}, // the first is the client's own claim
		{"127.0.0.1", []string{"1.1.1.1", "203.0.113.5"}, []string{"127.0.0.0/8"}, "203.0.113.5"},
		{"127.0.0.1", []string{"1.1.1.1, 203.0.113.5, 10.0.0.2"}, []string{"127.0.0.0/8", "10.0.0.0/8"}, "203.0.113.5"},
		{"127.0.0.1", []string{"2001:db8:1:2::9"}, []string{"127.0.0.0/8"}, "2001:db8:1:2::/64"},
		{"127.0.0.1", []string{"rubbish"}, []string{"127.0.0.0/8"}, "127.0.0.1"},
		{"127.0.0.1", nil, []string{"127.0.0.0/8"}, "127.0.0.1"},
		{"192.0.2.7", []string{"203.0.113.5"}, []string{"127.0.0.0/8"}, "192.0.2.7"},
	} {
		g := &Guard{}
		for _, p := range c.proxies {
			g.o.Proxies = append(g.o.Proxies, netip.MustParsePrefix(p))
		}
		request := &fasthttp.RequestCtx{}
		addr := netip.MustParseAddr(c.remote)
		request.SetRemoteAddr(&net.TCPAddr{IP: addr.AsSlice(), Zone: addr.Zone(), Port: 4711})
		for _, f := range c.forwarded {
			request.Request.Header.Add(fiber.HeaderXForwardedFor, f)
		}
		ctx := app.AcquireCtx(request)
		if got := g.address(ctx); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
		app.ReleaseCtx(ctx)
	}
}

func BenchmarkTake(b *testing.B) {
	buckets, now := newBuckets(Defaults().Anonymous), time.Now()
	keys := make([]string, 20_000)
	for i := range keys {
		keys[i] = fmt.Sprint(i)
	}
	for i := 0; b.Loop(); i++ {
		buckets.take(keys[i%len(keys)], now)
	}
}

// A brake counts each address for itself, beside what Limit counts, and takes signed-in people for no more than others.
func TestABrakeCountsByAddress(t *testing.T) {
	now := time.Date(2031, 5, 2, 12, 0, 0, 0, time.UTC)
	g := New(Options{Clock: func() time.Time { return now }, Proxies: []netip.Prefix{netip.MustParsePrefix("0.0.0.0/32")}})
	b := g.NewBrake(Rate{Burst: 2, PerSecond: 0.01})
	app := fiber.New()
	asks := func(from string) time.Duration {
		c := app.AcquireCtx(&fasthttp.RequestCtx{})
		defer app.ReleaseCtx(c)
		c.Request().Header.Set(fiber.HeaderXForwardedFor, from)
		return b.Wait(c)
	}
	for _, from := range []string{"192.0.2.1", "192.0.2.2"} {
		if first, second, third := asks(from), asks(from), asks(from); first != 0 || second != 0 || third < 99*time.Second {
			t.Errorf("%s waits %s, %s, %s", from, first, second, third)
		}
	}
	now = now.Add(101 * time.Second)
	if asks("192.0.2.1") != 0 || asks("192.0.2.1") == 0 {
		t.Error("one more after its time, and only one")
	}
}
