"""How an address names a page: by its short name, or by "~" and its number in the catalogue
when two pages share that name. Either is looked up; neither is ever taken for a file's name."""

from typing import TYPE_CHECKING, Any

from indexer import Library, NothingFound

if TYPE_CHECKING:
    from indexer.store.entries import PageCard

_MARK = "~"


def page_called(library: Library, text: str) -> "PageCard":
    """The page that an address names. Raises NothingFound, UsageError for a shared name."""
    number = text.removeprefix(_MARK)
    if text.startswith(_MARK) and number.isdecimal() and len(number) < 12:
        card = library.entries.card(int(number))
        if card is None:
            raise NothingFound(f"There is no page {text}.", "Ask for it again.")
        return card
    return library.page(text)


def handle(library: Library, card: "PageCard") -> str:
    """What names this page and no other in an address."""
    found = library.catalogue.rows("SELECT count(*) FROM page WHERE name = ?", card.name)
    return card.name if found[0][0] < 2 else f"{_MARK}{card.page_id}"


def add_handles(library: Library, pages: list[dict[str, Any]]) -> None:
    """Gives each page of an answer its `handle`."""
    for page in pages:
        rows = library.catalogue.pages("page.name = ?", page["name"])
        page["handle"] = page["name"]
        if len(rows) > 1:
            own = [r for r in rows if (r.file, r.ref.page) == (page["file"], page["page"])]
            page["handle"] = f"{_MARK}{own[0].page_id}" if own else page["name"]
