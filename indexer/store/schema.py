"""The two schemas, as ordered migrations. A released migration is never edited, only followed."""

from sqlite_utils import Database, Migrations

from indexer.store import (
    bench_schema,
    code_forms,
    corrections,
    duplicates,
    given_schema,
    reading_age,
    wanted,
)

catalogue_migrations = Migrations("catalogue")
records_migrations = Migrations("records")


@catalogue_migrations()
def c001_pages_and_entries(db: Database) -> None:
    """Files are places, contents are bytes: a page belongs to its content, not to its path."""
    _run(
        db,
        """
        CREATE TABLE folder (id INTEGER PRIMARY KEY, path TEXT NOT NULL UNIQUE);
        CREATE TABLE file (
            id INTEGER PRIMARY KEY, folder_id INTEGER NOT NULL REFERENCES folder(id),
            name TEXT NOT NULL, size_bytes INTEGER NOT NULL, mtime_ns INTEGER NOT NULL,
            sha256 TEXT, state TEXT NOT NULL, reason TEXT NOT NULL DEFAULT '',
            UNIQUE (folder_id, name));
        CREATE INDEX file_sha256 ON file(sha256);
        CREATE TABLE content (
            sha256 TEXT PRIMARY KEY, kind TEXT NOT NULL, title TEXT NOT NULL DEFAULT '',
            page_count INTEGER NOT NULL, unit TEXT NOT NULL DEFAULT '');
        CREATE TABLE unit (name TEXT PRIMARY KEY, stale INTEGER NOT NULL) WITHOUT ROWID;
        CREATE TABLE page (
            id INTEGER PRIMARY KEY, sha256 TEXT NOT NULL REFERENCES content(sha256),
            number INTEGER NOT NULL, name TEXT NOT NULL, label TEXT NOT NULL DEFAULT '',
            state TEXT NOT NULL, reason TEXT NOT NULL DEFAULT '',
            wants_second INTEGER NOT NULL DEFAULT 0,
            ink REAL, long_lines REAL, text_like REAL, photo_like REAL, phash TEXT,
            UNIQUE (sha256, number));
        CREATE INDEX page_state ON page(state);
        CREATE INDEX page_name ON page(name);
        CREATE TABLE reading (
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            raw INTEGER NOT NULL, reader TEXT NOT NULL, rotation_deg INTEGER NOT NULL,
            rotation_sure INTEGER NOT NULL, skew_deg REAL NOT NULL,
            width_px INTEGER NOT NULL, height_px INTEGER NOT NULL,
            seconds REAL NOT NULL, words BLOB NOT NULL,
            PRIMARY KEY (page_id, raw, reader)) WITHOUT ROWID;
        CREATE VIRTUAL TABLE page_text USING fts5(body, keys, tokenize = "unicode61");

        CREATE TABLE page_fact (
            page_id INTEGER PRIMARY KEY REFERENCES page(id) ON DELETE CASCADE,
            printed TEXT NOT NULL DEFAULT '', kinds TEXT NOT NULL, models TEXT NOT NULL,
            chassis TEXT NOT NULL, tubes TEXT NOT NULL, publication TEXT NOT NULL DEFAULT '',
            volume TEXT NOT NULL DEFAULT '');
        CREATE TABLE entry (
            id TEXT PRIMARY KEY, unit TEXT NOT NULL, maker TEXT NOT NULL, maker_key TEXT NOT NULL,
            year INTEGER, if_khz REAL, supply TEXT NOT NULL, string_volts REAL,
            live_chassis TEXT NOT NULL, line_up TEXT NOT NULL, doubts TEXT NOT NULL,
            evidence TEXT NOT NULL);
        CREATE INDEX entry_unit ON entry(unit);
        CREATE INDEX entry_line_up ON entry(line_up);
        CREATE TABLE entry_page (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
        CREATE INDEX entry_page_page ON entry_page(page_id);
        CREATE TABLE code (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            kind TEXT NOT NULL, position INTEGER NOT NULL, printed TEXT NOT NULL,
            normal TEXT NOT NULL, folded TEXT NOT NULL, base TEXT NOT NULL, series TEXT NOT NULL,
            is_range INTEGER NOT NULL,
            PRIMARY KEY (entry_id, kind, position)) WITHOUT ROWID;
        CREATE INDEX code_normal ON code(normal);
        CREATE INDEX code_folded ON code(folded);
        CREATE INDEX code_base ON code(base);
        CREATE INDEX code_series ON code(series);
        CREATE INDEX code_range ON code(is_range) WHERE is_range = 1;
        CREATE TABLE entry_tube (
            entry_id TEXT NOT NULL REFERENCES entry(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, type TEXT NOT NULL, printed TEXT NOT NULL,
            role TEXT NOT NULL, symbol TEXT NOT NULL, page_id INTEGER, alternatives TEXT NOT NULL,
            PRIMARY KEY (entry_id, position)) WITHOUT ROWID;
        CREATE INDEX entry_tube_type ON entry_tube(type);
        CREATE TABLE listing (
            id INTEGER PRIMARY KEY, unit TEXT NOT NULL,
            page_id INTEGER NOT NULL REFERENCES page(id) ON DELETE CASCADE,
            maker TEXT NOT NULL, model TEXT NOT NULL, normal TEXT NOT NULL, folded TEXT NOT NULL,
            publication TEXT NOT NULL, volume TEXT NOT NULL, page TEXT NOT NULL,
            here_page_id INTEGER);
        CREATE INDEX listing_normal ON listing(normal);
        CREATE INDEX listing_folded ON listing(folded);
        CREATE TABLE counter (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;
        """,
    )


@catalogue_migrations()
def c002_code_forms(db: Database) -> None:
    """Each distinct code once, with its keys; line-ups and makers in an order to leaf through."""
    code_forms.fill(db)


@catalogue_migrations()
def c003_given(db: Database) -> None:
    """What corrections and typed lists add, what was read before them, how well pages were read."""
    _run(db, given_schema.SCHEMA)


@catalogue_migrations()
def c004_copies(db: Database) -> None:
    """What pages are known by when scanned twice, and how sets stand to each other."""
    _run(db, duplicates.SCHEMA)


@catalogue_migrations()
def c005_units(db: Database) -> None:
    """What belongs to a unit, and a listing's page, are found without a look at everything else."""
    _run(
        db,
        """
        CREATE INDEX content_unit ON content(unit);
        CREATE INDEX listing_unit ON listing(unit);
        CREATE INDEX as_read_unit ON as_read(unit);
        CREATE INDEX page_fact_printed ON page_fact(volume, printed);
        """,
    )


@catalogue_migrations()
def c006_readers(db: Database) -> None:
    """Which state of the readers read each page."""
    _run(db, reading_age.SCHEMA)


@catalogue_migrations()
def c007_listed_chassis(db: Database) -> None:
    """The chassis that a row of an index names: it is to be looked for anew."""
    _run(
        db,
        """
        ALTER TABLE listing ADD COLUMN chassis TEXT NOT NULL DEFAULT '';
        UPDATE unit SET stale = 1;
        """,
    )


@records_migrations()
def r001_jobs(db: Database) -> None:
    """Jobs with their marked pages and notes. Pages are pointed at by content."""
    _run(
        db,
        """
        CREATE TABLE job (
            id INTEGER PRIMARY KEY, title TEXT NOT NULL, entry TEXT NOT NULL DEFAULT '',
            maker TEXT NOT NULL DEFAULT '', models TEXT NOT NULL DEFAULT '[]',
            chassis TEXT NOT NULL DEFAULT '[]', tubes TEXT NOT NULL DEFAULT '[]',
            symptom TEXT NOT NULL DEFAULT '', opened TEXT NOT NULL, closed TEXT,
            outcome TEXT NOT NULL DEFAULT '');
        CREATE TABLE mark (
            job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
            position INTEGER NOT NULL, sha256 TEXT NOT NULL, page INTEGER NOT NULL,
            why TEXT NOT NULL DEFAULT '', file TEXT NOT NULL DEFAULT '',
            PRIMARY KEY (job_id, sha256, page));
        CREATE TABLE note (
            id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
            at TEXT NOT NULL, text TEXT NOT NULL);
        """,
    )


@records_migrations()
def r002_wanted(db: Database) -> None:
    """Pages looked for, with what is known of them."""
    _run(db, wanted.SCHEMA)


@records_migrations()
def r003_bench(db: Database) -> None:
    """Owner's tag, photos, replacement list, readings taken, the drawer of spares."""
    for statement in bench_schema.COLUMNS:
        db.conn.execute(statement)
    _run(db, bench_schema.SCHEMA)


@records_migrations()
def r004_corrections(db: Database) -> None:
    """What the person said against what was read."""
    _run(db, corrections.SCHEMA)


@records_migrations()
def r005_undoing(db: Database) -> None:
    """What it takes to undo a merging of jobs, and to put a spare back where it lay."""
    for statement in (*bench_schema.MERGED, *bench_schema.PLACES, *bench_schema.INDEXES):
        db.conn.execute(statement)


def _run(db: Database, script: str) -> None:
    # executescript would commit the migration's transaction, so one statement at a time
    for statement in script.split(";\n"):
        if statement.strip():
            db.conn.execute(statement)
