"""Every command of the user guide, run in its order; the lines shown must come out.

In a `console` box a line that begins with `$` is run, the lines below it are parts of what it prints. A
`!` before them means that they stand on standard error.
"""

import re
import shlex

import pytest

from open_data import ROOT

PAGES = sorted((ROOT / "docs").glob("[0-9]-*.md"))


def sessions(page):
    """Command and expected lines, in order."""
    text = page.read_text(encoding="utf-8")
    for box in re.findall(r"^```console\n(.*?)^```", text, re.M | re.S):
        for part in re.split(r"^\$ ", box, flags=re.M)[1:]:
            command, *expected = part.strip().splitlines()
            yield command, expected


def together(text):
    return " ".join(text.split())


@pytest.fixture(scope="module")
def guide(quillwort, tmp_path_factory):
    return quillwort.at(tmp_path_factory.mktemp("guide"))


@pytest.mark.parametrize("page", PAGES, ids=[page.stem for page in PAGES])
def test_the_commands_of_a_page_print_what_it_shows(guide, page):
    ran = 0
    for command, expected in sessions(page):
        program, *arguments = shlex.split(command)
        assert program == "quillwort", command
        done = guide.result(*arguments)
        refused = any(line.startswith("!") and "note:" not in line for line in expected)
        assert done.returncode == (2 if refused else 0), f"{command}\n{done.stdout}{done.stderr}"
        said = together(done.stdout + " " + done.stderr)
        for line in expected:
            wanted = together(line.removeprefix("! "))
            assert wanted in said, f"{page.name}: {command}\nwanted: {wanted}\n{said[:3000]}"
        ran += 1
    assert ran >= 3


@pytest.mark.parametrize("page", PAGES, ids=[page.stem for page in PAGES])
def test_a_page_is_short_and_says_what_cannot_be_done_yet(page):
    text = page.read_text(encoding="utf-8")
    assert len(text.splitlines()) < 140
    assert "## Not yet" in text


def test_five_pages_and_the_links_between_them_lead_somewhere():
    assert [page.stem[0] for page in PAGES] == ["1", "2", "3", "4", "5"]
    for page in [*PAGES, ROOT / "docs" / "README.md", ROOT / "docs" / "methods.md"]:
        for link in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
            assert (page.parent / link).exists(), f"{page.name}: {link}"
