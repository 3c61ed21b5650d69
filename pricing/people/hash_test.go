package people

import (
	"context"
	"crypto/rand"
	"errors"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"foamwright/materials/fault"

	"pgregory.net/rapid"
)

// small keeps tests quick; the work itself is the library's.
func small() Params { return Params{Memory: 64, Passes: 1, Threads: 1} }

// TestKnownHashes reads hashes that the reference implementation of Argon2 publishes in its own test file
// (phc-winner-argon2, src/test.c; looked up in quotations of it).
func TestKnownHashes(t *testing.T) {
	h := NewHasher(small(), 1, rand.Reader)
	for stored, password := range map[string]string{
		"$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc": "password",
		"$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4":   "password",
		"$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc":   "password",
	} {
		fits, stale, err := h.Check(t.Context(), stored, password)
		if err != nil || !fits || !stale {
			t.Errorf("%s: fits %v, stale %v, %v", stored, fits, stale, err)
		}
		if fits, _, _ := h.Check(t.Context(), stored, password+" "); fits {
			t.Errorf("%s fits another password", stored)
		}
	}
}

func TestHashFitsOnlyItsPassword(t *testing.T) {
	h := NewHasher(small(), 2, rand.Reader)
	rapid.Check(t, func(t *rapid.T) {
		password, other := rapid.String().Draw(t, "password"), rapid.String().Draw(t, "other")
		stored, err := h.Hash(context.Background(), password)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := h.Hash(context.Background(), password)
		if stored == again {
			t.Fatal("two hashes share a salt")
		}
		fits, stale, err := h.Check(context.Background(), stored, password)
		if !fits || stale || err != nil {
			t.Fatalf("fits %v, stale %v, %v", fits, stale, err)
		}
		if fits, _, _ := h.Check(context.Background(), stored, other); fits != (other == password) {
			t.Fatalf("%q fits the hash of %q", other, password)
		}
	})
}

func TestOtherParametersAreStale(t *testing.T) {
	old, _ := NewHasher(small(), 1, rand.Reader).Hash(t.Context(), "three old boots")
	fits, stale, err := NewHasher(Params{Memory: 64, Passes: 2, Threads: 1}, 1, rand.Reader).Check(t.Context(), old, "three old boots")
	if !fits || !stale || err != nil {
		t.Fatalf("fits %v, stale %v, %v", fits, stale, err)
	}
}

// TestUnreadableHashCostsTheSame holds the work, not the clock: the same derivation runs whether there is a hash or not.
func TestUnreadableHashCostsTheSame(t *testing.T) {
	h := NewHasher(small(), 1, rand.Reader)
	stored, _ := h.Hash(t.Context(), "three old boots")
	type work struct {
		Params
		salt, key int
	}
	var done []work
	h.derive = func(_, salt []byte, p Params, n uint32) []byte {
		done = append(done, work{p, len(salt), int(n)})
		return make([]byte, n) // the key of zeros that an absent hash is compared with
	}
	for _, s := range []string{stored, "", "plain", "$argon2id$v=19$m=4294967295,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"} {
		if fits, _, err := h.Check(t.Context(), s, "three old boots"); fits || err != nil {
			t.Errorf("%q: fits %v, %v", s, fits, err)
		}
	}
	for _, w := range done {
		if w != done[0] {
			t.Errorf("work %+v, want %+v", w, done[0])
		}
	}
	if len(done) != 4 {
		t.Errorf("%d derivations, want 4", len(done))
	}
}

func TestHasherRunsAFewAtOnce(t *testing.T) {
	const atOnce = 2
	h := NewHasher(small(), atOnce, rand.Reader)
	var running, most atomic.Int32
	h.derive = func(_, _ []byte, _ Params, n uint32) []byte {
		now := running.Add(1)
		for old := most.Load(); now > old && !most.CompareAndSwap(old, now); old = most.Load() {
		}
		runtime.Gosched()
		running.Add(-1)
		return make([]byte, n)
	}
	var wg sync.WaitGroup
	for range 64 {
		wg.Go(func() {
			if _, err := h.Hash(context.Background(), "three old boots"); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	if most.Load() > atOnce {
		t.Errorf("%d hashes ran at once", most.Load())
	}
}

func TestHasherIsBusy(t *testing.T) {
	h := NewHasher(small(), 1, rand.Reader)
	h.slots <- struct{}{}
	ctx, cancel := context.WithTimeout(t.Context(), time.Millisecond)
	defer cancel()
	if _, err := h.Hash(ctx, "three old boots"); fault.KindOf(err) != fault.TooMany || !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a hash that never got its turn: %v", err)
	}
}

func TestNoRandomnessNoHash(t *testing.T) {
	h := NewHasher(small(), 1, strings.NewReader("short"))
	if s, err := h.Hash(t.Context(), "three old boots"); err == nil {
		t.Errorf("hashed with half a salt: %s", s)
	}
	if s, err := newSecret(strings.NewReader("short")); err == nil {
		t.Errorf("made the secret %s", s)
	}
}

// FuzzPHC: whatever is in the row, reading it neither panics nor takes more than the bounds, and what is
// read is written the same.
func FuzzPHC(f *testing.F) {
	f.Add("$argon2id$v=19$m=19456,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc")
	f.Add("$argon2id$v=19$m=99999999,t=0,p=0$$")
	f.Add("$argon2i$v=16$m=64,t=1,p=1$c29tZXNhbHQ$CTFh")
	f.Fuzz(func(t *testing.T, s string) {
		p, ok := parsePHC(s)
		if !ok {
			return
		}
		if top := maxParams(); p.Memory > top.Memory || p.Passes > top.Passes || p.Threads > top.Threads || p.Passes == 0 || p.Threads == 0 {
			t.Fatalf("%q asks for %+v", s, p.Params)
		}
		if p.String() != s {
			t.Fatalf("%q reads as %q", s, p.String())
		}
	})
}

// BenchmarkSignInHash is one password check as it runs in the workshop.
func BenchmarkSignInHash(b *testing.B) {
	h := NewHasher(DefaultParams(), 1, rand.Reader)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := h.Hash(b.Context(), "three old boots"); err != nil {
			b.Fatal(err)
		}
	}
}
