-- Won and lost: quotes by the day they were first issued, and whether their customer had ordered before, are looked up
-- for a year at a time.

-- +goose Up

CREATE INDEX quote_first ON quote (issued_at) WHERE version = 1 AND issued_at IS NOT NULL;
CREATE INDEX sales_order_of_customer ON sales_order (customer_id, accepted);
