"""Everything a person typed as plain files: CSV to read back, Markdown to read, the photos."""

import csv
import re
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from indexer import limits
from indexer.errors import InputError
from indexer.store.connect import plain_errors
from indexer.store.keeping import replaced, tables
from indexer.store.markdown import job_page, table_page
from indexer.store.photos import PhotoFolder
from indexer.store.records import Records

_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
_FORMULA = ("=", "+", "-", "@", "'", "\t", "\r")
_OF_A_JOB = frozenset({"job", "mark", "note", "photo", "part_edit", "taken", "spare_use"})
_FIELD_BYTES = 10 * limits.MAX_TYPED_CHARS


def export(records: Records, folder: Path, photos: PhotoFolder | None = None) -> list[Path]:
    """Writes the records into `folder` as they were at one moment; the files written.

    One CSV for each table, which `bring_in` reads back to the same records; a page of Markdown
    for each job in `jobs`, and one for each other table that holds something; the photos, byte
    for byte, in `photos`. Raises InputError when the folder can't be written.
    """
    written: list[Path] = []
    try:
        (folder / "jobs").mkdir(parents=True, exist_ok=True)
        with plain_errors(records.path):
            records.db.conn.execute("BEGIN")  # every read below sees the same moment
        try:
            for table in tables(records.db):
                written.append(folder / f"{table}.csv")
                _write_csv(records.db, table, written[-1])
                if table not in _OF_A_JOB:
                    page = table_page(table, _all(records.db, table))
                    if page:
                        written.append(_text(folder / f"{table}.md", page))
            jobs = [*records.jobs(), *records.jobs(deleted=True)]
            for job in sorted(jobs, key=lambda one: one.id):
                page = job_page(job, records.bench)
                written.append(_text(folder / "jobs" / f"job-{job.id}.md", page))
        finally:
            records.db.conn.rollback()
        for photo in {photo.kept_as: photo for job in jobs for photo in job.photos}.values():
            data = photos.read(photo.kept_as) if photos else None
            if data is not None:
                (folder / "photos").mkdir(exist_ok=True)
                written.append(folder / "photos" / photo.kept_as)
                written[-1].write_bytes(data)
    except OSError as error:
        raise InputError(f"{folder} can't be written ({error.strerror}).") from error
    return written


def _all(db: Database, table: str) -> list[dict[str, object]]:
    found = db.conn.execute(f"SELECT * FROM {table} ORDER BY rowid")
    return [dict(row) for row in found]


def _text(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def _write_csv(db: Database, table: str, path: Path) -> None:
    found = db.conn.execute(f"SELECT * FROM {table} ORDER BY rowid")
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow([column[0] for column in found.description])
        for row in found:
            writer.writerow([_guarded(cell) if isinstance(cell, str) else cell for cell in row])


def _guarded(text: str) -> str:
    """An apostrophe in front of what a spreadsheet would take for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) and not _NUMBER.fullmatch(text) else text


def _plain(cell: str) -> str:
    rest = cell[1:]
    return rest if cell.startswith("'") and rest.startswith(_FORMULA) else cell


def bring_in(
    records: Records, folder: Path, photos: PhotoFolder | None = None, *, force: bool = False
) -> int:
    """Puts the rows of an export in place of the records, in one step; how many came in.

    The rules of `keeping.restore` hold. Raises InputError for what can't be used, and then
    nothing is changed. An empty cell is nothing where the column allows it, else "".
    """
    files = {name: folder / f"{name}.csv" for name in tables(records.db)}
    if not files["job"].is_file():
        raise InputError(f"There is no job.csv in {folder}.", "Give the folder of an export.")
    count = 0

    def fill(db: Database) -> None:
        nonlocal count
        for name, path in files.items():
            if path.is_file():
                count += _rows_in(db, name, path)

    _photos_in(folder / "photos", photos)
    replaced(records, fill, force=force)
    return count


def _photos_in(folder: Path, photos: PhotoFolder | None) -> None:
    if photos is None or not folder.is_dir():
        return
    for path in sorted(folder.iterdir()):
        try:
            if path.stat().st_size > limits.MAX_PHOTO_BYTES:
                raise InputError(f"{path} is too large to be one of the photos.")
            photos.path(path.name)  # refuses what is no name of a photo
            data = path.read_bytes()
        except OSError as error:
            raise InputError(f"{path} can't be read ({error.strerror}).") from error
        if photos.put(data, path.suffix) != path.stem:
            raise InputError(f"{path} is not the photo it was: its bytes have changed.")


def _rows_in(db: Database, table: str, path: Path) -> int:
    columns = {row[1]: row for row in db.conn.execute(f"PRAGMA main.table_info({table})")}
    before = csv.field_size_limit(_FIELD_BYTES)
    line = 1
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            reader = csv.DictReader(stream)
            names = [name for name in reader.fieldnames or () if name in columns]
            if not names:
                return 0
            marks = ", ".join("?" * len(names))
            sql = f"INSERT INTO {table}({', '.join(names)}) VALUES ({marks})"
            for row in reader:
                db.conn.execute(sql, [_cell(row[name] or "", columns[name]) for name in names])
                line = reader.line_num
    except (sqlite3.Error, ValueError, csv.Error) as error:
        raise InputError(f"{path} can't be used after line {line} ({error}).") from error
    except OSError as error:
        raise InputError(f"{path} can't be read ({error.strerror}).") from error
    finally:
        csv.field_size_limit(before)
    with closing(db.conn.execute(f"SELECT count(*) FROM {table}")) as found:
        return int(found.fetchone()[0])


def _cell(text: str, column: sqlite3.Row) -> object:
    if not text and not column["notnull"] and not column["pk"]:
        return None
    return int(text) if column["type"] == "INTEGER" else _plain(text)
