//! The letters: fonts handed over as bytes, how wide a text is in them, and which letters they lack.

use crate::error::PrintError;
use std::collections::BTreeSet;
use typst::foundations::Bytes;
use typst::layout::Abs;
use typst::text::{
    Font, FontBook, FontInstance, FontStyle, FontVariant, FontVariations, FontWeight,
};
use typst::utils::LazyHash;

/// Stands for a letter that no font has.
const SUBSTITUTE: char = '□';

/// The fonts a paper is set in.
///
/// The family of the first face handed over is the text's family; the others, and a few built-in faces
/// for Greek, Cyrillic and mathematics, stand in for letters it lacks.
pub struct Fonts {
    book: LazyHash<FontBook>,
    faces: Vec<Font>,
    measures: Vec<FontInstance>,
    family: String,
    handed_over: usize,
}

impl std::fmt::Debug for Fonts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Fonts")
            .field("family", &self.family)
            .field("handed_over", &self.handed_over)
            .finish_non_exhaustive()
    }
}

/// The slope and weight of a lettering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Face {
    /// Upright, weight 400.
    #[default]
    Plain,
    /// Italic, weight 400: Latin names, landmarks, soundings.
    Italic,
    /// Upright, weight 600.
    SemiBold,
    /// Upright, weight 700.
    Bold,
}

impl Face {
    pub(crate) const fn weight(self) -> u16 {
        match self {
            Self::Plain | Self::Italic => 400,
            Self::SemiBold => 600,
            Self::Bold => 700,
        }
    }

    pub(crate) const fn is_italic(self) -> bool {
        matches!(self, Self::Italic)
    }
}

impl Fonts {
    /// Reads font files (TrueType or OpenType, also collections).
    ///
    /// # Errors
    /// [`PrintError::NoFonts`] when not one of the files is a font.
    pub fn new(files: Vec<Vec<u8>>) -> Result<Self, PrintError> {
        let n_files = files.len();
        let mut faces: Vec<Font> =
            files.into_iter().flat_map(|file| Font::iter(Bytes::new(file))).collect();
        let family = faces
            .first()
            .map(|face| face.info().family.clone())
            .ok_or(PrintError::NoFonts { files: n_files })?;
        let handed_over = faces.len();
        for file in typst_assets::fonts() {
            faces.extend(Font::iter(Bytes::new(file)));
        }
        let book = LazyHash::new(FontBook::from_fonts(&faces));
        let measures = faces
            .iter()
            .map(|face| {
                let variant = face.info().variant;
                face.clone().instantiate(variant, Abs::pt(10.0), &FontVariations::default())
            })
            .collect();
        Ok(Self { book, faces, measures, family, handed_over })
    }

    /// The family the text is set in.
    pub fn family(&self) -> &str {
        &self.family
    }

    /// How many faces were handed over (built-in ones not counted).
    pub const fn len(&self) -> usize {
        self.handed_over
    }

    /// Never: a set of fonts has at least one face.
    pub const fn is_empty(&self) -> bool {
        self.handed_over == 0
    }

    pub(crate) const fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    pub(crate) fn face(&self, index: usize) -> Option<Font> {
        self.faces.get(index).cloned()
    }

    fn has(&self, letter: char) -> bool {
        self.faces.iter().any(|face| face.info().coverage.contains(u32::from(letter)))
    }

    /// The text as it can be set: line breaks become spaces, marks that only steer the direction of
    /// writing are dropped, and a letter that no font has becomes □ and is put into `missing`.
    pub(crate) fn printable(&self, text: &str, missing: &mut BTreeSet<char>) -> String {
        text.chars()
            .filter_map(|letter| match letter {
                ' '..='~' => Some(letter),
                _ if letter.is_control() => Some(' '),
                '\u{200b}'..='\u{200f}'
                | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{fe00}'..='\u{fe0f}'
                | '\u{feff}'
                | '\u{e0000}'..='\u{e0fff}' => None,
                _ if self.has(letter) => Some(letter),
                _ => {
                    missing.insert(letter);
                    Some(SUBSTITUTE)
                }
            })
            .collect()
    }

    /// Width of a text in the unit of `size`, kerning left out.
    pub fn width(&self, text: &str, size: f64, face: Face) -> f64 {
        let variant = FontVariant {
            style: if face.is_italic() { FontStyle::Italic } else { FontStyle::Normal },
            weight: FontWeight::from_number(face.weight()),
            ..FontVariant::default()
        };
        let main = self
            .book
            .select(&self.family.to_lowercase(), variant)
            .and_then(|index| self.measures.get(index));
        let advance = |letter: char| {
            main.into_iter()
                .chain(&self.measures)
                .find_map(|font| {
                    let glyph = font.ttf().glyph_index(letter)?;
                    Some(font.x_advance(glyph.0)?.get())
                })
                .unwrap_or(0.6)
        };
        size * text.chars().map(advance).sum::<f64>()
    }

    /// A text cut so that it fits a width, with … where it was cut.
    pub(crate) fn shorten(&self, text: &str, size: f64, face: Face, width: f64) -> String {
        if self.width(text, size, face) <= width {
            return text.to_owned();
        }
        let mut short: Vec<char> = text.chars().collect();
        while short.pop().is_some() {
            let cut: String = short.iter().collect();
            let cut = format!("{}…", cut.trim_end());
            if self.width(&cut, size, face) <= width {
                return cut;
            }
        }
        "…".to_owned()
    }
}
