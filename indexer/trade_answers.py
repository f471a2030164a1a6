"""What the trade knows of a tube or a value, as plain data with the agreed keys."""

from typing import Any

from indexer.errors import UsageError
from indexer.trade.numbering import parse_tube, registered
from indexer.trade.relations import relation, substitutes
from indexer.trade.tubes import Tube, known
from indexer.trade.values import answer

Data = dict[str, Any]


def tube_json(text: str) -> Data:
    """One type with its relations, strongest first. Raises UsageError for an unknown type."""
    tube = _known(text)
    return _tube(tube) | {
        "relations": [
            {"type": other, "relation": link.kind, "note": link.note}
            for other, link in substitutes(tube.type)
        ]
    }


def compare_tubes(asked: str, has: str) -> Data:
    """Two types side by side, and how the second serves where the first is wanted."""
    one, other = _known(asked), _known(has)
    link = relation(asked, has)
    return {
        "asked": _tube(one),
        "has": _tube(other),
        "relation": link.kind,
        "note": link.note,
    }


def value_json(text: str, reads: str = "", part: str = "") -> list[Data]:
    """A printed value, one item for each section. Raises UsageError when it is not understood."""
    items = []
    for section in answer(text, reads, part):
        data = section.facts()
        if section.verdict is None:
            data["verdict"] = None
        items.append(data)
    return items


def _known(text: str) -> Tube:
    tube = known(registered(text)) if parse_tube(text) else None
    if tube is None:
        raise UsageError(
            f"{text.strip()[:40]!r} is not a tube type known here.",
            "Check the number on the glass; look-alikes such as B and 8 are easily mistaken.",
        )
    return tube


def _tube(tube: Tube) -> Data:
    return {
        "type": tube.type,
        "heater_v": tube.heater_v,
        "heater_a": tube.heater_a,
        "heater_v2": tube.heater_v2,
        "heater_a2": tube.heater_a2,
        "heating": tube.heating,
        "base": tube.base,
        "basing": tube.basing,
        "functions": list(tube.functions),
        "top_cap": tube.top_cap,
        "pilot_tap": tube.pilot_tap,
        "first_filter_uf": tube.first_filter_uf,
        "equals": list(tube.equals),
        "doubt": list(tube.doubt),
        "decoded": tube.decoded,
        "source": tube.source,
    }
