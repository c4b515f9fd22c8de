-- The first ledger: plans as they were made, what they were made from, and what was handed out.
--
-- Nothing here is changed or deleted: a correction is a new row. The triggers below hold everybody to it,
-- also somebody with another program. The one rewriting that will be allowed (blanking a person) can drop
-- the triggers it needs, rewrite, record that it did, and put the triggers back, all in one transaction.

CREATE TABLE migrations (
    number  INTEGER PRIMARY KEY,
    name    TEXT NOT NULL,
    program TEXT NOT NULL            -- the version of this program that ran it
);

-- The coach's file, resolved. Revisions made from the same file share a row.
CREATE TABLE inputs (
    id     TEXT PRIMARY KEY,         -- SHA-256 of `record`, hexadecimal
    record TEXT NOT NULL             -- canonical JSON
);

CREATE TABLE revisions (
    number        INTEGER PRIMARY KEY CHECK (number >= 1),
    made_at       TEXT NOT NULL,     -- ISO date and time with offset
    reason        TEXT NOT NULL,
    replaces      INTEGER NOT NULL CHECK (replaces >= 0 AND replaces < number),  -- 0: none
    inputs_hash   TEXT NOT NULL,
    inputs        TEXT NOT NULL REFERENCES inputs (id),
    random_seed   INTEGER NOT NULL,
    budget        TEXT NOT NULL,
    stopped_early INTEGER NOT NULL CHECK (stopped_early IN (0, 1)),
    program       TEXT NOT NULL,
    status        TEXT NOT NULL,     -- JSON: tier -> [value, bound or null]
    score         TEXT NOT NULL,     -- JSON: tier -> rule -> points
    not_judged    TEXT NOT NULL      -- JSON: sentences
);

CREATE TABLE placements (
    revision INTEGER NOT NULL REFERENCES revisions (number),
    athlete  TEXT NOT NULL,
    day      TEXT NOT NULL,          -- ISO date
    slot     TEXT NOT NULL,
    unit     TEXT NOT NULL,
    word     TEXT NOT NULL,
    record   TEXT NOT NULL,          -- JSON: the whole placement
    PRIMARY KEY (revision, athlete, day, slot, unit, word)
);

CREATE TABLE findings (
    revision INTEGER NOT NULL REFERENCES revisions (number),
    position INTEGER NOT NULL,
    athlete  TEXT NOT NULL,          -- '': the whole squad
    record   TEXT NOT NULL,
    PRIMARY KEY (revision, position)
);

CREATE TABLE exceptions (
    revision INTEGER NOT NULL REFERENCES revisions (number),
    position INTEGER NOT NULL,
    athlete  TEXT NOT NULL,
    record   TEXT NOT NULL,
    PRIMARY KEY (revision, position)
);

CREATE TABLE hand_outs (
    id            INTEGER PRIMARY KEY,
    revision      INTEGER NOT NULL REFERENCES revisions (number),
    handed_out_at TEXT NOT NULL,
    until         TEXT NOT NULL      -- ISO date, '': the whole block
);

CREATE TRIGGER migrations_stay BEFORE UPDATE ON migrations
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: migrations'); END;
CREATE TRIGGER migrations_keep BEFORE DELETE ON migrations
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: migrations'); END;
CREATE TRIGGER inputs_stay BEFORE UPDATE ON inputs
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: inputs'); END;
CREATE TRIGGER inputs_keep BEFORE DELETE ON inputs
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: inputs'); END;
CREATE TRIGGER revisions_stay BEFORE UPDATE ON revisions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: revisions'); END;
CREATE TRIGGER revisions_keep BEFORE DELETE ON revisions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: revisions'); END;
CREATE TRIGGER placements_stay BEFORE UPDATE ON placements
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: placements'); END;
CREATE TRIGGER placements_keep BEFORE DELETE ON placements
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: placements'); END;
CREATE TRIGGER findings_stay BEFORE UPDATE ON findings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: findings'); END;
CREATE TRIGGER findings_keep BEFORE DELETE ON findings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: findings'); END;
CREATE TRIGGER exceptions_stay BEFORE UPDATE ON exceptions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: exceptions'); END;
CREATE TRIGGER exceptions_keep BEFORE DELETE ON exceptions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: exceptions'); END;
CREATE TRIGGER hand_outs_stay BEFORE UPDATE ON hand_outs
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: hand_outs'); END;
CREATE TRIGGER hand_outs_keep BEFORE DELETE ON hand_outs
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: hand_outs'); END;
