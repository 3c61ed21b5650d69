package main

import (
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
)

// grown are the books of a workshop that has been busy for five years: the half year of the demo (which must be loaded
// with its history) again and again, so many orders of it, further and further back, with quotes, answers, invoices,
// payments, logs, plans and a ledger; and open quotes of the last weeks, one for each hundred orders. Copies keep what
// the demo's documents say, so that rows, bodies and sums agree; the sums that triggers would have kept are worked out
// once, with them switched off, and held against the rows at the end.
func grown(b testing.TB, at string, orders int) {
	b.Helper()
	conn, err := pgx.Connect(b.Context(), at)
	fatal(b, err)
	defer func() { fatal(b, conn.Close(b.Context())) }()
	for _, statement := range growth() {
		args := []any{pgx.QueryExecModeExec}
		if statement.counts {
			args = append(args, orders)
		}
		if _, err := conn.Exec(b.Context(), statement.sql, args...); err != nil {
			b.Fatal(statement.sql, err)
		}
	}
	for _, sum := range []string{
		`SELECT count(*) FROM balance b LEFT JOIN LATERAL (SELECT coalesce(sum(m.quantity), 0) AS q, coalesce(sum(m.cost), 0) AS c FROM movement m LEFT JOIN lot l ON l.id = m.lot WHERE m.item = b.item AND l.shape IS NULL) s ON true WHERE (b.on_hand, b.value) <> (s.q, s.c)`,
		`SELECT count(*) FROM lot l LEFT JOIN (SELECT lot, sum(quantity) AS q, sum(lot_cost) AS c FROM movement GROUP BY lot) s ON s.lot = l.id WHERE (l.left_over, l.value) <> (coalesce(s.q, 0), coalesce(s.c, 0))`,
		`SELECT count(*) FROM order_figures f LEFT JOIN (SELECT order_id, -sum(cost) AS c FROM movement GROUP BY order_id) s ON s.order_id = f.order_id WHERE f.took_material <> coalesce(s.c, 0)`,
		`SELECT count(*) FROM order_figures f LEFT JOIN (SELECT order_id, sum(minutes) AS c FROM time_log GROUP BY order_id) s ON s.order_id = f.order_id WHERE f.took_minutes + f.took_rework <> coalesce(s.c, 0)`,
	} {
		var off int
		fatal(b, conn.QueryRow(b.Context(), sum).Scan(&off))
		if off > 0 {
			b.Fatalf("%d rows disagree: %s", off, sum)
		}
	}
}

// growth is how: a copy is a number, the days it lies back, and IDs made of the old one and its number.
func growth() []struct {
	sql    string
	counts bool // takes the number of orders
} {
	type step = struct {
		sql    string
		counts bool
	}
	return []step{
		{`CREATE FUNCTION pg_temp.again(id uuid, n integer) RETURNS uuid LANGUAGE sql IMMUTABLE AS $$SELECT md5(id::text || n)::uuid$$`, false},
		{`CREATE TEMP TABLE kept AS
			SELECT q.id, q.series, q.year, q.no, o.id AS order_id FROM quote q LEFT JOIN sales_order o ON o.quote_id = q.id
			WHERE q.issued_at > now() - interval '190 days' AND q.issued_at < now() - interval '6 days'
				AND CASE q.state WHEN 'accepted' THEN o.ended IS NOT NULL WHEN 'issued' THEN q.valid_until < now() ELSE q.state <> 'draft' END`, false},
		{`CREATE TEMP TABLE copy AS SELECT n, 190 + (n::bigint * 1640 / c.copies)::integer AS days FROM (SELECT greatest(1, $1::integer / count(order_id)::integer) AS copies FROM kept) c, generate_series(1, c.copies) n`, true},
		{`CREATE TEMP TABLE printed AS SELECT q.id, q.form, q.options, (q.printed::jsonb - 'Said' - 'Others' - 'Picture')::json AS printed FROM quote q`, false},
		{`CREATE TEMP TABLE number AS
			SELECT no AS was, n, year, row_number() OVER (PARTITION BY year ORDER BY first, n, no)::integer AS no FROM (
				SELECT k.no, c.n, min(q.issued_at) - c.days * interval '1 day' AS first, extract(year FROM min(q.issued_at) - c.days * interval '1 day')::integer AS year
				FROM kept k JOIN quote q ON q.id = k.id, copy c GROUP BY k.no, c.n, c.days) f`, false},
		{`INSERT INTO customer (id, name, email, phone, address, note, changed, language)
			SELECT pg_temp.again(c.id, n), c.name || ' ' || n, c.email, c.phone, c.address, '', c.changed, c.language
			FROM (SELECT DISTINCT customer_id FROM quote JOIN kept USING (id)) k JOIN customer c ON c.id = k.customer_id, generate_series(0, (SELECT max(n) / 3 FROM copy)) n`, false},
		{`INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed, issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, options, design_id, design_version)
			SELECT pg_temp.again(q.id, c.n), 'K', x.year, x.no, q.version, q.state, pg_temp.again(q.customer_id, c.n / 3), q.title, p.form, q.edit, q.created - b, q.changed - b, q.issued_at - b, q.issued_by, q.valid_until - b,
				q.currency, q.net, q.gross, q.snapshot, q.document, p.printed, p.options, q.design_id, q.design_version
			FROM copy c, make_interval(days => c.days) b, kept k JOIN quote q ON q.id = k.id JOIN printed p ON p.id = q.id JOIN number x ON x.was = k.no WHERE x.n = c.n ORDER BY q.issued_at - b`, false},
		{`INSERT INTO quote_figures SELECT pg_temp.again(f.quote_id, n), ` + reckoned + ` FROM copy, kept k JOIN quote_figures f ON f.quote_id = k.id`, false},
		{`INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency)
			SELECT pg_temp.again(a.quote_id, n), outcome, at - days * interval '1 day', name, by_whom, online, options, document, reason, gross, currency FROM copy, kept k JOIN answer a ON a.quote_id = k.id`, false},
		{`INSERT INTO enquiry (id, state, words, name, mail, phone, language, answers, letter, quote_id, reason, edit, created, changed, by_whom)
			SELECT pg_temp.again(e.id, n), state, words, name, mail, phone, language, answers, letter, pg_temp.again(quote_id, n), reason, edit, created - days * interval '1 day', changed - days * interval '1 day', by_whom
			FROM copy, kept k JOIN enquiry e ON e.quote_id = k.id`, false},
		{`INSERT INTO sales_order (id, series, year, no, quote_id, customer_id, title, state, accepted, deposit_due, paid, starts, ended, reason, edit, terms, currency, deposit, agreed)
			SELECT pg_temp.again(o.id, n), 'K', extract(year FROM o.accepted - b), row_number() OVER (PARTITION BY extract(year FROM o.accepted - b) ORDER BY o.accepted - b, n, o.no), pg_temp.again(o.quote_id, n), pg_temp.again(o.customer_id, n / 3),
				o.title, o.state, o.accepted - b, o.deposit_due - days, o.paid - b, o.starts - days, o.ended - b, o.reason, o.edit, o.terms, o.currency, o.deposit, o.agreed
			FROM copy, make_interval(days => days) b, kept k JOIN sales_order o ON o.id = k.order_id ORDER BY o.accepted - b`, false},
		{`INSERT INTO order_line SELECT pg_temp.again(order_id, n), nth, kind, key, label, quantity, amount FROM copy, kept k JOIN order_line l USING (order_id)`, false},
		{`INSERT INTO bench_plan SELECT pg_temp.again(order_id, n), not_before - days * interval '1 day', again, planned - days * interval '1 day' FROM copy, kept k JOIN bench_plan l USING (order_id)`, false},
		{`INSERT INTO slot SELECT pg_temp.again(order_id, n), nth, task, people, begins - b, ends - b, ready - b, why, for_nth, behind FROM copy, make_interval(days => days) b, kept k JOIN slot l USING (order_id)`, false},
		{`ALTER TABLE order_figures DISABLE TRIGGER took_follows`, false},
		{`INSERT INTO order_figures (order_id, quantity, currency, net, gross, ` + strings.ReplaceAll(parts, "f.", "") + `, took_material, took_minutes, took_rework, design_id, design_version)
			SELECT pg_temp.again(f.order_id, n), f.quantity, f.currency, f.net, f.gross, ` + parts + `, took_material, took_minutes, took_rework, f.design_id, f.design_version FROM copy, kept k JOIN order_figures f USING (order_id)`, false},
		{`ALTER TABLE order_figures ENABLE TRIGGER took_follows`, false},
		{`ALTER TABLE invoice DISABLE TRIGGER owes_otherwise`, false},
		{`INSERT INTO invoice (id, token, kind, series, year, no, order_id, customer_id, buyer, title, issued, day, due, currency, net, tax, gross, credits, reference, document, xml, body)
			SELECT pg_temp.again(i.id, n), 'K' || i.token || n, i.kind, 'K', extract(year FROM i.issued - b), row_number() OVER (PARTITION BY extract(year FROM i.issued - b), i.kind = 'credit' ORDER BY i.issued - b, n, i.no), pg_temp.again(i.order_id, n),
				pg_temp.again(i.customer_id, n / 3), i.buyer, i.title, i.issued - b, i.day - days, i.due - days, i.currency, i.net, i.tax, i.gross, pg_temp.again(i.credits, n), '', i.document, i.xml, i.body
			FROM copy, make_interval(days => days) b, kept k JOIN invoice i USING (order_id) ORDER BY (i.kind = 'credit'), i.issued - b`, false},
		{`ALTER TABLE payment DISABLE TRIGGER USER`, false},
		{`INSERT INTO payment SELECT pg_temp.again(p.id, n), 'K' || p.token || n, pg_temp.again(p.order_id, n), p.day - days, p.amount, p.currency, p.way, p.note, p.by_whom, p.at - days * interval '1 day', pg_temp.again(p.takes_back, n)
			FROM copy, kept k JOIN payment p USING (order_id) ORDER BY p.at - days * interval '1 day'`, false},
		{`ALTER TABLE payment ENABLE TRIGGER USER; ALTER TABLE invoice ENABLE TRIGGER owes_otherwise`, false},
		{`ALTER TABLE owed DISABLE TRIGGER USER; DELETE FROM owed; INSERT INTO owed SELECT order_id, day, currency, moved FROM (
			SELECT order_id, day, currency, owed - coalesce(lag(owed) OVER (PARTITION BY order_id ORDER BY day), 0) AS moved FROM (
				SELECT order_id, day, min(currency) AS currency, greatest(0, sum(sum(amount)) OVER (PARTITION BY order_id ORDER BY day)) AS owed FROM (
					SELECT order_id, day, currency, CASE kind WHEN 'credit' THEN -gross ELSE gross END AS amount FROM invoice
					UNION ALL SELECT order_id, day, currency, -amount FROM payment) d
				GROUP BY order_id, day) s) m
			WHERE moved <> 0; ALTER TABLE owed ENABLE TRIGGER USER`, false},
		{`ALTER TABLE time_log DISABLE TRIGGER USER`, false},
		{`INSERT INTO time_log SELECT pg_temp.again(l.id, n), pg_temp.again(l.order_id, n), l.step, l.minutes, l.day - days, l.rework, l.note, l.by_whom, l.written - b, l.kept - b, pg_temp.again(l.corrects, n)
			FROM copy, make_interval(days => days) b, kept k JOIN time_log l USING (order_id) ORDER BY l.written - b`, false},
		{`ALTER TABLE time_log ENABLE TRIGGER USER`, false},
		{`ALTER TABLE worked DISABLE TRIGGER USER; DELETE FROM worked; INSERT INTO worked SELECT order_id, day, sum(minutes) FROM time_log l
			WHERE NOT EXISTS (SELECT FROM time_log c WHERE c.corrects = l.id) GROUP BY order_id, day; ALTER TABLE worked ENABLE TRIGGER USER`, false},
		// A lot serves forty copies: it is received before the first of them takes of it, and a fiftieth of it is left.
		{`ALTER TABLE lot DISABLE TRIGGER USER; ALTER TABLE balance DISABLE TRIGGER USER; ALTER TABLE movement DISABLE TRIGGER USER`, false},
		{`CREATE TEMP TABLE used AS SELECT m.lot, m.item, m.unit, m.currency, l.shape IS NOT NULL AS cut, -sum(m.quantity) AS quantity, -sum(m.cost) AS cost, -sum(m.lot_cost) AS lot_cost
			FROM kept JOIN movement m USING (order_id) JOIN lot l ON l.id = m.lot GROUP BY m.lot, m.item, m.unit, m.currency, l.shape IS NOT NULL HAVING sum(m.quantity) < 0 AND sum(m.cost) <= 0 AND sum(m.lot_cost) <= 0`, false},
		{`CREATE TEMP TABLE batch AS SELECT n / 40 AS batch, max(days) + 200 AS days, count(*) AS copies FROM copy GROUP BY n / 40`, false},
		{`INSERT INTO lot (id, item, received, supplier, label, shape) SELECT pg_temp.again(l.id, batch), l.item, now() - days * interval '1 day', l.supplier, l.label, l.shape FROM batch, used u JOIN lot l ON l.id = u.lot`, false},
		{`INSERT INTO movement (at, item, unit, currency, lot, kind, quantity, cost, lot_cost, order_id, note, by_whom)
			SELECT * FROM (
				SELECT now() - days * interval '1 day' AS at, u.item, u.unit, u.currency, pg_temp.again(u.lot, batch), 'receipt', round(u.quantity * copies * 1.02, 4), round(u.cost * copies * 1.02, 4), round(u.lot_cost * copies * 1.02, 4), NULL::uuid, '', 'Wren Calloway'
				FROM batch, used u
				UNION ALL SELECT m.at - days * interval '1 day', m.item, m.unit, m.currency, pg_temp.again(m.lot, n / 40), m.kind, m.quantity, m.cost, m.lot_cost, pg_temp.again(m.order_id, n), m.note, m.by_whom
				FROM copy, kept k JOIN movement m USING (order_id) JOIN used u ON u.lot = m.lot) m ORDER BY at`, false},
		{`UPDATE lot l SET left_over = s.q, value = s.c FROM (SELECT lot, sum(quantity) AS q, sum(lot_cost) AS c FROM movement GROUP BY lot) s WHERE s.lot = l.id`, false},
		{`UPDATE balance b SET on_hand = s.q, value = s.c, offcuts = s.oq, offcut_value = s.oc FROM (
			SELECT m.item, coalesce(sum(m.quantity) FILTER (WHERE l.shape IS NULL), 0) AS q, coalesce(sum(m.cost) FILTER (WHERE l.shape IS NULL), 0) AS c,
				coalesce(sum(m.quantity) FILTER (WHERE l.shape IS NOT NULL), 0) AS oq, coalesce(sum(m.cost) FILTER (WHERE l.shape IS NOT NULL), 0) AS oc
			FROM movement m LEFT JOIN lot l ON l.id = m.lot GROUP BY m.item) s WHERE s.item = b.item`, false},
		{`ALTER TABLE lot ENABLE TRIGGER USER; ALTER TABLE balance ENABLE TRIGGER USER; ALTER TABLE movement ENABLE TRIGGER USER`, false},
		{`CREATE TEMP TABLE open AS SELECT q.id, q.customer_id, row_number() OVER () AS nth FROM quote q WHERE q.state = 'issued' AND q.valid_until > now() AND q.series = ''`, false},
		{`INSERT INTO quote (id, series, year, no, version, state, customer_id, title, form, edit, created, changed, issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed, options, design_id, design_version)
			SELECT pg_temp.again(q.id, n), 'L', extract(year FROM now()), n, 1, 'issued', q.customer_id, q.title, p.form, q.edit, q.created, q.changed, q.issued_at, q.issued_by, q.valid_until, q.currency, q.net, q.gross, q.snapshot, q.document, p.printed, p.options, q.design_id, q.design_version
			FROM generate_series(1, $1::integer / 100) n JOIN open x ON x.nth = n % (SELECT count(*) FROM open) + 1 JOIN quote q ON q.id = x.id JOIN printed p ON p.id = q.id`, true},
		{`INSERT INTO quote_figures SELECT pg_temp.again(f.quote_id, n), ` + reckoned + ` FROM generate_series(1, $1::integer / 100) n JOIN open x ON x.nth = n % (SELECT count(*) FROM open) + 1 JOIN quote_figures f ON f.quote_id = x.id`, true},
		{`VACUUM ANALYZE`, false}, // as a running server does by itself
	}
}

const (
	parts    = `f.fee, f.material, f.handling, f.labour, f.bought_in, f.contingency, f.hours, f.low, f.high, f.former_days, f.drying_days`
	reckoned = `f.quantity, f.currency, f.net, ` + parts
)
