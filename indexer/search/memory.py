"""Earlier jobs that bear on a question: on the same set, the same chassis, or near kin."""

from collections.abc import Iterable, Sequence

from indexer.model import Entry
from indexer.search.kin import nearness
from indexer.search.query import Query
from indexer.store.records import JobRecord
from indexer.trade.codes import fold, normal

_KIN = 0.85  # nearness from which what was found in one set is likely of use in the other


def earlier(
    jobs: Iterable[JobRecord], entries: Sequence[Entry], asked: Query | None = None
) -> list[tuple[JobRecord, str]]:
    """Jobs with the reason they come up: same entry, model or chassis first, then kin."""
    found: list[tuple[int, JobRecord, str]] = []
    for job in jobs:
        met = _meets(job, entries, asked)
        if met is not None:
            found.append((met[0], job, met[1]))
    found.sort(key=lambda item: item[0])  # stable: newest first within a reason
    return [(job, why) for _, job, why in found]


def _meets(job: JobRecord, entries: Sequence[Entry], asked: Query | None) -> tuple[int, str] | None:
    if job.entry and any(entry.id == job.entry for entry in entries):
        return 0, "the same pages"
    sets = [(e.maker, e.models, e.chassis, [t.type for t in e.tubes]) for e in entries]
    if asked is not None:
        maker = asked.makers[0] if asked.makers else ""
        codes = (*asked.codes, *asked.models)
        sets.append((maker, codes, (*asked.codes, *asked.chassis), list(asked.tubes)))
    for maker, models, chassis, _ in sets:
        if maker and job.maker and fold(maker) != fold(job.maker):
            continue
        for what, ours, theirs in (
            ("model", models, job.models),
            ("chassis", chassis, job.chassis),
        ):
            same = set(map(normal, ours)) & set(map(normal, theirs))
            if same:
                return (1 if what == "model" else 2), f"the same {what} {min(same)}"
    if len(job.tubes) > 1:
        near = max((nearness(tubes, job.tubes).score for *_, tubes in sets if tubes), default=0.0)
        if near >= _KIN:
            return 3, f"a set of kin, nearness {near:.2f}"
    return None
