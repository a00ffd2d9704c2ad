use super::papers::{Scratch, no_scratch, plain_name};
use super::{BookDesk, desk_error};
use server::{DeskError, Download, DrawChange, LakeDesk, NewBackground, NewFile};
use workflow::LakeAsk;
use workflow::background::{self, BackgroundOptions};
use workflow::draw::{self, GeometryAsk, PlaceAsk};
use workflow::views::{
    AddView, BackgroundView, BookView, DistanceView, DrawView, LakeView, MapView, MeasureView,
    PlaceView,
};

impl LakeDesk for BookDesk {
    fn book(&self) -> Result<BookView, DeskError> {
        self.answer(workflow::surveys::book_view)
    }

    fn lake(&self, ask: &LakeAsk) -> Result<LakeView, DeskError> {
        self.answer(|book| {
            let ground = self.ground_at(book, ask.level)?;
            workflow::lake_view_of(book, &ground, &ask.request(ground.littoral())?)
        })
    }

    fn keep_littoral(&self, ask: &LakeAsk) -> Result<LakeView, DeskError> {
        self.change(|book| workflow::keep_littoral(book, ask))?;
        self.lake(&LakeAsk::default())
    }

    fn add_file(&self, file: &NewFile) -> Result<AddView, DeskError> {
        let scratch = Scratch::new().map_err(|error| no_scratch(&error))?;
        let name = plain_name(&file.name);
        let path = scratch.write(name, &file.bytes).map_err(|error| no_scratch(&error))?;
        self.change(|book| workflow::add::add(book, file.kind, &path, &file.options))
    }

    fn place(&self, at: PlaceAsk) -> Result<PlaceView, DeskError> {
        self.answer(|book| draw::place_view(&*self.ground(book)?, at))
    }

    fn map(&self, ask: &LakeAsk) -> Result<MapView, DeskError> {
        self.answer(|book| {
            let ground = self.ground_at(book, ask.level)?;
            workflow::map_view(book, &ground, ask.request(ground.littoral())?.littoral)
        })
    }

    fn distances(&self, ask: &LakeAsk) -> Result<DistanceView, DeskError> {
        self.answer(|book| workflow::distance_view(&*self.ground_at(book, ask.level)?))
    }

    fn draw(&self) -> Result<DrawView, DeskError> {
        self.answer(|book| draw::draw_view(book, &*self.ground(book)?))
    }

    fn measure(&self, ask: &GeometryAsk) -> Result<MeasureView, DeskError> {
        self.answer(|book| draw::measure(&*self.ground(book)?, ask))
    }

    fn change_drawing(
        &self,
        change: &DrawChange,
        seen: Option<&str>,
    ) -> Result<DrawView, DeskError> {
        self.change(|book| {
            draw::check_seen(book, seen)?;
            let ground = self.ground(book)?;
            match change {
                DrawChange::Outline(ask) => draw::put_outline(book, &ground, ask),
                DrawChange::Island(ask) => draw::add_island(book, &ground, ask),
                DrawChange::FillIsland(at) => draw::fill_island(book, &ground, *at),
                DrawChange::Area(id, ask) => draw::put_area(book, &ground, id.as_deref(), ask),
                DrawChange::DeleteArea(id, for_good) => {
                    draw::delete_area(book, &ground, id, *for_good)
                }
                DrawChange::Split(id, ask) => draw::split_area(book, &ground, id, ask),
                DrawChange::Corner(ask) => draw::change_corner(book, &ground, ask),
                DrawChange::Landmark(id, ask) => {
                    draw::put_landmark(book, &ground, id.as_deref(), ask)
                }
                DrawChange::DeleteLandmark(id) => draw::delete_landmark(book, id),
                DrawChange::Contours(ask) => draw::trace_contours(book, &ground, ask),
                DrawChange::DeleteBackground(id) => background::remove_background(book, id),
                DrawChange::DeleteContours(sha256) => draw::delete_contours(book, sha256),
                DrawChange::Undo(note) => draw::undo(book, note.as_deref()).map(|_| ()),
                DrawChange::Redo => draw::redo(book).map(|_| ()),
            }?;
            draw::draw_view(book, &*self.ground(book)?)
        })
    }

    fn backgrounds(&self) -> Result<Vec<BackgroundView>, DeskError> {
        self.answer(|book| background::backgrounds(book, &*self.ground(book)?))
    }

    fn background_picture(&self, id: &str, north_up: bool) -> Result<Download, DeskError> {
        self.answer(|book| {
            let (bytes, media) = if north_up {
                (background::drawn_north_up(book, &*self.ground(book)?, id)?, "image/png")
            } else {
                background::picture(book, id)?
            };
            let ending = if media == "image/png" { "png" } else { "jpg" };
            Ok(Download {
                file_name: format!("background.{ending}"),
                content_type: media.to_owned(),
                bytes,
            })
        })
    }

    fn add_background(&self, ask: &NewBackground) -> Result<AddView, DeskError> {
        self.change(|book| {
            let options = BackgroundOptions {
                warp: ask.warp.clone(),
                page: ask.page,
                name: Some(ask.name.clone()),
                preview: ask.preview,
                ..BackgroundOptions::default()
            };
            background::add_picture(book, &ask.name, &ask.bytes, &ask.points, &options)
        })
    }

    fn page_picture(&self, bytes: &[u8], page: usize) -> Result<Download, DeskError> {
        let bytes = background::as_png("the picture", bytes, page).map_err(desk_error)?;
        Ok(Download {
            file_name: "picture.png".to_owned(),
            content_type: "image/png".to_owned(),
            bytes,
        })
    }
}
