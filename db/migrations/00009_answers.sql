-- What becomes of a quote: the options it offers, the customer's answer as it was given, and what an order comes to,
-- line by line, by the rules of the day it was quoted.

-- +goose Up

ALTER TABLE quote DROP CONSTRAINT quote_state_check;
ALTER TABLE quote ADD CONSTRAINT quote_state_check CHECK (state IN ('draft', 'issued', 'replaced', 'accepted', 'declined'));
-- json, not jsonb: what was typed comes back as it was typed.
ALTER TABLE quote ADD options json NOT NULL DEFAULT '[]';

-- An issued quote may be replaced by a later version or be answered: everything but its state stays.
-- +goose StatementBegin
CREATE OR REPLACE FUNCTION issued_quote_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.state = 'draft' THEN
        RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
    END IF;
    IF TG_OP = 'UPDATE' AND to_jsonb(NEW) - 'state' = to_jsonb(OLD) - 'state'
        AND (OLD.state = 'issued' AND NEW.state IN ('replaced', 'accepted', 'declined')
            OR OLD.state = 'declined' AND NEW.state = 'replaced') THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'an issued quote stays as it is' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd

-- Quotes of an earlier program did not print by which rules their sums were made; their snapshots say it.
ALTER TABLE quote DISABLE TRIGGER quote_stays;
UPDATE quote q SET printed = (q.printed::jsonb || jsonb_build_object(
        'DepositShare', CASE WHEN q.gross = 0 THEN '0' ELSE
            round(coalesce(nullif(regexp_replace(q.printed->>'Deposit', '[^0-9.]', '', 'g'), '')::numeric, 0) / q.gross, 12)::text END,
        'Terms', jsonb_build_object('Regime', s.figures->'Tax' || '{"Rates": null}', 'Rate', coalesce((
            SELECT r FROM jsonb_array_elements(CASE WHEN jsonb_typeof(s.figures#>'{Tax,Rates}') = 'array' THEN s.figures#>'{Tax,Rates}' ELSE '[]' END) r
            WHERE (s.figures#>>'{Tax,Registered}')::boolean AND r->>'Code' = s.figures->>'TaxCode'
                AND ((r->>'From') LIKE '0001-%' OR (r->>'From')::timestamptz <= q.issued_at)
                AND ((r->>'Until') LIKE '0001-%' OR q.issued_at < (r->>'Until')::timestamptz)
            LIMIT 1), '{"Percent": "0"}'))))::json
    FROM (SELECT hash, convert_from(body, 'UTF8')::jsonb AS figures FROM snapshot) s
    WHERE s.hash = q.snapshot;
UPDATE quote SET state = 'accepted' FROM sales_order o WHERE o.quote_id = quote.id;
ALTER TABLE quote ENABLE TRIGGER quote_stays;

-- How a quote ended: who said what, when, to which document, with which options. Kept for good.
CREATE TABLE answer (
    quote_id uuid PRIMARY KEY REFERENCES quote,
    outcome text NOT NULL CHECK (outcome IN ('accepted', 'declined')),
    at timestamptz NOT NULL,
    name text NOT NULL CHECK (length(name) <= 200),
    by_whom text NOT NULL,
    online boolean NOT NULL,
    options text[] NOT NULL,
    document bytea NOT NULL REFERENCES document,
    reason text NOT NULL CHECK (length(reason) <= 2000),
    gross numeric NOT NULL CHECK (fits(gross, 4)),
    currency text NOT NULL
);
CREATE TRIGGER answer_stays BEFORE UPDATE OR DELETE ON answer FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER answers_stay BEFORE TRUNCATE ON answer FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
INSERT INTO answer (quote_id, outcome, at, name, by_whom, online, options, document, reason, gross, currency)
    SELECT q.id, 'accepted', o.accepted, '', '', false, '{}', q.document, '', q.gross, q.currency FROM sales_order o JOIN quote q ON q.id = o.quote_id;

ALTER TABLE sales_order
    ADD terms json,    -- the tax rules and the rate its sums are made by
    ADD currency text CHECK (currency ~ '^[A-Z]{3}$'),
    ADD deposit numeric CHECK (deposit >= 0 AND fits(deposit, 4)),
    ADD agreed json;   -- what is made, where it is not what the quote alone says
UPDATE sales_order o SET terms = q.printed->'Terms', currency = q.currency,
        deposit = round(q.gross * coalesce((q.printed->>'DepositShare')::numeric, 0), scale(q.gross))
    FROM quote q WHERE q.id = o.quote_id;
ALTER TABLE sales_order ALTER terms SET NOT NULL, ALTER currency SET NOT NULL, ALTER deposit SET NOT NULL;

-- What an order comes to: its quote, the options that were chosen, changes agreed on later. Only ever added to.
CREATE TABLE order_line (
    order_id uuid NOT NULL REFERENCES sales_order,
    nth integer NOT NULL CHECK (nth >= 0),
    kind text NOT NULL CHECK (kind IN ('quote', 'option', 'change')),
    key text NOT NULL,
    label text NOT NULL,
    quantity integer NOT NULL CHECK (quantity > 0),
    amount numeric NOT NULL CHECK (fits(amount, 4)),
    PRIMARY KEY (order_id, nth)
);
INSERT INTO order_line (order_id, nth, kind, key, label, quantity, amount)
    SELECT o.id, 0, 'quote', '', q.title, 1,
        CASE WHEN (o.terms#>>'{Regime,Registered}')::boolean AND (o.terms#>>'{Regime,GrossPrices}')::boolean THEN q.gross ELSE q.net END
    FROM sales_order o JOIN quote q ON q.id = o.quote_id;
CREATE TRIGGER order_line_stays BEFORE UPDATE OR DELETE ON order_line FOR EACH ROW EXECUTE FUNCTION refuse_change();
