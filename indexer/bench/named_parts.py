"""Parts that the text of a page names with their value, and no parts list holds: the buffer.

In a set fed by a vibrator the buffer is the first to be replaced, and some pages name it in a
sentence only. Common practice, no source.
"""

import re
from collections.abc import Sequence

from indexer.bench.part_values import repaired, values_in
from indexer.bench.parts import PartLine
from indexer.cataloguing.region import Line, make_line
from indexer.model import PageReading, PageRef

BUFFER = "BUFFER"

_BUFFER = re.compile(r"\bBUFFER\b(?! (?:STAGE|AMPL|TUBE|VALVE|TRIODE))", re.I)
_VALUE = re.compile(
    r"(?<![\w.])\d*[.,]?\d+\s?(?:M?MFD?|[uµμ]{1,2}F|[pn]F|MICROFARADS?)\b\.?"
    r"(?:[\s,]{0,3}(?:at |rated |tested )?\d[\d,]{1,4}[\s-]?V\w*)?",
    re.I,
)
_REACH = 120  # signs from the word to its value, at most
_LARGEST_F, _LEAST_F = 0.1e-6, 0.5e-9
_LEAST_V = 1000  # few other parts of a radio stand as much


def named_buffer(
    reading: PageReading, page: PageRef | None, known: Sequence[PartLine] = ()
) -> PartLine | None:
    """The buffer that a page's sentences name, with the value nearest to the word, or the one value
    for a thousand volts and more where the word was not read; None where neither is there, or
    where a part that is `known` is called so. Without a value that fits it is a line to look at."""
    if any(_BUFFER.search(part.description) for part in known):
        return None
    lines = [make_line(line) for line in reading.lines if line]
    at = next((n for n, line in enumerate(lines) if _BUFFER.search(line.text)), None)
    if at is None:
        return _by_volts(lines, page, known)
    rows = lines[max(0, at - 1) : at + 3]
    text = repaired(" ".join(line.text for line in rows), "C")
    word = _BUFFER.search(text)
    if word is None:
        return None
    near = sorted(_VALUE.finditer(text), key=lambda found: _apart(found, word))
    for found in near:
        values = values_in(found[0], "C")
        fits = len(values) == 1 and _LEAST_F <= values[0].number <= _LARGEST_F
        if fits and _apart(found, word) <= _REACH:
            said = f"buffer {found[0]}, named in the text"
            return PartLine(BUFFER, "", "", values[0], said, lines[at].box, page, kind="C")
    said = "buffer, named in the text: paper"
    doubt = "The value of the buffer was not read."
    return PartLine(BUFFER, "", "", None, said, lines[at].box, page, doubt, kind="C")


def _by_volts(
    lines: Sequence[Line], page: PageRef | None, known: Sequence[PartLine]
) -> PartLine | None:
    if any(p.value and (p.value.working_v or 0) >= _LEAST_V for p in known):
        return None
    for line in lines:
        for found in _VALUE.finditer(repaired(line.text, "C")):
            values = values_in(found[0], "C")
            fits = len(values) == 1 and _LEAST_F <= values[0].number <= _LARGEST_F
            if fits and (values[0].working_v or 0) >= _LEAST_V:
                said = f"{found[0]}, named in the text: by its voltage the buffer"
                return PartLine(BUFFER, "", "", values[0], said, line.box, page, kind="C")
    return None


def _apart(found: "re.Match[str]", word: "re.Match[str]") -> int:
    """Signs between a value and the word; a value before it in the sentence counts as well."""
    if found.start() >= word.end():
        return found.start() - word.end()
    return word.start() - found.end()
