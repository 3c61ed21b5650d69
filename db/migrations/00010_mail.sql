-- Mail to customers: what waits to be sent, what was, and every attempt.

-- +goose Up

-- A mail is written in the act that causes it, so that it is neither lost nor sent for an act that failed. Senders take
-- what is due, one row each, and hold it for the time that one attempt may last.
CREATE TABLE mail (
    id uuid PRIMARY KEY,
    message_id text NOT NULL CONSTRAINT mail_message_once UNIQUE, -- the same at every attempt
    token text NOT NULL CONSTRAINT mail_once UNIQUE CHECK (length(token) BETWEEN 8 AND 100), -- of the form it was asked for with
    kind text NOT NULL CHECK (kind ~ '^[a-z ]{1,40}$'),
    about uuid NOT NULL, -- quote, order or invoice, by kind
    language text NOT NULL CHECK (language ~ '^([a-z]{2})?$'),
    -- What ends a line in a head would begin another one.
    recipient text NOT NULL CHECK (length(recipient) BETWEEN 3 AND 254 AND recipient !~ '[[:cntrl:][:space:]]'),
    subject text NOT NULL CHECK (length(subject) BETWEEN 1 AND 200 AND subject !~ '[[:cntrl:]]'),
    body text NOT NULL CHECK (length(body) BETWEEN 1 AND 20000),
    link text NOT NULL, -- address of the customer's own page; a secret, so it is kept until the mail is gone
    state text NOT NULL CHECK (state IN ('waiting', 'sent', 'failed', 'cancelled')),
    tries integer NOT NULL CHECK (tries >= 0),
    since timestamptz NOT NULL, -- from when on it is tried
    due timestamptz NOT NULL,   -- the next attempt
    held_until timestamptz,     -- one sender is at it
    refusal text NOT NULL,      -- why the last attempt failed
    queued timestamptz NOT NULL,
    by_whom text NOT NULL,
    sent timestamptz,
    CHECK ((sent IS NOT NULL) = (state = 'sent')),
    CHECK (held_until IS NULL OR state = 'waiting'),
    CHECK (link = '' OR state IN ('waiting', 'failed'))
);
CREATE INDEX mail_due ON mail (due) WHERE state = 'waiting';
CREATE INDEX mail_about ON mail (about, queued);
CREATE INDEX mail_newest ON mail (queued DESC);
-- Of one version of a quote its customer is reminded once.
CREATE UNIQUE INDEX mail_reminds_once ON mail (about) WHERE kind = 'reminder';

CREATE TABLE mail_document (
    mail uuid NOT NULL REFERENCES mail,
    nth integer NOT NULL CHECK (nth >= 0),
    document bytea NOT NULL REFERENCES document,
    PRIMARY KEY (mail, nth)
);

-- What was written stays as it was written; what was sent stays sent.
-- +goose StatementBegin
CREATE FUNCTION mail_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF TG_OP = 'UPDATE' AND OLD.state NOT IN ('sent', 'cancelled') AND
        (NEW.id, NEW.message_id, NEW.token, NEW.kind, NEW.about, NEW.language, NEW.recipient, NEW.subject, NEW.body, NEW.queued, NEW.by_whom)
        = (OLD.id, OLD.message_id, OLD.token, OLD.kind, OLD.about, OLD.language, OLD.recipient, OLD.subject, OLD.body, OLD.queued, OLD.by_whom) THEN
        RETURN NEW;
    END IF;
    RAISE EXCEPTION 'a mail stays as it was written' USING ERRCODE = 'restrict_violation';
END $$;
-- +goose StatementEnd
CREATE TRIGGER mail_stays BEFORE UPDATE OR DELETE ON mail FOR EACH ROW EXECUTE FUNCTION mail_stays();
CREATE TRIGGER mails_stay BEFORE TRUNCATE ON mail FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER mail_document_stays BEFORE UPDATE OR DELETE ON mail_document FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER mail_documents_stay BEFORE TRUNCATE ON mail_document FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What happened to a mail, only ever added to.
CREATE TABLE mail_trail (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    mail uuid NOT NULL REFERENCES mail,
    at timestamptz NOT NULL,
    what text NOT NULL CHECK (what IN ('queued', 'begun', 'sent', 'put off', 'refused', 'again', 'cancelled')),
    says text NOT NULL,
    by_whom text NOT NULL -- empty for the sender
);
CREATE INDEX mail_trail_of ON mail_trail (mail, id);
CREATE TRIGGER mail_trail_stays BEFORE UPDATE OR DELETE ON mail_trail FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER mail_trails_stay BEFORE TRUNCATE ON mail_trail FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
