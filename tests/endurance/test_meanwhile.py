"""Questions asked while another program catalogues anew: answered, from one state."""

from collections.abc import Callable
from pathlib import Path

import pytest

from indexer import Entry, Library
from tests.endurance.places import NOTE


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    folder = tmp_path / "shelf"
    folder.mkdir()
    for n in range(4):
        (folder / f"set {n}.txt").write_text(NOTE.format(n=n + 10))
    with Library(tmp_path / "home") as library:
        library.index([folder], workers=1)
        library.find(library.understand("Tillbrook"))
    return folder


def renamed(shelf: Path) -> None:
    """Every set gets another number, so that no entry keeps its name."""
    for n in range(4):
        (shelf / f"set {n}.txt").write_text(NOTE.format(n=n + 50))
    with Library(shelf.parent / "home") as other:
        other.index([shelf], workers=1)


def when_first_looked_at(library: Library, then: Callable[[], None]) -> None:
    """Has `then` happen just before the library looks at its first entry."""
    look, waiting = library.entries.entry, [then]

    def entry(entry_id: str) -> Entry | None:
        while waiting:
            waiting.pop()()
        return look(entry_id)

    library.entries.entry = entry  # type: ignore[method-assign]


def test_a_list_goes_on_with_what_came_in_their_place(shelf: Path) -> None:
    with Library(shelf.parent / "home") as library:
        when_first_looked_at(library, lambda: renamed(shelf))
        models = sorted(model for entry in library.all_entries() for model in entry.models)
    assert models == ["50T1", "51T1", "52T1", "53T1"]


@pytest.mark.parametrize("ask", ["find", "kin"])
def test_an_answer_is_of_one_state(shelf: Path, ask: str) -> None:
    with Library(shelf.parent / "home") as library:
        when_first_looked_at(library, lambda: renamed(shelf))

        def models() -> set[str]:
            if ask == "kin":
                found = [entry for _, entry in library.kin(["12BE6", "12BA6"])]
            else:
                answer = library.find(library.understand("Tillbrook"))
                found = [match.entry for match in answer.matches]
            return {model for entry in found for model in entry.models}

        assert models() == {"10T1", "11T1", "12T1", "13T1"}
        assert models() == {"50T1", "51T1", "52T1", "53T1"}
