-- What an invoice has to know of who buys, and how they are written to.

-- +goose Up

ALTER TABLE customer
    ADD language text NOT NULL DEFAULT '' CHECK (language ~ '^([a-z]{2})?$'),
    ADD business boolean NOT NULL DEFAULT false,
    ADD tax_number text NOT NULL DEFAULT '' CHECK (length(tax_number) <= 40),
    ADD country text NOT NULL DEFAULT '' CHECK (country ~ '^([A-Z]{2})?$'),
    ADD treatment text NOT NULL DEFAULT '' CHECK (treatment IN ('', 'reverse charge', 'export', 'exempt')),
    ADD pay_first boolean NOT NULL DEFAULT false;
