"""The schema as the program prints it."""

from __future__ import annotations

import json

import pytest

from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import schema
from evencourse.layout.results.plan_file import plan_schema


def test_it_prints_the_schema_and_nothing_else(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["schema"]) == 0
    out, err = capfdbinary.readouterr()
    assert json.loads(out) == schema()
    assert err == b""


def test_it_prints_the_plan_file_s_schema(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["schema", "plan"]) == 0
    assert json.loads(capfdbinary.readouterr().out) == plan_schema()


def test_there_is_no_other_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "order"]) == 2
    assert capsys.readouterr() == (
        "",
        'schema: found "order"; wanted job or plan\n1 fault; nothing written\n',
    )
