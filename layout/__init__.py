"""What is and what to do: a job as measured in, course lines, pieces and the order out.

A job file is read and planned; the plan's material is its pieces, its trim, the cut list and the order.
Every step is a pure function of the one before, and every value is frozen. Lengths are in the job's units,
heights above its datum.

>>> from evencourse.layout import JobError, material, parse_job, plan
>>> job = parse_job('''
... [job]
... name = "Boat shed"
... [cladding]
... profile = "double-4"
... [[elevation]]
... name = "Lane"
... width = "20'"
... base = "0"
... eave = "8'"
... ''')
>>> planned = plan(job)
>>> planned.clean
True
>>> made = material(planned)
>>> len(list(made.pieces.all()))
33
>>> [(item.quantity, item.unit, item.item) for item in made.order.items][0]
(1.0, 'carton', 'panel')

Every fault of a job file is told at once, with its place:

>>> try:
...     parse_job("[cladding]\\nprofile = 'none-such'\\n")
... except JobError as error:
...     print(len(error.faults))
3
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from evencourse.layout.courses.planner import plan as plan
    from evencourse.layout.jobfile.job_file import parse_job as parse_job
    from evencourse.layout.jobfile.job_file import read_job as read_job
    from evencourse.layout.jobfile.job_text import job_text as job_text
    from evencourse.layout.model.cladding import Cladding as Cladding
    from evencourse.layout.model.course_plan import Plan as Plan
    from evencourse.layout.model.errors import EvencourseError as EvencourseError
    from evencourse.layout.model.errors import Fault as Fault
    from evencourse.layout.model.errors import JobError as JobError
    from evencourse.layout.model.errors import LengthError as LengthError
    from evencourse.layout.model.job import Job as Job
    from evencourse.layout.order.job_order import TakeOff as TakeOff
    from evencourse.layout.order.material import Material as Material
    from evencourse.layout.order.material import material as material
    from evencourse.layout.pieces.all_pieces import Pieces as Pieces
    from evencourse.layout.results.plan_file import plan_json as plan_json
    from evencourse.layout.trade.profiles import profiles as profiles

__all__ = [
    "Cladding",
    "EvencourseError",
    "Fault",
    "Job",
    "JobError",
    "LengthError",
    "Material",
    "Pieces",
    "Plan",
    "TakeOff",
    "job_text",
    "material",
    "parse_job",
    "plan",
    "plan_json",
    "profiles",
    "read_job",
]

#: Public name: the module that has it, and its name there. Loaded when it is asked for: a program that
#: wants the errors alone loads no geometry.
_PUBLIC = {
    "Cladding": ("model.cladding", "Cladding"),
    "EvencourseError": ("model.errors", "EvencourseError"),
    "Fault": ("model.errors", "Fault"),
    "Job": ("model.job", "Job"),
    "JobError": ("model.errors", "JobError"),
    "LengthError": ("model.errors", "LengthError"),
    "Pieces": ("pieces.all_pieces", "Pieces"),
    "Plan": ("model.course_plan", "Plan"),
    "TakeOff": ("order.job_order", "TakeOff"),
    "Material": ("order.material", "Material"),
    "material": ("order.material", "material"),
    "job_text": ("jobfile.job_text", "job_text"),
    "parse_job": ("jobfile.job_file", "parse_job"),
    "plan": ("courses.planner", "plan"),
    "plan_json": ("results.plan_file", "plan_json"),
    "profiles": ("trade.profiles", "profiles"),
    "read_job": ("jobfile.job_file", "read_job"),
}


def __getattr__(name: str) -> Any:
    """A public name, from the room that has it."""
    if name not in _PUBLIC:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, attribute = _PUBLIC[name]
    return getattr(import_module(f"{__name__}.{module}"), attribute)


def __dir__() -> list[str]:
    """The public names."""
    return __all__
