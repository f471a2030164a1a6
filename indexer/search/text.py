"""Answers by words: the fielded index of entries and the full text of pages."""

from indexer.search.entries import EntryIndex
from indexer.search.query import Query
from indexer.search.weights import MAX_TEXT
from indexer.store.entries import EntryStore

Hit = tuple[str, float, str]  # entry id, closeness 0 to 1, why


def by_text(store: EntryStore, entries: EntryIndex, asked: Query, limit: int) -> list[Hit]:
    """Entries whose fields or pages hold the asked words; each page's words around the hit."""
    words = [*asked.words, *asked.makers, *asked.codes, *asked.models, *asked.chassis]
    if len(asked.tubes) == 1:
        words.append(asked.tubes[0])
    if not words and asked.year and not asked.tubes:
        words.append(str(asked.year))
    out: list[Hit] = []
    for maker in asked.makers if not asked.codes else ():
        out += [(e, 0.3, f"maker {maker}") for e in store.by_maker(maker, asked.year, limit)]
    if asked.words:
        ranked = entries.candidates(makers=asked.makers, codes=(), words=asked.words, limit=limit)
        best = max((score for _, score in ranked), default=1.0)
        out += [(entry_id, 0.6 * score / best, "words agree") for entry_id, score in ranked]
    if words:
        out += _pages(store, words, limit)
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


def _pages(store: EntryStore, words: list[str], limit: int) -> list[Hit]:
    terms = [phrase for word in words if (phrase := quoted(word))]
    if not terms:
        return []
    most = min(MAX_TEXT, limit * 3)
    hits = store.text_hits(" ".join(terms), most)
    if not hits and len(terms) > 1:
        hits = store.text_hits(" OR ".join(terms), most)
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
