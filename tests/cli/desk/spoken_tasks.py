"""Tasks of the desk's helpers with a test's catalogues: a process that starts afresh knows no others."""

from __future__ import annotations

import os
from pathlib import Path

from evencourse.cli.views import making_tasks, plan_tasks
from evencourse.layout.language import speech

#: Names the folder of the catalogues.
PLACE = "EVENCOURSE_TEST_CATALOGUES"
if PLACE in os.environ:
    speech._CATALOGUES = Path(os.environ[PLACE])
TASKS = {**plan_tasks.TASKS, **making_tasks.TASKS}
