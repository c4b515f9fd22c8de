-- Attempts with phases, how they ended and what the coach said; readings of run-ups; start marks as they were set.
-- They are facts like the others. An older program would not know their fields: from here on it is refused with a
-- clear sentence. Whoever works out a start mark reads all facts of a few kinds, so these have an index.

CREATE INDEX facts_by_kind ON facts (kind, day);
