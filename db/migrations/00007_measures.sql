-- What a finished piece measured is corrected by measuring again: the last one counts, and who wrote what before stays
-- to be seen, as with logged time.

-- +goose Up
ALTER TABLE finished DROP CONSTRAINT finished_pkey;
ALTER TABLE finished ADD COLUMN id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY;
CREATE INDEX finished_of_order ON finished (order_id, id);
CREATE TRIGGER finished_stays BEFORE UPDATE OR DELETE ON finished FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER finished_all_stays BEFORE TRUNCATE ON finished FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
