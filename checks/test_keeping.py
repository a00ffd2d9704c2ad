"""A sealed book under attack, its copy, and its exports in other programs' hands."""

import contextlib
import csv
import json
import re
import sqlite3

import numpy
import pyogrio.raw
import pytest
import shapely
from PIL import ExifTags, Image

SURVEY = "2026-summer"


@contextlib.contextmanager
def opened_elsewhere(book):
    """The book in SQLite, as another program would open it, its own guards taken away."""
    with contextlib.closing(sqlite3.connect(book)) as connection:
        triggers = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        for (name,) in triggers.fetchall():
            connection.execute(f'DROP TRIGGER "{name}"')
        yield connection
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def test_a_whole_book_is_found_whole(quillwort, demo):
    done = quillwort.result("verify", demo)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize(
    ("what", "named", "change"),
    [
        (
            "a depth of a visit",
            SURVEY,
            "UPDATE visit SET depth_m = depth_m + 0.1 WHERE fid = "
            "(SELECT max(fid) FROM visit WHERE survey_id = (SELECT id FROM survey WHERE name = ?))",
        ),
        (
            "a rating",
            SURVEY,
            "UPDATE observation SET rating = 1 - min(rating, 1) WHERE fid = (SELECT max(o.fid) "
            "FROM observation o JOIN visit v ON v.id = o.visit_id "
            "JOIN survey s ON s.id = v.survey_id WHERE s.name = ?)",
        ),
        ("who sealed it", "seal_by", "UPDATE survey SET seal_by = 'X.X.' WHERE name = ?"),
    ],
)
def test_a_changed_record_is_named(quillwort, demo_copy, what, named, change):
    with opened_elsewhere(demo_copy) as connection:
        assert connection.execute(change, [SURVEY]).rowcount == 1, what
    done = quillwort.result("verify", demo_copy)
    assert done.returncode == 1, f"{what}: {done.stdout}{done.stderr}"
    said = done.stdout + done.stderr
    assert named in said, said


def test_one_changed_byte_of_the_log_is_named(quillwort, demo_copy):
    with opened_elsewhere(demo_copy) as connection:
        fid, body = connection.execute(
            "SELECT fid, body FROM change_log WHERE entity = 'visit' ORDER BY fid DESC LIMIT 1"
        ).fetchone()
        digit = re.search(r"\d(?=[^\d]*$)", body).start()
        other = "1" if body[digit] != "1" else "2"
        changed = body[:digit] + other + body[digit + 1 :]
        assert len(changed) == len(body)
        connection.execute("UPDATE change_log SET body = ? WHERE fid = ?", [changed, fid])
    done = quillwort.result("verify", demo_copy)
    assert done.returncode == 1, done.stdout + done.stderr
    said = done.stdout + done.stderr
    assert "log" in said, said


def test_an_event_cut_from_the_log_is_noticed(quillwort, demo_copy):
    with opened_elsewhere(demo_copy) as connection:
        connection.execute("DELETE FROM change_log WHERE fid = (SELECT max(fid) - 5 FROM change_log)")
    done = quillwort.result("verify", demo_copy)
    assert done.returncode == 1, done.stdout + done.stderr


def test_a_backup_is_a_whole_book_with_the_same_figures(quillwort, demo, tmp_path):
    copy = tmp_path / "backup.gpkg"
    quillwort("backup", demo, "-o", copy)
    assert quillwort.result("verify", copy).returncode == 0
    for verb in (("lake",), ("findings", "--survey", SURVEY)):
        assert quillwort.json(verb[0], copy, *verb[1:]) == quillwort.json(verb[0], demo, *verb[1:])


@pytest.mark.parametrize(("name", "layer"), [("geojson", None), ("gpx", "waypoints"), ("kml", None)])
def test_every_export_opens_in_gdal_with_the_planned_sites(quillwort, demo, tmp_path, name, layer):
    quillwort("export", demo, "--as", name, "--survey", SURVEY, "-o", tmp_path / "out")
    (file,) = (tmp_path / "out").glob(f"*.{name}")
    info, _, geometry, _ = pyogrio.raw.read(file, layer=layer)
    assert info["crs"] == "EPSG:4326"
    (surveyed,) = [one for one in quillwort.json("surveys", demo) if one["name"] == SURVEY]
    points = shapely.from_wkb(geometry)
    points = points[shapely.get_type_id(points) == shapely.GeometryType.POINT]
    assert len(points) >= surveyed["planned"] == 78
    sites = sites_in_the_book(demo)
    tree = shapely.STRtree(points)
    _, apart = tree.query_nearest(sites, return_distance=True, all_matches=False)
    assert apart.max() < 1e-6


def test_plants_on_the_shore_are_exported(quillwort, demo, tmp_path):
    quillwort("export", demo, "--as", "csv", "--survey", SURVEY, "-o", tmp_path / "one.csv")
    with open(tmp_path / "one-shore.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    with sqlite3.connect(demo) as book:
        kept = book.execute(
            "SELECT count(*) FROM shoreline_find JOIN survey ON survey.id = survey_id WHERE name = ?", (SURVEY,)
        ).fetchone()[0]
    assert len(rows) == kept > 0
    assert all(row["taxon"] and (row["zone"] or row["latitude"]) for row in rows)
    assert (tmp_path / "one-observations.csv").exists()


def sites_in_the_book(book):
    _, _, geometry, fields = pyogrio.raw.read(
        book,
        sql=f"SELECT site.geom FROM site JOIN survey ON survey.id = site.survey_id "
        f"WHERE survey.name = '{SURVEY}'",
    )
    del fields
    return numpy.array(shapely.from_wkb(geometry))


def test_an_exported_table_read_into_a_new_book_says_the_same(quillwort, demo, tmp_path):
    """A record must outlive the program: the open table alone gives every figure of the rake again."""
    quillwort("export", demo, "--as", "csv", "--survey", SURVEY, "-o", tmp_path)
    before = quillwort.json("findings", demo, "--survey", SURVEY)
    for number, table in enumerate((f"{SURVEY}.csv", f"{SURVEY}-observations.csv")):
        book = quillwort.book(f"Again-{number}", "--region", "MN")
        quillwort(
            "record", book, tmp_path / table, "--survey", SURVEY, "--new-taxa",
            "--scale", before["scale"],
        )
        after = quillwort.json("findings", book, "--survey", SURVEY)
        for name in ("sites", "max_plant_depth_m", "littoral_sites", "frequency_any",
                     "species_per_site", "simpson", "floristic_quality"):
            assert json.dumps(after[name]) == json.dumps(before[name]), f"{table}: {name}"
        assert after["richness"]["rake"] == before["richness"]["rake"]


def test_a_photo_leaves_the_book_without_the_place_it_was_taken(quillwort, tmp_path):
    """A dock or a rare plant is not given away; the tags are those of Exif 2.32 (JEITA CP-3451E, 2019)."""
    book = quillwort.book("Photo")
    table = tmp_path / "r.csv"
    table.write_text("site,date,time,depth_ft,Chara\n7,2026-07-14,09:15,4,1\n")
    quillwort("record", book, table, "--survey", "2026", "--scale", "fullness", "--new-taxa")
    exif = Image.Exif()
    exif[ExifTags.Base.Make] = "A camera"
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = "2026:07:14 09:16:00"
    exif.get_ifd(ExifTags.IFD.GPSInfo).update({
        ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (45.0, 0.0, 7.2),
        ExifTags.GPS.GPSLongitudeRef: "W", ExifTags.GPS.GPSLongitude: (89.0, 59.0, 52.8),
    })
    camera = tmp_path / "camera"
    camera.mkdir()
    for name in ("IMG_1.JPG", "IMG_2.JPG"):
        colour = (20, 99, 75) if name == "IMG_1.JPG" else (156, 20, 88)
        Image.new("RGB", (64, 48), colour).save(camera / name, "JPEG", exif=exif)
    (camera / "IMG_3.HEIC").write_bytes(b"\0\0\0\x18ftypheic" + bytes(40))
    with Image.open(camera / "IMG_1.JPG") as before:
        assert before.getexif().get_ifd(ExifTags.IFD.GPSInfo), "the camera said where it was"
    taken = quillwort.json("photos", book, camera, "--survey", "2026")
    assert taken["kept"] == 2, taken
    assert "IMG_3.HEIC" in taken["left_out"][0] and "save it as JPEG" in taken["left_out"][0], taken

    quillwort("export", book, "--as", "photos", "--survey", "2026", "-o", "out")
    out = quillwort.folder / "out"
    pictures = sorted(out.glob("*.jpg"))
    assert len(pictures) == 2
    for picture in pictures:
        with Image.open(picture) as copy:
            assert copy.size == (64, 48)
            assert not dict(copy.getexif()), picture
            assert "exif" not in copy.info and "xmp" not in copy.info, picture
    listed = list(csv.DictReader((out / "photos.csv").open(encoding="utf-8")))
    assert {row["file"] for row in listed} == {picture.name for picture in pictures}
    assert "latitude" not in listed[0] and listed[0]["taken"].startswith("2026-07-14")
    # where somebody asks for it, the list says where
    quillwort("export", book, "--as", "photos", "--survey", "2026", "-o", "placed", "--with-places")
    placed = list(csv.DictReader((quillwort.folder / "placed/photos.csv").open(encoding="utf-8")))
    assert float(placed[0]["latitude"]) == pytest.approx(45.002, abs=1e-6)
    assert float(placed[0]["longitude"]) == pytest.approx(-89.998, abs=1e-6)
    # nothing is overwritten
    assert quillwort.result("export", book, "--as", "photos", "--survey", "2026", "-o", "out").returncode == 2
