-- The shelf: lots, the ledger of their movements, balances, what orders are promised, and buying.

-- +goose Up

-- An accepted quote. Its materials are held until the deposit is due, and promised for good when it is paid.
CREATE TABLE sales_order (
    id uuid PRIMARY KEY,
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no > 0),
    quote_id uuid NOT NULL CONSTRAINT order_of_a_quote_once UNIQUE REFERENCES quote,
    customer_id uuid NOT NULL REFERENCES customer,
    title text NOT NULL,
    state text NOT NULL CHECK (state IN ('accepted', 'booked', 'done', 'cancelled')),
    accepted timestamptz NOT NULL,
    deposit_due date NOT NULL,
    paid timestamptz,
    starts date NOT NULL, -- first day at the bench
    ended timestamptz,
    reason text NOT NULL,
    edit integer NOT NULL,
    CONSTRAINT order_number_once UNIQUE (series, year, no),
    CHECK ((ended IS NULL) = (state IN ('accepted', 'booked'))),
    CHECK (state <> 'booked' OR paid IS NOT NULL)
);
CREATE INDEX sales_order_newest ON sales_order (accepted DESC);

-- What lies on the shelf of an item, kept by the triggers below: never written by hand.
-- on_hand counts whole stock, offcuts the share of whole sheets that offcuts are.
CREATE TABLE balance (
    item text PRIMARY KEY REFERENCES item,
    unit text NOT NULL,
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    on_hand numeric NOT NULL DEFAULT 0 CONSTRAINT never_below_nothing CHECK (on_hand >= 0),
    offcuts numeric NOT NULL DEFAULT 0 CHECK (offcuts >= 0),
    value numeric NOT NULL DEFAULT 0 CHECK (value >= 0), -- of what is on hand
    offcut_value numeric NOT NULL DEFAULT 0 CHECK (offcut_value >= 0),
    reserved numeric NOT NULL DEFAULT 0 CHECK (reserved >= 0),
    CONSTRAINT never_promised_twice CHECK (reserved <= on_hand),
    CONSTRAINT balance_terms UNIQUE (item, unit, currency),
    FOREIGN KEY (item, unit) REFERENCES item (code, unit)
);

INSERT INTO balance (item, unit, currency) SELECT item.code, item.unit, workshop.body#>>'{Figures,Rates,Currency}' FROM item, workshop;

-- What came in together: a tin, a pallet, an offcut (which has a shape). value is what is left at its own cost.
CREATE TABLE lot (
    id uuid PRIMARY KEY,
    item text NOT NULL REFERENCES item,
    received timestamptz NOT NULL,
    supplier uuid REFERENCES supplier,
    label text NOT NULL,
    opened date,
    best_before date,
    shape json, -- of an offcut, mm
    left_over numeric NOT NULL DEFAULT 0 CONSTRAINT lot_never_below_nothing CHECK (left_over >= 0),
    value numeric NOT NULL DEFAULT 0 CHECK (value >= 0),
    CONSTRAINT lot_item UNIQUE (id, item)
);
CREATE INDEX lot_on_shelf ON lot (item, received, id) WHERE left_over > 0;

CREATE TABLE movement (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    at timestamptz NOT NULL,
    item text NOT NULL,
    unit text NOT NULL,
    currency text NOT NULL,
    lot uuid,
    kind text NOT NULL CHECK (kind IN ('receipt', 'issue', 'return', 'waste', 'count', 'offcut', 'revalue')),
    quantity numeric NOT NULL CHECK (fits(quantity, 4)),
    cost numeric NOT NULL CHECK (fits(cost, 4)),     -- as the books value it, signed as the quantity
    lot_cost numeric NOT NULL CHECK (fits(lot_cost, 4)), -- at the lot's own cost
    order_id uuid CONSTRAINT movement_order REFERENCES sales_order,
    note text NOT NULL,
    by_whom text NOT NULL,
    CONSTRAINT movement_terms FOREIGN KEY (item, unit, currency) REFERENCES balance (item, unit, currency),
    CONSTRAINT movement_lot FOREIGN KEY (lot, item) REFERENCES lot (id, item),
    CHECK (CASE kind
        WHEN 'receipt' THEN quantity > 0 AND cost >= 0
        WHEN 'return' THEN quantity > 0 AND cost >= 0
        WHEN 'offcut' THEN quantity > 0 AND cost >= 0
        WHEN 'issue' THEN quantity < 0 AND cost <= 0
        WHEN 'waste' THEN quantity < 0 AND cost <= 0
        WHEN 'count' THEN quantity <> 0 AND cost * sign(quantity) >= 0
        ELSE quantity = 0 END),
    CHECK ((lot IS NULL) = (kind = 'revalue'))
);
CREATE INDEX movement_of_item ON movement (item, id DESC);
CREATE INDEX movement_of_order ON movement (order_id) WHERE order_id IS NOT NULL;
CREATE INDEX movement_used ON movement (at, item) INCLUDE (quantity) WHERE kind = 'issue';

-- What an order is to take of an item, and how much of that is set aside for it.
CREATE TABLE promise (
    order_id uuid NOT NULL REFERENCES sales_order,
    item text NOT NULL REFERENCES balance,
    needed numeric NOT NULL CHECK (needed >= 0 AND fits(needed, 4)),
    reserved numeric NOT NULL CHECK (reserved >= 0 AND fits(reserved, 4)),
    firm boolean NOT NULL, -- the deposit is paid; until then it is held up to a time
    until timestamptz,
    due date NOT NULL, -- the day it is wanted at the bench
    asked timestamptz NOT NULL,
    PRIMARY KEY (order_id, item),
    CONSTRAINT never_more_than_needed CHECK (reserved <= needed),
    CHECK (firm OR until IS NOT NULL)
);
CREATE INDEX promise_of_item ON promise (item, firm DESC, asked);
CREATE INDEX promise_lapses ON promise (until) WHERE NOT firm AND reserved > 0;

-- +goose StatementBegin
CREATE FUNCTION movement_counts() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE cut boolean := false;
BEGIN
    IF NEW.lot IS NOT NULL THEN
        UPDATE lot SET left_over = left_over + NEW.quantity, value = value + NEW.lot_cost WHERE id = NEW.lot RETURNING shape IS NOT NULL INTO cut;
    END IF;
    UPDATE balance SET
        on_hand = on_hand + CASE WHEN cut THEN 0 ELSE NEW.quantity END, value = value + CASE WHEN cut THEN 0 ELSE NEW.cost END,
        offcuts = offcuts + CASE WHEN cut THEN NEW.quantity ELSE 0 END, offcut_value = offcut_value + CASE WHEN cut THEN NEW.cost ELSE 0 END
        WHERE item = NEW.item;
    RETURN NULL;
END $$;

CREATE FUNCTION promise_counts() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP <> 'INSERT' THEN
        UPDATE balance SET reserved = reserved - OLD.reserved WHERE item = OLD.item;
    END IF;
    IF TG_OP <> 'DELETE' THEN
        UPDATE balance SET reserved = reserved + NEW.reserved WHERE item = NEW.item;
    END IF;
    RETURN NULL;
END $$;

-- Balances and what is left of a lot follow from the ledger: only its triggers write them.
CREATE FUNCTION follows_the_ledger() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF pg_trigger_depth() > 1 THEN
        RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
    END IF;
    IF TG_TABLE_NAME = 'balance' AND TG_OP = 'INSERT' THEN
        IF NEW.on_hand = 0 AND NEW.offcuts = 0 AND NEW.value = 0 AND NEW.offcut_value = 0 AND NEW.reserved = 0 THEN
            RETURN NEW;
        END IF;
    ELSIF TG_TABLE_NAME = 'balance' AND TG_OP = 'UPDATE' THEN
        -- Another unit or currency, as long as nothing has moved: the ledger's foreign key sees to that.
        IF to_jsonb(NEW) - '{unit,currency}'::text[] = to_jsonb(OLD) - '{unit,currency}'::text[] THEN
            RETURN NEW;
        END IF;
    ELSIF TG_TABLE_NAME = 'lot' AND TG_OP = 'INSERT' THEN
        IF NEW.left_over = 0 AND NEW.value = 0 THEN
            RETURN NEW;
        END IF;
    ELSIF TG_TABLE_NAME = 'lot' AND TG_OP = 'UPDATE' THEN
        IF to_jsonb(NEW) - '{opened,best_before,label}'::text[] = to_jsonb(OLD) - '{opened,best_before,label}'::text[] THEN
            RETURN NEW;
        END IF;
    END IF;
    RAISE EXCEPTION 'what is on the shelf follows from its movements' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd

CREATE TRIGGER movement_counts AFTER INSERT ON movement FOR EACH ROW EXECUTE FUNCTION movement_counts();
CREATE TRIGGER movement_stays BEFORE UPDATE OR DELETE ON movement FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER movements_stay BEFORE TRUNCATE ON movement FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER promise_counts AFTER INSERT OR UPDATE OR DELETE ON promise FOR EACH ROW EXECUTE FUNCTION promise_counts();
CREATE TRIGGER promises_stay BEFORE TRUNCATE ON promise FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER balance_follows BEFORE INSERT OR UPDATE OR DELETE ON balance FOR EACH ROW EXECUTE FUNCTION follows_the_ledger();
CREATE TRIGGER balances_stay BEFORE TRUNCATE ON balance FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER lot_follows BEFORE INSERT OR UPDATE OR DELETE ON lot FOR EACH ROW EXECUTE FUNCTION follows_the_ledger();
CREATE TRIGGER lots_stay BEFORE TRUNCATE ON lot FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Buying: what was ordered of a supplier and how much of it came.
CREATE TABLE purchase (
    id uuid PRIMARY KEY,
    series text NOT NULL,
    year integer NOT NULL,
    no integer NOT NULL CHECK (no > 0),
    supplier uuid NOT NULL REFERENCES supplier,
    ordered timestamptz NOT NULL,
    ordered_by text NOT NULL,
    expected date NOT NULL,
    note text NOT NULL,
    closed timestamptz, -- all came, or nothing more will
    CONSTRAINT purchase_number_once UNIQUE (series, year, no)
);
CREATE INDEX purchase_open ON purchase (expected) WHERE closed IS NULL;
CREATE TABLE purchase_line (
    purchase uuid NOT NULL REFERENCES purchase,
    offer uuid NOT NULL REFERENCES offer,
    packs numeric NOT NULL CHECK (packs > 0 AND fits(packs, 0)),
    price numeric NOT NULL CHECK (price >= 0 AND fits(price, 4)), -- a pack, as it was ordered
    came numeric NOT NULL DEFAULT 0 CONSTRAINT never_more_than_ordered CHECK (came BETWEEN 0 AND packs AND fits(came, 0)),
    PRIMARY KEY (purchase, offer)
);

-- A plan a foam was cut by, as it was verified before it was stored.
CREATE TABLE cutting (
    id uuid PRIMARY KEY,
    order_id uuid NOT NULL CONSTRAINT cutting_order REFERENCES sales_order,
    item text NOT NULL REFERENCES item,
    job json NOT NULL,
    plan json NOT NULL,
    at timestamptz NOT NULL,
    by_whom text NOT NULL,
    CONSTRAINT cutting_once UNIQUE (order_id, item)
);
CREATE TRIGGER cutting_stays BEFORE UPDATE OR DELETE ON cutting FOR EACH ROW EXECUTE FUNCTION refuse_change();
