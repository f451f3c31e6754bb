-- Search words, normalised by the program (see search.go): filled after the
-- migrations ran. The index on fork_search holds all a search looks at, newest
-- visit first, so that a search reads it in order and stops when it has enough.

CREATE TABLE customer_search (
  customer_id TEXT PRIMARY KEY REFERENCES customer (id),
  name TEXT NOT NULL,
  words TEXT NOT NULL
) STRICT;
CREATE INDEX customer_search_name ON customer_search (name, customer_id, words);

CREATE TABLE fork_search (
  fork_id TEXT PRIMARY KEY REFERENCES fork (id),
  last_visit TEXT NOT NULL,
  words TEXT NOT NULL
) STRICT;
CREATE INDEX fork_search_recent ON fork_search (last_visit, fork_id, words);
