-- Invoices, credit notes and payments.

-- +goose Up

-- An invoice or a credit note as it was issued. The body is all of it: read back, never computed again; the columns
-- are what lists and sums go by. A credit note's amounts are above zero too.
CREATE TABLE invoice (
    id uuid PRIMARY KEY,
    token text NOT NULL CONSTRAINT invoice_once UNIQUE CHECK (length(token) BETWEEN 8 AND 100), -- of the form it was asked for with
    kind text NOT NULL CHECK (kind IN ('deposit', 'part', 'balance', 'sale', 'credit')),
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no > 0),
    order_id uuid NOT NULL CONSTRAINT invoice_order REFERENCES sales_order,
    customer_id uuid NOT NULL REFERENCES customer,
    buyer text NOT NULL,
    title text NOT NULL,
    issued timestamptz NOT NULL,
    day date NOT NULL, -- it was issued on, by the clock of the workshop
    due date NOT NULL,
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    net numeric NOT NULL CHECK (fits(net, 4)),
    tax numeric NOT NULL CHECK (fits(tax, 4)),
    gross numeric NOT NULL CHECK (gross > 0 AND fits(gross, 4)),
    credits uuid REFERENCES invoice, -- what a credit note takes back
    reference text NOT NULL,
    document bytea NOT NULL REFERENCES document,
    xml bytea REFERENCES document,
    body json NOT NULL,
    CHECK (net + tax = gross),
    CHECK ((kind = 'credit') = (credits IS NOT NULL))
);
-- Credit notes have numbers of their own.
CREATE UNIQUE INDEX invoice_number_once ON invoice (series, year, no, (kind = 'credit'));
CREATE INDEX invoice_of_order ON invoice (order_id, issued);
CREATE INDEX invoice_of_customer ON invoice (customer_id, issued);
CREATE INDEX invoice_newest ON invoice (issued DESC, id DESC);
CREATE INDEX invoice_credited ON invoice (credits) WHERE credits IS NOT NULL;
CREATE INDEX invoice_reference ON invoice (reference) WHERE reference <> '';

CREATE TRIGGER invoice_stays BEFORE UPDATE OR DELETE ON invoice FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER invoices_stay BEFORE TRUNCATE ON invoice FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A second look at what the acts see to under the lock of the order: a credit note takes back no more than is there.
-- +goose StatementBegin
CREATE FUNCTION credit_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
    left_over numeric;
BEGIN
    SELECT i.gross - coalesce((SELECT sum(c.gross) FROM invoice c WHERE c.credits = i.id), 0) INTO left_over
        FROM invoice i WHERE i.id = NEW.credits AND i.kind <> 'credit' AND i.order_id = NEW.order_id AND i.currency = NEW.currency;
    IF left_over IS NULL OR left_over < NEW.gross THEN
        RAISE EXCEPTION 'more than the invoice' USING ERRCODE = 'check_violation', CONSTRAINT = 'credit_fits';
    END IF;
    RETURN NEW;
END $$;
-- +goose StatementEnd
CREATE TRIGGER credit_fits BEFORE INSERT ON invoice FOR EACH ROW WHEN (NEW.kind = 'credit') EXECUTE FUNCTION credit_fits();

-- What came of an order, and what went back. Only ever added to: a slip is taken back by a second row.
CREATE TABLE payment (
    id uuid PRIMARY KEY,
    token text NOT NULL CONSTRAINT payment_once UNIQUE CHECK (length(token) BETWEEN 8 AND 100),
    order_id uuid NOT NULL CONSTRAINT payment_order REFERENCES sales_order,
    day date NOT NULL,
    amount numeric NOT NULL CHECK (amount <> 0 AND fits(amount, 4)), -- below zero what was paid back
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    way text NOT NULL CHECK (way IN ('transfer', 'cash', 'card', 'other')),
    note text NOT NULL CHECK (length(note) <= 400),
    by_whom text NOT NULL,
    at timestamptz NOT NULL,
    takes_back uuid CONSTRAINT payment_taken_back_once UNIQUE REFERENCES payment
);
CREATE INDEX payment_of_order ON payment (order_id, at);
CREATE INDEX payment_by_day ON payment (day DESC, at DESC);

CREATE TRIGGER payment_stays BEFORE UPDATE OR DELETE ON payment FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER payments_stay BEFORE TRUNCATE ON payment FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- +goose StatementBegin
CREATE FUNCTION payment_fits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.takes_back IS NOT NULL AND NOT EXISTS (SELECT FROM payment p WHERE p.id = NEW.takes_back AND p.order_id = NEW.order_id
            AND p.amount = -NEW.amount AND p.currency = NEW.currency AND p.takes_back IS NULL) THEN
        RAISE EXCEPTION 'not what was paid' USING ERRCODE = 'check_violation', CONSTRAINT = 'payment_mirrors';
    END IF;
    IF NEW.amount + coalesce((SELECT sum(p.amount) FROM payment p WHERE p.order_id = NEW.order_id), 0) < 0 THEN
        RAISE EXCEPTION 'more back than came' USING ERRCODE = 'check_violation', CONSTRAINT = 'payment_never_below_nothing';
    END IF;
    RETURN NEW;
END $$;
-- +goose StatementEnd
CREATE TRIGGER payment_fits BEFORE INSERT ON payment FOR EACH ROW EXECUTE FUNCTION payment_fits();

-- Until now only the day of a deposit was noted.
INSERT INTO payment (id, token, order_id, day, amount, currency, way, note, by_whom, at)
    SELECT gen_random_uuid(), 'before ' || id, id, (paid AT TIME ZONE 'UTC')::date, deposit, currency, 'other', 'the deposit', '', paid
    FROM sales_order WHERE paid IS NOT NULL AND deposit > 0;
