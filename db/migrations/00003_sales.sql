-- The workshop's settings, customers, designs, quotes and the documents that were issued.

-- +goose Up

-- One workshop a database. The figures are one document: an estimate always needs all of them together.
CREATE TABLE workshop (
    single boolean PRIMARY KEY DEFAULT true CHECK (single),
    body json NOT NULL,
    changed timestamptz NOT NULL DEFAULT now()
);

CREATE TABLE customer (
    id uuid PRIMARY KEY,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    email text NOT NULL,
    phone text NOT NULL,
    address text NOT NULL,
    note text NOT NULL,
    changed timestamptz NOT NULL
);
CREATE INDEX customer_by_name ON customer (lower(name));

CREATE TABLE design (
    id uuid PRIMARY KEY,
    name text NOT NULL CONSTRAINT design_name_once UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
    note text NOT NULL,
    -- json, not jsonb: what was typed comes back as it was typed.
    form json NOT NULL,
    changed timestamptz NOT NULL
);

-- A snapshot or document is kept once by its hash and never changes: an issued quote can always be shown
-- to have been made from these figures.
CREATE TABLE snapshot (
    hash bytea PRIMARY KEY CHECK (octet_length(hash) = 32),
    body bytea NOT NULL
);
CREATE TABLE document (
    hash bytea PRIMARY KEY CHECK (octet_length(hash) = 32),
    name text NOT NULL,
    bytes bytea NOT NULL,
    kept timestamptz NOT NULL DEFAULT now()
);

-- The last number given out in a series and year. Whoever takes the next one holds the row until the end of
-- the act, and an act that fails gives it back: numbers have no gaps.
CREATE TABLE document_number (
    series text NOT NULL,
    year integer NOT NULL,
    last integer NOT NULL CHECK (last > 0),
    PRIMARY KEY (series, year)
);

CREATE TABLE quote (
    id uuid PRIMARY KEY,
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no >= 0), -- 0 until a number is given
    version integer NOT NULL CHECK (version > 0),
    state text NOT NULL CHECK (state IN ('draft', 'issued', 'replaced')),
    customer_id uuid NOT NULL CONSTRAINT quote_customer REFERENCES customer,
    title text NOT NULL,
    form json NOT NULL,
    edit integer NOT NULL,
    created timestamptz NOT NULL,
    changed timestamptz NOT NULL,
    issued_at timestamptz,
    issued_by text,
    valid_until timestamptz,
    currency text,
    net numeric CHECK (fits(net, 4)),
    gross numeric CHECK (fits(gross, 4)),
    snapshot bytea REFERENCES snapshot,
    document bytea REFERENCES document,
    printed json, -- every line as it was printed: read back, never computed again
    -- What is issued is complete; what is a draft has nothing of it yet.
    CHECK (CASE WHEN state = 'draft'
        THEN num_nonnulls(issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed) = 0
        ELSE num_nonnulls(issued_at, issued_by, valid_until, currency, net, gross, snapshot, document, printed) = 9 AND no > 0 END)
);
CREATE UNIQUE INDEX quote_version_once ON quote (series, year, no, version) WHERE no > 0;
-- Of one number at most one version stands, and at most one is being written.
CREATE UNIQUE INDEX quote_state_once ON quote (series, year, no, state) WHERE no > 0 AND state IN ('draft', 'issued');
CREATE INDEX quote_newest ON quote (changed DESC);

-- +goose StatementBegin
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'what was issued stays as it is' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd

CREATE TRIGGER snapshot_stays BEFORE UPDATE OR DELETE ON snapshot FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER document_stays BEFORE UPDATE OR DELETE ON document FOR EACH ROW EXECUTE FUNCTION refuse_change();
-- Emptying a table at once passes by the triggers of its rows.
CREATE TRIGGER snapshots_stay BEFORE TRUNCATE ON snapshot FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER documents_stay BEFORE TRUNCATE ON document FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER quotes_stay BEFORE TRUNCATE ON quote FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- An issued quote may only be replaced by a later version: everything but its state stays.
-- +goose StatementBegin
CREATE FUNCTION issued_quote_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.state = 'draft' THEN
        RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
    END IF;
    IF TG_OP = 'UPDATE' AND OLD.state = 'issued' AND NEW.state = 'replaced'
        AND to_jsonb(NEW) - 'state' = to_jsonb(OLD) - 'state' THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'an issued quote stays as it is' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER quote_stays BEFORE UPDATE OR DELETE ON quote FOR EACH ROW EXECUTE FUNCTION issued_quote_stays();
