//! The square mark on a sheet: which sheet of which survey this is, for a reader of photographs.

use crate::draw::Drawing;
use crate::error::PrintError;
use qrcode::{Color, EcLevel, QrCode};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Draws a QR code (ISO/IEC 18004, error correction M, four modules of quiet zone left to the caller)
/// as one path of black squares.
pub(crate) fn draw(text: &str, description: String) -> Result<Drawing, PrintError> {
    let code =
        QrCode::with_error_correction_level(text.as_bytes(), EcLevel::M).map_err(|_too_long| {
            PrintError::OutOfRange {
                what: "the survey's key for the square mark",
                found: text.to_owned(),
                expected: "at most 200 letters and digits",
            }
        })?;
    let side = code.width();
    let colours = code.to_colors();
    let mut d = String::new();
    for row in 0..side {
        let mut column = 0;
        while column < side {
            let start = column;
            while column < side && colours[row * side + column] == Color::Dark {
                column += 1;
            }
            if column > start {
                let run = column - start;
                let _ = write!(d, "M{start} {row}h{run}v1h-{run}z");
            }
            column += 1;
        }
    }
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{side}\" height=\"{side}\" \
         viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\"><path d=\"{d}\" fill=\"#000000\"/></svg>\n"
    );
    Ok(Drawing {
        svg,
        width: side as f64,
        height: side as f64,
        description,
        missing_letters: BTreeSet::new(),
        remarks: Vec::new(),
    })
}
