"""The page number printed at a page's head or foot, and what pages side by side say of it. Pure."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from indexer.cataloguing.identity import models_in
from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.region import Line
from indexer.model import Word
from indexer.trade.codes import fold
from indexer.trade.page_numbers import NUMBER, page_number, roman

EDGE_SHARE = 0.07  # page numbers and running headers stand in this share of the height
_PAGE_WORD = re.compile(
    rf"(?<!SEE )(?<!ON )(?<!TO )\b(?:PAGE|P\.|PG\.?|SEITE|SIDA)\s*(?:N[O0]\.?\s*)?({NUMBER})"
    r"(?![\w/]|-\w)",
    re.IGNORECASE,
)
_LONE_NUMBER = re.compile(rf"^\W{{0,3}}({NUMBER})\W{{0,3}}$")
_IN_VOLUME = re.compile(
    r"\bVOL(?:UME\b|\b).*?\b(\d{1,2}|[IVXL]{1,6})\s?[-–]\s?(\d{1,4}[A-H]?)\W*$", re.IGNORECASE
)
_VOLUME = re.compile(r"\bVOL(?:UME|\.)?\s*([IVXL]{1,6}|\d{1,3})\b", re.IGNORECASE)
_OTHER_NUMBER = re.compile(
    r"\b(?:TYPES?|BULLETINS?|SHEETS?|NOTES?|CHASSIS|SERIES|RECEIVERS?|NO|FORM|SUPER)\b\W*"
    r"(?:NOS?\b\W*)?(?:[A-Z]{1,3} )?\d",
    re.IGNORECASE,
)
_BOOK_WORD = re.compile(
    r"\b(?:VOL|VOLUME|ANNUALS?|MANUALS?|YEARBOOK|HANDBOOK|SECTION|PRESS)\b", re.IGNORECASE
)
_NEAR = 6  # pages each way that must bear out a number
_LARGE = 1.4  # times the usual lettering: a title's, no page number's
_APART = 1.5  # heights between a running header and the number at its outer end


@dataclass(frozen=True, slots=True)
class Printed:
    """A page number as printed; `sure` when nothing else looks so. One that is not may be a
    set's number, a form's or a date, and counts where pages beside it bear it out."""

    text: str
    sure: bool = True


_NOTHING = Printed("")


def printed_page(lines: Sequence[Line], height_px: float) -> str:
    """The page number printed at the head or foot, or ""."""
    return number_on(lines, height_px).text


def number_on(lines: Sequence[Line], height_px: float) -> Printed:
    """The page number printed at the head or foot as it stands there ("7-31"), without blanks."""
    edges = [
        line
        for line in lines
        if line.box.middle[1] < EDGE_SHARE * height_px
        or line.box.middle[1] > (1 - EDGE_SHARE) * height_px
    ]
    for line in edges:  # "VOL. III   3-42": the volume, and the page in it
        match = _IN_VOLUME.search(line.text)
        if match:
            named = _VOLUME.search(line.text)
            volume, part = roman(named[1]) if named else "", roman(match[1])
            return Printed(match[2] if part == volume or not volume else f"{part}-{match[2]}")
    for line in edges:
        if match := _PAGE_WORD.search(line.text):
            return Printed(_closed(match[1]))
    if not edges:
        return _NOTHING
    models = {fold(code) for line in lines for code in models_in(plain_labels(line.text))}
    usual_px = median(word.box.height for line in lines for word in line.words)
    maybe = _NOTHING
    for line in edges:
        match = _LONE_NUMBER.match(line.text)
        if match and fold(match[1]) not in models:
            found = Printed(_closed(match[1]), match[1].isdecimal())
            if found.sure:
                return found
            maybe = maybe if maybe.text else found
    for line in edges:  # a running header with the number at its outer end
        if len(line.words) < 2 or _names_a_number(line.text):
            continue
        for word, beside in ((line.words[0], line.words[1]), (line.words[-1], line.words[-2])):
            match = _LONE_NUMBER.match(word.text)
            in_book = bool(_BOOK_WORD.search(plain_labels(line.text)))
            large = word.box.height > _LARGE * usual_px and not in_book
            if not match or fold(match[1]) in models or large:
                continue
            told = in_book or _apart(word, beside)
            found = Printed(_closed(match[1]), match[1].isdecimal() and told)
            if found.sure:
                return found
            maybe = maybe if maybe.text else found
    return maybe


def _apart(word: Word, beside: Word) -> bool:
    left, right = sorted((word.box, beside.box), key=lambda box: box.left)
    return right.left - left.right >= _APART * word.box.height


def _closed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def _names_a_number(text: str) -> bool:
    """Whether a line gives a set's or a bulletin's number, which is no page's."""
    return bool(models_in(text) or _OTHER_NUMBER.search(text))


def borne_out(read: Sequence[Printed]) -> tuple[str, ...]:
    """The numbers of consecutive pages as texts; one that is not sure counts only where another
    page near it carries the number that goes with it."""
    whole = [page_number(one.text) for one in read]
    kept = []
    for n, (one, number) in enumerate(zip(read, whole, strict=True)):
        near = range(max(0, n - _NEAR), min(len(read), n + _NEAR + 1))
        agrees = number is not None and any(
            (other.part, other.number - k) == (number.part, number.number - n)
            for k in near
            if k != n and (other := whole[k]) is not None
        )
        kept.append(one.text if one.sure or agrees else "")
    return tuple(kept)


def run_of_numbers(read: Sequence[str]) -> tuple[str, ...]:
    """Page numbers of consecutive pages put right by each other, and filled in where none was
    read between two that agree. Fewer than four agreeing numbers are left as they are; numbers
    with a volume's or section's part run within it."""
    offsets: list[tuple[str, int] | None] = []
    for n, text in enumerate(read):
        number = page_number(text)
        stem = re.sub(r"\d+[A-H]?$", "", text, flags=re.IGNORECASE)
        offsets.append((stem, number.number - n) if number and not number.leaf else None)
    sure: list[tuple[str, int] | None] = []
    for n, offset in enumerate(offsets):
        near = offsets[max(0, n - _NEAR) : n] + offsets[n + 1 : n + 1 + _NEAR]
        sure.append(offset if offset is not None and near.count(offset) >= 2 else None)
    if sum(offset is not None for offset in sure) < 4:
        return tuple(read)
    run = []
    for n, text in enumerate(read):
        before = next((o for o in reversed(sure[:n]) if o is not None), None)
        after = next((o for o in sure[n + 1 :] if o is not None), None)
        offset = sure[n]
        if (
            offset is None
            and before is not None
            and before == after
            and not _leaf(text, n - 1 + before[1])
        ):
            offset = before
        if offset is None and not text and after is None and before in sure[max(0, n - 2) : n]:
            offset = before  # the last pages; before the first there is a cover
        put = f"{offset[0]}{n + offset[1]}" if offset and n + offset[1] > 0 else text
        run.append(put)
    return tuple(run)


def _leaf(text: str, above: int) -> bool:
    """Whether a leaf put in after page `above` carries its letter, 31A; 16B is 168 misread."""
    number = page_number(text)
    return bool(number and number.leaf and number.number == above)
