-- What months that are over cost and how long the bench was open in them: as it was set until the month of a change, the
-- first of which keeps it.

-- +goose Up
CREATE TABLE standing (
    until date PRIMARY KEY CHECK (extract(day FROM until) = 1),
    fixed_costs numeric NOT NULL CHECK (fixed_costs >= 0 AND fits(fixed_costs, 4)),
    people integer NOT NULL CHECK (people > 0),
    calendar jsonb NOT NULL
);
