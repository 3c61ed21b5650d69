-- Months: what is summed over tens of thousands of documents lies in narrow rows by day, kept by triggers and never
-- written by hand.

-- +goose Up

-- +goose StatementBegin
CREATE FUNCTION follows_documents() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF pg_trigger_depth() > 1 THEN
        RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
    END IF;
    RAISE EXCEPTION 'what is summed follows from its documents' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd

-- A quote's number once, whatever versions it has: when its first one was issued, and its newest that was.
CREATE TABLE quoted (
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL,
    first timestamptz NOT NULL,
    quote_id uuid NOT NULL REFERENCES quote,
    currency text NOT NULL,
    net numeric NOT NULL,
    PRIMARY KEY (series, year, no)
);
INSERT INTO quoted SELECT series, year, no, (array_agg(issued_at ORDER BY version))[1], (array_agg(id ORDER BY version DESC))[1],
    (array_agg(currency ORDER BY version DESC))[1], (array_agg(net ORDER BY version DESC))[1]
    FROM quote WHERE state <> 'draft' GROUP BY series, year, no;
CREATE INDEX quoted_by_time ON quoted (currency, first) INCLUDE (net);
-- +goose StatementBegin
CREATE FUNCTION quote_is_issued() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO quoted VALUES (NEW.series, NEW.year, NEW.no, NEW.issued_at, NEW.id, NEW.currency, NEW.net)
        ON CONFLICT (series, year, no) DO UPDATE SET quote_id = excluded.quote_id, currency = excluded.currency, net = excluded.net;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER quote_is_issued AFTER INSERT OR UPDATE OF state ON quote FOR EACH ROW WHEN (NEW.state = 'issued') EXECUTE FUNCTION quote_is_issued();
CREATE TRIGGER quoted_follows BEFORE INSERT OR UPDATE OR DELETE ON quoted FOR EACH ROW EXECUTE FUNCTION follows_documents();

-- What months ask of an order stands beside its figures; net_off is what a cancellation took off the net.
ALTER TABLE order_figures ADD state text, ADD accepted timestamptz, ADD ended timestamptz,
    ADD net_off numeric NOT NULL DEFAULT 0 CHECK (fits(net_off, 4));
UPDATE order_figures f SET state = o.state, accepted = o.accepted, ended = o.ended FROM sales_order o WHERE o.id = f.order_id;
-- The tax in what was taken off is worked out as in the migration before.
UPDATE order_figures f SET net_off = w.agreed - f.net FROM sales_order o JOIN quote q ON q.id = o.quote_id,
    LATERAL (SELECT coalesce(sum(amount) FILTER (WHERE kind <> 'cancelled'), 0) AS agreed FROM order_line WHERE order_id = o.id) l,
    LATERAL (SELECT CASE WHEN (o.terms#>>'{Regime,Registered}')::boolean AND (o.terms#>>'{Regime,GrossPrices}')::boolean
        THEN round(l.agreed / (1 + coalesce((o.terms#>>'{Rate,Percent}')::numeric, 0) / 100), scale(q.gross)) ELSE l.agreed END AS agreed) w
    WHERE o.id = f.order_id AND o.state = 'cancelled';
ALTER TABLE order_figures ALTER state SET NOT NULL, ALTER accepted SET NOT NULL;
CREATE INDEX order_accepted ON order_figures (currency, accepted) INCLUDE (net, hours, state);
CREATE INDEX order_ended ON order_figures (currency, ended) WHERE ended IS NOT NULL;
-- +goose StatementBegin
CREATE FUNCTION order_stands() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    SELECT o.state, o.accepted, o.ended INTO NEW.state, NEW.accepted, NEW.ended FROM sales_order o WHERE o.id = NEW.order_id;
    RETURN NEW;
END $$;
-- +goose StatementEnd
CREATE TRIGGER order_stands BEFORE INSERT OR UPDATE OF net ON order_figures FOR EACH ROW EXECUTE FUNCTION order_stands();

-- What an order owes moves on the days of its invoices, credit notes and payments: max(0, invoiced − paid) at the end
-- of a day is the sum of its rows up to then. Who adds one of those holds the order's lock.
CREATE TABLE owed (
    order_id uuid NOT NULL REFERENCES sales_order,
    day date NOT NULL,
    currency text NOT NULL,
    moved numeric NOT NULL CHECK (moved <> 0),
    PRIMARY KEY (order_id, day)
);
INSERT INTO owed SELECT order_id, day, currency, moved FROM (
    SELECT order_id, day, currency, owed - coalesce(lag(owed) OVER (PARTITION BY order_id ORDER BY day), 0) AS moved FROM (
        SELECT order_id, day, min(currency) AS currency, greatest(0, sum(sum(amount)) OVER (PARTITION BY order_id ORDER BY day)) AS owed FROM (
            SELECT order_id, day, currency, CASE kind WHEN 'credit' THEN -gross ELSE gross END AS amount FROM invoice
            UNION ALL SELECT order_id, day, currency, -amount FROM payment) d
        GROUP BY order_id, day) s) m
    WHERE moved <> 0;
CREATE INDEX owed_by_day ON owed (currency, day) INCLUDE (moved);
-- +goose StatementBegin
CREATE FUNCTION owes_otherwise() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM owed WHERE order_id = NEW.order_id;
    INSERT INTO owed SELECT NEW.order_id, day, NEW.currency, moved FROM (
        SELECT day, owed - coalesce(lag(owed) OVER (ORDER BY day), 0) AS moved FROM (
            SELECT day, greatest(0, sum(sum(amount)) OVER (ORDER BY day)) AS owed FROM (
                SELECT day, CASE kind WHEN 'credit' THEN -gross ELSE gross END AS amount FROM invoice WHERE order_id = NEW.order_id
                UNION ALL SELECT day, -amount FROM payment WHERE order_id = NEW.order_id) d
            GROUP BY day) s) m
        WHERE moved <> 0;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER owes_otherwise AFTER INSERT ON invoice FOR EACH ROW EXECUTE FUNCTION owes_otherwise();
CREATE TRIGGER owes_otherwise AFTER INSERT ON payment FOR EACH ROW EXECUTE FUNCTION owes_otherwise();
CREATE TRIGGER owed_follows BEFORE INSERT OR UPDATE OR DELETE ON owed FOR EACH ROW EXECUTE FUNCTION follows_documents();
CREATE INDEX invoice_by_day ON invoice (currency, day) INCLUDE (kind, net, tax, gross);
CREATE INDEX payment_in_month ON payment (currency, day) INCLUDE (amount);

-- What stands under each rate of an invoice; below zero of a credit note. An invoice without tax has one row without a
-- rate.
CREATE TABLE invoice_tax (
    invoice_id uuid NOT NULL REFERENCES invoice,
    nth integer NOT NULL,
    day date NOT NULL,
    currency text NOT NULL,
    code text NOT NULL,
    percent numeric NOT NULL,
    category text NOT NULL,
    net numeric NOT NULL,
    tax numeric NOT NULL,
    PRIMARY KEY (invoice_id, nth)
);
-- +goose StatementBegin
CREATE FUNCTION taxes_of(i invoice) RETURNS SETOF invoice_tax LANGUAGE sql AS $$
    SELECT i.id, s.nth::integer, i.day, i.currency, s.share#>>'{Rate,Code}', (s.share#>>'{Rate,Percent}')::numeric, coalesce(s.share#>>'{Rate,Category}', ''),
            sign.n * split_part(s.share->>'Net', ' ', 1)::numeric, sign.n * split_part(s.share->>'Tax', ' ', 1)::numeric
        FROM json_array_elements(CASE json_typeof(i.body#>'{Totals,Shares}') WHEN 'array' THEN i.body#>'{Totals,Shares}' ELSE '[]' END) WITH ORDINALITY s (share, nth),
            (SELECT CASE i.kind WHEN 'credit' THEN -1 ELSE 1 END AS n) sign
    UNION ALL
    SELECT i.id, 1, i.day, i.currency, '', 0, '', CASE i.kind WHEN 'credit' THEN -i.net ELSE i.net END, CASE i.kind WHEN 'credit' THEN -i.tax ELSE i.tax END
        WHERE coalesce(json_typeof(i.body#>'{Totals,Shares}'), 'null') <> 'array' OR json_array_length(i.body#>'{Totals,Shares}') = 0
$$;
-- +goose StatementEnd
INSERT INTO invoice_tax SELECT t.* FROM invoice i, taxes_of(i) t;
CREATE INDEX invoice_tax_by_day ON invoice_tax (currency, day) INCLUDE (code, percent, category, net, tax);
-- +goose StatementBegin
CREATE FUNCTION invoice_is_taxed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO invoice_tax SELECT * FROM taxes_of(NEW);
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER invoice_is_taxed AFTER INSERT ON invoice FOR EACH ROW EXECUTE FUNCTION invoice_is_taxed();
CREATE TRIGGER invoice_tax_follows BEFORE INSERT OR UPDATE OR DELETE ON invoice_tax FOR EACH ROW EXECUTE FUNCTION follows_documents();

-- Minutes at the bench by order and day, corrections taken in, rework too.
CREATE TABLE worked (
    order_id uuid NOT NULL REFERENCES sales_order,
    day date NOT NULL,
    minutes numeric NOT NULL,
    PRIMARY KEY (order_id, day)
);
INSERT INTO worked SELECT order_id, day, sum(minutes) FROM time_log l WHERE NOT EXISTS (SELECT FROM time_log c WHERE c.corrects = l.id) GROUP BY order_id, day;
CREATE INDEX worked_by_day ON worked (day) INCLUDE (minutes);
-- +goose StatementBegin
CREATE FUNCTION log_counts() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.corrects IS NOT NULL THEN
        UPDATE worked w SET minutes = w.minutes - was.minutes FROM time_log was
            WHERE was.id = NEW.corrects AND w.order_id = was.order_id AND w.day = was.day;
    END IF;
    INSERT INTO worked AS w VALUES (NEW.order_id, NEW.day, NEW.minutes) ON CONFLICT (order_id, day) DO UPDATE SET minutes = w.minutes + excluded.minutes;
    RETURN NULL;
END $$;
-- +goose StatementEnd
-- After log_is_worked, which locks the order's figures: its name comes later.
CREATE TRIGGER log_is_worked_on_a_day AFTER INSERT ON time_log FOR EACH ROW EXECUTE FUNCTION log_counts();
CREATE TRIGGER worked_follows BEFORE INSERT OR UPDATE OR DELETE ON worked FOR EACH ROW EXECUTE FUNCTION follows_documents();

-- Where a movement belongs: 0 bought, 1 taken for an order or brought back, 2 lost or found without one.
ALTER TABLE movement ADD flow smallint NOT NULL GENERATED ALWAYS AS (CASE WHEN kind = 'receipt' THEN 0 WHEN order_id IS NULL THEN 2 ELSE 1 END) STORED;
CREATE INDEX movement_by_time ON movement (at) INCLUDE (flow, cost, currency, item);
DROP INDEX movement_of_order;
CREATE INDEX movement_of_order ON movement (order_id) INCLUDE (at, cost, flow) WHERE order_id IS NOT NULL;
