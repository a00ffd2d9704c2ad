"""Shapes drawn on the page as the lake book keeps them: SQLite reads the file, GEOS and PROJ the shapes."""

import json
import sqlite3
import urllib.error

import pypdf
import pytest
import shapely

from shapes import geodesic

# the longest header of a GeoPackage geometry is 8 bytes and an envelope (OGC 12-128r19, 2.1.3)
ENVELOPES = (0, 32, 48, 48, 64)


def kept(book, table):
    """The rows of a layer by code, with their shapes in degrees as stored."""
    with sqlite3.connect(book) as connection:
        connection.row_factory = sqlite3.Row
        rows = connection.execute(f"SELECT * FROM {table}").fetchall()
    found = {}
    for row in rows:
        blob = row["geom"]
        shape = shapely.from_wkb(blob[8 + ENVELOPES[blob[3] >> 1 & 7] :])
        key = row["code"] if "code" in row.keys() else len(found)
        found[key] = (shape, dict(row))
    return found


def corners(shape):
    return {tuple(at) for at in shapely.get_coordinates(shape)}


def area(shape):
    return geodesic(shape)[0]


def open_water(drawn, room):
    """A place in the lake with nothing drawn so near, in metres of the working system."""
    lake = shapely.from_geojson(json.dumps(drawn["outline"]))
    areas = [shapely.from_geojson(json.dumps(one["geometry"])) for one in drawn["areas"]]
    free = lake.difference(shapely.union_all(areas)).buffer(-room)
    assert not free.is_empty
    return free.representative_point()


def polygon(*ring):
    return {"type": "Polygon", "coordinates": [[*ring, ring[0]]]}


def refused(ask, *question):
    with pytest.raises(urllib.error.HTTPError) as error:
        ask(*question)
    return error.value.code, json.load(error.value)["message"]


@pytest.fixture
def drawing(quillwort, demo_copy):
    with quillwort.served(demo_copy) as ask:
        yield ask, demo_copy


def zone(ask, code, *ring):
    return ask("/api/draw/areas", "POST", {"kind": "zone", "code": code, "geometry": polygon(*ring)})


def test_zones_side_by_side_share_corners_to_the_last_bit(drawing):
    ask, book = drawing
    at = open_water(ask("/api/draw"), 45)
    x, y = at.x, at.y
    # an edge that leans, and corners of the other on it a third and two thirds up
    low, high = (x + 0.3, y - 20.1), (x + 2.9, y + 19.7)
    between = [
        tuple(a + share * (b - a) for a, b in zip(low, high)) for share in (1 / 3, 2 / 3)
    ]
    zone(ask, "A1", (x - 30, y - 20), low, high, (x - 30, y + 20))
    # 4 mm off, as a shape from elsewhere may be
    zone(ask, "A2", between[0], (x + 30, y - 9), (x + 30, y + 9), (between[1][0] + 0.004, between[1][1]))
    zones = kept(book, "zone")
    one, two = zones["A1"][0], zones["A2"][0]
    assert len(corners(one)) == 6, "the two corners were put into its edge"
    assert len(corners(one) & corners(two)) == 2
    assert one.intersection(two).area == 0
    assert one.touches(two)
    drawn = ask("/api/draw")
    assert [flag for flag in drawn["flags"] if {"A1", "A2"} & set(flag["codes"])] == []

    # the corner moves in both, and nothing opens between them
    ask("/api/draw/corner", "POST", {"action": "move", "at": between[0], "to": [x + 4, y - 8]})
    zones = kept(book, "zone")
    moved_one, moved_two = zones["A1"][0], zones["A2"][0]
    assert len(corners(moved_one) & corners(moved_two)) == 2
    assert moved_one.intersection(moved_two).area == 0
    assert area(moved_one) != pytest.approx(area(one), rel=1e-4)
    ask("/api/draw/undo", "POST")
    zones = kept(book, "zone")
    assert (zones["A1"][0], zones["A2"][0]) == (one, two)


def test_a_corner_moves_where_the_neighbour_has_only_an_edge(drawing):
    ask, book = drawing
    drawn = ask("/api/draw")
    at = open_water(drawn, 45)
    x, y = at.x, at.y
    zone(ask, "A1", (x - 30, y - 20), (x, y - 20), (x, y + 20), (x - 30, y + 20))
    zone(ask, "A2", (x + 5, y - 10), (x + 30, y - 10), (x + 30, y + 10))
    # brought onto the edge of A1, the corner is in both; drawn on, both follow
    ask("/api/draw/corner", "POST", {"action": "move", "at": [x + 5, y - 10], "to": [x, y - 10]})
    zones = kept(book, "zone")
    assert len(corners(zones["A1"][0]) & corners(zones["A2"][0])) == 1
    lake = ask("/api/lake")["area_m2"]
    ask("/api/draw/corner", "POST", {"action": "move", "at": [x, y - 10], "to": [x - 4, y - 12]})
    zones = kept(book, "zone")
    assert len(corners(zones["A1"][0]) & corners(zones["A2"][0])) == 1
    assert zones["A1"][0].intersection(zones["A2"][0]).area == 0
    assert ask("/api/lake")["area_m2"] == lake


def test_a_split_zone_stays_whole_for_earlier_surveys(drawing):
    ask, book = drawing
    drawn = ask("/api/draw")
    before = kept(book, "zone")
    (one,) = [area for area in drawn["areas"] if area["code"] == "W1"]
    shape = shapely.from_geojson(json.dumps(one["geometry"]))
    west, south, east, north = shape.bounds
    middle = shape.centroid.y
    after = ask(
        f"/api/draw/areas/{one['id']}/split", "POST",
        {"line": [[west - 20, middle], [east + 20, middle + 3]]},
    )
    zones = kept(book, "zone")
    parts = [code for code in zones if code not in before]
    assert sorted(parts) == [f"W1{letter}" for letter in "abcdefg"[: len(parts)]]
    whole = zones["W1"]
    assert whole[0] == before["W1"][0]
    assert whole[1]["until_year"] == 2026
    assert {zones[code][1]["since_year"] for code in parts} == {2027}
    assert sum(area(zones[code][0]) for code in parts) == pytest.approx(area(whole[0]), rel=1e-6)
    assert corners(whole[0]) <= set.union(*(corners(zones[code][0]) for code in parts))
    # each sub-area has gone to the part that holds most of it
    places = {area["id"]: area for area in after["areas"]}
    homes = {zones[code][1]["id"]: zones[code][0] for code in parts}
    for code, (part, row) in kept(book, "sub_area").items():
        if not code.startswith("W1-"):
            continue
        most = max(homes, key=lambda key: homes[key].intersection(part).area)
        assert row["zone_id"] == most, (code, places)
    then = {zone["code"] for zone in ask("/api/lake?year=2025")["zones"]}
    now = {zone["code"] for zone in ask("/api/lake")["zones"]}
    assert then - now == {"W1"} and now - then == set(parts)
    ask("/api/draw/undo", "POST")
    again = kept(book, "zone")
    assert {code: shape for code, (shape, _) in again.items()} == {
        code: shape for code, (shape, _) in before.items()
    }


def test_islands_take_water_and_give_it_back(drawing):
    ask, book = drawing
    drawn = ask("/api/draw")
    (shore,) = (shape for shape, _ in kept(book, "lake_outline").values())
    at = open_water(drawn, 30)
    x, y = at.x, at.y

    def box(east, half, tall):
        return polygon(
            (x + east - half, y - tall), (x + east + half, y - tall),
            (x + east + half, y + tall), (x + east - half, y + tall),
        )

    ask("/api/draw/islands", "POST", {"geometry": box(0, 10, 10)})
    joined = ask("/api/draw/islands", "POST", {"geometry": box(10, 10, 15)})
    assert joined["last_change"] == "drew an island, joined to the one it lies on"
    (cut,) = (shape for shape, _ in kept(book, "lake_outline").values())
    assert corners(shore) <= corners(cut), "no corner of the shore has moved"
    island = shore.difference(cut)
    # 20 by 20 and 20 by 30 metres, half of the first in both
    assert area(island) == pytest.approx(800, rel=2e-3)
    assert area(shore) - area(cut) == pytest.approx(area(island), rel=1e-9)
    corner = drawn["outline"]["coordinates"][0][0][0]
    over = polygon(*((corner[0] + dx, corner[1] + dy) for dx, dy in ((-9, -9), (9, -9), (9, 9), (-9, 9))))
    assert refused(ask, "/api/draw/islands", "POST", {"geometry": over})[1].startswith(
        "the island reaches over the shore, by"
    )
    assert refused(ask, "/api/draw/islands", "POST", {"geometry": box(5, 2, 2)})[1] == (
        "all of this island lies on one that is there already"
    )
    ask(f"/api/draw/islands/{x}/{y}", "DELETE")
    (back,) = (shape for shape, _ in kept(book, "lake_outline").values())
    assert corners(back) == corners(shore)


def test_places_and_rules_are_printed(drawing, quillwort, tmp_path):
    ask, book = drawing
    drawn = ask("/api/draw")
    at = open_water(drawn, 45)
    x, y = at.x, at.y
    place = {"name": "Scout dock", "kind": "launch", "at": [x, y]}
    ask("/api/draw/landmarks", "POST", place)
    quiet = {
        "kind": "zone", "code": "Q1", "name": "Quiet water", "protection": "conservation",
        "rule": "no wake", "geometry": polygon((x - 30, y - 20), (x + 30, y - 20), (x, y + 20)),
    }
    ask("/api/draw/areas", "POST", quiet)

    def text(paper):
        file = tmp_path / f"{paper}.pdf"
        quillwort("print", book, paper, "--survey", "2026-summer", "-o", file)
        return " ".join(page.extract_text() for page in pypdf.PdfReader(file).pages)

    assert "Scout dock" in text("map")
    assert "Q1" in text("report")
    (row,) = [zone for zone in ask("/api/lake")["zones"] if zone["code"] == "Q1"]
    assert (row["protection"], row["rule"]) == ("conservation", "no wake")
