"""One lake's depths in every legal spelling of a file: what is stored must be the same lake.

Files are written by GDAL (pyogrio), PROJ (pyproj) and by hand after the formats' own texts: RFC 7946,
GPX 1.1, KML 2.2 (OGC 07-147r2), ESRI Shapefile Technical Description (1998).
"""

import json
import zipfile

import numpy
import pyogrio.raw
import pyproj
import pytest
import shapely

SHORE = [(-90.0, 45.0), (-89.98, 45.0), (-89.98, 45.014), (-90.0, 45.014), (-90.0, 45.0)]
ISLAND = [(-89.992, 45.006), (-89.989, 45.006), (-89.989, 45.008), (-89.992, 45.008), (-89.992, 45.006)]
# longitude, latitude, depth
SOUNDINGS = [(-89.985, 45.003, 2.0), (-89.9852, 45.0101, 3.5), (-89.995, 45.0052, 5.5), (-89.9953, 45.011, 4.0)]
LAKE = shapely.Polygon(SHORE, [ISLAND])


@pytest.fixture
def program(quillwort, tmp_path):
    return quillwort.at(tmp_path)


def book(program, outline=True):
    name = program.book("square", "--region", "WI")
    if outline:
        write(program, "shore.geojson", json.dumps(feature(shapely.geometry.mapping(LAKE))))
        program("add", name, "outline", "shore.geojson")
    return name


def write(program, name, text):
    (program.folder / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return name


def feature(geometry, **properties):
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def parts(value):
    whole = abs(value)
    minutes = (whole - int(whole)) * 60
    return int(whole), minutes, int(minutes), (minutes - int(minutes)) * 60


def spelled(pattern):
    """Rows of latitude, longitude and depth with positions in a spelling."""

    def one(value, letters):
        degrees, minutes, whole, seconds = parts(value)
        letter, sign = letters[value < 0], "-" if value < 0 else ""
        return pattern.format(d=degrees, m=minutes, w=whole, s=seconds, L=letter, sign=sign)

    return [(one(y, "NS"), one(x, "EW"), z) for x, y, z in SOUNDINGS]


SPELLINGS = {
    "degrees and minutes": "{d}° {m:.4f}' {L}",
    "letter first": "{L} {d} {m:.4f}",
    "marks": "{d}°{w:02d}′{s:06.3f}″{L}",
    "colons": "{sign}{d}:{w:02d}:{s:06.3f}",
    "spaces": "{d} {w:02d} {s:06.3f} {L}",
    "hyphens": "{L}{d}-{w:02d}-{s:06.3f}",
    "letters": "{d}d{w:02d}m{s:06.3f}s{L}",
}


def check(program, name, metres=1.0):
    measures = program.json("lake", name)
    assert measures["soundings"] == len(SOUNDINGS)
    assert measures["max_depth_m"] == pytest.approx(5.5 * metres, abs=1e-6)
    # the depths as they lie: any of the four out of place would change the volume
    assert measures["volume_m3"] == pytest.approx(check.volume * metres, rel=2e-3)


@pytest.fixture(autouse=True)
def plain(program, request):
    """The volume of the same soundings from the plainest of tables."""
    if not hasattr(check, "volume"):
        folder = request.getfixturevalue("tmp_path_factory").mktemp("plain")
        other = program.at(folder)
        name = book(other)
        rows = "\n".join(f"{x},{y},{z}" for x, y, z in SOUNDINGS)
        write(other, "d.csv", "longitude,latitude,depth_m\n" + rows)
        other("add", name, "depths", "d.csv")
        check.volume = other.json("lake", name)["volume_m3"]


@pytest.mark.parametrize("pattern", SPELLINGS.values(), ids=SPELLINGS)
def test_positions_in_any_spelling(program, pattern):
    name = book(program)
    rows = "\n".join(f'"{y}";"{x}";{z}'.replace("″", '""') for y, x, z in spelled(pattern))
    write(program, "d.csv", "Latitude;Longitude;Depth (m)\n" + rows)
    program("add", name, "depths", "d.csv")
    check(program, name)


TABLES = {
    "semicolons and decimal commas": (
        "Latitude;Longitude;Depth (m)\n", lambda x, y, z: f"{y};{x};{z}".replace(".", ","), "utf-8", ()),
    "tabs, UTF-16": ("Lat\tLong\tDepth_m\n", lambda x, y, z: f"{y}\t{x}\t{z}", "utf-16", ()),
    "remarks in front": ("# sonar\n// boat 2\nlat,lon,depth_m\n", lambda x, y, z: f"{y},{x},{z}", "utf-8", ()),
    "header behind a mark": ("# lon, lat, depth_m\n", lambda x, y, z: f"{x},{y},{z}", "utf-8", ()),
    "spaces": ("", lambda x, y, z: f"{x}  {y} {z}", "utf-8", ("--unit", "m")),
    "spaces, header": ("lon lat depth_m\n", lambda x, y, z: f"{x} {y}   {z}", "utf-8", ()),
    "degrees beside minutes": (
        "lat_deg,lat_min,lon_deg,lon_min,depth_m\n",
        lambda x, y, z: f"{int(y)},{parts(y)[1]:.6f},{int(x)},{parts(x)[1]:.6f},{z}", "utf-8", ()),
}


@pytest.mark.parametrize("header, row, encoding, options", TABLES.values(), ids=TABLES)
def test_tables_of_any_make(program, header, row, encoding, options):
    name = book(program)
    write(program, "d.txt", (header + "\r\n".join(row(*one) for one in SOUNDINGS)).encode(encoding))
    program("add", name, "depths", "d.txt", *options)
    check(program, name)


# State Plane in US survey feet, international feet and metres, UTM, the state's own
@pytest.mark.parametrize("code", [2288, 2253, 32153, 26915, 32616, 3071])
def test_projected_columns_and_prj_files(program, code):
    there = pyproj.Transformer.from_crs(pyproj.CRS(code).geodetic_crs, code, always_xy=True)
    placed = [(*there.transform(x, y), z) for x, y, z in SOUNDINGS]
    name = book(program)
    rows = "\n".join(f"{x:.3f},{y:.3f},{z}" for x, y, z in placed)
    write(program, "d.csv", "Easting,Northing,Depth_m\n" + rows)
    program("add", name, "depths", "d.csv", "--crs", f"EPSG:{code}")
    check(program, name)
    other = program.book("other", "--region", "WI")
    program("add", other, "outline", "shore.geojson")
    points = shapely.to_wkb(numpy.array([shapely.Point(x, y) for x, y, _ in placed]))
    depths = numpy.array([z for *_, z in placed])
    pyogrio.raw.write(
        program.folder / "d.shp", points, [depths], ["DEPTH_M"], geometry_type="Point", crs=f"EPSG:{code}"
    )
    assert "PROJCS" in (program.folder / "d.prj").read_text()
    program("add", other, "depths", "d.shp")
    check(program, other)


def test_zipped_shapefiles_in_folders_and_by_name(program):
    shore = shapely.to_wkb(numpy.array([LAKE]))
    names = [numpy.array(["Square"], dtype=object)]
    points = shapely.to_wkb(numpy.array([shapely.Point(x, y) for x, y, _ in SOUNDINGS]))
    depths = [numpy.array([z for *_, z in SOUNDINGS])]
    pyogrio.raw.write(program.folder / "shore.shp", shore, names, ["NAME"], geometry_type="Polygon", crs="EPSG:4269")
    pyogrio.raw.write(program.folder / "deep.shp", points, depths, ["DEPTH_M"], geometry_type="Point", crs="EPSG:4269")
    with zipfile.ZipFile(program.folder / "both.zip", "w") as archive:
        for stem in ("shore", "deep"):
            for path in program.folder.glob(f"{stem}.*"):
                archive.write(path, f"county/2019/{path.name}")
        archive.writestr("__MACOSX/._shore.shp", "x")
    name = book(program, outline=False)
    asked = program.result("add", name, "outline", "both.zip")
    assert asked.returncode == 2 and "--layer" in asked.stderr and "deep" in asked.stderr
    program("add", name, "outline", "both.zip", "--layer", "shore")
    program("add", name, "depths", "both.zip", "--layer", "deep")
    check(program, name)


@pytest.mark.parametrize("file", ["d.gpkg", "d.shp"])
def test_heights_of_points_below_the_water_are_depths(program, file):
    points = [shapely.Point(x, y, -z) for x, y, z in SOUNDINGS]
    names = [numpy.array([f"p{number}" for number in range(len(points))], dtype=object)]
    wkb = shapely.to_wkb(numpy.array(points), output_dimension=3)
    pyogrio.raw.write(program.folder / file, wkb, names, ["name"], geometry_type="Point Z", crs="EPSG:4269")
    name = book(program)
    program("add", name, "depths", file, "--unit", "m")
    check(program, name)


def kml(body, prefix=""):
    mark = f":{prefix.rstrip(':')}" if prefix else ""
    return (
        f'<?xml version="1.0"?><{prefix}kml xmlns{mark}="http://www.opengis.net/kml/2.2">'
        f"<{prefix}Document>{body}</{prefix}Document></{prefix}kml>"
    )


def gpx(body):
    return (
        '<?xml version="1.0"?><gpx version="1.1" creator="check" xmlns="http://www.topografix.com/GPX/1/1" '
        f'xmlns:e="urn:extension">{body}</gpx>'
    )


LAYERS = {
    "kml, a prefix": ("d.kml", kml("".join(
        f'<k:Placemark><k:ExtendedData><k:Data name="depth_m"><k:value>{z}</k:value></k:Data></k:ExtendedData>'
        f"<k:Point><k:coordinates>{x},{y}</k:coordinates></k:Point></k:Placemark>" for x, y, z in SOUNDINGS), "k:"), ()),
    "kml, heights": ("d.kml", kml("".join(
        f"<Placemark><Point><coordinates>{x},{y},{-z}</coordinates></Point></Placemark>"
        for x, y, z in SOUNDINGS)), ("--unit", "m")),
    "gpx, waypoints": ("d.gpx", gpx("".join(
        f'<wpt lat="{y}" lon="{x}"><extensions><e:w><e:Depth>{z}</e:Depth></e:w></extensions></wpt>'
        for x, y, z in SOUNDINGS)), ()),
    "gpx, a track": ("d.gpx", gpx("<trk><trkseg>" + "".join(
        f'<trkpt lat="{y}" lon="{x}"><extensions><e:t><e:wtemp>20</e:wtemp><e:depth>{z}</e:depth></e:t></extensions></trkpt>'
        for x, y, z in SOUNDINGS) + "</trkseg></trk>"), ()),
    "geojson, heights": ("d.geojson", json.dumps({"type": "FeatureCollection", "features": [
        feature({"type": "Point", "coordinates": [x, y, -z]}) for x, y, z in SOUNDINGS]}), ("--unit", "m")),
    "geojson, no geometry in one": ("d.geojson", json.dumps({"type": "FeatureCollection", "features": [
        *(feature({"type": "Point", "coordinates": [x, y]}, depth_m=str(z)) for x, y, z in SOUNDINGS),
        feature(None, depth_m=1)]}), ()),
}


@pytest.mark.parametrize("file, text, options", LAYERS.values(), ids=LAYERS)
def test_layers_of_any_make(program, file, text, options):
    name = book(program)
    write(program, file, text)
    program("add", name, "depths", file, *options)
    check(program, name)


def test_a_shore_walked_around_and_one_among_other_files(program):
    area = pyproj.Geod(ellps="WGS84").geometry_area_perimeter(shapely.Polygon(SHORE))[0]
    line = " ".join(f"{x},{y},0" for x, y in SHORE)
    write(program, "walk.gpx", gpx("<trk><trkseg>" + "".join(
        f'<trkpt lat="{y}" lon="{x}"/>' for x, y in SHORE) + "</trkseg></trk>"))
    write(program, "line.kml", kml(
        f"<Placemark><LineString><coordinates>{line}</coordinates></LineString></Placemark>"))
    ring = f"<outerBoundaryIs><LinearRing><coordinates>{line}</coordinates></LinearRing></outerBoundaryIs>"
    with zipfile.ZipFile(program.folder / "many.kmz", "w") as archive:
        archive.writestr("images/photo.png", b"\x89PNG")
        archive.writestr("files/other.kml", kml(""))
        archive.writestr("doc.kml", kml(f"<Folder><Placemark><Polygon>{ring}</Polygon></Placemark></Folder>"))
    for number, file in enumerate(("walk.gpx", "line.kml", "many.kmz")):
        name = program.book(f"walk-{number}", "--region", "WI")
        program("add", name, "outline", file)
        assert program.json("lake", name)["area_m2"] == pytest.approx(abs(area), rel=1e-9)
    # a shore with a gap is none
    write(program, "gap.gpx", gpx("<trk><trkseg>" + "".join(
        f'<trkpt lat="{y}" lon="{x}"/>' for x, y in SHORE[:3]) + "</trkseg></trk>"))
    name = program.book("gap", "--region", "WI")
    assert program.result("add", name, "outline", "gap.gpx").returncode == 2
