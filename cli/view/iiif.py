"""Manifests by the IIIF Presentation API 3.0: an entry's pages, a job's pages, the words read.

Any viewer of that standard opens them. A browser viewer from another address must be named with
`--viewer`: without that, no script from elsewhere may read the pages.
"""

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.common import shown_codes
from cli.view.desk import ViewDesk, desk_of
from cli.view.pages import handle, page_called
from cli.view.tiles import base_address, image_service
from indexer import InputError, NothingFound, PageReading

CONTEXT = "http://iiif.io/api/presentation/3/context.json"
_MEDIA = f'application/ld+json;profile="{CONTEXT}"'
_SMALL_PX = 240


def _set_manifest(request: Request) -> Response:
    desk, base = desk_of(request), base_address(request)
    with desk.library() as library:
        entry = library.entry(request.path_params["entry"])
        cards = library.entries.cards(entry.id)
    label = f"{entry.maker} {shown_codes(entry.models, entry.chassis)}".strip()
    facts = [("tubes", " ".join(place.type for place in entry.tubes)), ("supply", entry.supply)]
    facts.append(("year", str(entry.year or "")))
    made = _manifest(f"{base}/iiif/set/{entry.id}", label, facts)
    for card in cards:
        _add_canvas(desk, base, made, card)
    return _answer(made)


def _job_manifest(request: Request) -> Response:
    desk, base = desk_of(request), base_address(request)
    number = request.path_params["job"]
    if not number.isdecimal() or len(number) > 9:
        raise NothingFound(f"There is no job {number[:20]}.")
    with desk.library() as library:
        job = library.job(int(number))
        marked = [(library.entries.card_of(mark.ref), mark) for mark in job.marks]
    if not any(card for card, _ in marked):
        raise NothingFound(f"Job {number} has no marked page to show.", "Mark a page first.")
    made = _manifest(f"{base}/iiif/job/{job.id}", job.title, [("symptom", job.symptom)])
    for card, mark in marked:
        if card is not None:
            _add_canvas(desk, base, made, card, mark.why)
    return _answer(made)


def _words(request: Request) -> Response:
    """The words of a page, each where it stands, as an annotation page."""
    from iiif_prezi3 import Annotation, AnnotationPage, TextualBody

    desk, base, page = desk_of(request), base_address(request), request.path_params["page"]
    with desk.library() as library:
        reading = library.reading(page_called(library, page))
    canvas = f"{base}/iiif/page/{page}/canvas"
    width = _size(desk, page, reading)[0]
    scale = width / max(1, reading.width_px)
    own = f"{base}/iiif/page/{page}/words"
    items = []
    for number, word in enumerate(reading.words, 1):
        box = word.box
        corner = max(0, round(box.left * scale)), max(0, round(box.top * scale))
        side = max(1, round(box.width * scale)), max(1, round(box.height * scale))
        place = ",".join(map(str, (*corner, *side)))
        items.append(
            Annotation(
                id=f"{own}/{number}",
                motivation="supplementing",
                body=TextualBody(type="TextualBody", value=word.text, format="text/plain"),
                target=f"{canvas}#xywh={place}",
            )
        )
    return _answer(AnnotationPage(id=f"{own}.json", items=items))


def _manifest(own: str, label: str, facts: list[tuple[str, str]]) -> Any:
    from iiif_prezi3 import KeyValueString, Manifest

    return Manifest(
        id=f"{own}/manifest.json",
        label={"none": [label or "no number read"]},
        metadata=[
            KeyValueString(label={"en": [name]}, value={"none": [value]})
            for name, value in facts
            if value
        ],
        behavior=["individuals"],
        items=[],
    )


def _add_canvas(desk: ViewDesk, base: str, made: Any, card: Any, why: str = "") -> None:
    from iiif_prezi3 import (
        Annotation,
        AnnotationBody,
        AnnotationPage,
        Canvas,
        KeyValueString,
        ServiceV3,
    )

    with desk.library() as library:
        reading = library.reading(card)
        name = handle(library, card)
    width, height, drawn = _size(desk, name, reading)
    own = f"{base}/iiif/page/{name}"
    service = ServiceV3(id=image_service(base, name), type="ImageService3", profile="level2")
    kinds = ", ".join(card.kinds) or "page"
    facts = [("file", f"{card.file} page {card.ref.page}"), ("printed", card.printed)]
    facts.append(("why", why))
    canvas = Canvas(
        id=f"{own}/canvas",
        label={"en": [f"{kinds} ({card.name})"]},
        width=width,
        height=height,
        metadata=[
            KeyValueString(label={"en": [name]}, value={"none": [value]})
            for name, value in facts
            if value
        ],
        items=[],
    )
    if drawn:
        picture = f"{service.id}/full/!1600,1600/0/default.jpg"
        body = AnnotationBody(
            id=picture,
            type="Image",
            format="image/jpeg",
            width=width,
            height=height,
            service=[service],
        )
        painting = Annotation(
            id=f"{own}/picture", motivation="painting", body=body, target=canvas.id
        )
        canvas.items = [AnnotationPage(id=f"{own}/pictures", items=[painting])]
        small = f"{service.id}/full/!{_SMALL_PX},{_SMALL_PX}/0/default.jpg"
        canvas.thumbnail = [
            AnnotationBody(id=small, type="Image", format="image/jpeg", service=[service])
        ]
    if reading.words:
        canvas.annotations = [AnnotationPage(id=f"{own}/words.json")]
    made.items.append(canvas)


def _size(desk: ViewDesk, name: str, reading: PageReading) -> tuple[int, int, bool]:
    """A page's size in pixels, and whether it can be drawn; the reading's size when it can't."""
    try:
        _, (width, height) = desk.sheet(name)
    except NothingFound:
        raise
    except InputError:
        return reading.width_px, reading.height_px, False
    return width, height, True


def _answer(made: Any) -> Response:
    return Response(made.json(), media_type=_MEDIA)


routes = [
    Route("/iiif/set/{entry}/manifest.json", _set_manifest, methods=["GET"]),
    Route("/iiif/job/{job}/manifest.json", _job_manifest, methods=["GET"]),
    Route("/iiif/page/{page}/words.json", _words, methods=["GET"]),
]
