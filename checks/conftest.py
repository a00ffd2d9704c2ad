"""What several checks share: the program, the demo lake, Lake Wingra, the points in the Delta."""

import os
import shutil
from pathlib import Path

import pytest

import delta
import wingra
from program import Program


@pytest.fixture(scope="session")
def quillwort(tmp_path_factory):
    """The built program in an empty folder."""
    path = os.environ.get("QUILLWORT")
    if not path:
        pytest.skip("QUILLWORT does not name the built program")
    assert Path(path).is_file(), f"QUILLWORT names {path}, which is not there"
    return Program(str(Path(path).resolve()), tmp_path_factory.mktemp("checks"))


@pytest.fixture(scope="session")
def demo(quillwort, tmp_path_factory):
    """The invented lake: its book and the folder of the files it was made from."""
    folder = tmp_path_factory.mktemp("lake-tamarin")
    quillwort("demo", "--dir", folder, "--no-serve")
    (book,) = folder.glob("*.gpkg")
    return book


@pytest.fixture
def demo_copy(demo, tmp_path):
    """A copy of the demo book to do harm to."""
    copy = tmp_path / "copy.gpkg"
    shutil.copy(demo, copy)
    return copy


@pytest.fixture(scope="session")
def wingra_book(quillwort):
    """Lake Wingra with outline, depths and the record of 2022."""
    return wingra.make(quillwort)


@pytest.fixture(scope="session")
def delta_book(quillwort):
    """The points in the Delta, before and after, as two surveys, and the tables they came from."""
    return delta.make(quillwort)
