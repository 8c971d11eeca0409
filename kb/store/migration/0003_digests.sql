-- The digest of a row is reckoned over its other columns; null is of a row that
-- another program wrote. The step behind this one, in Go, gives the keys of names
-- anew and fills the digests in.

alter table note        add column digest integer;
alter table favourite   add column digest integer;
alter table swatch      add column digest integer;
alter table measurement add column digest integer;
alter table wear        add column digest integer;
alter table setting     add column digest integer;
