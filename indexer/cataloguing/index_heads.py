"""What heads the rows of an index: a maker's name, the names of its columns."""

import re

from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.makers import corporate
from indexer.cataloguing.region import Line

NAME_WORDS = 5  # of a maker's full name
_SMALL = frozenset({"and", "of", "the", "&", "et", "und"})
_COLUMN_OF_PAGES = re.compile(r"(?<=\w)\W+(?:VOL\W+)?PAGES?\W*$", re.IGNORECASE)
_CONTINUED = re.compile(r"\bCONT(?:INUED|'?D|\.)\W*$", re.IGNORECASE)
_COLUMN_HEADS = frozenset(
    {"MAKER", "MODEL", "MODELS", "VOLUME", "PAGE", "PAGES", "CONTENTS", "CONTINUED", "VOL", "INDEX"}
)


def maker_heading(line: Line) -> str:
    text = _first_part(line.text)
    if not 1 <= len(text.split()) <= NAME_WORDS:
        return ""
    words = [plain_words(word.strip(".,:;")) for word in text.split()]
    if _COLUMN_HEADS & set(words):
        return ""
    titled = all(w[:1].isupper() or not w[:1].isalpha() or w in _SMALL for w in text.split())
    plain = not any(c.isdigit() for c in text)
    firm = corporate(" ".join(words).upper()) if text.isupper() or (titled and plain) else ""
    if firm or (text.isupper() and all(w.isalpha() and len(w) > 3 for w in words)):
        return firm or " ".join(words).title()
    return ""


def is_column_head(line: Line) -> bool:
    """Whether a line heads columns of an index: nothing on it but "Maker", "Model", "Page" …"""
    words = {plain_words(word.text.strip(".,:;").upper()) for word in line.words}
    known = len(words & _COLUMN_HEADS)
    return known >= 2 and known >= len(words) - 1  # one may be read with a slip


def lone_name(line: Line) -> str:
    """A line's one or two words in small letters that may be a maker's name over its rows."""
    words = _first_part(line.text).split()
    names = all(word.strip(".,:").isalpha() and word.istitle() for word in words)
    long = names and 1 <= len(words) <= 2 and len(words[0]) > 3
    return " ".join(words).strip(".,:") if long else ""


def _first_part(text: str) -> str:
    """A heading without "continued", nor the head of the column of pages beside it."""
    text = _COLUMN_OF_PAGES.sub("", text)
    found = _CONTINUED.search(text)
    if found is None:
        return text.strip()
    words = text[: found.start()].split()
    while words and not any(map(str.isalnum, words[-1])):
        words.pop()
    return " ".join(words).rstrip(" -–—(.,:;")
