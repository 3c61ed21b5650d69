-- The whole job around an order: the event it is for, who wears the pieces, and the parcels they left in.

-- +goose Up

-- An event as the workshop keeps it. The edition of the rule is kept as it was when the event was written down.
CREATE TABLE event (
    id uuid PRIMARY KEY,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    place text NOT NULL CHECK (length(place) <= 200),
    first date NOT NULL,
    last date NOT NULL,
    rule text NOT NULL CHECK (length(rule) <= 60), -- code of a size rule; empty for none
    edition text NOT NULL CHECK (length(edition) <= 60),
    order_by date NOT NULL, -- the last day to order for it
    note text NOT NULL CHECK (length(note) <= 2000),
    edit integer NOT NULL,
    CONSTRAINT event_days CHECK (last >= first AND order_by <= first),
    CONSTRAINT event_once UNIQUE (name, first)
);
CREATE INDEX event_by_day ON event (first);

-- One event at most of a quote, and so of its order.
CREATE TABLE quote_event (
    quote_id uuid PRIMARY KEY REFERENCES quote ON DELETE CASCADE,
    event_id uuid NOT NULL CONSTRAINT quote_event_known REFERENCES event
);
CREATE INDEX quotes_of_event ON quote_event (event_id);

-- Who wears the pieces of a group's quote, a line each, and who pays; the invoice goes to the quote's customer.
CREATE TABLE quote_group (
    quote_id uuid PRIMARY KEY REFERENCES quote ON DELETE CASCADE,
    pays text NOT NULL CHECK (length(pays) <= 200)
);
CREATE TABLE wearer (
    quote_id uuid NOT NULL REFERENCES quote_group ON DELETE CASCADE,
    no integer NOT NULL CHECK (no > 0),
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    hand text NOT NULL CHECK (hand IN ('', 'right', 'left', 'either')),
    colour text NOT NULL CHECK (length(colour) <= 60),
    size text NOT NULL CHECK (length(size) <= 120),
    PRIMARY KEY (quote_id, no)
);
-- Which of them got theirs with which delivery: each once.
CREATE TABLE delivery_wearer (
    quote_id uuid NOT NULL,
    no integer NOT NULL,
    order_id uuid NOT NULL,
    nth integer NOT NULL,
    CONSTRAINT wearer_gets_once PRIMARY KEY (quote_id, no),
    CONSTRAINT delivered_wearer FOREIGN KEY (quote_id, no) REFERENCES wearer,
    FOREIGN KEY (order_id, nth) REFERENCES delivery
);

-- How a delivery by parcel went.
CREATE TABLE parcel (
    order_id uuid NOT NULL,
    nth integer NOT NULL,
    carrier text NOT NULL CHECK (length(carrier) BETWEEN 1 AND 80),
    tracking text NOT NULL CHECK (length(tracking) <= 80),
    insured numeric CHECK (insured >= 0 AND fits(insured, 4)),
    currency text CHECK (currency ~ '^[A-Z]{3}$'),
    sent date NOT NULL,
    state text NOT NULL CHECK (state IN ('sent', 'arrived', 'damaged', 'returned')),
    since date NOT NULL, -- it stands so
    note text NOT NULL CHECK (length(note) <= 400),
    by_whom text NOT NULL,
    PRIMARY KEY (order_id, nth),
    FOREIGN KEY (order_id, nth) REFERENCES delivery,
    CHECK ((insured IS NULL) = (currency IS NULL))
);
