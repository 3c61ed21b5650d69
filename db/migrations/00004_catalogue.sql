-- The catalogue leaves the settings' document and gets tables of its own: items, who sells them, at what price.

-- +goose Up

-- How an item behaves (thickness, spread, solids) is one document: an estimate always needs all of it. What the
-- shelf asks about stands in columns.
CREATE TABLE item (
    code text PRIMARY KEY CHECK (code ~ '^[a-z0-9][a-z0-9 .-]{0,39}$'),
    kind text NOT NULL CHECK (kind IN ('foam', 'liquid', 'good')),
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    unit text NOT NULL CHECK (unit IN ('pcs', 'm', 'm²', 'l', 'kg')),
    place integer NOT NULL, -- the take-off reaches for the first of a use
    body json NOT NULL,
    least numeric NOT NULL DEFAULT 0 CHECK (least >= 0 AND fits(least, 4)), -- buy when below
    sealed_days integer NOT NULL DEFAULT 0 CHECK (sealed_days >= 0), -- 0 keeps
    opened_days integer NOT NULL DEFAULT 0 CHECK (opened_days >= 0),
    coldest integer, -- °C it may be stored and used at
    warmest integer,
    dampest integer CHECK (dampest BETWEEN 0 AND 100), -- relative humidity it may be used at, %
    retired boolean NOT NULL DEFAULT false, -- no longer offered; its history stays
    edit integer NOT NULL DEFAULT 1,
    CONSTRAINT item_unit UNIQUE (code, unit),
    CHECK (coldest <= warmest)
);
CREATE INDEX item_in_place ON item (place, code);

CREATE TABLE supplier (
    id uuid PRIMARY KEY,
    name text NOT NULL CONSTRAINT supplier_name_once UNIQUE CHECK (length(name) BETWEEN 1 AND 120),
    email text NOT NULL,
    note text NOT NULL,
    lead_days integer NOT NULL CHECK (lead_days BETWEEN 0 AND 365), -- calendar days from ordering to the shelf
    edit integer NOT NULL DEFAULT 1
);

-- A pack a supplier sells. Of an item's packs one is the usual one: estimates charge by it.
CREATE TABLE offer (
    id uuid PRIMARY KEY,
    item text NOT NULL CONSTRAINT offer_item REFERENCES item,
    supplier uuid NOT NULL CONSTRAINT offer_supplier REFERENCES supplier,
    pack numeric NOT NULL CHECK (pack > 0 AND fits(pack, 4)), -- stock units in it
    article text NOT NULL, -- the supplier's own number for it
    usual boolean NOT NULL DEFAULT false,
    retired boolean NOT NULL DEFAULT false,
    edit integer NOT NULL DEFAULT 1,
    CONSTRAINT offer_once UNIQUE (item, supplier, pack)
);
CREATE UNIQUE INDEX offer_usual_once ON offer (item) WHERE usual;

-- What a pack costs net from a day on. Nothing is written over: of one day the last word counts.
CREATE TABLE offer_price (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    offer uuid NOT NULL REFERENCES offer,
    valid_from date NOT NULL,
    amount numeric NOT NULL CHECK (amount >= 0 AND fits(amount, 4)),
    noted timestamptz NOT NULL,
    noted_by text NOT NULL
);
CREATE INDEX offer_price_latest ON offer_price (offer, valid_from DESC, id DESC);
CREATE TRIGGER offer_price_stays BEFORE UPDATE OR DELETE ON offer_price FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER offer_prices_stay BEFORE TRUNCATE ON offer_price FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Programs keep what they read of the catalogue as long as this count stands. An act counts once, however much it
-- changes; by tells it that what it reads is not yet everybody's.
CREATE TABLE catalogue_version (
    single boolean PRIMARY KEY DEFAULT true CHECK (single),
    n bigint NOT NULL,
    by bigint NOT NULL
);
INSERT INTO catalogue_version (n, by) VALUES (0, 0);
-- +goose StatementBegin
CREATE FUNCTION catalogue_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE catalogue_version SET n = n + 1, by = txid_current() WHERE by <> txid_current();
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER item_changes AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON item FOR EACH STATEMENT EXECUTE FUNCTION catalogue_changes();
CREATE TRIGGER offer_changes AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON offer FOR EACH STATEMENT EXECUTE FUNCTION catalogue_changes();
CREATE TRIGGER offer_price_changes AFTER INSERT ON offer_price FOR EACH STATEMENT EXECUTE FUNCTION catalogue_changes();

-- What stood in the settings until now; a list without entries was written as null.
CREATE TEMPORARY TABLE old ON COMMIT DROP AS
SELECT l.part, e.nth, e.body FROM workshop, (VALUES ('{Catalogue,Foams}'::text[], 'foam'), ('{Catalogue,Liquids}', 'liquid'), ('{Catalogue,Goods}', 'good'), ('{Prices}', 'price')) AS l(path, part),
    json_array_elements(CASE json_typeof(body->'Figures'#>l.path) WHEN 'array' THEN body->'Figures'#>l.path ELSE '[]' END) WITH ORDINALITY AS e(body, nth);
INSERT INTO item (code, kind, name, unit, place, body)
SELECT body->>'Code', part, body->>'Name', coalesce(nullif(body->>'Unit', ''), CASE part WHEN 'liquid' THEN 'l' ELSE 'pcs' END), row_number() OVER (ORDER BY part = 'good', part, nth), body
FROM old WHERE part <> 'price';
INSERT INTO supplier (id, name, email, note, lead_days) SELECT gen_random_uuid(), 'Price list', '', 'Prices kept before suppliers were.', 7 FROM workshop;
-- An estimate took the first price it found of an item.
CREATE TEMPORARY TABLE listed ON COMMIT DROP AS
SELECT DISTINCT ON (body->>'Item') body->>'Item' AS item, round((body->>'Pack')::numeric, 4) AS pack, round((body->>'Amount')::numeric, 4) AS amount
FROM old WHERE part = 'price' AND (body->>'Pack')::numeric > 0 AND EXISTS (SELECT FROM item WHERE code = old.body->>'Item')
ORDER BY body->>'Item', nth;
INSERT INTO offer (id, item, supplier, pack, article, usual) SELECT gen_random_uuid(), listed.item, supplier.id, listed.pack, '', true FROM listed, supplier;
INSERT INTO offer_price (offer, valid_from, amount, noted, noted_by)
SELECT offer.id, workshop.changed::date, listed.amount, workshop.changed, '' FROM workshop, listed JOIN offer ON offer.item = listed.item;
UPDATE workshop SET body = (body::jsonb #- '{Figures,Catalogue}' #- '{Figures,Prices}')::json;
