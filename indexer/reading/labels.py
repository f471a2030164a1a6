"""References of parts and initials with dots, put right by others of their kind on the page.

What print of this kind makes alike is common practice, no source.
"""

import re
from collections.abc import Mapping

from indexer.model import Word

INITIALS = re.compile(r"(?:[A-Z]\.){2,3}")
"""Initials with dots: I.F., A.V.C."""

_ONE_DOT = re.compile(r"^([AR]F|[HL]T|[AD]C|[LMS]W)\.(?=[,;]?$)")
_MOST_INITIALS = 3
_LIKE_INITIALS = {"I": "LT1l|iJ", "F": "EPR", "A": "4", "R": "RBK", "V": "YvU", "C": "GOc"}
_FIGURES = str.maketrans("Iil|!YSZO", "111119520")
# CIA for C1A, LII for L11, RY for R9, 1.7 for L7
_STROKE_REFERENCE = re.compile(r"^([CLRTV])([Iil1|!]{0,1}[Iil|!][Iil1|!]{0,1})([A-D]?)(?=[.,;:]?$)")
_LAST_REFERENCE = re.compile(r"^([CLRTV])(\d?)([YSZ]|(?<=\d)[OIl])(?=[.,;:]?$)")
_POINT_REFERENCE = re.compile(r"^[1Il|]\.(\d{1,2})(?=[.,;:]?$)")
_REFERENCES = re.compile(r"L\d{1,2}[.,;]?")


def initials_meant(text: str, dotted: frozenset[str], shown: Mapping[str, int]) -> str:
    """The initials with dots that a text is a misreading of, by those that its page repeats; else
    "". `shown` is how often the page has each text."""
    if dotted and (initials := _ONE_DOT.match(text)):
        return f"{text[0]}.{text[1]}.{text[initials.end() :]}"
    body = text.rstrip(",;")
    letters = re.sub(r"[.:,]", "", body)
    if body in dotted or shown[body] > 1 or not 1 < len(letters) <= _MOST_INITIALS:
        return ""
    found = [
        whole
        for whole in dotted
        if len(meant := whole.replace(".", "")) == len(letters)
        and all(
            a == b or a in _LIKE_INITIALS.get(b, "") for a, b in zip(letters, meant, strict=True)
        )
    ]
    return found[0] + text[len(body) :] if len(found) == 1 else ""


def reference_meant(
    text: str, before: Word | None, after: Word | None, letters: frozenset[str]
) -> str:
    """The reference that a text is when its page has others of its letter; else "". `letters` are
    those of the page's references, small ones."""
    point = _POINT_REFERENCE.match(text)
    if point and any(w is not None and _REFERENCES.fullmatch(w.text) for w in (before, after)):
        return f"L{point[1]}{text[point.end() :]}"
    found = _STROKE_REFERENCE.match(text) or _LAST_REFERENCE.match(text)
    if not found or found[1].lower() not in letters:
        return ""
    if found[1] == "V" and (len(found[2]) > 1 or (after and after.text[:1].isdigit())):
        return ""  # a volume in Roman figures
    figures = (found[2] + (found[3] if found.re is _LAST_REFERENCE else "")).translate(_FIGURES)
    tail = found[3] if found.re is _STROKE_REFERENCE else ""
    return found[1] + figures + tail + text[found.end() :]
