"""Commands run within this process, for long sessions of them."""

import io
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from cli.app import main


def call(*arguments: str, home: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The finished command with its exit code and its two outputs."""
    out, err = io.StringIO(), io.StringIO()
    code: object = 0
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.setattr(sys, "argv", ["benchfolio", *arguments])
        patch.setenv("COLUMNS", "100")
        patch.delenv("BENCHFOLIO_HOME", raising=False)
        if home is not None:
            patch.setenv("BENCHFOLIO_HOME", str(home))
        try:
            main()
        except SystemExit as ended:
            code = ended.code or 0
    assert isinstance(code, int)
    return subprocess.CompletedProcess(list(arguments), code, out.getvalue(), err.getvalue())
