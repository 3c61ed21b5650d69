package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/jackc/pgx/v5"

	"foamwright/db"
	"foamwright/db/localpg"
)

// The server is killed in the middle of a round: what was promised before is there when it is up again, whole.
func TestServerKilledWhileAccepting(t *testing.T) {
	folder := t.TempDir()
	// Started by root the server runs as an account of its own, which has to get through to the folder.
	for _, f := range []string{folder, filepath.Dir(folder)} {
		fatal(t, os.Chmod(f, 0o711))
	}
	promised := map[string]bool{}
	for round := range rounds(2, 12) {
		server, err := localpg.Start(t.Context(), folder)
		fatal(t, err)
		books, err := db.Open(t.Context(), server.URL())
		fatal(t, err)
		fatal(t, books.Migrate(t.Context()))
		books.Close()
		func() {
			hand, err := pgx.Connect(t.Context(), server.URL())
			fatal(t, err)
			defer func() { _ = hand.Close(context.Background()) }()
			l := &lastTin{t: t, hand: hand}
			if round == 0 {
				l = openLastTin(t, server.URL())
			}
			var taken int
			fatal(t, l.hand.QueryRow(t.Context(), "SELECT coalesce(max(no), 0) / 1000 FROM quote").Scan(&taken))
			l.round = taken
			held := l.held()
			for id := range promised {
				if _, there := held[id]; !there {
					t.Errorf("%s was promised before the server died and is not there", id)
				}
			}
			l.consistent()
			all, _ := l.wanting(32)
			i := startInstance(t, server.URL())
			defer i.kill()
			backend := int(hand.PgConn().PID())
			many := 1 + rand.N(20)
			i.told = func(n int) {
				if n == many {
					killServer(t, backend)
				}
			}
			now, _ := i.accept(all) // the refused were told that the database does not answer
			for _, id := range now {
				promised[id] = true
			}
		}()
		<-server.Done()
		_ = server.Stop()
	}
	if len(promised) == 0 {
		t.Error("nothing was promised before the server died: the test shows nothing")
	}
}

// killServer ends the server that a connection is served by, without a word.
func killServer(t testing.TB, backend int) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", backend))
	if err != nil {
		t.Error(err)
		return
	}
	for line := range strings.Lines(string(status)) {
		var server int
		if n, _ := fmt.Sscanf(line, "PPid: %d", &server); n == 1 {
			if err := syscall.Kill(server, syscall.SIGKILL); err != nil {
				t.Error(err)
			}
		}
	}
}
