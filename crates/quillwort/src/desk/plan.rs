use super::BookDesk;
use crate::ports;
use server::{DeskError, PlanDesk, TrackFile};
use units::Metres;
use workflow::LakeBook;
use workflow::effort::{DesignsAsk, EffortAsk, Watch};
use workflow::plan::{PlanAsk, SiteAsk};
use workflow::route::RouteWords;
use workflow::track::TrackRequest;
use workflow::views::{DesignsView, EffortView, PlanView, RouteView, TrackView};

fn planned(book: &LakeBook, words: &RouteWords) -> workflow::Result<RouteView> {
    let request = words.read(book.lake()?.units, &ports::local())?;
    workflow::route::route(book, &*ports::world(), &request)
}

impl PlanDesk for BookDesk {
    fn route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        self.answer(|book| planned(book, words))
    }

    fn kept_route(&self, survey: &str) -> Result<RouteView, DeskError> {
        let clock = ports::local().utc_offset_minutes;
        self.answer(|book| workflow::route::kept_view(book, survey, clock))
    }

    fn keep_route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        self.change(|book| {
            let view = planned(book, words)?;
            workflow::route::keep(book, &view, &words.filled(ports::today()))?;
            Ok(view)
        })
    }

    fn effort(&self, ask: &EffortAsk) -> Result<EffortView, DeskError> {
        self.answer(|book| {
            let ground = self.ground(book)?;
            workflow::effort::effort_on(book, &ground, &ask.request()?, Watch::default())
        })
    }

    fn designs(&self, ask: &DesignsAsk) -> Result<DesignsView, DeskError> {
        self.answer(|book| {
            let ground = self.ground(book)?;
            workflow::effort::designs(book, &ground, &ask.request()?, Watch::default())
        })
    }

    fn preview_plan(&self, ask: &PlanAsk) -> Result<PlanView, DeskError> {
        self.answer(|book| {
            let ground = self.ground(book)?;
            workflow::plan::preview(book, &ground, &ask.request(ground.lake.units)?)
        })
    }

    fn planned(&self, survey: &str) -> Result<PlanView, DeskError> {
        self.answer(|book| workflow::plan::planned(book, &*self.ground(book)?, survey))
    }

    fn change_site(&self, survey: &str, code: &str, ask: &SiteAsk) -> Result<PlanView, DeskError> {
        self.change(|book| {
            let ground = self.ground(book)?;
            let change = ask.change(&ground)?;
            workflow::plan::change_site(book, &ground, survey, code, change, &ask.reason, &ask.by)
        })
    }

    fn plan(&self, ask: &PlanAsk) -> Result<PlanView, DeskError> {
        self.change(|book| {
            let ground = self.ground(book)?;
            workflow::plan::plan_on(book, &ground, &ask.request(ground.lake.units)?)
        })
    }

    fn track(&self, survey: &str, file: &TrackFile) -> Result<TrackView, DeskError> {
        let within = file.within_m.map_or(workflow::track::USUAL_REACH, Metres::new);
        let request = TrackRequest {
            survey,
            file: &file.name,
            bytes: &file.bytes,
            within,
            machine_offset: ports::local().utc_offset_minutes,
        };
        if file.preview {
            return self.answer(|book| workflow::track::preview(book, &request));
        }
        self.change_by(&file.by, |book| workflow::track::track(book, &request))
    }

    fn forget_route(&self, survey: &str) -> Result<(), DeskError> {
        self.change(|book| workflow::route::forget(book, survey))
    }
}
