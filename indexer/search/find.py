"""`find`: the set asked for, what is near it, and why, best first. One ranking joins all kinds."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from indexer.errors import NothingFound
from indexer.model import Entry, Listing
from indexer.search import codes as code_search
from indexer.search import kin
from indexer.search.codes import CodeHit
from indexer.search.entries import EntryIndex
from indexer.search.query import Query
from indexer.search.text import by_text
from indexer.search.weights import (
    BAND,
    CLOSE_MEANT,
    CLOSE_OTHER_MAKER,
    CLOSENESS,
    GRADES,
    MAKER,
    MAX_ANCHORS,
    MAX_SERIES,
    MORE_CODES,
    NEAREST_KIN,
    TUBES,
    YEAR,
    YEARS_APART,
)
from indexer.store.entries import EntryStore
from indexer.trade.codes import fold, normal, series

__all__ = ["GRADES", "Answer", "FoundEntry", "find"]

_MAX_WHY = 5
_MEANT = frozenset({"variant", "in range", "likely misread"})
_AGREES = frozenset({"exact", "same chassis", "variant", "in range"})


@dataclass
class FoundEntry:
    """One answer: its grade, a score (0 to 1), and one line for each reason."""

    entry: Entry
    grade: str
    score: float
    why: list[str] = field(default_factory=list)
    near: kin.Nearness | None = None  # tube by tube, when tubes were asked


@dataclass
class Answer:
    """What `find` gives: matches best first, and listings that name the set asked for."""

    asked: Query
    matches: list[FoundEntry]
    listings: list[Listing]


@dataclass
class _Case:
    """All that speaks for one entry, before it is loaded."""

    entry_id: str
    maker: str
    line_up: str
    year: int | None
    grade: str = "text only"
    closeness: float = 0.0
    met: set[str] = field(default_factory=set)  # asked codes that agree
    why: list[tuple[str, str]] = field(default_factory=list)

    def add(self, grade: str, closeness: float, why: str) -> None:
        place = (GRADES.index(grade), -closeness)
        if not self.why or place < (GRADES.index(self.grade), -self.closeness):
            self.grade, self.closeness = grade, closeness
        if all(why != known for _, known in self.why):
            self.why.append((grade, why))

    def reasons(self) -> list[str]:
        """The lines to show: those of the best grade, one by tubes, one by words."""
        lines = [line for grade, line in self.why if grade == self.grade]
        for other in ("shared tubes", "text only"):
            if other != self.grade:
                lines += [line for grade, line in self.why if grade == other][:1]
        return lines


def find(store: EntryStore, entries: EntryIndex, asked: Query, limit: int) -> Answer:
    """The entries that serve the set asked for, best grade first, at most `limit`."""
    cases: dict[str, _Case] = {}
    for code, kind in _asked_codes(store, asked):
        for hit in code_search.hits(store.forms, code, kind):
            _add_hit(cases, hit, asked)
    if not cases:
        _add_doubtful_codes(cases, store, asked)
    _add_same_chassis(cases, store)
    _add_related(cases, store, asked)
    _add_by_tubes(cases, store, asked, limit)
    if len(cases) < limit:
        for entry_id, closeness, why in by_text(store, entries, asked, limit):
            _case(cases, store, entry_id, "text only", closeness, why)
    scored = sorted(
        ((_score(case, asked), case) for case in cases.values()),
        key=lambda pair: (-pair[0], pair[1].maker, pair[1].year or 9999, pair[1].entry_id),
    )
    matches = [_found(store, asked, score, case) for score, case in scored[:limit]]
    codes = [*(code for code, _ in _asked_codes(store, asked)), *asked.joined]
    return Answer(asked, matches, _listings(store, asked, codes))


def _add_related(cases: dict[str, _Case], store: EntryStore, asked: Query) -> None:
    """Sets whose pages name the model asked for as alike, and those that its own pages name."""
    for code, kind in _asked_codes(store, asked):
        if kind == "chassis":
            continue
        for entry_id, said, model in store.naming(fold(code)):
            if said in _ALIKE:
                why = f"its pages say: {said} {model}"
                _case(cases, store, entry_id, _ALIKE[said], CLOSE_MEANT, why)
    for case in [case for case in cases.values() if case.grade == "exact"]:
        entry = store.entry(case.entry_id)
        for said, model in entry.relations if entry else ():
            other = store.related(case.maker, model, case.entry_id) if said in _ALIKE else None
            if entry and other:
                shown = entry.models[0] if entry.models else case.entry_id
                why = f"{shown} is {_SAYS[said]} {model}, its pages say"
                _case(cases, store, other, _ALIKE[said], CLOSE_MEANT, why)


_ALIKE = {"same as": "variant", "similar to": "same series", "replaces": "same series",
          "replaced by": "same series"}  # fmt: skip
_SAYS = {"same as": "the same as", "similar to": "similar to", "replaces": "in place of",
         "replaced by": "replaced by"}  # fmt: skip


def _asked_codes(store: EntryStore, asked: Query) -> list[tuple[str, str]]:
    """Each asked code with its kind, and codes that two neighbouring words make together."""
    out = [(code, "model") for code in asked.models]
    out += [(code, "chassis") for code in asked.chassis]
    joined = code_search.known_whole(store.forms, asked.joined) if asked.joined else []
    out += [(code, "") for code in joined]
    inside = {part for code in joined for part in asked.codes if normal(part) in normal(code)}
    return out + [(code, "") for code in asked.codes if code not in inside]


def _add_hit(cases: dict[str, _Case], hit: CodeHit, asked: Query) -> None:
    use, grade, closeness, why = hit.use, hit.grade, hit.closeness, hit.why
    if _maker_differs(asked, use.maker):
        if grade == "same series":
            return  # each maker numbers his own way
        if grade in _AGREES:  # the same number on another maker's set is another set
            grade, closeness = "likely misread", CLOSE_OTHER_MAKER
            why += f", but by {use.maker}"
        elif closeness < CLOSE_MEANT:
            return  # neither the maker nor the number agrees
        else:
            closeness *= 0.3
    case = cases.get(use.entry_id)
    if case is None:
        case = cases[use.entry_id] = _Case(use.entry_id, use.maker, use.line_up, use.year)
    case.add(grade, closeness, why)
    if grade in _AGREES:
        case.met.add(hit.asked)


def _maker_differs(asked: Query, maker: str) -> bool:
    return bool(asked.makers and maker) and fold(maker) not in map(fold, asked.makers)


def _add_doubtful_codes(cases: dict[str, _Case], store: EntryStore, asked: Query) -> None:
    """A year or a lone tube may be a model number; it is one when a page prints just that."""
    for code in asked.doubtful:
        for form in store.forms.equal("normal", [normal(code)]):
            for use in store.forms.uses([form.id]):
                if not use.is_member and use.kind == "model":
                    hit = CodeHit(use, code, "exact", 1.0, f"model prints {form.shown}")
                    _add_hit(cases, hit, asked)


def _add_same_chassis(cases: dict[str, _Case], store: EntryStore) -> None:
    """Entries built on the chassis of an exact match are nearer than any other number.

    Those on the chassis of a set that may be the one meant come after it, and so do its series.
    """
    exact = [case for case in cases.values() if case.grade == "exact"]
    meant = [c for c in cases.values() if c.grade in _MEANT and c.closeness >= CLOSE_MEANT]
    best = min((GRADES.index(c.grade) for c in meant), default=0)
    meant = [] if exact else [c for c in meant if GRADES.index(c.grade) == best]
    for case in (exact or meant)[:MAX_ANCHORS]:
        entry = store.entry(case.entry_id)
        grade, closeness = ("same chassis", 0.8) if exact else ("same series", 1.0)
        for model in entry.models if entry and meant else ():
            near = store.forms.near_in_series(series(model), normal(model), MAX_SERIES // 4)
            for use in store.forms.uses([form.id for form in near if form.shown]):
                if use.kind == "model" and use.maker == case.maker and use.entry_id not in cases:
                    other = _Case(use.entry_id, use.maker, use.line_up, use.year)
                    cases[use.entry_id] = other
                    other.add("same series", 0.9, f"model {use.printed}: same series as {model}")
        for chassis in entry.chassis if entry else ():
            forms = store.forms.equal("normal", [normal(chassis)])
            for use in store.forms.uses([form.id for form in forms]):
                strange = case.maker and use.maker and fold(case.maker) != fold(use.maker)
                if use.kind != "chassis" or use.entry_id == case.entry_id or strange:
                    continue
                fresh = _Case(use.entry_id, use.maker, use.line_up, use.year)
                other = cases.setdefault(use.entry_id, fresh)
                name = " ".join(entry.models[:1]) if entry else ""
                other.add(grade, closeness, f"chassis {use.printed}, as {case.maker} {name}")


def _add_by_tubes(cases: dict[str, _Case], store: EntryStore, asked: Query, limit: int) -> None:
    if len(asked.tubes) == 1:
        for entry_id in store.with_tube(asked.tubes[0], limit):
            _case(cases, store, entry_id, "shared tubes", 0.1, f"uses a {asked.tubes[0]}")
    if len(asked.tubes) < 2:
        return
    maker = asked.makers[0] if asked.makers else ""
    left = limit
    partial = kin.looks_partial(asked.tubes)
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
            _case(cases, store, entry_id, "shared tubes", near.score, why)


def _line_up(store: EntryStore, entry_id: str) -> str:
    head = store.head(entry_id)
    return head[1] if head else ""


def _case(
    cases: dict[str, _Case],
    store: EntryStore,
    entry_id: str,
    grade: str,
    closeness: float,
    why: str,
) -> None:
    case = cases.get(entry_id)
    if case is None:
        head = store.head(entry_id)
        if head is None:
            return
        case = cases[entry_id] = _Case(entry_id, *head)
    case.add(grade, closeness, why)


def _score(case: _Case, asked: Query) -> float:
    """Where a case stands in its grade's band."""
    low, high = BAND[case.grade]
    maker = 0.5
    if asked.makers and case.maker:
        maker = 0.0 if _maker_differs(asked, case.maker) else 1.0
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
    if case.grade == "shared tubes":  # nearness leads there; the rest only parts equals
        share = 0.9 * case.closeness + 0.07 * maker + 0.03 * year
    else:
        share = sum(weight * part for weight, part in parts)
    return round(low + (high - low) * min(1.0, share), 4)


def _near(asked: Query, line_up: str) -> kin.Nearness:
    return kin.nearness(asked.tubes, line_up.split(), partial=kin.looks_partial(asked.tubes))


def _found(store: EntryStore, asked: Query, score: float, case: _Case) -> FoundEntry:
    entry = store.entry(case.entry_id)
    if entry is None:  # another program has just catalogued anew
        raise NothingFound("The library has changed meanwhile.", "Ask again.")
    why = case.reasons()[:_MAX_WHY]
    if asked.makers and entry.maker:
        agrees = not _maker_differs(asked, entry.maker)
        why.append(f"maker {entry.maker}" + ("" if agrees else ", not the one asked"))
    if asked.year and asked.year == entry.year:
        why.append(f"year {entry.year}")
    near = _near(asked, case.line_up) if asked.tubes and case.line_up else None
    told = any(grade == "shared tubes" for grade, _ in case.why)
    if near is not None and not told and len(asked.tubes) > 1:
        why.append(f"{near.alike} of {len(asked.tubes)} asked tubes the same")
    return FoundEntry(entry, case.grade, round(score, 3), why, near)


def _listings(store: EntryStore, asked: Query, codes: Sequence[str]) -> list[Listing]:
    found: dict[Listing, None] = {}
    for code in codes:
        for column, key in (("normal", normal(code)), ("folded", fold(code))):
            for listing in store.listings(column, key):
                if not _maker_differs(asked, listing.maker):
                    found[listing] = None
    return list(found)
