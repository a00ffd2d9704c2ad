use super::{DeskError, Download};
use workflow::LakeAsk;
use workflow::add::{AddKind, AddOptions};
use workflow::draw::{
    AreaAsk, ContoursAsk, CornerAsk, GeometryAsk, LandmarkAsk, PlaceAsk, SplitAsk,
};
use workflow::views::{
    AddView, BackgroundView, BookView, DistanceView, DrawView, LakeView, MapView, MeasureView,
    PlaceView,
};

/// A change to the drawing.
#[derive(Debug, Clone)]
pub enum DrawChange {
    /// A new outline.
    Outline(GeometryAsk),
    /// An island cut out of the water.
    Island(GeometryAsk),
    /// The island at this place becomes water.
    FillIsland([f64; 2]),
    /// A zone or sub-area, new or under its key.
    Area(Option<String>, AreaAsk),
    /// The zone or sub-area with this key goes; from the record of earlier surveys too when for good.
    DeleteArea(String, bool),
    /// An area is parted by a line.
    Split(String, SplitAsk),
    /// A corner is moved, put in or taken out.
    Corner(CornerAsk),
    /// A place, new or under its key.
    Landmark(Option<String>, LandmarkAsk),
    /// The place with this key goes.
    DeleteLandmark(String),
    /// Contours become depths.
    Contours(ContoursAsk),
    /// The scanned map with this key goes.
    DeleteBackground(String),
    /// The contours that came together under this SHA-256 go.
    DeleteContours(String),
    /// The last save is taken back, if it is the one with this note.
    Undo(Option<String>),
    /// The save taken back last is made again.
    Redo,
}

/// The book and its lake.
pub trait LakeDesk: Send + Sync + 'static {
    /// The book as the first page needs it.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn book(&self) -> Result<BookView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// Measures of the lake, as asked.
    ///
    /// # Errors
    /// When the book has no outline yet or cannot be read, or the question makes no sense.
    fn lake(&self, ask: &LakeAsk) -> Result<LakeView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// Keeps the littoral zone asked for as the lake's own, and measures the lake anew.
    ///
    /// # Errors
    /// When no limit is asked for or the limits make no zone.
    fn keep_littoral(&self, ask: &LakeAsk) -> Result<LakeView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// A file into the lake; with its preview nothing is kept.
    ///
    /// # Errors
    /// Every fault of the file at once.
    fn add_file(&self, file: &NewFile) -> Result<AddView, DeskError> {
        let _ = file;
        Err(DeskError::unanswered())
    }

    /// A place of the drawing in degrees, or the other way round.
    ///
    /// # Errors
    /// When it is nowhere on Earth.
    fn place(&self, at: PlaceAsk) -> Result<PlaceView, DeskError> {
        let _ = at;
        Err(DeskError::unanswered())
    }

    /// The lake as a drawing, at the level and with the littoral zone asked for.
    ///
    /// # Errors
    /// As [`LakeDesk::lake`].
    fn map(&self, ask: &LakeAsk) -> Result<MapView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// Where the water lies far from any depth that was measured.
    ///
    /// # Errors
    /// When the book has no depths yet, or as [`LakeDesk::lake`].
    fn distances(&self, ask: &LakeAsk) -> Result<DistanceView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// All that can be drawn.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn draw(&self) -> Result<DrawView, DeskError> {
        Err(DeskError::unanswered())
    }

    /// What a shape would measure.
    ///
    /// # Errors
    /// When it is no clean area.
    fn measure(&self, ask: &GeometryAsk) -> Result<MeasureView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// Makes a change to the drawing and hands out the drawing after it. `seen` is the version the
    /// change was made from.
    ///
    /// # Errors
    /// When the change makes no sense, does not fit what is there, or was made from an older drawing.
    fn change_drawing(
        &self,
        change: &DrawChange,
        seen: Option<&str>,
    ) -> Result<DrawView, DeskError> {
        let _ = (change, seen);
        Err(DeskError::unanswered())
    }

    /// Scanned maps under the lake.
    ///
    /// # Errors
    /// When the book cannot be read.
    fn backgrounds(&self) -> Result<Vec<BackgroundView>, DeskError> {
        Err(DeskError::unanswered())
    }

    /// A scanned map as it was added, or north up on the lake.
    ///
    /// # Errors
    /// When there is none of that key.
    fn background_picture(&self, id: &str, north_up: bool) -> Result<Download, DeskError> {
        let _ = (id, north_up);
        Err(DeskError::unanswered())
    }

    /// Puts a picture under the lake.
    ///
    /// # Errors
    /// When the picture cannot be read or its control points do not fix it.
    fn add_background(&self, ask: &NewBackground) -> Result<AddView, DeskError> {
        let _ = ask;
        Err(DeskError::unanswered())
    }

    /// A page of a PDF, or a picture, as PNG; nothing is kept.
    ///
    /// # Errors
    /// When it cannot be read.
    fn page_picture(&self, bytes: &[u8], page: usize) -> Result<Download, DeskError> {
        let _ = (bytes, page);
        Err(DeskError::unanswered())
    }
}

/// A file for the lake, as it was sent.
#[derive(Debug, Clone)]
pub struct NewFile {
    /// What it holds.
    pub kind: AddKind,
    /// Its name, without a folder.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
    /// What is said of it.
    pub options: AddOptions,
}

/// A picture to lie under the lake.
#[derive(Debug, Clone)]
pub struct NewBackground {
    /// Its file's bytes.
    pub bytes: Vec<u8>,
    /// Its name.
    pub name: String,
    /// How pixels become places.
    pub warp: Option<String>,
    /// Page of a PDF, from 1.
    pub page: usize,
    /// Table of control points, as text.
    pub points: String,
    /// Only say how well the points fit.
    pub preview: bool,
}
