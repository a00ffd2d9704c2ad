"""Where the open data lie that some checks read.

They are no part of the project. The environment names their folder, else it is looked for beside
the workspace; a check that needs what is not there is skipped and says so.
"""

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def folder():
    named = os.environ.get("QUILLWORT_OPEN_DATA")
    return Path(named) if named else ROOT / "../shared/data"


def open_data(*parts):
    """A file of the open data, or the end of this check."""
    path = folder().joinpath(*parts)
    if not path.exists():
        pytest.skip(f"the open data {'/'.join(parts)} are not here")
    return path
