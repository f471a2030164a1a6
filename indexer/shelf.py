"""One home folder with its two stores: entries and pages by name, words and pictures."""

from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from indexer.errors import LibraryError, NothingFound, UsageError
from indexer.model import Entry, PageReading
from indexer.search.entries import EntryIndex
from indexer.store.catalogue import Catalogue, PageRow
from indexer.store.entries import EntryStore, PageCard
from indexer.store.records import Records

if TYPE_CHECKING:
    from PIL import Image

_MOST_FIGURES = 9  # of a page's number


class Shelf:
    """The stores under one home folder, opened and closed together."""

    def __init__(self, home: Path) -> None:
        self.home = home
        try:
            home.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise LibraryError(
                f"The home folder {home} can't be made ({error.strerror}).",
                "Choose another with --home or BENCHFOLIO_HOME.",
            ) from error
        self.catalogue = Catalogue(home / "catalogue.db")
        self.entries = EntryStore(self.catalogue)

    @cached_property
    def records(self) -> Records:
        """What the person gave; opened on first use."""
        return Records(self.home / "records.db")

    @cached_property
    def _index(self) -> EntryIndex:
        return EntryIndex(self.home / "entries.index", self.entries)

    def close(self) -> None:
        """Lets go of every file."""
        if "_index" in self.__dict__:
            self._index.close()
        if "records" in self.__dict__:
            self.records.close()
        self.catalogue.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def entry(self, entry_id: str) -> Entry:
        """One entry. Raises NothingFound."""
        found = self.entries.entry(entry_id)
        if found is None:
            raise NothingFound(
                f"There is no entry {entry_id}.", "`benchfolio list` shows the entries."
            )
        return found

    def all_entries(self) -> Iterator[Entry]:
        """Every entry, by maker; what is made anew meanwhile comes last."""
        given: set[str] = set()
        changed = True
        while changed:
            changed = False
            for entry_id in self.entries.ids():
                if entry_id in given:
                    continue
                entry = self.entries.entry(entry_id)
                if entry is None:  # `index` has just put another in its place
                    changed = True
                else:
                    given.add(entry_id)
                    yield entry

    def page(self, name: str) -> PageCard:
        """A page by its short name, `ENTRY/2` (its second page) or `FILE#PAGE`.

        Raises NothingFound, or UsageError when the name fits several pages.
        """
        if "/" in name and not _is_number(name.rpartition("#")[2]):
            entry_id, _, number = name.rpartition("/")
            if _is_number(number) and self.entries.entry(entry_id) is not None:
                cards = self.entries.cards(entry_id)
                if not 1 <= int(number) <= len(cards):
                    raise NothingFound(f"{entry_id} has {len(cards)} pages, no page {number}.")
                return cards[int(number) - 1]
        file, mark, number = name.rpartition("#")
        if mark and _is_number(number):
            rows = self.catalogue.pages("file.name = ? AND page.number = ?", file, int(number))
        else:
            rows = self.catalogue.pages("page.name = ?", name.lower())
        if not rows:
            raise NothingFound(
                f"There is no page {name}.",
                "Use a short name, ENTRY/2 or FILE#PAGE, as `benchfolio list --pages` shows.",
            )
        if len(rows) > 1:
            raise UsageError(f"{len(rows)} pages are called {name}.", "Use FILE#PAGE instead.")
        card = self.entries.card(rows[0].page_id)
        if card is None:
            raise NothingFound(f"The page {name} is gone.", "Run `benchfolio index` again.")
        return card

    def pages(self) -> list[PageRow]:
        """Every page of the library, in file order."""
        return self.catalogue.pages()

    def reading(self, page: PageCard, reader: str = "") -> PageReading:
        """The words of a page; empty for one that could not be read."""
        found = self.catalogue.reading(page.page_id, reader)
        return found or PageReading((), 1, 1, "")

    def picture(self, page: PageCard) -> "Image.Image":
        """The page drawn upright, as it was read. Raises InputError when its file can't be used."""
        from indexer.intake.sources import open_source
        from indexer.reading.page import upright

        with open_source(page.path) as source:
            return upright(source.page(page.ref.page), self.reading(page))

    @staticmethod
    def words_over(reading: PageReading, picture: "Image.Image") -> "Image.Image":
        """The picture with each word read drawn in a frame over its place."""
        from indexer.bench.overlay import draw_words

        return draw_words(reading, picture)


def _is_number(text: str) -> bool:
    """Whether a text may be the number of a page."""
    return text.isdecimal() and len(text) <= _MOST_FIGURES
