"""One base error: a plain message, what to do about it, and the exit code of the command."""

from enum import IntEnum


class ExitCode(IntEnum):
    """How a command ends. Scripts may rely on these numbers."""

    DONE = 0
    NOTHING_FOUND = 1
    WRONG_USAGE = 2
    BAD_INPUT = 3
    LIBRARY_TROUBLE = 4


class BenchfolioError(Exception):
    """Something a person can act on. Shown as `message`, then `remedy`; never as a traceback."""

    exit_code: ExitCode = ExitCode.BAD_INPUT

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message, remedy)  # all arguments, so that it survives pickling
        self.message = message
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.message} {self.remedy}".strip()


class UsageError(BenchfolioError):
    """The question or command was not understood."""

    exit_code = ExitCode.WRONG_USAGE


class NothingFound(BenchfolioError):
    """A named thing (entry, page, job) is not there."""

    exit_code = ExitCode.NOTHING_FOUND


class InputError(BenchfolioError):
    """A file or folder that can't be used."""

    exit_code = ExitCode.BAD_INPUT


class PageError(InputError):
    """One page that can't be drawn or read; the rest of its file may be fine."""


class TooLarge(InputError):
    """Input beyond a bound of `indexer.limits`."""


class LibraryError(BenchfolioError):
    """The stores are busy, damaged, newer than this program, or can't be written."""

    exit_code = ExitCode.LIBRARY_TROUBLE
