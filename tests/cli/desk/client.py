"""The desk's application asked without a network: starlette's test client on a folder of its own."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from evencourse.cli.desk.desk_app import desk_app
from evencourse.cli.desk.desk_state import Desk, desk_of
from evencourse.cli.views.field_forms import face_form, job_forms, part_forms

HOST = "127.0.0.1:8737"
SAMPLES = Path(__file__).resolve().parents[3] / "samples"


class Asking(TestClient):
    """A client that has come in, and knows the token of the desk's pages."""

    desk: Desk
    token: str

    def write(self, address: str, content: Any) -> Any:
        """Post JSON as the desk's own pages do."""
        return self.post(address, json=content, headers={"x-desk-token": self.token})

    def number(self, job: str) -> int:
        """Number of the job's revision that holds."""
        return self.desk.shelf.now(job).number

    def change(self, job: str, *changes: dict[str, Any], base: int | None = None, **more: Any) -> Any:
        """Make changes on the revision that holds, or on an earlier one."""
        number = self.number(job) if base is None else base
        content = {"base": number, "changes": changes, "face": 0, "room": "800x500", **more}
        return self.write(f"/job/{job}/edit", content)


@contextlib.contextmanager
def asking(folder: Path, *samples: str) -> Iterator[Asking]:
    """A client that has come into a desk on a folder with some samples."""
    for sample in samples:
        (folder / f"{sample}.toml").write_bytes((SAMPLES / f"{sample}.toml").read_bytes())
    desk = desk_of(folder, frozenset({HOST}))
    with Asking(desk_app(desk), base_url=f"http://{HOST}") as client:
        client.desk = desk
        page = client.get("/", params={"key": desk.guard.key})
        found = re.search(r'desk-token" content="([^"]+)"', page.text)
        assert found
        client.token = found[1]
        yield client


def put(path: list[str | int], value: str, **more: Any) -> dict[str, Any]:
    """A change that sets a value."""
    return {"kind": "set", "path": path, "value": value, **more}


def every_field(tables: dict[str, Any]) -> list[tuple[str | int, ...]]:
    """Paths of the fields of all forms of a job."""
    forms = job_forms(tables)
    for face in range(len(tables["elevation"])):
        forms.append(face_form(tables, face))
        for kind in ("opening", "fixture", "roof", "zone"):
            forms += part_forms(tables, face, kind)
    return [field.path for form in forms for field in (*form.first, *form.more) if not field.side]
