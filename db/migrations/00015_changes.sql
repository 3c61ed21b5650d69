-- What happens to an order after it was accepted: its papers, changes that are priced and accepted like a quote,
-- drawings that are approved before anything is cut, how it was cancelled, and when it was handed over.

-- +goose Up

-- A document of an order, by kind and number within it: the confirmation, change notes, the care sheet, the account of a cancellation.
CREATE TABLE order_paper (
    order_id uuid NOT NULL REFERENCES sales_order,
    kind text NOT NULL CHECK (kind IN ('confirmation', 'change', 'care', 'cancellation')),
    no integer NOT NULL CHECK (no > 0),
    document bytea NOT NULL REFERENCES document,
    at timestamptz NOT NULL,
    by_whom text NOT NULL,
    PRIMARY KEY (order_id, kind, no)
);
CREATE TRIGGER order_paper_stays BEFORE UPDATE OR DELETE ON order_paper FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- A change that was offered, priced as the difference of two full estimates. What was offered stays; it gets an answer once.
CREATE TABLE change_note (
    order_id uuid NOT NULL REFERENCES sales_order,
    no integer NOT NULL CHECK (no > 0),
    state text NOT NULL CHECK (state IN ('offered', 'accepted', 'declined', 'withdrawn')),
    label text NOT NULL CHECK (length(label) BETWEEN 1 AND 400), -- what changes, in the maker's words
    moved json NOT NULL,  -- the entries of the spec that changed, in words
    agreed json NOT NULL, -- what the order is made to once it is accepted
    amount numeric NOT NULL CHECK (fits(amount, 4)),
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    document bytea NOT NULL REFERENCES document,
    offered timestamptz NOT NULL,
    by_whom text NOT NULL,
    answered timestamptz,
    name text NOT NULL DEFAULT '' CHECK (length(name) <= 200), -- of who answered
    online boolean NOT NULL DEFAULT false,
    reason text NOT NULL DEFAULT '' CHECK (length(reason) <= 2000),
    PRIMARY KEY (order_id, no),
    CHECK ((answered IS NULL) = (state = 'offered'))
);
-- One change at a time: the next is priced from what the one before made of the order.
CREATE UNIQUE INDEX one_change_open ON change_note (order_id) WHERE state = 'offered';
-- +goose StatementBegin
CREATE FUNCTION change_note_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND OLD.state = 'offered' AND NEW.state <> 'offered'
        AND to_jsonb(NEW) - '{state,answered,name,online,reason}'::text[] = to_jsonb(OLD) - '{state,answered,name,online,reason}'::text[] THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'a change note stays as it was offered and answered' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER change_note_stays BEFORE UPDATE OR DELETE ON change_note FOR EACH ROW EXECUTE FUNCTION change_note_stays();

-- A round of drawings shown to the customer, and what they said.
CREATE TABLE approval (
    order_id uuid NOT NULL REFERENCES sales_order,
    round integer NOT NULL CHECK (round > 0),
    note text NOT NULL CHECK (length(note) <= 2000), -- what is to be looked at
    picture text NOT NULL, -- the drawing, as SVG
    shown timestamptz NOT NULL,
    by_whom text NOT NULL,
    verdict text NOT NULL DEFAULT '' CHECK (verdict IN ('', 'approved', 'change')),
    words text NOT NULL DEFAULT '' CHECK (length(words) <= 2000),
    name text NOT NULL DEFAULT '' CHECK (length(name) <= 200),
    online boolean NOT NULL DEFAULT false,
    answered timestamptz,
    PRIMARY KEY (order_id, round),
    CHECK ((answered IS NULL) = (verdict = ''))
);
CREATE UNIQUE INDEX one_round_open ON approval (order_id) WHERE answered IS NULL;

-- Pieces that left the workshop, in one part or several.
CREATE TABLE delivery (
    order_id uuid NOT NULL REFERENCES sales_order,
    nth integer NOT NULL CHECK (nth > 0),
    day date NOT NULL,
    pieces integer NOT NULL CHECK (pieces > 0),
    way text NOT NULL CHECK (way IN ('collected', 'parcel', 'at an event')),
    whom text NOT NULL CHECK (length(whom) <= 200),
    note text NOT NULL CHECK (length(note) <= 400),
    at timestamptz NOT NULL,
    by_whom text NOT NULL,
    PRIMARY KEY (order_id, nth)
);
CREATE TRIGGER delivery_stays BEFORE UPDATE OR DELETE ON delivery FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- The lines of an order end with what its cancellation takes off.
ALTER TABLE order_line DROP CONSTRAINT order_line_kind_check;
ALTER TABLE order_line ADD CONSTRAINT order_line_kind_check CHECK (kind IN ('quote', 'option', 'change', 'cancelled'));
