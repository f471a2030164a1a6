"""Where on a page the words of a question were found."""

from collections.abc import Iterator

from indexer.model import Box, PageReading, Word
from indexer.search.query import Query
from indexer.trade.codes import fold, normal
from indexer.trade.numbering import parse_line_up

_SHORT = 2  # characters below which look-alike folding says nothing
_ENDS = ".,;:()\"'*"


def marked(reading: PageReading, asked: Query) -> list[tuple[Box, str]]:
    """Each place with the words read there, in reading order.

    A code is found as it is asked, or equal after look-alike folding; across two neighbouring
    words too. A tube is found under any envelope.
    """
    codes = [*asked.codes, *asked.models, *asked.chassis, *asked.joined]
    folded = {fold(code) for code in codes if len(normal(code)) > _SHORT}
    plain = {normal(code) for code in codes}
    words = {normal(word) for text in (*asked.makers, *asked.words) for word in text.split()}
    words.discard("")
    tubes = {kind for tube in asked.tubes for kind in tube.split("/")}
    out: list[tuple[Box, str]] = []
    for line in reading.lines:
        taken = -1
        for at, (word, follower) in enumerate(_pairs(line)):
            if at == taken:
                continue
            if follower is not None:
                both = word.text.strip(_ENDS) + follower.text.strip(_ENDS)
                if normal(both) in plain or fold(both) in folded:
                    out.append((word.box.union(follower.box), f"{word.text} {follower.text}"))
                    taken = at + 1
                    continue
            own = normal(word.text.strip(_ENDS))
            if own and (own in plain or own in words or fold(own) in folded or _is(word, tubes)):
                out.append((word.box, word.text))
    return out


def _pairs(line: tuple[Word, ...]) -> Iterator[tuple[Word, Word | None]]:
    for at, word in enumerate(line):
        yield word, line[at + 1] if at + 1 < len(line) else None


def _is(word: Word, tubes: set[str]) -> bool:
    if not tubes or not any(c.isdigit() for c in word.text):
        return False
    return any(token.type in tubes for token in parse_line_up(word.text))
