-- Jobs and quotes by the design they were made from, without a look at rows of quotes, which are wide.

-- +goose Up
ALTER TABLE order_figures ADD design_id uuid, ADD design_version integer;
UPDATE order_figures f SET design_id = q.design_id, design_version = q.design_version FROM sales_order o JOIN quote q ON q.id = o.quote_id WHERE o.id = f.order_id AND q.design_id IS NOT NULL;
CREATE INDEX jobs_of_design ON order_figures (design_id, ended DESC, order_id DESC) WHERE state = 'done' AND fee IS NOT NULL;
CREATE INDEX quotes_of_design ON quote (design_id, issued_at DESC, id DESC) INCLUDE (design_version) WHERE design_id IS NOT NULL AND state NOT IN ('draft', 'replaced');
