"""Regular expressions compiled when first used, so that importing the package stays quick."""

import re
from collections.abc import Callable
from functools import cache


def late(pattern: str, flags: int = 0) -> Callable[[], re.Pattern[str]]:
    """A function that gives the compiled pattern, compiling it on the first call only."""

    @cache
    def compiled() -> re.Pattern[str]:
        return re.compile(pattern, flags)

    return compiled
