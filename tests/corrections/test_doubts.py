"""What deserves a look, and when it no longer does."""

from pathlib import Path

import pytest

from indexer import Library, NothingFound, UsageError
from indexer.corrections.doubts import by_entry
from indexer.corrections.raw_doubt import RawDoubt
from tests.corrections.shelf import BOOK, PARTS, again, put, with_code


def test_looking_takes_a_doubt_off_the_list_until_another_comes(library: Library) -> None:
    entry = with_code(library, "5D10")
    library.correct(entry.id, tubes=["12BE6", "12BA6", "12AV6", "35W4"])
    (doubt,) = [d for d in library.doubts() if d.entry == entry.id]
    assert doubt.sort == "line-up does not add up"
    assert doubt.file == f"{BOOK} page 1"
    library.looked_at(entry.id)
    assert entry.id not in [d.entry for d in library.doubts()]
    assert library.entry(entry.id).doubts == ()
    again(library)
    assert library.entry(entry.id).doubts == ()
    library.correct(entry.id, tubes=["12BE6", "12BA6", "12AV6"])
    assert entry.id in [d.entry for d in library.doubts()]
    with pytest.raises(NothingFound):
        library.looked_at("sheet 1.png#1")
    with pytest.raises(UsageError):
        library.doubts(sorts=["odd"])


def test_a_page_without_entry_is_a_doubt_until_it_has_one(library: Library, tmp_path: Path) -> None:
    put(library, tmp_path, "stray.png", (PARTS.replace("5D10, -11", "").replace("CH-41A", ""),))
    again(library)
    page_only = [d for d in library.doubts(100) if d.sort == "page without entry"]
    if not page_only:  # its tubes alone made it an entry
        library.not_an_entry("stray.png#1")
        page_only = [d for d in library.doubts(100) if d.sort == "page without entry"]
    (doubt,) = page_only
    library.correct(doubt.name, models=["77"])
    assert with_code(library, "77").pages == (doubt.page,)
    assert not [d for d in library.doubts(100) if d.sort == "page without entry"]


def test_an_entry_takes_one_line_for_each_sort_of_doubt() -> None:
    found = [
        RawDoubt("sources disagree", f"pages disagree on {type_}", "one", weight=9)
        for type_ in ("6A8", "6K7", "6H6", "6F5", "6F6")
    ]
    found += [
        RawDoubt("sources disagree", "pages disagree on 75", "two", weight=5),
        RawDoubt("no maker", "no maker was read", "one"),
        RawDoubt("page without entry", "shows schematic, and belongs to no entry"),
        RawDoubt("page without entry", "shows schematic, and belongs to no entry"),
    ]
    lines = by_entry(found)
    assert [(line.sort, line.entry) for line in lines] == [
        ("sources disagree", "one"),
        ("sources disagree", "two"),
        ("no maker", "one"),
        ("page without entry", ""),
        ("page without entry", ""),
    ]
    assert lines[0].said == (
        "pages disagree on 6A8; pages disagree on 6K7; pages disagree on 6H6; and 2 more"
    )
    assert len(lines[0].each) == 5
