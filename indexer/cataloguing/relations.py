"""How a set stands to another, as its pages say: the same as, similar to, replaces. Pure."""

import re
from collections.abc import Sequence

from indexer.cataloguing.identity import models_in
from indexer.cataloguing.labels import plain_labels, plain_words
from indexer.cataloguing.region import Line, make_line
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
    r"\b(ADDEND(UM|A)|SUPPLEMENT(S|ARY|AL)?|ERRAT(UM|A)|CORRIGEND(UM|A)|AMENDMENTS?"
    r"|ADDITION(AL|S) (DATA|INFORMATION|NOTES|TO)|CORRECTIONS?(?! FACTORS?| TABLE| CHARTS?)"
    r"|NACHTR(A|Ä|AE)GE?|BERICHTIGUNG(EN)?|ERG(A|Ä|AE)NZUNG(EN)?)\b"
)
_TITLE_WORDS = 6
# "(see page 7-31)": where the set was printed before, on a page of additions
_EARLIER = (
    r"(?:SEE|REFER(?:RING)? TO|REF\.?|CF\.?|COMPARE|ADD(?:S|ITION)? TO|SIEHE|VGL\.?|VOIR)\b"
    r"[^()\d]{0,24}\b(?:PAGES?|PP?\.|PG\.?|VOL(?:UME|\.)?|SHEETS?|SECTION|FOLIO|SEITEN?|S\.)"
)
_EARLIER_AFTER = re.compile(rf"[\s(\[,;:.\-]*\b{_EARLIER}.{{0,24}}$", re.IGNORECASE)
_EARLIER_BEFORE = re.compile(rf"^\W*{_EARLIER}\W*[\dIVX][\w\-]*[\s)\]:.,\-]*", re.IGNORECASE)
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
    return any(map(_says_addendum, lines))


def _says_addendum(line: Line) -> bool:
    titled = len(line.words) <= _TITLE_WORDS and line.words[0].text[:1].isupper()
    small = [word.text for word in line.words if len(word.text) > _SMALL and word.text.islower()]
    heads = line.is_heading or (titled and not small)
    return heads and bool(_ADDENDUM.search(plain_words(line.text)))


_SMALL = 3  # letters of "and", "to"


def without_references(lines: Sequence[Line], page: Sequence[Line]) -> list[Line]:
    """The lines, and on a page of additions (`page` is all of it) those below its title without
    what says where a set was printed before: "MODEL 5D10 (see page 7-31)" heads a set there,
    where elsewhere it sends the reader away."""
    titles = [line.box.top for line in page if _says_addendum(line)]
    if not titles:
        return list(lines)
    start = min(titles)
    return [_without_reference(line) if line.box.top > start else line for line in lines]


def _without_reference(line: Line) -> Line:
    before = _EARLIER_BEFORE.match(line.text)
    after = _EARLIER_AFTER.search(line.text)
    start, end = before.end() if before else 0, after.start() if after else len(line.text)
    kept, at = [], 0
    for word in line.words:
        if at >= start and at + len(word.text.rstrip(".,;:-")) <= end:
            kept.append(word)
        at += len(word.text) + 1
    return make_line(kept) if kept else line
