"""A library of typed notes, for questions to be asked of it."""

from collections.abc import Iterator, Mapping

import pytest

from indexer import Library


def library_of(
    tmp_path_factory: pytest.TempPathFactory, notes: Mapping[str, str]
) -> Iterator[Library]:
    """The notes, by file name, written to a folder and indexed; closed afterwards."""
    folder = tmp_path_factory.mktemp("notes")
    for name, text in notes.items():
        (folder / name).write_text(text, encoding="utf-8")
    with Library(tmp_path_factory.mktemp("home")) as made:
        made.index([folder])
        yield made
