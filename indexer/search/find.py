"""`find`: the set asked for, what is near it, and why, best first."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from indexer.model import Entry, Listing
from indexer.search import kin
from indexer.search.entries import EntryIndex
from indexer.search.query import Query
from indexer.store.entries import CodeRow, EntryStore
from indexer.trade.codes import (
    CodeRange,
    CodeSpan,
    base,
    fold,
    may_match,
    normal,
    parse_codes,
    series,
)

GRADES = (
    "exact",
    "same chassis",
    "variant",
    "in range",
    "likely misread",
    "same series",
    "shared tubes",
    "text only",
)
# The score a grade starts from (0 to 1). What else agrees moves a match within its grade only.
GRADE_SCORE = {
    "exact": 0.96,
    "same chassis": 0.86,
    "variant": 0.76,
    "in range": 0.74,
    "likely misread": 0.62,
    "same series": 0.45,
    "shared tubes": 0.20,
    "text only": 0.05,
}
_MAKER_AGREES, _MAKER_DIFFERS = 0.02, -0.03
_TUBES_AGREE, _YEAR_AGREES = 0.015, 0.005
_KIN_SPAN = 0.20  # shared tubes: 0.20 to 0.40 by nearness
_CANDIDATES = 200


@dataclass
class FoundEntry:
    """One answer: its grade, a score (0 to 1), and one line for each reason."""

    entry: Entry
    grade: str
    score: float
    why: list[str] = field(default_factory=list)


@dataclass
class Answer:
    """What `find` gives: matches best first, and listings that name the set asked for."""

    asked: Query
    matches: list[FoundEntry]
    listings: list[Listing]


def find(store: EntryStore, entries: EntryIndex, asked: Query, limit: int) -> Answer:
    """The entries that serve the set asked for, best grade first, at most `limit`."""
    matches: dict[str, FoundEntry] = {}
    codes = (*asked.models, *asked.chassis, *asked.codes)
    for code in codes:
        only = "model" if code in asked.models else "chassis" if code in asked.chassis else ""
        for row in _candidates(store, entries, asked, code):
            _add_code_match(matches, store, code, row, only)
    _add_same_chassis(matches, store)
    _add_by_tubes(matches, store, asked.tubes, limit)
    if len(matches) < limit:
        _add_by_text(matches, store, entries, asked, limit)
    for match in matches.values():
        _weigh(match, asked)
    ranked = sorted(
        matches.values(), key=lambda m: (GRADES.index(m.grade), -m.score, m.entry.maker, m.entry.id)
    )
    return Answer(asked, ranked[:limit], _listings(store, codes))


def _candidates(store: EntryStore, entries: EntryIndex, asked: Query, code: str) -> list[CodeRow]:
    rows = store.codes("normal", [normal(code)])
    rows += store.codes("folded", [fold(code)])
    rows += store.codes("base", [base(code)])
    if series(code):
        rows += store.codes("series", [series(code)])
    rows += store.ranges()
    near = entries.candidates(makers=asked.makers, codes=(code,), words=(), limit=_CANDIDATES)
    rows += store.codes("entry_id", [entry_id for entry_id, _ in near])
    return list(dict.fromkeys(rows))


def _add_code_match(
    matches: dict[str, FoundEntry], store: EntryStore, code: str, row: CodeRow, only: str
) -> None:
    if only and row.kind != only:
        return
    met = _best_meeting(code, row.printed)
    if met is None:
        return
    grade, why = met
    if row.kind == "chassis" and grade == "exact":
        grade = "same chassis"
    _add(matches, store, row.entry_id, grade, f"{row.kind} {why}")


def _best_meeting(code: str, printed: str) -> tuple[str, str] | None:
    spans = parse_codes(printed)
    options = [
        met for span in spans for item in _items(span) if (met := may_match(code, item)) is not None
    ] or [met for met in [may_match(code, printed)] if met is not None]
    if not options:
        return None
    best = min(options, key=lambda met: met.rank)
    return best.grade, best.why


def _items(span: CodeSpan) -> tuple[str | CodeRange, ...]:
    return (span.range,) if span.range is not None else span.codes


def _add_same_chassis(matches: dict[str, FoundEntry], store: EntryStore) -> None:
    """Entries built on the chassis of an exact match are nearer than any other number."""
    for match in [m for m in matches.values() if m.grade == "exact"]:
        for chassis in match.entry.chassis:
            for row in store.codes("normal", [normal(chassis)]):
                if row.kind == "chassis" and row.entry_id != match.entry.id:
                    why = f"chassis {row.printed}, as {match.entry.maker} {match.entry.models[0]}"
                    _add(matches, store, row.entry_id, "same chassis", why)


def _add_by_tubes(
    matches: dict[str, FoundEntry], store: EntryStore, tubes: Sequence[str], limit: int
) -> None:
    if len(tubes) < 2:
        return
    for near, entry_id in kin.rank(tubes, store.line_ups(), limit):
        alike = sum(
            pair.relation.startswith("same") and pair.relation != "same role"
            for pair in near.exchange
        )
        why = f"{alike} of {len(tubes)} tubes the same, nearness {near.score:.2f}"
        match = _add(matches, store, entry_id, "shared tubes", why)
        if match is not None and match.grade == "shared tubes":
            match.score = GRADE_SCORE["shared tubes"] + _KIN_SPAN * near.score


def _add_by_text(
    matches: dict[str, FoundEntry],
    store: EntryStore,
    entries: EntryIndex,
    asked: Query,
    limit: int,
) -> None:
    words = [*asked.words, *asked.makers, *asked.codes, *asked.models, *asked.chassis]
    if len(asked.tubes) == 1:
        words.append(asked.tubes[0])
    if not words:
        return
    match = " ".join(f'"{word.replace(chr(34), "")}"' for word in words)
    for hit in store.text_hits(match, limit * 3):
        card = store.card(hit.page_id)
        for entry_id in store.entries_on_page(hit.page_id):
            where = f"{card.file} page {card.ref.page}" if card else "a page"
            _add(matches, store, entry_id, "text only", f"{where}: {hit.snippet}")
    ranked = entries.candidates(makers=asked.makers, codes=(), words=asked.words, limit=limit)
    for entry_id, _ in ranked:
        _add(matches, store, entry_id, "text only", "maker or words agree")


def _add(
    matches: dict[str, FoundEntry], store: EntryStore, entry_id: str, grade: str, why: str
) -> FoundEntry | None:
    known = matches.get(entry_id)
    if known is None:
        entry = store.entry(entry_id)
        if entry is None:
            return None
        known = matches[entry_id] = FoundEntry(entry, grade, GRADE_SCORE[grade], [why])
    elif GRADES.index(grade) < GRADES.index(known.grade):
        known.grade, known.score = grade, GRADE_SCORE[grade]
        known.why.insert(0, why)
    elif why not in known.why and len(known.why) < 4:
        known.why.append(why)
    return known


def _weigh(match: FoundEntry, asked: Query) -> None:
    entry = match.entry
    if asked.makers and entry.maker:
        agrees = fold(entry.maker) in map(fold, asked.makers)
        match.score += _MAKER_AGREES if agrees else _MAKER_DIFFERS
        match.why.append(f"maker {entry.maker}" + ("" if agrees else ", not the one asked"))
    if asked.tubes and match.grade != "shared tubes" and entry.tubes:
        match.score += _TUBES_AGREE * kin.nearness(asked.tubes, entry.tube_types).score
    if asked.year and asked.year == entry.year:
        match.score += _YEAR_AGREES
        match.why.append(f"year {entry.year}")
    match.score = round(min(1.0, max(0.0, match.score)), 3)


def _listings(store: EntryStore, codes: Sequence[str]) -> list[Listing]:
    found: dict[Listing, None] = {}
    for code in codes:
        for column, key in (("normal", normal(code)), ("folded", fold(code))):
            found.update(dict.fromkeys(store.listings(column, key)))
    return list(found)
