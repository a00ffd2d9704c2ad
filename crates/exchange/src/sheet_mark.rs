//! The square mark on a photographed or scanned field sheet (QR code, ISO/IEC 18004).

use image::{DynamicImage, ImageReader, Limits};
use std::io::Cursor;

/// Longest side of a picture that is read, pixels.
const LARGEST: u32 = 20_000;
/// Longest sides tried, from what a scanner at 150 dots an inch gives to a whole photo: a code in a large
/// photo is found better when the picture is made smaller, a code far off when it is not.
const SIDES: [u32; 5] = [2_000, 1_400, 3_000, 1_000, 4_500];

/// Reads every square mark of a picture.
///
/// # Errors
/// In words, when the bytes are no JPEG or PNG picture.
pub fn read_marks(bytes: &[u8]) -> Result<Vec<String>, String> {
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| format!("it cannot be read: {error}"))?;
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST);
    limits.max_image_height = Some(LARGEST);
    limits.max_alloc = Some(1 << 30);
    reader.limits(limits);
    let picture =
        reader.decode().map_err(|error| format!("it is no JPEG or PNG picture: {error}"))?;
    let longest = picture.width().max(picture.height());
    for side in SIDES {
        let smaller = if side < longest { picture.thumbnail(side, side) } else { picture.clone() };
        let found = marks_in(&smaller);
        if !found.is_empty() {
            return Ok(found);
        }
    }
    Ok(Vec::new())
}

fn marks_in(picture: &DynamicImage) -> Vec<String> {
    let grey = picture.to_luma8();
    let (width, height) = (grey.width() as usize, grey.height() as usize);
    let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| {
        grey.get_pixel(x as u32, y as u32).0[0]
    });
    prepared
        .detect_grids()
        .iter()
        .filter_map(|grid| grid.decode().ok())
        .map(|(_, text)| text)
        .collect()
}

/// What a sheet's mark says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetMark {
    /// Sixteen letters and digits of the survey's key.
    pub key: String,
    /// Number of the sheet; `S1`, `S2` for spares.
    pub sheet: String,
    /// Number of sheets it was printed with.
    pub sheets: u32,
    /// Codes of its rows; empty on spares and where they were too many for the mark.
    pub sites: Vec<String>,
}

impl SheetMark {
    /// Reads the text of a mark: `KEY/2/6/12+13+14`. None when it is none of ours.
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.trim().splitn(4, '/');
        let (key, sheet, sheets, codes) =
            (parts.next()?, parts.next()?, parts.next()?, parts.next()?);
        let whole = key.len() == 16 && key.bytes().all(|byte| byte.is_ascii_alphanumeric());
        let number = sheet.strip_prefix('S').unwrap_or(sheet);
        if !whole || number.parse::<u32>().is_err() {
            return None;
        }
        Some(Self {
            key: key.to_owned(),
            sheet: sheet.to_owned(),
            sheets: sheets.parse().ok()?,
            sites: codes
                .split('+')
                .filter(|code| !code.is_empty())
                .map(|code| code.replace("%2B", "+").replace("%25", "%"))
                .collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_is_read_and_another_code_is_none_of_ours() {
        let mark = SheetMark::read("019F6E0A1B2C7D3E/2/6/12+13+A%2BB").unwrap();
        assert_eq!((mark.sheet.as_str(), mark.sheets), ("2", 6));
        assert_eq!(mark.sites, ["12", "13", "A+B"]);
        assert!(SheetMark::read("019F6E0A1B2C7D3E/S1/6/").unwrap().sites.is_empty());
        for other in [
            "https://example.org/a/b/c",
            "",
            "019F6E0A1B2C7D3E",
            "KEY/2/6/1",
            "019F6E0A1B2C7D3E/x/6/",
        ] {
            assert!(SheetMark::read(other).is_none(), "{other}");
        }
    }

    #[test]
    fn what_is_no_picture_is_said_so() {
        let error = read_marks(b"%PDF-1.7").unwrap_err();
        assert!(error.contains("no JPEG or PNG") || error.contains("cannot be read"), "{error}");
    }
}
