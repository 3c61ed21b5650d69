-- The catalogue leaves the settings' document and gets tables of its own: items, who sells them, at what price.

-- +goose Up

-- How an item behaves (thickness, spread, solids) is one document: an estimate always needs all of it. What the
-- shelf asks about stands in columns.
CREATE TABLE item (
    code text PRIMARY KEY CHECK (code ~ '^[a-z0-9][a-z0-9.-]{0,39}$'),
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
    edit integer NOT NULL DEFAULT 0,
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
    edit integer NOT NULL DEFAULT 0
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
    edit integer NOT NULL DEFAULT 0,
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

-- What stood in the settings until now.
INSERT INTO item (code, kind, name, unit, place, body)
SELECT j.body->>'Code', j.kind, j.body->>'Name', coalesce(nullif(j.body->>'Unit', ''), CASE j.kind WHEN 'foam' THEN 'pcs' ELSE 'l' END), row_number() OVER (ORDER BY j.kind, j.nth), j.body
FROM (
    SELECT 'foam' AS kind, e.nth, e.body FROM workshop, json_array_elements(workshop.body#>'{Figures,Catalogue,Foams}') WITH ORDINALITY AS e(body, nth)
    UNION ALL
    SELECT 'liquid', e.nth, e.body FROM workshop, json_array_elements(workshop.body#>'{Figures,Catalogue,Liquids}') WITH ORDINALITY AS e(body, nth)
    UNION ALL
    SELECT 'good', e.nth, e.body FROM workshop, json_array_elements(workshop.body#>'{Figures,Catalogue,Goods}') WITH ORDINALITY AS e(body, nth)
) j;
INSERT INTO supplier (id, name, email, note, lead_days) SELECT gen_random_uuid(), 'Price list', '', 'Prices kept before suppliers were.', 7 FROM workshop;
INSERT INTO offer (id, item, supplier, pack, article, usual)
SELECT gen_random_uuid(), p.body->>'Item', supplier.id, (p.body->>'Pack')::numeric, '', true
FROM supplier, workshop, json_array_elements(workshop.body#>'{Figures,Prices}') AS p(body)
WHERE EXISTS (SELECT FROM item WHERE code = p.body->>'Item') AND (p.body->>'Pack')::numeric > 0;
INSERT INTO offer_price (offer, valid_from, amount, noted, noted_by)
SELECT offer.id, workshop.changed::date, (p.body->>'Amount')::numeric, workshop.changed, ''
FROM workshop, json_array_elements(workshop.body#>'{Figures,Prices}') AS p(body) JOIN offer ON offer.item = p.body->>'Item';
UPDATE workshop SET body = (body::jsonb #- '{Figures,Catalogue}' #- '{Figures,Prices}')::json;
