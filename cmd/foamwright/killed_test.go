package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"foamwright/db/dbtest"
)

// issuingAt names the books that a child of TestKilledWhileIssuing issues into.
const issuingAt = "FOAMWRIGHT_TEST_ISSUING_AT"

// TestIssueUntilKilled is the child: it issues one quote after another and tells each number once it was promised.
// Without books to issue into it has nothing to do.
func TestIssueUntilKilled(t *testing.T) {
	url := os.Getenv(issuingAt)
	if url == "" {
		return
	}
	s := openTill(t, url)
	for {
		q := s.issued("Target")
		fmt.Fprintf(os.Stdout, "issued %d %s\n", q.Number.No, q.Document)
	}
}

// A program that is killed while it issues leaves no number without its document and no gap: what was promised is
// there to the byte, and at most the one quote it was at is there besides.
func TestKilledWhileIssuing(t *testing.T) {
	url := dbtest.URL(t)
	hand, err := pgx.Connect(t.Context(), url)
	fatal(t, err)
	t.Cleanup(func() { _ = hand.Close(context.Background()) })
	promised := map[int]string{}
	for round := range 6 {
		for no, document := range issueAndDie(t, url, 2+round) {
			if _, twice := promised[no]; twice {
				t.Errorf("number %d was promised twice", no)
			}
			promised[no] = document
		}
		left := books(t, hand)
		for no, document := range promised {
			if left[no] != document {
				t.Errorf("number %d was promised with document %s; the books have %q", no, document, left[no])
			}
		}
		for no := 1; no <= len(left); no++ {
			if left[no] == "" {
				t.Errorf("number %d is missing of %d", no, len(left))
			}
		}
		if extra := len(left) - len(promised); extra < 0 || extra > round+1 {
			t.Errorf("%d issued, %d promised, after %d kills", len(left), len(promised), round+1)
		}
	}
}

// issueAndDie runs the child until it has issued so many, and kills it somewhere in the next one.
func issueAndDie(t *testing.T, url string, many int) map[int]string {
	t.Helper()
	child := exec.Command(os.Args[0], "-test.run=^TestIssueUntilKilled$")
	child.Env = append(os.Environ(), issuingAt+"="+url)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	fatal(t, err)
	fatal(t, child.Start())
	promised := map[int]string{}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		var no int
		var document string
		if _, err := fmt.Sscanf(lines.Text(), "issued %d %s", &no, &document); err != nil {
			t.Errorf("the child says %q", lines.Text())
		}
		promised[no] = document
		if len(promised) == many {
			time.AfterFunc(time.Duration(rand.N(60))*time.Millisecond, func() { _ = child.Process.Kill() })
		}
	}
	if err := child.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
		t.Fatalf("the child ended by itself: %v", err)
	}
	return promised
}

// books are the issued numbers with their documents' hashes, once the server has let go of the dead program; each
// document is hashed anew, and nothing lies about that no quote refers to.
func books(t *testing.T, hand *pgx.Conn) map[int]string {
	t.Helper()
	for {
		var others int
		fatal(t, hand.QueryRow(t.Context(), "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()").Scan(&others))
		if others == 0 {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	rows, err := hand.Query(t.Context(), "SELECT q.no, d.hash, d.bytes FROM quote q JOIN document d ON d.hash = q.document WHERE q.state = 'issued'")
	fatal(t, err)
	found := map[int]string{}
	for rows.Next() {
		var no int
		var hash, bytes []byte
		fatal(t, rows.Scan(&no, &hash, &bytes))
		if sum := sha256.Sum256(bytes); string(sum[:]) != string(hash) {
			t.Errorf("the document of number %d is damaged", no)
		}
		found[no] = fmt.Sprintf("%x", hash)
	}
	fatal(t, rows.Err())
	var last, documents, loose int
	fatal(t, hand.QueryRow(t.Context(), `SELECT (SELECT coalesce(max(last), 0) FROM document_number), (SELECT count(*) FROM document),
		(SELECT count(*) FROM snapshot s WHERE NOT EXISTS (SELECT FROM quote q WHERE q.snapshot = s.hash))`).Scan(&last, &documents, &loose))
	if last != len(found) || documents != len(found) || loose != 0 {
		t.Errorf("%d issued, the counter is at %d, %d documents, %d snapshots of nothing", len(found), last, documents, loose)
	}
	return found
}
