"""A question as typed, understood: what in it is a maker, a code, a tube, a year, a word."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from indexer.errors import UsageError
from indexer.limits import MAX_QUERY_CHARS, MAX_QUERY_TUBES
from indexer.trade.codes import CodeClass, classify, fold, normal
from indexer.trade.numbering import parse_line_up

_YEAR = re.compile(r"^19[2-6]\d$")
_LABELS = {"MODEL", "MODELS", "NO", "NO.", "NUMBER", "TYPE", "TUBES", "TUBE", "YEAR", "RADIO"}
_CHASSIS = {"CHASSIS", "CHAS", "CHAS.", "CH", "CH."}


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked for. Codes may be models or chassis numbers unless said outright."""

    text: str = ""
    makers: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    chassis: tuple[str, ...] = ()
    tubes: tuple[str, ...] = ()
    year: int | None = None
    words: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, object]:
        """How the question was understood, for showing."""
        return {
            "text": self.text,
            "makers": list(self.makers),
            "codes": list(self.codes),
            "models": list(self.models),
            "chassis": list(self.chassis),
            "tubes": list(self.tubes),
            "year": self.year,
            "words": list(self.words),
        }


@dataclass
class _Parts:
    makers: list[str] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)
    models: list[str] = field(default_factory=list)
    chassis: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    year: int | None = None


def understand(text: str, makers: Mapping[str, str] | None = None) -> Query:
    """The parts of a typed question, in any order and case. `makers` maps folded names to names.

    Raises UsageError for an empty question or one longer than MAX_QUERY_CHARS.
    """
    shown = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not normal(shown):
        raise UsageError(
            "The question has no letter or digit in it.",
            "Give a maker, model, chassis, tubes or words.",
        )
    if len(shown) > MAX_QUERY_CHARS:
        raise UsageError(
            f"The question has {len(shown)} characters; {MAX_QUERY_CHARS} is the most.",
            "Ask for what stands on the label.",
        )
    tubes: list[str] = []
    rest = list(shown)
    for token in parse_line_up(shown):
        tubes += [token.type] * token.count
        rest[token.start : token.end] = " " * (token.end - token.start)
    if len(tubes) > MAX_QUERY_TUBES:
        raise UsageError(
            f"{len(tubes)} tubes are asked for; {MAX_QUERY_TUBES} is the most.",
            "Give the tubes of one set.",
        )
    parts = _sort_words("".join(rest).split(), makers or {})
    return Query(
        shown,
        tuple(parts.makers),
        tuple(parts.codes),
        tuple(parts.models),
        tuple(parts.chassis),
        tuple(tubes),
        parts.year,
        tuple(parts.words),
    )


def _sort_words(words: Sequence[str], makers: Mapping[str, str]) -> _Parts:
    parts = _Parts()
    after = ""
    for raw in words:
        word = raw.strip(",;:\"'()*?")
        upper = word.upper()
        if upper in _CHASSIS:
            after = "chassis"
        elif upper in _LABELS:
            after = "model" if upper.startswith("MODEL") else after
        elif not normal(word):
            continue
        elif fold(word) in makers:
            parts.makers.append(makers[fold(word)])
        elif _YEAR.match(word) and not after:
            parts.year = int(word)
        elif after == "chassis":
            parts.chassis.append(word)
            after = ""
        elif after == "model":
            parts.models.append(word)
            after = ""
        elif _is_code(word):
            parts.codes.append(word)
        else:
            parts.words.append(word)
    return parts


def _is_code(word: str) -> bool:
    """Any number that is no tube, year or frequency: who asks for a set gives its numbers."""
    return any(c.isdigit() for c in word) and classify(word) is not CodeClass.FREQUENCY
