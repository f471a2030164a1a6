"""The Whoosh index of entries: small fielded documents, with analyzers of our own.

It can always be rebuilt from the catalogue; it is rebuilt when the entries have changed, when its
count or checksum is not what was noted beside it, or when it doesn't open.
"""

import hashlib
import json
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from whoosh import fields, index
from whoosh.analysis import LowercaseFilter, RegexTokenizer, Token
from whoosh.analysis.tokenizers import Tokenizer
from whoosh.query import Or, Prefix, Term
from whoosh.scoring import BM25F

from indexer.errors import LibraryError
from indexer.model import Entry
from indexer.store.entries import EntryStore
from indexer.trade.codes import base, fold, normal
from indexer.trade.numbering import parse_line_up

_NOTE = "state.json"
_TRIES = 5  # opening can race with a commit
FIELD_WEIGHTS = {"models": 4.0, "chassis": 3.0, "maker": 2.0, "tubes": 1.0, "words": 0.5}


class CodeTokenizer(Tokenizer):  # type: ignore[misc]
    """Codes as whole keys, one printed code a line: "CH 41A" gives ch41a and its folded form.

    >>> [t.text for t in CodeTokenizer()("5D10-A")]
    ['5D10A', '=SD10A', '~5D10']
    """

    def __call__(self, value: str, **settings: Any) -> Iterator[Token]:
        for printed in value.split("\n"):
            if normal(printed):
                for text in (normal(printed), "=" + fold(printed), "~" + base(printed)):
                    yield _token(text)


class TubeTokenizer(Tokenizer):  # type: ignore[misc]
    """Tube types as registered, repeats kept: "12SK7-GT/G (2) 6V6" gives 12SK7 6V6 6V6."""

    def __call__(self, value: str, **settings: Any) -> Iterator[Token]:
        for token in parse_line_up(value):
            for _ in range(token.count):
                yield _token(token.type)


def _token(text: str) -> Token:
    token = Token()
    token.text = text
    token.boost = 1.0
    token.stopped = False
    return token


def schema() -> fields.Schema:
    """The fields of an entry document."""
    words = RegexTokenizer(r"[^\W_]+(?:[.'+/-][^\W_]+)*\+?") | LowercaseFilter()
    return fields.Schema(
        id=fields.ID(stored=True, unique=True),
        maker=fields.TEXT(analyzer=words, phrase=False),
        models=fields.TEXT(analyzer=CodeTokenizer(), phrase=False),
        chassis=fields.TEXT(analyzer=CodeTokenizer(), phrase=False),
        tubes=fields.TEXT(analyzer=TubeTokenizer(), phrase=False),
        words=fields.TEXT(analyzer=words, phrase=False),
    )


class EntryIndex:
    """Candidates for a fielded question, ranked by BM25F."""

    def __init__(self, folder: Path, store: EntryStore) -> None:
        self._folder = folder
        self._store = store
        self._searcher: Any = None
        self._changes = -1

    def refresh(self) -> None:
        """Rebuilds the index if the entries changed or what lies on disk is in doubt."""
        changes = self._store.changes()
        if self._searcher is not None and changes == self._changes:
            return
        self.close()
        if _noted(self._folder) != {"changes": changes, "sum": _checksum(self._folder)}:
            self._rebuild(changes)
        self._searcher = _open(self._folder).searcher(weighting=BM25F())
        self._changes = changes

    def close(self) -> None:
        """Lets go of the open searcher."""
        if self._searcher is not None:
            self._searcher.close()
            self._searcher = None

    def candidates(
        self, *, makers: tuple[str, ...], codes: tuple[str, ...], words: tuple[str, ...], limit: int
    ) -> list[tuple[str, float]]:
        """(entry id, BM25F score) of the entries that meet any part of the question."""
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
        question.matcher_type = Or.ARRAY_MATCHER  # prefixes are slow otherwise
        found = self._searcher.search(question, limit=limit, optimize=False)
        return [(hit["id"], float(hit.score)) for hit in found]

    def _rebuild(self, changes: int) -> None:
        shutil.rmtree(self._folder, ignore_errors=True)
        try:
            self._folder.mkdir(parents=True)
            made = index.create_in(self._folder, schema())
            writer = made.writer(limitmb=128)
            for entry_id in self._store.ids():
                entry = self._store.entry(entry_id)
                if entry is not None:
                    writer.add_document(**_document(entry))
            writer.commit()
            made.close()
            note = {"changes": changes, "sum": _checksum(self._folder)}
            (self._folder / _NOTE).write_text(json.dumps(note), encoding="utf-8")
        except OSError as error:
            raise LibraryError(
                f"The index of entries can't be written ({error.strerror}).",
                f"Check the rights of {self._folder.parent} and the space on its disk.",
            ) from error


def _document(entry: Entry) -> dict[str, str]:
    return {
        "id": entry.id,
        "maker": entry.maker,
        "models": "\n".join(entry.models),
        "chassis": "\n".join(entry.chassis),
        "tubes": " ".join(place.type for place in entry.tubes),
        "words": f"{entry.supply} {entry.year or ''}",
    }


def _open(folder: Path) -> Any:
    for attempt in range(_TRIES):
        try:
            return index.open_dir(folder, schema=schema())
        except (index.EmptyIndexError, OSError):
            if attempt == _TRIES - 1:
                raise
            time.sleep(0.05 * (attempt + 1))
    raise AssertionError


def _noted(folder: Path) -> dict[str, object]:
    try:
        note: dict[str, object] = json.loads((folder / _NOTE).read_text(encoding="utf-8"))
        return note
    except (OSError, ValueError):
        return {}


def _checksum(folder: Path) -> str:
    """Over names and bytes of the index files: zeroed files open silently otherwise."""
    digest = hashlib.sha256()
    if folder.is_dir():
        for path in sorted(folder.iterdir()):
            if path.name != _NOTE and path.is_file() and not path.name.endswith("LOCK"):
                digest.update(path.name.encode())
                digest.update(path.read_bytes())
    return digest.hexdigest()
