"""What the work sheets hold: frozen, ready to show; every text is as a person should read it."""

from dataclasses import dataclass

from indexer.model import PageRef
from indexer.trade.cautions import Caution

REPLACE, SAFETY, CHECK, LEAVE = "replace", "safety-rated", "measure first", "leave alone"
LOOK = "look at the page"  # the value was not read, or can't be right
UNIT = "unit?"  # a reading so far off that its unit must be another
TRACE = "trace first"  # may sit on the power line: then only a safety-rated type will do
HAVE, SUBSTITUTE, ORDER = "have", "have a substitute", "order"


@dataclass(frozen=True, slots=True)
class ReplacementLine:
    """One part of the replacement list; a section of a can has a line of its own.

    `action` is REPLACE, SAFETY, TRACE, CHECK, LOOK or LEAVE; `state` "", "done" or "struck". `fit`
    holds the values sold today, best first ("0.047 µF 630 V"); it is empty where `note` says
    what to do instead. `working_v_at_least` is in volts, None where nothing is printed. `source`
    names the page ("Annual.pdf page 5"), "" for a line that the person added.
    """

    reference: str  # C7A
    printed: str  # ".05 mfd 400 V"
    description: str  # the words of the list
    action: str
    fit: tuple[str, ...]
    working_v_at_least: float | None
    type: str  # the kind of part to buy
    note: str
    part_number: str = ""
    source: str = ""
    page: PageRef | None = None
    state: str = ""
    added: bool = False
    doubtful: bool = False  # the value: see the page before anything is bought

    @property
    def to_do(self) -> str:
        """The action in words; a doubtful value is to be looked up on the page first."""
        look = self.doubtful and self.action != LOOK
        return f"{self.action}, {LOOK}" if look else self.action

    @property
    def to_buy(self) -> bool:
        """Whether it still belongs on the shopping list."""
        return self.action in (REPLACE, SAFETY, TRACE, LOOK) and not self.state


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One point to measure: a part, a pair of pins, or a pin of a tube.

    `reads` and `verdict` are "" until something is entered; `verdict` is "in", "at the edge",
    "out" or UNIT. `tube` is the type at a point of a chart. `low` and `high` are the limits as
    shown ("376 kΩ", "85 V").
    """

    point: str  # "R7", "C3A", "V1 pin 5", "N1 1-2"
    what: str  # "resistance", "capacitance", "voltage"
    nominal: str
    low: str
    high: str
    reads: str = ""
    verdict: str = ""
    note: str = ""
    at: str = ""  # when it was read, local time, ISO 8601
    source: str = ""
    page: PageRef | None = None
    tube: str = ""
    shares: tuple[float, float, float] | None = None  # low, high and reading over the nominal value


@dataclass(frozen=True, slots=True)
class DrawerLine:
    """One tube of the line-up against the drawer. `state` is HAVE, SUBSTITUTE or ORDER."""

    tube: str
    role: str
    state: str
    use: str = ""  # the spare to take, as written in the drawer
    left: int = 0  # how many of it lie there
    relation: str = ""
    note: str = ""  # what to mind
    used: bool = False  # a spare was already taken for this place


@dataclass(frozen=True, slots=True)
class AlignmentTable:
    """The alignment steps of one page as read; the first row is the head."""

    rows: tuple[tuple[str, ...], ...]
    source: str
    page: PageRef
    words: tuple[str, ...] = ()  # what stands around the table, a paragraph each


@dataclass(frozen=True, slots=True)
class PowerUpSheet:
    """What to know and do before and while power goes on. Texts are whole sentences."""

    live_chassis: str  # "likely", "no", "unknown"
    live_reasons: tuple[str, ...]
    isolation: str
    supply: str
    string: str  # "12BE6 12.6 + 12BA6 12.6 + … = 122.8 V at 0.15 A", "" without a series string
    string_notes: tuple[str, ...]
    lamp: str  # "60 to 75 W"
    lamp_behaviour: tuple[str, ...]
    checks: tuple[str, ...]  # in order
    cautions: tuple[Caution, ...]
    if_khz: float | None
    alignment: tuple[AlignmentTable, ...] = ()
    supply_note: str = ""  # where the supply is known from, if not from the line-up


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """Equal parts of the replacement list, added up."""

    count: int
    part: str  # "0.047 µF 630 V"
    type: str
    references: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkSheets:
    """The sheets of one job. Empty tuples where the pages say nothing."""

    replacements: tuple[ReplacementLine, ...]
    shopping: tuple[ShoppingLine, ...]
    readings: tuple[ReadingLine, ...]
    drawer: tuple[DrawerLine, ...]
    power_up: PowerUpSheet
    doubts: tuple[str, ...] = ()  # what a person should check against the pages
