//! Photos: when and where they were taken, and an upright, smaller copy to keep.
//!
//! The file itself is only read. The copy carries no particulars of the camera: whoever is given
//! it is not given the place.

use crate::fault::Fault;
use exif::{In, Tag, Value};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageReader, Limits};
use jiff::civil::DateTime;
use std::io::Cursor;
use units::LonLat;

/// Longest side of the copy.
const LONGEST_PX: u32 = 1_600;
/// Quality of the copy, of 100: no blocks to be seen at that size.
const QUALITY: u8 = 82;
/// Most pixels a photo may have: no camera in the field takes more.
const MOST_PIXELS: u64 = 200_000_000;
/// Even an evenly grey picture takes a byte for so many pixels; a file that claims more lies.
const MOST_PIXELS_A_BYTE: u64 = 2_000;
/// Before this year no camera had a clock of its own: it was never set.
const FIRST_YEAR: i16 = 1995;

/// A photo as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// When it was taken by the camera's clock, local time; none when that was never set.
    pub taken: Option<DateTime>,
    /// Where, when the camera knew.
    pub position: Option<LonLat>,
    /// The copy: JPEG, upright.
    pub copy: Vec<u8>,
    /// Its width and height.
    pub pixels: (u32, u32),
    /// What the user should know.
    pub warnings: Vec<String>,
}

/// Reads a photo and makes the copy.
///
/// # Errors
/// A [`Fault`] for what is no JPEG, is cut off, or claims more pixels than it can hold.
#[expect(clippy::result_large_err, reason = "a fault is told once a file")]
pub fn read_photo(name: &str, bytes: &[u8]) -> Result<Photo, Fault> {
    known_kind(name, bytes)?;
    let damaged = |found: String| {
        Fault::file(name, "a whole photo")
            .found(found)
            .hint("copy it from the camera again; the one in the folder is damaged")
    };
    if !bytes.trim_ascii_end().ends_with(&[0xff, 0xd9]) && last_marker(bytes).is_none() {
        return Err(damaged("a file that is cut off before the end of the picture".to_owned()));
    }
    let size = |bytes| -> Result<(u32, u32), image::ImageError> {
        ImageReader::with_format(Cursor::new(bytes), image::ImageFormat::Jpeg).into_dimensions()
    };
    let (width, height) = size(bytes).map_err(|error| damaged(error.to_string()))?;
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS || pixels > bytes.len() as u64 * MOST_PIXELS_A_BYTE {
        return Err(damaged(format!("{width} × {height} pixels in {} bytes", bytes.len())));
    }
    let mut reader = ImageReader::with_format(Cursor::new(bytes), image::ImageFormat::Jpeg);
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_PIXELS * 4);
    reader.limits(limits);
    let picture = reader.decode().map_err(|error| damaged(error.to_string()))?;
    let particulars = Particulars::read(bytes);
    let copy = upright(smaller(picture), particulars.orientation);
    let pixels = (copy.width(), copy.height());
    let mut kept = Vec::new();
    copy.to_rgb8()
        .write_with_encoder(JpegEncoder::new_with_quality(&mut kept, QUALITY))
        .map_err(|error| damaged(error.to_string()))?;
    let mut warnings = particulars.warnings;
    if let Some((claimed_width, claimed_height)) = particulars.claimed
        && (claimed_width, claimed_height) != (width, height)
        && (claimed_width, claimed_height) != (height, width)
    {
        warnings.push(format!(
            "`{name}` says it has {claimed_width} × {claimed_height} pixels and has {width} × {height}: it was changed after it was taken"
        ));
    }
    Ok(Photo {
        taken: particulars.taken,
        position: particulars.position,
        copy: kept,
        pixels,
        warnings,
    })
}

/// True for a name that ends as a photo's does.
pub fn is_photo_name(name: &str) -> bool {
    let lower = name.to_lowercase();
    [".jpg", ".jpeg", ".heic", ".heif"].iter().any(|ending| lower.ends_with(ending))
}

#[expect(clippy::result_large_err, reason = "a fault is told once a file")]
fn known_kind(name: &str, bytes: &[u8]) -> Result<(), Fault> {
    if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        return Ok(());
    }
    let brand = bytes.get(4..12).unwrap_or_default();
    if brand.starts_with(b"ftyp") {
        return Err(Fault::file(name, "a JPEG photo")
            .found("a HEIC photo")
            .hint("save it as JPEG: on a phone choose the most compatible format, or export it from the photo program"));
    }
    let found = if bytes.is_empty() { "an empty file" } else { "another kind of file" };
    Err(Fault::file(name, "a JPEG photo").found(found).hint("leave it out, or save it as JPEG"))
}

/// The end of the picture among whatever a phone appends to it.
fn last_marker(bytes: &[u8]) -> Option<usize> {
    // the scan is most of the file: an end in its last part is the picture's own
    let from = bytes.len() / 2;
    bytes[from..].windows(2).rposition(|pair| pair == [0xff, 0xd9]).map(|place| from + place)
}

fn smaller(picture: DynamicImage) -> DynamicImage {
    if picture.width().max(picture.height()) <= LONGEST_PX {
        picture
    } else {
        picture.thumbnail(LONGEST_PX, LONGEST_PX)
    }
}

/// Turned as the camera was held. Source: Exif 2.32 (JEITA CP-3451E, 2019), tag 274.
fn upright(picture: DynamicImage, orientation: u32) -> DynamicImage {
    match orientation {
        2 => picture.fliph(),
        3 => picture.rotate180(),
        4 => picture.flipv(),
        5 => picture.rotate90().fliph(),
        6 => picture.rotate90(),
        7 => picture.rotate270().fliph(),
        8 => picture.rotate270(),
        _ => picture,
    }
}

#[derive(Debug, Default)]
struct Particulars {
    taken: Option<DateTime>,
    position: Option<LonLat>,
    orientation: u32,
    claimed: Option<(u32, u32)>,
    warnings: Vec<String>,
}

impl Particulars {
    fn read(bytes: &[u8]) -> Self {
        let mut particulars = Self::default();
        let Ok(exif) = exif::Reader::new().read_from_container(&mut Cursor::new(bytes)) else {
            return particulars;
        };
        let number = |tag| exif.get_field(tag, In::PRIMARY)?.value.get_uint(0);
        particulars.orientation = number(Tag::Orientation).unwrap_or(1);
        particulars.claimed = number(Tag::PixelXDimension).zip(number(Tag::PixelYDimension));
        let clock = [Tag::DateTimeOriginal, Tag::DateTimeDigitized, Tag::DateTime]
            .into_iter()
            .find_map(|tag| match &exif.get_field(tag, In::PRIMARY)?.value {
                Value::Ascii(texts) => exif::DateTime::from_ascii(texts.first()?).ok(),
                _ => None,
            });
        if let Some(clock) = clock {
            let taken = DateTime::new(
                clock.year as i16,
                clock.month as i8,
                clock.day as i8,
                clock.hour as i8,
                clock.minute as i8,
                clock.second.min(59) as i8,
                0,
            );
            match taken {
                Ok(taken) if taken.year() >= FIRST_YEAR => particulars.taken = Some(taken),
                _ => particulars.warnings.push(format!(
                    "the camera's clock says {}: it was never set, and the photo is matched by its place alone",
                    clock.year
                )),
            }
        }
        particulars.position = position(&exif);
        particulars
    }
}

/// Degrees, minutes and seconds with their hemispheres.
fn position(exif: &exif::Exif) -> Option<LonLat> {
    let part = |tag, hemisphere, negative: u8| -> Option<f64> {
        let Value::Rational(parts) = &exif.get_field(tag, In::PRIMARY)?.value else { return None };
        let [degrees, minutes, seconds] = parts.get(..3)? else { return None };
        let degrees = degrees.to_f64() + minutes.to_f64() / 60.0 + seconds.to_f64() / 3600.0;
        let Value::Ascii(words) = &exif.get_field(hemisphere, In::PRIMARY)?.value else {
            return None;
        };
        let south_or_west = words.first()?.first()?.eq_ignore_ascii_case(&negative);
        degrees.is_finite().then_some(if south_or_west { -degrees } else { degrees })
    };
    let latitude = part(Tag::GPSLatitude, Tag::GPSLatitudeRef, b'S')?;
    let longitude = part(Tag::GPSLongitude, Tag::GPSLongitudeRef, b'W')?;
    // a camera without a fix writes zeros
    (latitude != 0.0 || longitude != 0.0).then(|| LonLat::new(longitude, latitude).ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A JPEG with an Exif block made field by field, as Exif 2.32 lays them out.
    fn photo(width: u32, height: u32, fields: &[exif::Field]) -> Vec<u8> {
        let picture = DynamicImage::ImageRgb8(image::RgbImage::from_fn(width, height, |x, y| {
            image::Rgb([(x * 7) as u8, (y * 13) as u8, (x + y) as u8])
        }));
        let mut jpeg = Vec::new();
        picture.to_rgb8().write_with_encoder(JpegEncoder::new_with_quality(&mut jpeg, 90)).unwrap();
        if fields.is_empty() {
            return jpeg;
        }
        let mut block = Cursor::new(Vec::new());
        let mut writer = exif::experimental::Writer::new();
        for field in fields {
            writer.push_field(field);
        }
        writer.write(&mut block, false).unwrap();
        let mut marker = vec![0xff, 0xe1];
        let body = [b"Exif\0\0".as_slice(), block.get_ref()].concat();
        marker.extend_from_slice(&((body.len() + 2) as u16).to_be_bytes());
        marker.extend_from_slice(&body);
        [&jpeg[..2], &marker, &jpeg[2..]].concat()
    }

    fn field(tag: Tag, value: Value) -> exif::Field {
        exif::Field { tag, ifd_num: In::PRIMARY, value }
    }

    fn ascii(text: &str) -> Value {
        Value::Ascii(vec![text.as_bytes().to_vec()])
    }

    fn rationals(parts: [(u32, u32); 3]) -> Value {
        Value::Rational(parts.iter().map(|&(num, denom)| exif::Rational { num, denom }).collect())
    }

    #[test]
    fn time_place_and_turn_are_read_and_the_copy_carries_none_of_them() {
        let fields = [
            field(Tag::Orientation, Value::Short(vec![6])),
            field(Tag::DateTimeOriginal, ascii("2026:07:14 09:15:30")),
            field(Tag::GPSLatitudeRef, ascii("N")),
            field(Tag::GPSLatitude, rationals([(43, 1), (4, 1), (2316, 100)])),
            field(Tag::GPSLongitudeRef, ascii("W")),
            field(Tag::GPSLongitude, rationals([(89, 1), (24, 1), (432, 100)])),
        ];
        let bytes = photo(2_000, 1_000, &fields);
        let read = read_photo("IMG_1.JPG", &bytes).unwrap();
        assert_eq!(read.taken.unwrap().to_string(), "2026-07-14T09:15:30");
        let place = read.position.unwrap();
        assert!((place.latitude() - 43.073_1).abs() < 1e-9, "{place:?}");
        assert!((place.longitude() + 89.401_2).abs() < 1e-9, "{place:?}");
        assert_eq!(read.pixels, (800, 1_600), "turned upright and no side above 1,600");
        assert!(exif::Reader::new().read_from_container(&mut Cursor::new(&read.copy)).is_err());
        assert_eq!(read.warnings, Vec::<String>::new());
    }

    #[test]
    fn a_clock_that_was_never_set_gives_no_time() {
        let bytes = photo(40, 30, &[field(Tag::DateTimeOriginal, ascii("1970:01:01 00:00:10"))]);
        let read = read_photo("a.jpg", &bytes).unwrap();
        assert_eq!(read.taken, None);
        assert!(read.warnings[0].contains("1970"), "{:?}", read.warnings);
    }

    #[test]
    fn a_photo_that_is_cut_off_or_lies_or_is_no_jpeg_is_refused_in_words() {
        let whole = photo(400, 300, &[]);
        let mut lying = whole.clone();
        // the frame header holds height and width, big end first
        let frame = whole.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
        lying[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xff, 0xff, 0xff]);
        let heic = [&[0, 0, 0, 24], b"ftypheic".as_slice(), &[0; 40]].concat();
        for (bytes, said) in [
            (&whole[..whole.len() / 2], "cut off"),
            (&lying, "65535 × 65535 pixels"),
            (&heic, "a HEIC photo"),
            (&b"GIF89a"[..], "another kind of file"),
            (&b""[..], "an empty file"),
        ] {
            let fault = read_photo("IMG_2.JPG", bytes).unwrap_err().to_string();
            assert!(fault.contains(said) && fault.contains("IMG_2.JPG"), "{fault}");
        }
    }

    #[test]
    fn a_size_the_particulars_contradict_is_said() {
        let fields = [
            field(Tag::PixelXDimension, Value::Long(vec![4_000])),
            field(Tag::PixelYDimension, Value::Long(vec![3_000])),
        ];
        let read = read_photo("a.jpg", &photo(40, 30, &fields)).unwrap();
        assert!(read.warnings[0].contains("4000 × 3000"), "{:?}", read.warnings);
    }
}
