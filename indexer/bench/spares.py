"""A line-up against the drawer of spares: have, have a substitute, or order."""

from collections import Counter
from collections.abc import Sequence

from indexer.bench.sheet_types import HAVE, ORDER, SUBSTITUTE, DrawerLine
from indexer.model import Entry
from indexer.store.drawer import Spare, SpareUse
from indexer.store.job_rows import JobRecord
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_tube, registered
from indexer.trade.relations import relation

_AS_GOOD = ("same", "same, other envelope")


def places_of(job: JobRecord, entry: Entry | None) -> list[str]:
    """The tubes of a job's set, each with the envelope that the pages print (6V6GT)."""
    if entry is None:
        return list(job.tubes)
    return [_as_printed(place.type, place.printed) for place in entry.tubes]


def _as_printed(kind: str, printed: str) -> str:
    name = parse_tube(printed) if printed else None
    if name is None or name.half or registered(name.base) != registered(kind):
        return kind
    return name.base + name.suffix


def drawer_lines(
    tubes: Sequence[str], spares: Sequence[Spare], uses: Sequence[SpareUse] = ()
) -> tuple[DrawerLine, ...]:
    """One line for each tube in order; each spare serves one place only.

    A direct substitute counts only where no tube of the type itself is left, and says what to
    mind. A place for which the job already took a spare is `used`.
    """
    roles = analyse([registered(tube) for tube in tubes]).roles
    stock = Counter[str]()
    for spare in spares:
        stock[spare.type] += spare.count
    taken = list(uses)
    lines: list[DrawerLine | None] = []
    for tube, role in zip(tubes, roles, strict=True):
        use = _use_for(tube, taken)
        if use is None:
            lines.append(_best(tube, role, stock, _AS_GOOD, HAVE))
            continue
        taken.remove(use)
        link = relation(tube, use.spare)
        lines.append(
            DrawerLine(
                tube, role, HAVE, use.spare, stock[use.spare], link.kind, link.note, used=True
            )
        )
    open_places = [i for i, line in enumerate(lines) if line is None]
    given = _share_out([tubes[i] for i in open_places], stock)
    for place, substitute in zip(open_places, given, strict=True):
        tube, role = tubes[place], roles[place]
        lines[place] = DrawerLine(tube, role, ORDER)
        if substitute:
            link, left = relation(tube, substitute), stock[substitute]
            stock[substitute] -= 1
            lines[place] = DrawerLine(
                tube, role, SUBSTITUTE, substitute, left, link.kind, link.note
            )
    return tuple(line for line in lines if line is not None)


def _use_for(tube: str, taken: Sequence[SpareUse]) -> SpareUse | None:
    """The use that named this tube, else one that named it under another envelope."""
    for same in (str, registered):
        for use in taken:
            if same(use.tube) == same(tube):
                return use
    return None


def _share_out(places: Sequence[str], stock: Counter[str]) -> list[str]:
    """A direct substitute for as many places as can be served, "" for the others.

    Each place in turn takes a spare, moving an earlier place to another one if need be
    (augmenting paths; Kuhn 1955).
    """
    pieces = [kind for kind in sorted(stock) for _ in range(max(0, stock[kind]))]
    holder: dict[int, int] = {}  # piece -> place

    def serve(place: int, tried: set[int]) -> bool:
        for piece, kind in enumerate(pieces):
            if piece in tried or relation(places[place], kind).kind != "direct substitute":
                continue
            tried.add(piece)
            if piece not in holder or serve(holder[piece], tried):
                holder[piece] = place
                return True
        return False

    for place in range(len(places)):
        serve(place, set())
    given = [""] * len(places)
    for piece, place in holder.items():
        given[place] = pieces[piece]
    return given


def _best(
    tube: str, role: str, stock: Counter[str], kinds: Sequence[str], state: str
) -> DrawerLine | None:
    for kind in kinds:
        for spare in sorted(stock):
            link = relation(tube, spare) if stock[spare] > 0 else None
            if link and link.kind == kind:
                left = stock[spare]
                stock[spare] -= 1
                return DrawerLine(tube, role, state, spare, left, link.kind, link.note)
    return None
