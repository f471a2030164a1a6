"""`benchfolio tube`: one type and its relations, or two compared."""

from typing import Annotated, Any

import typer

from cli.common import AsJson, print_json, print_table


def tube(
    types: Annotated[list[str], typer.Argument(help="One type, or two to compare.")],
    as_json: AsJson = False,
) -> None:
    """Show a tube type: heater, base, functions, and which types stand how near to it.

    Example: benchfolio tube 12AV6 12AT6
    """
    from indexer import UsageError, compare_tubes, tube_json

    if len(types) == 1:
        data = tube_json(types[0])
        if as_json:
            print_json(data)
        else:
            _print_one(data)
    elif len(types) == 2:
        data = compare_tubes(*types)
        if as_json:
            print_json(data)
        else:
            _print_two(data)
    else:
        raise UsageError("Give one type, or two to compare.", "Example: benchfolio tube 50C5 50B5")


def _print_one(data: dict[str, Any]) -> None:
    print(data["type"])
    print_table(("", ""), _facts(data), indent=2)
    if data["relations"]:
        print()
        print_table(
            ("type", "relation", ""),
            [(r["type"], r["relation"], r["note"]) for r in data["relations"]],
            indent=2,
        )


def _print_two(data: dict[str, Any]) -> None:
    asked, has = dict(_facts(data["asked"])), dict(_facts(data["has"]))
    names = dict.fromkeys([*asked, *has])
    rows = [(name, asked.get(name, ""), has.get(name, "")) for name in names]
    print_table(("", data["asked"]["type"], data["has"]["type"]), rows)
    print(f"\n{data['relation']}: {data['note']}" if data["note"] else f"\n{data['relation']}")


def _facts(data: dict[str, Any]) -> list[tuple[str, str]]:
    heaters = [
        f"{volts:g} V {amperes:g} A"
        for volts, amperes in (
            (data["heater_v"], data["heater_a"]),
            (data["heater_v2"], data["heater_a2"]),
        )
        if volts and amperes
    ]
    first_filter = data["first_filter_uf"]
    rows = [
        ("heater", " or ".join(heaters)),
        ("heating", data["heating"]),
        ("base", f"{data['base']} {data['basing']}".strip()),
        ("functions", ", ".join(data["functions"])),
        ("top cap", data["top_cap"]),
        ("pilot tap", "yes" if data["pilot_tap"] else ""),
        ("first filter", f"{first_filter:g} µF at most" if first_filter else ""),
        ("also numbered", ", ".join(data["equals"])),
        ("source", data["source"]),
        ("not sure of", ", ".join(data["doubt"])),
    ]
    return [(name, value) for name, value in rows if value]
