"""`benchfolio find`: the set on the bench, or what is nearest to it."""

from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, Limit, open_library, print_json, say, shown_codes

if TYPE_CHECKING:
    from indexer import Library
    from indexer.search.find import Answer, FoundEntry
    from indexer.store.records import JobRecord


def find(
    words: Annotated[
        list[str], typer.Argument(help="Maker, model, chassis, tubes, year, words: in any order.")
    ],
    home: Home = None,
    limit: Limit = 20,
    as_json: AsJson = False,
) -> None:
    """Find the pages that serve a set by whatever is on its label, and say why they do.

    Example: benchfolio find tillbrook 5D10 chassis CH-41A
    """
    from indexer import ExitCode, find_json

    with open_library(home) as library:
        answer = library.find(library.understand(" ".join(words)), limit)
        best = [match.entry for match in answer.matches if match.score > 0.5][:5]
        jobs = library.jobs_for(best, answer.asked)
        if as_json:
            print_json(find_json(library, answer, jobs))
        else:
            _print_answer(library, answer, jobs)
    if not answer.matches and not answer.listings:
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def _print_answer(library: "Library", answer: "Answer", jobs: "list[JobRecord]") -> None:
    asked = answer.asked
    parts = [
        f"{name} {', '.join(values)}"
        for name, values in (
            ("maker", asked.makers),
            ("model", asked.models),
            ("chassis", asked.chassis),
            ("number", asked.codes),
            ("tubes", asked.tubes),
            ("year", (str(asked.year),) if asked.year else ()),
            ("words", asked.words),
        )
        if values
    ]
    print("Asked: " + "; ".join(parts))
    for match in answer.matches:
        print_match(library, match)
    for listing in answer.listings:
        where = f"{listing.publication} volume {listing.volume}, page {listing.page}".strip()
        card = library.entries.card_of(listing.here) if listing.here else None
        shelf = "not on the shelf"
        if card:
            shelf = f"here: {card.file} page {card.ref.page} ({card.name})"
        print(f"\nListed: {listing.maker} {listing.model} in {where}; {shelf}")
    for job in jobs:
        outcome = f": {job.outcome}" if job.outcome else ""
        print(f"\nEarlier: job {job.id}, {job.title}, {job.opened[:10]}{outcome}")
    exact = any(match.grade in {"exact", "same chassis"} for match in answer.matches)
    if not exact:
        _say_next_step(answer)


def print_match(library: "Library", match: "FoundEntry") -> None:
    """One match: grade, set, reasons, pages."""
    entry = match.entry
    codes = shown_codes(entry.models, entry.chassis)
    print(f"\n{match.grade}: {entry.maker} {codes}  [{entry.id}]")
    for why in match.why:
        print(f"    because {why}")
    for n, card in enumerate(library.entries.cards(entry.id), 1):
        printed = f", printed {card.printed}" if card.printed else ""
        kinds = ", ".join(card.kinds)
        place = f"{card.file} page {card.ref.page}{printed}"
        print(f"    {card.name}  {place}: {kinds}  ({entry.id}/{n})")


def _say_next_step(answer: "Answer") -> None:
    if not answer.asked.tubes:
        say("\nNo page names that set. Add the tubes you can read, and the nearest sets come up:")
        say("    benchfolio kin 12BE6 12BA6 12AV6 50C5 35W4")
    elif not answer.matches:
        say("\nNothing near. Try fewer words, or the chassis stamp alone.")
