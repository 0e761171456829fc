"""Run the command line inside the test, as a shell would."""

import sys

import pytest

from haulm.cli.main import run
from shell import Haulm, Ran


@pytest.fixture
def haulm(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Haulm:
    """Give a function that runs one haulm command."""

    def command(*words: object) -> Ran:
        monkeypatch.setattr(sys, "argv", ["haulm", *map(str, words)])
        capsys.readouterr()
        code = 0
        try:
            run()
        except SystemExit as end:
            code = int(end.code or 0)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return command
