BEGIN;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (1, 'records', 'r001_jobs', '2026-01-02 03:04:05');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE TABLE job (
            id INTEGER PRIMARY KEY, title TEXT NOT NULL, entry TEXT NOT NULL DEFAULT '',
            maker TEXT NOT NULL DEFAULT '', models TEXT NOT NULL DEFAULT '[]',
            chassis TEXT NOT NULL DEFAULT '[]', tubes TEXT NOT NULL DEFAULT '[]',
            symptom TEXT NOT NULL DEFAULT '', opened TEXT NOT NULL, closed TEXT,
            outcome TEXT NOT NULL DEFAULT '');
INSERT INTO job(id, title, entry, maker, models, chassis, tubes, symptom, opened, closed, outcome) VALUES (1, 'kitchen set', 'tillbrook-5d10', 'Tillbrook', '["5D10"]', '["CH-41A"]', '["12BE6", "50C5"]', 'hum — Ω', '2026-01-02', NULL, '');
INSERT INTO job(id, title, entry, maker, models, chassis, tubes, symptom, opened, closed, outcome) VALUES (2, 'closed one', '', '', '[]', '[]', '[]', '', '2025-01-02', '2025-02-03', 'new filter');
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
COMMIT;
