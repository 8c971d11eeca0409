-- Times are whole seconds since 1970. Every table has an integer id, so that
-- one log can take back a change in any of them.

create table change (
	id    integer primary key,
	at    integer not null,
	what  text not null,
	steps text not null check (json_valid(steps) and json_type(steps) = 'array')
) strict;

create table note (
	id      integer primary key,
	kind    text not null check (kind <> ''),
	subject text not null check (subject <> ''),
	text    text not null check (text <> ''),
	created integer not null,
	changed integer not null
) strict;
create index note_about on note (kind, subject);

create table favourite (
	id      integer primary key,
	kind    text not null check (kind <> ''),
	subject text not null check (subject <> ''),
	created integer not null,
	unique (kind, subject)
) strict;
