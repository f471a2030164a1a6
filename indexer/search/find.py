"""`find`: the set asked for, what is near it, and why, best first. One ranking joins all kinds."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from indexer.errors import NothingFound
from indexer.model import Entry, Listing, PageKind, PageRef
from indexer.search import codes as code_search
from indexer.search import kin
from indexer.search.cases import AGREES, Case, Cases, maker_differs, put
from indexer.search.codes import CodeHit
from indexer.search.entries import EntryIndex
from indexer.search.printed import LoosePage, loose_pages, prints, warnings
from indexer.search.query import Query
from indexer.search.related import add_related, add_same_chassis, asked_codes
from indexer.search.text import asked_kinds, by_text, holding
from indexer.search.weights import (
    BAND,
    CLOSE_FOLDED,
    CLOSE_MEANT,
    CLOSE_OTHER_MAKER,
    CLOSENESS,
    FEW_FIGURES,
    GRADES,
    LITERAL,
    MAKER,
    MORE_CODES,
    NEAREST_KIN,
    PRINTED,
    TUBES,
    WORDS,
    YEAR,
    YEARS_APART,
)
from indexer.store.entries import EntryStore
from indexer.trade.codes import fold, normal

__all__ = ["GRADES", "Answer", "FoundEntry", "find"]

_MAX_WHY = 5
_MAX_LOOSE = 3


@dataclass
class FoundEntry:
    """One answer: its grade, a score (0 to 1), and one line for each reason."""

    entry: Entry
    grade: str
    score: float
    why: list[str] = field(default_factory=list)
    near: kin.Nearness | None = None  # tube by tube, when tubes were asked
    prints: tuple[str, ...] = ()  # asked codes on its pages that it was not given
    first: tuple[PageRef, ...] = ()  # of its pages those that answer best: words, kinds asked


@dataclass
class Answer:
    """What `find` gives: matches best first, listings that name the set asked for, and pages of no
    entry that hold the question; those only where no match bears the number."""

    asked: Query
    matches: list[FoundEntry]
    listings: list[Listing]
    pages: list[LoosePage] = field(default_factory=list)
    warnings: list[LoosePage] = field(default_factory=list)  # pages that warn of the set


def find(store: EntryStore, entries: EntryIndex, asked: Query, limit: int) -> Answer:
    """The entries that serve the set asked for, best grade first, at most `limit`."""
    cases: Cases = {}
    for code, kind in asked_codes(store, asked):
        for hit in code_search.hits(store.forms, code, kind):
            _add_hit(cases, hit, asked)
    if not cases:
        _add_doubtful_codes(cases, store, asked)
    add_same_chassis(cases, store)
    add_related(cases, store, asked)
    _add_by_tubes(cases, store, asked, limit)
    named = any(case.grade in AGREES for case in cases.values())
    if not named:
        _add_printed(cases, store, asked)
    if len(cases) < limit:
        for entry_id, closeness, why in by_text(store, entries, asked, limit):
            known = cases.get(entry_id)
            if known is None and named and asked.makers and _by_another(store, asked, entry_id):
                continue  # it only shares a page with the set asked for
            if not (known and known.prints and ": " in why):  # its pages are shown already
                put(cases, store, entry_id, "text only", closeness, why)
    best = _best_pages(store, cases, asked)
    scored = sorted(
        ((_score(case, asked, best), case) for case in cases.values()),
        key=lambda pair: (-pair[0], pair[1].maker, pair[1].year or 9999, pair[1].entry_id),
    )
    matches = [_found(store, asked, score, case, best) for score, case in scored[:limit]]
    matches.sort(key=lambda match: (-match.score, -len(match.entry.pages)))  # an addendum after
    codes = [*(code for code, _ in asked_codes(store, asked)), *asked.joined]
    listings = _listings(store, asked, codes)
    told = named and (not asked.words or bool(best))
    loose = [] if told else loose_pages(store, asked, _MAX_LOOSE)
    if listings:  # they say the same as their index page
        loose = [page for page in loose if PageKind.INDEX_PAGE.value not in page.card.kinds]
    return Answer(asked, matches, listings, loose, warnings(store, asked, _MAX_LOOSE))


def _best_pages(store: EntryStore, cases: Cases, asked: Query) -> dict[str, tuple[PageRef, ...]]:
    """Of each entry the pages that answer words, best first: those that print them all, or show
    what they name."""
    if not asked.words:
        return {}
    found = {key: tuple(pages) for key, pages in holding(store, asked).items() if key in cases}
    kinds, words = asked_kinds(asked.words)
    for key in cases if kinds and not words else ():
        shown = [card.ref for card in store.cards(key) if kinds & set(card.kinds)]
        if shown:
            found[key] = tuple(shown)
    return found


_SAME = frozenset({"exact", "same chassis", "in range"})


def _add_hit(cases: Cases, hit: CodeHit, asked: Query) -> None:
    use, grade, closeness, why = hit.use, hit.grade, hit.closeness, hit.why
    flat = normal(hit.asked)
    agrees = bool(asked.makers and use.maker) and not maker_differs(asked, use.maker)
    if not agrees and grade == "same series" and sum(c.isdigit() for c in flat) <= FEW_FIGURES:
        return  # two figures are no series, but one maker's
    if flat.isdecimal() and len(flat) <= FEW_FIGURES and grade not in _SAME and not agrees:
        return  # "12" begins and ends half the numbers there are
    if maker_differs(asked, use.maker):
        if grade == "likely misread" and len(flat) < FEW_FIGURES + 2 and closeness < CLOSE_FOLDED:
            return  # another maker's short number, several signs apart
        if grade == "same series":
            return  # each maker numbers his own way
        if grade in AGREES:  # the same number on another maker's set is another set
            grade, closeness = "likely misread", CLOSE_OTHER_MAKER
            why += f", but by {use.maker}"
        elif closeness < CLOSE_MEANT:
            return  # neither the maker nor the number agrees
        else:
            closeness *= 0.3
    case = cases.get(use.entry_id)
    if case is None:
        case = cases[use.entry_id] = Case(use.entry_id, use.maker, use.line_up, use.year)
    case.add(grade, closeness, why)
    if grade in AGREES:
        case.met.add(hit.asked)


def _add_doubtful_codes(cases: Cases, store: EntryStore, asked: Query) -> None:
    """A year or a lone tube may be a model number; it is one when a page prints just that."""
    for code in asked.doubtful:
        for form in store.forms.equal("normal", [normal(code)]):
            for use in store.forms.uses([form.id]):
                if not use.is_member and use.kind == "model":
                    hit = CodeHit(use, code, "exact", 1.0, f"model prints {form.shown}")
                    _add_hit(cases, hit, asked)


def _add_printed(cases: Cases, store: EntryStore, asked: Query) -> None:
    """Entries whose pages print the number, although cataloguing gave it to none of them."""
    for hit in prints(store, asked):
        head = store.head(hit.entry_id)
        if head is None or maker_differs(asked, head[0]):
            continue
        put(cases, store, hit.entry_id, "text only", 0.9, hit.why)
        if hit.entry_id in cases and not hit.alike:
            cases[hit.entry_id].prints.add(hit.code)
            cases[hit.entry_id].literal |= hit.literal


def _add_by_tubes(cases: Cases, store: EntryStore, asked: Query, limit: int) -> None:
    if len(asked.tubes) == 1:
        for entry_id in store.with_tube(asked.tubes[0], limit):
            put(cases, store, entry_id, "shared tubes", 0.1, f"uses a {asked.tubes[0]}")
    if len(asked.tubes) < 2:
        return
    maker = asked.makers[0] if asked.makers else ""
    left = limit
    partial = bool(asked.unread) or kin.looks_partial(asked.tubes)
    for group in kin.ranked(asked.tubes, store.line_ups(), partial=partial):
        if left <= 0 or group[0][0].score < NEAREST_KIN:
            break
        by_line_up = {line_up: near for near, line_up in group}
        for entry_id in store.with_line_ups(list(by_line_up), left, maker=maker):
            left -= 1
            known = cases.get(entry_id)
            line_up = known.line_up if known else _line_up(store, entry_id)
            near = by_line_up[line_up]
            why = (
                f"{near.alike} of {len(asked.tubes)} tubes the same,"
                f" {len(near.exchange)} with a counterpart, nearness {near.score:.2f}"
            )
            put(cases, store, entry_id, "shared tubes", near.score, why)


def _by_another(store: EntryStore, asked: Query, entry_id: str) -> bool:
    head = store.head(entry_id)
    return head is not None and maker_differs(asked, head[0])


def _line_up(store: EntryStore, entry_id: str) -> str:
    head = store.head(entry_id)
    return head[1] if head else ""


def _score(case: Case, asked: Query, best: Mapping[str, object]) -> float:
    """Where a case stands in its grade's band."""
    low, high = BAND[case.grade]
    maker = 0.5
    if asked.makers and case.maker:
        maker = 0.0 if maker_differs(asked, case.maker) else 1.0
    tubes = 0.5
    if asked.tubes and case.line_up:
        tubes = _near(asked, case.line_up).score
    year = 0.5
    if asked.year and case.year:
        year = max(0.0, 1 - abs(asked.year - case.year) / YEARS_APART)
    wanted = len(asked.models) + len(asked.chassis) + len(asked.codes)
    more = len(case.met) / wanted if wanted > 1 else 0.5
    parts = (
        (CLOSENESS, case.closeness), (MAKER, maker), (TUBES, tubes), (MORE_CODES, more),
        (YEAR, year),
    )  # fmt: skip
    if case.prints and low < PRINTED:
        low, high = PRINTED, BAND["likely misread"][0]
        if case.literal:
            low, high = LITERAL, BAND["in range"][0]
    if case.grade == "shared tubes":  # nearness leads there; the rest only parts equals
        share = 0.9 * case.closeness + 0.07 * maker + 0.03 * year
    else:
        share = sum(weight * part for weight, part in parts)
    if asked.words:
        share = (1 - WORDS) * share + WORDS * (case.entry_id in best)
    return round(low + (high - low) * min(1.0, share), 4)


def _near(asked: Query, line_up: str) -> kin.Nearness:
    partial = bool(asked.unread) or kin.looks_partial(asked.tubes)
    return kin.nearness(asked.tubes, line_up.split(), partial=partial)


def _found(
    store: EntryStore,
    asked: Query,
    score: float,
    case: Case,
    best: Mapping[str, tuple[PageRef, ...]],
) -> FoundEntry:
    entry = store.entry(case.entry_id)
    if entry is None:  # another program has just catalogued anew
        raise NothingFound("The library has changed meanwhile.", "Ask again.")
    why = case.reasons()[:_MAX_WHY]
    if asked.makers and entry.maker:
        agrees = not maker_differs(asked, entry.maker)
        why.append(f"maker {entry.maker}" + ("" if agrees else ", not the one asked"))
    if asked.year and asked.year == entry.year:
        why.append(f"year {entry.year}")
    near = _near(asked, case.line_up) if asked.tubes and case.line_up else None
    told = any(grade == "shared tubes" for grade, _ in case.why)
    if near is not None and not told and len(asked.tubes) > 1:
        why.append(f"{near.alike} of {len(asked.tubes)} asked tubes the same")
    first = best.get(case.entry_id, ())
    prints = tuple(sorted(case.prints))
    return FoundEntry(entry, case.grade, round(score, 3), why, near, prints, first)


def _listings(store: EntryStore, asked: Query, codes: Sequence[str]) -> list[Listing]:
    found: dict[Listing, None] = {}
    for code in codes:
        for column, key in (("normal", normal(code)), ("folded", fold(code))):
            for listing in store.listings(column, key):
                if not maker_differs(asked, listing.maker):
                    found[listing] = None
    return list(found)
