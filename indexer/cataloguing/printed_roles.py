"""What is printed beside a tube of the part it plays: in a list after its type, in a drawing below
or above its label. It beats what is reckoned from the line-up, and settles which of two alike is
which."""

import re
from collections.abc import Sequence

from indexer.cataloguing.region import Region, squeeze
from indexer.model import Box, Word

_FREQUENCY = r"[FE]\W{0,2}(?:REQ\w*)?"
# Only what leaves no doubt; "detector" and "oscillator" may be one part of a tube's work.
_ROLES: tuple[tuple[str, str], ...] = (
    (r"PHASE (?:INV|SPLIT)\w*|INVERTER", "phase inverter"),
    (r"\bLIM(?:ITER)?\b", "limiter"),
    (r"\bRATIO DET\w*|\bDISCRIM\w*|\bF\.?M\.? DET", "FM detector"),
    (r"\bDRIVER\b", "driver"),
    (r"\b(?:OUTPUT|POWER|PWR|PENTODE OUT\w*|ENDSTUFE|ENDRÖHRE)\b", "output"),
    (r"\b(?:FULL.WAVE|HALF.WAVE)?\W*RECT\w*|\bGLEICHRICHTER\b", "rectifier"),
    (r"\bEYE\b|\b(?:TUNING|MAGIC) (?:IND\w*|EYE)|\bABSTIMMANZEIGE\w*", "tuning eye"),
    (r"\bCONV\w*|\bTRANSLATOR\b|\b(?:FREQUENCY|FREQ\.?) CHANGER\b", "converter"),
    (rf"\b[IL1]\W{{0,2}}{_FREQUENCY}\W{{0,2}}(?:AMP\w*)?$|\bINTERMEDIATE", "IF amplifier"),
    (rf"\bR\W{{0,2}}{_FREQUENCY}\W{{0,2}}(?:AMP\w*)?$|\bRADIO F\w+", "RF amplifier"),
    (rf"^(?:1ST|IST|FIRST)? ?(?:AUDIO|A\W{{0,2}}{_FREQUENCY})\W*(?:AMP\w*)?$", "first audio"),
)
_CONVERTS = re.compile(
    r"\bOSC\w*\W*(?:AND|&|/|-)?\W*(?:MIX|MOD|TRANSL|1ST DET|FIRST DET)\w*"
    r"|\b(?:MIX|MOD|1ST DET|FIRST DET)\w*\W*(?:AND|&|/|-)?\W*OSC\w*"
)
_COMPOUND = re.compile(r"\b(?:AND|MIX\w*|UND|DET\w*|A\.?V\.?C)\b|[&+/]|-(?=MIX|MOD)")
_MOST_WORDS = 4
_BELOW, _ASIDE = 1.6, 1.2  # heights of lettering


def role_said(text: str) -> str:
    """The role that a few words name, in the words of `trade.roles`; "" where they name none, or
    more than one."""
    said = squeeze(text).strip(" .,;:-_=()")
    if not said or len(said.split()) > _MOST_WORDS + 1:
        return ""
    if _CONVERTS.search(said):
        return "converter"
    found = {role for pattern, role in _ROLES if re.search(pattern, said)}
    if "output" in found and said.startswith(("1ST", "FIRST", "IST")):
        found.discard("output")
    compound = _COMPOUND.search(said) and found != {"FM detector"}
    return found.pop() if len(found) == 1 and not compound else ""


def role_after(text: str) -> str:
    """The role at the beginning of what follows a type in a list or sentence."""
    first = re.split(r"[;,\n]|\s{2,}|(?<=[a-z]{3})\.|\.{2,}", text.lstrip(" -–—=:.,_("), maxsplit=1)
    words = [word for word in first[0].split() if not re.fullmatch(r"-?\d*\.?\d+", word)]
    return role_said(" ".join(words))


def role_beside(label: Box, region: Region) -> str:
    """The role printed in a drawing below a label, else above it."""
    reach = _BELOW * label.height
    near = [
        word
        for line in region.lines
        for word in line.words
        if word.box.left < label.right + _ASIDE * label.height
        and word.box.right > label.left - _ASIDE * label.height
        and (word.box.left + word.box.right) / 2 < label.right + label.height
    ]
    below = [w for w in near if 0 <= w.box.top - label.bottom + 0.3 * label.height <= reach]
    above = [w for w in near if 0 <= label.top - w.box.bottom + 0.3 * label.height <= reach]
    return _named(below) or _named(above)


def _named(words: Sequence[Word]) -> str:
    if not words:
        return ""
    first = min(word.box.top for word in words)
    row = [word for word in words if word.box.top - first <= word.box.height]
    ordered = sorted(row, key=lambda word: word.box.left)
    return role_said(" ".join(word.text for word in ordered if any(map(str.isalpha, word.text))))


def told(said: str, reckoned: str) -> str:
    """The role to keep: what is printed, unless what is reckoned names it among others ("detector
    and first audio")."""
    parts = set(re.split(r" and |, ", reckoned))
    return reckoned if not said or said in parts else said
