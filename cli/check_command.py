"""`benchfolio check`: whether everything that is kept is sound."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, home_folder, print_json, say


def check(
    repair: Annotated[
        bool, typer.Option("--repair", help="Make again what is damaged and can be made again.")
    ] = False,
    files: Annotated[
        bool, typer.Option("--files", help="Also read every scan and compare it with its hash.")
    ] = False,
    home: Home = None,
    as_json: AsJson = False,
) -> None:
    """Check the stores, the index of entries, kept photos, and what they say of each other.

    Ends with 0 when all is sound, 4 when something is damaged.

    Example: benchfolio check --repair
    """
    from indexer import ExitCode, check_home

    report = check_home(home_folder(home), repair=repair, files=files)
    if as_json:
        print_json(
            {
                "sound": not report.damaged,
                "checked": dict(report.checked),
                "findings": [
                    {
                        "where": finding.where,
                        "said": finding.said,
                        "remedy": finding.remedy,
                        "damage": finding.damage,
                        "repairable": bool(finding.mend),
                    }
                    for finding in report.findings
                ],
                "repaired": list(report.repaired),
            }
        )
    else:
        for name, said in report.checked.items():
            print(f"{name}: {said}")
        for finding in report.findings:
            print(f"{'Damaged' if finding.damage else 'Note'}: {finding.where} {finding.said}.")
            if finding.remedy:
                print(f"    {finding.remedy}")
        for line in report.repaired:
            say(f"Repaired: {line}.")
        print("Something is damaged." if report.damaged else "Sound.")
    if report.damaged:
        raise typer.Exit(int(ExitCode.LIBRARY_TROUBLE))
