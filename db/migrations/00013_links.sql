-- The customer's own page: the links that open it, what is asked and answered there, and what an answer given there says.

-- +goose Up

-- A link opens a quote's number, whichever version stands. Of its secret only the SHA-256 is kept: whoever reads a
-- backup cannot answer in a customer's name.
CREATE TABLE quote_link (
    id uuid PRIMARY KEY,
    digest bytea NOT NULL CONSTRAINT quote_link_once UNIQUE CHECK (octet_length(digest) = 32),
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no > 0),
    made timestamptz NOT NULL,
    by_whom text NOT NULL,
    seen timestamptz, -- when somebody from outside the workshop last opened it
    ended timestamptz
);
CREATE INDEX quote_link_of ON quote_link (series, year, no, made);

-- What customer and workshop write to each other about a quote. A wish is a yes that is no order: whoever will handle it
-- has a latex allergy, and what is chosen has latex.
CREATE TABLE quote_message (
    id uuid PRIMARY KEY,
    quote_id uuid NOT NULL REFERENCES quote, -- the version that stood
    kind text NOT NULL CHECK (kind IN ('question', 'wish', 'reply')),
    at timestamptz NOT NULL,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    body text NOT NULL CHECK (length(body) <= 2000),
    options text[] NOT NULL,  -- of a wish
    language text NOT NULL CHECK (language ~ '^([a-z]{2})?$'), -- the page was read in
    settled timestamptz, -- a customer's that was replied to or wants no reply; of a reply, at once
    CHECK (body <> '' OR kind = 'wish'),
    CHECK (kind <> 'reply' OR settled IS NOT NULL)
);
CREATE INDEX quote_message_of ON quote_message (quote_id, at);
CREATE INDEX quote_message_open ON quote_message (at) WHERE settled IS NULL;

-- +goose StatementBegin
CREATE FUNCTION quote_message_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND OLD.settled IS NULL AND to_jsonb(NEW) - 'settled' = to_jsonb(OLD) - 'settled' THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'what was written stays as it was written' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER quote_message_stays BEFORE UPDATE OR DELETE ON quote_message FOR EACH ROW EXECUTE FUNCTION quote_message_stays();
CREATE TRIGGER quote_messages_stay BEFORE TRUNCATE ON quote_message FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- An answer from the customer's page says what was said about latex, in which language it was read, by which link.
ALTER TABLE answer
    ADD latex text NOT NULL DEFAULT '' CHECK (latex IN ('', 'no', 'not sure', 'yes')),
    ADD language text NOT NULL DEFAULT '' CHECK (language ~ '^([a-z]{2})?$'),
    ADD link uuid REFERENCES quote_link;

-- The workshop has seen an answer that came from outside; answers themselves stay as they are.
CREATE TABLE answer_seen (
    quote_id uuid PRIMARY KEY REFERENCES answer,
    at timestamptz NOT NULL
);
