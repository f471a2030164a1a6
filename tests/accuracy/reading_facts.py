"""What cataloguing makes of one page's reading, against what the page prints: facts as kept."""

from indexer.cataloguing.unit import catalogue_unit
from indexer.model import PageInput, PageReading, PageRef
from indexer.reading import clean
from indexer.trade.codes import normal
from tests.accuracy.measures import Score
from tests.accuracy.press.paper import Page
from tests.accuracy.reading_readers import Result

MADE_OF = ("models and chassis", "tubes")


def page_facts(page: Page, result: Result) -> dict[str, Score]:
    """Scores of the facts of a page catalogued by itself, by the names in MADE_OF.

    Codes are those of the page's own set or sets, distinct; listings are not among them. Tubes
    are the distinct types.
    """
    reading = PageReading(
        result.words, result.width_px, result.height_px, "tesseract+second",
        rotation_deg=result.rotation_deg, skew_deg=result.skew_deg,
    )  # fmt: skip
    one = PageInput(PageRef("0" * 64, 1), "page.tif", reading, clean.look(page.picture))
    scores = {name: Score() for name in MADE_OF}
    facts = catalogue_unit([one]).facts
    codes = {normal(code) for fact in facts for code in (*fact.models, *fact.chassis)}
    tubes = {tube.type.removesuffix("Y") for fact in facts for tube in fact.tubes}
    scores["models and chassis"].add({normal(code) for code in page.codes}, codes)
    scores["tubes"].add(set(page.tubes), tubes)
    return scores
