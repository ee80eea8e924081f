"""Jobs for the published checks, written as a crew would write them."""

from __future__ import annotations

from layout.jobfile import parse_job
from layout.plan import Plan
from layout.planner import plan


def planned(text: str) -> Plan:
    """The plan of a job file's text."""
    return plan(parse_job(text))
