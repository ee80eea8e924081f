"""The schema as the program prints it."""

from __future__ import annotations

import json

import pytest

from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import schema


def test_it_prints_the_schema_and_nothing_else(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["schema"]) == 0
    out, err = capfdbinary.readouterr()
    assert json.loads(out) == schema()
    assert err == b""
