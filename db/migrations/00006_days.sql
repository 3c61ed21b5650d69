-- Days and hours: the slots that orders have on the bench, the time that was logged, what a finished piece measured,
-- and how the times of steps were learned.

-- +goose Up

-- An order's place on the bench, booked when the deposit is paid. The whole plan of an order is written anew when it
-- is moved; other orders stay where they are.
CREATE TABLE slot (
    order_id uuid NOT NULL CONSTRAINT slot_order REFERENCES sales_order,
    nth integer NOT NULL CHECK (nth >= 0),
    task json NOT NULL,
    people integer NOT NULL CHECK (people > 0),
    begins timestamptz NOT NULL,
    ends timestamptz NOT NULL,
    ready timestamptz NOT NULL,
    why text NOT NULL,
    for_nth integer NOT NULL, -- the task of the same order that it waits for; -1 for none
    behind text NOT NULL,     -- the other order it waits for
    PRIMARY KEY (order_id, nth),
    CHECK (begins <= ends AND ends <= ready)
);
CREATE INDEX slot_ahead ON slot (ready);

-- From when and how often an order was planned, and when last: calendars that follow it want to know.
CREATE TABLE bench_plan (
    order_id uuid PRIMARY KEY REFERENCES sales_order,
    not_before timestamptz NOT NULL, -- nothing of it begins
    again integer NOT NULL CHECK (again >= 0), -- 0 for the first plan
    planned timestamptz NOT NULL
);

-- Time at the bench, by group of steps or by step. The id is made where it is written, perhaps on a phone without a
-- net: sent twice it is there once. A correction stands beside what it corrects.
CREATE TABLE time_log (
    id uuid PRIMARY KEY,
    order_id uuid NOT NULL CONSTRAINT time_log_order REFERENCES sales_order,
    step text NOT NULL CHECK (length(step) BETWEEN 1 AND 60),
    minutes numeric NOT NULL CHECK (minutes >= 0 AND minutes <= 1440 AND fits(minutes, 2)),
    day date NOT NULL, -- worked
    rework text NOT NULL, -- why it had to be done again; empty for the first time
    note text NOT NULL,
    by_whom text NOT NULL,
    written timestamptz NOT NULL, -- where it was written
    kept timestamptz NOT NULL,    -- here
    corrects uuid CONSTRAINT corrected_once UNIQUE REFERENCES time_log,
    CHECK (corrects <> id)
);
CREATE INDEX time_log_of_order ON time_log (order_id);
CREATE INDEX time_log_of_step ON time_log (step, day);
CREATE TRIGGER time_log_stays BEFORE UPDATE OR DELETE ON time_log FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER time_logs_stay BEFORE TRUNCATE ON time_log FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Who is at what just now: one clock a person.
CREATE TABLE running_clock (
    by_whom text PRIMARY KEY,
    order_id uuid NOT NULL REFERENCES sales_order,
    step text NOT NULL CHECK (length(step) BETWEEN 1 AND 60),
    began timestamptz NOT NULL
);

-- What a finished piece measured, once an order.
CREATE TABLE finished (
    order_id uuid PRIMARY KEY REFERENCES sales_order,
    width_mm numeric CHECK (width_mm > 0 AND fits(width_mm, 1)),
    depth_mm numeric CHECK (depth_mm >= 0 AND fits(depth_mm, 1)),
    weight_kg numeric CHECK (weight_kg > 0 AND fits(weight_kg, 3)),
    note text NOT NULL,
    at timestamptz NOT NULL,
    by_whom text NOT NULL
);

-- Every time a maker took over a learned time: what it was, what it is, and what it rested on.
CREATE TABLE lesson (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    step text NOT NULL,
    was json NOT NULL,
    is_now json NOT NULL,
    jobs integer NOT NULL CHECK (jobs > 0),
    at timestamptz NOT NULL,
    by_whom text NOT NULL
);
CREATE TRIGGER lesson_stays BEFORE UPDATE OR DELETE ON lesson FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- The same of figures of materials: how far a liquid spreads, how far glued layers spring back.
CREATE TABLE material_lesson (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    what text NOT NULL,
    was numeric NOT NULL CHECK (was > 0 AND fits(was, 4)),
    is_now numeric NOT NULL CHECK (is_now > 0 AND fits(is_now, 4)),
    jobs integer NOT NULL CHECK (jobs > 0),
    at timestamptz NOT NULL,
    by_whom text NOT NULL
);
CREATE TRIGGER material_lesson_stays BEFORE UPDATE OR DELETE ON material_lesson FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- Secret links to the calendar: the token itself is nowhere. A link shows what its person may see, and ends with them.
CREATE TABLE calendar_link (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    person_id bigint NOT NULL REFERENCES person,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 100),
    digest bytea NOT NULL UNIQUE CHECK (octet_length(digest) = 32),
    created timestamptz NOT NULL,
    used timestamptz,
    -- The name is how a person tells which calendar loses its link when one is ended.
    CONSTRAINT calendar_link_name_once UNIQUE (person_id, name)
);
