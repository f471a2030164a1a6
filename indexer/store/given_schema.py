"""Tables of the catalogue for what stands beside the reading: corrections, typed lists, looks.

`as_read` and `page_given.kinds_read` keep what cataloguing gave where a correction replaced it;
`page_look` how well a page was read; `unit_maker` the makers that a unit's pages name.
"""

SCHEMA = """
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
UPDATE unit SET stale = 1;
"""
