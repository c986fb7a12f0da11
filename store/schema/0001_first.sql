-- +goose Up

-- The file says whose it is ('stub'), so that no other program's database is
-- taken for ours.
PRAGMA application_id = 1937012066;

-- What the carriers brought in, kept before the peer is told that it was
-- received. A message that a carrier brings again is kept once.
CREATE TABLE inbox (
    id          INTEGER PRIMARY KEY,
    carrier     TEXT    NOT NULL,               -- sms, email, console, keyboard
    carrier_id  TEXT    NOT NULL,               -- the carrier's own id
    sender      TEXT    NOT NULL DEFAULT '',    -- the address it came from
    contact     TEXT    NOT NULL DEFAULT '',    -- whose address that is
    words       TEXT    NOT NULL DEFAULT '',    -- as typed
    sent_at     INTEGER,                        -- the sender's stamp, unix seconds
    received_at INTEGER NOT NULL,               -- unix seconds
    in_reply_to TEXT    NOT NULL DEFAULT '',    -- the envelope that it answers, where that is proved
    mail_id     TEXT    NOT NULL DEFAULT '',    -- Message-ID of a mail, to answer in its thread
    stop_only   INTEGER NOT NULL DEFAULT 0 CHECK (stop_only IN (0, 1)), -- trusted for an opt-out alone
    done_at     INTEGER,                        -- when it was heard; null while it waits
    UNIQUE (carrier, carrier_id)
) STRICT;
CREATE INDEX inbox_waiting ON inbox (received_at, id) WHERE done_at IS NULL;
CREATE INDEX inbox_contact ON inbox (contact, received_at);

-- The diary: everything that happened on the farm, in the order it was
-- written down. Nothing in it is ever changed; a wrong entry is voided by a
-- later one.
CREATE TABLE facts (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    at          INTEGER NOT NULL,               -- the instant it was sent or measured, unix seconds
    day         TEXT    NOT NULL,               -- the farm's day that it speaks of, YYYY-MM-DD
    kind        TEXT    NOT NULL,               -- reading, off, on, frost, void ...
    paddock     TEXT    NOT NULL DEFAULT '',    -- empty is the whole farm
    herd        TEXT    NOT NULL DEFAULT '',    -- empty is every herd there
    heights     TEXT,                           -- JSON list of leaf heights, inches
    adds        INTEGER NOT NULL DEFAULT 0 CHECK (adds IN (0, 1)), -- more plants of the same reading
    wait_s      INTEGER NOT NULL DEFAULT 0,     -- how far a rung is put off, seconds
    temp_c      REAL,                           -- the measured minimum, degrees C
    said_by     TEXT    NOT NULL DEFAULT '',    -- the contact, or what measured it
    source      TEXT    NOT NULL DEFAULT '',    -- text, keyboard, record, thermometer, service
    inbox       INTEGER REFERENCES inbox (id),  -- the text that it was read from
    voids       INTEGER UNIQUE REFERENCES facts (id), -- the fact that it takes back
    words       TEXT    NOT NULL DEFAULT '',    -- what was typed
    recorded_at INTEGER NOT NULL,               -- when it was written down, unix seconds
    CHECK ((kind = 'void') = (voids IS NOT NULL))
) STRICT;
CREATE INDEX facts_inbox ON facts (inbox) WHERE inbox IS NOT NULL;
CREATE INDEX facts_day ON facts (day);
-- What an instrument says of one day and place is one fact, and stays the one
-- even when somebody voids it.
CREATE UNIQUE INDEX facts_measured ON facts (source, kind, paddock, day)
    WHERE source IN ('record', 'thermometer', 'service') AND kind <> 'void';
-- +goose StatementBegin
CREATE TRIGGER facts_stay BEFORE UPDATE ON facts BEGIN
    SELECT RAISE(ABORT, 'facts are never changed: void the fact and record the right one');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER facts_remain BEFORE DELETE ON facts BEGIN
    SELECT RAISE(ABORT, 'facts are never deleted: void the fact');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER facts_keep BEFORE INSERT ON facts WHEN EXISTS (SELECT 1 FROM facts WHERE id = NEW.id) BEGIN
    SELECT RAISE(ABORT, 'facts are never replaced: void the fact and record the right one');
END;
-- +goose StatementEnd

-- Messages as they left or will leave: the words, frozen, so that a retry is
-- identical to the byte. One message carries one or more rows of the outbox.
CREATE TABLE messages (
    id          INTEGER PRIMARY KEY,
    envelope    TEXT    NOT NULL UNIQUE,        -- our id for it, never used again
    message_id  TEXT    NOT NULL DEFAULT '',    -- RFC 5322 Message-ID, mail only
    carrier     TEXT    NOT NULL,               -- who has it, or had it last
    retry       TEXT    NOT NULL CHECK (retry IN ('unsafe', 'safe', 'never')), -- what a second try with the same id does
    contact     TEXT    NOT NULL,
    address     TEXT    NOT NULL,
    medium      TEXT    NOT NULL,
    kind        TEXT    NOT NULL,
    subject     TEXT    NOT NULL DEFAULT '',
    words       TEXT    NOT NULL,
    html        TEXT    NOT NULL DEFAULT '',
    files       TEXT,                           -- JSON list: name, type, cid, data
    in_reply_to TEXT    NOT NULL DEFAULT '',
    urgent      INTEGER NOT NULL DEFAULT 0 CHECK (urgent IN (0, 1)),
    frozen_at   INTEGER NOT NULL,               -- unix seconds; the Date of a mail
    next_at     INTEGER,                        -- when it is tried again; null: not at all
    unsure      INTEGER NOT NULL DEFAULT 0 CHECK (unsure IN (0, 1)), -- an earlier try may have arrived
    repeats     INTEGER REFERENCES messages (id), -- the message that this one may repeat
    report      TEXT    CHECK (report IN ('delivered', 'delayed', 'undelivered')), -- news of it after it was sent
    reported_at INTEGER
) STRICT;
CREATE INDEX messages_retry ON messages (next_at) WHERE next_at IS NOT NULL;
CREATE INDEX messages_contact ON messages (contact, medium, frozen_at);

-- Every hand-over to a carrier, written down before the carrier is called.
-- One without an outcome was under way when the process ended.
CREATE TABLE attempts (
    id          INTEGER PRIMARY KEY,
    message     INTEGER NOT NULL REFERENCES messages (id),
    n           INTEGER NOT NULL,               -- 1 is the first
    carrier     TEXT    NOT NULL,
    run         TEXT    NOT NULL,               -- the run of the program that tried
    started_at  INTEGER NOT NULL,
    ended_at    INTEGER,
    outcome     TEXT    CHECK (outcome IN ('sent', 'again', 'failed', 'unknown')),
    ref         TEXT    NOT NULL DEFAULT '',    -- the carrier's own id
    code        TEXT    NOT NULL DEFAULT '',    -- the protocol's code
    detail      TEXT    NOT NULL DEFAULT '',
    UNIQUE (message, n)
) STRICT;
CREATE INDEX attempts_open ON attempts (message) WHERE outcome IS NULL;
CREATE INDEX attempts_ref ON attempts (ref) WHERE ref <> '';
CREATE INDEX attempts_started ON attempts (started_at);

-- What is to be said and what was said: one row for one thing to one contact
-- by one medium. The row is there for good, so that its key is never used for
-- a second message.
CREATE TABLE outbox (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    key         TEXT    NOT NULL UNIQUE,        -- paddock / cutoff / cause / rung / repeat / contact / medium
    contact     TEXT    NOT NULL,
    medium      TEXT    NOT NULL,
    kind        TEXT    NOT NULL,
    paddock     TEXT    NOT NULL DEFAULT '',
    facts       TEXT    NOT NULL,               -- JSON: what it says, before any words
    not_before  INTEGER NOT NULL,               -- when it is due, unix seconds
    good_until  INTEGER,                        -- after that it is no longer true
    urgent      INTEGER NOT NULL DEFAULT 0 CHECK (urgent IN (0, 1)),
    answer      INTEGER NOT NULL DEFAULT 0 CHECK (answer IN (0, 1)),
    by_hand     INTEGER NOT NULL DEFAULT 0 CHECK (by_hand IN (0, 1)), -- put back by a person: no pass withdraws it
    inbox       INTEGER UNIQUE REFERENCES inbox (id), -- the text that it answers
    state       TEXT    NOT NULL DEFAULT 'queued'
                CHECK (state IN ('queued', 'sending', 'sent', 'failed', 'unknown', 'withdrawn', 'expired')),
    why         TEXT    NOT NULL DEFAULT '',    -- what holds it back, or why it was not said
    message     INTEGER REFERENCES messages (id), -- the message that carries it
    repeats     INTEGER REFERENCES messages (id), -- the message that may have said it already
    planned_at  INTEGER NOT NULL,
    changed_at  INTEGER NOT NULL,               -- of the last change of state
    seq         INTEGER NOT NULL                -- rises with every change, for those who follow
) STRICT;
CREATE INDEX outbox_due ON outbox (medium, not_before) WHERE state = 'queued';
CREATE INDEX outbox_message ON outbox (message) WHERE message IS NOT NULL;
CREATE INDEX outbox_changed ON outbox (changed_at);
CREATE INDEX outbox_repeats ON outbox (repeats) WHERE repeats IS NOT NULL;
CREATE INDEX outbox_contact ON outbox (contact, changed_at);
CREATE INDEX outbox_seq ON outbox (seq);

-- What instruments and weather services said about the air.
CREATE TABLE observations (
    source      TEXT    NOT NULL,               -- record, thermometer, service
    place       TEXT    NOT NULL DEFAULT '',    -- the station or logger
    forecast    INTEGER NOT NULL DEFAULT 0 CHECK (forecast IN (0, 1)),
    at          INTEGER NOT NULL,               -- end of the period it covers, unix seconds
    day         TEXT    NOT NULL,               -- the farm's day that it counts for
    min_c       REAL    NOT NULL,
    max_c       REAL,
    rain_mm     REAL,
    issued_at   INTEGER,                        -- when a forecast was made
    PRIMARY KEY (source, at, forecast, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX observations_day ON observations (day);

-- Addresses whose owners opted out. They stay after a contact has left the
-- farm file, until the owner says start.
CREATE TABLE suppressed (
    address     TEXT    PRIMARY KEY,
    contact     TEXT    NOT NULL DEFAULT '',
    why         TEXT    NOT NULL DEFAULT '',
    at          INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- How far each carrier and weather source has been read.
CREATE TABLE cursors (
    carrier     TEXT    PRIMARY KEY,
    cursor      TEXT    NOT NULL,
    at          INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- One row: the latest time that was certain, the run that wrote it, and what
-- the self-check last wrote.
CREATE TABLE clock (
    id          INTEGER PRIMARY KEY CHECK (id = 1),
    seen_at     INTEGER,                        -- never an unconfirmed time
    run         TEXT    NOT NULL DEFAULT '',
    beat        INTEGER NOT NULL DEFAULT 0,     -- of the self-check
    seq         INTEGER NOT NULL DEFAULT 0      -- the last outbox.seq given out
) STRICT;
INSERT INTO clock (id) VALUES (1);
