-- A drawing that waits for its answer while a change is agreed shows what is ordered no longer.

-- +goose Up
ALTER TABLE approval DROP CONSTRAINT approval_verdict_check;
ALTER TABLE approval ADD CONSTRAINT approval_verdict_check CHECK (verdict IN ('', 'approved', 'change', 'overtaken'));
