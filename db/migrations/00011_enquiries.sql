-- What people ask for before there is a quote, and who waits for a free bench.

-- +goose Up

CREATE TABLE enquiry (
    id uuid PRIMARY KEY, -- made where it is written: sent twice it is there once
    state text NOT NULL CHECK (state IN ('new', 'asked', 'quoted', 'closed')),
    words text NOT NULL CHECK (length(words) BETWEEN 1 AND 8000), -- the customer's own, never changed by reading them
    name text NOT NULL CHECK (length(name) <= 120),
    mail text NOT NULL CHECK (length(mail) <= 254),
    phone text NOT NULL CHECK (length(phone) <= 60),
    language text NOT NULL CHECK (language ~ '^([a-z]{2})?$'),
    answers json NOT NULL, -- what was told otherwise than in the words, by topic
    letter text NOT NULL CHECK (length(letter) <= 20000), -- the questions as somebody left them; empty while they are made anew
    quote_id uuid CONSTRAINT enquiry_quote REFERENCES quote ON DELETE SET NULL,
    reason text NOT NULL CHECK (length(reason) <= 400),
    edit integer NOT NULL,
    created timestamptz NOT NULL,
    changed timestamptz NOT NULL,
    asked timestamptz,
    closed timestamptz,
    by_whom text NOT NULL, -- empty for the public form
    CHECK ((closed IS NOT NULL) = (state = 'closed')),
    CHECK (state <> 'closed' OR reason <> '')
);
CREATE INDEX enquiry_newest ON enquiry (created DESC, id DESC);
CREATE INDEX enquiry_open ON enquiry (created) WHERE state IN ('new', 'asked');
CREATE INDEX enquiry_of_quote ON enquiry (quote_id) WHERE quote_id IS NOT NULL;

-- Who is told when the bench is free again. Ended entries stay, with why they ended.
CREATE TABLE waiting (
    id uuid PRIMARY KEY,
    customer_id uuid CONSTRAINT waiting_customer REFERENCES customer,
    who text NOT NULL CHECK (length(who) BETWEEN 1 AND 120),
    wish text NOT NULL CHECK (length(wish) BETWEEN 1 AND 400),
    since date NOT NULL,
    note text NOT NULL CHECK (length(note) <= 2000),
    enquiry_id uuid CONSTRAINT waiting_enquiry REFERENCES enquiry ON DELETE SET NULL,
    added timestamptz NOT NULL,
    by_whom text NOT NULL,
    ended timestamptz,
    reason text NOT NULL CHECK (length(reason) <= 400),
    CHECK ((ended IS NULL) = (reason = ''))
);
CREATE INDEX waiting_longest ON waiting (since, added) WHERE ended IS NULL;
-- One enquiry waits once at a time.
CREATE UNIQUE INDEX waiting_once ON waiting (enquiry_id) WHERE ended IS NULL AND enquiry_id IS NOT NULL;
