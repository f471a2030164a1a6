"""Reads printed lists of model and chassis numbers, and writes their shortened items in full.

How lists are shortened in print is common practice, no source.
"""

import re
from dataclasses import dataclass, field, replace

from indexer.trade.code_forms import normal, split_number
from indexer.trade.code_ranges import CodeRange, CodeSpan
from indexer.trade.late_patterns import late

_DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212"
_DASH = f"[{_DASHES}]"
_TOKEN = late(
    rf"""
    (?P<word>[A-Za-z0-9]+(?:(?:{_DASH}|[/.])[A-Za-z0-9]+)*)
  | (?P<short>(?:{_DASH}|/)[A-Za-z0-9]{{1,5}}(?:/[A-Za-z0-9]{{1,5}})*)
  | (?P<mark>\S)
    """,
    re.VERBOSE,
)
_LABELS = {
    "model": "model", "models": "model", "mod": "model", "mods": "model", "type": "model",
    "types": "model", "chassis": "chassis", "chas": "chassis", "chass": "chassis", "ch": "chassis",
}  # fmt: skip
_NUMBER_WORDS = frozenset({"no", "nos", "number", "numbers"})
_RUN_WORDS = frozenset({"run", "runs", "rev", "revision"})
_RANGE_WORDS = frozenset({"through", "thru", "to"})
_GLUE = frozenset({",", ";", "&", "+", "/", "(", "and", "or"})
_ENDS_ITEM = frozenset({",", ";", "&", ")"})
_NOT_OF_SETS = _RUN_WORDS | frozenset(
    {"page", "pages", "p", "pg", "vol", "volume", "fig", "figure", "sheet", "section", "plate"}
)
_UNIT_WORDS = (
    "kc mc kcs mcs khz mhz hz cycles v volt volts ohm ohms mfd mmf mmfd mf uf pf w watt watts amp "
    "amps ma meg megohms meters metres inch inches tube tubes valve valves k m % percent"
)
_UNITS = frozenset(_UNIT_WORDS.split())
_FUNCTION_WORDS = "IN OF TO AND OR AT BY ON THE FOR SEE NO AM FM USE AS IS AN RUN ARE PG FIG VOL"
_NOT_PREFIX = frozenset(_FUNCTION_WORDS.split())
_YEAR = late(r"19[2-7]\d(?:-(?:19)?[2-7]\d)?")
_ORDINAL = late(r"\d+(?:st|nd|rd|th)", re.IGNORECASE)
_LAST_DIGITS = late(r"(?P<head>.*?)(?P<digits>\d+)(?P<gap>[-/. ]?)(?P<tail>[A-Za-z]*)")
_RANGE_WIDEST = 200  # "101-105" under "Models" is a range; "101-990" is a code


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    text: str
    start: int
    end: int

    @property
    def low(self) -> str:
        return self.text.lower()


def write_in_full(previous: str, part: str, mark: str) -> str:
    """The code that a shortened item stands for, after the code before it.

    `mark` is what leads the item: "-", "/" or "". Figures as many as those they replace take
    their place ("5D10", "11" -> "5D11"); fewer after "/" replace the last ones ("101/2" -> "102"),
    after "-" they are a suffix ("5D10", "-1" -> "5D10-1"). Letters replace the suffix or are
    added. Without a mark, an item that isn't clearly short is returned as it stands.
    """
    found = _LAST_DIGITS().fullmatch(previous)
    if not mark and not part.isalnum():
        return part
    if not found:
        return part if not mark else f"{previous}{mark}{part}"
    head, digits, gap = found["head"], found["digits"], found["gap"]
    if part.isalpha():
        if found["tail"]:
            return f"{head}{digits}{gap}{part}"
        return f"{previous}-{part}" if mark == "-" else f"{previous}{part}"
    figures = re.match(r"\d*", part)
    width = len(figures[0]) if figures else 0
    set_off = head.endswith(tuple(_DASHES))
    if width and width == len(digits) and (mark or (head and (part.isdigit() or set_off))):
        return head + part
    if mark == "/" and 0 < width < len(digits):
        return head + digits[: len(digits) - width] + part
    if mark == "-":
        return f"{previous}-{part}"
    return part


def _as_range(text: str, many: bool) -> CodeRange | None:
    """A token that is itself a range: "5D10-5D15", "101–105", or "101-105" after "Models"."""
    parts = re.split(f"({_DASH})", text)
    names, marks = parts[::2], parts[1::2]
    if len(names) % 2 or "/" in text:
        return None
    half = len(names) // 2
    first, last = ("".join(parts[: 2 * half - 1]), "".join(parts[2 * half :]))
    one, other = split_number(first), split_number(last)
    whole = CodeRange(first, last)
    if not whole.is_pattern or len(one[1]) != len(other[1]) or not 1 < whole.count <= _RANGE_WIDEST:
        return None
    if one[1:] > other[1:]:
        return None
    plain = half == 1 and not one[0] and not one[2]
    if plain and not (many and len(one[1]) >= 2) and marks[half - 1] not in "\u2013\u2014":
        return None
    return whole


@dataclass
class _Reader:
    text: str
    spans: list[CodeSpan] = field(default_factory=list)
    word: str = ""
    many: bool = False  # the label was in the plural
    after_label: bool = False
    glue: bool = False
    ranging: bool = False
    previous: str = ""

    def read(self) -> list[CodeSpan]:
        tokens = [
            _Token(str(m.lastgroup), m[0], m.start(), m.end()) for m in _TOKEN().finditer(self.text)
        ]
        i = 0
        while i < len(tokens):
            i += self._step(tokens, i)
        return self.spans

    def _step(self, tokens: list[_Token], i: int) -> int:
        """Takes the token at i; gives back how many were used."""
        token = tokens[i]
        after = tokens[i + 1] if i + 1 < len(tokens) else None
        if self._is_label(token, after):
            self._break()
            self.word = _LABELS[token.low]
            self.many = token.low in ("models", "mods", "types")
            self.after_label = True
        elif token.low in _NUMBER_WORDS and (self.after_label or self._digit_next(after)):
            self.many = self.many or token.low.endswith("s")
        elif token.text in ".:#" and (self.after_label or self.previous):
            pass
        elif token.low in _RUN_WORDS and self.spans and after and self._is_run(after):
            return self._take_run(tokens, i)
        elif after and self._is_no_code(token, after):
            self._break()
            return 2
        elif self.previous and (token.low in _RANGE_WORDS or token.text in _DASHES):
            self.ranging = True
        elif self.previous and token.low in _GLUE:
            self.glue = True
        elif token.text == ")" or (self.previous and token.low in ("incl", "inclusive")):
            self.glue = self.ranging = False
        else:
            if token.text == "CH" and self._digit_next(after) and not self.after_label:
                self._break()
                self.word, self.after_label = "chassis", True  # "CH 41A", in full as printed
            return self._take_code(tokens, i)
        return 1

    def _is_label(self, token: _Token, after: _Token | None) -> bool:
        if token.low not in _LABELS:
            return False
        # "CH 41A" is a code as it stands; "Ch. 41A" and "Ch 41A" name a chassis.
        return token.text != "CH" or (after is not None and after.text in ".:")

    @staticmethod
    def _digit_next(after: _Token | None) -> bool:
        return after is not None and (after.text in ".:" or after.text[0].isdigit())

    @staticmethod
    def _is_no_code(token: _Token, after: _Token) -> bool:
        """A page, figure or run number, or a year in brackets."""
        if token.low in _NOT_OF_SETS:
            return after.text[0].isdigit()
        return token.text == "(" and _YEAR().fullmatch(after.text) is not None

    @staticmethod
    def _is_run(token: _Token) -> bool:
        return re.fullmatch(r"\d{1,2}|[A-Z]", token.text) is not None

    def _take_run(self, tokens: list[_Token], i: int) -> int:
        used = 2
        while i + used + 1 < len(tokens):
            glue, item = tokens[i + used], tokens[i + used + 1]
            if glue.low not in _GLUE | _RANGE_WORDS | set(_DASHES) or not self._is_run(item):
                break
            used += 2
        shown = self.text[tokens[i + 1].start : tokens[i + used - 1].end]
        self.spans[-1] = replace(self.spans[-1], run=shown)
        return used

    def _break(self) -> None:
        self.word, self.previous = "", ""
        self.many = self.after_label = self.glue = self.ranging = False

    def _take_code(self, tokens: list[_Token], i: int) -> int:
        token, used = tokens[i], 1
        end, text = token.end, token.text
        follows = tokens[i + 1] if i + 1 < len(tokens) else None
        starts = self.after_label or i == 0
        if starts and follows and re.fullmatch(r"[A-Z]{1,3}", text) and text not in _NOT_PREFIX:
            gap = self.text[token.end : follows.start]
            if follows.text[0].isdigit() and gap == " ":
                end, used = follows.end, 2
                text = self.text[token.start : end]
                follows = tokens[i + 2] if i + 2 < len(tokens) else None
        if (starts or self.word) and self._has_letter_after(text, end, tokens[i + used :]):
            end, used = follows.end if follows else end, used + 1
            text = self.text[token.start : end]
            follows = tokens[i + used] if i + used < len(tokens) else None
        codes = self._codes(text, token.kind, follows)
        if not codes or (follows is not None and follows.low in _UNITS):
            if codes and self.ranging and self.spans:
                self.spans.pop()  # "540 to 1600 kc": the first figure had the unit too
            self._break()
            return used
        self._add(codes, token.start, end)
        return used

    def _has_letter_after(self, text: str, end: int, rest: list[_Token]) -> bool:
        """Whether a number's last letter is set off, as in "53 A", and the item ends with it."""
        if not rest or not text[-1].isdigit() or not re.fullmatch(r"[A-Z]", rest[0].text):
            return False
        if rest[0].low in _UNITS or self.text[end : rest[0].start] != " ":
            return False
        return len(rest) == 1 or rest[1].text in _ENDS_ITEM or rest[1].low == "and"

    def _codes(self, text: str, kind: str, follows: _Token | None) -> tuple[str, ...]:
        joined = self.glue or self.ranging
        if kind == "short":
            mark = "/" if text[0] == "/" else "-"
            if not self.previous or not (joined or mark == "/"):
                return ()
            return self._slashed(text[1:], mark)
        if text.isalpha():
            # "101, A superb set" goes on in words; "101, A and B" goes on as a list.
            words = follows is not None and follows.text.islower() and follows.text.isalpha()
            listed = follows is not None and follows.low in _GLUE | _RANGE_WORDS
            is_tail = len(text) <= 2 and text.isupper() and (listed or not words)
            return self._slashed(text, "") if self.previous and joined and is_tail else ()
        parts = re.split(rf"{_DASH}|[/. ]", text)
        if _ORDINAL().fullmatch(text) or any(p.isalpha() and len(p) > 3 for p in parts):
            return ()
        if not any(c.isdigit() for c in text):
            return self._slashed(text, "") if self.previous and joined else ()
        return self._slashed(text, "")

    def _slashed(self, text: str, mark: str) -> tuple[str, ...]:
        """The codes of one item, which may hold several after slashes: "410-A/B", "101/2/3"."""
        first, *rest = text.split("/")
        if mark or (self.previous and (self.glue or self.ranging)):
            first = write_in_full(self.previous, first, mark)
        letters_only = len(rest) == 1 and rest[0].isalpha()
        if letters_only and not _tail_of(first):
            return (f"{first}/{rest[0]}",)  # "101/A" is one code, "101A/B" two
        codes = [first]
        for part in rest:
            full = part if any(map(str.isalpha, part)) and any(map(str.isdigit, part)) else ""
            codes.append(full or write_in_full(codes[-1], part, "/"))
        if len(rest) > 1 and all(part.isalpha() for part in rest) and not _tail_of(first):
            codes = codes[1:]  # "101/A/B" names 101A and 101B
        return tuple(dict.fromkeys(codes))

    def _add(self, codes: tuple[str, ...], start: int, end: int) -> None:
        item = CodeSpan(codes, self.text[start:end], start, end, word=self.word)
        whole = _as_range(codes[0], self.many) if len(codes) == 1 else None
        if whole:
            item = replace(item, codes=(), range=whole)
        elif self.ranging and self.spans and self.spans[-1].codes:
            before = self.spans[-1]
            joined = CodeRange(before.codes[-1], codes[0])
            if joined.is_pattern and normal(joined.first) != normal(joined.last):
                self.spans.pop()
                if len(before.codes) > 1:
                    self.spans.append(replace(before, codes=before.codes[:-1]))
                shown = self.text[before.start : end]
                item = replace(item, codes=(), range=joined, start=before.start, text=shown)
        self.spans.append(item)
        self.previous = item.range.last if item.range else codes[-1]
        self.glue = self.ranging = self.after_label = False


def _tail_of(code: str) -> str:
    found = _LAST_DIGITS().fullmatch(code)
    return found["tail"] if found else ""


def parse_codes(text: str) -> list[CodeSpan]:
    """The model and chassis numbers of a printed list, item by item, in order.

    Reads "40-120 through 40-125", "5D10, -11, -12", "Models 101, 101A & 102", "410-A/B",
    "Ch. 10C1, Run 2". Numbers followed by a unit are left out; whether what remains is a model
    at all is for `classify` to say.
    """
    return _Reader(text).read()
