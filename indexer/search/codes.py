"""Where an asked code stands on the shelf: every candidate, graded, with a line that says why."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from indexer.search import slips
from indexer.search.weights import (
    CLOSE,
    CLOSE_PART,
    CLOSE_RUBBED,
    CLOSE_SLIP,
    GRADES,
    MAX_CODE_CHARS,
    MAX_PARTS,
    MAX_SERIES,
    MIN_PART_CHARS,
    MIN_SLIP_CHARS,
)
from indexer.store.code_forms import CodeForms, CodeUse, Form
from indexer.trade.code_distance import distance
from indexer.trade.codes import base, fold, may_match, normal, parse_codes, series

_CHASSIS_WORDS = ("CHASSIS", "CHAS", "CH")
_GOOD = frozenset(GRADES[: GRADES.index("likely misread")])


@dataclass(frozen=True, slots=True)
class CodeHit:
    """One place where an asked code is met. `closeness` (0 to 1) orders hits of one grade."""

    use: CodeUse
    asked: str
    grade: str
    closeness: float
    why: str


@dataclass(frozen=True, slots=True)
class _Met:
    grade: str
    closeness: float
    why: str


def hits(forms: CodeForms, asked: str, kind: str = "") -> list[CodeHit]:
    """Every place where `asked` is met, in no order of merit. `kind` says it is a "model" or
    "chassis" number; "" leaves that open.

    Weaker kinds of agreement (half a code, a plain slip) are looked for only when nothing better
    is there.
    """
    flat, folded = normal(asked), fold(asked)
    met: dict[Form, _Met] = {}
    if not flat:
        return []
    if slips.is_rubbed(asked):
        found = _used(forms, asked, kind, _rubbed(forms, asked))
        whole = asked.rstrip("?* ")
        if whole != asked and not slips.is_rubbed(whole):  # the sign may only ask
            found += [
                replace(hit, grade="likely misread", closeness=CLOSE_RUBBED - 0.05)
                for hit in hits(forms, whole, kind)
                if hit.grade in _GOOD
            ]
        return found
    if len(folded) > MAX_CODE_CHARS:
        _meet(met, asked, forms.equal("normal", [flat]))
        return _used(forms, asked, kind, met)
    _meet(met, asked, forms.equal("normal", _with_chassis_words(flat)))
    _meet(met, asked, forms.equal("base", [base(asked), flat]))
    _meet(met, asked, forms.equal("folded", slips.likely(folded)))
    good = any(m.grade in _GOOD for m in met.values())
    pattern = series(asked)
    if pattern:
        _meet(met, asked, forms.near_in_series(pattern, flat, MAX_SERIES))
    if not good:
        _half(met, forms, asked, folded)
        if not any(m.grade == "likely misread" for m in met.values()):
            _slipped(met, forms, asked, folded)
    return _used(forms, asked, kind, met) + _in_wide_ranges(forms, asked, kind)


def _with_chassis_words(flat: str) -> list[str]:
    rests = [flat.removeprefix(word) for word in _CHASSIS_WORDS if flat.startswith(word)]
    bare = min([flat, *rests], key=len)
    return list(dict.fromkeys([flat, *rests, *(word + bare for word in _CHASSIS_WORDS)]))


def _meet(met: dict[Form, _Met], asked: str, found: Iterable[Form]) -> None:
    for form in found:
        if form not in met:
            match = may_match(asked, form.shown)
            if match is not None and not _much_changed(match.grade, asked, form):
                met[form] = _Met(match.grade, _closeness(match.grade, asked, form), match.why)


def _much_changed(grade: str, asked: str, form: Form) -> bool:
    """Whether a misreading would have changed most of a short number: then it is another one."""
    flat = normal(asked)
    if grade != "likely misread" or len(flat) != len(form.normal):
        return False
    changed = sum(a != b for a, b in zip(flat, form.normal, strict=True))
    return changed > max(1, len(flat) // 2)


def _closeness(grade: str, asked: str, form: Form) -> float:
    if grade == "likely misread":
        return max(0.0, 1 - 0.5 * distance(asked, form.normal))
    if grade == "same series":
        one, other = _figures(normal(asked)), _figures(form.normal)
        return max(0.0, 1 - abs(one - other) / 100) if one >= 0 and other >= 0 else 0.5
    if grade == "variant":
        return 1.0 if base(asked) in (normal(asked), form.normal) else 0.7
    return CLOSE.get(grade, 0.5)


def _figures(flat: str) -> int:
    """The last run of figures in a code; -1 without one."""
    end = len(flat)
    while end and not flat[end - 1].isdecimal():
        end -= 1
    start = end
    while start and flat[start - 1].isdecimal():
        start -= 1
    return int(flat[start:end]) if end else -1


def _rubbed(forms: CodeForms, asked: str) -> dict[Form, _Met]:
    """Codes that agree with every legible character; then those that also hold a look-alike."""
    pattern = slips.rubbed_form(asked)
    spelt = slips.filled(pattern)
    if spelt:
        found = forms.equal("folded", spelt)
    else:
        start = pattern.partition(slips.RUBBED)[0]
        found = forms.fitting(pattern, start, MAX_PARTS) if start else []
    return {
        form: _Met(
            "likely misread", CLOSE_RUBBED, f"prints {form.shown}: fits {asked} where it is legible"
        )
        for form in found
    }


def _half(met: dict[Form, _Met], forms: CodeForms, asked: str, folded: str) -> None:
    """Codes of which the asked one is the beginning or the end."""
    if len(folded) < MIN_PART_CHARS or not any(c.isdigit() for c in folded):
        return
    for words, found in (
        ("begins with", forms.beginning(folded, MAX_PARTS)),
        ("ends with", forms.ending(folded, MAX_PARTS)),
    ):
        for form in found:
            better = form in met and met[form].grade != "same series"
            if form.folded != folded and not better:
                share = len(folded) / len(form.folded)
                why = f"prints {form.shown}, which {words} {asked}"
                met[form] = _Met("likely misread", CLOSE_PART * (0.5 + share / 2), why)


def _slipped(met: dict[Form, _Met], forms: CodeForms, asked: str, folded: str) -> None:
    """Codes with one character more, less or other. Another figure may well be another set."""
    if len(folded) < MIN_SLIP_CHARS:
        return
    in_series = any(m.grade == "same series" for m in met.values())
    for form in forms.equal("folded", slips.one_slip(folded)):
        longer = len(form.folded) - len(folded)
        if form in met or (not longer and in_series):
            continue
        how = {1: "one character more", -1: "one character less"}.get(longer, "one other character")
        close = CLOSE_SLIP if longer else CLOSE_SLIP / 2
        met[form] = _Met("likely misread", close, f"prints {form.shown}: {how} than {asked}")


def _used(forms: CodeForms, asked: str, kind: str, met: dict[Form, _Met]) -> list[CodeHit]:
    by_id = {form.id: (form, m) for form, m in met.items()}
    out = []
    for use in forms.uses(list(by_id)):
        form, m = by_id[use.form_id]
        hit = _for_use(use, asked, kind, form, m)
        if hit is not None:
            out.append(hit)
    return out


def _for_use(use: CodeUse, asked: str, kind: str, form: Form, m: _Met) -> CodeHit | None:
    grade, closeness, why = m.grade, m.closeness, f"{use.kind} {m.why}"
    if use.is_member:
        if grade == "exact":
            grade, why = "in range", f"{use.kind} prints {use.printed}: {asked} lies inside"
        else:
            why += f" (inside {use.printed})"
    if kind and use.kind != kind:
        if grade not in ("exact", "in range"):
            return None
        grade = "same chassis" if use.kind == "chassis" else "likely misread"
        return CodeHit(use, asked, grade, 0.5, f"{why}, but as a {use.kind} number")
    if use.kind == "chassis" and grade == "exact":
        grade = "same chassis"
    return CodeHit(use, asked, grade, closeness, why)


def _in_wide_ranges(forms: CodeForms, asked: str, kind: str) -> list[CodeHit]:
    out = []
    for use in forms.wide_ranges():
        match = _wide_match(asked, use.printed)
        if match is not None and kind in ("", use.kind) and match.grade in ("in range", "variant"):
            out.append(CodeHit(use, asked, match.grade, 1.0, f"{use.kind} {match.why}"))
    return out


@lru_cache(maxsize=4096)
def _wide_match(asked: str, printed: str) -> _Met | None:
    for span in parse_codes(printed):
        match = may_match(asked, span.range) if span.range is not None else None
        if match is not None:
            return _Met(match.grade, 1.0, match.why)
    return None


def known_whole(forms: CodeForms, codes: Sequence[str]) -> list[str]:
    """Those of the codes that stand on the shelf as they are, or but for look-alikes."""
    there = {form.folded for form in forms.equal("folded", [fold(code) for code in codes])}
    return [code for code in codes if fold(code) in there]
