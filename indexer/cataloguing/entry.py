"""One set's stretches of pages made into an entry, as a person would write its index card."""

import hashlib
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from indexer.cataloguing import lineups, particulars
from indexer.cataloguing.forms import settled
from indexer.cataloguing.relations import is_addendum, relations_in
from indexer.cataloguing.sequence import Stretch
from indexer.model import Entry, TubePlace
from indexer.trade.codes import fold
from indexer.trade.lineup import analyse

FOLDERS_MAKER = "no maker was read; this one is the folder's or file's name"
_LINE_UP = 3  # tubes from which a sheet without a name shows a set
_ADDENDUM_SHARE = 0.1  # of the page's height, below the masthead's top


def maker_of(group: Sequence[Stretch]) -> str:
    """The maker that most stretches of a set name, or ""."""
    named = Counter(stretch.maker for stretch in group if stretch.maker)
    return named.most_common(1)[0][0] if named else ""


def borne_out(filed: Sequence[str], read: Sequence[str]) -> list[str]:
    """Makers by folder, but none where sets filed under one mostly name others: a shelf's name
    or a bound volume's says nothing of what lies in it."""
    votes: Counter[str] = Counter()
    for folder, maker in zip(filed, read, strict=True):
        if maker:
            votes[folder] += 1 if fold(maker) == fold(folder) else -1
    return [folder if votes[folder] >= 0 else "" for folder in filed]


def entry_of(group: Sequence[Stretch], folder: str = "") -> Entry | None:
    """The set that a group of stretches shows, or None when they show none. `folder` is the maker
    after whom its folder is named: taken, with a doubt, when none was read."""
    group = _own_tubes(group)
    heads = [stretch.masthead for stretch in group if stretch.masthead]
    files = [stretch.region.page.ref.sha256 for stretch in group if stretch.masthead]
    models = settled([head.models for head in heads], files)
    chassis = settled([head.chassis for head in heads], files)
    chassis = _mostly(chassis, [h.chassis for h in heads], [h.models for h in heads])
    models = _without(models, chassis)
    tubes, doubts = lineups.merge([source for s in group for source in s.sources])
    maker = maker_of(group)
    if not _shows_a_set(group, maker, models, (*chassis, *models), len(tubes)):
        return None
    if not maker and folder:
        doubts = (*doubts, FOLDERS_MAKER)
    text = "\n".join(stretch.region.text for stretch in group)
    line_up = analyse([tube.type for tube in tubes])
    worded = particulars.supply_in(text)
    supply = line_up.supply
    if worded and (supply == "unknown" or (supply, worded) in _WORDS_WIN):
        supply = worded
    elif worded and worded != supply:
        doubts = (*doubts, f"the words say {worded}, the line-up says {supply}")
    live = line_up.live_chassis if supply == line_up.supply else _LIVE.get(supply, "unknown")
    live = _by_words(live, supply, particulars.on_the_line(text))
    pages = tuple(dict.fromkeys(stretch.region.page.ref for stretch in group))
    entry = Entry(
        id="",
        maker=maker or folder,
        models=models,
        chassis=chassis,
        tubes=tubes,
        pages=pages,
        year=particulars.year_in(text),
        if_khz=particulars.if_khz_in(text),
        supply=supply,
        string_volts=line_up.string_volts if supply in _STRINGS else None,
        live_chassis=live,
        doubts=(*doubts, *line_up.doubts),
        evidence=_evidence(group, tubes, folder),
        relations=_relations(group, models),
    )
    return replace(entry, id=_entry_id(entry))


def _own_tubes(group: Sequence[Stretch]) -> Sequence[Stretch]:
    """The stretches, without the tubes of those that several sets share where the set's own pages
    show a line-up."""
    own = {p.type for s in group if not s.shared for source in s.sources for p in source.places}
    if len(own) < _LINE_UP:
        return group
    return [replace(stretch, sources=()) if stretch.shared else stretch for stretch in group]


def _shows_a_set(
    group: Sequence[Stretch], maker: str, models: Sequence[str], codes: Sequence[str], tubes: int
) -> bool:
    """Whether there is enough to make an entry: pages about a set, or a name with its maker or
    chassis, or a line-up. A number in an advertisement or two tubes in a letter are not."""
    matter = any(stretch.has_matter for stretch in group)
    if not codes:
        return tubes >= (1 if matter else _LINE_UP)
    return matter or bool(tubes or maker) or len(codes) > len(models)


def _relations(group: Sequence[Stretch], models: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """What the pages say of other models; for an addendum, which set it adds to."""
    said = relations_in("\n\n".join(stretch.region.text for stretch in group), models)
    first = group[0]
    height = first.region.page.reading.height_px
    until = (first.masthead.top if first.masthead else 0.0) * height + _ADDENDUM_SHARE * height
    head = [line for line in first.region.lines if line.box.top < until]
    if models and (first.addendum or is_addendum(head)):
        said = (("addendum to", models[0]), *said)
    return said


_STRINGS = frozenset({"series string", "battery and line"})
_LIVE = {"transformer": "no", "battery": "no", "vibrator": "no"}
# such sets have no transformer: on the line, one side of it is on the chassis
_LINE_SETS = frozenset({"series string", "battery and line"})
_WORDS_WIN = frozenset({("transformer", "vibrator"), ("battery", "battery and line")})


def _by_words(live: str, supply: str, said: str) -> str:
    """Whether the chassis is live, when the words (`particulars.on_the_line`) are heard as well: a
    line-up may be misread, so it never clears a set that they warn of."""
    if live == "likely" or said == "likely" or supply in _LINE_SETS:
        return "likely"
    return "unknown" if live == "no" and said else live


def _mostly(
    codes: Sequence[str], said: Sequence[Sequence[str]], otherwise: Sequence[Sequence[str]]
) -> tuple[str, ...]:
    """Codes without those that more headings call something else."""
    here = Counter(fold(code) for some in said for code in some)
    there = Counter(fold(code) for some in otherwise for code in some)
    sure = tuple(code for code in codes if there[fold(code)] < here[fold(code)])
    return sure or tuple(code for code in codes if there[fold(code)] <= here[fold(code)])


def _without(models: tuple[str, ...], chassis: Sequence[str]) -> tuple[str, ...]:
    """Models without those that other headings call chassis, as long as any are left."""
    stamped = {fold(code) for code in chassis}
    return tuple(code for code in models if fold(code) not in stamped) or models


def _evidence(group: Sequence[Stretch], tubes: Sequence[TubePlace], folder: str) -> dict[str, str]:
    """Where each fact was read: the file and page number, or for a maker the file's place."""
    where: dict[str, str] = {}
    for stretch in group:
        page = stretch.region.page
        place = f"{page.file} page {page.ref.page}"
        if stretch.masthead and stretch.masthead.models:
            where.setdefault("models", place)
        if stretch.masthead and stretch.masthead.chassis:
            where.setdefault("chassis", place)
        if stretch.maker:
            where.setdefault("maker", place)
        if stretch.sources and tubes:
            where.setdefault("tubes", place)
    if folder:
        where.setdefault("maker", f"the name of {group[0].region.page.file}")
    return where


def _entry_id(entry: Entry) -> str:
    """A name for typing that stays while the entry's first page and first code stay."""
    first = entry.pages[0]
    code = (entry.models or entry.chassis or ("set",))[0]
    stem = "-".join(part for part in (_slug(entry.maker)[:16], _slug(code)[:14]) if part)
    salt = hashlib.sha256(f"{first.sha256}:{first.page}:{code}".encode()).hexdigest()
    return f"{stem}-{int(salt[:8], 16) % 46656:x}"


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "", text.lower())
