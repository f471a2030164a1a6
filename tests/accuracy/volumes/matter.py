"""The blocks of one set: a heading with rows, or a drawing; each knows what kind of page it is."""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from indexer.model import PageKind
from sample_library.drawing import schematic
from tests.accuracy.press import wording
from tests.accuracy.press.faces import face
from tests.accuracy.press.lettering import STYLES, LetteredSheet
from tests.accuracy.press.paper import Paper
from tests.accuracy.press.sets import Set, make_set, type_of
from tests.accuracy.volumes.conventions import HOUSES, MAKERS, SAME, House

Row = tuple[tuple[float, str], ...]  # (share of the width, text)
LEFT, RIGHT, BOTTOM = 190, 2360, 3080


@dataclass(frozen=True)
class Block:
    """Something that is set in one go: a title and rows, which may run over to the next page, or
    a drawing, which may not. `kind` None is matter that makes no page kind of its own."""

    kind: PageKind | None
    title: str
    rows: tuple[Row, ...] = ()
    height: float = 0.0
    draw: Callable[[Paper, str, float], None] | None = None


@dataclass
class Bound:
    """One set as bound: what is printed of it, and the pages it fills."""

    one: Set
    house: House
    blocks: list[Block]
    tubes: list[str]  # registered types, as often as they stand in the set
    alternatives: dict[str, str] = field(default_factory=dict)
    relation: tuple[str, str] | None = None  # ("same as", model)
    pages: list[tuple[str, int]] = field(default_factory=list)


def registered(printed: str) -> str:
    """The type without its envelope."""
    return type_of(printed).removesuffix("Y") if printed.endswith("Y") else type_of(printed)


def make_bound(rng: random.Random, split: str, volume: int, taken: set[str]) -> Bound:
    """A set with its blocks in a volume's house style; codes not `taken` yet."""
    while True:
        one = replace(make_set(rng, split), maker=rng.choice(MAKERS[split]))
        codes = {*one.models, one.chassis}
        if not codes & taken and len(codes) == len(one.models) + 1:
            break
    taken |= codes
    houses = HOUSES[split]
    house = houses[volume % len(houses)] if rng.random() < 0.8 else rng.choice(houses)
    bound = Bound(one, house, [], [registered(tube) for tube in one.tubes])
    if rng.random() < 0.15 and house.line_up == "numbered":
        place = rng.randrange(len(one.family.places))
        others = [t for t in one.family.places[place] if t != bound.tubes[place]]
        if others:
            bound.alternatives[one.tubes[place]] = others[0].removesuffix("Y")
    bound.blocks = _blocks(rng, bound)
    return bound


def _blocks(rng: random.Random, bound: Bound) -> list[Block]:
    house = bound.house
    makers = {
        PageKind.SCHEMATIC: _schematic,
        PageKind.PARTS_LIST: _parts,
        PageKind.ALIGNMENT: _alignment,
        PageKind.VOLTAGE_CHART: _voltages,
        PageKind.RESISTANCE_CHART: _resistances,
        PageKind.TUBE_LAYOUT: _layout,
        PageKind.CHASSIS_VIEW: _chassis,
        PageKind.DIAL_STRINGING: _dial,
        PageKind.SERVICE_NOTES: notes,
    }
    wanted = [PageKind.SCHEMATIC, PageKind.PARTS_LIST, PageKind.ALIGNMENT, PageKind.VOLTAGE_CHART]
    if house.line_up == "chart only":
        wanted = [
            PageKind.SCHEMATIC,
            PageKind.VOLTAGE_CHART,
            PageKind.TUBE_LAYOUT,
            PageKind.PARTS_LIST,
        ]
    wanted += rng.sample(
        [
            PageKind.RESISTANCE_CHART,
            PageKind.CHASSIS_VIEW,
            PageKind.DIAL_STRINGING,
            PageKind.SERVICE_NOTES,
            *([] if house.line_up == "chart only" else [PageKind.TUBE_LAYOUT]),
        ],
        rng.randrange(0, 4),
    )
    if rng.random() < 0.2:
        wanted.remove(PageKind.PARTS_LIST)
    rng.shuffle(wanted)
    lead = [block] if (block := _line_up(rng, bound)) else []
    return lead + [makers[kind](rng, bound, rng.choice(house.headings[kind])) for kind in wanted]


def _line_up(rng: random.Random, bound: Bound) -> Block | None:
    one, style = bound.one, bound.house.line_up
    facts = f"{len(one.tubes)} tube receiver, {one.year}. I.F. {one.if_khz} kc."
    shown = [f"{t} or {bound.alternatives[t]}" if t in bound.alternatives else t for t in one.tubes]
    if style == "numbered":
        rows = [
            ((0.0, f"V{n}"), (0.08, tube), (0.3, job))
            for n, (tube, job) in enumerate(zip(shown, one.family.jobs, strict=False), 1)
        ]
        return Block(None, "", (((0.0, facts),), *rows))
    if style == "running":
        parts = ", ".join(
            f"{tube} {job.lower()}" for tube, job in zip(shown, one.family.jobs, strict=False)
        )
        return Block(None, "", (((0.0, facts),), *_wrapped("Tubes: " + parts, 74)))
    if style == "counted":
        kept = dict.fromkeys(shown)
        parts = ", ".join(f"{shown.count(tube)}-{tube}" for tube in kept)
        return Block(None, "", (((0.0, facts),), ((0.0, f"TUBE COMPLEMENT {parts}"),)))
    return Block(None, "", (((0.0, facts),),))


def _wrapped(text: str, letters: int) -> list[Row]:
    rows, line = [], ""
    for word in text.split():
        if len(line) + len(word) > letters:
            rows.append(((0.0, line),))
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*rows, ((0.0, line),)]


def _parts(rng: random.Random, bound: Bound, title: str) -> Block:
    with_tubes = rng.random() < 0.5
    rows = wording.parts_rows(rng, bound.one, rng.randrange(16, 40))
    if not with_tubes:
        rows = [row for row in rows if not row[2].startswith("Tube")]
    head = rng.choice((("Ref.", "Part No.", "Description"), ("SYMBOL", "NUMBER", "DESCRIPTION"),
                       ("Item", "Part", "Description")))  # fmt: skip
    shares = (0.0, 0.13, 0.36)
    made = [tuple(zip(shares, row, strict=True)) for row in [head, *rows]]
    return Block(PageKind.PARTS_LIST, title, tuple(made))


def _alignment(rng: random.Random, bound: Bound, title: str) -> Block:
    shares = (0.0, 0.09, 0.36, 0.53, 0.86)
    rows = [tuple(zip(shares, row, strict=True)) for row in wording.alignment_rows(rng, bound.one)]
    lead = _wrapped("Connect the output meter across the voice coil and keep the signal generator "
                    "as low as will read. Use a .1 mfd dummy antenna.", 76)  # fmt: skip
    return Block(PageKind.ALIGNMENT, title, (*lead, *rows))


def _pins(rng: random.Random, bound: Bound, cell: Callable[[], str]) -> list[Row]:
    pins = 8 if bound.one.family.octal else 7
    named = rng.random() < 0.5
    first, numbered = ("V1", True) if rng.random() < 0.5 else ("", False)
    head = ["TUBE", *(f"{'PIN ' if named else ''}{n}" for n in range(1, pins + 1))]
    shares = [0.0, *(0.24 + 0.76 * n / pins for n in range(pins))]
    rows = [tuple(zip(shares, head, strict=True))]
    for n, tube in enumerate(bound.one.tubes, 1):
        shown = f"V{n} {tube}" if first and numbered else tube
        rows.append(tuple(zip(shares, [shown, *(cell() for _ in range(pins))], strict=True)))
    return rows


def _voltages(rng: random.Random, bound: Bound, title: str) -> Block:
    rows = _pins(rng, bound, lambda: rng.choice(
        ("0", "NC", "-.6", f"{rng.randrange(12, 118)} AC", str(rng.randrange(2, 98)))))  # fmt: skip
    note = ((0.0, "Measured with a meter of 20,000 ohms per volt, line at 117 volts."),)
    return Block(PageKind.VOLTAGE_CHART, title, (*rows, note))


def _resistances(rng: random.Random, bound: Bound, title: str) -> Block:
    rows = _pins(rng, bound, lambda: rng.choice(
        ("0", "NC", "INF", f"{rng.randrange(2, 900)}", f"{rng.randrange(10, 900)}K",
         f"{rng.randrange(1, 9)} MEG")))  # fmt: skip
    return Block(PageKind.RESISTANCE_CHART, title, tuple(rows))


def notes(rng: random.Random, bound: Bound, title: str) -> Block:
    text = wording.paragraph(rng, bound.one, rng.randrange(6, 12))
    rows = _wrapped(text, 78)
    if rng.random() < 0.5:
        tube, other = bound.one.tubes[0], rng.choice(("6J6", "7F8", "6SL7", "25L6", "1R5"))
        rows += _wrapped(f"A {other} may be used in place of the {tube} in an emergency.", 78)
    return Block(PageKind.SERVICE_NOTES, title, tuple(rows))


def relate(rng: random.Random, split: str, bound: Bound, other: Bound) -> None:
    """Says in words how a set stands to another."""
    n = rng.randrange(3)
    text = SAME[split][n].format(a=bound.one.models[0], b=other.one.models[0])
    bound.relation = (("same as", "similar to", "replaces")[n], other.one.models[0])
    bound.blocks.insert(min(1, len(bound.blocks)), Block(None, "", (((0.0, text),),)))


def _schematic(rng: random.Random, bound: Bound, title: str) -> Block:
    style = rng.choice(STYLES)

    def draw(paper: Paper, font: str, y: float) -> None:
        sheet = LetteredSheet(paper, font, bound.one, style)
        drawn = list(bound.one.family.drawn)
        circuit = schematic.superhet(drawn, bound.one.family.supply)
        schematic.draw(sheet, circuit, drawn, LEFT, y + 40, 2550 - 360, 1650)
        sheet.letter()

    return Block(PageKind.SCHEMATIC, title, height=1900, draw=draw)


def _layout(rng: random.Random, bound: Bound, title: str) -> Block:
    with_job = rng.random() < 0.5

    def draw(paper: Paper, font: str, y: float) -> None:
        paper.pen.rectangle([LEFT + 40, y + 20, RIGHT - 40, y + 640], outline=0, width=6)
        step = (RIGHT - LEFT - 200) / len(bound.one.tubes)
        for n, tube in enumerate(bound.one.tubes):
            x, at = LEFT + 100 + (n + 0.5) * step, y + 190 + 230 * (n % 2)
            paper.pen.ellipse([x - 120, at - 120, x + 120, at + 120], outline=0, width=5)
            paper.put(x, at, tube, font, 44, "mm")
            if with_job:
                job = bound.one.family.jobs[n].split(" - ")[0].upper()
                paper.put(x, at + 150, job, font, 28, "mm")

    return Block(PageKind.TUBE_LAYOUT, title, height=700, draw=draw)


def _chassis(rng: random.Random, bound: Bound, title: str) -> Block:
    names = rng.sample(("VOLUME CONTROL", "GANG", "POWER CORD", "1ST I.F.", "2ND I.F.", "SPEAKER",
                        "LOOP", "DIAL LAMP", "FUSE"), 5)  # fmt: skip

    def draw(paper: Paper, font: str, y: float) -> None:
        paper.pen.rectangle([LEFT + 90, y + 40, RIGHT - 90, y + 620], outline=0, width=6)
        for n, name in enumerate(names):
            x = LEFT + 200 + n * 380
            paper.pen.rectangle([x, y + 170, x + 210, y + 430], outline=0, width=4)
            paper.put(x + 105, y + 470, name, font, 30, "ma")

    return Block(PageKind.CHASSIS_VIEW, title, height=680, draw=draw)


def _dial(rng: random.Random, bound: Bound, title: str) -> Block:
    rows = _wrapped(f"Use {rng.randrange(28, 60)} inches of cord. Close the gang, tie the cord to "
                    "the spring in the drum and pass it over the pulleys, then two and a half "
                    "turns round the shaft.", 76)  # fmt: skip

    def draw(paper: Paper, font: str, y: float) -> None:
        at = y + 30
        for row in rows:
            paper.put(LEFT, at, row[0][1], font, 42)
            at += 56
        for x, r in ((600, 150), (1250, 60), (1800, 60), (2000, 40)):
            box = [x - r, at + 180 - r, x + r, at + 180 + r]
            paper.pen.ellipse(box, outline=0, width=5)
            paper.put(x + math.copysign(r, 1), at + 180 - r - 40, rng.choice("ABCDE"), font, 34)
        paper.rule(600, at + 30, 1800, at + 120, 3)
        paper.rule(600, at + 330, 2000, at + 220, 3)

    return Block(PageKind.DIAL_STRINGING, title, height=620, draw=draw)


def fits(text: str, font: str, size_px: int, width_px: float) -> int:
    """The size at which a text is no wider than `width_px`."""
    length = face(font, size_px).getlength(text)
    return size_px if length <= width_px else max(18, int(size_px * width_px / length))
