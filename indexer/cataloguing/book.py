"""What holds for a whole unit of pages: its publication and volume, its run of page numbers."""

from collections import Counter
from collections.abc import Mapping, Sequence

from indexer.cataloguing import imprint
from indexer.cataloguing.page_number import Printed, borne_out, number_on, run_of_numbers
from indexer.cataloguing.region import whole_page
from indexer.model import PageInput, PageRef


def bound_at(pages: Sequence[PageInput], copies: Mapping[PageRef, PageRef]) -> dict[PageRef, int]:
    """Where each page stands in its unit, a best copy where the first of its scans does.
    `copies` gives the best copy of each further scan."""
    place: dict[PageRef, int] = {}
    for n, page in enumerate(pages):
        place.setdefault(copies.get(page.ref, page.ref), n)
    return place


def page_numbers(
    pages: Sequence[PageInput], copies: Mapping[PageRef, PageRef], loose: bool
) -> dict[PageRef, str]:
    """The printed number of each page; in a bound unit each is checked against its neighbours."""
    read = {
        page.ref: Printed(page.printed)
        if page.printed
        else number_on(whole_page(page).lines, page.reading.height_px)
        for page in pages
    }
    texts = {ref: one.text if one.sure else "" for ref, one in read.items()}
    if not loose:
        place = bound_at(pages, copies)
        served = [page.ref for page in pages if page.ref not in copies]
        served.sort(key=place.__getitem__)
        run = run_of_numbers(borne_out([read[ref] for ref in served]))
        texts |= dict(zip(served, run, strict=True))
    return texts


def publication_of(pages: Sequence[PageInput]) -> tuple[str, str]:
    """The publication and volume that a bound unit's headers name most often."""
    named = Counter(
        found
        for page in pages
        if (found := imprint.publication_in(whole_page(page).lines, page.reading.height_px))[0]
    )
    if not named:
        return "", ""
    publication = Counter(name for name, _ in named.elements()).most_common(1)[0][0]
    volumes = Counter(volume for _, volume in named.elements() if volume)
    return publication, volumes.most_common(1)[0][0] if volumes else ""
