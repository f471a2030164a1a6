BEGIN;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (1, 'records', 'r001_jobs', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (2, 'records', 'r002_wanted', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (3, 'records', 'r003_bench', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (4, 'records', 'r004_corrections', '2026-01-02 03:04:05');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE TABLE job (
            id INTEGER PRIMARY KEY, title TEXT NOT NULL, entry TEXT NOT NULL DEFAULT '',
            maker TEXT NOT NULL DEFAULT '', models TEXT NOT NULL DEFAULT '[]',
            chassis TEXT NOT NULL DEFAULT '[]', tubes TEXT NOT NULL DEFAULT '[]',
            symptom TEXT NOT NULL DEFAULT '', opened TEXT NOT NULL, closed TEXT,
            outcome TEXT NOT NULL DEFAULT '', owner_tag TEXT NOT NULL DEFAULT '', deleted TEXT, merged_into INTEGER);
INSERT INTO job(id, title, entry, maker, models, chassis, tubes, symptom, opened, closed, outcome, owner_tag, deleted, merged_into) VALUES (1, 'kitchen set', 'tillbrook-5d10', 'Tillbrook', '["5D10"]', '["CH-41A"]', '["12BE6", "50C5"]', 'hum — Ω', '2026-01-02', NULL, '', '', NULL, NULL);
INSERT INTO job(id, title, entry, maker, models, chassis, tubes, symptom, opened, closed, outcome, owner_tag, deleted, merged_into) VALUES (2, 'closed one', '', '', '[]', '[]', '[]', '', '2025-01-02', '2025-02-03', 'new filter', '', NULL, NULL);
CREATE TABLE mark (
            job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, sha256 TEXT NOT NULL, page INTEGER NOT NULL,
            why TEXT NOT NULL DEFAULT '', file TEXT NOT NULL DEFAULT '',
            PRIMARY KEY (job_id, sha256, page));
INSERT INTO mark(job_id, position, sha256, page, why, file) VALUES (1, 0, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 1, 'schematic', 'annual.pdf');
INSERT INTO mark(job_id, position, sha256, page, why, file) VALUES (1, 1, 'b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2', 7, '', 'lost.pdf');
CREATE TABLE note (
            id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
            at TEXT NOT NULL, text TEXT NOT NULL);
INSERT INTO note(id, job_id, at, text) VALUES (1, 1, '2026-01-03', 'line one
line ''two''; still line two');
CREATE TABLE wanted (
    id INTEGER PRIMARY KEY, maker TEXT NOT NULL DEFAULT '', model TEXT NOT NULL DEFAULT '',
    chassis TEXT NOT NULL DEFAULT '', tubes TEXT NOT NULL DEFAULT '',
    publication TEXT NOT NULL DEFAULT '', volume TEXT NOT NULL DEFAULT '',
    page TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '', added TEXT NOT NULL,
    came_in TEXT, sha256 TEXT, number INTEGER, file TEXT NOT NULL DEFAULT '');
INSERT INTO wanted(id, maker, model, chassis, tubes, publication, volume, page, note, added, came_in, sha256, number, file) VALUES (1, 'Oxbarrow', '190', '', '', 'Annual', '4', '203', 'asked the club', '2026-01-02', NULL, NULL, NULL, '');
CREATE TABLE photo (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    sha256 TEXT NOT NULL, suffix TEXT NOT NULL, name TEXT NOT NULL, at TEXT NOT NULL,
    why TEXT NOT NULL DEFAULT '', UNIQUE (job_id, sha256));
INSERT INTO photo(id, job_id, sha256, suffix, name, at, why) VALUES (1, 1, 'b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2b2', '.jpg', 'label.jpg', '2026-01-04', 'label');
CREATE TABLE part_edit (
    job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    reference TEXT NOT NULL, added TEXT NOT NULL DEFAULT '', state TEXT NOT NULL DEFAULT '',
    at TEXT NOT NULL, PRIMARY KEY (job_id, reference));
INSERT INTO part_edit(job_id, reference, added, state, at) VALUES (1, 'C16', '0.1 µF', 'fitted', '2026-01-05');
CREATE TABLE taken (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    point TEXT NOT NULL, reads TEXT NOT NULL, nominal TEXT NOT NULL DEFAULT '',
    note TEXT NOT NULL DEFAULT '', at TEXT NOT NULL);
INSERT INTO taken(id, job_id, point, reads, nominal, note, at) VALUES (1, 1, 'V1 pin 5', '88 V', '90 V', 'after warm-up', '2026-01-05');
CREATE TABLE spare (
    id INTEGER PRIMARY KEY, type TEXT NOT NULL, count INTEGER NOT NULL CHECK (count >= 0),
    place TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '', UNIQUE (type, place));
INSERT INTO spare(id, type, count, place, note) VALUES (1, '12BE6', 3, 'drawer B', 'tested');
CREATE TABLE spare_use (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    tube TEXT NOT NULL, spare TEXT NOT NULL, at TEXT NOT NULL);
INSERT INTO spare_use(id, job_id, tube, spare, at) VALUES (1, 1, '12BE6', '12BE6', '2026-01-06');
CREATE TABLE correction (
    id INTEGER PRIMARY KEY, what TEXT NOT NULL, value TEXT NOT NULL DEFAULT '[]',
    pages TEXT NOT NULL DEFAULT '', codes TEXT NOT NULL DEFAULT '[]',
    page TEXT NOT NULL DEFAULT '', other TEXT NOT NULL DEFAULT '',
    other_codes TEXT NOT NULL DEFAULT '[]', file TEXT NOT NULL DEFAULT '',
    at TEXT NOT NULL, undone TEXT);
INSERT INTO correction(id, what, value, pages, codes, page, other, other_codes, file, at, undone) VALUES (1, 'maker', '["Tillbrook"]', 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1:1', '["5D10"]', '', '', '[]', 'annual.pdf', '2026-01-07', NULL);
CREATE TABLE correction_stamp (
    id INTEGER PRIMARY KEY CHECK (id = 1), value INTEGER NOT NULL);
COMMIT;
