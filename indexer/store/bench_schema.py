"""The tables of the bench: what belongs to a job beside its pages and notes, and the drawer."""

COLUMNS = (
    "ALTER TABLE job ADD COLUMN owner_tag TEXT NOT NULL DEFAULT ''",
    "ALTER TABLE job ADD COLUMN deleted TEXT",
    "ALTER TABLE job ADD COLUMN merged_into INTEGER",
)
SCHEMA = """
CREATE TABLE photo (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    sha256 TEXT NOT NULL, suffix TEXT NOT NULL, name TEXT NOT NULL, at TEXT NOT NULL,
    why TEXT NOT NULL DEFAULT '', UNIQUE (job_id, sha256));
CREATE TABLE part_edit (
    job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    reference TEXT NOT NULL, added TEXT NOT NULL DEFAULT '', state TEXT NOT NULL DEFAULT '',
    at TEXT NOT NULL, PRIMARY KEY (job_id, reference));
CREATE TABLE taken (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    point TEXT NOT NULL, reads TEXT NOT NULL, nominal TEXT NOT NULL DEFAULT '',
    note TEXT NOT NULL DEFAULT '', at TEXT NOT NULL);
CREATE TABLE spare (
    id INTEGER PRIMARY KEY, type TEXT NOT NULL, count INTEGER NOT NULL CHECK (count >= 0),
    place TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '', UNIQUE (type, place));
CREATE TABLE spare_use (
    id INTEGER PRIMARY KEY, job_id INTEGER NOT NULL REFERENCES job(id) ON DELETE CASCADE,
    tube TEXT NOT NULL, spare TEXT NOT NULL, at TEXT NOT NULL);
"""

# What a merging copied says from which job, so that it can be undone; a spare where it lay.
MERGED = tuple(
    f"ALTER TABLE {table} ADD COLUMN from_job INTEGER"
    for table in ("mark", "note", "photo", "part_edit", "taken", "spare_use")
)
INDEXES = tuple(
    f"CREATE INDEX {table}_job ON {table}(job_id)" for table in ("note", "taken", "spare_use")
)
PLACES = ("ALTER TABLE spare_use ADD COLUMN place TEXT NOT NULL DEFAULT ''",)
