"""What the index of entries holds of one entry, and how its fields are taken apart."""

from collections.abc import Iterator
from typing import Any

from whoosh import fields
from whoosh.analysis import LowercaseFilter, RegexTokenizer, Token
from whoosh.analysis.tokenizers import Tokenizer

from indexer.trade.codes import base, fold, normal


class CodeTokenizer(Tokenizer):  # type: ignore[misc]
    """Codes as whole keys, one printed code a line: "CH 41A" gives ch41a and its folded form.

    >>> [t.text for t in CodeTokenizer()("5D10-A")]
    ['5D10A', '=5D10A', '~5D10']
    """

    def __call__(self, value: str, **settings: Any) -> Iterator[Token]:
        for printed in value.split("\n"):
            if normal(printed):
                for text in (normal(printed), "=" + fold(printed), "~" + base(printed)):
                    yield _token(text)


class TypeTokenizer(Tokenizer):  # type: ignore[misc]
    """Types already registered, one a blank, alternatives after a slash."""

    def __call__(self, value: str, **settings: Any) -> Iterator[Token]:
        for text in value.replace("/", " ").split():
            yield _token(text)


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
        tubes=fields.TEXT(analyzer=TypeTokenizer(), phrase=False),
        words=fields.TEXT(analyzer=words, phrase=False),
    )


def document(row: tuple[Any, ...]) -> dict[str, str]:
    """A document from (id, maker, models, chassis, line-up, supply, year, names of its files)."""
    entry_id, maker, models, chassis, line_up, supply, year, files = row
    names = (files or "").replace("/", " ").replace("_", " ").rpartition(".")[0]
    return {
        "id": entry_id,
        "maker": maker,
        "models": models or "",
        "chassis": chassis or "",
        "tubes": line_up,
        "words": f"{supply} {year or ''} {names}",
    }
