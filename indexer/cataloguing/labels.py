"""Words that announce something (MODEL, CHASSIS, VOLTAGE), read rightly through a reader's slips.

A letter taken for a figure spoils a word; a figure taken for a letter would spoil a code. So only
words that are plainly words are put right, and codes stay as they were read.
"""

import re
from functools import lru_cache

_LETTER = str.maketrans("015826|$", "OISBZGIS")
_LABEL_WORDS = (
    "MODEL MODELS CHASSIS CHAS TYPE TYPES RECEIVER RECEIVERS RADIO SERIES MAKE MAKER STYLE SETS"
    " TUBE TUBES CORP CORPORATION COMPANY ELECTRIC INDEX CONTENTS VOLUME PAGE SERVICE MOD"
)
_LABELS = frozenset(_LABEL_WORDS.split())
_MOSTLY = 0.6  # of a word's characters are letters, for it to be a word
_WORD = re.compile(r"[A-Za-z0-9|$]{4,}")
_RUN_ON = re.compile(r"\b(MODELS?|CHASSIS)(?=[A-Z]{0,2}-?\d)", re.IGNORECASE)  # MODEL3W-4
_TOKEN = re.compile(r"[A-Za-z0-9|$]{3,}")


def plain_words(text: str) -> str:
    """Upper case, blanks as one, figures inside words as the letters they look like: for
    matching phrases."""
    upper = re.sub(r"\s+", " ", text.upper()).strip()
    return _WORD.sub(lambda match: _as_word(match[0]), upper)


def plain_labels(text: str) -> str:
    """The text with nothing changed but the words that announce a set: "M0DEL 50A" gives
    "MODEL 50A"."""
    text = _TOKEN.sub(lambda match: _as_label(match[0]), text)
    return _RUN_ON.sub(r"\1 ", text)


@lru_cache(maxsize=8192)
def _as_word(token: str) -> str:
    letters = sum(character.isalpha() for character in token)
    if letters == len(token) or letters < max(3, _MOSTLY * len(token)):
        return token
    return token.translate(_LETTER)


@lru_cache(maxsize=8192)
def _as_label(token: str) -> str:
    if token.isalpha():
        return token
    fixed = token.upper().translate(_LETTER)
    return fixed if fixed in _LABELS else token
