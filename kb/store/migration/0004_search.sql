-- What the search reads of a swatch, run together, so that it passes over those that
-- do not hold a word; '' is of a row that it must look at. It is reckoned from the
-- other columns, and no digest covers it.

alter table swatch add column plain text not null default '';
