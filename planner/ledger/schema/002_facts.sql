-- What happened: facts as they were recorded, and undoings as rows of their own.

CREATE TABLE facts (
    id          INTEGER PRIMARY KEY,
    kind        TEXT NOT NULL,
    day         TEXT NOT NULL,       -- ISO date of the first day it speaks of, '': none
    recorded_at TEXT NOT NULL,       -- ISO date and time with offset
    undoes      INTEGER REFERENCES facts (id) CHECK (undoes < id),
    record      TEXT NOT NULL        -- JSON: the whole fact
);

-- Blanking a person is the one rewriting; each stands here for good.
CREATE TABLE rewritings (
    id          INTEGER PRIMARY KEY,
    made_at     TEXT NOT NULL,
    stands_now  TEXT NOT NULL,       -- the words that stand where the name stood
    rows        INTEGER NOT NULL     -- how many rows were rewritten or left out
);

-- A sum over everything a revision consists of, so that a damaged ledger shows which ones are still whole.
CREATE TABLE seals (
    revision INTEGER PRIMARY KEY REFERENCES revisions (number),
    sha256   TEXT NOT NULL
);

ALTER TABLE revisions ADD COLUMN remarks TEXT NOT NULL DEFAULT '[]';  -- JSON: what could not be had, and why

CREATE TRIGGER facts_stay BEFORE UPDATE ON facts
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: facts'); END;
CREATE TRIGGER facts_keep BEFORE DELETE ON facts
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: facts'); END;
CREATE TRIGGER rewritings_stay BEFORE UPDATE ON rewritings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: rewritings'); END;
CREATE TRIGGER rewritings_keep BEFORE DELETE ON rewritings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: rewritings'); END;
CREATE TRIGGER seals_stay BEFORE UPDATE ON seals
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: seals'); END;
CREATE TRIGGER seals_keep BEFORE DELETE ON seals
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: seals'); END;
