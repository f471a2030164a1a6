"""Makers whose name stands alone: largest at the head of sheets, over a division's or address
line, before a set's name and number. Pure.

One such sheet may show a set's name or a heading as large; so a name counts where two pages bear
it, or where a line below it says that a firm is named.
"""

import re
from collections.abc import Iterable
from statistics import median

from indexer.cataloguing.labelled import CHASSIS_WORD, MODEL_WORD
from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.maker_words import NOT_MAKERS
from indexer.cataloguing.makers import maker_in
from indexer.cataloguing.region import Line, Region, pieces

_HEAD_SHARE = 0.13  # of the height, in which a sheet's head stands
_FOOT_SHARE = 0.88  # below it stands a drawing's title strip
_LARGE = 1.35  # times the page's usual lettering
_SHORTEST, _LONGEST = 5, 14  # letters of a name
_UNDER = 2.0  # heights of a name below it, in which a firm's line stands
_SMALLER = 0.8  # of the name's lettering, at most, for the line under it
_PAGES = 2  # that must bear a name which nothing else speaks for
_FIRMS = re.compile(
    r"\b(?:DIVISION|DIV\.|SUBSIDIARY|BRANCH|STREET|AVENUE|WORKS|FACTORY|BUILDING|LIMITED|G\.?M\.?B\.?H"
    r"|WERKE?|AKTIENGESELLSCHAFT|FABRIK|INCORPORATED|DEPARTMENT OF|MAKERS OF|MANUFACTURERS? OF)\b"
    r"|, [A-Z][\w ]{0,12}\. ?[A-Z]?[a-z]*\.?$",  # Springfold, N.Y.
    re.IGNORECASE,
)
_BEFORE_NAMED = re.compile(
    r"^\W*([A-Z][A-Za-z'\-]+) (?:[A-Z][a-z]{3,14} )?(?=\S*\d)[A-Z0-9][A-Z0-9\-/]{1,9}\b"
)


def firms_named(region: Region) -> list[str]:
    """The names on one page that a division's or address line below says are a firm's."""
    return [
        _plain(name)
        for name in _alone(region)
        for line in region.lines
        if _is_under(line, name) and _FIRMS.search(line.text) and _heads_a_set(region)
    ]


def recurring(regions: Iterable[Region]) -> dict[str, list[Region]]:
    """The names that stand alone, or before a set's number, at the head or in the title strip of
    at least two of the pages, and alone or with a chassis on one of them; each with its pages."""
    pages: dict[str, list[Region]] = {}
    alone: set[str] = set()
    for region in regions:
        if not _heads_a_set(region):
            continue
        large = {_plain(line) for line in _alone(region)}
        before, with_chassis = _before_numbers(region)
        for name in sorted(large | before):
            pages.setdefault(name, []).append(region)
        alone |= large | with_chassis
    return {name: some for name, some in pages.items() if len(some) >= _PAGES and name in alone}


def _before_numbers(region: Region) -> tuple[set[str], set[str]]:
    """Words that begin a line of the edges before a number; and those with a chassis behind."""
    found, with_chassis = set(), set()
    for line in _edges(region):
        text = " ".join(line.text.split())
        match = _BEFORE_NAMED.match(text)
        if match and _may_name(match[1]) and match[1].isupper():
            found.add(match[1].title())
            if CHASSIS_WORD.search(text):
                with_chassis.add(match[1].title())
    return found, with_chassis


def _alone(region: Region) -> list[Line]:
    """The pieces of a page's head that are one large word, where no other maker is named."""
    head = [line for line in _edges(region) if line.box.top < _HEAD_SHARE * region.bottom]
    if not head or maker_in(head):
        return []
    usual_px = median(word.box.height for line in region.lines for word in line.words)
    return [
        part
        for line in head
        for part in pieces(line)
        if (words := [w for w in part.words if any(c.isalnum() for c in w.text)])
        and len(words) == 1
        and words[0].text.isupper()
        and _may_name(words[0].text)
        and words[0].box.height >= _LARGE * usual_px
    ]


def _edges(region: Region) -> list[Line]:
    height = region.bottom
    return [
        line
        for line in region.lines
        if not _HEAD_SHARE * height <= line.box.top <= _FOOT_SHARE * height
    ]


def _heads_a_set(region: Region) -> bool:
    """Whether the page's edges print a model or chassis: advertisements and forewords don't."""
    return any(
        (pattern.search(text := plain_labels(line.text)) and any(c.isdigit() for c in text))
        or _BEFORE_NAMED.match(" ".join(line.text.split()))
        for line in _edges(region)
        for pattern in (MODEL_WORD, CHASSIS_WORD)
    )


def _is_under(line: Line, name: Line) -> bool:
    box = name.box
    return (
        0 <= line.box.middle[1] - box.bottom <= _UNDER * box.height
        and line.words[0].box.height <= _SMALLER * box.height
        and line.box.left < box.right
        and line.box.right > box.left
    )


def _may_name(word: str) -> bool:
    plain = word.strip(".,;:|'\"")
    fits = _SHORTEST <= len(plain) <= _LONGEST and plain.isalpha()
    return fits and plain.upper() not in NOT_MAKERS and any(c in "AEIOUYÄÖÜ" for c in plain.upper())


def _plain(line: Line) -> str:
    word = next(w.text for w in line.words if any(c.isalnum() for c in w.text))
    return word.strip(".,;:|'\"").title()
