"""The `benchfolio` command: its subcommands, and how it ends."""

import sys

import typer

from cli import (
    backup_command,
    check_command,
    correct,
    correct_log,
    demo_command,
    doubts,
    export_command,
    find_command,
    index_command,
    job_bench,
    job_command,
    job_pages,
    job_readings,
    kin_command,
    list_command,
    show_command,
    spares_command,
    status_command,
    tube_command,
    value_command,
    view_command,
    want_command,
)

app = typer.Typer(
    name="benchfolio",
    help="Find the pages of your own service information that serve the set on the bench.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
app.command("index")(index_command.index)
app.command("list")(list_command.list_entries)
app.command("find")(find_command.find)
app.command("kin")(kin_command.kin)
app.command("show")(show_command.show)
app.command("doubts")(doubts.doubts)
correct_log.add_to(correct.app)
app.add_typer(correct.app, name="correct")
app.command("tube")(tube_command.tube)
app.command("value")(value_command.value)
job_pages.add_to(job_command.app)
job_bench.add_to(job_command.app)
job_readings.add_to(job_command.app)
app.add_typer(job_command.app, name="job")
app.add_typer(spares_command.app, name="spares")
app.add_typer(want_command.app, name="want")
export_command.app.command("records")(backup_command.export)
app.add_typer(export_command.app, name="export")
app.command("backup")(backup_command.backup)
app.command("restore")(backup_command.restore)
app.command("import")(backup_command.import_records)
app.command("status")(status_command.status)
app.command("check")(check_command.check)
app.command("view")(view_command.view)
app.command("demo")(demo_command.demo)


def main() -> None:
    """Runs the command line; every known trouble ends in one or two plain lines."""
    from indexer import BenchfolioError, ExitCode

    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app()
    except BenchfolioError as error:
        print(error.message, file=sys.stderr)
        if error.remedy:
            print(error.remedy, file=sys.stderr)
        sys.exit(int(error.exit_code))
    except KeyboardInterrupt:
        print("\nStopped. What was done so far is kept.", file=sys.stderr)
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(int(ExitCode.DONE))
    except UnicodeEncodeError as error:
        print(f"{error.object!r} holds bytes that are no text here.", file=sys.stderr)
        print("Type it again in UTF-8, or see to the terminal's character set.", file=sys.stderr)
        sys.exit(int(ExitCode.WRONG_USAGE))
    except OSError as error:  # a path that no folder can hold, a device that fails
        print(f"{error.filename or 'A file'} can't be used ({error.strerror}).", file=sys.stderr)
        print("Check the path, its rights and the disk, then try again.", file=sys.stderr)
        sys.exit(int(ExitCode.BAD_INPUT))
