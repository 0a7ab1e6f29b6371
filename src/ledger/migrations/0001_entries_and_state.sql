-- What happened: only ever added to. `body` is the entry as docs/ledger.md describes it, `also` what an undo took back
-- besides the entry it names.
CREATE TABLE entries (
  sequence INTEGER PRIMARY KEY,
  id       TEXT NOT NULL UNIQUE CHECK (length(id) = 32),
  kind     TEXT NOT NULL,
  happened TEXT NOT NULL,
  arrived  TEXT NOT NULL,
  body     TEXT NOT NULL CHECK (json_valid(body)),
  also     TEXT NOT NULL CHECK (json_valid(also))
) STRICT;
CREATE INDEX entries_by_kind ON entries (kind);
CREATE TRIGGER entries_are_not_changed BEFORE UPDATE ON entries
BEGIN
  SELECT RAISE(ABORT, 'entries are never changed');
END;
CREATE TRIGGER entries_are_not_removed BEFORE DELETE ON entries
BEGIN
  SELECT RAISE(ABORT, 'entries are never removed');
END;

-- The household as it stands: made from the entries, in the same transaction, and made again from them at any time.
CREATE TABLE settings      (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE people        (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE places        (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE readings      (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE equipment     (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE stock         (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE parcels       (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE batches       (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE timers        (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE standing      (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE other_work    (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE discrepancies (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;
CREATE TABLE sections      (key TEXT PRIMARY KEY, body TEXT NOT NULL CHECK (json_valid(body))) STRICT;

-- 'state_shape': the form of the JSON in the state tables; another one than the program's means: fold again.
CREATE TABLE made_with (key TEXT PRIMARY KEY, value INTEGER NOT NULL) STRICT;
