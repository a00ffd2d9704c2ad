#!/usr/bin/env python3
"""Opens a lake book with GDAL, as a general GIS does, and says what it finds.

usage: geopackage.py BOOK.gpkg

Lists every layer with its reference system, kind of geometry, rows and fields. Exits with 1 and a
sentence when a layer is not in EPSG:4326, a geometry is not valid or not of the layer's kind, the
rows GDAL reads are not the rows that are there, a spatial index misses a row, a name says nothing
to a person, or an edit by GDAL goes unnoticed by the book. Readers: GDAL through pyogrio, GEOS
through shapely, SQLite through Python's own module.
"""

import contextlib
import re
import shutil
import sqlite3
import sys
import tempfile
from pathlib import Path

import numpy
import pyogrio
import pyogrio.raw
import shapely

# Layers a person looks for; the book may have more.
LAYERS = {
    "lake_outline": "MultiPolygon",
    "zone": "MultiPolygon",
    "sub_area": "MultiPolygon",
    "landmark": "Point",
    "site": "Point",
    "visit": "Point",
    "surface_bed": "MultiPolygon",
    "shoreline_find": "Point",
    "treatment": "MultiPolygon",
    "sounding": "Point",
    "depth_contour": "Unknown",
    "site_result": "Point",
}
TABLES = {"lake", "taxon", "rating_scale", "survey", "throw", "observation", "change_log"}
# A length, a temperature or a speed carries its unit in its name.
UNITLESS = re.compile(r"(depth|accuracy|spacing|temperature|speed)$")


class Fault(Exception):
    """Something a GIS user would stumble over."""


def expect(holds, sentence):
    if not holds:
        raise Fault(sentence)


def count_in_sqlite(book, layer):
    with contextlib.closing(sqlite3.connect(f"file:{book}?mode=ro", uri=True)) as connection:
        return connection.execute(f'SELECT count(*) FROM "{layer}"').fetchone()[0]


def count_in_index(book, layer):
    """Rows of the spatial index, and rows that should be in it; none without an index."""
    with contextlib.closing(sqlite3.connect(f"file:{book}?mode=ro", uri=True)) as connection:
        name = f"rtree_{layer}_geom"
        there = connection.execute(
            "SELECT count(*) FROM sqlite_master WHERE name = ?", [name]
        ).fetchone()[0]
        if not there:
            return None
        indexed = connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
        placed = connection.execute(
            f'SELECT count(*) FROM "{layer}" WHERE geom IS NOT NULL'
        ).fetchone()[0]
        return indexed, placed


def check_layer(book, layer, kind):
    info = pyogrio.read_info(book, layer=layer, force_feature_count=True)
    fields = list(info["fields"])
    spatial = kind is not None
    print(
        f"{layer}: {kind or 'no geometry'}, {info['crs'] or 'no reference system'}, "
        f"{info['features']} rows, fields {', '.join(fields)}"
    )
    for field in fields:
        expect(
            re.fullmatch(r"[a-z][a-z0-9_]*", field),
            f"layer {layer}: the field name {field!r} is not in plain lower-case words",
        )
        expect(
            not UNITLESS.search(field),
            f"layer {layer}: the field {field!r} does not say its unit",
        )
    expected = count_in_sqlite(book, layer)
    expect(
        info["features"] == expected,
        f"layer {layer}: GDAL counts {info['features']} rows, SQLite {expected}",
    )
    _, _, geometry, columns = pyogrio.raw.read(book, layer=layer)
    if columns:
        expect(
            len(columns[0]) == expected,
            f"layer {layer}: GDAL reads {len(columns[0])} rows of {expected}",
        )
    if not spatial:
        return
    expect(info["crs"] == "EPSG:4326", f"layer {layer}: reference system is {info['crs']}")
    wanted = LAYERS.get(layer)
    expect(wanted in (None, kind), f"layer {layer}: holds {kind}, expected {wanted}")
    check_geometry(layer, kind, geometry)
    index = count_in_index(book, layer)
    if index is not None:
        expect(
            index[0] == index[1],
            f"layer {layer}: the spatial index holds {index[0]} of {index[1]} places",
        )
    if index is not None and info["features"] and info["total_bounds"] is not None:
        check_window(book, layer, geometry)


def check_geometry(layer, kind, geometry):
    shapes = shapely.from_wkb(geometry)
    placed = [shape for shape in shapes if shape is not None]
    for row, shape in enumerate(shapes):
        if shape is None:
            continue
        expect(
            shapely.is_valid(shape),
            f"layer {layer}, row {row + 1}: {shapely.is_valid_reason(shape)}",
        )
        expect(
            kind == "Unknown" or shape.geom_type == kind,
            f"layer {layer}, row {row + 1}: a {shape.geom_type} in a layer of {kind}",
        )
    if placed:
        west, south, east, north = shapely.total_bounds(placed)
        expect(
            -180 <= west <= east <= 180 and -90 <= south <= north <= 90,
            f"layer {layer}: reaches from {west}, {south} to {east}, {north}, which is not on Earth",
        )


def check_window(book, layer, geometry):
    """A window around the first place finds what a look at every place finds."""
    shapes = shapely.from_wkb(geometry)
    placed = numpy.array([shape for shape in shapes if shape is not None])
    if len(placed) == 0:
        return
    x, y = shapely.get_coordinates(placed[0])[0]
    window = (x - 0.001, y - 0.001, x + 0.001, y + 0.001)
    _, _, found, _ = pyogrio.raw.read(book, layer=layer, bbox=window, columns=[])
    expected = int(shapely.intersects(placed, shapely.box(*window)).sum())
    expect(
        len(found) == expected,
        f"layer {layer}: a window finds {len(found)} of {expected} places",
    )


def check_edit_is_noticed(book):
    """GDAL adds a landmark to a copy; the copy's own note of it must be there."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy.gpkg"
        shutil.copy(book, copy)
        pyogrio.raw.write(
            copy,
            geometry=numpy.array([shapely.to_wkb(shapely.Point(-89.4, 43.07))], dtype=object),
            field_data=[
                numpy.array([text], dtype=object)
                for text in ("0198aaaa-0000-7000-8000-000000000001", "oak", "landmark")
            ],
            fields=["id", "name", "kind"],
            layer="landmark",
            geometry_type="Point",
            crs="EPSG:4326",
            driver="GPKG",
            append=True,
        )
        with contextlib.closing(sqlite3.connect(copy)) as connection:
            noted = connection.execute(
                "SELECT table_name, what FROM edited_elsewhere"
            ).fetchall()
        expect(
            noted == [("landmark", "added")],
            f"a landmark added by GDAL is noted as {noted}, expected one addition",
        )


def check(book):
    layers = {name: kind for name, kind in pyogrio.list_layers(book)}
    for name in LAYERS:
        expect(name in layers, f"there is no layer {name}")
    for name in TABLES:
        expect(name in layers, f"there is no table {name}")
    for name, kind in layers.items():
        check_layer(book, name, kind)
    check_edit_is_noticed(book)


def main(arguments):
    if len(arguments) != 1:
        print(__doc__.strip(), file=sys.stderr)
        return 2
    try:
        check(arguments[0])
    except (Fault, pyogrio.errors.DataSourceError, sqlite3.Error) as fault:
        print(f"{arguments[0]}: {fault}", file=sys.stderr)
        return 1
    print(f"GDAL {pyogrio.__gdal_version_string__} opens every layer")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
