"""Programs of the system that read finished drawings and pages back."""

from __future__ import annotations

import os
import shutil
from typing import NoReturn

import pytest

PACKAGES = {
    "pdftotext": "poppler-utils",
    "pdftoppm": "poppler-utils",
    "pdffonts": "poppler-utils",
    "qpdf": "qpdf",
    "ogrinfo": "gdal-bin",
    "ogr2ogr": "gdal-bin",
    "rsvg-convert": "librsvg2-bin",
    "chromium": "chromium",
    "librecad": "librecad",
}


def tool(name: str) -> str:
    """Path of a program; the test is skipped where it is missing, and fails there when ``CI`` is ``true``."""
    path = shutil.which(name)
    if path is None:
        missing(f"{name} is not installed (Debian: {PACKAGES[name]})")
    return path


def missing(message: str) -> NoReturn:
    """Skip the test because of what the system lacks; fail it where ``CI`` is ``true``."""
    if os.environ.get("CI") == "true":
        pytest.fail(message)
    pytest.skip(message)
