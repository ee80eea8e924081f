"""Reports for people in another language; tables for files in English."""

from __future__ import annotations

from pathlib import Path

from evencourse.cli.reports.cuts_report import cuts_lines
from evencourse.cli.reports.cuts_table import cuts_table
from evencourse.cli.reports.order_tables import order_tables
from evencourse.cli.reports.plan_report import plan_lines
from evencourse.cli.reports.table import Screen
from evencourse.cli.reports.take_off_report import money, takeoff_lines
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.language.speech import Language, Voice, speaking
from evencourse.render.words.result import Result, result
from tests.lettering import PSEUDO, Pseudo
from tests.samples import each_sample


def lines(found: Result) -> list[int]:
    wide = Screen()
    reports = (plan_lines, cuts_lines, lambda one, on: cuts_lines(one, on, saw=True), takeoff_lines)
    return [len(list(report(found, wide))) for report in reports]


@each_sample
def test_another_language_tells_no_more_and_no_less(path: Path) -> None:
    with speaking(PSEUDO):
        spoken = lines(result(read_job(path)))
    assert spoken == lines(result(read_job(path)))


@each_sample
def test_tables_for_files_are_in_english_whatever_is_spoken(path: Path) -> None:
    english = result(read_job(path))
    with speaking(PSEUDO):
        found = result(read_job(path))
        assert (order_tables(found), cuts_table(found)) == (order_tables(english), cuts_table(english))


def test_money_is_grouped_by_spaces_where_the_comma_is_the_decimal_mark() -> None:
    assert money(1234567.5) == "1,234,567.50"
    with speaking(Voice(Language("xx", "Pseudo", ",", "xx"), Pseudo())):
        assert money(1234567.5) == "1 234 567,50"
