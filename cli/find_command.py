"""`benchfolio find`: the set on the bench, or what is nearest to it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, Limit, open_library, print_json, say, shown_codes
from cli.kin_command import print_nearness

if TYPE_CHECKING:
    from indexer import Library
    from indexer.search.find import Answer, FoundEntry
    from indexer.search.query import Query
    from indexer.store.records import JobRecord

_DETAILED = 3  # matches shown tube by tube


_NAMED = frozenset({"exact", "same chassis", "variant", "in range"})  # a page prints the set


def find(
    words: Annotated[
        list[str] | None,
        typer.Argument(help="Maker, model, chassis, tubes, year, words: in any order."),
    ] = None,
    maker: Annotated[str, typer.Option("--maker", help="Say the maker outright.")] = "",
    model: Annotated[str, typer.Option("--model", help="Say the model outright.")] = "",
    chassis: Annotated[str, typer.Option("--chassis", help="Say the chassis outright.")] = "",
    tubes: Annotated[str, typer.Option("--tubes", help="Say the tubes outright.")] = "",
    year: Annotated[int | None, typer.Option("--year", min=1920, max=1969)] = None,
    text: Annotated[str, typer.Option("--words", help="Words on the page.")] = "",
    from_file: Annotated[
        Path | None, typer.Option("--from", help="A file with one label a line.")
    ] = None,
    photo: Annotated[
        list[Path] | None, typer.Option("--photo", help="A photo of the set; may be repeated.")
    ] = None,
    strike: Annotated[
        list[str] | None, typer.Option("--strike", help="A word that was misread on a photo.")
    ] = None,
    add: Annotated[
        list[str] | None, typer.Option("--add", help="What the photos do not show.")
    ] = None,
    home: Home = None,
    limit: Limit = 20,
    as_json: AsJson = False,
) -> None:
    """Find the pages that serve a set by whatever is on its label, and say why they do.

    Example: benchfolio find tillbrook 5D10 chassis CH-41A
    """
    from indexer import ExitCode

    outright = _outright(maker, model, chassis, year, text)
    typed = " ".join([*(words or []), *([f"tubes {tubes}"] if tubes else [])])
    found = False
    with open_library(home) as library:
        if photo:
            asked = _from_photos(library, photo, strike or [], " ".join([*(add or []), typed]))
            questions = [asked.plus(outright)]
        elif from_file is not None:
            questions = [library.understand(label) for label in _labels(from_file)]
        elif typed.strip() or not outright.text:
            questions = [library.understand(typed).plus(outright)]
        else:
            questions = [outright]
        for number, question in enumerate(questions):
            if number and not as_json:
                print()
            found = _answer(library, question, limit, as_json) or found
    if not found:
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def _answer(library: "Library", asked: "Query", limit: int, as_json: bool) -> bool:
    """Answers one question; whether anything was found."""
    from indexer import find_json

    answer = library.find(asked, limit)
    best = [match.entry for match in answer.matches if match.score >= 0.3][:5]
    jobs = library.earlier_jobs(best, asked)
    if as_json:
        data = find_json(library, answer, [job for job, _ in jobs])
        for shown, (_, why) in zip(data["jobs"], jobs, strict=True):
            shown["why"] = why
        print_json(data)
    else:
        _print_answer(library, answer, jobs)
    return bool(answer.matches or answer.listings or answer.pages)


def _outright(maker: str, model: str, chassis: str, year: int | None, text: str) -> "Query":
    from indexer import Query

    parts = [maker, model, chassis, str(year or ""), text]
    return Query(
        text=" ".join(part for part in parts if part),
        makers=(maker,) if maker else (),
        models=(model,) if model else (),
        chassis=(chassis,) if chassis else (),
        year=year,
        words=tuple(text.split()),
    )


def _labels(path: Path) -> list[str]:
    from indexer import InputError

    try:
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError as error:
        raise InputError(f"{path} can't be read ({error.strerror}).") from error
    labels = [line.strip() for line in lines if any(c.isalnum() for c in line)]
    if not labels:
        raise InputError(f"{path} holds no label.", "Write one set a line.")
    return labels


def _from_photos(library: "Library", photos: list[Path], strike: list[str], add: str) -> "Query":
    from indexer import read_photo

    readings = []
    for path in photos:
        readings.append(read_photo(path))
        say(f"Read on {path.name}:")
        for line in readings[-1].lines:
            say(f"    {line}")
    say("Strike what was misread with --strike WORD, add what is missing with --add WORD.")
    return library.photo_question(readings, strike, add)


def _print_answer(
    library: "Library", answer: "Answer", jobs: "list[tuple[JobRecord, str]]"
) -> None:
    from indexer import volume_here

    print("Asked: " + _shown(answer.asked))
    for page in answer.warnings:
        place = f"{page.card.file} page {page.card.ref.page}"
        print(f"\nWarning on {place}: {page.snippet}  ({page.card.name})")
    line_up = library.line_up(answer.asked.tubes) if len(answer.asked.tubes) > 1 else None
    for n, match in enumerate(answer.matches):
        print_match(library, match)
        if match.near is not None and line_up is not None and n < _DETAILED:
            print_nearness(library, match.near, line_up, match.entry, match.grade)
    for page in answer.pages:
        kinds = ", ".join(page.card.kinds)
        place = f"{page.card.file} page {page.card.ref.page}"
        print(f"\nOn a page of no entry: {place}: {kinds}  ({page.card.name})")
        print(f"    {page.snippet}")
    for listing in answer.listings:
        where = f"{listing.publication} volume {listing.volume}, page {listing.page}".strip()
        card = library.entries.card_of(listing.here) if listing.here else None
        shelf = "not found on the shelf"
        if volume_here(library, listing):
            shelf = "page not found in the volume on the shelf"
        if card:
            shelf = f"here: {card.file} page {card.ref.page} ({card.name})"
        chassis = f", chassis {listing.chassis}," if listing.chassis else ""
        print(f"\nListed: {listing.maker} {listing.model}{chassis} in {where}; {shelf}")
    for job, why in jobs:
        outcome = f": {job.outcome}" if job.outcome else ""
        print(f"\nEarlier: job {job.id}, {job.title}, {job.opened[:10]}{outcome} ({why})")
    if not any(match.grade in _NAMED for match in answer.matches):
        _say_next_step(answer)


def _shown(asked: "Query") -> str:
    parts = (
        ("maker", asked.makers),
        ("model", asked.models),
        ("chassis", asked.chassis),
        ("number", asked.codes),
        ("tubes", asked.tubes),
        ("year", (str(asked.year),) if asked.year else ()),
        ("words", asked.words),
    )
    return "; ".join(f"{name} {', '.join(values)}" for name, values in parts if values)


def print_match(library: "Library", match: "FoundEntry") -> None:
    """One match: grade, set, reasons, pages; first those that answer the words asked."""
    from indexer import answering_first

    entry = match.entry
    codes = shown_codes(entry.models, entry.chassis)
    print(f"\n{match.grade}: {f'{entry.maker} {codes}'.strip()}  [{entry.id}]")
    for why in match.why:
        print(f"    because {why}")
    if entry.on_paper:
        print(f"    on paper: {entry.on_paper}")
    cards = library.entries.cards(entry.id)
    numbers = {card.ref: n for n, card in enumerate(cards, 1)}
    for card in answering_first(cards, match.first):
        printed = f", printed {card.printed}" if card.printed else ""
        kinds = ", ".join(card.kinds)
        place = f"{card.file} page {card.ref.page}{printed}"
        print(f"    {card.name}  {place}: {kinds}  ({entry.id}/{numbers[card.ref]})")


def _say_next_step(answer: "Answer") -> None:
    asked = answer.asked
    numbers = (*asked.models, *asked.codes, *asked.chassis)
    printing = next((match for match in answer.matches if match.prints), None)
    if printing is not None:
        _say_how_to_give(printing, asked)
    elif not answer.matches and not answer.pages and not answer.listings:
        say("\nNothing near. Try fewer words, or the chassis stamp alone.")
    elif any(match.grade == "likely misread" for match in answer.matches):
        say("\nNo page prints just that number; look at what is nearest before you trust it.")
    elif numbers and not answer.pages and not answer.listings:
        say("\nNo page names that set.")
    if not asked.tubes and numbers and printing is None:
        say("\nAdd the tubes you can read, and the nearest sets come up:")
        say("    benchfolio kin 12BE6 12BA6 12AV6 50C5 35W4")
    if numbers and printing is None:
        name = " ".join((*asked.makers, *asked.words, *asked.models, *asked.codes))
        name = " ".join(filter(None, (name, *(f"chassis {code}" for code in asked.chassis))))
        say(f"Keep it on the list of wanted pages:\n    benchfolio want add {name}")


def _say_how_to_give(match: "FoundEntry", asked: "Query") -> None:
    """The command that gives an entry the number that its page prints."""
    of_chassis = set(match.prints) <= set(asked.chassis)
    known = match.entry.chassis if of_chassis else match.entry.models
    codes = " ".join(f'"{code}"' if " " in code else code for code in (*known, *match.prints))
    what = "chassis" if of_chassis else "model"
    say("\nA page above prints that number, but no entry bears it. If that is your set:")
    say(f"    benchfolio correct {what} {match.entry.id} {codes}")
