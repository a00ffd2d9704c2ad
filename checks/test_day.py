"""A track made on paper, read against the plan; the order of the sites beside OR-tools on the same distances."""

import csv
import datetime
import itertools
import shutil

import numpy as np
import pyproj
import pytest
from ortools.constraint_solver import pywrapcp, routing_enums_pb2

BUDGET_S = 2
SURVEY = "2026-summer"
MISSED = ("5", "40")
WGS84 = pyproj.Geod(ellps="WGS84")


def track_of(sites, year):
    """A boat 6 m east of each site but two, three to six minutes long, from 8:30 in the lake's summer (UTC-5)."""
    clock = datetime.datetime(year, 7, 14, 13, 30, tzinfo=datetime.timezone.utc)
    parts, expected = [], {}
    for index, (code, (lon, lat)) in enumerate(sites.items()):
        if code in MISSED:
            continue
        east, north, _ = WGS84.fwd(lon, lat, 90, 6)
        minutes = 3 + index % 4
        expected[code] = (clock - datetime.timedelta(hours=5), minutes)
        points = "".join(
            f'<trkpt lat="{north:.8f}" lon="{east:.8f}">'
            f"<time>{clock + datetime.timedelta(minutes=step):%Y-%m-%dT%H:%M:%SZ}</time></trkpt>"
            for step in range(minutes + 1)
        )
        parts.append(f"<trkseg>{points}</trkseg>")
        clock += datetime.timedelta(minutes=minutes + 1)
    text = (
        '<gpx version="1.1" creator="check" xmlns="http://www.topografix.com/GPX/1/1">'
        f"<trk>{''.join(parts)}</trk></gpx>"
    )
    return text, expected


@pytest.fixture
def sites(quillwort, demo):
    plan = quillwort.json("plan", demo, "--survey", SURVEY, "--show")
    return {one["code"]: (one["lon"], one["lat"]) for one in plan["sites"]}


def test_a_track_tells_where_the_boat_was_how_long_and_what_it_missed(quillwort, demo_copy, sites, tmp_path):
    text, expected = track_of(sites, 2026)
    file = tmp_path / "day.gpx"
    file.write_text(text)
    told = quillwort.json("add", demo_copy, "track", file, "--survey", SURVEY, "--preview")
    assert sorted(told["missed"]) == sorted(MISSED)
    assert told["stored"] == 0
    assert len(told["sites"]) == len(sites)
    for one in told["sites"]:
        if one["code"] in MISSED:
            assert one["missed"] and one["arrive"] is None and one["minutes"] is None
            continue
        arrive, minutes = expected[one["code"]]
        assert one["off_m"] == pytest.approx(6, abs=0.1), one
        assert one["minutes"] == pytest.approx(minutes, abs=0.01), one
        assert one["arrive"] == f"{arrive:%Y-%m-%dT%H:%M:%S}", one


def test_a_track_of_another_year_is_refused_with_both_years(quillwort, demo_copy, sites, tmp_path):
    file = tmp_path / "day.gpx"
    file.write_text(track_of(sites, 2024)[0])
    done = quillwort.result("add", demo_copy, "track", file, "--survey", SURVEY)
    assert done.returncode == 2
    assert "2024" in done.stderr and "2026" in done.stderr and "hint" in done.stderr


def test_exported_waypoints_read_back_as_marks_at_every_site(quillwort, demo_copy, sites, tmp_path):
    quillwort("export", demo_copy, "--as", "gpx", "--survey", SURVEY, "-o", tmp_path)
    (file,) = tmp_path.glob("*.gpx")
    told = quillwort.json("add", demo_copy, "track", file, "--survey", SURVEY, "--preview")
    assert told["waypoints"] >= len(sites) and told["missed"] == []
    for one in told["sites"]:
        assert one["marked"] and one["off_m"] < 0.05, one


def test_a_closed_route_starts_and_ends_at_the_launch(quillwort, demo, sites):
    told = quillwort.json("route", demo, "--survey", SURVEY, "--date", "2026-07-14")
    assert sorted(told["boats"][0]["order"], key=int) == sorted(sites, key=int)
    (boat,) = told["boats"]
    assert boat["way"][0] == boat["way"][-1]
    assert boat["legs"][0]["from"] == boat["legs"][-1]["to"] == told["launch"]
    # lengths of the way on the ellipsoid and of the legs on the map differ by the map's scale, under 1 in 1,000
    lon, lat = zip(*boat["way"])
    assert WGS84.line_length(lon, lat) == pytest.approx(boat["length_m"], rel=1e-3)


def rival_length(metres, seconds):
    """Length of the closed tour OR-tools finds in the same time, centimetres rounded."""
    index = pywrapcp.RoutingIndexManager(len(metres), 1, 0)
    routing = pywrapcp.RoutingModel(index)
    whole = (metres * 100).round().astype(int).tolist()
    distance = routing.RegisterTransitMatrix(whole)
    routing.SetArcCostEvaluatorOfAllVehicles(distance)
    how = pywrapcp.DefaultRoutingSearchParameters()
    how.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    how.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    how.time_limit.FromMilliseconds(round(seconds * 1000))
    found = routing.SolveWithParameters(how)
    return found.ObjectiveValue() / 100


@pytest.mark.parametrize("count", [50, 200, 500])
def test_the_order_of_the_sites_is_as_short_as_or_tools_finds_it(quillwort, wingra_book, tmp_path, count):
    book = tmp_path / "route.gpkg"
    shutil.copy(quillwort.folder / wingra_book, book)
    launch = tmp_path / "launch.csv"
    launch.write_text("name,kind,latitude,longitude\nLaunch,launch,43.0560,-89.4180\n")
    quillwort("add", book, "landmarks", launch)
    quillwort("plan", book, "--survey", "tour", "--layout", "balanced", "--sites", count)
    table = tmp_path / "by-water.csv"
    # so fast a boat that every site fits into the day
    told = quillwort.json(
        "route", book, "--survey", "tour", "--date", "2026-07-14", "--speed", "30mph",
        "--minutes-per-site", "0.1", "--budget", BUDGET_S, "--matrix", table,
    )
    with open(table, newline="", encoding="utf-8") as file:
        head, *rows = csv.reader(file)
    metres = np.array([[float(cell) for cell in row[1:]] for row in rows])
    assert metres.shape == (count + 1, count + 1)
    # 5 mm of rounding in each
    np.testing.assert_allclose(metres, metres.T, atol=0.011)
    (boat,) = told["boats"]
    order = [0, *(head.index(code) - 1 for code in boat["order"]), 0]
    assert sorted(order[1:-1]) == list(range(1, count + 1))
    ours = sum(metres[a, b] for a, b in itertools.pairwise(order))
    assert ours == pytest.approx(boat["length_m"], rel=1e-3)
    assert ours <= 1.02 * rival_length(metres, BUDGET_S)
