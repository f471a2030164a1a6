"""The Whoosh index of entries: small fielded documents, with analyzers of our own.

It can always be rebuilt from the catalogue. It is brought up to date when the entries have
changed, and rebuilt when what lies on disk is not what was noted beside it.
"""

import json
import os
import shutil
import tempfile
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from filelock import FileLock, Timeout

from indexer.errors import LibraryError
from indexer.limits import LOCK_TIMEOUT_S
from indexer.search.plain_data import restrict
from indexer.search.weights import FIELD_WEIGHTS
from indexer.store.entries import EntryStore
from indexer.trade.codes import base, fold, normal

_NOTE = "state.json"
_SUMS = "sums.json"  # of each document; only needed to bring the index up to date
_TRIES = 5  # opening can race with a commit
_FEW = 500  # changed entries up to which the index is mended rather than rebuilt


class EntryIndex:
    """Candidates for a fielded question, ranked by BM25F. Whoosh is loaded when first asked."""

    def __init__(self, folder: Path, store: EntryStore) -> None:
        self._folder = folder
        self._store = store
        self._searcher: Any = None
        self._changes = -1
        self._passing: tempfile.TemporaryDirectory[str] | None = None

    def refresh(self) -> None:
        """Brings the index up to date with the entries, or rebuilds it when it is in doubt."""
        changes = self._store.changes()
        if self._searcher is not None and changes == self._changes:
            return
        self.close()
        for attempt in range(_TRIES):
            state = state_on_disk(self._folder)
            if not state.sound or state.changes != changes:
                self._make_elsewhere()
                with self._alone():
                    # Another command may have done it while this one waited.
                    state = state_on_disk(self._folder)
                    if not state.sound or state.changes != changes:
                        self._update(changes, state.sums)
            try:
                self._searcher = _searcher(self._folder)
                break
            except Exception as error:  # another command is writing it anew, or it is damaged
                if attempt == _TRIES - 1:
                    raise _unusable(self._folder) from error
                if attempt == _TRIES - 2:  # sound by its checksums, and yet it can't be opened
                    self.forget()
                time.sleep(0.05 * (attempt + 1))
        self._changes = changes

    def _make_elsewhere(self) -> None:
        """Where the home can't be written, the index is made in a passing folder instead."""
        if self._passing is None and not os.access(self._folder.parent, os.W_OK):
            self._passing = tempfile.TemporaryDirectory(prefix="benchfolio-")
            self._folder = Path(self._passing.name) / self._folder.name

    def rebuild(self) -> None:
        """Makes the index anew whatever lies on disk. Raises LibraryError."""
        self.close()
        self.forget()
        self.refresh()

    def forget(self) -> None:
        """Makes the index on disk count as none, so that it is made anew."""
        try:
            (self._folder / _NOTE).unlink(missing_ok=True)
        except OSError as error:
            raise self._unwritable(error) from error

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """While no other command writes the index. Raises LibraryError when one takes long."""
        lock = self._folder.with_name(self._folder.name + ".lock")
        try:
            with FileLock(lock, timeout=LOCK_TIMEOUT_S):
                yield
        except Timeout as error:
            raise LibraryError(
                "The index of entries is being brought up to date by another command.",
                "Wait a moment and ask again.",
            ) from error
        except OSError as error:
            raise self._unwritable(error) from error

    def _unwritable(self, error: OSError) -> LibraryError:
        return LibraryError(
            f"The index of entries can't be written ({error.strerror}).",
            f"Check the rights of {self._folder.parent} and the space on its disk.",
        )

    def close(self) -> None:
        """Lets go of the open searcher."""
        if self._searcher is not None:
            self._searcher.close()
            self._searcher = None

    def candidates(
        self, *, makers: tuple[str, ...], codes: tuple[str, ...], words: tuple[str, ...], limit: int
    ) -> list[tuple[str, float]]:
        """(entry id, BM25F score) of the entries that meet any part of the question."""
        from whoosh.query import Or, Prefix, Term

        self.refresh()
        terms: list[Any] = []
        for code in codes:
            for name in ("models", "chassis"):
                weight = FIELD_WEIGHTS[name]
                terms += [
                    Term(name, normal(code), boost=weight),
                    Term(name, "=" + fold(code), boost=weight / 2),
                    Term(name, "~" + base(code), boost=weight / 4),
                ]
                if len(normal(code)) >= 2:
                    terms.append(Prefix(name, normal(code), boost=weight / 4))
        for word in (*makers, *words):
            terms += [
                Term(name, word.lower(), boost=FIELD_WEIGHTS[name]) for name in ("maker", "words")
            ]
        if not terms:
            return []
        question = Or(terms)
        if codes:
            question.matcher_type = Or.ARRAY_MATCHER  # prefixes are slow otherwise
        found = self._searcher.search(question, limit=limit, optimize=not codes)
        return [(hit["id"], float(hit.score)) for hit in found]

    def _update(self, changes: int, known: dict[str, int]) -> None:
        from whoosh import index

        from indexer.search.entry_documents import document, schema

        rows = {row[0]: document(row) for row in self._store.documents()}
        sums = {entry_id: _sum(doc) for entry_id, doc in rows.items()}
        stale = [entry_id for entry_id in known if sums.get(entry_id) != known[entry_id]]
        fresh = [entry_id for entry_id in sums if sums[entry_id] != known.get(entry_id)]
        mend = bool(known) and len(stale) + len(fresh) <= _FEW
        if not mend:
            stale, fresh = [], list(rows)
        self.forget()  # whatever a kill leaves from here on is in doubt
        try:
            if mend:
                made = _open(self._folder)
                writer = made.writer(limitmb=64)
            else:
                shutil.rmtree(self._folder, ignore_errors=True)
                self._folder.mkdir(parents=True)
                made = index.create_in(self._folder, schema())
                writer = made.writer(limitmb=512)
            for entry_id in stale:
                writer.delete_by_term("id", entry_id)
            for entry_id in fresh:
                writer.add_document(**rows[entry_id])
            writer.commit(merge=not mend)
            made.close()
            self._settle(changes, sums)
        except index.LockError as error:
            raise LibraryError(
                "The index of entries is being brought up to date by another command.",
                "Wait a moment and ask again.",
            ) from error
        except OSError as error:
            raise self._unwritable(error) from error

    def _settle(self, changes: int, sums: dict[str, int]) -> None:
        """Makes sure that the bytes are on the disk before they are noted as sound."""
        for path in self._folder.iterdir():
            if path.is_file():
                with path.open("rb") as stream:
                    os.fsync(stream.fileno())
        note = {"changes": changes, "files": _files(self._folder)}
        for name, data in ((_SUMS, sums), (_NOTE, note)):
            part = self._folder / (name + ".part")
            with part.open("w", encoding="utf-8") as stream:
                json.dump(data, stream)
                stream.flush()
                os.fsync(stream.fileno())
            part.replace(self._folder / name)


@dataclass(frozen=True, slots=True)
class DiskState:
    """What lies on disk: whether its files are those noted beside it, of which `changes` of the
    entries, and the checksum of each document by entry id."""

    sound: bool
    changes: int = -1
    sums: dict[str, int] = field(default_factory=dict)


def state_on_disk(folder: Path) -> DiskState:
    """The state of the index in `folder`; never opens the index itself."""
    try:
        note = _noted(folder / _NOTE)
        if not note or note.get("files") != _files(folder):
            return DiskState(False)
    except OSError:  # a file vanished: another command is writing it anew
        return DiskState(False)
    changes = note.get("changes")
    return DiskState(True, changes if isinstance(changes, int) else -1, _noted(folder / _SUMS))


def kept_entries(folder: Path) -> set[str]:
    """The ids of the entries in the index. Only for an index that `state_on_disk` calls sound."""
    with _searcher(folder) as searcher:
        return {str(kept["id"]) for kept in searcher.all_stored_fields()}


def _searcher(folder: Path) -> Any:
    from whoosh.scoring import BM25F

    return _open(folder).searcher(weighting=BM25F())


def _unusable(folder: Path) -> LibraryError:
    return LibraryError(
        f"The index of entries in {folder} can't be opened.",
        "Delete that folder; it is made again from the catalogue.",
    )


def _open(folder: Path) -> Any:
    from whoosh import index

    from indexer.search.entry_documents import schema

    restrict()
    for attempt in range(_TRIES):
        try:
            return index.open_dir(folder, schema=schema())
        except (index.EmptyIndexError, OSError):
            if attempt == _TRIES - 1:
                raise
            time.sleep(0.05 * (attempt + 1))
    raise AssertionError


def _noted(path: Path) -> dict[str, Any]:
    try:
        note: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        return note
    except (OSError, ValueError):
        return {}


def _sum(doc: dict[str, str]) -> int:
    return zlib.crc32("\0".join(doc.values()).encode())


_SAMPLE_BYTES = 1 << 16


def _files(folder: Path) -> list[list[Any]]:
    """Name, size and checksum of each index file: zeroed files open silently otherwise.

    Of a large file the ends are summed: Whoosh writes its tables of contents there.
    """
    out: list[list[Any]] = []
    for path in sorted(folder.iterdir()) if folder.is_dir() else []:
        if path.name.startswith((_NOTE, _SUMS)) or not path.is_file() or path.name.endswith("LOCK"):
            continue
        size = path.stat().st_size
        with path.open("rb") as stream:
            crc = zlib.crc32(stream.read(_SAMPLE_BYTES))
            if size > _SAMPLE_BYTES:
                stream.seek(max(_SAMPLE_BYTES, size - _SAMPLE_BYTES))
                crc = zlib.crc32(stream.read(), crc)
        out.append([path.name, size, crc])
    return out
