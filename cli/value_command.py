"""`benchfolio value`: a printed value today, and whether a reading is within tolerance."""

from typing import Annotated

import typer

from cli.common import AsJson, print_json


def value(
    text: Annotated[str, typer.Argument(help='As printed: "50-30 mfd 150 V", "470K 10%".')],
    reads: Annotated[str, typer.Option("--reads", help="What the meter shows.")] = "",
    part: Annotated[
        str, typer.Option("--part", help='What it does: "across the line", "first filter", "mica".')
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Show which value sold today replaces a printed one, and judge a reading against it.

    Example: benchfolio value "470K 10%" --reads 800K
    """
    from indexer import value_json

    sections = value_json(text, reads, part)
    if as_json:
        first = sections[0]
        print_json(first | {"sections": sections[1:]} if len(sections) > 1 else first)
        return
    for data in sections:
        print(f"{data['printed']}  (today: {data['today']})")
        if data["replace_as"]:
            volts = data["working_v_at_least"]
            rated = f", {volts:g} V or more" if volts else ""
            print(f"  replace with {' or '.join(data['replace_as'])}{rated}, {data['type']}")
        elif data["replace_by_class"]:
            print(f"  by its class: {' or '.join(data['replace_by_class'])}, {data['type']}")
        print(f"  {data['note']}")
        if data["verdict"]:
            print(f"  reading: {data['verdict']} ({data['reading_note']})")
