"""Pages that print an asked code although no entry bears it, and pages of no entry at all.

Cataloguing can miss a number that the full text holds. A page that prints just what stands on
the label is worth more than a set of the same series, whatever that page was filed under.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, islice, product

from indexer.model import PageKind
from indexer.search.query import Query
from indexer.search.slips import is_rubbed
from indexer.search.text import quoted
from indexer.store.entries import EntryStore
from indexer.store.rows import PageCard
from indexer.trade.codes import normal

_MIN_CHARS = 3  # a shorter code, or one of figures alone, stands on many pages as something else
_MAX_SPELLINGS = 32
_MAX_PAGES = 12
_PARTS = re.compile(r"[^\W\d_]+|\d+")
_TWINS = "0OQ 1IL 2Z 5S 6G 8B"  # signs that a worn label and a poor scan show alike


@dataclass(frozen=True, slots=True)
class Printed:
    """An entry one of whose pages prints a code: as asked, or (`alike`) but for look-alikes."""

    entry_id: str
    code: str
    alike: bool
    why: str
    literal: bool = False  # every other asked word stands there too


@dataclass(frozen=True, slots=True)
class LoosePage:
    """A page that belongs to no entry and holds all that was asked, with the words around it."""

    card: PageCard
    snippet: str


def prints(store: EntryStore, asked: Query) -> list[Printed]:
    """The entries whose pages print an asked code, those that print it as asked before others."""
    codes = [*asked.models, *asked.chassis, *asked.codes, *asked.joined]
    found = [hit for code in codes for hit in _of_code(store, asked, code, [code], alike=False)]
    for code in codes if not found else ():
        found += _of_code(store, asked, code, _spellings(code), alike=True)
    return found


def loose_pages(store: EntryStore, asked: Query, limit: int) -> list[LoosePage]:
    """Pages of no entry that hold every asked maker, code and word; else an index page that
    names the maker: the number may stand there in a range or under ditto marks."""
    codes = [*asked.models, *asked.chassis, *asked.codes]
    parts = [_any(_phrases(code)) for code in codes]
    parts += [phrase for word in (*asked.makers, *asked.words) if (phrase := quoted(word))]
    if not codes or not all(parts):
        return []
    found = _loose(store, " AND ".join(f"({part})" for part in parts))
    if not found and len(parts) > len(codes):
        named = _loose(store, " AND ".join(parts[len(codes) :]))
        found = [page for page in named if PageKind.INDEX_PAGE.value in page.card.kinds][:1]
    return found[:limit]


def warnings(store: EntryStore, asked: Query, limit: int) -> list[LoosePage]:
    """Pages on which a warning stands with an asked model or chassis: a note on another set's page
    or on a list may be the only one that tells."""
    codes = [*asked.models, *asked.chassis, *asked.codes]
    codes = [code for code in codes if len(normal(code)) >= _MIN_CHARS]
    phrases = [phrase for code in codes for phrase in _phrases(code)]
    if not phrases:
        return []
    near = " OR ".join(f"NEAR({p} {w}, {_NEAR_WORDS})" for p in phrases for w in _WARNINGS)
    hits = store.text_hits(near, limit)
    cards = ((store.card(hit.page_id), hit.snippet) for hit in hits)
    return [LoosePage(card, snippet) for card, snippet in cards if card is not None]


# Words that warn, as the trade says it. Common practice, no source.
_WARNINGS = (
    '"hot chassis"', '"live chassis"', '"chassis is live"', '"chassis is hot"', "shock", "danger",
    "dangerous", "warning", "caution", "asbestos", "lethal", '"chassis live"',
)  # fmt: skip
_NEAR_WORDS = 25


def _loose(store: EntryStore, match: str) -> list[LoosePage]:
    hits = store.text_hits(match, _MAX_PAGES)
    loose = (hit for hit in hits if not store.entries_on_page(hit.page_id))
    cards = ((store.card(hit.page_id), hit.snippet) for hit in loose)
    return [LoosePage(card, snippet) for card, snippet in cards if card is not None]


def _of_code(
    store: EntryStore, asked: Query, code: str, forms: Iterable[str], *, alike: bool
) -> Iterator[Printed]:
    phrases = [phrase for form in forms for phrase in _phrases(form)]
    flat = normal(code)
    named = [phrase for word in (*asked.makers, *asked.words) if (phrase := quoted(word))]
    alone = len(flat) >= _MIN_CHARS and not flat.isdecimal()
    if not phrases or is_rubbed(code) or not any(c.isdigit() for c in flat):
        return
    short = flat.isdecimal() and len(flat) < _MIN_CHARS and not asked.words
    if not alone and (short or not named):
        return  # 1500 may be kilocycles; a maker's pages hold every short figure somewhere
    match = " AND ".join([f"({_any(phrases)})", *([] if alone else named)])
    literal = set()
    if named and not alike:
        every = " AND ".join([f"({_any(phrases)})", *named])
        literal = {hit.page_id for hit in store.text_hits(every, _MAX_PAGES)}
    for hit in store.text_hits(match, _MAX_PAGES):
        card = store.card(hit.page_id)
        where = f"{card.file} page {card.ref.page}" if card else "a page"
        told = f"{where} prints {'much like ' if alike else ''}{code}: {hit.snippet}"
        for entry_id in store.entries_on_page(hit.page_id):
            yield Printed(entry_id, code, alike, told, hit.page_id in literal)


def _phrases(code: str) -> list[str]:
    """Full-text phrases of a code: as written, in one piece, and with its letters set apart."""
    forms = (code, normal(code), " ".join(_PARTS.findall(code)))
    return list(dict.fromkeys(phrase for form in forms if (phrase := quoted(form))))


def _any(phrases: Iterable[str]) -> str:
    return " OR ".join(phrases)


def _spellings(code: str) -> list[str]:
    """A code with one sign, then two, put for its twins; at most _MAX_SPELLINGS."""
    flat = normal(code)
    places = [at for at, sign in enumerate(flat) if _twins(sign)]
    return list(islice(_swapped(flat, places), _MAX_SPELLINGS))


def _swapped(flat: str, places: list[int]) -> Iterator[str]:
    for count in (1, 2):
        for chosen in combinations(places, count):
            for signs in product(*(_twins(flat[at]) for at in chosen)):
                made = list(flat)
                for at, sign in zip(chosen, signs, strict=True):
                    made[at] = sign
                yield "".join(made)


def _twins(sign: str) -> str:
    group = next((group for group in _TWINS.split() if sign in group), "")
    return group.replace(sign, "")
