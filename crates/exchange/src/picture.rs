//! Pictures of maps: PNG, JPEG, or a page of a PDF drawn as a picture.

use crate::fault::{Fault, Faults, file_name};
use crate::kind::FileKind;
use crate::text::read_bytes;
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{RenderCache, RenderSettings};
use image::{ImageFormat, ImageReader, RgbaImage};
use std::io::Cursor;
use std::path::Path;

/// Pictures with more pixels are refused.
pub const MOST_PIXELS: u64 = 100_000_000;
/// Dots to an inch a page of a PDF is drawn with; a point is 1/72 inch.
const DOTS_PER_INCH: f32 = 200.0;
/// Longest side of a page drawn.
const LONGEST_SIDE: f32 = 8_000.0;

/// A picture, its pixels row by row from the top.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Red, green, blue and opacity of each pixel.
    pub rgba: Vec<u8>,
}

impl Picture {
    /// The picture as a PNG file.
    ///
    /// # Errors
    /// [`Faults`] when it has no pixels.
    pub fn to_png(&self) -> Result<Vec<u8>, Faults> {
        let refuse = |found: String| Faults::from(Fault::file("picture", "a picture").found(found));
        let image = RgbaImage::from_raw(self.width, self.height, self.rgba.clone())
            .ok_or_else(|| refuse(format!("{} bytes", self.rgba.len())))?;
        let mut bytes = Cursor::new(Vec::new());
        image.write_to(&mut bytes, ImageFormat::Png).map_err(|error| refuse(error.to_string()))?;
        Ok(bytes.into_inner())
    }

    /// The pixel at a place between pixels, mixed from the four around it; none outside.
    pub fn sample(&self, x: f64, y: f64) -> Option<[u8; 4]> {
        let (width, height) = (f64::from(self.width), f64::from(self.height));
        if !(0.0 <= x && x < width && 0.0 <= y && y < height) {
            return None;
        }
        // the middle of the first pixel lies half a pixel from the edge
        let (x, y) = (x - 0.5, y - 0.5);
        let clamp = |at: f64, count: u32| (at.max(0.0) as u32).min(count - 1) as usize;
        let (left, right) = (clamp(x.floor(), self.width), clamp(x.floor() + 1.0, self.width));
        let (top, bottom) = (clamp(y.floor(), self.height), clamp(y.floor() + 1.0, self.height));
        let (across, down) = (x - x.floor(), y - y.floor());
        let at = |column: usize, row: usize, channel: usize| {
            f64::from(self.rgba[4 * (row * self.width as usize + column) + channel])
        };
        let mut pixel = [0; 4];
        for (channel, value) in pixel.iter_mut().enumerate() {
            let upper = at(left, top, channel) * (1.0 - across) + at(right, top, channel) * across;
            let lower =
                at(left, bottom, channel) * (1.0 - across) + at(right, bottom, channel) * across;
            *value = (upper * (1.0 - down) + lower * down).round() as u8;
        }
        Some(pixel)
    }
}

/// A picture with the bytes that are kept of it: those of the file, or of a PNG for a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PictureFile {
    /// The picture.
    pub picture: Picture,
    /// The bytes kept.
    pub bytes: Vec<u8>,
    /// Media type of the bytes.
    pub media_type: &'static str,
    /// Pages of a PDF; 1 for a picture.
    pub pages: usize,
}

/// Reads a picture of a map; of a PDF the page counted from 1.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_picture(path: &Path, page: usize) -> Result<PictureFile, Faults> {
    read_picture_bytes(&file_name(path), &read_bytes(path)?, page)
}

/// Reads a picture out of bytes; `file` names them in faults.
///
/// # Errors
/// All [`Faults`] of the file.
pub fn read_picture_bytes(file: &str, bytes: &[u8], page: usize) -> Result<PictureFile, Faults> {
    match FileKind::of(bytes) {
        FileKind::Picture => read_image(file, bytes),
        FileKind::Pdf => {
            // a crate that reads PDFs of all kinds may trip over broken ones
            let read = || read_page(file, bytes, page);
            std::panic::catch_unwind(std::panic::AssertUnwindSafe(read))
                .unwrap_or_else(|_| Err(no_page(file, "parts that contradict each other")))
        }
        kind => Err(Fault::file(file, "a picture of a map: PNG, JPEG or PDF")
            .found(kind.describe())
            .hint("scan the map, or save it, as PNG or JPEG")
            .into()),
    }
}

fn read_image(file: &str, bytes: &[u8]) -> Result<PictureFile, Faults> {
    let refuse = |found: String, hint: &str| {
        Faults::from(Fault::file(file, "a whole PNG or JPEG").found(found).hint(hint))
    };
    let reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|error| refuse(error.to_string(), "save it again"))?;
    let media_type = match reader.format() {
        Some(ImageFormat::Png) => "image/png",
        Some(ImageFormat::Jpeg) => "image/jpeg",
        _ => return Err(refuse("a picture of another kind".to_owned(), "save it as PNG or JPEG")),
    };
    let (width, height) = reader
        .into_dimensions()
        .map_err(|error| refuse(error.to_string(), "fetch or scan it again"))?;
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(refuse(
            format!("{width} × {height} pixels"),
            "make it smaller: a line of the map needs two or three pixels",
        ));
    }
    let image = image::load_from_memory(bytes)
        .map_err(|error| refuse(error.to_string(), "fetch or scan it again"))?
        .into_rgba8();
    let picture = Picture { width, height, rgba: image.into_raw() };
    Ok(PictureFile { picture, bytes: bytes.to_vec(), media_type, pages: 1 })
}

fn no_page(file: &str, found: &str) -> Faults {
    Fault::file(file, "a PDF whose page can be drawn")
        .found(found)
        .hint("open it in a PDF program and save the page as PNG, at 200 dots to the inch or more")
        .into()
}

fn read_page(file: &str, bytes: &[u8], number: usize) -> Result<PictureFile, Faults> {
    let pdf = Pdf::new(bytes.to_vec())
        .ok()
        .ok_or_else(|| no_page(file, "a PDF that is damaged or locked with a password"))?;
    let pages = pdf.pages();
    let Some(page) = number.checked_sub(1).and_then(|index| pages.get(index)) else {
        return Err(Fault::file(file, format!("a page from 1 to {}", pages.len()))
            .found(format!("page {number}"))
            .hint("choose another page with `--page`")
            .into());
    };
    let (width, height) = page.render_dimensions();
    let longest = width.max(height);
    if !(longest.is_finite() && longest > 0.0) {
        return Err(no_page(file, "a page without a size"));
    }
    let scale = (DOTS_PER_INCH / 72.0).min(LONGEST_SIDE / longest);
    let settings =
        RenderSettings { x_scale: scale, y_scale: scale, bg_color: WHITE, ..Default::default() };
    let drawn =
        hayro::render(page, &RenderCache::new(), &InterpreterSettings::default(), &settings);
    // on white nothing shines through: the premultiplied values are the colours
    let picture = Picture {
        width: u32::from(drawn.width()),
        height: u32::from(drawn.height()),
        rgba: drawn.data_as_u8_slice().to_vec(),
    };
    if picture.rgba.chunks_exact(4).all(|pixel| pixel[..3] == [255, 255, 255]) {
        return Err(no_page(file, "a page that is drawn blank"));
    }
    let bytes = picture.to_png()?;
    Ok(PictureFile { picture, bytes, media_type: "image/png", pages: pages.len() })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two by two pixels: red, green, blue, white.
    fn four() -> Picture {
        let rgba = vec![255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255, 255, 255, 255, 255];
        Picture { width: 2, height: 2, rgba }
    }

    #[test]
    fn a_png_comes_back_as_it_was() {
        let bytes = four().to_png().unwrap();
        let read = read_picture_bytes("map.png", &bytes, 1).unwrap();
        assert_eq!(read.picture, four());
        assert_eq!((read.media_type, read.bytes == bytes), ("image/png", true));
        let cut = read_picture_bytes("map.png", &bytes[..bytes.len() / 2], 1).unwrap_err();
        assert!(cut.to_string().contains("`map.png`"), "{cut}");
    }

    #[test]
    fn pixels_are_mixed_between_their_middles() {
        let picture = four();
        assert_eq!(picture.sample(0.5, 0.5), Some([255, 0, 0, 255]));
        assert_eq!(picture.sample(1.0, 0.5), Some([128, 128, 0, 255]));
        assert_eq!(picture.sample(1.99, 1.99), Some([255, 255, 255, 255]));
        assert_eq!(picture.sample(2.0, 1.0), None);
        assert_eq!(picture.sample(-0.01, 1.0), None);
    }

    /// A page of one black square, written by hand after ISO 32000-1, annex H.
    #[test]
    fn a_page_of_a_pdf_is_drawn() {
        let content = "0 0 0 rg 10 10 20 20 re f";
        let objects = [
            "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 72 36] /Contents 4 0 R /Resources << >> >>"
                .to_owned(),
            format!("<< /Length {} >>\nstream\n{content}\nendstream", content.len()),
        ];
        let mut pdf = String::from("%PDF-1.4\n");
        let mut at = Vec::new();
        for (index, object) in objects.iter().enumerate() {
            at.push(pdf.len());
            pdf.push_str(&format!("{} 0 obj\n{object}\nendobj\n", index + 1));
        }
        let start = pdf.len();
        pdf.push_str("xref\n0 5\n0000000000 65535 f \n");
        for offset in at {
            pdf.push_str(&format!("{offset:010} 00000 n \n"));
        }
        pdf.push_str(&format!("trailer << /Size 5 /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n"));
        let read = read_picture_bytes("map.pdf", pdf.as_bytes(), 1).unwrap();
        assert_eq!((read.picture.width, read.picture.height, read.pages), (200, 100, 1));
        // the square stands 10 points from the left and from the foot of the page
        let (inside, outside) = (read.picture.sample(40.0, 60.0), read.picture.sample(120.0, 60.0));
        assert_eq!((inside, outside), (Some([0, 0, 0, 255]), Some([255, 255, 255, 255])));
        let none = read_picture_bytes("map.pdf", pdf.as_bytes(), 2).unwrap_err().to_string();
        assert!(none.contains("page 2") && none.contains("1 to 1"), "{none}");
        let broken = read_picture_bytes("map.pdf", b"%PDF-1.4\nnothing", 1).unwrap_err();
        assert!(broken.to_string().contains("save the page as PNG"), "{broken}");
    }
}
