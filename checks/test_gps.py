"""GPX and KML against their published schemas, and read by GDAL: names, numbers and order as on the sheets."""

import re
from importlib.resources import files
from pathlib import Path

import pyogrio
import pytest
from lxml import etree

GPX = "{http://www.topografix.com/GPX/1/1}"
KML = "{http://www.opengis.net/kml/2.2}"
SURVEY = "2026 & <odd> Łąka"
#: what people write: marks XML keeps for itself, letters beyond ASCII, names longer than a receiver takes
LAUNCH = 'Tom & Ann\'s "Bait" <north> Żabka-ranta'
HAZARDS = ("écueil n° 2 — 岩", "a]]>b&amp;c", "rock pile at the mouth of the long channel")
BOATS = 3


@pytest.fixture(scope="module")
def schemas():
    """GPX 1.1 as written down in `gpx11.xsd`; KML 2.2 as the OGC publishes it (07-147r2), from fastkml."""
    gpx = Path(__file__).with_name("gpx11.xsd")
    kml = files("fastkml") / "schema" / "ogckml22.xsd"
    return {"gpx": etree.XMLSchema(etree.parse(gpx)), "kml": etree.XMLSchema(etree.parse(str(kml)))}


@pytest.fixture(scope="module")
def lake(quillwort, demo, tmp_path_factory):
    """A lake with odd names; a survey of 30 sites with letters before their numbers, spares, three boats and a route."""
    folder = tmp_path_factory.mktemp("odd")
    source = demo.parent / "files"
    book = folder / "odd.gpkg"
    quillwort("new", book, "--name", "Lac & <Étang> Łódź", "--region", "MN")
    quillwort("add", book, "outline", source / "outline.geojson")
    places = folder / "places.csv"
    cells = [(LAUNCH, "launch", 44.597701, -94.501539), (HAZARDS[0], "hazard", 44.601845, -94.496215)]
    cells += [(HAZARDS[1], "hazard", 44.6016, -94.5031), (HAZARDS[2], "hazard", 44.6000, -94.4990)]
    quoted = lambda name: '"' + name.replace('"', '""') + '"'  # noqa: E731
    places.write_text("name,kind,latitude,longitude\n" + "".join(f"{quoted(n)},{k},{y},{x}\n" for n, k, y, x in cells))
    quillwort("add", book, "landmarks", places)
    laid = quillwort.json("plan", book, "--survey", "first", "--layout", "balanced", "--sites", 30)
    given = folder / "given.csv"
    rows = [f"WESTERNBAY-{one['code']:0>3},{one['lat']},{one['lon']}" for one in laid["sites"]]
    given.write_text("site,latitude,longitude\n" + "\n".join(rows) + "\n", encoding="utf-8")
    quillwort("plan", book, "--survey", SURVEY, "--layout", "given", given)
    day = ["--date", "2026-07-14", "--boats", BOATS, "--budget", "0.2", "--utc-offset", "-5"]
    quillwort("route", book, "--survey", SURVEY, *day, "--keep")
    return book


def exported(quillwort, book, kind, survey, folder, *options):
    quillwort("export", book, "--as", kind, "--survey", survey, "-o", folder, *options)
    (file,) = folder.glob(f"*.{kind}")
    return file


def names(document, tag):
    return [one.findtext(f"{GPX}name") for one in document.iter(GPX + tag)]


@pytest.mark.parametrize("kind", ["gpx", "kml"])
@pytest.mark.parametrize("survey", ["first", SURVEY])
def test_a_file_for_receivers_keeps_to_its_schema(quillwort, lake, schemas, tmp_path, kind, survey):
    schemas[kind].assertValid(etree.parse(exported(quillwort, lake, kind, survey, tmp_path)))


@pytest.mark.parametrize("kind", ["gpx", "kml"])
@pytest.mark.parametrize("survey", ["2020-summer", "2026-summer"])
def test_a_survey_with_its_record_keeps_to_the_schema(quillwort, demo, schemas, tmp_path, kind, survey):
    schemas[kind].assertValid(etree.parse(exported(quillwort, demo, kind, survey, tmp_path)))


def test_waypoints_and_routes_carry_the_names_and_the_order_of_the_sheets(quillwort, lake, tmp_path):
    file = exported(quillwort, lake, "gpx", SURVEY, tmp_path)
    document = etree.parse(file)
    assert document.find(f"{GPX}metadata").findtext(f"{GPX}name") == SURVEY
    kept = quillwort.json("route", lake, "--survey", SURVEY, "--kept")
    orders = [boat["order"] for boat in kept["boats"]]
    assert len(orders) == BOATS
    assert [[stop.findtext(f"{GPX}name") for stop in route.iter(f"{GPX}rtept")] for route in document.iter(f"{GPX}rte")] == orders
    sites = names(document, "wpt")[: sum(map(len, orders))]
    assert sites == [code for order in orders for code in order]
    assert set(names(document, "wpt")[len(sites) :]) == {LAUNCH, *HAZARDS}
    # GDAL reads the same names at the same places
    read = pyogrio.raw.read(file, layer="waypoints", columns=["name"], return_fids=False)
    assert list(read[3][0]) == names(document, "wpt")


@pytest.mark.parametrize("length", [4, 6, 10, 30])
def test_names_shortened_for_a_receiver_stay_different_and_in_both_places_alike(quillwort, lake, schemas, tmp_path, length):
    file = exported(quillwort, lake, "gpx", SURVEY, tmp_path, "--name-length", length)
    document = etree.parse(file)
    schemas["gpx"].assertValid(document)
    short = names(document, "wpt")
    assert all(1 <= len(name) <= length for name in [*short, *names(document, "rte")])
    assert len({name.lower() for name in short}) == len(short)
    assert set(names(document, "rtept")) <= set(short)
    whole = names(etree.parse(exported(quillwort, lake, "gpx", SURVEY, tmp_path / "whole")), "wpt")
    # the number of the sheet stays at the end
    for long, name in zip(whole, short, strict=True):
        if found := re.search(r"WESTERNBAY-(\d+)$", long):
            assert name.endswith(found[1][-length + 1 :]), (long, name)


def test_places_of_the_kml_are_those_of_the_gpx(quillwort, lake, tmp_path):
    gpx = etree.parse(exported(quillwort, lake, "gpx", SURVEY, tmp_path))
    kml = etree.parse(exported(quillwort, lake, "kml", SURVEY, tmp_path))
    there = {one.findtext(f"{GPX}name"): (float(one.get("lon")), float(one.get("lat"))) for one in gpx.iter(f"{GPX}wpt")}
    points = {}
    for mark in kml.iter(f"{KML}Placemark"):
        if (point := mark.find(f"{KML}Point")) is not None:
            lon, lat, *_ = map(float, point.findtext(f"{KML}coordinates").split(","))
            points[mark.findtext(f"{KML}name")] = (lon, lat)
    assert len(points) == 30
    for name, place in points.items():
        assert place == pytest.approx(there[name], abs=1e-7)
    lines = [mark.findtext(f"{KML}name") for mark in kml.iter(f"{KML}Placemark") if mark.find(f"{KML}LineString") is not None]
    assert lines == [f"Boat {boat}, 2026-07-14" for boat in range(1, BOATS + 1)]


@pytest.mark.parametrize(
    ("rule", "harm"),
    [
        ("order of elements", lambda text: text.replace("<name>1</name><sym>Flag, Blue</sym>", "<sym>Flag, Blue</sym><name>1</name>", 1)),
        ("latitude required", lambda text: re.sub(r' lat="[^"]*"', "", text, count=1)),
        ("longitude below 180", lambda text: re.sub(r' lon="[^"]*"', ' lon="180"', text, count=1)),
        ("latitude to 90", lambda text: re.sub(r' lat="[^"]*"', ' lat="90.1"', text, count=1)),
        ("version", lambda text: text.replace('<gpx version="1.1"', '<gpx version="1.0"')),
        ("creator", lambda text: text.replace(' creator="Quillwort"', "")),
        ("no other elements", lambda text: text.replace("</metadata>", "</metadata><depth>3</depth>")),
        ("waypoints before routes", lambda text: text.replace("<wpt ", "<rte/><wpt ", 1)),
    ],
)
def test_the_schema_of_gpx_refuses_what_breaks_a_rule(quillwort, lake, schemas, tmp_path, rule, harm):
    text = exported(quillwort, lake, "gpx", "first", tmp_path).read_text(encoding="utf-8")
    harmed = harm(text)
    assert harmed != text, rule
    assert not schemas["gpx"].validate(etree.fromstring(harmed.encode()).getroottree()), rule
