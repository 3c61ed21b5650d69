-- What every later table leans on.

-- +goose Up

-- A column numeric(14,2) rounds 1.005 to 1.01 before any check sees it, so money and quantities are plain
-- numeric with CHECK (fits(column, places)): what was not rounded first is refused, never changed.
-- scale() is null for NaN and Infinity, and a check that is null passes: those are refused here by name.
CREATE FUNCTION fits(v numeric, places integer) RETURNS boolean
    LANGUAGE sql IMMUTABLE PARALLEL SAFE
    AS $$ SELECT v IS NULL OR coalesce(scale(v) <= places, false) $$;

COMMENT ON FUNCTION fits(numeric, integer) IS
    'true when v is null or a finite number with at most so many decimal places as stored';
