"""Which wanted pages have come in."""

from collections.abc import Iterable

from indexer.model import PageRef
from indexer.store.entries import EntryStore
from indexer.store.wanted import Wanted
from indexer.trade.codes import fold, normal


def came_in(store: EntryStore, wanted: Iterable[Wanted]) -> list[tuple[Wanted, PageRef, str]]:
    """Those wanted items that a page on the shelf serves, each with that page and its file."""
    found = []
    for item in wanted:
        page = _by_page(store, item) or _by_code(store, item)
        if page is not None:
            found.append((item, *page))
    return found


def _by_page(store: EntryStore, item: Wanted) -> tuple[PageRef, str] | None:
    if not (item.volume and item.page):
        return None
    card = store.card_printed(item.publication, item.volume, item.page)
    return (card.ref, card.file) if card else None


def _by_code(store: EntryStore, item: Wanted) -> tuple[PageRef, str] | None:
    for code, kind in ((item.model, "model"), (item.chassis, "chassis")):
        if not normal(code):
            continue
        forms = store.forms.equal("normal", [normal(code)])
        for use in store.forms.uses([form.id for form in forms]):
            strange = item.maker and use.maker and fold(item.maker) != fold(use.maker)
            cards = store.cards(use.entry_id) if use.kind == kind and not strange else []
            if cards:
                return cards[0].ref, cards[0].file
    return None
