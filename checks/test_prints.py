"""The papers opened by another reader of PDF."""

import re
import shutil
import sqlite3

import numpy
import pypdf
import pytest
import rasterio

SURVEY = "2026-summer"
SURVEY_OF_FEW = "2028-few"


@pytest.fixture(scope="module")
def codes(quillwort, demo):
    """Site codes, and how many sites came out empty or not at all."""
    (survey,) = [one for one in quillwort.json("surveys", demo) if one["name"] == SURVEY]
    return [str(number) for number in range(1, survey["planned"] + 1)]


def printed(quillwort, book, tmp_path, what, *options, survey=SURVEY):
    file = tmp_path / f"{what}.pdf"
    done = quillwort.result("print", book, what, "--survey", survey, "-o", file, *options)
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


def photo(path, width, height):
    """A photo with a gradient, as GDAL writes a JPEG."""
    across, down = numpy.meshgrid(numpy.linspace(0, 255, width), numpy.linspace(0, 255, height))
    bands = numpy.stack([across, down, 255 - across]).astype("uint8")
    with rasterio.open(path, "w", driver="JPEG", width=width, height=height, count=3, dtype="uint8") as file:
        file.write(bands)


def test_plant_cards_carry_the_photos_of_the_book_and_frames_for_the_others(quillwort, demo, tmp_path):
    book = tmp_path / "book.gpkg"
    shutil.copy(demo, book)
    _, pages = printed(quillwort, book, tmp_path, "plant-cards")
    without = pypdf.PdfReader(tmp_path / "plant-cards.pdf")
    assert not any(page.images for page in without.pages)
    cards = sum(text.count("Know it by") for text in pages)
    assert sum(re.findall(r"\bphoto\b", text).count("photo") for text in pages) == cards
    folder = tmp_path / "photos"
    folder.mkdir()
    for name, size in (("IMG_1.jpg", (640, 480)), ("IMG_2.jpg", (300, 500))):
        photo(folder / name, *size)
    later = "2027-photos"
    quillwort("plan", book, "--survey", later, "--layout", "balanced", "--sites", 5)
    quillwort("photos", book, folder, "--survey", later)
    words = {"IMG_1.jpg": ("CEDE", "Coontail off the boathouse"), "IMG_2.jpg": ("NAFL", "")}
    with quillwort.served(book) as ask:
        for one in ask(f"/api/surveys/{later}/photos"):
            code, caption = words[one["file_name"]]
            body = {"by": "A. Marsh", "site": None, "taxon": code, "caption": caption, "with_ruler": False}
            ask(f"/api/surveys/{later}/photos/{one['id']}", "PUT", body)
    reader, pages = printed(quillwort, book, tmp_path, "plant-cards")
    with sqlite3.connect(book) as kept:
        stored = {bytes(content) for (content,) in kept.execute("SELECT content FROM photo_content")}
    assert len(stored) == 2
    # the camera's JPEG itself is in the file, on the page of its plant
    there = {}
    for page, text in zip(reader.pages, pages, strict=True):
        resources = page["/Resources"].get("/XObject", {})
        for name in resources:
            picture = resources[name].get_object()
            if picture["/Subtype"] == "/Image":
                there[bytes(picture._data)] = text
    assert set(there) == stored
    (first,) = {text for text in there.values() if "Coontail off the boathouse" in text}
    assert "CEDE" in first
    assert any("NAFL" in text for text in there.values())
    assert sum(re.findall(r"\bphoto\b", text).count("photo") for text in pages) == cards - 2


def bookmarks(reader):
    return [(one.title, reader.get_destination_page_number(one)) for one in reader.outline]


@pytest.fixture
def few(quillwort, demo_copy):
    """The demo lake with a survey of a few sites: one sheet, one map of it."""
    quillwort("plan", demo_copy, "--survey", SURVEY_OF_FEW, "--layout", "balanced", "--sites", 6)
    return demo_copy


#: each paper's name in the contents and the question at its head; those printed alone too, to compare
PAPERS = {
    "Safety page": ("Who knows where you are?", "safety"),
    "Kit list": ("Is everything on board?", "kit"),
    "Field sheets": ("What came up?", None),
    "Maps of the sheets": ("Where next?", None),
    "Site map": ("Where are the sites?", "map"),
    "Depth map": ("How deep, and where?", None),
    "Plant cards": ("Know it by", None),
    "Voucher labels": ("voucher specimen", None),
    "Card for residents": ("What is that plant off my dock?", "residents-card"),
}


def test_the_packet_is_one_file_with_contents_bookmarks_and_page_numbers(quillwort, few, tmp_path):
    reader, pages = printed(quillwort, few, tmp_path, "packet", survey=SURVEY_OF_FEW)
    (first, *marks) = bookmarks(reader)
    assert first == ("What is in the packet?", 0)
    assert [title for title, _ in marks] == list(PAPERS)
    contents = " ".join(pages[0].split())
    ends = [page for _, page in marks[1:]] + [len(pages)]
    for (title, page), end in zip(marks, ends, strict=True):
        assert re.search(rf"{re.escape(title)}.*? {page + 1}\b", contents), (title, contents)
        question, alone = PAPERS[title]
        for text in pages[page:end]:
            assert question in " ".join(text.split()), (title, text[:200])
        if alone:
            # the paper itself is the same as when printed alone
            _, single = printed(quillwort, few, tmp_path, alone, survey=SURVEY_OF_FEW)
            assert len(single) == end - page, title
            for text, whole in zip(single, pages[page:end], strict=True):
                assert set(words(text)) <= set(words(whole)), title
    for number, text in enumerate(pages, 1):
        assert f"packet page {number} of {len(pages)}" in text
    metadata = reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfaid:part[>=\"]+\s*2", metadata)
    assert re.search(r"pdfuaid:part[>=\"]+\s*1", metadata)
    assert reader.metadata.title.startswith("Packet, Lake Tamarin")
    # every contents line leads to its paper
    assert len(links(reader.pages[0])) >= len(PAPERS)


def links(page):
    return [one for one in page.get("/Annots", []) if one.get_object().get("/Subtype") == "/Link"]
def test_the_record_on_paper_holds_every_site_its_codes_and_the_seal(quillwort, demo, tmp_path, codes):
    """The paper copy of a sealed survey: nothing of it is only in the file. PDF/A by its own word (ISO 19005)."""
    reader, pages = printed(quillwort, demo, tmp_path, "record")
    metadata = reader.trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert re.search(r"pdfaid:part[>=\"]+\s*2", metadata), metadata[:500]
    text = " ".join(pages)
    (survey,) = [one for one in quillwort.json("surveys", demo) if one["name"] == SURVEY]
    sha256 = survey["seal"]["sha256"]
    assert sha256 in re.sub(r"\s", "", text)
    assert survey["seal"]["by"] in text
    for number, page in enumerate(pages, 1):
        assert f"{number} of {len(pages)}" in page
        assert sha256[:12] in page, f"page {number} does not say which record it is of"
    found = quillwort.json("findings", demo, "--survey", SURVEY)
    said = words(text)
    for one in found["taxa"]:
        if one["sites"]:
            assert said.count(one["code"]) >= one["sites"], one["code"]
            assert one["scientific_name"] in " ".join(text.split()), one["code"]
    for member in survey["crew"]:
        assert member["name"] in text
    for code in codes:
        assert code in said, code
