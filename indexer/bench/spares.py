"""A line-up against the drawer of spares: have, have a substitute, or order."""

from collections import Counter
from collections.abc import Sequence

from indexer.bench.sheet_types import HAVE, ORDER, SUBSTITUTE, DrawerLine
from indexer.store.bench_records import Spare, SpareUse
from indexer.trade.lineup import analyse
from indexer.trade.relations import relation

_AS_GOOD = ("same", "same, other envelope")


def drawer_lines(
    tubes: Sequence[str], spares: Sequence[Spare], uses: Sequence[SpareUse] = ()
) -> tuple[DrawerLine, ...]:
    """One line for each tube in order; each spare serves one place only.

    A direct substitute counts only where no tube of the type itself is left, and says what to
    mind. A place for which the job already took a spare is `used`.
    """
    stock = Counter[str]()
    for spare in spares:
        stock[spare.type] += spare.count
    taken = list(uses)
    lines: list[DrawerLine | None] = []
    for tube, role in zip(tubes, analyse(tubes).roles, strict=True):
        use = next((use for use in taken if use.tube == tube), None)
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
    roles = analyse(tubes).roles
    return tuple(
        line
        or _best(tube, role, stock, ("direct substitute",), SUBSTITUTE)
        or DrawerLine(tube, role, ORDER)
        for line, tube, role in zip(lines, tubes, roles, strict=True)
    )


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
