"""An entry parted in two, at a page or within one, and an entry that gives a page away. Pure."""

import hashlib
import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from indexer.corrections import fields
from indexer.corrections.meant import codes_of
from indexer.model import Entry, PageRef
from indexer.store.corrections import Correction
from indexer.trade.codes import fold

NOT_THERE = "the page is not one that the entry could be split at"


def split_of(
    entry: Entry, correction: Correction, page_codes: Mapping[PageRef, Collection[str]]
) -> tuple[list[Entry], str]:
    """The two sets that a split makes of an entry, and "", or none and why not.

    The second has the page split at and those after it; a page that belongs to both stays with
    the first as well. Codes go as the correction says, else as the pages name them. Tubes go with
    the page that shows them.
    """
    page = correction.page
    both = page in correction.other
    if page not in entry.pages or (page == entry.pages[0] and not (both and correction.values)):
        return [], NOT_THERE
    cut = entry.pages.index(page)
    before, after = entry.pages[: cut + both], entry.pages[cut:]
    codes = codes_of(entry)
    if correction.values:
        said = set(map(fold, correction.values))
        later = frozenset(code for code in codes if fold(code) in said)
        sooner = frozenset(codes) - later
    else:
        named = [_named(part, page_codes) for part in (before, after)]
        later = frozenset(code for code in codes if fold(code) in named[1])
        sooner = frozenset(c for c in codes if fold(c) in named[0] or c not in later)
    first = fields.part_of(entry, before, sooner, entry.id)
    known = set(map(fold, codes))
    unread = tuple(code for code in correction.values if fold(code) not in known)
    stem = next((code for code in (*codes, *unread) if code in later or code in unread), "set")
    second = fields.part_of(entry, after, later, new_id(after[0], stem, entry.maker))
    second = replace(
        second, models=(*second.models, *unread), evidence={}, year=None, if_khz=None, relations=()
    )
    return [first, second], ""


def without_page(
    entry: Entry, page: PageRef, page_codes: Mapping[PageRef, Collection[str]]
) -> Entry:
    """The entry without a page, and without the codes and tubes that no other of its pages shows;
    what the person gave stays."""
    left = tuple(ref for ref in entry.pages if ref != page)
    gone = _named([page], page_codes) - _named(left, page_codes)
    kept = frozenset(code for code in codes_of(entry) if fold(code) not in gone)
    given = {"models", "chassis"} & set(entry.corrected)
    return fields.part_of(entry, left, kept if kept and not given else None, entry.id)


def _named(
    pages: Sequence[PageRef], page_codes: Mapping[PageRef, Collection[str]]
) -> frozenset[str]:
    return frozenset(fold(code) for ref in pages for code in page_codes.get(ref, ()))


def new_id(page: PageRef, code: str, maker: str = "") -> str:
    """A name for an entry that the person made: the same for the same page and code."""
    stem = "-".join(part for part in (_slug(maker)[:16], _slug(code)[:14]) if part) or "set"
    salt = hashlib.sha256(f"given:{page.sha256}:{page.page}:{code}".encode()).hexdigest()
    return f"{stem}-{salt[:5]}"


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "", text.lower())
