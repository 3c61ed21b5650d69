-- Repairs with their tags, photos, and standard shields: their dated prices, and the finished ones that lie ready to be sold.

-- +goose Up

CREATE TABLE repair (
    id uuid PRIMARY KEY,
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no > 0), -- of the tag
    customer_id uuid NOT NULL CONSTRAINT repair_customer REFERENCES customer,
    order_id uuid CONSTRAINT repair_order REFERENCES sales_order, -- the piece was made for; none where it is not known
    what text NOT NULL CHECK (length(what) BETWEEN 1 AND 120),
    condition text NOT NULL CHECK (length(condition) BETWEEN 1 AND 2000),
    came date NOT NULL,
    state text NOT NULL CHECK (state IN ('came in', 'inspected', 'at the bench', 'ready', 'given back', 'scrapped')),
    since timestamptz NOT NULL, -- it stands so
    warranty boolean, -- what the maker decided; not yet
    findings text NOT NULL CHECK (length(findings) <= 2000), -- of the inspection
    reason text NOT NULL CHECK (length(reason) <= 400), -- it was scrapped for
    quote_id uuid REFERENCES quote ON DELETE SET NULL,
    edit integer NOT NULL,
    by_whom text NOT NULL,
    CONSTRAINT repair_number_once UNIQUE (series, year, no),
    CHECK (state <> 'scrapped' OR reason <> ''),
    CHECK (state = 'came in' OR state = 'scrapped' OR warranty IS NOT NULL)
);
CREATE INDEX repair_waits ON repair (came) WHERE state NOT IN ('given back', 'scrapped');
CREATE INDEX repairs_of_order ON repair (order_id);

-- A photo of an order, a repair or an enquiry, made anew from what was sent: at most 1600 px, without what the camera wrote into
-- it. One that was deleted keeps who did it and when, nothing of the picture.
CREATE TABLE photo (
    id uuid PRIMARY KEY,
    order_id uuid REFERENCES sales_order,
    repair_id uuid REFERENCES repair,
    enquiry_id uuid REFERENCES enquiry ON DELETE CASCADE, -- who is forgotten is forgotten whole
    jpeg bytea,
    small bytea,
    width integer NOT NULL CHECK (width BETWEEN 1 AND 1600),
    height integer NOT NULL CHECK (height BETWEEN 1 AND 1600),
    words text NOT NULL CHECK (length(words) <= 200),
    taken date NOT NULL,
    by_whom text NOT NULL,
    at timestamptz NOT NULL,
    consent text NOT NULL CHECK (consent IN ('yes', 'no', 'not asked')),
    shared boolean NOT NULL, -- on the customer's own page
    secret_until date,
    deleted timestamptz,
    deleted_by text NOT NULL DEFAULT '',
    CHECK (num_nonnulls(order_id, repair_id, enquiry_id) = 1),
    CHECK (num_nonnulls(jpeg, small) = CASE WHEN deleted IS NULL THEN 2 ELSE 0 END),
    CHECK (octet_length(jpeg) <= 4000000 AND octet_length(small) <= 200000)
);
CREATE INDEX photos_of_order ON photo (order_id, at) WHERE order_id IS NOT NULL;
CREATE INDEX photos_of_repair ON photo (repair_id, at) WHERE repair_id IS NOT NULL;
CREATE INDEX photos_of_enquiry ON photo (enquiry_id, at) WHERE enquiry_id IS NOT NULL;

-- What a standard design costs from a day on, with tax; no price takes it off the list from that day.
CREATE TABLE standard_price (
    design_id uuid NOT NULL CONSTRAINT standard_design REFERENCES design,
    from_day date NOT NULL,
    price numeric CHECK (price > 0 AND fits(price, 4)),
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    by_whom text NOT NULL,
    at timestamptz NOT NULL,
    PRIMARY KEY (design_id, from_day)
);

-- A finished shield that lies ready. It leaves once: sold, as an order of its own, or otherwise.
CREATE TABLE ready_shield (
    id uuid PRIMARY KEY,
    design_id uuid NOT NULL CONSTRAINT ready_design REFERENCES design,
    cost numeric NOT NULL CHECK (cost >= 0 AND fits(cost, 4)), -- what it took to make, net
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    place text NOT NULL CHECK (length(place) <= 120),
    note text NOT NULL CHECK (length(note) <= 400),
    made_by uuid CONSTRAINT ready_order REFERENCES sales_order, -- the order it was made in; none for one made for stock
    added timestamptz NOT NULL,
    by_whom text NOT NULL,
    sold_as uuid CONSTRAINT ready_sold_once UNIQUE REFERENCES sales_order,
    token text CONSTRAINT ready_token_once UNIQUE CHECK (length(token) BETWEEN 8 AND 100), -- of the form it was sold with
    gone timestamptz,
    reason text NOT NULL CHECK (length(reason) <= 400), -- it left unsold for
    CHECK ((sold_as IS NULL) = (token IS NULL)),
    CHECK ((gone IS NOT NULL) = (sold_as IS NOT NULL OR reason <> ''))
);
CREATE INDEX ready_here ON ready_shield (design_id) WHERE gone IS NULL;
-- +goose StatementBegin
CREATE FUNCTION ready_shield_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND OLD.gone IS NULL THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'a shield leaves once' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER ready_shield_stays BEFORE UPDATE OR DELETE ON ready_shield FOR EACH ROW EXECUTE FUNCTION ready_shield_stays();
