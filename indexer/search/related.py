"""Sets that hang together with those found: by what their pages say, by chassis, by series."""

from indexer.search import codes as code_search
from indexer.search.cases import Case, Cases, put
from indexer.search.query import Query
from indexer.search.weights import CLOSE_MEANT, GRADES, MAX_ANCHORS, MAX_SERIES
from indexer.store.entries import EntryStore
from indexer.trade.codes import fold, normal, series

_MEANT = frozenset({"variant", "in range", "likely misread"})


def asked_codes(store: EntryStore, asked: Query) -> list[tuple[str, str]]:
    """Each asked code with its kind, and codes that two neighbouring words make together."""
    out = [(code, "model") for code in asked.models]
    out += [(code, "chassis") for code in asked.chassis]
    joined = code_search.known_whole(store.forms, asked.joined) if asked.joined else []
    out += [(code, "") for code in joined]
    inside = {part for code in joined for part in asked.codes if normal(part) in normal(code)}
    return out + [(code, "") for code in asked.codes if code not in inside]


def add_related(cases: Cases, store: EntryStore, asked: Query) -> None:
    """Sets whose pages name the model asked for as alike, and those that its own pages name."""
    for code, kind in asked_codes(store, asked):
        if kind == "chassis":
            continue
        for entry_id, said, model in store.naming(fold(code)):
            if said in _ALIKE:
                why = f"its pages say: {said} {model}"
                put(cases, store, entry_id, _ALIKE[said], CLOSE_MEANT, why)
    for case in [case for case in cases.values() if case.grade == "exact"]:
        entry = store.entry(case.entry_id)
        for said, model in entry.relations if entry else ():
            other = store.related(case.maker, model, case.entry_id) if said in _ALIKE else None
            if entry and other:
                shown = entry.models[0] if entry.models else case.entry_id
                why = f"{shown} is {_SAYS[said]} {model}, its pages say"
                put(cases, store, other, _ALIKE[said], CLOSE_MEANT, why)


_ALIKE = {"same as": "variant", "similar to": "same series", "replaces": "same series",
          "replaced by": "same series"}  # fmt: skip
_SAYS = {"same as": "the same as", "similar to": "similar to", "replaces": "in place of",
         "replaced by": "replaced by"}  # fmt: skip


def add_same_chassis(cases: Cases, store: EntryStore) -> None:
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
                    other = Case(use.entry_id, use.maker, use.line_up, use.year)
                    cases[use.entry_id] = other
                    other.add("same series", 0.9, f"model {use.printed}: same series as {model}")
        for chassis in entry.chassis if entry else ():
            forms = store.forms.equal("normal", [normal(chassis)])
            for use in store.forms.uses([form.id for form in forms]):
                strange = case.maker and use.maker and fold(case.maker) != fold(use.maker)
                if use.kind != "chassis" or use.entry_id == case.entry_id or strange:
                    continue
                fresh = Case(use.entry_id, use.maker, use.line_up, use.year)
                other = cases.setdefault(use.entry_id, fresh)
                name = " ".join(entry.models[:1]) if entry else ""
                other.add(grade, closeness, f"chassis {use.printed}, as {case.maker} {name}")
