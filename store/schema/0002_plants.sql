-- +goose Up

-- What a report names beside its paddock: the hazard plant, as the farm file
-- spells it, and the amount that its kind counts (rain: inches).
ALTER TABLE facts ADD COLUMN plant TEXT NOT NULL DEFAULT '';
ALTER TABLE facts ADD COLUMN amount REAL NOT NULL DEFAULT 0;
