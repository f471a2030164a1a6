"""Answers as plain data with the agreed keys, for `--json` and for anything else that shows them.

Keys may be added, never renamed.
"""

import json
from collections.abc import Iterable, Sequence
from typing import Any

from indexer.bench.marked import MarkedPage
from indexer.library import Library
from indexer.limits import MAX_RANGE_SHOWN
from indexer.model import Entry, Listing, PageRef
from indexer.search.find import Answer, FoundEntry
from indexer.search.kin import Nearness
from indexer.store.catalogue import PageRow
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord
from indexer.trade.codes import parse_codes

Data = dict[str, Any]


def entry_json(library: Library, entry: Entry) -> Data:
    """One entry with its pages."""
    return {
        "entry": entry.id,
        "maker": entry.maker,
        "models": members(entry.models),
        "chassis": members(entry.chassis),
        "printed_models": list(entry.models),
        "tubes": [place.type for place in entry.tubes],
        "year": entry.year,
        "if_khz": entry.if_khz,
        "supply": entry.supply,
        "string_volts": entry.string_volts,
        "live_chassis": entry.live_chassis,
        "pages": _pages(library, entry),
        "doubts": list(entry.doubts),
        "corrected": list(entry.corrected),
        "on_paper": entry.on_paper,
        "note": entry.note,
        "relations": relations_json(library, entry),
    }


def relations_json(library: Library, entry: Entry) -> list[Data]:
    """How a set stands to others, as its pages say, with the other's entry where there is one."""
    return [
        {
            "relation": said,
            "model": model,
            "entry": library.entries.related(entry.maker, model, entry.id),
        }
        for said, model in entry.relations
    ]


def members(codes: Iterable[str]) -> list[str]:
    """Codes with printed ranges written out; a range over `MAX_RANGE_SHOWN` stays as printed."""
    out: list[str] = []
    for code in codes:
        spans = parse_codes(code)
        whole = spans[0].range if len(spans) == 1 else None
        if whole is not None and whole.is_pattern and whole.count <= MAX_RANGE_SHOWN:
            out += [_as_printed(member, whole.first) for member in whole.members()]
        else:
            out.append(code)
    return out


def _as_printed(member: str, like: str) -> str:
    """A member in normal form with the hyphens and blanks of its range's first code."""
    shown = list(member)
    for place, character in enumerate(like):
        if not character.isalnum() and place < len(shown):
            shown.insert(place, character)
    return "".join(shown)


def page_json(library: Library, row: PageRow, *, text: bool = False) -> Data:
    """One page of the library, read or not."""
    facts = library.entries.facts(row.page_id)
    reading = library.catalogue.reading(row.page_id)
    data = {
        "file": row.file,
        "page": row.ref.page,
        "name": row.name,
        "printed": (facts["printed"] if facts else "") or row.label,
        "rotation_deg": reading.rotation_deg if reading else 0,
        "reader": reading.reader if reading else "",
        "kinds": json.loads(facts["kinds"]) if facts else [],
        "models": members(json.loads(facts["models"])) if facts else [],
        "chassis": members(json.loads(facts["chassis"])) if facts else [],
        "tubes": json.loads(facts["tubes"]) if facts else [],
        "entry": library.entries.entries_on_page(row.page_id),
        "state": row.state,
        "reason": row.reason,
        "corrected": ["kinds"] if library.entries.kinds_given(row.page_id) else [],
    }
    if text:
        data["text"] = reading.text if reading else ""
    return data


def find_json(library: Library, answer: Answer, jobs: list[JobRecord]) -> Data:
    """What `find` answers."""
    return {
        "asked": answer.asked.as_dict(),
        "matches": [
            {
                "entry": match.entry.id,
                "grade": match.grade,
                "score": match.score,
                "why": match.why,
                "maker": match.entry.maker,
                "models": members(match.entry.models),
                "chassis": members(match.entry.chassis),
                "tubes": [place.type for place in match.entry.tubes],
                "pages": _pages(library, match.entry, match.first),
                "supply": match.entry.supply,
                "string_volts": match.entry.string_volts,
                "on_paper": match.entry.on_paper,
                "prints": list(match.prints),
                **_tube_by_tube(library, answer, match),
            }
            for match in answer.matches
        ],
        "listings": [
            {
                "maker": listing.maker,
                "model": listing.model,
                "chassis": listing.chassis,
                "publication": listing.publication,
                "volume": listing.volume,
                "page": listing.page,
                "here": _place(library.entries.card_of(listing.here)) if listing.here else None,
                "volume_here": bool(listing.here) or volume_here(library, listing),
            }
            for listing in answer.listings
        ],
        "pages_of_no_entry": [
            {**(_place(page.card) or {}), "text": page.snippet} for page in answer.pages
        ],
        "warnings": [
            {**(_place(page.card) or {}), "text": page.snippet} for page in answer.warnings
        ],
        "jobs": [job_json(job) for job in jobs],
    }


def volume_here(library: Library, listing: Listing) -> bool:
    """Whether the volume that a listing names is on the shelf, though its page was not found."""
    return bool(listing.volume) and library.entries.has_volume(listing.publication, listing.volume)


def answering_first(cards: Iterable[PageCard], first: Sequence[PageRef]) -> list[PageCard]:
    """An entry's pages, those that answer a question best before the others."""
    order = {ref: n for n, ref in enumerate(first)}
    return sorted(cards, key=lambda card: order.get(card.ref, len(order)))


def _tube_by_tube(library: Library, answer: Answer, match: FoundEntry) -> Data:
    """How the asked tubes meet the match's, and what of its pages applies; {} without tubes."""
    if match.near is None:
        return {}
    return {
        "exchange": _exchange(match.near),
        "missing": list(match.near.missing),
        "extra": list(match.near.extra),
        "same_sockets": match.near.same_sockets,
        "trust": _trust(library, match.near, answer.asked.tubes, match.entry, match.grade),
    }


def _exchange(near: Nearness) -> list[Data]:
    return [
        {"asked": pair.asked, "has": pair.has, "relation": pair.relation, "note": pair.note}
        for pair in near.exchange
    ]


def _trust(
    library: Library, near: Nearness, asked: Sequence[str], entry: Entry, grade: str = ""
) -> Data:
    return {
        part.what: {"applies": part.applies, "why": part.why}
        for part in library.trust(near, library.line_up(asked), entry, grade)
    }


def kin_json(
    library: Library, asked: list[str], supply: str, ranked: list[tuple[Nearness, Entry]]
) -> Data:
    """What `kin` answers."""
    return {
        "asked": asked,
        "supply": supply,
        "matches": [
            {
                "entry": entry.id,
                "score": near.score,
                "exchange": _exchange(near),
                "missing": list(near.missing),
                "extra": list(near.extra),
                "same_sockets": near.same_sockets,
                "trust": _trust(library, near, asked, entry),
                "maker": entry.maker,
                "models": members(entry.models),
                "chassis": members(entry.chassis),
                "supply": entry.supply,
                "string_volts": entry.string_volts,
                "on_paper": entry.on_paper,
                "pages": _pages(library, entry),
            }
            for near, entry in ranked
        ],
    }


def job_json(job: JobRecord, library: Library | None = None) -> Data:
    """One job; with `library` each mark also says under which name its page lies there now, and
    why it can't be shown."""
    pages = library.marked_pages(job.id) if library else []
    return {
        "job": job.id,
        "title": job.title,
        "entry": job.entry,
        "maker": job.maker,
        "models": list(job.models),
        "chassis": list(job.chassis),
        "tubes": list(job.tubes),
        "symptom": job.symptom,
        "owner_tag": job.owner_tag,
        "opened": job.opened,
        "closed": job.closed,
        "outcome": job.outcome,
        "deleted": job.deleted,
        "merged_into": job.merged_into,
        "marks": [
            {
                "file": mark.file,
                "page": mark.ref.page,
                "why": mark.why,
                "sha256": mark.ref.sha256,
                **(_now(pages[number]) if pages else {}),
            }
            for number, mark in enumerate(job.marks)
        ],
        "notes": [{"at": note.at, "text": note.text} for note in job.notes],
        "photos": [
            {"name": photo.name, "why": photo.why, "at": photo.at, "sha256": photo.sha256}
            for photo in job.photos
        ],
    }


def _now(page: MarkedPage) -> Data:
    return {"name": page.card.name if page.card else "", "missing": page.missing}


def _pages(library: Library, entry: Entry, first: Sequence[PageRef] = ()) -> list[Data]:
    return [
        {
            "file": card.file,
            "page": card.ref.page,
            "name": card.name,
            "printed": card.printed,
            "kinds": list(card.kinds),
            "copies": [
                {"file": copy.file, "page": copy.ref.page}
                for copy in library.entries.copies(card.ref)
            ],
        }
        for card in answering_first(library.entries.cards(entry.id), first)
    ]


def _place(card: PageCard | None) -> Data | None:
    return {"file": card.file, "page": card.ref.page, "name": card.name} if card else None
