-- Who works in the workshop and the ways they come in.

-- +goose Up

-- Persons are never deleted: their name stays under what they did. They are disabled instead.
CREATE TABLE person (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    -- Kept as compared (RFC 8265, case mapped), so a plain unique constraint makes "Mara" and "mara" one.
    login text NOT NULL CONSTRAINT person_login_once UNIQUE CHECK (length(login) BETWEEN 2 AND 64),
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 100),
    role text NOT NULL CHECK (role IN ('owner', 'helper', 'bookkeeper')),
    -- Null for somebody who only came in by a link so far. The check keeps a plain password from ever
    -- being written here by a slip or by hand.
    password_hash text CHECK (password_hash LIKE '$argon2id$%'),
    -- A session may begin only while this is what it was when the password was checked.
    password_set timestamptz,
    created timestamptz NOT NULL,
    disabled timestamptz,
    CHECK ((password_hash IS NULL) = (password_set IS NULL))
);

-- Of a cookie, a link and a token only the SHA-256 is kept: whoever reads a backup cannot sign in with it.
CREATE TABLE session (
    digest bytea PRIMARY KEY CHECK (octet_length(digest) = 32),
    person_id bigint NOT NULL REFERENCES person,
    began timestamptz NOT NULL,
    seen timestamptz NOT NULL,
    ends timestamptz NOT NULL,
    by_link boolean NOT NULL,
    CHECK (began <= seen AND began < ends)
);
CREATE INDEX session_of_person ON session (person_id); -- all of a person's end together

-- One link each: a new one replaces the old. Using it deletes the row, and only one of many can do that.
CREATE TABLE sign_in_link (
    person_id bigint PRIMARY KEY REFERENCES person,
    digest bytea NOT NULL UNIQUE CHECK (octet_length(digest) = 32),
    ends timestamptz NOT NULL
);

CREATE TABLE api_token (
    id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    person_id bigint NOT NULL REFERENCES person,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 100),
    digest bytea NOT NULL UNIQUE CHECK (octet_length(digest) = 32),
    created timestamptz NOT NULL,
    used timestamptz,
    -- The name is how a person tells which program loses its way in when a token is ended.
    CONSTRAINT api_token_name_once UNIQUE (person_id, name)
);

-- Tries at signing in, under a login or an address. The key is a digest because people type passwords into
-- the login field, and an address is personal. Kept here and not in memory so that every program counts together.
CREATE TABLE sign_in_attempt (
    key bytea PRIMARY KEY CHECK (octet_length(key) = 32),
    count integer NOT NULL CHECK (count >= 0),
    began timestamptz NOT NULL
);
