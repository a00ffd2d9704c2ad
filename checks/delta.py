"""Fixed points in the Sacramento-San Joaquin Delta, raked before and after treatment in 2017:
California State Parks, Division of Boating and Waterways, in the data of the Interagency
Ecological Program (AquaticVegetationPWT; Apache-2.0).

The sheets are saved as CSV as they stand, the legend above the table too; only the positions, which
the agency keeps in a shapefile, are put beside them. The column map holds what a person decides
about four cells. The tables of this module are read by plain rules of their own, not by the
program.
"""

import csv
import datetime
import re
from dataclasses import dataclass, field

import openpyxl

import shapes
from open_data import open_data

HEADER_ROW = 16
CODE, DEPTH = 1, 28
SPECIES = range(2, 26, 2)
FEET = 0.3048

COLUMN_MAP = """date_order = "mdy"
paired = "health"
ignore = ["Photo #'s"]

[columns]
site = "WYPT"
date = "Date"
depth = "Depth"
comment = "Other"

[taxa]
"CLP" = "Potamogeton crispus"

[read_as]
"2017-01-04" = "1"          # the spreadsheet made a day of density 1, health 4
"1900-01-07" = ""           # no day of 2017
"floating fragment" = ""    # not on the rake
"""


@dataclass
class Point:
    """One row: what came up, and how deep it was."""

    sampled: bool
    depth_m: float | None
    ratings: dict = field(default_factory=dict)


def sheet(name):
    """The cells of a sheet as CSV text has them."""
    path = open_data("delta-dbw-messy-xlsx", "2017-PointSamplingData Sheet2.xlsx")
    book = openpyxl.load_workbook(path, data_only=True, read_only=True)
    return [[text(cell) for cell in row] for row in book[name].iter_rows(values_only=True)]


def text(cell):
    if cell is None:
        return ""
    if isinstance(cell, datetime.datetime):
        return cell.date().isoformat()
    return str(cell)


def positions():
    path = open_data("delta-dbw-messy-xlsx", "RandomPoints_all.shp")
    fields, places = shapes.read(path)
    return {code: (at.x, at.y) for code, at in zip(fields["PT_"], places, strict=True)}


def points(rows):
    """Our own reading: code to point, species by the header of their column.

    A point counts as sampled when its row has a density, a depth or a health note; blank rows were
    planned and not visited. A density above 0 is a find.
    """
    header = rows[HEADER_ROW - 1]
    found = {}
    for row in rows[HEADER_ROW:]:
        if not row[CODE]:
            continue
        ratings = {}
        for column in SPECIES:
            density = {"2017-01-04": "1", "floating fragment": ""}.get(row[column], row[column])
            if density and float(density) > 0:
                ratings[header[column]] = int(density)
        written = any(row[2:26]) or bool(row[DEPTH])
        found[row[CODE]] = Point(written, depth(row[DEPTH]), ratings)
    return found


def depth(cell):
    """Feet to metres; a range counts as its middle, words as nothing."""
    cell = cell.strip().rstrip("'")
    if re.fullmatch(r"\d+(\.\d+)?", cell):
        return float(cell) * FEET
    ends = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(?:-|to)\s*(\d+(?:\.\d+)?)", cell)
    return (float(ends[1]) + float(ends[2])) / 2 * FEET if ends else None


def make(quillwort):
    book = quillwort.book("Delta", "--region", "CA")
    places = positions()
    columns = quillwort.folder / "delta.toml"
    columns.write_text(COLUMN_MAP, encoding="utf-8")
    surveys = {}
    for name in ("2017 Pre", "2017 Post"):
        rows = sheet(name)
        surveys[name.replace(" ", "-")] = points(rows)
        table = quillwort.folder / f"delta-{name.split()[1].lower()}.csv"
        with open(table, "w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            for number, row in enumerate(rows, 1):
                beside = ("", "")
                if number == HEADER_ROW:
                    beside = ("Longitude", "Latitude")
                elif number > HEADER_ROW:
                    beside = places.get(row[CODE], beside)
                writer.writerow([*row, *beside])
        quillwort(
            "record", book, table, "--survey", name.replace(" ", "-"),
            "--columns", columns, "--new-taxa", "--new-scale", "--unit", "ft",
        )
    return book, surveys
