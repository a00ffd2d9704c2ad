use super::BookDesk;
use crate::ports;
use server::{DeskError, PlanDesk};
use workflow::effort::{DesignsAsk, EffortAsk, Watch};
use workflow::plan::PlanAsk;
use workflow::route::RouteWords;
use workflow::views::{DesignsView, EffortView, PlanView, RouteView};

impl PlanDesk for BookDesk {
    fn route(&self, words: &RouteWords) -> Result<RouteView, DeskError> {
        self.answer(|book| {
            let request = words.read(book.lake()?.units, &ports::local())?;
            workflow::route::route(book, &*ports::world(), &request)
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

    fn plan(&self, ask: &PlanAsk) -> Result<PlanView, DeskError> {
        self.change(|book| {
            let ground = self.ground(book)?;
            workflow::plan::plan_on(book, &ground, &ask.request(ground.lake.units)?)
        })
    }
}
