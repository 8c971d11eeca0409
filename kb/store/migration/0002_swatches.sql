-- A swatch is one real cloth. Empty text and null mean not known.

create table swatch (
	id           integer primary key,
	name         text not null check (name <> ''),
	name_key     text not null unique check (name_key <> ''), -- the name in lower case with single blanks
	sold_as      text not null,
	content      text not null check (json_valid(content) and json_type(content) = 'array'),
	width_cm     real check (width_cm > 0),
	length_cm    real check (length_cm >= 0), -- what is left; 0 = used up
	colour       text not null,
	lightness    text not null check (lightness in ('', 'dark', 'mid', 'light', 'white')),
	price        text not null,
	kept_where   text not null,
	picture_path text not null,
	bought       integer,
	notes        text not null,
	created      integer not null,
	changed      integer not null
) strict;

-- Readings are never overwritten: a later day is another row, and a removed one
-- keeps its figures.
create table measurement (
	id        integer primary key,
	swatch_id integer not null references swatch (id),
	kind      text not null check (kind <> ''),
	taken_at  integer not null,
	readings  text not null check (json_valid(readings) and json_type(readings) = 'array'),
	note      text not null,
	removed   integer
) strict;
create index measurement_of on measurement (swatch_id, kind, taken_at);

-- How a make-up did in wear.
create table wear (
	id      integer primary key,
	make_up text not null check (json_valid(make_up)),
	verdict text not null check (verdict <> ''),
	said    text not null,
	at      integer not null
) strict;

create table setting (
	id    integer primary key,
	key   text not null unique check (key <> ''),
	value text not null check (json_valid(value))
) strict;
