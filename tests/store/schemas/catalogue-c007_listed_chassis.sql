BEGIN;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (1, 'catalogue', 'c001_pages_and_entries', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (2, 'catalogue', 'c002_code_forms', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (3, 'catalogue', 'c003_given', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (4, 'catalogue', 'c004_copies', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (5, 'catalogue', 'c005_units', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (6, 'catalogue', 'c006_readers', '2026-01-02 03:04:05');
INSERT INTO _sqlite_migrations(id, migration_set, name, applied_at) VALUES (7, 'catalogue', 'c007_listed_chassis', '2026-01-02 03:04:05');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE TABLE folder (id INTEGER PRIMARY KEY, path TEXT NOT NULL UNIQUE);
INSERT INTO folder(id, path) VALUES (1, '/srv/manuals');
CREATE TABLE file (
            id INTEGER PRIMARY KEY, folder_id INTEGER NOT NULL REFERENCES folder(id),
            name TEXT NOT NULL, size_bytes INTEGER NOT NULL, mtime_ns INTEGER NOT NULL,
            sha256 TEXT, state TEXT NOT NULL, reason TEXT NOT NULL DEFAULT '',
            UNIQUE (folder_id, name));
INSERT INTO file(id, folder_id, name, size_bytes, mtime_ns, sha256, state, reason) VALUES (1, 1, 'annual.pdf', 10, 20, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 'ok', '');
INSERT INTO file(id, folder_id, name, size_bytes, mtime_ns, sha256, state, reason) VALUES (2, 1, 'naïve \xff.jpg', 11, 21, NULL, 'failed', 'is empty');
CREATE TABLE content (
            sha256 TEXT PRIMARY KEY, kind TEXT NOT NULL, title TEXT NOT NULL DEFAULT '',
            page_count INTEGER NOT NULL, unit TEXT NOT NULL DEFAULT '');
INSERT INTO content(sha256, kind, title, page_count, unit) VALUES ('a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 'pdf', 'Annual', 2, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1');
CREATE TABLE unit (name TEXT PRIMARY KEY, stale INTEGER NOT NULL) WITHOUT ROWID;
INSERT INTO unit(name, stale) VALUES ('a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 1);
CREATE TABLE page (
            id INTEGER PRIMARY KEY, sha256 TEXT NOT NULL REFERENCES content(sha256),
            number INTEGER NOT NULL, name TEXT NOT NULL, label TEXT NOT NULL DEFAULT '',
            state TEXT NOT NULL, reason TEXT NOT NULL DEFAULT '',
            wants_second INTEGER NOT NULL DEFAULT 0,
            ink REAL, long_lines REAL, text_like REAL, photo_like REAL, phash TEXT,
            UNIQUE (sha256, number));
INSERT INTO page(id, sha256, number, name, label, state, reason, wants_second, ink, long_lines, text_like, photo_like, phash) VALUES (1, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 1, 'bcdfgh', '201', 'done', '', 0, 0.1, 0.2, 0.3, 0.4, '00ff');
INSERT INTO page(id, sha256, number, name, label, state, reason, wants_second, ink, long_lines, text_like, photo_like, phash) VALUES (2, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 2, 'jkmnpq', '202', 'read', '', 1, 0.1, 0.2, 0.3, 0.4, '00fe');
CREATE TABLE reading (
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            raw INTEGER NOT NULL, reader TEXT NOT NULL, rotation_deg INTEGER NOT NULL,
            rotation_sure INTEGER NOT NULL, skew_deg REAL NOT NULL,
            width_px INTEGER NOT NULL, height_px INTEGER NOT NULL,
            seconds REAL NOT NULL, words BLOB NOT NULL,
            PRIMARY KEY (page_id, raw, reader)) WITHOUT ROWID;
INSERT INTO reading(page_id, raw, reader, rotation_deg, rotation_sure, skew_deg, width_px, height_px, seconds, words) VALUES (1, 0, 'tesseract', 180, 1, -0.4, 100, 200, 1.5, X'789C8B8E56323472723553D2513034D0513002624B033D531D0513131D05033D4B4320A9A3A0A404C2B13A0AD14AE7562A1CDAAAF0A8610A480750838E8231503148AD095800AA34160062F0138D');
INSERT INTO reading(page_id, raw, reader, rotation_deg, rotation_sure, skew_deg, width_px, height_px, seconds, words) VALUES (1, 1, 'tesseract', 180, 1, -0.4, 100, 200, 1.5, X'789C8B8E56323472723553D2513034D0513002624B033D531D0513131D05033D4B4320A9A3A0A404C2B13A0AD14AE7562A1CDAAAF0A8610A480750838E8231503148AD095800AA34160062F0138D');
CREATE VIRTUAL TABLE page_text USING fts5(body, keys, tokenize = "unicode61");
INSERT INTO page_text(rowid, body, keys) VALUES (1, 'Tillbrook model 5D10 12BE6', '5d10');
CREATE TABLE page_fact (
            page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
            printed TEXT NOT NULL DEFAULT '', kinds TEXT NOT NULL, models TEXT NOT NULL,
            chassis TEXT NOT NULL, tubes TEXT NOT NULL, publication TEXT NOT NULL DEFAULT '',
            volume TEXT NOT NULL DEFAULT '');
INSERT INTO page_fact(page_id, printed, kinds, models, chassis, tubes, publication, volume) VALUES (1, '201', '["schematic"]', '["5D10"]', '["CH-41A"]', '["12BE6"]', '', '4');
CREATE TABLE entry (
            id TEXT PRIMARY KEY, unit TEXT NOT NULL, maker TEXT NOT NULL, maker_key TEXT NOT NULL,
            year INTEGER, if_khz REAL, supply TEXT NOT NULL, string_volts REAL,
            live_chassis TEXT NOT NULL, line_up TEXT NOT NULL, doubts TEXT NOT NULL,
            evidence TEXT NOT NULL);
INSERT INTO entry(id, unit, maker, maker_key, year, if_khz, supply, string_volts, live_chassis, line_up, doubts, evidence) VALUES ('tillbrook-5d10', 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 'Tillbrook', 'TILLBROOK', 1948, 455.0, 'series string', 122.8, 'likely', '12BE6', '[]', '{}');
CREATE TABLE entry_page (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
INSERT INTO entry_page(entry_id, page_id, position) VALUES ('tillbrook-5d10', 1, 0);
CREATE TABLE code (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            kind TEXT NOT NULL, position INTEGER NOT NULL, printed TEXT NOT NULL,
            normal TEXT NOT NULL, folded TEXT NOT NULL, base TEXT NOT NULL, series TEXT NOT NULL,
            is_range INTEGER NOT NULL,
            PRIMARY KEY (entry_id, kind, position)) WITHOUT ROWID;
INSERT INTO code(entry_id, kind, position, printed, normal, folded, base, series, is_range) VALUES ('tillbrook-5d10', 'model', 0, '5D10', '5D10', '5D1O', '5D10', '5D', 0);
CREATE TABLE entry_tube (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, type TEXT NOT NULL, printed TEXT NOT NULL,
            role TEXT NOT NULL, symbol TEXT NOT NULL, page_id INTEGER, alternatives TEXT NOT NULL,
            PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
INSERT INTO entry_tube(entry_id, position, type, printed, role, symbol, page_id, alternatives) VALUES ('tillbrook-5d10', 0, '12BE6', '12BE6', 'converter', 'V1', 1, '[]');
CREATE TABLE listing (
            id INTEGER PRIMARY KEY, unit TEXT NOT NULL,
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            maker TEXT NOT NULL, model TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
            publication TEXT NOT NULL, volume TEXT NOT NULL, page TEXT NOT NULL,
            here_page_id INTEGER, chassis TEXT NOT NULL DEFAULT '');
INSERT INTO listing(id, unit, page_id, maker, model, normal, folded, publication, volume, page, here_page_id, chassis) VALUES (1, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 2, 'Tillbrook', '5D11', '5D11', '5D11', '', '4', '203', NULL, '');
INSERT INTO listing(id, unit, page_id, maker, model, normal, folded, publication, volume, page, here_page_id, chassis) VALUES (2, 'a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1a1', 2, 'Tillbrook', '5D12', '5D12', '5D12', '', '4', '204', NULL, '41-A');
CREATE TABLE counter (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;
INSERT INTO counter(name, value) VALUES ('entries changed', 3);
CREATE TABLE form (
    id INTEGER PRIMARY KEY, shown TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
    base TEXT NOT NULL, series TEXT NOT NULL, backward TEXT NOT NULL, UNIQUE (normal, base));
INSERT INTO form(id, shown, normal, folded, base, series, backward) VALUES (1, '5D10', '5D10', '5D10', '5D10', '5D##', '01D5');
CREATE TABLE code_form (
    form_id INTEGER NOT NULL REFERENCES form(id),
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
    kind TEXT NOT NULL, position INTEGER NOT NULL, member INTEGER NOT NULL,
    PRIMARY KEY (form_id, entry_id, kind, position)) WITHOUT ROWID;
INSERT INTO code_form(form_id, entry_id, kind, position, member) VALUES (1, 'tillbrook-5d10', 'model', 0, 0);
CREATE TABLE wide_range (
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
    kind TEXT NOT NULL, position INTEGER NOT NULL, printed TEXT NOT NULL,
    PRIMARY KEY (entry_id, kind, position)) WITHOUT ROWID;
CREATE TABLE entry_given (
    entry_id TEXT PRIMARY KEY REFERENCES entry(id) ON DELETE CASCADE,
    corrected TEXT NOT NULL DEFAULT '[]', settled TEXT NOT NULL DEFAULT '[]',
    on_paper TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '') WITHOUT ROWID;
CREATE TABLE as_read (
    id TEXT PRIMARY KEY, unit TEXT NOT NULL, entry TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE page_given (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    kinds_read TEXT, settled TEXT NOT NULL DEFAULT '[]');
CREATE TABLE page_look (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    words INTEGER NOT NULL, confidence REAL NOT NULL, kind_sure REAL NOT NULL,
    repaired TEXT NOT NULL DEFAULT '[]');
CREATE TABLE unit_maker (
    unit TEXT NOT NULL, maker TEXT NOT NULL, position INTEGER NOT NULL,
    PRIMARY KEY (unit, position)) WITHOUT ROWID;
CREATE TABLE typed_list (
    sha256 TEXT PRIMARY KEY REFERENCES content(sha256) ON DELETE CASCADE,
    sets TEXT NOT NULL, troubles TEXT NOT NULL DEFAULT '[]') WITHOUT ROWID;
CREATE TABLE page_sketch (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    phash TEXT NOT NULL, quality REAL NOT NULL, words BLOB NOT NULL);
CREATE TABLE page_mark (
    mark INTEGER NOT NULL, page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
    PRIMARY KEY (mark, page_id)) WITHOUT ROWID;
CREATE TABLE page_copy (
    page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
    best_sha256 TEXT NOT NULL, best_number INTEGER NOT NULL);
CREATE TABLE entry_relation (
    entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE, position INTEGER NOT NULL,
    relation TEXT NOT NULL, model TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
    other TEXT NOT NULL DEFAULT '', PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
CREATE TABLE page_readers (
        page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
        readers INTEGER NOT NULL);
INSERT INTO page_readers(page_id, readers) VALUES (1, 1);
CREATE INDEX file_sha256 ON file(sha256);
CREATE INDEX page_state ON page(state);
CREATE INDEX page_name ON page(name);
CREATE INDEX entry_unit ON entry(unit);
CREATE INDEX entry_line_up ON entry(line_up);
CREATE INDEX entry_page_page ON entry_page(page_id);
CREATE INDEX code_normal ON code(normal);
CREATE INDEX code_folded ON code(folded);
CREATE INDEX code_base ON code(base);
CREATE INDEX code_series ON code(series);
CREATE INDEX code_range ON code(is_range) WHERE is_range = 1;
CREATE INDEX entry_tube_type ON entry_tube(type);
CREATE INDEX listing_normal ON listing(normal);
CREATE INDEX listing_folded ON listing(folded);
CREATE INDEX form_folded ON form(folded);
CREATE INDEX form_base ON form(base);
CREATE INDEX form_series ON form(series, normal);
CREATE INDEX form_backward ON form(backward);
CREATE INDEX code_form_entry ON code_form(entry_id);
CREATE INDEX entry_maker ON entry(maker_key, maker, year);
CREATE INDEX entry_kin ON entry(line_up, maker, year, id);
CREATE INDEX page_mark_page ON page_mark(page_id);
CREATE INDEX page_copy_best ON page_copy(best_sha256, best_number);
CREATE INDEX entry_relation_folded ON entry_relation(folded);
CREATE INDEX content_unit ON content(unit);
CREATE INDEX listing_unit ON listing(unit);
CREATE INDEX as_read_unit ON as_read(unit);
CREATE INDEX page_fact_printed ON page_fact(volume, printed);
COMMIT;
