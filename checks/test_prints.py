"""The papers opened by another reader of PDF."""

import re

import pypdf
import pytest

SURVEY = "2026-summer"


@pytest.fixture(scope="module")
def codes(quillwort, demo):
    """Site codes, and how many sites came out empty or not at all."""
    (survey,) = [one for one in quillwort.json("surveys", demo) if one["name"] == SURVEY]
    return [str(number) for number in range(1, survey["planned"] + 1)]


def printed(quillwort, demo, tmp_path, what):
    file = tmp_path / f"{what}.pdf"
    done = quillwort.result("print", demo, what, "--survey", SURVEY, "-o", file)
    assert done.returncode == 0, done.stderr
    said = int(re.search(r"printed (\d+) page", done.stdout + done.stderr)[1])
    reader = pypdf.PdfReader(file)
    assert len(reader.pages) == said
    # letter paper, upright or on its side
    for page in reader.pages:
        size = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert size == pytest.approx([612, 792], abs=0.5)
    return reader, [page.extract_text() for page in reader.pages]


def words(text):
    return re.findall(r"[\w.,°%-]+", text)


def test_field_sheets_hold_every_site_once_in_order(quillwort, demo, tmp_path, codes):
    _, pages = printed(quillwort, demo, tmp_path, "sheets")
    ranges = []
    sheets_only = [text for text in pages if "Which code is which plant?" not in text]
    # names too long for the sheet stand in full on a page behind the last one
    assert len(pages) - len(sheets_only) <= 1
    for number, text in enumerate(sheets_only, 1):
        said = re.search(r"Sheet (\d+) of (\d+): (\d+) sites?, (\d+) to (\d+)", text)
        assert said, text[:300]
        sheet, sheets, count, first, last = map(int, said.groups())
        assert (sheet, sheets) == (number, len(sheets_only))
        assert count == last - first + 1
        ranges += range(first, last + 1)
        for code in map(str, range(first, last + 1)):
            assert code in words(text), f"sheet {sheet}: site {code}"
    assert list(map(str, ranges)) == codes
    found = quillwort.json("findings", demo, "--survey", SURVEY)
    for one in found["taxa"]:
        assert one["code"] in words(pages[-1]), one["code"]


def test_the_site_map_is_one_page_with_every_code(quillwort, demo, tmp_path, codes):
    reader, (text,) = printed(quillwort, demo, tmp_path, "map")
    assert len(reader.pages) == 1
    # the reader sets codes that stand close together without a space
    assert "".join(codes) in re.sub(r"\s", "", text)
    assert "Not for navigation" in text


def test_the_report_prints_the_figures_of_the_findings(quillwort, demo, tmp_path):
    reader, pages = printed(quillwort, demo, tmp_path, "report")
    for number, text in enumerate(pages, 1):
        assert f"{number} of {len(reader.pages)}" in text
    text = " ".join(" ".join(pages).split())
    found = quillwort.json("findings", demo, "--survey", SURVEY)
    share = found["frequency_any"]["all"]
    percent, low, high = (
        f"{100 * share[name]:.0f}" for name in ("p", "low", "high")
    )
    assert f"{share['k']} of {share['n']} sites ({percent} %, {low}–{high} %)" in text
    assert f"{found['max_plant_depth_m'] / 0.3048:.1f} ft" in text
    assert f"{found['floristic_quality']['fqi']:.1f}" in text
    assert f"{found['simpson']:.2f}" in text
    for one in found["taxa"]:
        if one["sites"]:
            assert one["code"] in text, one["code"]
            assert one["scientific_name"] in text, one["scientific_name"]


def test_papers_carry_the_mark_of_an_archive(quillwort, demo, tmp_path):
    """PDF/A says in its metadata which part it keeps to (ISO 19005)."""
    reader, _ = printed(quillwort, demo, tmp_path, "map")
    metadata = reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfaid:part[>=\"]+\s*\d", metadata), metadata[:500]
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
