-- +goose Up

-- What a report names beside its paddock: the hazard plant, as the farm file
-- spells it, and the amount that its kind counts (rain: inches).
ALTER TABLE facts ADD COLUMN plant TEXT NOT NULL DEFAULT '';
ALTER TABLE facts ADD COLUMN amount REAL NOT NULL DEFAULT 0;

-- When an unsafe carrier was about to let go of the message; null: it had not, so
-- that nothing of it arrived. What an older program left under way counts as gone.
ALTER TABLE attempts ADD COLUMN going_at INTEGER;
UPDATE attempts SET going_at = started_at WHERE outcome IS NULL;

-- The checksum of a fact's row; null in rows of before there were checksums.
ALTER TABLE facts ADD COLUMN sum INTEGER;

-- Whose database it is: the farm's name in the farm file.
ALTER TABLE clock ADD COLUMN farm TEXT NOT NULL DEFAULT '';

-- How often what was observed, or who opted out, changed: a pass that finds all of
-- these numbers as it left them has nothing to do.
ALTER TABLE clock ADD COLUMN news INTEGER NOT NULL DEFAULT 0;

-- For the end of old messages: each is looked for among those that repeat it.
CREATE INDEX messages_repeats ON messages (repeats) WHERE repeats IS NOT NULL;

-- The plan of where the herds eat that was told; empty where none was made.
ALTER TABLE clock ADD COLUMN plan TEXT NOT NULL DEFAULT '';

-- How much a contact was answered, and what they were asked, is looked up with each
-- text; of a day's answers only the newest is read. What changed since a day is found
-- there too, contact by contact.
DROP INDEX outbox_changed;
DROP INDEX outbox_contact;
CREATE INDEX outbox_contact ON outbox (contact, answer, changed_at, planned_at);

-- The diary is read in the order written: nobody looks a day up, and what somebody
-- texted is found in it.
DROP INDEX facts_day;
DROP INDEX inbox_contact;
