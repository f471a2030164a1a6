"""Graded questions over an invented shelf. Grades follow from how the sets were made, never from
what a search says: 3 serves the set, 2 nearly (same chassis, or one tube other), 1 helps."""

import random
import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from indexer.trade.codes import CodeRange, base, fold, normal, series
from tests.speed.finding_shelf import MadeSet

# Slips of worn print, the second sign read for the first: common practice, no source.
SLIPS = {"0": "OD", "1": "IL", "5": "S", "8": "B", "2": "Z", "6": "G", "B": "8", "G": "6", "D": "0"}


@dataclass(frozen=True, slots=True)
class Asked:
    """One graded question. `qrels` maps entry ids to grades; `split` is "look" or "report"."""

    id: str
    kind: str
    text: str
    qrels: dict[str, int] = field(compare=False)
    target: str = ""
    split: str = "look"


def codes_of(made: MadeSet) -> set[str]:
    """Every model number the set goes by, ranges written out."""
    out: set[str] = set()
    for model in made.models:
        first, _, last = model.partition(" through ")
        out |= set(CodeRange(first, last).members()) if last else {normal(model)}
    return out


def make(sets: Sequence[MadeSet], seed: int = 3) -> list[Asked]:
    """All questions, half of them to look at while setting weights, half to report."""
    draw = random.Random(seed)
    kinds: dict[str, tuple[int, Callable[[random.Random, Sequence[MadeSet]], Asked | None]]] = {
        "model and maker": (20, _exact_with_maker),
        "model, sloppy": (20, _exact_sloppy),
        "chassis": (16, _chassis),
        "one slip": (24, lambda d, s: _misread(d, s, 1)),
        "two slips": (24, lambda d, s: _misread(d, s, 2)),
        "inside a range": (20, _member),
        "other suffix": (12, _suffix),
        "figure rubbed off": (16, _rubbed),
        "half a number": (10, _half),
        "not on the shelf": (12, _absent),
        "all tubes": (20, lambda d, s: _tubes(d, s, 0)),
        "one tube unread": (16, lambda d, s: _tubes(d, s, 1)),
    }
    out: list[Asked] = []
    for kind, (count, maker) in kinds.items():
        found: dict[str, Asked] = {}
        for _ in range(2_000):
            made = maker(draw, sets)
            if made is not None and made.qrels:
                found.setdefault(made.text, made)
            if len(found) == count:
                break
        for n, item in enumerate(found.values()):
            split = "look" if n % 2 else "report"
            out.append(Asked(f"{kind} {n}", kind, item.text, item.qrels, item.target, split))
    return out


def judge(sets: Sequence[MadeSet], code: str, maker: str = "") -> dict[str, int]:
    """Grades for a model number: 3 goes by it, 2 same chassis or base, 1 same maker and series."""
    own = [s for s in sets if normal(code) in codes_of(s) and maker in ("", s.maker)]
    chassis = {(s.maker, normal(c)) for s in own for c in s.chassis}
    makers = {s.maker for s in own} or ({maker} if maker else {s.maker for s in sets})
    out: dict[str, int] = {}
    for s in sets:
        if s in own:
            out[s.id] = 3
        elif any((s.maker, normal(c)) in chassis for c in s.chassis):
            out[s.id] = 2
        elif s.maker in makers:
            if any(base(m) == base(code) for m in s.models):
                out[s.id] = 2
            elif series(code) and any(series(m) == series(code) for m in codes_of(s)):
                out[s.id] = 1
    return out


def _pick(draw: random.Random, sets: Sequence[MadeSet]) -> tuple[MadeSet, str]:
    made = draw.choice(sets)
    return made, draw.choice(list(made.models)).partition(" through ")[0]


def _exact_with_maker(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made, model = _pick(draw, sets)
    words = [made.maker, model]
    draw.shuffle(words)
    return Asked("", "", " ".join(words), judge(sets, model, made.maker), made.id)


def _exact_sloppy(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made, model = _pick(draw, sets)
    text = draw.choice((model.lower(), model.replace("-", ""), model.replace("-", " ")))
    return Asked("", "", "model " + text, judge(sets, model), made.id)


def _chassis(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made = draw.choice(sets)
    code = made.chassis[0]
    qrels = {
        s.id: 3 for s in sets if normal(code) in map(normal, s.chassis) and s.maker == made.maker
    }
    return Asked("", "", f"{made.maker.upper()} chassis {code}", qrels, made.id)


def _slipped(draw: random.Random, code: str, slips: int) -> str:
    places = [n for n, sign in enumerate(code) if sign in SLIPS]
    if len(places) < slips:
        return ""
    signs = list(code)
    for n in draw.sample(places, slips):
        signs[n] = draw.choice(SLIPS[signs[n]])
    return "".join(signs)


def _misread(draw: random.Random, sets: Sequence[MadeSet], slips: int) -> Asked | None:
    made, model = _pick(draw, sets)
    text = _slipped(draw, model, slips)
    everything = {code for s in sets for code in codes_of(s)}
    if not any(c.isdigit() for c in text) or normal(text) in everything:
        return None
    with_maker = draw.random() < 0.5
    qrels = judge(sets, model, made.maker if with_maker else "")
    return Asked("", "", f"{made.maker} model {text}" if with_maker else f"model {text}", qrels,
                 made.id)  # fmt: skip


def _member(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made = draw.choice([s for s in sets if " through " in s.models[0]])
    first, _, last = made.models[0].partition(" through ")
    low, high = (int(code.partition("-")[2]) for code in (first, last))
    text = f"{first.partition('-')[0]}-{draw.randint(low + 1, high - 1)}"
    return Asked("", "", f"model {text}", judge(sets, text), made.id)


def _suffix(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made, model = _pick(draw, sets)
    if not model[-1].isdigit():
        return None
    text = model + "W"
    if any(normal(text) in codes_of(s) for s in sets):
        return None
    return Asked("", "", f"{made.maker} {text}", judge(sets, model, made.maker), made.id)


def _fits(sets: Sequence[MadeSet], fits: Callable[[str], bool]) -> dict[str, int]:
    return {s.id: 3 for s in sets if any(fits(fold(code)) for code in codes_of(s))}


def _rubbed(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made, model = _pick(draw, sets)
    flat = normal(model)
    place = draw.choice([n for n, c in enumerate(flat) if c.isdigit()])
    text = flat[:place] + "?" + flat[place + 1 :]
    pattern = re.compile(fold(flat[:place]) + "." + fold(flat[place + 1 :]))
    qrels = _fits(sets, lambda code: pattern.fullmatch(code) is not None)
    return Asked("", "", f"model {text}", {k: v for k, v in qrels.items() if k}, made.id)


def _half(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    made, model = _pick(draw, sets)
    flat = normal(model)
    half = flat[: len(flat) // 2 + 1]
    everything = {code for s in sets for code in (*codes_of(s), *map(normal, s.chassis))}
    if len(half) < 3 or not any(c.isdigit() for c in half) or half in everything:
        return None
    if not any(c.isalpha() for c in half):
        return None
    qrels = _fits([s for s in sets if s.maker == made.maker], lambda c: c.startswith(fold(half)))
    return Asked("", "", f"{made.maker} model {half}", qrels, made.id)


def _absent(draw: random.Random, sets: Sequence[MadeSet]) -> Asked | None:
    """A model that no page names, on a chassis that one does."""
    made = draw.choice(sets)
    text = f"ZX-{draw.randint(100, 999)}"
    qrels = {
        s.id: 3
        for s in sets
        if s.maker == made.maker and set(map(normal, s.chassis)) & set(map(normal, made.chassis))
    }
    return Asked("", "", f"{made.maker} {text} ch. {made.chassis[0]}", qrels, made.id)


def _tubes(draw: random.Random, sets: Sequence[MadeSet], unread: int) -> Asked | None:
    made = draw.choice(sets)
    types = list(made.tubes)
    draw.shuffle(types)
    kept = types[unread:]
    qrels: dict[str, int] = {}
    for s in sets:
        if abs(len(s.tubes) - len(made.tubes)) > 1:
            continue
        shared = sum((Counter(s.tubes) & Counter(kept)).values())
        grade = 3 - (len(kept) - shared) - abs(len(s.tubes) - len(made.tubes))
        if grade > 0:
            qrels[s.id] = grade
    return Asked("", "", " ".join(kept), qrels, made.id)
