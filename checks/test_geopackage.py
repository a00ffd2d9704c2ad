"""The demo book opens in GDAL, every layer of it."""

import os
import subprocess

import pytest

import geopackage


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    program = os.environ.get("QUILLWORT")
    if not program:
        pytest.skip("QUILLWORT does not name the built program")
    folder = tmp_path_factory.mktemp("demo")
    subprocess.run([program, "demo", "--dir", str(folder), "--no-serve"], check=True)
    (book,) = folder.glob("**/*.gpkg")
    return book


def test_gdal_opens_every_layer_of_the_demo_book(book):
    geopackage.check(str(book))
