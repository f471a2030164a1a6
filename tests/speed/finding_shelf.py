"""A large invented library without pictures, written straight into the catalogue.

What repeats in a real shelf repeats here: chassis serve several models, popular line-ups come by
the hundred, makers number in their own style, and page text has few common and many rare words.
"""

import itertools
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from indexer.store.catalogue import Catalogue
from indexer.store.code_forms import put_forms
from indexer.store.connect import writing
from indexer.trade.codes import base, fold, normal, series

PAGES_AN_ENTRY = 4
MAKERS = tuple(
    a + b
    for a, b in itertools.product(
        ("Tarn", "Quen", "Brosk", "Velth", "Drum", "Fenn", "Yarl", "Osk"),
        ("ovale", "umbry", "askel", "imere", "owby"),
    )
)
# Slots of a line-up with what may stand in each, most usual first.
FAMILIES = (
    (("12BE6",), ("12BA6",), ("12AV6", "12AT6"), ("50C5", "50B5", "35C5"), ("35W4",)),
    (("12SA7",), ("12SK7",), ("12SQ7",), ("50L6", "35L6"), ("35Z5",)),
    (("6SA7", "6SB7"), ("6SK7",), ("6SQ7",), ("6V6", "6K6", "6F6"), ("5Y3", "80")),
    (("6A8", "6K8"), ("6K7",), ("6Q7", "6R7"), ("6F6", "6V6", "42"), ("5Y3", "80", "5W4")),
    (("1R5", "1L6"), ("1T4", "1U4"), ("1S5", "1U5"), ("3S4", "3V4", "3Q4")),
    (("6BE6",), ("6BA6",), ("6AV6", "6AT6"), ("6AQ5",), ("6X4",)),
    (("2A7", "6A7"), ("58", "6D6", "78"), ("2A6", "75"), ("2A5", "42", "41"), ("80",)),
    (("UCH42", "UCH81"), ("UF41", "UF89"), ("UBC41", "UBC81"), ("UL41", "UL84"), ("UY41",)),
    (("7Q7", "7B8"), ("7A7", "7B7"), ("7C6", "7B6"), ("7C5", "7B5"), ("7Y4",)),
    (("24", "35"), ("24", "35"), ("27",), ("45", "47"), ("80",)),
)
ADDED = ("6SK7", "12BA6", "6U5", "6SN7", "6J5", "6H6", "6BA6", "6AL5", "50C5", "6V6")
_COMMON_WORDS = (
    "alignment schematic parts list volts ohms condenser resistor coil antenna dial cord output "
    "trimmer generator converter speaker voltage chart socket chassis tuning range gang"
)


@dataclass(frozen=True, slots=True)
class MadeSet:
    """One invented set."""

    id: str
    maker: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]
    tubes: tuple[str, ...]
    year: int


def make_sets(count: int, seed: int = 7) -> Iterator[MadeSet]:
    """Sets in chassis families: one chassis carries one to five of them."""
    draw = random.Random(seed)
    taken: set[tuple[str, str]] = set()
    made = 0
    while made < count:
        maker = MAKERS[min(len(MAKERS) - 1, int(draw.expovariate(1 / 12)))]
        year = draw.randint(1932, 1959)
        chassis = _chassis(draw)
        tubes = _line_up(draw)
        for _ in range(min(count - made, draw.choice((1, 1, 1, 2, 2, 3, 5)))):
            models = _models(draw, maker, year, taken)
            yield MadeSet(f"e{made:07d}", maker, models, (chassis,), tubes, year)
            made += 1


def _line_up(draw: random.Random) -> tuple[str, ...]:
    family = FAMILIES[min(len(FAMILIES) - 1, int(draw.expovariate(0.35)))]
    tubes = [slot[min(len(slot) - 1, int(draw.expovariate(1.5)))] for slot in family]
    for _ in range(draw.choice((0, 0, 0, 0, 1, 1, 2, 3))):
        tubes.insert(2, ADDED[min(len(ADDED) - 1, int(draw.expovariate(0.4)))])
    return tuple(tubes)


def _chassis(draw: random.Random) -> str:
    return draw.choice(
        (
            f"CH-{draw.randint(10, 999)}{draw.choice('ABCDEK')}",
            f"{draw.randint(10, 99)}-{draw.randint(1, 99)}",
            f"{draw.choice('RTX')}C-{draw.randint(100, 999)}",
        )
    )


def _models(
    draw: random.Random, maker: str, year: int, taken: set[tuple[str, str]]
) -> tuple[str, ...]:
    style = MAKERS.index(maker) % 5
    for attempt in itertools.count():
        highest = (9_999 if style in (2, 4) else 999) * 10 ** (attempt // 20)
        number = draw.randint(10, highest)  # longer numbers once the short ones are taken
        code = (
            f"{draw.randint(4, 12)}{draw.choice('ABCDEGHKLPT')}{number}",
            f"{year % 100}-{number}",
            f"{draw.choice('ABCEHKLMPRT')}-{number}",
            f"{number}{draw.choice(('A', 'B', 'K', 'W', '-A', '-M'))}",
            f"{draw.choice('BCDFGHJKMPT')}{draw.choice('ABCEKLMX')}{number}",
        )[style]
        if (maker, normal(code)) in taken:
            continue
        taken.add((maker, normal(code)))
        if style == 1 and draw.random() < 0.3:
            last = number + draw.randint(2, 9)
            inside = [(maker, normal(f"{year % 100}-{n}")) for n in range(number + 1, last + 1)]
            if not taken.intersection(inside) and len(str(last)) == len(str(number)):
                taken.update(inside)
                return (f"{code} through {year % 100}-{last}",)
        if draw.random() < 0.15:
            other = code + draw.choice("XYZ")
            taken.add((maker, normal(other)))
            return code, other
        return (code,)
    raise AssertionError


def write_shelf(catalogue: Catalogue, sets: Iterator[MadeSet], seed: int = 8) -> int:
    """Writes entries, codes, line-ups, pages and page text. Returns how many entries."""
    draw = random.Random(seed)
    rare = [f"w{n:04d}" for n in range(5_000)]
    run = catalogue.db.conn.execute
    folder = catalogue.folder_id(Path("/invented"))
    count = 0
    with writing(catalogue.db) as db:
        for count, made in enumerate(sets, 1):
            sha = f"{count:064x}"
            file = f"{made.maker}/{made.year}/{made.id}.pdf"
            run(
                "INSERT INTO file(folder_id, name, size_bytes, mtime_ns, sha256, state)"
                " VALUES (?, ?, 1, 1, ?, 'ok')",
                [folder, file, sha],
            )
            run("INSERT INTO content VALUES (?, 'pdf', '', ?, ?)", [sha, PAGES_AN_ENTRY, sha])
            run(
                "INSERT INTO entry VALUES (?, ?, ?, ?, ?, 455, 'unknown', NULL, 'unknown', ?,"
                " '[]', '{}')",
                [made.id, sha, made.maker, normal(made.maker), made.year,
                 " ".join(sorted(made.tubes))],
            )  # fmt: skip
            for n in range(PAGES_AN_ENTRY):
                page = run(
                    "INSERT INTO page(sha256, number, name, state) VALUES (?, ?, ?, 'done')",
                    [sha, n + 1, f"{count}x{n}"],
                ).lastrowid
                kinds = '["schematic"]' if n == 0 else '["parts list"]'
                run("INSERT INTO page_fact VALUES (?,'',?,'[]','[]','[]','','')", [page, kinds])
                run("INSERT INTO entry_page VALUES (?, ?, ?)", [made.id, page, n])
                words = draw.choices(_COMMON_WORDS.split(), k=20) + draw.choices(rare, k=25)
                words += [made.maker, *made.models, *made.chassis, *made.tubes]
                run("INSERT INTO page_text(rowid, body, keys) VALUES (?, ?, '')",
                    [page, " ".join(words)])  # fmt: skip
            for kind, codes in (("model", made.models), ("chassis", made.chassis)):
                for position, code in enumerate(codes):
                    run(
                        "INSERT INTO code VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                        [made.id, kind, position, code, normal(code), fold(code), base(code),
                         series(code), int(" through " in code)],
                    )  # fmt: skip
                    put_forms(db, made.id, kind, position, code)
            db.conn.executemany(
                "INSERT INTO entry_tube VALUES (?, ?, ?, ?, '', '', NULL, '[]')",
                [(made.id, n, tube, tube) for n, tube in enumerate(made.tubes)],
            )
        run("INSERT OR REPLACE INTO counter VALUES ('entries changed', ?)", [count])
    return count
