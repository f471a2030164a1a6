"""How a set stands to another, as its pages say: the same as, similar to, replaces. Pure."""

import re
from collections.abc import Sequence

from indexer.cataloguing.identity import models_in
from indexer.cataloguing.labels import plain_labels, plain_words
from indexer.cataloguing.region import Line
from indexer.trade.codes import fold

_SAID = re.compile(
    r"\b(?:(?P<same>(?:THE )?SAME AS|IDENTICAL (?:TO|WITH))|(?P<similar>SIMILAR TO|LIKE)"
    r"|(?P<replaces>REPLACES|SUPERSEDES)|(?P<replaced>(?:REPLACED|SUPERSEDED) BY))\s+"
    r"(?:THOSE (?:OF|FOR) )?(?:THE )?",
    re.IGNORECASE,
)
_NAMES = (("same", "same as"), ("similar", "similar to"), ("replaces", "replaces"))
_OBJECT = re.compile(r"(?:MODELS?|SETS?|RECEIVERS?|MOD\.|TYPES?|SERIES)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.;])\s+(?=[A-Z])|\n\n")
_ADDENDUM = re.compile(
    r"\b(ADDEND(UM|A)|SUPPLEMENT(ARY|AL)?|ERRATA|ADDITIONAL (DATA|INFORMATION)|CORRECTIONS? TO)\b"
)
_REACH = 60  # characters after the words within which the other model stands
_REVERSED = {"same as": "same as", "similar to": "similar to", "replaces": "replaced by"}


def relations_in(text: str, own: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """(relation, other model) for each statement about a set's own models; `own` are these.

    Relations are "same as", "similar to", "replaces", "replaced by". What is said of parts
    ("R5 same as R4") is no relation of sets.
    """
    mine = {fold(code) for code in own}
    found: list[tuple[str, str]] = []
    for sentence in _SENTENCE.split(plain_labels(text.replace("\n", " "))):
        for match in _SAID.finditer(sentence):
            before, after = sentence[: match.start()], sentence[match.end() :][:_REACH]
            named = _OBJECT.match(after)
            if not named and not _OBJECT.search(before):
                continue
            others = models_in(after if named else f"MODEL {after}")[:4]
            subject = {fold(code) for code in models_in(before)}
            said = next((name for key, name in _NAMES if match[key]), "replaced by")
            if not subject or subject & mine:
                found += [(said, other) for other in others if fold(other) not in mine]
            elif mine & {fold(other) for other in others}:
                found += [
                    (_REVERSED.get(said, "replaces"), code)
                    for code in models_in(before)
                    if fold(code) not in mine
                ]
    return tuple(dict.fromkeys(found))


def is_addendum(lines: Sequence[Line]) -> bool:
    """Whether headings say that what follows adds to an earlier entry."""
    return any(line.is_heading and _ADDENDUM.search(plain_words(line.text)) for line in lines)
