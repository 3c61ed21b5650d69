package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// acceptingAt names the books that a child accepts quotes in.
const acceptingAt = "FOAMWRIGHT_TEST_ACCEPTING_AT"

// TestAcceptWhatIsAsked is the child, one program instance: of every line of quote ids it reads it accepts all at
// once, sixteen clients, and tells each order once it was promised.
func TestAcceptWhatIsAsked(t *testing.T) {
	url := os.Getenv(acceptingAt)
	if url == "" {
		return
	}
	books, err := db.Open(t.Context(), url)
	fatal(t, err)
	defer books.Close()
	service := sales.NewService(books.Sales(), plainLetters{}, thursday)
	var telling sync.Mutex
	for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
		var clients sync.WaitGroup
		for _, id := range strings.Fields(lines.Text()) {
			clients.Go(func() {
				got, err := service.Accept(context.Background(), id, sales.Choice{}, "Hedda")
				telling.Lock()
				defer telling.Unlock()
				if err != nil {
					fmt.Fprintf(os.Stdout, "refused %s %v\n", id, err)
					return
				}
				fmt.Fprintf(os.Stdout, "accepted %s\n", got.Order.QuoteID)
			})
		}
		clients.Wait()
		fmt.Println("round over")
	}
}

// instance is a running child.
type instance struct {
	t   testing.TB
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Scanner

	told func(promised int) // of every promise; nil for nobody
}

func startInstance(t testing.TB, url string) *instance {
	t.Helper()
	i := &instance{t: t, cmd: exec.Command(os.Args[0], "-test.run=^TestAcceptWhatIsAsked$")}
	i.cmd.Env = append(os.Environ(), acceptingAt+"="+url)
	var err error
	i.in, err = i.cmd.StdinPipe()
	fatal(t, err)
	out, err := i.cmd.StdoutPipe()
	fatal(t, err)
	i.out = bufio.NewScanner(out)
	fatal(t, i.cmd.Start())
	t.Cleanup(i.kill)
	return i
}

func (i *instance) kill() {
	if i.cmd.ProcessState == nil {
		_ = i.cmd.Process.Kill()
		_ = i.cmd.Wait()
	}
}

// accept sends a round and reads what was promised until the round is over or the instance died.
func (i *instance) accept(ids []string) (promised, refused []string) {
	_, _ = fmt.Fprintln(i.in, strings.Join(ids, " ")) // a dead instance is seen by what it says
	for i.out.Scan() {
		what, rest, _ := strings.Cut(i.out.Text(), " ")
		switch what {
		case "accepted":
			if promised = append(promised, rest); i.told != nil {
				i.told(len(promised))
			}
		case "refused":
			refused = append(refused, rest)
		case "round":
			return promised, refused
		}
	}
	return promised, refused
}

// plainLetters prints letters as their names: what is looked at here is the shelf.
type plainLetters struct{ sales.Renderer }

func (plainLetters) Letter(_ context.Context, l sales.Letter) ([]byte, error) {
	return []byte(l.Name), nil
}

// lastTin is books with one item of which one litre is there, and quotes that all want some of it.
type lastTin struct {
	t       testing.TB
	hand    *pgx.Conn
	service *stock.Service
	books   *db.DB
	round   int
}

const tin = "latex"

func openLastTin(t testing.TB, url string) *lastTin {
	t.Helper()
	till := openTill(t, url)
	q := till.issued("Target")
	hand, err := pgx.Connect(t.Context(), url)
	fatal(t, err)
	t.Cleanup(func() { _ = hand.Close(context.Background()) })
	books, err := db.Open(t.Context(), url)
	fatal(t, err)
	t.Cleanup(books.Close)
	l := &lastTin{t: t, hand: hand, books: books, service: stock.NewService(books.Stock(), thursday)}
	_, err = l.service.Receive(t.Context(), stock.Delivery{Item: tin, Quantity: decimal.NewFromInt(1), Cost: decimal.NewFromInt(16)}, "wren")
	fatal(t, err)
	l.exec(`CREATE TABLE pattern AS SELECT * FROM quote WHERE id = $1`, q.ID)
	return l
}

func (l *lastTin) exec(sql string, args ...any) {
	l.t.Helper()
	_, err := l.hand.Exec(l.t.Context(), sql, args...)
	fatal(l.t, err)
}

// wanting is many issued quotes, each taking between 0.010 and 0.129 l of the tin and a spoon of another item, in
// either order.
func (l *lastTin) wanting(many int) (all []string, litres map[string]decimal.Decimal) {
	l.t.Helper()
	l.round++
	litres = map[string]decimal.Decimal{}
	rows, err := l.hand.Query(l.t.Context(), `INSERT INTO quote SELECT (jsonb_populate_record(p, to_jsonb(p) || jsonb_build_object('id', gen_random_uuid(), 'no', $1 * 1000 + n, 'printed', jsonb_build_object('Takes',
			CASE WHEN n % 2 = 0 THEN jsonb_build_array(a, b) ELSE jsonb_build_array(b, a) END)))).*
		FROM pattern p, generate_series(1, $2) n, LATERAL (SELECT jsonb_build_object('Item', $3::text, 'Name', 'Latex', 'Unit', 'l', 'Quantity', (0.01 + (n * 37 % 120) * 0.001)::text) AS a,
			jsonb_build_object('Item', 'filler', 'Name', 'Filler', 'Unit', 'l', 'Quantity', '0.001') AS b) takes
		RETURNING id::text, (SELECT t->>'Quantity' FROM json_array_elements(printed->'Takes') t WHERE t->>'Item' = $3)`, l.round, many, tin)
	fatal(l.t, err)
	var id, quantity string
	_, err = pgx.ForEachRow(rows, []any{&id, &quantity}, func() error {
		all = append(all, id)
		litres[id] = decimal.RequireFromString(quantity)
		return nil
	})
	fatal(l.t, err)
	return all, litres
}

// held is what is set aside of the tin for each quote's order.
func (l *lastTin) held() map[string]decimal.Decimal {
	l.t.Helper()
	rows, err := l.hand.Query(l.t.Context(), `SELECT o.quote_id::text, p.needed, p.reserved FROM sales_order o JOIN promise p ON p.order_id = o.id AND p.item = $1 WHERE o.state = 'accepted'`, tin)
	fatal(l.t, err)
	held := map[string]decimal.Decimal{}
	var id string
	var needed, reserved decimal.Decimal
	_, err = pgx.ForEachRow(rows, []any{&id, &needed, &reserved}, func() error {
		held[id] = reserved
		return nil
	})
	fatal(l.t, err)
	return held
}

// over ends a round: every order is cancelled, and the whole tin is free again.
func (l *lastTin) over() {
	l.t.Helper()
	l.exec(`DELETE FROM promise`)
	l.exec(`UPDATE sales_order SET state = 'cancelled', ended = now(), reason = 'the round is over' WHERE state = 'accepted'`)
	l.consistent()
}

// consistent holds balances against lots, movements and promises.
func (l *lastTin) consistent() {
	l.t.Helper()
	var wrong int
	fatal(l.t, l.hand.QueryRow(l.t.Context(), `SELECT count(*) FROM balance b WHERE
		on_hand + offcuts <> coalesce((SELECT sum(quantity) FROM movement m WHERE m.item = b.item), 0)
		OR on_hand + offcuts <> coalesce((SELECT sum(left_over) FROM lot WHERE lot.item = b.item), 0)
		OR value + offcut_value <> coalesce((SELECT sum(cost) FROM movement m WHERE m.item = b.item), 0)
		OR reserved <> coalesce((SELECT sum(reserved) FROM promise p WHERE p.item = b.item), 0)
		OR EXISTS (SELECT FROM sales_order o WHERE o.state = 'accepted' AND (SELECT count(*) FROM promise p WHERE p.order_id = o.id) <> 2)`).Scan(&wrong))
	if wrong > 0 {
		l.t.Errorf("round %d: %d balances do not follow from the ledger", l.round, wrong)
	}
}

// shared is nil when what is set aside is exactly what was there, or all that was asked for.
func (l *lastTin) shared(litres map[string]decimal.Decimal) {
	l.t.Helper()
	held := l.held()
	asked, sum := decimal.Zero, decimal.Zero
	for id, reserved := range held {
		sum = sum.Add(reserved)
		asked = asked.Add(litres[id])
		if reserved.GreaterThan(litres[id]) {
			l.t.Errorf("round %d: %s asked for %s and has %s", l.round, id, litres[id], reserved)
		}
	}
	if want := decimal.Min(asked, decimal.NewFromInt(1)); !sum.Equal(want) {
		l.t.Errorf("round %d: %s of %s are set aside, want %s", l.round, sum, asked, want)
	}
}

func rounds(usual, full int) int {
	if os.Getenv("FOAMWRIGHT_TORTURE") != "" {
		return full
	}
	return usual
}

// Thirty-two clients on two program instances accept quotes that together want far more than the last tin: nobody
// is turned away, what is set aside sums to exactly what was there, the rest is short, and no deadlock reaches
// anybody.
func TestEverybodyWantsTheLastTin(t *testing.T) {
	t.Parallel()
	url := dbtest.URL(t)
	l := openLastTin(t, url)
	instances := []*instance{startInstance(t, url), startInstance(t, url)}
	for range rounds(8, 1000) {
		all, litres := l.wanting(32)
		var both sync.WaitGroup
		for i, half := range [][]string{all[:16], all[16:]} {
			both.Go(func() {
				promised, refused := instances[i].accept(half)
				if len(promised) != 16 || len(refused) > 0 {
					t.Errorf("round %d: %d of 16 accepted; %v", l.round, len(promised), refused)
				}
			})
		}
		both.Wait()
		if held := l.held(); len(held) != 32 {
			t.Fatalf("round %d: %d of 32 hold something or wait for it", l.round, len(held))
		}
		l.shared(litres)
		l.over()
		if t.Failed() {
			return
		}
	}
}

// An instance that is killed in the middle of a round takes nothing with it that it promised and leaves nothing
// half done.
func TestKilledWhileAccepting(t *testing.T) {
	url := dbtest.URL(t)
	l := openLastTin(t, url)
	for range rounds(8, 100) {
		i := startInstance(t, url)
		all, litres := l.wanting(32)
		time.AfterFunc(time.Duration(rand.N(60))*time.Millisecond, func() { _ = i.cmd.Process.Kill() })
		promised, refused := i.accept(all)
		if len(refused) > 0 {
			t.Errorf("round %d: %v", l.round, refused)
		}
		i.kill()
		l.alone()
		held := l.held()
		for _, id := range promised {
			if _, there := held[id]; !there {
				t.Errorf("round %d: %s was promised and is not there", l.round, id)
			}
		}
		l.shared(litres)
		l.over()
	}
}

// alone waits until the server has let go of a dead instance.
func (l *lastTin) alone() {
	l.t.Helper()
	for others := 1; others > 0; {
		fatal(l.t, l.hand.QueryRow(l.t.Context(), `SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid() AND state <> 'idle'`).Scan(&others))
		time.Sleep(5 * time.Millisecond)
	}
}
