"""Answers by words: the fielded index of entries and the full text of pages."""

import re
from collections import Counter
from collections.abc import Sequence

from indexer.model import PageKind, PageRef
from indexer.search.entries import EntryIndex
from indexer.search.query import Query
from indexer.search.weights import MAX_TEXT
from indexer.store.entries import EntryStore
from indexer.trade.codes import normal

_SHORT = 2  # characters that stand on many pages as something else

Hit = tuple[str, float, str]  # entry id, closeness 0 to 1, why


def by_text(store: EntryStore, entries: EntryIndex, asked: Query, limit: int) -> list[Hit]:
    """Entries whose fields or pages hold the asked words; each page's words around the hit."""
    words = [*asked.words, *asked.makers, *asked.codes, *asked.models, *asked.chassis]
    if len(asked.tubes) == 1:
        words.append(asked.tubes[0])
    if not words and asked.year and not asked.tubes:
        words.append(str(asked.year))
    out: list[Hit] = []
    if words:  # first, since a page that prints the words tells most
        out += _pages(store, asked, words, limit)
    for maker in asked.makers if not asked.codes else ():
        out += [(e, 0.3, f"maker {maker}") for e in store.by_maker(maker, asked.year, limit)]
    if asked.words:
        ranked = entries.candidates(makers=asked.makers, codes=(), words=asked.words, limit=limit)
        best = max((score for _, score in ranked), default=1.0)
        whole = holding(store, asked)
        out += [
            (entry_id, 0.6 * score / best, "words agree")
            for entry_id, score in ranked
            if entry_id in whole
        ]
    return _added_up(out)


def _added_up(hits: list[Hit]) -> list[Hit]:
    """Each hit with all that speaks for its entry: one that meets more comes before others."""
    total: dict[tuple[str, str], float] = {}
    for entry_id, closeness, why in hits:  # the best page of an entry counts once
        kind = "page" if ": " in why else why
        total[entry_id, kind] = max(closeness, total.get((entry_id, kind), 0.0))
    whole: dict[str, float] = {}
    for (entry_id, _), closeness in total.items():
        whole[entry_id] = whole.get(entry_id, 0.0) + closeness / 2
    return [(entry_id, whole[entry_id], why) for entry_id, _, why in hits]


def holding(store: EntryStore, asked: Query) -> dict[str, list[PageRef]]:
    """The entries on whose pages every asked word stands, or is what a page of theirs shows
    ("parts list"), each with those pages; those with most of the words first."""
    pages: dict[str, Counter[PageRef]] = {}
    kinds, words = asked_kinds(asked.words)
    met: list[set[str]] = []
    for word in words:
        here = set()
        phrase = quoted(word)
        for hit in store.text_hits(phrase, MAX_TEXT) if phrase else ():
            card = store.card(hit.page_id)
            if card is None:
                continue
            for entry_id in store.entries_on_page(hit.page_id):
                here.add(entry_id)
                pages.setdefault(entry_id, Counter())[card.ref] += 1
        met.append(here)
    found: dict[str, list[PageRef]] = {}
    for entry_id in set.intersection(*met) if met else ():
        shown = pages[entry_id]
        shown.update({c.ref: 2 for c in store.cards(entry_id) if kinds & set(c.kinds)})
        found[entry_id] = [ref for ref, _ in shown.most_common()]
    return found


def asked_kinds(words: Sequence[str]) -> tuple[set[str], list[str]]:
    """The page kinds that words name ("parts list"), and the words that are left."""
    text = " ".join(words).lower()
    kinds = set()
    for name, kind in _KIND_NAMES:
        if re.search(rf"\b{name}\b", text):
            kinds.add(kind.value)
            text = re.sub(rf"\b{name}\b", " ", text)
    return kinds, text.split() if kinds else list(words)


_KIND_NAMES = (
    (r"(?:schematic|circuit|wiring)(?: diagram)?", PageKind.SCHEMATIC),
    (r"(?:parts?|components?)(?: lists?)?", PageKind.PARTS_LIST),
    (r"re-?alignment|alignment|aligning", PageKind.ALIGNMENT),
    (r"voltages?(?: (?:chart|table|readings))?", PageKind.VOLTAGE_CHART),
    (r"resistances?(?: (?:chart|table|readings))?", PageKind.RESISTANCE_CHART),
    (r"(?:tube|valve) (?:layout|locations?|positions?)", PageKind.TUBE_LAYOUT),
    (r"(?:dial|drive) (?:stringing|cord|string|cable)|stringing", PageKind.DIAL_STRINGING),
    (r"chassis view", PageKind.CHASSIS_VIEW),
)


def _pages(store: EntryStore, asked: Query, words: list[str], limit: int) -> list[Hit]:
    terms = [phrase for word in words if (phrase := quoted(word))]
    if not terms:
        return []
    most = min(MAX_TEXT, limit * 3)
    hits = store.text_hits(" ".join(terms), most)
    said = [phrase for word in asked.words if (phrase := quoted(word))]
    if not hits and said and len(said) < len(terms):
        hits = store.text_hits(" ".join(said), most)  # the name may stand on another page
    if not hits and len(terms) > 1:
        telling = [phrase for phrase in terms if len(normal(phrase)) > _SHORT]
        hits = store.text_hits(" OR ".join(telling), most) if telling else []
    best = min((hit.rank for hit in hits), default=-1.0) or -1.0
    out: list[Hit] = []
    for hit in hits:
        card = store.card(hit.page_id)
        where = f"{card.file} page {card.ref.page}" if card else "a page"
        closeness, why = 0.9 * hit.rank / best, f"{where}: {hit.snippet}"
        out += [(entry_id, closeness, why) for entry_id in store.entries_on_page(hit.page_id)]
    return out


def quoted(word: str) -> str:
    """A word as a full-text phrase: quotes would end it, and signs alone can't be searched."""
    plain = word.replace('"', "")
    return f'"{plain}"' if any(c.isalnum() for c in plain) else ""
