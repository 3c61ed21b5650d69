-- What pays: which design a quote was made from, what was reckoned beside what it took, in narrow rows that sums over
-- tens of thousands of orders can be read from.

-- +goose Up

-- Every spec that a design ever had. A design's own row is the newest.
CREATE TABLE design_version (
    design_id uuid NOT NULL REFERENCES design,
    version integer NOT NULL CHECK (version > 0),
    name text NOT NULL,
    form json NOT NULL,
    since timestamptz NOT NULL,
    PRIMARY KEY (design_id, version)
);
CREATE TRIGGER design_version_stays BEFORE UPDATE OR DELETE ON design_version FOR EACH ROW EXECUTE FUNCTION refuse_change();
ALTER TABLE design ADD version integer NOT NULL DEFAULT 1 CHECK (version > 0);
INSERT INTO design_version (design_id, version, name, form, since) SELECT id, 1, name, form, changed FROM design;

-- The design a quote was started from; its spec may have been changed since. Null where it was started otherwise.
ALTER TABLE quote ADD design_id uuid, ADD design_version integer,
    ADD CONSTRAINT quote_design FOREIGN KEY (design_id, design_version) REFERENCES design_version,
    ADD CHECK ((design_id IS NULL) = (design_version IS NULL));

-- What an issued quote reckoned with, for the whole of it. What quotes of an earlier program did not keep is null.
CREATE TABLE quote_figures (
    quote_id uuid PRIMARY KEY REFERENCES quote ON DELETE CASCADE,
    quantity integer NOT NULL CHECK (quantity > 0),
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    net numeric NOT NULL CHECK (fits(net, 4)),
    fee numeric CHECK (fits(fee, 4)),
    material numeric CHECK (fits(material, 4)),
    handling numeric CHECK (fits(handling, 4)),
    labour numeric CHECK (fits(labour, 4)),
    bought_in numeric CHECK (fits(bought_in, 4)),
    contingency numeric CHECK (fits(contingency, 4)),
    hours numeric CHECK (fits(hours, 2)),
    low numeric CHECK (fits(low, 2)),
    high numeric CHECK (fits(high, 2)),
    former_days numeric CHECK (fits(former_days, 2)),
    drying_days numeric CHECK (fits(drying_days, 2)),
    CHECK (num_nonnulls(fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days) IN (0, 11))
);

-- The same of an order, as it stands with its options and changes, beside what it took. took_material follows the
-- ledger and took_minutes and took_rework follow the time log, by the triggers below: never written by hand.
CREATE TABLE order_figures (
    order_id uuid PRIMARY KEY REFERENCES sales_order,
    quantity integer NOT NULL CHECK (quantity > 0),
    currency text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
    net numeric NOT NULL CHECK (fits(net, 4)),
    gross numeric NOT NULL CHECK (fits(gross, 4)),
    fee numeric CHECK (fits(fee, 4)),
    material numeric CHECK (fits(material, 4)),
    handling numeric CHECK (fits(handling, 4)),
    labour numeric CHECK (fits(labour, 4)),
    bought_in numeric CHECK (fits(bought_in, 4)),
    contingency numeric CHECK (fits(contingency, 4)),
    hours numeric CHECK (fits(hours, 2)),
    low numeric CHECK (fits(low, 2)),
    high numeric CHECK (fits(high, 2)),
    former_days numeric CHECK (fits(former_days, 2)),
    drying_days numeric CHECK (fits(drying_days, 2)),
    took_material numeric NOT NULL DEFAULT 0,
    took_minutes numeric NOT NULL DEFAULT 0 CHECK (took_minutes >= 0),
    took_rework numeric NOT NULL DEFAULT 0 CHECK (took_rework >= 0),
    CHECK (num_nonnulls(fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days) IN (0, 11))
);

-- What quotes printed of their sums until now; the hours were printed as "9.45 h (8.1 to 12.3)".
INSERT INTO quote_figures (quote_id, quantity, currency, net, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days)
SELECT q.id, CASE WHEN q.form->>'quantity' ~ '^[1-9][0-9]{0,5}$' THEN (q.form->>'quantity')::integer ELSE 1 END, q.currency, q.net,
    s.fee, s.material, s.handling, s.labour, s.bought_in, s.contingency, s.hours[1]::numeric, s.hours[2]::numeric, s.hours[3]::numeric,
    CASE WHEN s.hours IS NOT NULL THEN 0 END, CASE WHEN s.hours IS NOT NULL THEN 0 END
FROM quote q LEFT JOIN (
    SELECT q.id, regexp_match(q.printed->>'Hours', '^([0-9.]+) h \(([0-9.]+) to ([0-9.]+)\)$') AS hours,
        coalesce(sum(a) FILTER (WHERE k = 'fee'), 0) AS fee, coalesce(sum(a) FILTER (WHERE k = 'material'), 0) AS material,
        coalesce(sum(a) FILTER (WHERE k = 'handling'), 0) AS handling, coalesce(sum(a) FILTER (WHERE k = 'labour' OR k LIKE 'labour %'), 0) AS labour,
        coalesce(sum(a) FILTER (WHERE k = 'bought in'), 0) AS bought_in, coalesce(sum(a) FILTER (WHERE k = 'contingency'), 0) AS contingency
    FROM quote q, json_array_elements(CASE json_typeof(q.printed->'Sums') WHEN 'array' THEN q.printed->'Sums' ELSE '[]' END) l,
        LATERAL (SELECT l->>'Key' AS k, (l->>'Amount')::numeric AS a) kept
    WHERE q.state <> 'draft' AND q.printed->>'Hours' ~ '^[0-9.]+ h \([0-9.]+ to [0-9.]+\)$'
    GROUP BY q.id, q.printed->>'Hours'
) s ON s.id = q.id
WHERE q.state <> 'draft';

-- Orders as their quotes; what options and changes moved besides the price was not kept. The tax of their lines is
-- worked out as most workshops do, half up on the sum.
INSERT INTO order_figures (order_id, quantity, currency, net, gross, fee, material, handling, labour, bought_in, contingency, hours, low, high, former_days, drying_days)
SELECT o.id, f.quantity, o.currency, w.net, w.gross, f.fee, f.material, f.handling, f.labour, f.bought_in, f.contingency, f.hours, f.low, f.high, f.former_days, f.drying_days
FROM sales_order o JOIN quote_figures f ON f.quote_id = o.quote_id JOIN quote q ON q.id = o.quote_id,
    LATERAL (SELECT coalesce(sum(amount) FILTER (WHERE kind <> 'cancelled'), 0) AS agreed, coalesce(sum(amount) FILTER (WHERE kind = 'cancelled'), 0) AS off FROM order_line WHERE order_id = o.id) l,
    LATERAL (SELECT CASE WHEN (o.terms#>>'{Regime,Registered}')::boolean THEN 1 + coalesce((o.terms#>>'{Rate,Percent}')::numeric, 0) / 100 ELSE 1 END AS taxed,
        coalesce((o.terms#>>'{Regime,GrossPrices}')::boolean, false) AS inside) t,
    LATERAL (SELECT CASE WHEN t.inside THEN l.agreed ELSE round(l.agreed * t.taxed, scale(q.gross)) END + l.off AS gross) g,
    LATERAL (SELECT g.gross, CASE WHEN l.off = 0 AND NOT t.inside THEN l.agreed ELSE round(g.gross / t.taxed, scale(q.gross)) END AS net) w;
UPDATE order_figures f SET took_material = m.took FROM (SELECT order_id, -sum(cost) AS took FROM movement WHERE order_id IS NOT NULL GROUP BY order_id) m WHERE m.order_id = f.order_id;
UPDATE order_figures f SET took_minutes = l.worked, took_rework = l.again FROM (
    SELECT order_id, coalesce(sum(minutes) FILTER (WHERE rework = ''), 0) AS worked, coalesce(sum(minutes) FILTER (WHERE rework <> ''), 0) AS again
    FROM time_log l WHERE NOT EXISTS (SELECT FROM time_log c WHERE c.corrects = l.id) GROUP BY order_id) l WHERE l.order_id = f.order_id;

-- +goose StatementBegin
CREATE FUNCTION movement_is_taken() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    UPDATE order_figures SET took_material = took_material - NEW.cost WHERE order_id = NEW.order_id;
    RETURN NULL;
END $$;

-- A correction takes back what it corrects, which may have been of another order or of rework.
CREATE FUNCTION log_is_worked() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE was time_log;
BEGIN
    IF NEW.corrects IS NOT NULL THEN
        SELECT * INTO was FROM time_log WHERE id = NEW.corrects;
        UPDATE order_figures SET took_minutes = took_minutes - CASE WHEN was.rework = '' THEN was.minutes ELSE 0 END,
            took_rework = took_rework - CASE WHEN was.rework = '' THEN 0 ELSE was.minutes END WHERE order_id = was.order_id;
    END IF;
    UPDATE order_figures SET took_minutes = took_minutes + CASE WHEN NEW.rework = '' THEN NEW.minutes ELSE 0 END,
        took_rework = took_rework + CASE WHEN NEW.rework = '' THEN 0 ELSE NEW.minutes END WHERE order_id = NEW.order_id;
    RETURN NULL;
END $$;

CREATE FUNCTION took_follows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF pg_trigger_depth() > 1 OR TG_OP = 'INSERT' AND NEW.took_material = 0 AND NEW.took_minutes = 0 AND NEW.took_rework = 0
        OR TG_OP = 'UPDATE' AND (NEW.took_material, NEW.took_minutes, NEW.took_rework) = (OLD.took_material, OLD.took_minutes, OLD.took_rework) THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'what an order took follows from the ledger and the time log' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER movement_is_taken AFTER INSERT ON movement FOR EACH ROW WHEN (NEW.order_id IS NOT NULL) EXECUTE FUNCTION movement_is_taken();
CREATE TRIGGER log_is_worked AFTER INSERT ON time_log FOR EACH ROW EXECUTE FUNCTION log_is_worked();
CREATE TRIGGER took_follows BEFORE INSERT OR UPDATE ON order_figures FOR EACH ROW EXECUTE FUNCTION took_follows();
